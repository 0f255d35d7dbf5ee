package study

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"lampswap/photometry"
	"lampswap/photometry/job"
	"lampswap/photometry/levels"
	"lampswap/photometry/lighting"
	"lampswap/photometry/losses"
	"lampswap/photometry/room"
)

// follow sums the light of luminaires of several kinds through the years, each by its own course.
func (y *Years) follow(r *Result, side lighting.Side) {
	kinds := side.Kinds()
	courses := make([]losses.Course, len(kinds))
	var times []float64
	for k, kind := range kinds {
		courses[k] = courseOf(r.Job, kind.From, kind.System)
		for _, m := range courses[k].Series(y.Horizon, yearsStep) {
			times = append(times, m.Years)
		}
		for _, n := range courses[k].Notes() {
			if note := kind.From.Group + ": " + n; !slices.Contains(y.Notes, note) {
				y.Notes = append(y.Notes, note)
			}
		}
	}
	slices.Sort(times)
	grids := map[int]bool{0: true}
	for _, v := range r.Verdicts {
		if g := gridOf(side, v.Grid); g >= 0 && v.AtLeast && v.Varies() {
			grids[g] = true
		}
	}
	course := map[int][]room.Statistics{} // of each grid, a moment each
	shares := make([]float64, len(kinds)) // of the light at which each kind is judged
	for _, t := range slices.Compact(times) {
		for _, share := range []func(losses.Course) float64{func(c losses.Course) float64 { return c.KeptBefore(t) }, func(c losses.Course) float64 { return c.Kept(t) }} {
			changed := false
			for k, kind := range kinds {
				now := share(courses[k]) / kind.Losses.Total()
				changed = changed || now != shares[k]
				shares[k] = now
			}
			if !changed && len(y.Moments) > 0 && y.Moments[len(y.Moments)-1].Years == t {
				continue // nothing is done then
			}
			for g := range grids {
				course[g] = append(course[g], weighted(kinds, g, shares))
			}
			light, kept := course[0][len(course[0])-1].Average, 0.0
			if judged := side.Grids[0].Statistics.Average; judged > 0 {
				kept = light / judged
			}
			y.Moments, y.Light = append(y.Moments, losses.Moment{Years: t, Kept: kept}), append(y.Light, light)
		}
	}
	y.Lowest = slices.Min(y.Light)
	if side.Outside == "" {
		y.below(r, side, course)
	}
}

// weighted are the statistics of a grid where each kind gives a share of the light at which it is judged.
func weighted(kinds []lighting.Side, grid int, shares []float64) room.Statistics {
	values := make([]float64, len(kinds[0].Grids[grid].Maintained))
	for k, kind := range kinds {
		for i, x := range kind.Grids[grid].Maintained {
			values[i] += shares[k] * x
		}
	}
	return room.Summarize(values)
}

// gridOf is the number of a side's grid of a name; -1 if there is none.
func gridOf(side lighting.Side, name string) int {
	return slices.IndexFunc(side.Grids, func(g lighting.Grid) bool { return g.Name == name })
}

// below finds when the light first falls below each criterion, to the month.
func (y *Years) below(r *Result, side lighting.Side, course map[int][]room.Statistics) {
	for _, v := range r.Verdicts {
		g := gridOf(side, v.Grid)
		if g < 0 || !v.AtLeast || !v.Varies() {
			continue
		}
		b := Below{v.Criterion, math.NaN(), math.Inf(1)}
		needed := v.RequiredIn(false) * (1 - 1e-9)
		before := math.NaN()
		for m, s := range course[g] {
			light := map[levels.Statistic]float64{levels.Average: s.Average, levels.Minimum: s.Minimum, levels.Maximum: s.Maximum}[v.Statistic]
			b.Least = min(b.Least, light)
			if !(light >= needed) && math.IsNaN(b.Years) {
				b.Years = y.Moments[m].Years
				if m > 0 && y.Moments[m-1].Years < b.Years && before > light { // in a straight line between the two
					b.Years -= (b.Years - y.Moments[m-1].Years) * (needed - light) / (before - light)
				}
			}
			before = light
		}
		y.Below = append(y.Below, b)
	}
}

// failedMind says in the verdict how much of the change is only that luminaires are lit again that had failed.
func (r *Result) failedMind() string {
	failed := r.Failed()
	if failed == 0 {
		return ""
	}
	before, after := r.Existing.AllLit, r.Proposed.Grids[0].Statistics.Average
	text := fmt.Sprintf(" Mind that %d of the %d existing luminaires give no light; with every luminaire lit the existing light is %s, and the proposed light %s that",
		failed, r.Existing.Luminaires, r.Job.Light(before), Compared(before, after))
	switch {
	case r.Repairs():
		return text + ": the swap changes no luminaire, and only repairs those that failed."
	case r.LitAgain():
		return text + ": the rest of the change is repair."
	}
	return text + "; none of them is lit again."
}

// Failed returns how many existing luminaires give no light.
func (r *Result) Failed() int {
	n := 0
	for _, s := range r.Job.Existing.Kinds() {
		n += len(s.Use.Failed)
	}
	return n
}

// Repairs tells that all luminaires stay as they are.
func (r *Result) Repairs() bool {
	return r.changed(sameLuminaire, func(*job.System) int { return 1 }) == 0 && r.Existing.Luminaires == r.Proposed.Luminaires
}

// LitAgain tells that luminaires hang after the swap where some failed: those of a group that is taken down stay dark.
func (r *Result) LitAgain() bool {
	for _, before := range r.Job.Existing.Kinds() {
		if len(before.Use.Failed) > 0 && r.Job.Proposed.Find(before.Group) != nil {
			return true
		}
	}
	return false
}

// FailedWords say what luminaires that failed make of load and saving.
func (r *Result) FailedWords() []string {
	failed := r.Failed()
	if failed == 0 {
		return nil
	}
	var where []string
	for _, kind := range r.Sides()[0].Kinds() {
		if n := len(kind.From.Use.Failed); n > 0 {
			where = append(where, fmt.Sprintf("%d of %d in %q", n, len(kind.From.Layout.Placements), kind.From.Group))
		}
	}
	e := r.Energy
	kw := func(x float64) string { return photometry.Fixed(x, 2) }
	return []string{fmt.Sprintf("%s give no light: as found the existing lighting maintains %s at %s kW, with every luminaire lit %s at %s kW", strings.Join(where, ", "),
		r.Job.Light(r.Existing.Grids[0].Statistics.Average), kw(e.ExistingKW), r.Job.Light(r.Existing.AllLit), kw(e.AllLitKW)),
		fmt.Sprintf("the saving is against what is drawn as found: %s kW and %s kWh a year; against every luminaire lit it would be %s kW and %s kWh", kw(e.SavedKW),
			photometry.Thousands(e.LightsSavedKWhPerYear), kw(e.AllLitKW-e.ProposedKW), photometry.Thousands(e.AllLitKWhPerYear-e.ProposedKWhPerYear))}
}
