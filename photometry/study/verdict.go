package study

import (
	"fmt"
	"math"
	"strings"

	"lampswap/photometry"
	"lampswap/photometry/levels"
	"lampswap/photometry/losses"
	"lampswap/photometry/room"
)

// A Verdict is one criterion with what the two systems reach.
type Verdict struct {
	levels.Criterion
	Existing, Proposed, Replacement          float64 // lx, W/m², or a ratio; NaN where there is no value
	ExistingMet, ProposedMet, ReplacementMet bool
}

// Met tells whether the proposed system meets every criterion.
func (r *Result) Met() bool {
	for _, v := range r.Verdicts {
		if !v.ProposedMet {
			return false
		}
	}
	return true
}

// BrightEnough tells whether the proposed system meets every criterion about light, whatever it draws.
func (r *Result) BrightEnough() bool {
	for _, v := range r.Verdicts {
		if !v.ProposedMet && v.Statistic != levels.PowerDensity {
			return false
		}
	}
	return true
}

func judge(r *Result) []Verdict {
	verdicts := make([]Verdict, len(r.Job.Criteria))
	for i, c := range r.Job.Criteria {
		v := Verdict{Criterion: c, Existing: r.Existing.statistic(c), Proposed: r.Proposed.statistic(c)}
		v.ExistingMet, v.ProposedMet = c.Met(v.Existing), c.Met(v.Proposed)
		v.Replacement = math.NaN()
		if r.Replacement != nil {
			v.Replacement = r.Replacement.statistic(c)
			v.ReplacementMet = c.Met(v.Replacement)
		}
		verdicts[i] = v
	}
	return verdicts
}

func (s System) statistic(c levels.Criterion) float64 {
	if c.Statistic == levels.PowerDensity {
		return s.PowerDensity
	}
	for _, g := range s.Grids {
		if g.Name == c.Grid {
			return pick(g.Statistics, c.Statistic)
		}
	}
	return math.NaN()
}

func pick(s room.Statistics, which levels.Statistic) float64 {
	switch which {
	case levels.Average:
		return s.Average
	case levels.Minimum:
		return s.Minimum
	case levels.Maximum:
		return s.Maximum
	case levels.AverageToMinimum:
		return s.AverageToMinimum
	case levels.MaximumToMinimum:
		return s.MaximumToMinimum
	case levels.PowerDensity: // of no grid
		return math.NaN()
	}
	panic("study: unknown statistic")
}

// Sentence is the verdict in one plain sentence: how bright it is after the swap, against before and against what is asked.
func (r *Result) Sentence() string {
	before, after := r.Existing.Grids[0].Statistics.Average, r.Proposed.Grids[0].Statistics.Average
	light := fmt.Sprintf("The proposed lighting maintains %s on the work plane, %s the existing %s",
		r.Light(after), change(before, after), r.Light(before))
	if len(r.Verdicts) == 0 {
		return light + "; the job asks for no level, so nothing says whether that is enough." + r.minds()
	}
	var dim, greedy []string
	for _, v := range r.Verdicts {
		words := fmt.Sprintf("%q (%s asked, %s)", v.Name, r.asked(v), r.reached(v))
		switch {
		case v.ProposedMet:
		case v.Statistic == levels.PowerDensity:
			greedy = append(greedy, words)
		default:
			dim = append(dim, words)
		}
	}
	darker := after < before*(1-asMuch)
	switch {
	case len(dim) > 0:
		light += ", and is NOT enough: it misses " + strings.Join(append(dim, greedy...), " and ")
	case len(greedy) > 0:
		light += map[bool]string{true: ": darker than before, but enough", false: ", and is enough"}[darker] + " by every level of light asked for; but it draws MORE than " + strings.Join(greedy, " and ")
	case darker:
		light += ": darker than before, but enough by every level asked for"
	default:
		light += ", and is enough by every level asked for"
	}
	return light + "." + r.minds()
}

