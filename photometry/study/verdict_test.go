package study_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry"
	"lampswap/photometry/job"
	"lampswap/photometry/levels"
	"lampswap/photometry/lighting"
	"lampswap/photometry/losses"
	"lampswap/photometry/room"
	"lampswap/photometry/study"
	"lampswap/photometry/wording"
)

// judged is a result of which only the work plane's averages and the criteria matter, lx.
func judged(imperial bool, before, after float64, verdicts ...study.Verdict) *study.Result {
	system := func(average float64) lighting.System {
		return lighting.System{Grids: []lighting.Grid{{Statistics: room.Statistics{Average: average}}}}
	}
	r := study.Lit(&job.Job{Imperial: imperial}, system(before), system(after))
	r.Verdicts = verdicts
	return r
}

func atLeast(name string, required, reached float64) study.Verdict {
	c := levels.Criterion{Name: name, Required: required, Unit: levels.Lux, AtLeast: true}
	return study.Verdict{Criterion: c, By: []study.Reached{{}, {Value: reached, Met: c.Met(reached)}}}
}

func TestSentence(t *testing.T) {
	ratio := levels.Criterion{Name: "even", Statistic: levels.MaximumToMinimum, Required: 3, Unit: levels.Ratio}
	for name, c := range map[string]struct {
		result *study.Result
		met    bool
		want   string
	}{
		"no level": {judged(false, 300, 240), true,
			"The proposed lighting maintains 240 lx on the work plane, 20 percent less than the existing 300 lx (every lamp at 40 percent of its rated life); the job has no criteria, so nothing says whether that is enough."},
		"darker but enough": {judged(false, 300, 240, atLeast("level", 200, 240)), true,
			"The proposed lighting maintains 240 lx on the work plane, 20 percent less than the existing 300 lx (every lamp at 40 percent of its rated life): darker than before, but enough: it meets every criterion."},
		"brighter": {judged(false, 200, 250, atLeast("level", 200, 250)), true,
			"The proposed lighting maintains 250 lx on the work plane, 25 percent more than the existing 200 lx (every lamp at 40 percent of its rated life), and is enough: it meets every criterion."},
		"as much": {judged(false, 200, 199.5, atLeast("level", 100, 199.5)), true,
			"The proposed lighting maintains 200 lx on the work plane, as much as the existing 200 lx (every lamp at 40 percent of its rated life), and is enough: it meets every criterion."},
		"not enough": {judged(false, 200, 90, atLeast("level", 100, 90), atLeast("exit", 10, 90)), false,
			`The proposed lighting maintains 90.0 lx on the work plane, 55 percent less than the existing 200 lx (every lamp at 40 percent of its rated life), and is NOT enough: it misses "level" (at least 100 lx required, 90.0 lx reached).`},
		"brighter and not enough": {judged(false, 50, 90, atLeast("level", 100, 90), study.Verdict{Criterion: ratio, By: []study.Reached{{}, {Value: 4.2}}}), false,
			`The proposed lighting maintains 90.0 lx on the work plane, 80 percent more than the existing 50.0 lx (every lamp at 40 percent of its rated life), and is NOT enough: it misses "level" (at least 100 lx required, 90.0 lx reached) and "even" (at most 3.00 required, 4.20 reached).`},
		"no ratio": {judged(false, 50, 90, study.Verdict{Criterion: ratio, By: []study.Reached{{}, {Value: math.NaN()}}}), false,
			`The proposed lighting maintains 90.0 lx on the work plane, 80 percent more than the existing 50.0 lx (every lamp at 40 percent of its rated life), and is NOT enough: it misses "even" (at most 3.00 required, the minimum is 0).`},
		"footcandles": {judged(true, 20*photometry.Footcandle, 15*photometry.Footcandle), true,
			"The proposed lighting maintains 15.0 fc on the work plane, 25 percent less than the existing 20.0 fc (every lamp at 40 percent of its rated life); the job has no criteria, so nothing says whether that is enough."},
		"dark before": {judged(false, 0, 90), true,
			"The proposed lighting maintains 90.0 lx on the work plane, against the existing 0.00 lx (every lamp at 40 percent of its rated life); the job has no criteria, so nothing says whether that is enough."},
	} {
		assert.Equal(t, c.want, wording.Verdict(c.result), name)
		assert.Equal(t, c.met, c.result.Met(), name)
	}
}

