package study_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry/study"
	"lampswap/photometry/wording"
)

const (
	lease = "[[criteria]]\nname = \"lease\"\nat_least = 20\n[[criteria]]\nname = \"code\"\nstatistic = \"power_density\"\nat_most = 20\n"
	tube  = "lamp = \"LED-T8-4FT-18.5W-B\"\n" // not below -4 °F, by its public data sheet
)

// A lamp that is used below its least rated temperature meets nothing, however bright it is by the numbers: its light is not known.
func TestALampOutsideItsRatingMeetsNothing(t *testing.T) {
	cold := func(celsius, system string) *study.Result {
		return run(t, upkeep, lease+upkeep, "["+system+"]\n", "["+system+"]\n"+tube, "ambient_temperature = 25.0", "ambient_temperature = "+celsius)
	}
	for _, celsius := range []string{"-23.3", "-20.01"} {
		r := cold(celsius, "proposed")
		assert.NotEmpty(t, r.Proposed().Outside)
		assert.Empty(t, r.Existing().Outside, "of its lamps nothing is known")
		assert.False(t, r.Met())
		assert.True(t, r.BrightEnough(), "by the numbers")
		assert.Equal(t, []bool{false, true}, []bool{r.Verdicts[0].Proposed().Met, r.Verdicts[1].Proposed().Met}, "what it draws is known")
		assert.True(t, r.Verdicts[0].Met(r.Verdicts[0].Proposed().Value))
		assert.Contains(t, wording.Verdict(r), "But that is NOT known: the lamp is used at ")
		assert.Contains(t, wording.Verdict(r), "below its least rated temperature of -20")
		assert.Contains(t, wording.Verdict(r), ". So no criterion of light is met, whatever the numbers say.")
		assert.NotContains(t, wording.Verdict(r), "enough")
		assert.Empty(t, r.Years[1].Below, "nor is it known in any year")
		assert.Nil(t, r.OnEstimate())
	}
	at := cold("-20.0", "proposed") // -4 °F
	assert.True(t, at.Met(), wording.Verdict(at))
	existing := cold("-23.3", "existing")
	assert.Empty(t, existing.Proposed().Outside)
	assert.Equal(t, []bool{false, true}, []bool{existing.Verdicts[0].By[0].Met, existing.Verdicts[1].By[0].Met})
	assert.Contains(t, wording.Verdict(existing), " Mind that of the existing lighting the lamp is used at -23 °C (-10 °F), below its least rated temperature")
	for name, pairs := range map[string][]string{"a factor given does not warm it": {upkeep, "[proposed.losses]\ntemperature = 1.0\n" + upkeep},
		"nor do points of a data sheet": {upkeep, "temperature_points = [[-30.0, 0.9], [25.0, 1.0]]\n" + upkeep}} {
		r := run(t, append(pairs, upkeep, lease+upkeep, "[proposed]\n", "[proposed]\n"+tube, "ambient_temperature = 25.0", "ambient_temperature = -23.3")...)
		assert.False(t, r.Met(), name)
	}
	none := run(t, "[proposed]\n", "[proposed]\n"+tube, "ambient_temperature = 25.0", "ambient_temperature = -23.3")
	assert.False(t, none.Met(), "without a criterion too")
	assert.Contains(t, wording.Verdict(none), "NOT known")
}

// No electronic ballast of which anything is known starts below 0 °F.
func TestABallastOutsideItsRating(t *testing.T) {
	cold := func(ballast string) *study.Result {
		return run(t, upkeep, lease+upkeep, "lamp_lumens = 2000.0\nballast_factor = 0.9\ninput_watts = 60.0", "lamp = \"F32T8/800\"\n"+ballast,
			"ambient_temperature = 25.0", "ambient_temperature = -18.5")
	}
	r := cold("ballast = \"is-normal\"")
	assert.False(t, r.Met())
	assert.Contains(t, wording.Verdict(r), "the ballast is used at -18.5 °C (-1.3 °F), below -17.8 °C (0.0 °F), the lowest from which any electronic ballast is told to start")
	assert.Empty(t, cold("ballast_factor = 0.9\ninput_watts = 60.0").Proposed().Outside, "of a ballast that is not named nothing is known")
}

