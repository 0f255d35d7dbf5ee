package plots

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/plot/vg"
)

func TestFirstBelow(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct {
		name          string
		years, values []float64
		level         float64
		want          float64
		ok            bool
	}{
		{"on a slope", []float64{0, 4}, []float64{40, 20}, 30, 2, true},
		{"at a step", []float64{0, 3, 3, 5}, []float64{40, 35, 25, 24}, 30, 3, true},
		{"from the start", []float64{1, 2}, []float64{20, 50}, 30, 1, true},
		{"never", []float64{0, 9}, []float64{40, 31}, 30, 0, false},
		{"touches", []float64{0, 2, 4}, []float64{40, 30, 40}, 30, 0, false},
		{"touches, but for rounding", []float64{0, 2}, []float64{40, 30 * (1 - 1e-12)}, 30, 0, false},
		{"the first of several", []float64{0, 2, 2, 4}, []float64{40, 20, 40, 20}, 30, 1, true},
		{"after a gap", []float64{0, 1, 2}, []float64{40, nan, 20}, 30, 2, true},
		{"nothing", nil, nil, 30, 0, false},
	} {
		year, ok := Course{Years: c.years, Values: c.values}.firstBelow(c.level)
		assert.Equal(t, c.ok, ok, c.name)
		assert.InDelta(t, c.want, year, 1e-12, "%s: rounding", c.name)
	}
}

func TestYearsSay(t *testing.T) {
	y := Years{Imperial: true, Levels: []Level{{"owner's lease", 30 * fc}, {"", 10 * fc}}, Courses: []Course{
		{Name: "Existing", Years: []float64{0, 10}, Values: []float64{40 * fc, 20 * fc}},
		{Name: "Proposed", Years: []float64{0, 10}, Values: []float64{60 * fc, 50 * fc}},
		{Name: "Dim", Years: []float64{0, 10}, Values: []float64{20 * fc, 20 * fc}},
		{Name: "None", Years: []float64{0}, Values: []float64{math.NaN()}},
		{Name: "Cold", Years: []float64{0, 10}, Values: []float64{1000 * fc, 1000 * fc}, Unknown: "below its rating"},
	}}
	assert.Equal(t, []string{
		"Existing falls below 30 fc after 5 years and does not fall below 10 fc in the 10 years shown.",
		"Proposed does not fall below 30 fc or 10 fc in the 10 years shown.",
		"Dim is below 30 fc from the start and does not fall below 10 fc in the 10 years shown.",
		"None: no values.",
		"Cold is not known: below its rating.",
	}, y.resolved().sentences())
	assert.Contains(t, y.Describe(), "falls below 30 fc after 5 years")
	assert.NotContains(t, recordFigure(y, 6.5*vg.Inch).texts, "1,000", "what is not known is not drawn")
	texts := recordFigure(y, 6.5*vg.Inch).texts
	for _, want := range []string{"30 fc, owner's lease", "10 fc required", "5 years", "Existing", "Proposed", "Years", "Maintained illuminance (fc)", "0"} {
		assert.Contains(t, texts, want)
	}
}

func TestNamesThatAreTooLongForTheEndsAreInAKey(t *testing.T) {
	y := lightThroughTheYears()
	_, _, ok := y.ends(3 * vg.Inch)
	assert.True(t, ok)
	y.Courses[0].Name = strings.Repeat("long ", 60)
	_, _, ok = y.ends(10 * vg.Inch)
	assert.False(t, ok)
	assert.Len(t, y.resolved().texts(10*vg.Inch).Samples, 2)
	y.Courses[0].Name = strings.Repeat("W", 40)
	_, _, ok = y.ends(6.5 * vg.Inch)
	assert.False(t, ok, "a word is not cut")
}

func TestRolesLookTheSameEverywhere(t *testing.T) {
	styles := lines([]Role{Proposed, Alternative, Existing, Alternative})
	assert.Empty(t, styles[0].Dashes, "proposed is solid")
	assert.Equal(t, lines([]Role{Existing})[0], styles[2])
	assert.NotEqual(t, styles[1].Dashes, styles[3].Dashes, "two alternatives differ")
}

func TestCoursePanics(t *testing.T) {
	assert.Panics(t, func() { Years{Courses: []Course{{Years: []float64{1}}}}.Height(300) })
}