// A level is tested in the unit in which it is published: 104 lx is enough for 100 lx, and not for 10 fc.
func TestJudgedInThePublishedUnit(t *testing.T) {
	average := run(t).Proposed().Grids[0].Statistics.Average
	r := run(t, "lamp_lumens = 2000.0", fmt.Sprintf("lamp_lumens = %.6f", 2000*104/average), upkeep,
		"[[criteria]]\nlevel = \"warehouse-active-bulky\"\n[[criteria]]\nlevel = \"fmr-storage\"\n"+upkeep)
	require.Len(t, r.Verdicts, 3, "that level asks for a minimum too")
	lux, fc := r.Verdicts[0], r.Verdicts[1]
	assert.InDelta(t, 104, lux.Proposed().Value, 1e-3)
	assert.InDelta(t, 104, fc.Proposed().Value, 1e-3)
	assert.Equal(t, []any{levels.Lux, true}, []any{lux.Unit, lux.Proposed().Met})
	assert.Equal(t, []any{levels.Footcandles, false}, []any{fc.Unit, fc.Proposed().Met})
	assert.InEpsilon(t, 10/(foot*foot), fc.RequiredIn(false), rounding, "in the job's unit")
	assert.True(t, fc.By[0].Met, "%v lx", fc.By[0].Value)
	assert.False(t, r.Met())
	assert.Contains(t, wording.Verdict(r), "(at least 108 lx required, 104 lx reached)")
}

const foot = 0.3048

// Each statistic is taken of the grid that the criterion names.
func TestStatistics(t *testing.T) {
	rules := ""
	for _, s := range levels.StatisticNames()[:5] { // those of a grid
		rules += "[[criteria]]\nname = \"" + s + "\"\nstatistic = \"" + s + "\"\ngrid = \"floor\"\nat_most = 150\n"
	}
	r := run(t, upkeep, "[[grids]]\nname = \"floor\"\narea = [1.0, 1.0, 5.0, 4.0]\nheight = 0.0\n"+rules+upkeep)
	s := r.Proposed().Grids[1].Statistics
	require.Len(t, r.Verdicts, 5)
	want := []float64{s.Average, s.Minimum, s.Maximum, s.AverageToMinimum, s.MaximumToMinimum}
	for i, v := range r.Verdicts {
		assert.Equal(t, want[i], v.Proposed().Value, v.Name)
		assert.Equal(t, want[i] <= 150, v.Proposed().Met, v.Name)
	}
	assert.Greater(t, s.Maximum, s.Average)
	assert.Greater(t, s.Average, s.Minimum)
}

func TestEnergy(t *testing.T) {
	e := run(t, "input_watts = 60.0", "input_watts = 45.0", upkeep,
		"[energy]\nprice_per_kwh = 0.11\ndemand_price_per_kw_month = 9.0\nrebate = 100.0\ninstalled_cost = 900.0\n"+upkeep).Energy
	assert.InEpsilon(t, 24*0.060, e.ExistingKW, rounding)
	assert.InEpsilon(t, 24*0.045, e.ProposedKW, rounding)
	assert.InEpsilon(t, 0.36, e.SavedKW, rounding)
	assert.InEpsilon(t, 1.44*3000, e.ExistingKWhPerYear, rounding)
	assert.InEpsilon(t, 1.08*3000, e.ProposedKWhPerYear, rounding)
	assert.InEpsilon(t, 1080.0, e.SavedKWhPerYear, rounding)
	assert.InEpsilon(t, 0.25, e.SavedShare, rounding)
	assert.InEpsilon(t, 118.80, *e.EnergySavingPerYear, rounding, "1,080 kWh at 0.11")
	assert.InEpsilon(t, 38.88, *e.DemandSavingPerYear, rounding, "0.36 kW at 9.00, twelve times")
	assert.InEpsilon(t, 157.68, *e.SavingPerYear, rounding)
	assert.InEpsilon(t, 800.0, *e.NetCost, rounding)
	assert.InEpsilon(t, 800/157.68, *e.SimplePaybackYears, rounding)
}

