package plots

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/plot/vg"
	"pgregory.net/rapid"
)

// gallery is an invented room thirty times as long as wide, with a rack that a cut goes through and a luminaire on a cut.
func gallery() Map {
	m := warehouse(600, 20, 2, 1, 29, 2600, Rect{20 * ft, 3 * ft, 580 * ft, 6 * ft})
	m.Title, m.Required = "A gallery", 11*fc
	m.Luminaires[0].Failed = true
	return m
}

// Strips tile the plan without gap or overlap, fit the room, and draw it at least as large as one piece would.
func TestStripsTileThePlan(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		length := rapid.Float64Range(1, 400)
		m := Map{Values: []float64{1, 2, 3, 4}, X: []float64{1, 2}, Y: []float64{1, 2}, Extent: Rect{X0: -3, Y0: 2}}
		m.Extent.X1, m.Extent.Y1 = m.Extent.X0+length.Draw(t, "length"), m.Extent.Y0+length.Draw(t, "width")
		across, up := vg.Length(rapid.Float64Range(60, 800).Draw(t, "across")), vg.Length(rapid.Float64Range(60, 800).Draw(t, "up"))
		ways := m.resolved().foldings()
		f, scale := best(ways, across, up)
		assert.GreaterOrEqual(t, scale, ways[0].scale(across, up))
		wide, tall := f.size(scale)
		assert.LessOrEqual(t, wide, across*(1+1e-9))
		assert.LessOrEqual(t, tall, up*(1+1e-9))
		w, h := m.Extent.X1-m.Extent.X0, m.Extent.Y1-m.Extent.Y0
		if math.Max(w/h, h/w) <= mostOblong {
			assert.Len(t, f.parts, 1)
		}
		area := 0.0
		for i, part := range f.parts {
			area += (part.X1 - part.X0) * (part.Y1 - part.Y0)
			if i > 0 {
				before := f.parts[i-1]
				assert.True(t, part.X0 == before.X1 || part.Y0 == before.Y1, "begins where the one before ends")
			}
		}
		assert.InEpsilon(t, w*h, area, 1e-9, "rounding")
		views := f.views(scale, 10, up)
		for i, v := range views {
			assert.InDelta(t, float64(v.scale)*(v.extent.X1-v.extent.X0), float64(v.frame.Size().X), 1e-6, "rounding")
			for _, o := range views[:i] {
				assert.True(t, v.frame.Max.Y < o.frame.Min.Y || v.frame.Min.X > o.frame.Max.X, "frames stand apart")
			}
		}
	})
}

// Each luminaire shows its signs once, in the strip of its middle, and both ends of a housing that a cut goes through are drawn.
func TestNothingIsLostInStrips(t *testing.T) {
	m := gallery().resolved()
	ways := m.foldings()
	f := ways[len(ways)-1]
	assert.Len(t, f.parts, 4)
	middles, failed, pieces := 0, 0, 0
	for _, part := range f.parts {
		p := m.plan().strip(part)
		assert.Len(t, p.racks, 1, "the rack goes through all")
		for _, l := range p.luminaires {
			pieces++
			if l.X >= part.X0 && l.X < part.X1 {
				middles++
			}
			if l.Failed {
				failed++
			}
		}
		for _, e := range m.marks(p) {
			assert.True(t, e.at.X >= part.X0 && e.at.X <= part.X1)
		}
	}
	assert.Equal(t, 29, middles)
	assert.Equal(t, 1, failed)
	assert.Equal(t, 30, pieces, "the one in the middle of the room is cut")
	texts := recordFigure(m, 7*vg.Inch).texts
	for _, tick := range []string{"0", "140", "300", "580"} {
		assert.Contains(t, texts, tick)
	}
	sheet := recordFigure(beforeAfter(m), 7*vg.Inch).texts
	assert.Contains(t, sheet, "0")
	assert.Contains(t, sheet, "600")
	labels := 0
	for _, text := range texts {
		if text == "11" {
			labels++
		}
	}
	assert.GreaterOrEqual(t, labels, 4, "the level that is required is labeled in each strip")
}

// A wall of stations is cut as a map is, and each station is named.
func TestStationsInStrips(t *testing.T) {
	s := Stations{Extent: Rect{X1: 3, Y1: 90}}
	for i := range 40 {
		s.Stations = append(s.Stations, Station{X: 1.5, Y: 1 + 2.25*float64(i), Name: string(rune('A'+i/10)) + string(rune('0'+i%10)), Deviation: math.NaN()})
	}
	texts := recordFigure(s, 7*vg.Inch).texts
	for _, at := range s.Stations {
		assert.Contains(t, texts, at.Name)
	}
}
