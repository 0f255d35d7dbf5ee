package plots

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/plot/vg"
)

// Hatching covers what lies within the one outline and not within the other: by its length, the area over the distance of the lines.
func TestHatchingCoversTheDifference(t *testing.T) {
	square := func(x0, y0, x1, y1 vg.Length) []vg.Point {
		return []vg.Point{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}}
	}
	h := hatching{every: 0.5}
	h.add(square(0, 0, 40, 30), 0)
	h.add(square(10, 10, 30, 25), 1)
	length := vg.Length(0)
	for _, s := range h.segments() {
		middle := vg.Point{X: (s[0].X + s[1].X) / 2, Y: (s[0].Y + s[1].Y) / 2}
		assert.False(t, middle.X > 10 && middle.X < 30 && middle.Y > 10 && middle.Y < 25, "%v lies in what is left out", middle)
		d := s[1].Sub(s[0])
		length += vg.Length(1.41421356) * d.X
	}
	// lines x + y = k every lie every / √2 apart
	assert.InEpsilon(t, 40*30-20*15, float64(length)*0.5/1.41421356, 0.02)
}

func TestRequiredLevelOnAMap(t *testing.T) {
	m := warehouse(24, 18, 1, 3, 4, 3000)
	m.Imperial, m.Levels, m.Change = true, nil, false
	s := m.statistics()
	m.Required, m.Of = (s.Minimum+s.Maximum)/2*fc, "the average"
	drawn := recordFigure(m, 6*vg.Inch)
	assert.Regexp(t, `Below the [\d.]+ fc required of the average`, drawn.texts)
	m.Required = s.Minimum / 2 * fc
	assert.Regexp(t, `Nothing is below the [\d.]+ fc required`, recordFigure(m, 6*vg.Inch).texts)
	m.Change = true
	assert.NotRegexp(t, `required`, recordFigure(m, 6*vg.Inch).texts, "a change meets no level")
}

// A scale shows no band that no value reaches, and says of a change what is lost.
func TestScaleOfWhatIsReached(t *testing.T) {
	m := Map{X: []float64{0, 1}, Y: []float64{0, 1}, Values: []float64{-4.4, -1, -2, -3}, Levels: []float64{-6, -4, -2, 0, 2, 4}, Change: true}
	texts := recordFigure(m, 6*vg.Inch).texts
	assert.Contains(t, texts, "−6")
	assert.NotContains(t, texts, "+2")
	assert.Contains(t, texts, "Largest loss 4.4 lx")
	assert.Contains(t, texts, "Least loss 1.0 lx")
}
