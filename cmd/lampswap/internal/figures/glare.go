package figures

import (
	"math"
	"strings"

	"lampswap/cmd/lampswap/internal/typeset"
	"lampswap/photometry/job"
	"lampswap/photometry/levels"
	"lampswap/photometry/lighting"
	"lampswap/photometry/study"
	"lampswap/plots"
)

// Glare is a plan of who looks where and how much that glares; ok is false where the job has no observers. Of those who look from one place the
// same way, seated and standing, the one with most stands for all.
func Glare(r *study.Result) (g plots.Glare, ok bool) {
	j := r.Job
	g = plots.Glare{Imperial: j.Imperial, Extent: plots.Rect{X1: j.Room.Length, Y1: j.Room.Width}, NorthDeg: NorthDeg(j)}
	g.Luminaires, g.Outline = MarksOf(j.Proposed, g.Extent, func(*job.System, int) bool { return true }), j.Room.Outline
	g.Racks, g.Hanging = RacksOf(j, g.Extent)
	kind := "observer, line of sight"
	if !j.ObserversNamed {
		kind = "observer by rule, seated or standing, line of sight"
	}
	for _, side := range r.Sides {
		g.Systems = append(g.Systems, side.Name)
	}
	at := map[[3]float64]int{}
	for i, o := range j.Observers {
		key := [3]float64{o.Eye.X, o.Eye.Y, o.Looking}
		k, known := at[key]
		if !known {
			k = len(g.Observers)
			at[key] = k
			g.Observers = append(g.Observers, plots.Observer{X: o.Eye.X, Y: o.Eye.Y, Looking: o.Looking, Name: typeset.Text(placeOf(o.Name, j.ObserversNamed)), Kind: kind})
			for range r.Sides {
				g.Observers[k].Ratings = append(g.Observers[k].Ratings, math.NaN())
			}
		}
		most := func(had float64, seen lighting.Seen) float64 {
			if ugr, _ := seen.Rating(); !(ugr <= had) {
				return ugr
			}
			return had
		}
		for n, side := range r.Sides {
			g.Observers[k].Ratings[n] = most(g.Observers[k].Ratings[n], side.Observers[i])
		}
	}
	g.Caption = strings.TrimSpace("Beside each observer: unified glare rating, " + strings.Join(g.Systems, " / ") + ". " + verdicts(r))
	return g, len(g.Observers) > 0
}

// verdicts say of each new system whether it meets what is asked of glare.
func verdicts(r *study.Result) string {
	var all []string
	for i, side := range r.Sides[1:] {
		words := verdictWords(r, levels.Observers, i+1, false)
		if !r.ThreeWays() || words == "" {
			return words
		}
		all = append(all, typeset.Capital(side.Name)+": "+words)
	}
	return strings.Join(all, " ")
}

// placeOf is an observer's name without how it sits, by rule.
func placeOf(name string, named bool) string {
	if place, _, ok := strings.Cut(name, ", "); ok && !named {
		return place
	}
	return name
}
