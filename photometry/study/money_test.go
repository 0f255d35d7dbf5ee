package study_test

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry/levels"
	"lampswap/photometry/lifecycle"
	"lampswap/photometry/lighting"
	"lampswap/photometry/study"
	"lampswap/photometry/wording"
)

const priced = `[energy]
price_per_kwh = 0.11
demand_price_per_kw_month = 9.0
rebate = 100.0
installed_cost = 900.0
`

// The life-cycle measures are those of the plans that the ledger shows: arithmetic by hand.
func TestLifeCycle(t *testing.T) {
	r := run(t, "input_watts = 60.0", "input_watts = 45.0", upkeep, priced+"[life_cycle]\nyears = 10\ndiscount_rate = 0.05\nenergy_escalation = 0.01\n"+upkeep)
	l := r.LifeCycle
	require.NotNil(t, l)
	require.Len(t, l.Ways, 2)
	saving := 157.68 // 1,080 kWh at 0.11 and 0.36 kW at 9.00 in twelve months
	factor := lifecycle.EscalatedUPV(0.05, 0.01, 10)
	m := l.Ways[1].Measures
	assert.InEpsilon(t, saving*factor-800, m.NetSavings, 1e-9)
	assert.InEpsilon(t, saving*factor/800, m.SIR, 1e-9)
	assert.InEpsilon(t, l.Ways[0].Cost.Total-l.Ways[1].Cost.Total, m.NetSavings, 1e-9)
	assert.Nil(t, l.Ways[0].Measures)
	assert.Nil(t, run(t).LifeCycle, "without a price")
	assert.Nil(t, run(t, upkeep, "[energy]\nprice_per_kwh = 0.1\n"+upkeep).LifeCycle, "without a cost of installing")
}

// swapOf12000 saves 12,000 kWh a year: 24 luminaires draw 125 W less for 4,000 h.
func swapOf12000(money string) []string {
	return []string{"input_watts = 60.0\n[proposed]", "input_watts = 200.0\n[proposed]", "input_watts = 60.0", "input_watts = 75.0", "hours_per_year = 3000.0", "hours_per_year = 4000.0",
		upkeep, money + upkeep}
}

// Rebates by hand: 12,000 kWh at 0.08 are 960, which half of 8,000 does not cap.
func TestRebates(t *testing.T) {
	const lines = "[costs]\nlines = [[\"material\", 5000], [\"labor\", 2600], [\"disposal\", 400]]\n"
	r := run(t, swapOf12000("[energy]\nprice_per_kwh = 0.1\nrebate = 40\n"+lines+`[[rebates]]
per = "kwh"
amount = 0.08
at_most_share_of_cost = 0.5
[[rebates]]
per = "kw"
amount = 100
at_most = 250
[[rebates]]
per = "kw"
amount = 100
at_most_share_of_cost = 0.01
at_most = 250
[[rebates]]
per = "lamp"
amount = 1
[[rebates]]
per = "luminaire"
amount = 3
`)...)
	paid := r.Energy.Rebates
	require.Len(t, paid, 5)
	assert.InEpsilon(t, 12000.0, paid[0].Units, rounding)
	assert.InEpsilon(t, 960.0, paid[0].Paid, rounding)
	assert.Equal(t, paid[0].Uncapped, paid[0].Paid)
	assert.InEpsilon(t, 300.0, paid[1].Uncapped, rounding, "3 kW")
	assert.Equal(t, 250.0, paid[1].Paid)
	assert.Equal(t, 80.0, paid[2].Paid, "of two limits the lesser")
	assert.Zero(t, paid[3].Paid, "the lamps stay")
	assert.Equal(t, 72.0, paid[4].Paid, "24 luminaires draw less, so something of each is changed")
	assert.InEpsilon(t, 8000-40-960-250-80-72, *r.Energy.NetCost, rounding)
	assert.InEpsilon(t, (8000-40-960-250-80-72)/1200.0, *r.Energy.SimplePaybackYears, rounding)
	assert.InEpsilon(t, *r.Energy.NetCost, r.LifeCycle.Ways[1].Cost.Investment, rounding)

	lamps := run(t, append(swapOf12000("[energy]\ninstalled_cost = 8000\n[[rebates]]\nper = \"lamp\"\namount = 1\n"), "lamp_lumens = 2000.0", "lamp_lumens = 2100.0")...).Energy
	assert.Equal(t, 48.0, lamps.Rebates[0].Paid)
	const each = "[energy]\ninstalled_cost = 10\n[[rebates]]\nper = \"luminaire\"\namount = 3\n[[rebates]]\nper = \"kwh\"\namount = 3\n[[rebates]]\nper = \"kw\"\namount = 3\n"
	for _, more := range []string{"60.0", "61.0"} { // all stays; it draws more
		worse := run(t, "input_watts = 60.0", "input_watts = "+more, upkeep, each+upkeep)
		assert.Zero(t, worse.Energy.Rebates[1].Paid+worse.Energy.Rebates[2].Paid)
		assert.Equal(t, more == "61.0", worse.Energy.Rebates[0].Paid == 72, more)
		assert.Equal(t, more == "61.0", strings.Contains(strings.Join(wording.Warnings(worse), "\n"), "proposed: the rebate of 72 is more than the 10 that it costs"))
	}
	assert.Contains(t, wording.Warnings(run(t, upkeep, strings.Replace(each, "installed_cost = 10\n", "", 1)+upkeep)),
		"rebates: what the swap costs is not given, so that they are taken from nothing: give costs.lines or energy.installed_cost")
}