// What is not priced has no value; a cost that is not saved again has no payback; a rebate above the cost pays at once.
func TestEnergyPartlyPriced(t *testing.T) {
	none := run(t).Energy
	assert.Zero(t, none.SavedKW)
	assert.Equal(t, []*float64{nil, nil, nil, nil, nil}, []*float64{none.EnergySavingPerYear, none.DemandSavingPerYear, none.SavingPerYear, none.NetCost, none.SimplePaybackYears})

	unpriced := run(t, upkeep, "[energy]\ninstalled_cost = 900\n"+upkeep).Energy
	assert.Equal(t, 900.0, *unpriced.NetCost)
	assert.Nil(t, unpriced.SimplePaybackYears)

	worse := run(t, "input_watts = 60.0", "input_watts = 75.0", upkeep, "[energy]\nprice_per_kwh = 0.1\ninstalled_cost = 900\n"+upkeep).Energy
	assert.InEpsilon(t, -108.0, *worse.SavingPerYear, rounding)
	assert.Nil(t, worse.DemandSavingPerYear)
	assert.Nil(t, worse.SimplePaybackYears)

	gift := run(t, "input_watts = 60.0", "input_watts = 45.0", upkeep, "[energy]\nprice_per_kwh = 0.1\ninstalled_cost = 900\nrebate = 1000\n"+upkeep).Energy
	assert.Equal(t, -100.0, *gift.NetCost)
	assert.Zero(t, *gift.SimplePaybackYears)
}

