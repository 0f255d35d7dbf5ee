package study

import (
	"math"
	"slices"

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
	y.Courses = courses
	var times []float64
	for k, kind := range kinds {
		courses[k] = courseOf(r.Job, kind.From, kind.System)
		for _, m := range courses[k].Series(y.Horizon, yearsStep) {
			times = append(times, m.Years)
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
	if side.Outside == nil {
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
	return r.changed(sameLuminaire, func(*job.System) int { return 1 }) == 0 && r.Existing().Luminaires == r.Proposed().Luminaires
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
