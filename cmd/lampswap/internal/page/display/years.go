package display

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"lampswap/cmd/lampswap/internal/typeset"
	"lampswap/cmd/lampswap/internal/units"
	"lampswap/photometry/levels"
	"lampswap/photometry/study"
)

// A yearsView is the average of the work plane through the years. Lines are in a box of 1000 by 300, y downward, which the page stretches;
// places of words are in percent.
type yearsView struct {
	Unit, Words   string
	Before, After string
	Instead       string // of the replacement; "" without one
	Tried         string // "" unless something is tried
	Required      []string
	Across, Up    []tickView
}

// yearsViewOf draws the light of the result, and of what is tried beside it.
func yearsViewOf(r *study.Result, now []study.Years, isTried bool) *yearsView {
	if len(r.Years) < 2 || len(now) < 2 {
		return nil
	}
	view := units.Of(r.Job)
	most, horizon := 0.0, r.Years[0].Horizon
	for _, y := range append(append([]study.Years(nil), r.Years...), now[:2]...) {
		for _, lux := range y.Light {
			most = max(most, lux)
		}
	}
	if !(most > 0) || !(horizon > 0) {
		return nil
	}
	var required []float64
	for _, c := range r.Verdicts {
		if c.Statistic == levels.Average && c.AtLeast && c.Grid == r.Existing().Grids[0].Name {
			required = append(required, c.RequiredIn(false))
			most = max(most, c.RequiredIn(false))
		}
	}
	step := tickStep(most * 1.05 / view.Lux)
	full := step * math.Ceil(most*1.05/view.Lux/step)
	height := func(lux float64) float64 { return 300 * (1 - lux/view.Lux/full) }
	line := func(y study.Years) string {
		var b strings.Builder
		for i, m := range y.Moments {
			fmt.Fprintf(&b, "%.1f,%.1f ", 1000*m.Years/horizon, height(y.Light[i]))
		}
		return strings.TrimSpace(b.String())
	}
	v := &yearsView{Unit: view.Illuminance, Before: line(now[0]), After: line(r.Years[1])}
	if isTried {
		v.Tried = line(now[1])
	}
	if len(r.Years) > 2 {
		v.Instead = line(r.Years[2])
	}
	for _, lux := range required {
		v.Required = append(v.Required, fmt.Sprintf("%.1f", height(lux)))
	}
	for x := 0.0; x <= full*1.001; x += step {
		v.Up = append(v.Up, tickView{At: fmt.Sprintf("%.2f%%", height(x*view.Lux)/3), Text: fmt.Sprintf("%g", x)})
	}
	every := max(1, math.Round(horizon/5))
	for x := 0.0; x <= horizon*1.001; x += every {
		v.Across = append(v.Across, tickView{At: fmt.Sprintf("%.2f%%", 100*x/horizon), Text: fmt.Sprintf("%g", x), Last: x+every > horizon*1.001})
	}
	v.Words = fmt.Sprintf("Average on the work plane through %.0f years from new lamps and clean surfaces", horizon)
	course := func(name string, light []float64) {
		v.Words += fmt.Sprintf(". %s: from %s down to %s", name, r.Job.Light(light[0]), r.Job.Light(slices.Min(light)))
	}
	for _, y := range append(now[:1:1], r.Years[1:]...) {
		course(typeset.Capital(y.Name), y.Light)
	}
	if isTried {
		course("Tried", now[1].Light)
	}
	return v
}