// What cooler lights spare the cooling counts with the saving alone: 12,000 kWh at 0.10 are 13,200. The existing system costs what it cost.
func TestHeatingAndCooling(t *testing.T) {
	const money = "[energy]\nprice_per_kwh = 0.1\ndemand_price_per_kw_month = 2\ninstalled_cost = 8000\nco2_kg_per_kwh = 0.5\nco2_rate = \"x\"\n%s[[rebates]]\nper = \"kwh\"\namount = 0.1\n"
	plain := run(t, swapOf12000(strings.Replace(money, "%s", "", 1))...)
	r := run(t, swapOf12000(strings.Replace(money, "%s", "heating_cooling_factor = 0.1\n", 1))...)
	e := r.Energy
	assert.InEpsilon(t, 13200.0, e.SavedKWhPerYear, rounding)
	assert.InEpsilon(t, 12000.0, e.LightsSavedKWhPerYear, rounding)
	assert.InEpsilon(t, 1320.0, *e.EnergySavingPerYear, rounding)
	assert.Equal(t, plain.Energy.DemandSavingPerYear, e.DemandSavingPerYear)
	assert.InEpsilon(t, 1320.0, e.Rebates[0].Paid, rounding)
	assert.InEpsilon(t, 6600.0, e.Emissions[0].SavedKgPerYear, rounding)
	assert.Equal(t, []float64{plain.Energy.ExistingKWhPerYear, plain.Energy.ProposedKWhPerYear}, []float64{e.ExistingKWhPerYear, e.ProposedKWhPerYear})
	before, after := plain.LifeCycle.Ways, r.LifeCycle.Ways
	assert.Equal(t, before[0].Cost, after[0].Cost)
	assert.InEpsilon(t, before[1].Plan.EnergyPerYear-120, after[1].Plan.EnergyPerYear, rounding)
	assert.InEpsilon(t, (8000-1320)/(1320+72.0), after[1].SimplePaybackYears, rounding)
	assert.InEpsilon(t, *e.SimplePaybackYears, after[1].SimplePaybackYears, rounding, "one payback")
	assert.Contains(t, wording.Warnings(r), "the saving in kWh is that of the lights, 12,000 a year, times 1.1 for what the building's cooling and heating save besides: "+
		"heating_cooling_factor is the job's own figure, which its plant and climate must bear out")
	cold := run(t, swapOf12000(strings.Replace(money, "%s", "heating_cooling_factor = -0.1\n", 1))...)
	assert.False(t, math.Signbit(cold.Energy.Accounts[0].Spared), "what changes nothing spares 0, not -0")
}

