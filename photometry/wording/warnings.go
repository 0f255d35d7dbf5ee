package wording

import (
	"fmt"
	"math"
	"strings"

	"lampswap/photometry"
	"lampswap/photometry/currency"
	"lampswap/photometry/glare"
	"lampswap/photometry/job"
	"lampswap/photometry/lighting"
	"lampswap/photometry/number"
	"lampswap/photometry/study"
)

// Warnings are those of a result, in words.
func Warnings(r *study.Result) []string { return texts(warnings(r)) }

func warnings(r *study.Result) []said {
	var all []said
	for _, w := range r.Warnings {
		of := w.Side.Name
		if slip(r, w) != "" {
			of = "" // which is told within
		}
		all = append(all, said{w.Code, of, warning(r, w)})
	}
	return all
}

// slip says what is more likely a slip than a fact.
func slip(r *study.Result, w study.Warning) string {
	digits := number.Digits
	switch w.Code { //nolint:exhaustive // what is no slip is a warning below
	case study.MuchLight:
		what := "LED"
		if l := w.Side.From.Lamp; l != nil && !l.LED {
			what = "fluorescent lamps"
		}
		return fmt.Sprintf("%s, more than %s give (%.0f): the watts are those of one luminaire with all its lamps, the lumens those of one lamp",
			efficacy(w), what, study.MostEfficacy(w.Side.From))
	case study.LittleLight:
		return efficacy(w) + ", less than such lamps give: the watts are those of one luminaire, not of all"
	case study.MuchLoad:
		load := digits(w.Value) + " W/m2"
		if r.Job.Imperial {
			load = digits(w.Value*photometry.Foot*photometry.Foot) + " W/ft2"
		}
		return fmt.Sprintf("existing: %s of luminaires, several times what a room is lit with: look at their number and at the size of the room", load)
	case study.FewHours:
		return fmt.Sprintf("the luminaires burn %s h a year: the hours are those of a year, not of a day or a week", digits(w.Value))
	case study.DearEnergy:
		return fmt.Sprintf("a kWh costs %s: in cents, perhaps", digits(w.Value))
	case study.DearDemand:
		return fmt.Sprintf("a kW of demand costs %s a month: that of a year, perhaps", digits(w.Value))
	case study.CheapSwap:
		return fmt.Sprintf("the swap costs %s for %d luminaires, %s each: the cost is that of all, not of one", digits(w.Value), w.Count, digits(w.Value/float64(w.Count)))
	}
	return ""
}

func efficacy(w study.Warning) string {
	from := w.Side.From
	return fmt.Sprintf("%s: %s lm of %s W are %.3g lm/W", w.Side.Name, number.Thousands(study.RatedLumens(from)), number.Digits(from.InputWatts), w.Value)
}