// minds is what a reader of the verdict must not miss: that it rests on an estimate, or that the lamp cannot be bought again.
func (r *Result) minds() string {
	var all strings.Builder
	if e := r.OnEstimate(); e != nil {
		fmt.Fprintf(&all, " But that rests on an estimate: in the cold the lamps are taken to keep %.2f of their light, and it may be %.2f to %.2f; at the lower end a level is missed.",
			e.Factor, e.Low, e.High)
	}
	for _, n := range r.bans() {
		fmt.Fprintf(&all, " Mind that %s, where this is, ends or has ended the sale of such lamps (%s): %s may be impossible to replace.",
			n.State, dated(n, r.Job.Facts.Date), r.Job.Proposed.Lamp.Name)
	}
	return all.String()
}

// OnEstimate returns the estimate of the proposed lamps' light in the cold, or in the heat, if a level that is met would be missed at its
// lower end; else nil.
func (r *Result) OnEstimate() *losses.TemperatureEstimate {
	f := r.Proposed.Losses
	if f.Temperature.From != losses.FromEstimate || f.TotalOverride != nil || !r.BrightEnough() {
		return nil
	}
	e := temperature(r.Job, &r.Job.Proposed).Estimate
	if e == nil {
		return nil
	}
	for _, v := range r.Verdicts {
		if v.AtLeast && v.Unit != levels.Ratio && v.Statistic != levels.PowerDensity && !v.Met(v.Proposed*e.Low/e.Factor) {
			return e
		}
	}
	return nil
}

// Light within this share of the other is as much: less can be neither seen nor computed.
const asMuch = 0.005

func change(before, after float64) string {
	if !(before > 0) {
		return "against"
	}
	percent := 100 * (after/before - 1)
	switch {
	case math.Abs(percent) <= 100*asMuch:
		return "as much as"
	case percent < 0:
		return fmt.Sprintf("%.0f percent less than", -percent)
	}
	return fmt.Sprintf("%.0f percent more than", percent)
}

// Light writes an illuminance, lx, in the job's unit with the digits that it deserves.
func (r *Result) Light(lux float64) string {
	value, unit := lux, "lx"
	if r.Job.Imperial {
		value, unit = lux/photometry.Footcandle, "fc"
	}
	return Digits(value) + " " + unit
}

// Digits writes a number of light with three figures, and none after the point from 100 on.
func Digits(x float64) string {
	switch {
	case math.IsNaN(x):
		return "-"
	case math.Abs(x) >= 99.95:
		return fmt.Sprintf("%.0f", x)
	case math.Abs(x) >= 9.995:
		return fmt.Sprintf("%.1f", x)
	}
	return fmt.Sprintf("%.2f", x)
}

func (r *Result) asked(v Verdict) string {
	word := "at most "
	if v.AtLeast {
		word = "at least "
	}
	return word + r.quantity(v, v.RequiredIn(false))
}

func (r *Result) reached(v Verdict) string {
	if math.IsNaN(v.Proposed) {
		return "the minimum is 0"
	}
	return r.quantity(v, v.Proposed) + " reached"
}

func (r *Result) quantity(v Verdict, x float64) string {
	switch {
	case v.Unit == levels.Ratio:
		return Digits(x)
	case v.Statistic == levels.PowerDensity && r.Job.Imperial:
		return Digits(x/photometry.Footcandle) + " W/ft2"
	case v.Statistic == levels.PowerDensity:
		return Digits(x) + " W/m2"
	}
	return r.Light(x)
}

// MarginWords says by how much the proposed system keeps or misses a criterion: ", 12 percent to spare"; empty where that has no value.
func (r *Result) MarginWords(v Verdict) string {
	margin := 100 * v.Margin(v.Proposed)
	switch {
	case math.IsNaN(margin):
		return ""
	case margin > 1000:
		return ", over 1,000 percent to spare"
	case margin >= 0:
		return fmt.Sprintf(", %.0f percent to spare", margin)
	case v.AtLeast:
		return fmt.Sprintf(", %.0f percent short", -margin)
	case margin < -1000:
		return ", more than ten times that"
	}
	return fmt.Sprintf(", %.0f percent over", -margin)
}