// Each warning in its case, and none where there is nothing to warn of.
func TestWarnings(t *testing.T) {
	black := []string{"ceiling = 0.7, walls = 0.5, floor = 0.2", "ceiling = 0, walls = 0, floor = 0"}
	assert.Empty(t, run(t, black...).Warnings)
	cold := losses.TemperatureAdvice(losses.Surroundings{RatedAtCelsius: 25, LeastAmbientCelsius: math.NaN(), AmbientCelsius: 0,
		Ballast: &losses.BallastStart{FromCelsiusLow: math.NaN(), FromCelsiusHigh: math.NaN()}})
	require.Equal(t, []losses.Concern{losses.Estimated, losses.BallastUntold}, cold.Concerns)
	light, unsure := wording.Air(cold, losses.Estimated), wording.Air(cold, losses.BallastUntold)
	for name, c := range map[string]struct {
		pairs []string
		want  []string
	}{
		"spacing along": {[]string{"columns = 6", "columns = 4"}, []string{
			"existing: spacing along the lamps, 1.88 times the height above the work plane, exceeds the spacing criterion 1.29: expect dark places between luminaires",
			"proposed: spacing along the lamps, 1.88 times the height above the work plane, exceeds the spacing criterion 1.29: expect dark places between luminaires",
		}},
		"spacing across": {[]string{"rows = 4", "rows = 2"}, []string{
			"existing: spacing across the lamps, 1.88 times the height above the work plane, exceeds the spacing criterion 1.29: expect dark places between luminaires",
			"proposed: spacing across the lamps, 1.88 times the height above the work plane, exceeds the spacing criterion 1.29: expect dark places between luminaires",
		}},
		"spacing both": {[]string{"rows = 4\ncolumns = 6", "rows = 2\ncolumns = 4"}, []string{
			"existing: spacing exceeds the spacing criterion along (1.88 over 1.29) and across the lamps (1.88 over 1.29): expect dark places between luminaires",
			"existing: the two methods differ by 12 percent (46.6 lx against 41.6 lx): the lumen method takes luminaires as evenly spread, and its zonal multipliers are a fit",
			"proposed: spacing exceeds the spacing criterion along (1.88 over 1.29) and across the lamps (1.88 over 1.29): expect dark places between luminaires",
			"proposed: the two methods differ by 12 percent (46.6 lx against 41.6 lx): the lumen method takes luminaires as evenly spread, and its zonal multipliers are a fit",
		}},
		"spacing of lamps along the width": {[]string{"columns = 6\nlamps_along = \"length\"", "columns = 4\nlamps_along = \"width\""}, []string{
			"existing: spacing across the lamps, 1.88 times the height above the work plane, exceeds the spacing criterion 1.29: expect dark places between luminaires",
			"proposed: spacing across the lamps, 1.88 times the height above the work plane, exceeds the spacing criterion 1.29: expect dark places between luminaires",
		}},
		"no bounces": {[]string{"ceiling = 0, walls = 0, floor = 0", "ceiling = 0.7, walls = 0.5, floor = 0.2"}, []string{
			"existing: the two methods differ by 17 percent (132 lx against 159 lx): the point method leaves out the light that bounces (interreflection = false)",
			"proposed: the two methods differ by 17 percent (132 lx against 159 lx): the point method leaves out the light that bounces (interreflection = false)",
		}},
		"all light up": {[]string{"ceiling = 0, walls = 0", "ceiling = 0.7, walls = 0", "diffuse.ies", "uplight.ies"}, []string{
			"proposed: the two methods differ, 0.00 lx against 62.0 lx: the point method leaves out the light that bounces (interreflection = false)",
		}},
		"one luminaire": {[]string{"rows = 4\ncolumns = 6", "positions = [[12.0, 6.0]]"}, []string{
			"existing: the two methods differ by 30 percent (6.74 lx against 5.21 lx): the lumen method takes luminaires as evenly spread, and its zonal multipliers are a fit",
			"proposed: the two methods differ by 30 percent (6.74 lx against 5.21 lx): the lumen method takes luminaires as evenly spread, and its zonal multipliers are a fit",
		}},
		"racks": {[]string{"[calculation]", "[[racks]]\ncorner = [0, 0]\nsize = [1, 1, 1]\nreflectance = 0.3\n[calculation]"}, []string{
			"existing: the lumen method does not see racks: its average is that of the empty room",
			"proposed: the lumen method does not see racks: its average is that of the empty room",
		}},
		"cold": {[]string{"ambient_temperature = 25.0", "ambient_temperature = 0.0"}, []string{
			"existing: " + light, "existing: " + unsure,
			"proposed: " + light, "proposed: " + unsure,
		}},
		"temperature given": {[]string{"ambient_temperature = 25.0", "ambient_temperature = 0.0", upkeep, "[existing.losses]\ntemperature = 0.8\n[proposed.losses]\ntotal = 0.6\n" + upkeep}, []string{
			"existing: " + unsure, "proposed: " + unsure,
		}},
		"burn-out": {[]string{"ballast_factor = 0.9", "lamp = \"F32T8/800\"\nballast_factor = 0.9", "clean_months", "relamp_hours = 20000\nclean_months"}, []string{
			"proposed: all lamps are replaced after 20,000 h, 83 percent of the rated life of 24,000 h, at which half have failed (over 70 counts as far): " +
				"the result holds only if failed lamps are replaced as they fail, else give losses.lamp_burnout; a relamp_hours of its own can be given in the system's [..upkeep]",
		}},
		"burn-out given": {[]string{"ballast_factor = 0.9", "lamp = \"F32T8/800\"\nballast_factor = 0.9", "clean_months", "relamp_hours = 20000\nclean_months", upkeep, "[proposed.losses]\nlamp_burnout = 0.9\n" + upkeep}, nil},
		"ceiling": {[]string{"lamp_lumens = 2000.0\nballast_factor = 0.9\ninput_watts = 60.0", "lamp_lumens = 6000.0\nlamp = \"F96T12\"\nballast_factor = 0.94\ninput_watts = 175",
			"title = \"bay\"", "title = \"bay\"\nstate = \"OH\""}, []string{
			"proposed: 175 W a luminaire is more than the 165 W that the federal floor of ballast efficacy leaves (42 USC 6295(g)(5), ballast efficacy factor floor; seen in public copies of the US Code (ballast efficacy factor at least 0.57, made from 1990-01-01)): such a ballast is older or exempt; check before booking the saving",
		}},
		"from memory": {[]string{"lamp_lumens = 2000.0\nballast_factor = 0.9\ninput_watts = 60.0", "lamp = \"F32T8/800\"\nballast = \"is-normal\""}, []string{
			"proposed: watts and ballast factor of f32t8-2-is-normal are from memory, unverified: take them from the ballast's label",
		}},
		"a level's caveat": {[]string{upkeep, "[[criteria]]\nlevel = \"ies1972-storage-inactive\"\n" + upkeep}, []string{
			"Storage rooms or warehouses, inactive: minimum maintained value at the task; superseded; from memory, unverified, of low confidence: check before use",
		}},
	} {
		got := wording.Warnings(run(t, append(black[:2:2], c.pairs...)...))
		assert.Equal(t, c.want, got, name)
	}
}