const costs = "[proposed.costs]\nlamp_price = 2\nlamp_labor = 3\nlamp_disposal = 1\ncleaning = 5\nballast_cost = 60\nballast_life_hours = 60000\nother_per_year = 7\n"

// Upkeep by hand: 24 luminaires of two lamps, 3,000 h a year, cleaned every year.
func TestUpkeepCosts(t *testing.T) {
	group := []string{"input_watts = 60.0", "input_watts = 45.0", "ballast_factor = 0.9", grouped, upkeep, costs + priced + upkeep, "clean_months = 12.0", "clean_months = 12.0\nrelamp_hours = 12000"}
	r := run(t, group...)
	a := r.Energy.Accounts[1]
	early := 1 + math.Erfc(2.5/math.Sqrt2)/2 // fail before 12,000 h of 24,000, lives spread by 20 percent: 2.5 standard deviations
	assert.InEpsilon(t, early*48*3000.0/12000, a.LampsReplaced, 1e-6, "but for second failures")
	assert.InEpsilon(t, early*12*6.0, a.Lamps, 1e-6, "price, work and disposal")
	assert.InEpsilon(t, 24*60*3000.0/60000, a.Ballasts, rounding)
	assert.InEpsilon(t, 24*5.0, a.Cleaning, rounding)
	assert.Equal(t, 7.0, a.Other)
	assert.InEpsilon(t, early*72+72+120+7.0, a.Upkeep(), 1e-6)
	assert.Nil(t, r.Energy.UpkeepSavingPerYear, "only one side gives its costs")
	assert.Contains(t, wording.Warnings(r), "what upkeep costs is not given for existing ([existing.costs]): it is left out of the saving and of the life-cycle costs")
	assert.Zero(t, r.LifeCycle.Ways[1].Plan.MaintenancePerYear)
	assert.InEpsilon(t, *r.Energy.SimplePaybackYears, r.LifeCycle.Ways[1].SimplePaybackYears, rounding, "one payback")

	both := run(t, append(group, "[proposed]\n", strings.Replace(costs, "proposed", "existing", 1)+"[proposed]\n")...)
	require.NotNil(t, both.Energy.UpkeepSavingPerYear)
	assert.InEpsilon(t, *both.Energy.SimplePaybackYears, both.LifeCycle.Ways[1].SimplePaybackYears, rounding, "one payback")
	plan := both.LifeCycle.Ways[1].Plan
	require.NotEmpty(t, plan.Replacements)
	assert.Equal(t, 4, plan.Replacements[0].Year, "a group burns 12,000 h in four years")
	assert.InEpsilon(t, 48*6.0, plan.Replacements[0].Amount, rounding)
	assert.InEpsilon(t, (early-1)*72+72+120+7.0, plan.MaintenancePerYear, 1e-6, "what fails early, ballasts, cleaning, other")
	spot := run(t, "ballast_factor = 0.9", grouped, upkeep, costs+priced+upkeep)
	assert.InEpsilon(t, 48*3000.0/24000, spot.Energy.Accounts[1].LampsReplaced, rounding, "at the rated life of the lamp, 24,000 h")
	assert.Empty(t, spot.LifeCycle.Ways[1].Plan.Replacements)
	unknown := run(t, upkeep, costs+priced+upkeep)
	assert.Contains(t, wording.Warnings(unknown), "proposed: the lamps' life is not known, so their replacement is not priced: name a lamp of the list or give upkeep.relamp_hours")
}

