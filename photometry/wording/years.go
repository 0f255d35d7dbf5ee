package wording

import (
	"fmt"
	"math"
	"slices"

	"lampswap/photometry/losses"
	"lampswap/photometry/number"
	"lampswap/photometry/study"
)

// Years say what the light of the i-th side through the years takes for granted.
func Years(r *study.Result, i int) []string {
	var all []string
	side := r.Sides[i]
	if side.Outside != nil {
		all = append(all, Outside(side.Outside)+": its light is not known, at no time")
	}
	for k, c := range r.Years[i].Courses {
		for _, text := range course(c) {
			if side.Parts != nil {
				text = side.Kinds()[k].From.Group + ": " + text
			}
			if !slices.Contains(all, text) {
				all = append(all, text)
			}
		}
	}
	return all
}

// course says what the light of luminaires of one kind takes for granted.
func course(c losses.Course) []string {
	if c.TotalShareOverride > 0 {
		return []string{fmt.Sprintf("the total loss of %.3g is given: how it comes about over the years is not known, it is held constant",
			c.TotalShareOverride)}
	}
	w := c.Works()
	notes := []string{"day 0: all lamps new, all surfaces clean"}
	add := func(format string, args ...any) { notes = append(notes, fmt.Sprintf(format, args...)) }
	if c.LampShare > 0 {
		add("lamp lumen depreciation of %.3g is given or assumed: held constant", c.LampShare)
	} else if c.RatedLifeHours == 0 || !c.L70 && (c.InitialLumens == 0 || c.MeanLumens == 0) {
		add("how lamp lumens fall over the years is not known: %.3g is held constant", w.Lumens)
	}
	spread := fmt.Sprintf("lives spread normally about the rated life of %s h, standard deviation %g percent of it, assumed",
		number.Thousands(c.RatedLifeHours), 100*losses.LifeSpread)
	switch {
	case w.Singly:
		add("each lamp is replaced when it fails; %s", spread)
	case math.IsInf(w.Relamped, 1):
	case c.RelampHours == 0 || c.Replacement == losses.Spot && c.L70:
		add("tubes are replaced together at their L70 life of %s h, every %.3g years", number.Thousands(c.RatedLifeHours), w.Relamped)
	case w.Dark:
		add("lamps are replaced together every %s h, %.3g years; one that fails earlier stays dark until then; %s", number.Thousands(c.RelampHours), w.Relamped, spread)
	default:
		add("lamps are replaced together every %s h, %.3g years; one that fails earlier is replaced at once and counts as old as the rest",
			number.Thousands(c.RelampHours), w.Relamped)
	}
	if c.Replacement == losses.GroupOnly && !w.Dark && !w.Singly {
		add("no life is known by which lamps fail before they are replaced together: none is taken as dark")
	}
	if c.DirtShare > 0 {
		add("luminaire dirt depreciation of %.3g is given: held constant", c.DirtShare)
	}
	if c.RoomSurfaceShare > 0 {
		add("room surface dirt depreciation of %.3g is given: held constant", c.RoomSurfaceShare)
	}
	if !math.IsInf(w.Cleaned, 1) {
		add("luminaires and room surfaces are cleaned every %.3g months, after which no dirt is left", 12*c.CleanYears)
	}
	return notes
}