// Lamps that are out dim the light and not the load; both is said beside verdict and saving. By hand: 24 luminaires of 60 and 45 W.
func TestLampsThatAreOut(t *testing.T) {
	r := run(t, "input_watts = 60.0", "input_watts = 45.0", upkeep, "[existing.losses]\nlamp_burnout = 0.8\n"+upkeep)
	all := run(t)
	out := r.Outages()
	require.Len(t, out, 1)
	assert.Equal(t, "existing", out[0].Name)
	assert.InEpsilon(t, all.Existing().Grids[0].Statistics.Average, out[0].AllLit, rounding)
	assert.InEpsilon(t, 1.44, out[0].KW, rounding)
	assert.InEpsilon(t, 1.44*0.8, out[0].LeastKW, rounding)
	assert.InEpsilon(t, 0.36, r.Energy.SavedKW, rounding, "as before, every lamp counted as lit")
	words := wording.Outages(r)
	require.Len(t, words, 2)
	assert.Contains(t, words[0], "but the load of 1.44 kW counts every lamp as lit; if lamps that are out draw nothing it is 1.15 kW")
	assert.Equal(t, "the saving of 0.36 kW, 25 percent, is then 0.07 kW, 6 percent of what is drawn", words[1])
	assert.Contains(t, wording.Verdict(r), "25 percent more than the existing")
	assert.Contains(t, wording.Verdict(r), " Mind that the existing light is that of lamp_burnout = 0.8; with every lamp lit it is 132 lx, and the proposed light as much as that: "+
		"the rest of the change is repair. Its load counts every lamp as lit.")
	assert.Empty(t, all.Outages())
	assert.Nil(t, wording.Outages(all))
	total := run(t, upkeep, "[proposed.losses]\nlamp_burnout = 0.8\ntotal = 0.5\n"+upkeep)
	assert.Empty(t, total.Outages(), "a total has replaced it")
	both := run(t, upkeep, "[proposed.losses]\nlamp_burnout = 0.9\n[existing.losses]\nlamp_burnout = 0.9\n"+upkeep)
	assert.Len(t, both.Outages(), 2)
	assert.Contains(t, wording.Outages(both)[2], "is then 0.00 kW")
}

// The digit that decides stands in the verdict.
func TestTheDigitThatDecides(t *testing.T) {
	c := atLeast("level", 300, 299.7)
	assert.Contains(t, wording.Verdict(judged(false, 200, 299.7, c)), `it misses "level" (at least 300.0 lx required, 299.7 lx reached)`)
	assert.Contains(t, wording.Verdict(judged(false, 200, 299.2, atLeast("level", 300, 299.2))), `(at least 300 lx required, 299 lx reached)`)
}

// A rebate above the cost is counted, and said.
func TestARebateAboveTheCost(t *testing.T) {
	money := "[energy]\nprice_per_kwh = 0.1\ninstalled_cost = 900\nrebate = %s\n"
	const says = "proposed: the rebate of 1,000 is more than the 900 that it costs, so that the investment is below 0 (-100): rebates are seldom more than the cost"
	assert.Contains(t, wording.Warnings(run(t, upkeep, sprintf(money, 1000)+upkeep)), says)
	assert.Empty(t, run(t, upkeep, sprintf(money, 900)+upkeep, still, bounces).Warnings)
}

// The years of the light are those of the life cycle, and what the ratio counts as investment is said where upkeep is in it.
func TestOneStudyPeriod(t *testing.T) {
	r := run(t, upkeep, priced+costs+"[existing.costs]\nlamp_price = 2\n[life_cycle]\nyears = 30\n"+upkeep)
	assert.Equal(t, 30.0, r.Years[0].Horizon)
	require.Len(t, wording.Ratio(r), 1)
	assert.Contains(t, wording.Ratio(r)[0], "lamps that are replaced together count as investment")
	short := run(t, upkeep, priced+"[life_cycle]\nyears = 2\n"+upkeep)
	assert.Equal(t, 2.0, short.Years[0].Horizon)
	assert.Empty(t, wording.Ratio(short), "no upkeep is in it")
	assert.Empty(t, wording.Ratio(run(t)))
}
