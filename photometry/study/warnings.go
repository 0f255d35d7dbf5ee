package study

import (
	"fmt"
	"math"
	"strings"

	"lampswap/photometry"
	"lampswap/photometry/currency"
	"lampswap/photometry/job"
	"lampswap/photometry/lighting"
	"lampswap/photometry/losses"
)

// warnings tells what a reader must know before trusting the numbers.
func warnings(r *Result) []string {
	var all []string
	for _, side := range r.Sides() { // first, as all that follows rests on it
		if w := side.ImbalanceWarning(); w != "" {
			all = append(all, side.Name+": "+w)
		}
	}
	light, money := r.Slips()
	for _, slip := range append(light, money...) {
		all = append(all, "a slip, perhaps: "+slip)
	}
	all = append(all, r.Job.Warnings...)
	for _, side := range r.Sides() {
		for _, w := range append([]string{spacingWarning(side.LumenMethod), r.methodsWarning(side.System), colorWarning(side)}, append(r.fitWarnings(side), r.glareWarnings(side)...)...) {
			if w != "" {
				all = append(all, side.Name+": "+w)
			}
		}
		for _, kind := range side.Kinds() {
			for _, w := range kindWarnings(r, kind.From) {
				all = append(all, kind.Name+": "+w)
			}
		}
	}
	all = append(all, hiddenPoints(r)...)
	all = append(all, moneyWarnings(r)...)
	all = append(all, supplyWarnings(r)...)
	all = append(all, r.alterationWords()...)
	return append(all, caveats(r)...)
}

// hiddenPoints tells which grids are partly inside racks, but for the work plane, which always is.
func hiddenPoints(r *Result) []string {
	var all []string
	for _, g := range r.Existing.Grids[1:] {
		hidden := 0
		for _, v := range g.Maintained {
			if math.IsNaN(v) {
				hidden++
			}
		}
		if hidden > 0 && !g.Emergency {
			where := "inside racks"
			if r.Job.Room.Outline != nil {
				where += " or outside the room"
			}
			all = append(all, fmt.Sprintf("%s: %d of %d points lie %s and are left out", g.Name, hidden, len(g.Maintained), where))
		}
	}
	return all
}

// caveats tells what goes with the criteria, those that share it together.
func caveats(r *Result) []string {
	var all []string
	for i := 0; i < len(r.Verdicts); {
		names, caveat := r.Verdicts[i].Name, r.Verdicts[i].Caveat
		for i++; i < len(r.Verdicts) && r.Verdicts[i].Caveat == caveat; i++ {
			if r.Verdicts[i].Name != r.Verdicts[i-1].Name {
				names += "; " + r.Verdicts[i].Name
			}
		}
		if caveat != "" {
			all = append(all, names+": "+caveat)
		}
	}
	return all
}

// kindWarnings are those of luminaires of one kind.
func kindWarnings(r *Result, from *job.System) []string {
	var all []string
	add := func(text string) {
		if text != "" {
			all = append(all, text)
		}
	}
	air := lighting.Temperature(r.Job, from)
	if from.Losses.Temperature == nil && from.Losses.Total == nil {
		all = append(all, air.Light...)
	}
	all = append(all, air.Starting...) // a factor that the job gives does not start a lamp
	if from.Lamp != nil {
		add(ageWarning(lighting.LampAge(r.Job, from), from))
		add(losses.RelampWarning(from.Care.RelampHours, from.RatedLifeHours(), from.Lamp.L70, from.Losses.LampBurnout != nil || from.Losses.Total != nil))
		if from.Lamp.FromMemory() && from.LampLumens == from.Lamp.InitialLumens {
			add(fmt.Sprintf("the lumens of %s, or what they lose, are from memory in part, unverified: take them from the lamp's data sheet", from.Lamp.Name))
		}
		if r.Job.InUnitedStates() {
			add(ceilingWarning(from))
		}
	}
	if from.Lamp != nil && from.Lamp.LED && from.Lamp.BeamDeg == 0 && from.SuggestedCategory != "" {
		add(from.Lamp.Name + ": the angle into which the tube sends its light is not known; the fixture was computed as if it were all round")
	}
	if from.Ballast != nil && from.Ballast.FromMemory() {
		add(fmt.Sprintf("watts and ballast factor of %s are from memory, unverified: take them from the ballast's label", from.Ballast.Name))
	}
	return all
}

// ageWarning tells that a system is judged at an age which its lamps don't reach, or not all at once.
func ageWarning(age losses.Age, from *job.System) string {
	interval, life := from.Care.RelampHours, from.RatedLifeHours()
	const rounding = 1 + 1e-9
	switch {
	case interval > 0 && age.Hours > interval*rounding:
		return fmt.Sprintf("its light is judged with lamps %s h old, but all are replaced after %s h: it is never so dark for the lamps' age",
			photometry.Thousands(age.Hours), photometry.Thousands(interval))
	case interval == 0 && life > 0 && age.Hours > life*rounding:
		return fmt.Sprintf("its light is judged with lamps %s h old, beyond their life of %s h: most are replaced before", photometry.Thousands(age.Hours), photometry.Thousands(life))
	case interval == 0 && life > 0 && age.OfLife == 1 && !from.Lamp.L70:
		return fmt.Sprintf("its light is judged with all lamps at the end of their life of %s h, but each is replaced as it fails: the average of them is younger and brighter",
			photometry.Thousands(life))
	}
	return ""
}

