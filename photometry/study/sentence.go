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
	maintains, outside := "maintains", ""
	if r.Proposed.Outside != "" {
		maintains, outside = "would maintain", ". But that is NOT known: "+r.Proposed.Outside
	}
	light := fmt.Sprintf("The proposed lighting %s %s on the work plane, %s the existing %s (%s)",
		maintains, r.Job.Light(after), Compared(before, after), r.Job.Light(before), r.JudgedAt())
	if len(r.Verdicts) == 0 {
		return light + outside + "; the job has no criteria, so nothing says whether that is enough." + r.minds()
	}
	dim, greedy := r.shortfalls()
	darker, comfort := Darker(before, after), r.comfortMissed()
	ofLight := ""
	if comfort != "" {
		ofLight = " of light"
	}
	switch {
	case outside != "" && len(dim)+len(greedy) > 0:
		light += outside + ". So no criterion of light is met, and even by the numbers it misses " + strings.Join(append(dim, greedy...), " and ")
	case outside != "":
		light += outside + ". So no criterion of light is met, whatever the numbers say"
	case len(dim) > 0:
		light += ", and is NOT enough: it misses " + strings.Join(append(dim, greedy...), " and ")
	case !r.LightJudged() && len(greedy) == 0:
		light += "; no criterion of the job is about how much light there is, so nothing says whether that is enough"
	case len(greedy) > 0:
		light += map[bool]string{true: ": darker than before, but enough", false: ", and is enough"}[darker] + ": it meets every criterion of light; but it draws MORE than " + strings.Join(greedy, " and ")
	case darker:
		light += ": darker than before, but enough: it meets every criterion" + ofLight
	default:
		light += ", and is enough: it meets every criterion" + ofLight
	}
	return light + "." + comfort + r.minds()
}

// shortfalls are the criteria that the proposed lighting misses by its numbers, in words: of light, and of power.
func (r *Result) shortfalls() (dim, greedy []string) {
	for _, v := range r.Verdicts {
		words := Missed(r.Job, v.Criterion, v.Proposed)
		switch {
		case v.Met(v.Proposed) || v.Statistic.Comfort():
		case v.Statistic == levels.PowerDensity:
			greedy = append(greedy, words)
		default:
			dim = append(dim, words)
		}
	}
	return dim, greedy
}

// comfortMissed says which criteria of glare and color the proposed lighting misses, and of which that is not known; "" if it meets all.
func (r *Result) comfortMissed() string {
	var missed, open []string
	for _, v := range r.Verdicts {
		switch {
		case v.ProposedMet || !v.Statistic.Comfort():
		case v.ProposedWhy != "":
			open = append(open, fmt.Sprintf("%q (%s)", v.Name, v.ProposedWhy))
		case r.Proposed.Outside == "" || v.Statistic == levels.ColorRendering:
			missed = append(missed, Missed(r.Job, v.Criterion, v.Proposed))
		}
	}
	text := ""
	if len(missed) > 0 {
		text = " Of glare and color it MISSES " + strings.Join(missed, " and ") + "."
	}
	if len(open) > 0 {
		text += " It is NOT KNOWN whether it meets " + strings.Join(open, " and ") + "."
	}
	return text
}

// minds is what a reader of the verdict must not miss: that it rests on an estimate, or that the lamp cannot be bought again.
func (r *Result) minds() string {
	var all strings.Builder
	if r.Existing.Outside != "" {
		fmt.Fprintf(&all, " Mind that of the existing lighting %s: its light is not known, nor is the change.", r.Existing.Outside)
	}
	all.WriteString(r.slipMind())
	all.WriteString(r.failedMind())
	all.WriteString(r.darkMind())
	for _, o := range r.Outages() {
		all.WriteString(" " + o.mind(r))
	}
	if e := r.OnEstimate(); e != nil {
		fmt.Fprintf(&all, " But that rests on an estimate: in the cold the lamps are taken to keep %.2f of their light, and it may be %.2f to %.2f; at the lower end a criterion is missed.",
			e.Factor, e.Low, e.High)
	}
	var late []string
	for _, b := range r.NotInAllYears() {
		more := b.Criterion.Finer(r.Job.Imperial, b.Least)
		late = append(late, fmt.Sprintf("%q (at least %s required) is first missed after %s, and %s is the least", b.Criterion.Name,
			Quantity(r.Job, b.Criterion, b.Criterion.RequiredIn(false), more), Span(b.Years), Quantity(r.Job, b.Criterion, b.Least, more)))
	}
	if len(late) > 0 {
		fmt.Fprintf(&all, " But not in all %.0f years of the study: %s.", r.Years[1].Horizon, strings.Join(late, "; "))
	}
	for _, n := range r.Bans() {
		fmt.Fprintf(&all, " Mind that %s, where this is, ends or has ended the sale of such lamps (%s): %s may be impossible to replace.",
			n.State, dated(n, r.Job.Facts.Date), strings.Join(r.BannedLamps(), " and "))
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
	limit, found, more := "at most ", "the minimum is 0", c.Finer(j.Imperial, reached)
	if c.AtLeast {
		limit = "at least "
	}
	if c.Statistic.Comfort() {
		found = "not known"
	}
	if !math.IsNaN(reached) {
		found = Quantity(j, c, reached, more) + " " + how
	}
	return fmt.Sprintf("%q (%s required, %s)", c.Name, limit+Quantity(j, c, c.RequiredIn(false), more), found)
}

// Quantity writes what a criterion is about (lx, W/m² or a ratio) in the job's unit, with more digits than usual.
func Quantity(j *job.Job, c levels.Criterion, x float64, more int) string {
	unit := " lx"
	switch {
	case c.Unit == levels.Ratio:
		return photometry.Finer(x, more)
	case j.Imperial:
		x, unit = x/photometry.Footcandle, " fc"
	}
	if c.Statistic == levels.PowerDensity {
		unit = map[bool]string{true: " W/ft2", false: " W/m2"}[j.Imperial]
	}
	return photometry.Finer(x, more) + unit
}
