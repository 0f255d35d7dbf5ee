package plots

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/plot/vg"
	"pgregory.net/rapid"

	"lampswap/photometry"
	"lampswap/plots/internal/chart"
	"lampswap/plots/internal/place"
)

func TestBestIsNotBeaten(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		options := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Option {
			return Option{Power: float64(rapid.IntRange(0, 20).Draw(t, "W")), Light: float64(rapid.IntRange(0, 20).Draw(t, "lx"))}
		}), 0, 30).Draw(t, "options")
		best := onFront(options)
		beats := func(a, b Option) bool {
			return a.Power <= b.Power && a.Light >= b.Light && (a.Power < b.Power || a.Light > b.Light)
		}
		for i, p := range options {
			beaten := slices.ContainsFunc(options, func(o Option) bool { return beats(o, p) })
			twin := slices.ContainsFunc(best, func(k int) bool { return options[k] == p })
			if beaten == twin {
				t.Fatalf("option %d, %+v: beaten %v, on the front %v", i, p, beaten, twin)
			}
		}
		for k := 1; k < len(best); k++ {
			if a, b := options[best[k-1]], options[best[k]]; a.Power >= b.Power || a.Light >= b.Light {
				t.Fatalf("%+v before %+v", a, b)
			}
		}
	})
}

func TestFrontIsOfThoseThatMeet(t *testing.T) {
	o := Front{Options: []Option{
		{Name: "bright but uneven", Power: 50, Light: 900},
		{Name: "good", Power: 60, Light: 500, Meets: true},
		{Name: "better", Power: 80, Light: 700, Meets: true},
		{Name: "beaten", Power: 90, Light: 600, Meets: true},
	}}
	assert.Equal(t, []int{1, 2}, o.front())
	assert.Equal(t, []int{0}, onFront(o.Options))
	for i := range o.Options {
		o.Options[i].Meets = false
	}
	assert.Equal(t, []int{0}, o.front(), "none meets: the front of all")
	assert.Contains(t, recordFigure(o, 5*vg.Inch).texts, "No option meets every criterion.")
}

func TestFrontLabelsMeetNothing(t *testing.T) {
	for name, f := range charts() {
		o, ok := f.(Front)
		if !ok {
			continue
		}
		for _, width := range widths {
			o = o.resolved()
			across, up := o.axes()
			frame := chart.Fit(vg.Rectangle{Max: vg.Point{X: width, Y: 0.6 * width}}, across, up)
			labels, _ := o.labels(frame, o.ground(frame), width, o.direct(width))
			for i, a := range labels {
				for _, b := range labels[i+1:] {
					assert.False(t, a.box.Overlaps(b.box), "%s at %v: %s on %s", name, width, a.text, b.text)
				}
				assert.True(t, o.ground(frame).Free(a.box), "%s at %v: %s lies on a mark", name, width, a.text)
			}
		}
	}
}

func TestTextOfAFront(t *testing.T) {
	texts := recordFigure(front(), 6.5*vg.Inch).texts
	for _, want := range []string{"Existing", "Proposed", "Input watts of one luminaire (W)", "Maintained average (fc)", "meets every criterion", "misses one or more",
		"4 × LED tube 18 W, high", "30 fc, active warehouse, bulky items"} {
		assert.Contains(t, texts, want)
	}
	narrow := recordFigure(front(), 3*vg.Inch).texts
	assert.Contains(t, narrow, "1")
	assert.Contains(t, narrow, "1")
	assert.NotContains(t, narrow, "4 × LED tube 18 W, high", "numbers where the names have no room")
	assert.Contains(t, narrow, "4 × LED tube 18 W, high: 85.8 W, 40.5 fc.")
	assert.Contains(t, front().Describe(), "Existing: 173 W, 27.5 fc.")
	area := Front{PerArea: true, Imperial: true, Options: []Option{{Power: 10.7639104167, Light: 1}}}
	assert.Contains(t, area.entry(0), "1.00 W/ft²")
}

// Both axes end a little beyond the values, and what is named on the front stands apart, the brightest among it.
func TestFrontIsTight(t *testing.T) {
	for name, f := range charts() {
		o, ok := f.(Front)
		if !ok || len(o.Options) < 2 {
			continue
		}
		o = o.resolved()
		across, up := o.axes()
		_, w := o.power()
		u := illuminanceUnit(o.Imperial)
		var watts, light []float64
		for _, p := range o.Options {
			if photometry.Finite(p.Power, p.Light) {
				watts, light = append(watts, p.Power/w.size), append(light, p.Light/u.size)
			}
		}
		for _, l := range o.Levels {
			light = append(light, l.Value/u.size)
		}
		for axis, values := range map[*chart.Axis][]float64{&across: watts, &up: light} {
			least, most := slices.Min(values), slices.Max(values)
			assert.Less(t, axis.From, least, name)
			assert.Greater(t, axis.To, most, name)
			assert.LessOrEqual(t, axis.To-most, 0.12*(axis.To-axis.From), "%s: %s runs to %v for %v", name, axis.Name, axis.To, most)
			assert.LessOrEqual(t, least-axis.From, 0.25*(axis.To-axis.From), "%s: %s begins at %v for %v", name, axis.Name, axis.From, least)
		}
		for _, width := range widths {
			keyed, front := o.keyed(width), o.front()
			if len(front) > 0 {
				assert.Equal(t, front[len(front)-1], keyed[len(keyed)-1], "%s: the brightest is named", name)
			}
			frame := chart.Frame{Rectangle: vg.Rectangle{Max: vg.Point{X: width, Y: o.frameHeight(width)}}, X: across, Y: up}
			for k := 1; k < len(keyed); k++ {
				assert.Greater(t, place.Distance(o.at(frame, o.Options[keyed[k-1]]), o.at(frame, o.Options[keyed[k]])), 13.0, name)
			}
		}
	}
}
