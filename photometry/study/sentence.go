package study

import (
	"fmt"
	"math"
	"strings"

	"lampswap/photometry"
	"lampswap/photometry/job"
	"lampswap/photometry/levels"
)

// Sentence is the verdict in one plain sentence: how bright it is after the swap, against before and against the criteria. It stands here,
// and not with the command, as the JSON carries it.
func (r *Result) Sentence() string {
	before, after := r.Existing.Grids[0].Statistics.Average, r.Proposed.Grids[0].Statistics.Average
	light := fmt.Sprintf("The proposed lighting maintains %s on the work plane, %s the existing %s (%s)",
		r.Job.Light(after), Compared(before, after), r.Job.Light(before), r.JudgedAt())
	if len(r.Verdicts) == 0 {
		return light + "; the job has no criteria, so nothing says whether that is enough." + r.minds()
	}
	var dim, greedy []string
	for _, v := range r.Verdicts {
		words := Missed(r.Job, v.Criterion, v.Proposed)
		switch {
		case v.ProposedMet:
		case v.Statistic == levels.PowerDensity:
			greedy = append(greedy, words)
		default:
			dim = append(dim, words)
		}
	}
	darker := Darker(before, after)
	switch {
	case len(dim) > 0:
		light += ", and is NOT enough: it misses " + strings.Join(append(dim, greedy...), " and ")
	case len(greedy) > 0:
		light += map[bool]string{true: ": darker than before, but enough", false: ", and is enough"}[darker] + ": it meets every criterion of light; but it draws MORE than " + strings.Join(greedy, " and ")
	case darker:
		light += ": darker than before, but enough: it meets every criterion"
	default:
		light += ", and is enough: it meets every criterion"
	}
	return light + "." + r.minds()
}

// minds is what a reader of the verdict must not miss: that it rests on an estimate, or that the lamp cannot be bought again.
func (r *Result) minds() string {
	var all strings.Builder
	if e := r.OnEstimate(); e != nil {
		fmt.Fprintf(&all, " But that rests on an estimate: in the cold the lamps are taken to keep %.2f of their light, and it may be %.2f to %.2f; at the lower end a criterion is missed.",
			e.Factor, e.Low, e.High)
	}
	var late []string
	for _, b := range r.NotInAllYears() {
		late = append(late, fmt.Sprintf("%q (at least %s required) is first missed after %s, and %s is the least", b.Criterion.Name,
			quantity(r.Job, b.Criterion, b.Criterion.RequiredIn(false)), Span(b.Years), quantity(r.Job, b.Criterion, b.Least)))
	}
	if len(late) > 0 {
		fmt.Fprintf(&all, " But not in all %.0f years of the study: %s.", r.Years[1].Horizon, strings.Join(late, "; "))
	}
	for _, n := range r.bans() {
		fmt.Fprintf(&all, " Mind that %s, where this is, ends or has ended the sale of such lamps (%s): %s may be impossible to replace.",
			n.State, dated(n, r.Job.Facts.Date), r.Job.Proposed.Lamp.Name)
	}
	return all.String()
}

// Span writes a time in the unit that it deserves.
func Span(years float64) string {
	if years < 2 {
		return fmt.Sprintf("%.0f months", 12*years)
	}
	return fmt.Sprintf("%.1f years", years)
}

// boundless is a ratio of light after to before that means nothing: the light before is next to none.
const boundless = 1e6

// Compared says in words how much light there is after against before, lx: "10 percent less than".
func Compared(before, after float64) string {
	if !(before > 0) || after > boundless*before {
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

// Missed says in words what a criterion requires and what is reached instead, in the job's unit.
func Missed(j *job.Job, c levels.Criterion, reached float64) string {
	return missed(j, c, reached, "reached")
}

// MissedAtBest says the same of several systems, of which the best reaches that.
func MissedAtBest(j *job.Job, c levels.Criterion, best float64) string {
	return missed(j, c, best, "at best")
}

func missed(j *job.Job, c levels.Criterion, reached float64, how string) string {
	limit, found := "at most ", "the minimum is 0"
	if c.AtLeast {
		limit = "at least "
	}
	if !math.IsNaN(reached) {
		found = quantity(j, c, reached) + " " + how
	}
	return fmt.Sprintf("%q (%s required, %s)", c.Name, limit+quantity(j, c, c.RequiredIn(false)), found)
}

func quantity(j *job.Job, c levels.Criterion, x float64) string {
	switch {
	case c.Unit == levels.Ratio:
		return photometry.Digits(x)
	case c.Statistic == levels.PowerDensity && j.Imperial:
		return photometry.Digits(x/photometry.Footcandle) + " W/ft2"
	case c.Statistic == levels.PowerDensity:
		return photometry.Digits(x) + " W/m2"
	}
	return j.Light(x)
}