// A replacement is a third system, judged and priced as the others are.
func TestReplacement(t *testing.T) {
	const third = "[replacement]\nphotometry = \"diffuse.ies\"\nlamps = 2\nlamp_lumens = 4000.0\nballast_factor = 0.9\ninput_watts = 50.0\n[replacement.costs]\ninstalled_cost = 5000\n"
	r := run(t, upkeep, third+priced+"[[criteria]]\nname = \"bright\"\nat_least = 150\n"+upkeep)
	require.True(t, r.ThreeWays())
	assert.InEpsilon(t, 2*r.Proposed().Grids[0].Statistics.Average, r.Sides[2].Grids[0].Statistics.Average, single, "twice the lumens")
	v := r.Verdicts[0]
	assert.Equal(t, []bool{false, false, true}, []bool{v.By[0].Met, v.Proposed().Met, v.By[2].Met}, "%v", v)
	require.Len(t, r.LifeCycle.Ways, 3)
	assert.Equal(t, "replacement", r.LifeCycle.Ways[2].Name)
	assert.Equal(t, 5000.0, r.LifeCycle.Ways[2].Cost.Investment)
	assert.Len(t, r.Years, 3)
	assert.False(t, run(t).ThreeWays())
}

// On emergency power the path has the light of the luminaires that stay lit, at their share, and no other.
func TestEgress(t *testing.T) {
	const way = "[[grids]]\nname = \"way\"\narea = [0.0, 5.0, 24.0, 7.0]\nheight = 0.0\n"
	const all = "luminaires = [1,2,3,4,5,6,7,8,9,10,11,12,13,14,15,16,17,18,19,20,21,22,23,24]\n"
	r := run(t, upkeep, way+"[egress]\ngrid = \"way\"\n"+all+upkeep)
	normal, emergency := r.Proposed().Grids[1], r.Proposed().Grids[2]
	assert.True(t, emergency.Emergency)
	assert.Equal(t, "way, on emergency power", emergency.Name)
	assert.Equal(t, normal.Maintained, emergency.Maintained, "all are lit")
	half := run(t, upkeep, way+"[egress]\ngrid = \"way\"\nlight_share = 0.5\n"+all+upkeep)
	assert.InEpsilon(t, emergency.Statistics.Average/2, half.Proposed().Grids[2].Statistics.Average, single)
	require.Len(t, r.Verdicts, 3, "average, minimum, maximum over minimum")
	assert.Equal(t, emergency.Statistics.MaximumToMinimum, r.Verdicts[2].Proposed().Value)

	for _, first := range []int{1, 5, 12, 23} { // parts that are lit add up to the whole
		parts := [2]string{"luminaires = [1", "luminaires = [24"}
		for i := 2; i < 24; i++ {
			parts[min(1, max(0, i-first))] += sprintf(", %s", float64(i))
		}
		sum := 0.0
		for _, part := range parts {
			sum += run(t, upkeep, way+"[egress]\ngrid = \"way\"\n"+part+"]\n"+upkeep).Proposed().Grids[2].Statistics.Average
		}
		assert.InEpsilon(t, emergency.Statistics.Average, sum, 2*single, "%d", first)
	}
}

