package study_test

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry/internal/bay"
	"lampswap/photometry/study"
	"lampswap/photometry/wording"
)

// Two groups of the bay: twelve luminaires over the dock, of which three failed, and four in the shop, which are taken down.
const (
	twoKinds = `[kinds.a]
photometry = "diffuse.ies"
lamp = "F32T8/700"
lamps = 2
lamp_lumens = 2800.0
ballast_factor = 0.9
input_watts = 60.0
[kinds.a.costs]
lamp_price = 2
ballast_cost = 60
ballast_life_hours = 60000
cleaning = 5
[kinds.b]
photometry = "diffuse.ies"
lamps = 1
lamp_lumens = 4500.0
ballast_factor = 1.0
input_watts = 40.0
[kinds.b.costs]
cleaning = 4
`
	dock = `[[groups]]
name = "dock"
existing = "a"
proposed = "b"
mounting_height = 4.0
rows = 3
columns = 4
failed = [2, 7, 11]
failed_watts = 10.0
hours_per_year = 5000.0
control = "occupancy"
control_saving = 0.4
dimmed_to = 0.75
`
	shop = `[[groups]]
name = "shop"
existing = "a"
proposed = "none"
mounting_height = 3.5
positions = [[2, 2], [6, 2], [10, 2], [14, 2]]
`
)

func groups(tb testing.TB, text string, pairs ...string) *study.Result {
	tb.Helper()
	systems := bay.Text[strings.Index(bay.Text, "[layout]"):strings.Index(bay.Text, bay.Upkeep)]
	return run(tb, append([]string{systems, twoKinds + text, "spacing = 0.5", "spacing = 1"}, pairs...)...)
}

// kW, kWh and upkeep are as found, dimmed and controlled, by hand: nine of twelve lit, three at 10 W; what failed is neither cleaned nor relamped.
func TestEnergyOfGroups(t *testing.T) {
	e := groups(t, dock+shop, upkeep, "[energy]\nprice_per_kwh = 0.1\ndemand_price_per_kw_month = 5\ninstalled_cost = 1000\n"+upkeep).Energy
	before, after := e.Accounts[0], e.Accounts[1]
	assert.InEpsilon(t, 9*0.060+3*0.010+4*0.060, e.ExistingKW, rounding)
	assert.InEpsilon(t, 16*0.060, e.AllLitKW, rounding)
	assert.InEpsilon(t, (9*0.060+3*0.010)*5000+4*0.060*3000, e.ExistingKWhPerYear, rounding)
	assert.InEpsilon(t, 12*0.030, e.ProposedKW, rounding, "dimmed to 0.75 of 40 W")
	assert.InEpsilon(t, 12*0.030*3000, e.ProposedKWhPerYear, rounding, "5,000 h less 40 percent")
	assert.InEpsilon(t, e.ExistingKW-e.ProposedKW, e.SavedKW, rounding)
	assert.InEpsilon(t, (9*5000+4*3000)*2/20000.0, before.LampsReplaced, rounding, "of a rated life of 20,000 h, those that are lit")
	assert.InEpsilon(t, 2*before.LampsReplaced, before.Lamps, rounding)
	assert.InEpsilon(t, 60*(9*5000+4*3000)/60000.0, before.Ballasts, rounding)
	assert.InEpsilon(t, 13*5.0, before.Cleaning, rounding)
	assert.InEpsilon(t, 12*4.0, after.Cleaning, rounding)
	assert.InEpsilon(t, 0.1*(e.ExistingKWhPerYear-e.ProposedKWhPerYear), *e.EnergySavingPerYear, rounding)
	assert.InEpsilon(t, 12*5*e.SavedKW, *e.DemandSavingPerYear, rounding)
}

// The answer says what is repair, and what a power density is of.
func TestFailedLuminairesAreToldOf(t *testing.T) {
	r := groups(t, dock+shop)
	assert.Equal(t, 3, r.Failed())
	assert.InEpsilon(t, 16*60/288.0, r.Existing().PowerDensity, rounding, "of the connected load")
	assert.InEpsilon(t, 12*40/288.0, r.Proposed().PowerDensity, rounding, "not dimmed")
	assert.Contains(t, wording.Verdict(r), "Mind that 3 of the 16 existing luminaires give no light; with every luminaire lit the existing light is")
	assert.Contains(t, wording.Verdict(r), "the rest of the change is repair.")
	words := wording.Failed(r)
	require.Len(t, words, 2)
	assert.Contains(t, words[0], `3 of 12 in "dock" give no light: as found the existing lighting maintains`)
	assert.Contains(t, words[1], "the saving is against what is drawn as found: 0.45 kW and ")
	assert.Contains(t, words[1], "against every luminaire lit it would be 0.60 kW and ")
	assert.Empty(t, wording.Failed(groups(t, shop+strings.Replace(dock, "failed = [2, 7, 11]\nfailed_watts = 10.0\n", "", 1))))

	gone := wording.Verdict(groups(t, strings.Replace(dock, "failed = [2, 7, 11]\nfailed_watts = 10.0\n", "", 1)+shop+"failed = 2\n"))
	assert.Contains(t, gone, "Mind that 2 of the 16 existing luminaires give no light")
	assert.Contains(t, gone, " than that; none of them is lit again.", "their group is taken down")
	assert.NotContains(t, gone, "repair")

	repair := groups(t, strings.NewReplacer(`proposed = "b"`, `proposed = "a"`, "control = \"occupancy\"\ncontrol_saving = 0.4\ndimmed_to = 0.75\n", "").Replace(dock))
	assert.Contains(t, wording.Verdict(repair), "the proposed light as much as that: the swap changes no luminaire, and only repairs those that failed.")
	assert.Empty(t, repair.Existing().Parts, "one group")
}