// warning is one warning, without the side that it is about.
func warning(r *study.Result, w study.Warning) string {
	amount := func(x float64) string { return currency.Amount(r.Job.Currency, x) }
	names, from := strings.Join(w.Names, "; "), w.Side.From
	switch w.Code {
	case study.MuchLight, study.LittleLight, study.MuchLoad, study.FewHours, study.DearEnergy, study.DearDemand, study.CheapSwap:
		return "a slip, perhaps: " + slip(r, w)
	case study.Imbalance:
		return lighting.FluxWords(w.Side.Balance.Emitted, w.Side.Balance.Absorbed) + ": all light may be that far off"
	case study.WideSpacing:
		return spacing(w.Side.LumenMethod)
	case study.RacksUnseen:
		return "the lumen method does not see racks: its average is that of the empty room"
	case study.MethodsApart:
		return methodsApart(r, w.Side)
	case study.ColorsDiffer:
		return "lamps of several colors light one room: " + colorsDiffer(w.Side)
	case study.ThroughWall:
		return fmt.Sprintf("%s through a wall, by up to %s: check the positions and lamps_along", reach(w.Count), distance(r.Job, w.Value))
	case study.IntoBox:
		return fmt.Sprintf("%s into a box that hangs, by up to %s: check the positions, lamps_along and the box", reach(w.Count), distance(r.Job, w.Value))
	case study.Overlap:
		return fmt.Sprintf("luminaires %s reach into one another: check rows, columns or positions, and lamps_along", strings.Join(w.Names, " and "))
	case study.NoRating:
		_, why := w.Side.Glare()
		return "UGR: " + string(why)
	case study.UntriedSizes:
		return untriedSizes(w.Side.Worst())
	case study.Age:
		return age(r.Job, from)
	case study.LumensUnverified:
		return fmt.Sprintf("the lumens of %s, or what they lose, are from memory in part, unverified: take them from the lamp's data sheet", from.Lamp.Name)
	case study.WattsUnverified:
		return fmt.Sprintf("watts and ballast factor of %s are from memory, unverified: take them from the ballast's label", from.Ballast.Name)
	case study.AboveCeiling:
		watts, source, _ := from.LegalCeiling()
		return fmt.Sprintf("%.0f W a luminaire is more than the %.0f W that the federal floor of ballast efficacy leaves (%s): such a ballast is older or exempt; "+
			"check before booking the saving", from.InputWatts, watts, source)
	case study.BeamUnknown:
		return from.Lamp.Name + ": the angle into which the tube sends its light is not known; the fixture was computed as if it were all round"
	case study.HiddenPoints:
		where := "inside racks"
		if r.Job.Room.Outline != nil {
			where += " or outside the room"
		}
		return fmt.Sprintf("%s: %d of %d points lie %s and are left out", names, w.Count, w.Of, where)
	case study.LampLifeUnknown:
		return "the lamps' life is not known, so their replacement is not priced: name a lamp of the list or give upkeep.relamp_hours"
	case study.RebateAboveCost:
		cost := *from.Costs.InstalledCost
		return fmt.Sprintf("the rebate of %s is more than the %s that it costs, so that the investment is below 0 (%s): rebates are seldom more than the cost",
			amount(cost-w.Value), amount(cost), amount(w.Value))
	case study.HeatingCooling:
		return fmt.Sprintf("the saving in kWh is that of the lights, %s a year, times %.4g for what the building's cooling and heating save besides: "+
			"heating_cooling_factor is the job's own figure, which its plant and climate must bear out", number.Thousands(r.Energy.LightsSavedKWhPerYear), 1+r.Energy.HeatingCooling)
	case study.RebateOfNothing:
		return "rebates: what the swap costs is not given, so that they are taken from nothing: give costs.lines or energy.installed_cost"
	case study.UpkeepUnknown:
		left := "its life-cycle cost is not compared"
		if r.Energy.UpkeepSavingPerYear == nil {
			left = "it is left out of the saving and of the life-cycle costs"
		}
		return fmt.Sprintf("what upkeep costs is not given for %s ([%s.costs]): %s", strings.Join(w.Names, " and "), w.Names[0], left)
	case study.SaleBan:
		return "a swap to " + from.Lamp.Name + " buys a lamp that may be impossible to replace there: " + Notice(w.Ban, r.Job.Facts.Date)
	case study.Altered:
		return names + ": " + altered(w.Rule)
	case study.Caveat:
		return names + ": " + w.Text
	case study.LightUncounted, study.BeyondPoints, study.LightEstimated, study.Starting, study.MayStart:
		return Air(lighting.Temperature(r.Job, from), w.Air)
	case study.Relamping:
		return relamping(study.RelampingOf(from), from.Care.RelampHours, from.RatedLifeHours())
	case study.OfJob, study.Simulated:
	}
	return w.Text
}

// age says why a system is judged at an age which its lamps don't reach, or not all at once.
func age(j *job.Job, from *job.System) string {
	hours, life := number.Thousands(lighting.LampAge(j, from).Hours), number.Thousands(from.RatedLifeHours())
	switch study.AgeOf(j, from) {
	case study.BeyondRelamping:
		return fmt.Sprintf("its light is judged with lamps %s h old, but all are replaced after %s h: it is never so dark for the lamps' age", hours,
			number.Thousands(from.Care.RelampHours))
	case study.BeyondLife:
		return fmt.Sprintf("its light is judged with lamps %s h old, beyond their life of %s h: most are replaced before", hours, life)
	case study.AllAtEnd, study.AgeReached:
	}
	return fmt.Sprintf("its light is judged with all lamps at the end of their life of %s h, but each is replaced as it fails: the average of them is younger and brighter", life)
}