// Packs light the path each by its own lumens; in groups the path has the light of all of them. What failed is dark then too.
func TestEgressByPacks(t *testing.T) {
	const way = "[[grids]]\nname = \"way\"\narea = [0.0, 0.0, 24.0, 12.0]\nheight = 0.0\n[egress]\ngrid = \"way\"\n"
	path := func(r *study.Result, s lighting.System) float64 {
		return s.Grids[len(r.Job.Grids)+1].Statistics.Average
	}
	of := func(text string) float64 {
		r := run(t, upkeep, way+text+upkeep)
		return path(r, *r.Proposed().System)
	}
	one, other := of("luminaires = [1]\n"), of("luminaires = [9]\n")
	assert.InEpsilon(t, one*600/(2*2000*0.9)+other*300/(2*2000*0.9), of("packs = [[9, 300], [1, 600]]\n"), single)
	assert.InEpsilon(t, one*0.2+other*300/(2*2000*0.9), of("luminaires = [1]\nlight_share = 0.2\npacks = [[9, 300]]\n"), single)

	in := func(text string) (existing, proposed float64) {
		r := groups(t, text, upkeep, way+upkeep)
		return path(r, *r.Existing().System), path(r, *r.Proposed().System)
	}
	const west, east = "egress = { luminaires = [1, 2] }\n", "egress = { packs = [[3, 500]] }\n"
	before, after := in(dock + west + shop + east)
	westBefore, westAfter := in(dock + west + shop)
	eastBefore, _ := in(dock + shop + east)
	assert.InEpsilon(t, westBefore+eastBefore, before, single)
	assert.InEpsilon(t, westAfter, after, single, "the shop is taken down")
	lit, _ := in(dock + "egress = { luminaires = [1] }\n" + shop)
	assert.InEpsilon(t, lit, westBefore, rounding, "the second failed")
	r := groups(t, dock+west+shop+east, upkeep, way+upkeep)
	assert.Equal(t, []string{`existing, on the path out "way": dock: 2 of 12 at 100 percent of their normal light, 1 of these failed, and count as dark on emergency power too; ` +
		`shop: 1 of 4 by packs of 500 lm, of the 5,040 lm that the lamps of each give: a share of 0.099`,
		`proposed, on the path out "way": dock: 2 of 12 at 100 percent of their normal light`}, wording.Egress(r))
	assert.Empty(t, wording.Egress(groups(t, dock)))
}

// A limit of power density is judged in W/ft2, and a swap that is bright enough but draws too much is said to be so.
func TestPowerDensity(t *testing.T) {
	r := run(t, upkeep, "[[criteria]]\nname = \"dim\"\nat_least = 1\n[[criteria]]\nenergy_code = \"90.1-2016\"\nspace = \"Warehouse\"\n"+upkeep)
	v := r.Verdicts[1]
	assert.InEpsilon(t, 24*60/(24.0*12), v.Proposed().Value, rounding, "5 W/m2")
	assert.True(t, v.Proposed().Met, "5 W/m2 is 0.4645 W/ft2; ASHRAE 90.1-2016 allows 0.48")
	assert.True(t, r.Met())
	tight := run(t, upkeep, "[[criteria]]\nname = \"dim\"\nat_least = 1\n[[criteria]]\nenergy_code = \"90.1-2019\"\nspace = \"Warehouse\"\n"+upkeep)
	assert.False(t, tight.Met())
	assert.Contains(t, wording.Verdict(tight), "is enough: it meets every criterion of light; but it draws MORE than")
	assert.Contains(t, wording.Verdict(tight), "(at most 4.84 W/m2 required, 5.00 W/m2 reached)", "0.45 W/ft2 is 4.84 W/m2")
	assert.Empty(t, tight.PowerLimits(), "the job names one limit, and does not say what the room is")
	assert.Equal(t, levels.WholeRoom, v.Grid)
}