// spacingWarning compares the spacing over the height above the work plane with the criterion, along and across the lamps.
func spacingWarning(m lighting.LumenMethod) string {
	over := func(spacing, criterion float64) bool { return spacing > criterion*(1+1e-9) } // false for NaN
	along, across := over(m.SpacingToHeightAlong, m.SpacingCriterionAlong), over(m.SpacingToHeightAcross, m.SpacingCriterionAcross)
	direction, spacing, criterion := "along", m.SpacingToHeightAlong, m.SpacingCriterionAlong
	switch {
	case along && across:
		return fmt.Sprintf("spacing exceeds the spacing criterion along (%.2f over %.2f) and across the lamps (%.2f over %.2f): expect dark places between luminaires",
			spacing, criterion, m.SpacingToHeightAcross, m.SpacingCriterionAcross)
	case across:
		direction, spacing, criterion = "across", m.SpacingToHeightAcross, m.SpacingCriterionAcross
	case !along:
		return ""
	}
	return fmt.Sprintf("spacing %s the lamps, %.2f times the height above the work plane, exceeds the spacing criterion %.2f: expect dark places between luminaires",
		direction, spacing, criterion)
}

// tabledRatio is the highest room cavity ratio of published tables of coefficients of utilization, which the zonal multipliers serve.
const tabledRatio = 10

// methodsWarning says why the two methods may differ where they do.
func (r *Result) methodsWarning(s *lighting.System) string {
	if len(r.Job.Racks) > 0 {
		return "the lumen method does not see racks: its average is that of the empty room"
	}
	lumen, point := averages(s)
	if confirm(lumen, point) {
		return ""
	}
	why := "the lumen method takes luminaires as evenly spread, and its zonal multipliers are a fit"
	if ratio := s.LumenMethod.RoomCavityRatio; ratio > tabledRatio {
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

// ceilingWarning tells of watts that federal law has not allowed for new ballasts since its floors came.
func ceilingWarning(from *job.System) string {
	watts, source, ok := from.LegalCeiling()
	if !ok || from.InputWatts <= watts*(1+1e-3) {
		return ""
	}
	return fmt.Sprintf("%.0f W a luminaire is more than the %.0f W that the federal floor of ballast efficacy leaves (%s): such a ballast is older or exempt; check before booking the saving",
		from.InputWatts, watts, source)
}

// moneyWarnings tells which costs are left out of the comparison.
func moneyWarnings(r *Result) []string {
	var all, unknown []string
	amount := func(x float64) string { return currency.Amount(r.Job.Currency, x) }
	for i, side := range r.Sides() {
		a := r.Energy.Accounts[i]
		if a.lampsUnknown {
			all = append(all, side.Name+": the lamps' life is not known, so their replacement is not priced: name a lamp of the list or give upkeep.relamp_hours")
		}
		if cost := side.From.Costs.InstalledCost; cost != nil && *a.NetCost < 0 {
			all = append(all, fmt.Sprintf("%s: the rebate of %s is more than the %s that it costs, so that the investment is below 0 (%s): rebates are seldom more than the cost",
				side.Name, amount(*cost-*a.NetCost), amount(*cost), amount(*a.NetCost)))
		}
		if !a.upkeepKnown {
			unknown = append(unknown, side.Name)
		}
	}
	if f := r.Energy.HeatingCooling; f != 0 {
		all = append(all, fmt.Sprintf("the saving in kWh is that of the lights, %s a year, times %.4g for what the building's cooling and heating save besides: "+
			"heating_cooling_factor is the job's own figure, which its plant and climate must bear out", photometry.Thousands(r.Energy.LightsSavedKWhPerYear), 1+f))
	}
	if rebates := r.Job.Proposed.Costs.Rebates; len(rebates) > 0 && r.Energy.NetCost == nil {
		all = append(all, "rebates: what the swap costs is not given, so that they are taken from nothing: give costs.lines or energy.installed_cost")
	}
	switch {
	case len(unknown) == 0 || len(unknown) == len(r.Energy.Accounts):
	case r.Energy.UpkeepSavingPerYear == nil:
		all = append(all, "what upkeep costs is not given for "+strings.Join(unknown, " and ")+" (["+unknown[0]+".costs]): it is left out of the saving and of the life-cycle costs")
	default:
		all = append(all, "what upkeep costs is not given for "+strings.Join(unknown, " and ")+" (["+unknown[0]+".costs]): its life-cycle cost is not compared")
	}
	return all
}
