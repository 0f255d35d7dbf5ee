package wording

import (
	"fmt"
	"slices"
	"strings"

	"lampswap/photometry/levels"
	"lampswap/photometry/study"
)

// Verdict is the verdict in one plain sentence: how bright it is after the swap, against before and against the criteria. It stands here,
// and not with the command, as the JSON carries it.
func Verdict(r *study.Result) string {
	before, after := r.Existing().Grids[0].Statistics.Average, r.Proposed().Grids[0].Statistics.Average
	maintains, outside := "maintains", ""
	if r.Proposed().Outside != nil {
		maintains, outside = "would maintain", ". But that is NOT known: "+Outside(r.Proposed().Outside)
	}
	light := fmt.Sprintf("The proposed lighting %s %s on the work plane, %s the existing %s (%s)",
		maintains, r.Job.Light(after), Compared(before, after), r.Job.Light(before), JudgedAt(r)) + outside
	outcome, of := r.Outcome()
	missed, comfort := allMissed(r, of), comfortMissed(r)
	enough, ofLight := ", and is enough", ""
	if r.Darker() {
		enough = ": darker than before, but enough"
	}
	if comfort != "" {
		ofLight = " of light"
	}
	switch outcome {
	case study.NoCriteria:
		light += "; the job has no criteria, so nothing says whether that is enough"
	case study.NotKnownOr:
		light += ". So no criterion of light is met, and even by the numbers it misses " + missed
	case study.NotKnown:
		light += ". So no criterion of light is met, whatever the numbers say"
	case study.Dim:
		light += ", and is NOT enough: it misses " + missed
	case study.Unasked:
		light += "; no criterion of the job is about how much light there is, so nothing says whether that is enough"
		if missed != "" {
			light += "; and it draws MORE than " + missed
		}
	case study.Greedy:
		light += enough + ": it meets every criterion of light; but it draws MORE than " + missed
	case study.Enough:
		light += enough + ": it meets every criterion" + ofLight
	}
	return light + "." + comfort + minds(r)
}

// allMissed says what the proposed lighting reaches of criteria that it misses.
func allMissed(r *study.Result, of []study.Verdict) string {
	var all []string
	for _, v := range of {
		all = append(all, Missed(r.Job, v.Criterion, v.Proposed().Value))
	}
	return strings.Join(all, " and ")
}

// comfortMissed says which criteria of glare and color the proposed lighting misses, and of which that is not known; "" if it meets all.
func comfortMissed(r *study.Result) string {
	missed, unknown := r.Uncomfortable()
	var open []string
	for _, v := range unknown {
		open = append(open, fmt.Sprintf("%q (%s)", v.Name, v.Proposed().Why))
	}
	text := ""
	if len(missed) > 0 {
		text = " Of glare and color it MISSES " + allMissed(r, missed) + "."
	}
	if len(open) > 0 {
		text += " It is NOT KNOWN whether it meets " + strings.Join(open, " and ") + "."
	}
	return text
}

// minds is what a reader of the verdict must not miss: that it rests on an estimate, or that the lamp cannot be bought again.
func minds(r *study.Result) string {
	var all strings.Builder
	if r.Existing().Outside != nil {
		fmt.Fprintf(&all, " Mind that of the existing lighting %s: its light is not known, nor is the change.", Outside(r.Existing().Outside))
	}
	all.WriteString(slipMind(r))
	all.WriteString(failedMind(r))
	all.WriteString(darkMind(r))
	for _, o := range r.Outages() {
		all.WriteString(" " + outageMind(o, r))
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

// darkMind says beside a verdict on glare that luminaires which gave no light did not glare either.
func darkMind(r *study.Result) string {
	judged := slices.ContainsFunc(r.Job.Criteria, func(c levels.Criterion) bool { return c.Statistic == levels.Glare })
	if !judged || r.Existing().Failed == 0 {
		return ""
	}
	return " Mind that a luminaire which gives no light does not glare: the room as found may glare less than with every luminaire lit, before the swap and after it."
}

// failedMind says in the verdict how much of the change is only that luminaires are lit again that had failed.
func failedMind(r *study.Result) string {
	failed := r.Failed()
	if failed == 0 {
		return ""
	}
	before, after := r.Existing().AllLit, r.Proposed().Grids[0].Statistics.Average
	text := fmt.Sprintf(" Mind that %d of the %d existing luminaires give no light; with every luminaire lit the existing light is %s, and the proposed light %s that",
		failed, r.Existing().Luminaires, r.Job.Light(before), Compared(before, after))
	switch {
	case r.Repairs():
		return text + ": the swap changes no luminaire, and only repairs those that failed."
	case r.LitAgain():
		return text + ": the rest of the change is repair."
	}
	return text + "; none of them is lit again."
}

// slipMind says in the verdict what may be a slip.
func slipMind(r *study.Result) string {
	light, money := r.Slips()
	var all []string
	for _, w := range append(light, money...) {
		all = append(all, slip(r, w))
	}
	switch {
	case len(all) == 0:
		return ""
	case len(all) > 2:
		all = append(all[:2:2], fmt.Sprintf("and %d more", len(all)-2))
	}
	return " Mind what looks like a slip in the job: " + strings.Join(all, "; ") + "."
}

// outageMind says in the verdict how much of the change is only that lamps are out.
func outageMind(o study.Outage, r *study.Result) string {
	text := fmt.Sprintf("Mind that the %s light is that of lamp_burnout = %.3g; with every lamp lit it is %s", o.Name, o.Factor, r.Job.Light(o.AllLit))
	if o.Name == "existing" {
		text += fmt.Sprintf(", and the proposed light %s that: the rest of the change is repair", Compared(o.AllLit, r.Proposed().Grids[0].Statistics.Average))
	}
	return text + ". Its load counts every lamp as lit."
}