// What the state's own text says of lamps and levels turns up where the job touches it.
func TestStateRules(t *testing.T) {
	in := func(state, lamp, space string) (warnings, cautions, binding []string) {
		r := run(t, "title = \"bay\"", "title = \"bay\"\nstate = \""+state+"\"\ndate = 2026-06-01", "ballast_factor = 0.9", lamp+"\nballast_factor = 0.9",
			"[room]", "[room]\nspace = \""+space+"\"")
		return wording.Warnings(r), wording.Cautions(r), wording.Binding(r)
	}
	warnings, cautions, binding := in("CA", "lamp = \"F32T8/800\"", "warehouse-bulky")
	assert.True(t, says(warnings, "buys a lamp that may be impossible to replace there: CA, in force since 1 January 2025"))
	assert.True(t, says(cautions, "CA, in force since 1 January 2025"))
	assert.True(t, says(binding, "California: Warehouses and loading areas: 1 fc"))
	assert.True(t, says(binding, "In this job's unit: minimum at least 10.8 lx (1 fc as published)"))
	assert.True(t, says(binding, "No federal rule sets a light level for an operating warehouse"))
	warnings, _, binding = in("OH", "lamp = \"F32T8/800\"", "warehouse-fine")
	assert.False(t, says(warnings, "impossible to replace"))
	assert.True(t, says(binding, "Ohio: no rule of the state's own is known here"))
	warnings, cautions, binding = in("CA", "lamp = \"LED-T8-4FT-18W-B\"", "office-open")
	assert.False(t, says(warnings, "impossible to replace"))
	assert.False(t, says(cautions, "CA, in force"))
	assert.False(t, says(binding, "arehouse"), "an office is none")
	assert.True(t, says(binding, "California: its rules go by the kind of space, and none of those listed is known to be about this one"))
	_, _, binding = in("WA", "lamp = \"LED-T8-4FT-18W-B\"", "office-open")
	assert.True(t, says(binding, "Washington: Indoor task areas: 10 fc on average"), "it is about every workplace")
}

// The saving spares what the rate says, and the rate is named; a state's own rate goes before the country's.
func TestEmissions(t *testing.T) {
	saves := []string{"input_watts = 60.0", "input_watts = 45.0"}
	e := run(t, append(saves, upkeep, "[energy]\nco2_kg_per_kwh = 0.5\nco2_rate = \"marginal\"\n"+upkeep)...).Energy.Emissions
	require.Len(t, e, 1)
	assert.InEpsilon(t, 540.0, e[0].SavedKgPerYear, rounding, "1,080 kWh at 0.5 kg")
	assert.Empty(t, run(t, saves...).Energy.Emissions, "in meters and of no state: no rate of the United States")
	e = run(t, append(saves, "title = \"bay\"", "title = \"bay\"\nstate = \"VT\"")...).Energy.Emissions
	require.NotEmpty(t, e)
	e = run(t, append(saves, "title = \"bay\"", "title = \"bay\"\nstate = \"AZ\"")...).Energy.Emissions
	require.Len(t, e, 2)
	assert.Contains(t, e[0].Rate, "non-baseload")
	assert.Contains(t, e[1].Rate, "Arizona, total output, 2023")
}

// Shifts and a peak with a price of its own, by hand: 3 kW less in 2,080 h, a quarter of them at 0.30 and the rest at 0.10.
func TestPeakPrice(t *testing.T) {
	text := swapOf12000("[[shifts]]\ndays = \"mon-fri\"\nfrom = \"06:00\"\nto = \"14:00\"\n[energy]\nprice_per_kwh = 0.1\npeak_price_per_kwh = 0.3\npeak_from = \"12:00\"\npeak_to = \"18:00\"\n")
	text[5] = ""
	r := run(t, text...)
	assert.InEpsilon(t, 6240.0, r.Energy.SavedKWhPerYear, rounding)
	assert.InEpsilon(t, 6240*(0.75*0.1+0.25*0.3), *r.Energy.EnergySavingPerYear, rounding)
	assert.InEpsilon(t, r.Energy.ExistingKWhPerYear/4, r.Energy.Accounts[0].PeakKWhPerYear, rounding)
	assert.Zero(t, run(t, swapOf12000("")...).Energy.Accounts[0].PeakKWhPerYear)
}

// A saving next to nothing repays nothing: the years of it are no number.
func TestPaybackOfNextToNothing(t *testing.T) {
	r := run(t, swapOf12000("[energy]\nprice_per_kwh = 1e-306\ninstalled_cost = 1e9\n")...)
	assert.Nil(t, r.Energy.SimplePaybackYears)
	assert.True(t, math.IsNaN(r.LifeCycle.Ways[1].SimplePaybackYears))
}