// spacing compares the spacing over the height above the work plane with the criterion, along and across the lamps.
func spacing(m lighting.LumenMethod) string {
	along, across := m.TooWide()
	if along && across {
		return fmt.Sprintf("spacing exceeds the spacing criterion along (%.2f over %.2f) and across the lamps (%.2f over %.2f): expect dark places between luminaires",
			m.SpacingToHeightAlong, m.SpacingCriterionAlong, m.SpacingToHeightAcross, m.SpacingCriterionAcross)
	}
	direction, over, criterion := "along", m.SpacingToHeightAlong, m.SpacingCriterionAlong
	if across {
		direction, over, criterion = "across", m.SpacingToHeightAcross, m.SpacingCriterionAcross
	}
	return fmt.Sprintf("spacing %s the lamps, %.2f times the height above the work plane, exceeds the spacing criterion %.2f: expect dark places between luminaires",
		direction, over, criterion)
}

// tabledRatio is the highest room cavity ratio of published tables of coefficients of utilization, which the zonal multipliers serve.
const tabledRatio = 10

// methodsApart says why the two methods may differ where they do.
func methodsApart(r *study.Result, side lighting.Side) string {
	lumen, point := study.Averages(side.System)
	why := "the lumen method takes luminaires as evenly spread, and its zonal multipliers are a fit"
	if ratio := side.LumenMethod.RoomCavityRatio; ratio > tabledRatio {
		why = fmt.Sprintf("the room cavity ratio of %.1f is beyond %d, where published tables of the lumen method end", ratio, tabledRatio)
	}
	if !r.Job.Interreflection && point < lumen {
		why = "the point method leaves out the light that bounces (interreflection = false)"
	}
	if !(lumen > 0 && point > 0) {
		return fmt.Sprintf("the two methods differ, %s against %s: %s", r.Job.Light(point), r.Job.Light(lumen), why)
	}
	return fmt.Sprintf("the two methods differ by %.0f percent (%s against %s): %s", 100*math.Abs(point/lumen-1), r.Job.Light(point), r.Job.Light(lumen), why)
}

// colorsDiffer says how lamps of a system differ in color.
func colorsDiffer(side lighting.Side) string {
	temperatures, indices := study.Differing(side)
	var all, kelvin, index []string
	for _, l := range temperatures {
		kelvin = append(kelvin, fmt.Sprintf("%s %g K", l.Name, l.ColorTemperature))
	}
	for _, l := range indices {
		index = append(index, fmt.Sprintf("%s %g", l.Name, l.ColorRendering))
	}
	if kelvin != nil {
		all = append(all, "color temperatures differ ("+strings.Join(kelvin, ", ")+")")
	}
	if index != nil {
		all = append(all, "color rendering indices differ ("+strings.Join(index, ", ")+")")
	}
	return strings.Join(all, "; ")
}

// untriedSizes says how many luminaires are of sizes for which the glare rating is not tried.
func untriedSizes(worst *lighting.Seen) string {
	var all []string
	told := func(n int, size string, limit float64) {
		if n > 0 {
			all = append(all, fmt.Sprintf("%d of the %d luminaires that %q sees are %s %g sr", n, worst.Sources, worst.Name, size, limit))
		}
	}
	told(worst.Small, "below", glare.LeastSource)
	told(worst.Large, "above", glare.MostSource)
	return "UGR: " + strings.Join(all, " and ") + ", where the rating is not tried; they count all the same"
}

func reach(n int) string {
	if n == 1 {
		return "1 luminaire reaches"
	}
	return fmt.Sprintf("%d luminaires reach", n)
}

func distance(j *job.Job, meters float64) string {
	if j.Imperial {
		return fmt.Sprintf("%.1f ft", meters/photometry.Foot)
	}
	return fmt.Sprintf("%.1f m", meters)
}