func TestCautions(t *testing.T) {
	inOhio := []string{"title = \"bay\"", "title = \"bay\"\nstate = \"OH\""}
	fluorescent := wording.Cautions(run(t, inOhio...))
	led := wording.Cautions(run(t, inOhio[0], inOhio[1], "lamp_lumens = 2000.0", "lamp = \"LED-T8-4FT-18W-B\""))
	require.Len(t, led, len(fluorescent)+1)
	all := strings.Join(led, "\n")
	for _, word := range []string{"licensed electrician", "29 CFR 1910.333", "40 CFR 761", "40 CFR 273", "exit and emergency lighting", "LED tubes"} {
		assert.Contains(t, all, word)
	}
}

// In the cold a level that is met by the middle of the estimate and missed at its lower end is not simply met.
func TestEnoughByAnEstimate(t *testing.T) {
	cold := func(level float64, pairs ...string) *study.Result {
		return run(t, append([]string{"ambient_temperature = 25.0", "ambient_temperature = 4.0", "ballast_factor = 0.9", "lamp = \"F32T8/800\"\nballast_factor = 0.9", upkeep,
			sprintf("[[criteria]]\nname = \"lease\"\nat_least = %s\n", level) + upkeep}, pairs...)...)
	}
	average := cold(1).Proposed().Grids[0].Statistics.Average
	r := cold(0.9 * average)
	require.NotNil(t, r.OnEstimate())
	assert.Less(t, r.OnEstimate().Low, 0.9*r.OnEstimate().Factor)
	assert.Contains(t, wording.Verdict(r), "But that rests on an estimate: in the cold the lamps are taken to keep ")
	assert.True(t, r.Met())
	assert.Nil(t, cold(1).OnEstimate(), "met at the lower end too")
	assert.Nil(t, cold(1.1*average).OnEstimate(), "missed anyhow")
	assert.Nil(t, run(t).OnEstimate(), "not cold")
}

// A ban on the sale of the proposed lamp stands in the verdict.
func TestVerdictMindsABan(t *testing.T) {
	in := func(state, lamp string) string {
		return wording.Verdict(run(t, "title = \"bay\"", "title = \"bay\"\nstate = \""+state+"\"\ndate = 2026-06-01", "ballast_factor = 0.9", "lamp = \""+lamp+"\"\nballast_factor = 0.9"))
	}
	assert.Contains(t, in("CA", "F32T8/800"), " Mind that CA, where this is, ends or has ended the sale of such lamps (since 1 January 2025): F32T8/800 may be impossible to replace.")
	assert.NotContains(t, in("CA", "LED-T8-4FT-18W-B"), "Mind that")
	assert.NotContains(t, in("OH", "F32T8/800"), "Mind that")
}