// A rebate per lamp or luminaire is paid for what comes, not for what stays or goes.
func TestRebatesOfGroups(t *testing.T) {
	const rebates = "[energy]\ninstalled_cost = 1000\n[[rebates]]\nper = \"lamp\"\namount = 1\n[[rebates]]\nper = \"luminaire\"\namount = 10\n"
	stays := strings.Replace(shop, `proposed = "none"`, `proposed = "a"`, 1)
	paid := groups(t, dock+stays, upkeep, rebates+upkeep).Energy.Rebates
	assert.Equal(t, []float64{12, 120}, []float64{paid[0].Paid, paid[1].Paid})
	comes := strings.NewReplacer(`existing = "a"`, `existing = "none"`, `proposed = "none"`, `proposed = "b"`).Replace(shop)
	paid = groups(t, dock+comes, upkeep, rebates+upkeep).Energy.Rebates
	assert.Equal(t, []float64{16, 160}, []float64{paid[0].Paid, paid[1].Paid})
}

// Through the years the light of groups is the sum of theirs, each lit and cleaned by its own hours and care.
func TestYearsOfGroups(t *testing.T) {
	const criteria = "[[criteria]]\nname = \"bright\"\nat_least = 140\n[[criteria]]\nname = \"least\"\nstatistic = \"minimum\"\nat_least = 30\n"
	stays := strings.Replace(shop, `proposed = "none"`, `proposed = "a"`, 1)
	both := groups(t, dock+stays, upkeep, criteria+upkeep)
	west, east := groups(t, dock, upkeep, criteria+upkeep), groups(t, stays, upkeep, criteria+upkeep)
	for i := range 2 {
		y := both.Years[i]
		assert.InEpsilon(t, west.Years[i].Light[0]+east.Years[i].Light[0], y.Light[0], 1e-9)
		require.Len(t, y.Moments, len(y.Light))
		for m, moment := range y.Moments {
			if m > 0 {
				require.GreaterOrEqual(t, moment.Years, y.Moments[m-1].Years)
			}
			require.LessOrEqual(t, y.Lowest, y.Light[m])
		}
		assert.LessOrEqual(t, west.Years[i].Lowest+east.Years[i].Lowest, y.Lowest*(1+1e-9), "they need not be lowest at once")
		require.Len(t, y.Below, 2)
		for _, b := range y.Below {
			if !math.IsNaN(b.Years) {
				assert.Less(t, b.Least, b.Criterion.RequiredIn(false))
			}
		}
		assert.Contains(t, strings.Join(wording.Years(both, i), "\n"), "dock: ")
	}
	assert.NotEmpty(t, wording.Warnings(both))
	assert.True(t, math.IsNaN(both.Effects().Whole()), "several kinds have no one change")
}

// Luminaires of two groups in one place are told of by group.
func TestGroupsThatReachIntoOneAnother(t *testing.T) {
	twice := strings.Replace(shop, `"shop"`, `"shop too"`, 1)
	r := groups(t, shop+twice+dock)
	assert.Contains(t, wording.Warnings(r), `existing: luminaires 1 of "shop" and 1 of "shop too" reach into one another: check rows, columns or positions, and lamps_along`)
}

// What a replacement costs to install as a whole makes it a way of the life cycle in a job with groups too; its upkeep stands with its kinds.
func TestReplacementOfGroupsHasACost(t *testing.T) {
	money := "[energy]\nprice_per_kwh = 0.2\ninstalled_cost = 900\n[costs.replacement]\ninstalled_cost = 2000\nrebate = 300\nresidual = 100\n[costs.existing]\nother_per_year = 40\n"
	r := groups(t, strings.Replace(dock, "proposed = \"b\"\n", "proposed = \"b\"\nreplacement = \"a\"\n", 1)+shop, upkeep, money+upkeep)
	require.NotNil(t, r.LifeCycle)
	require.Len(t, r.LifeCycle.Ways, 3)
	assert.Equal(t, 1700.0, r.LifeCycle.Ways[2].Plan.Investment)
	assert.Equal(t, 100.0, r.LifeCycle.Ways[2].Plan.Residual)
	assert.Equal(t, 40.0, r.Energy.Accounts[0].Other)
	assert.Zero(t, r.Energy.Accounts[1].Other)
}

// A sensor's saving that the job gives is not said to be left out.
func TestSensorOfTheJob(t *testing.T) {
	says := func(r *study.Result, text string) bool {
		return strings.Contains(strings.Join(wording.Space(r), "\n"), text)
	}
	space := []string{"[room]", "[room]\nspace = \"warehouse-bulky\""}
	assert.True(t, says(groups(t, dock, space...), "the figures here have the saving that the job gives for its own"))
	assert.True(t, says(groups(t, shop+strings.Replace(dock, "control = \"occupancy\"\ncontrol_saving = 0.4\n", "", 1), space...), "nothing of it is in the figures here"))
}
