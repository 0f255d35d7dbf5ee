package job_test

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry/job"
	"lampswap/photometry/levels"
	"lampswap/photometry/lifecycle"
	"lampswap/photometry/losses"
	"lampswap/photometry/utility"
)

// unpriced is the sound job without its price of energy.
var unpriced = strings.TrimSuffix(sound, "[energy]\nprice_per_kwh = 0.11\n")

// keysOf are the defaults that were used.
func keysOf(j *job.Job) []string {
	var keys []string
	for _, d := range j.Defaults {
		keys = append(keys, d.Key)
	}
	return keys
}

func TestMoney(t *testing.T) {
	j := read(t, unpriced+`
[energy]
price_per_kwh = 0.10
demand_price_per_kw_month = 9
demand_months = 6
demand_share = 0.8
rebate = 50
installed_cost = 900
co2_kg_per_kwh = 0.5
co2_rate = "marginal, 2025"
[life_cycle]
years = 10
discount_rate = 0.05
energy_escalation = 0.01
`)
	f := j.Tariff
	assert.Equal(t, []float64{0.10, 9, 6, 0.8}, []float64{*f.PricePerKWh, *f.DemandPricePerKWMonth, f.DemandMonths, f.DemandShare})
	assert.False(t, f.Average)
	assert.Equal(t, &job.EmissionRate{KilogramsPerKWh: 0.5, Name: "marginal, 2025"}, f.Emission)
	assert.Equal(t, lifecycle.Terms{Years: 10, DiscountRate: 0.05, EnergyEscalation: 0.01}, j.LifeCycle)
	assert.Equal(t, []float64{900, 50}, []float64{*j.Proposed.Costs.InstalledCost, *j.Proposed.Costs.Rebate})
	assert.Nil(t, j.Existing.Costs.InstalledCost)
	assert.Empty(t, j.Warnings)
}

// An average price holds demand charges: with a demand price beside it they would be counted twice.
func TestDemandCountedTwice(t *testing.T) {
	const demand = "demand_price_per_kw_month = 9\n"
	with := func(text string) []string { return read(t, text).Warnings }
	assert.Empty(t, with(unpriced+"[energy]\naverage_price_per_kwh = 0.1\n"))
	assert.Len(t, with(unpriced+"[energy]\naverage_price_per_kwh = 0.1\n"+demand), 1)
	assert.Empty(t, with(unpriced+"[energy]\nprice_per_kwh = 0.05\n"+demand))
	// Texas paid 8.73 cents on average in 2023 by the table; a price as high is likely an average one.
	texas, ok := utility.FindState("TX")
	require.True(t, ok)
	inTexas := "state = \"tx\"\n" + unpriced
	assert.Empty(t, with(inTexas+"[energy]\nprice_per_kwh = 0.05\n"+demand))
	assert.Contains(t, with(inTexas + "[energy]\nprice_per_kwh = 0.2\n" + demand)[0], "no less than the average price in Texas")

	j := read(t, inTexas+"[energy]\n"+demand)
	assert.Equal(t, texas.PricePerKWh(), *j.Tariff.PricePerKWh)
	assert.True(t, j.Tariff.Average)
	assert.Contains(t, j.Tariff.PriceFrom, "commercial customers in Texas, 2023: EIA Electric Power Annual 2023")
	assert.Contains(t, keysOf(j), "energy.average_price_per_kwh")
	assert.Len(t, j.Warnings, 1)
	assert.Nil(t, read(t, unpriced).Tariff.PricePerKWh, "no state, no price")
}

func TestCosts(t *testing.T) {
	j := read(t, replaced(t, sound, "[upkeep]", `[proposed.costs]
installed_cost = 1000
lamp_price = 3
lamp_labor = 5
lamp_disposal = 0.5
cleaning = 4
ballast_cost = 60
ballast_life_hours = 50000
other_per_year = 7
residual = 11
[replacement]
photometry = "strip.ies"
lamps = 2
lamp_lumens = 5000.0
[replacement.costs]
installed_cost = 4000
[upkeep]`))
	c := j.Proposed.Costs
	assert.Equal(t, []float64{1000, 3, 5, 0.5, 4, 60, 50000, 7, 11},
		[]float64{*c.InstalledCost, c.LampPrice, c.LampLabor, c.LampDisposal, c.Cleaning, c.BallastCost, c.BallastLifeHours, c.OtherPerYear, c.Residual})
	assert.True(t, c.Upkeep())
	assert.False(t, j.Existing.Costs.Upkeep())
	require.NotNil(t, j.Replacement)
	assert.Equal(t, 4000.0, *j.Replacement.Costs.InstalledCost)
	assert.Len(t, j.Replacement.Layout.Placements, 8, "the shared layout")
}

func TestFacts(t *testing.T) {
	j := read(t, "state = \"Oregon\"\ndate = 2026-04-30\nprepared_by = \"A\"\nprepared_for = \"B\"\nnorth = 90\n"+sound)
	assert.Equal(t, "OR", j.Facts.State)
	assert.Equal(t, time.Date(2026, 4, 30, 0, 0, 0, 0, time.UTC), j.Facts.Date)
	assert.Equal(t, []string{"A", "B"}, []string{j.Facts.PreparedBy, j.Facts.PreparedFor})
	assert.InDelta(t, radians(90), *j.Facts.North, 1e-15) // rounding
	assert.Equal(t, j.Facts.Date, read(t, "date = \"2026-04-30\"\n"+sound).Facts.Date)
	assert.True(t, read(t, sound).Facts.Date.IsZero())
}

const path = `[[grids]]
name = "way"
area = [0.0, 4.5, 20.0, 5.5]
height = 0.0
spacing = 1.0
[egress]
luminaires = [1, 8]
grid = "way"
`

func TestEgress(t *testing.T) {
	j := read(t, unpriced+path)
	assert.Equal(t, &job.Egress{Luminaires: []int{0, 7}, Grid: "way", Share: 1, Name: "way, on emergency power"}, j.Egress)
	assert.Contains(t, keysOf(j), "egress.light_share")
	last := j.Criteria[len(j.Criteria)-3:]
	for i, want := range []levels.Statistic{levels.Average, levels.Minimum, levels.MaximumToMinimum} {
		assert.Equal(t, want, last[i].Statistic)
		assert.Equal(t, j.Egress.Name, last[i].Grid)
	}
	own := read(t, unpriced+path+"light_share = 0.3\nlevel = \"nfpa101-emergency-minimum\"\n")
	assert.Equal(t, 0.3, own.Egress.Share)
	assert.Equal(t, "nfpa101-emergency-minimum", own.Criteria[len(own.Criteria)-1].Level)
	assert.Nil(t, read(t, sound).Egress)
}

func TestEnergyCode(t *testing.T) {
	j := read(t, unpriced+"[[criteria]]\nenergy_code = \"90.1-2016\"\n[[criteria]]\nenergy_code = \"iecc-2021-area-warehouse\"\nname = \"city\"\n"+
		"[[criteria]]\nname = \"lean\"\nstatistic = \"power_density\"\nat_most = 6\n")
	a, b, own := j.Criteria[len(j.Criteria)-3], j.Criteria[len(j.Criteria)-2], j.Criteria[len(j.Criteria)-1]
	assert.Equal(t, []any{"ashrae901-2016-area-warehouse", levels.WholeRoom, levels.PowerDensity, 0.48, levels.WattsPerSquareFoot},
		[]any{a.Level, a.Grid, a.Statistic, a.Required, a.Unit}, "ASHRAE 90.1-2016, building area method: 0.48 W/ft2")
	assert.Equal(t, []any{"city", 0.45}, []any{b.Name, b.Required})
	assert.Equal(t, []any{levels.WholeRoom, 6.0, levels.WattsPerSquareMeter}, []any{own.Grid, own.Required, own.Unit})
	assert.Contains(t, keysOf(j), "criteria[2].space")
	assert.NotContains(t, keysOf(j), "criteria[4].grid")
}

func TestTemperaturePoints(t *testing.T) {
	j := read(t, replaced(t, sound, "losses = {", "temperature_points = [[0, 0.6], [25, 1.0]]\nlosses = {"))
	assert.Equal(t, []losses.OutputPoint{{AmbientCelsius: 0, RelativeOutput: 0.6}, {AmbientCelsius: 25, RelativeOutput: 1}}, j.Proposed.OutputPoints)
	assert.Nil(t, j.Existing.OutputPoints)
}

func TestRelamping(t *testing.T) {
	assert.False(t, read(t, sound).Upkeep.Spot)
	assert.True(t, read(t, replaced(t, sound, "relamp_hours = 16000.0\n", "")).Upkeep.Spot)
	assert.True(t, read(t, replaced(t, sound, "relamp_hours = 16000.0\n", "relamp_hours = 16000.0\nrelamping = \"spot\"\n")).Upkeep.Spot)
}

// What is wrong with money, facts, egress and codes, to the letter.
func TestFaultsOfMoney(t *testing.T) {
	for _, c := range []struct{ top, end, want string }{
		{"state = \"XX\"\n", "", `dock.toml:1:9: state: is "XX", want the two letters of a state of the US, as CA`},
		{"date = \"30.4.2026\"\n", "", `dock.toml:1:8: date: is the text "30.4.2026", want a day as "2026-04-30"`},
		{"date = 7\n", "", `dock.toml:1:8: date: is 7, want a day as "2026-04-30"`},
		{"north = 400\n", "", `dock.toml:1:9: north: is 400, want a number from -360 to 360`},
		{"", "[energy]\nprice_per_kwh = 0.1\naverage_price_per_kwh = 0.1\n",
			`dock.toml:64:25: energy.average_price_per_kwh: stands beside price_per_kwh, want one of the two: the average price holds demand and fixed charges already`},
		{"", "[energy]\ndemand_months = 13\n", `dock.toml:63:17: energy.demand_months: is 13, want a number from 0 to 12`},
		{"", "[energy]\nco2_kg_per_kwh = 0.5\n", `dock.toml:62:2: energy.co2_rate: is missing, want the name and year of the rate, as "utility's marginal rate, 2025"`},
		{"", "[energy]\nco2_rate = \"x\"\n", `dock.toml:62:2: energy.co2_kg_per_kwh: is missing, want the rate that co2_rate names`},
		{"", "[life_cycle]\nyears = 41\n", `dock.toml:63:9: life_cycle.years: is 41, want a whole number from 1 to 40`},
		{"", "[life_cycle]\ndiscount_rate = 3\n", `dock.toml:63:17: life_cycle.discount_rate: is 3, want a number from 0 to 0.5`},
		{"", path + "light_share = 2\n", `dock.toml:70:15: egress.light_share: is 2, want a number above 0 and up to 1`},
		{"", "[egress]\n", "dock.toml:62:2: egress.luminaires: is missing, want the numbers of the luminaires that stay lit, 1 for the first of the layout, counted along x, then row by row\n" +
			"dock.toml:62:2: egress.grid: is missing, want the path out: the name of one of the [[grids]], at the floor"},
		{"", "[egress]\nluminaires = [9]\ngrid = \"dock\"\n", `dock.toml:63:1: egress.luminaires: names luminaire 9, want a number up to 8, that each system has`},
		{"", "[egress]\nluminaires = [2, 2]\ngrid = \"dock\"\n", `dock.toml:63:1: egress.luminaires: names luminaire 2 twice, want each once`},
		{"", "[egress]\nluminaires = [1.5]\ngrid = \"dock\"\n", `dock.toml:63:15: egress.luminaires[0]: is 1.5, want a whole number from 1 to 100000`},
		{"", "[egress]\nluminaires = [1]\ngrid = \"doc\"\n", `dock.toml:64:8: egress.grid: "doc" is not known, want one of work plane, north face, dock (dock?)`},
		{"", "[egress]\nluminaires = [1]\ngrid = \"dock\"\nlevel = \"ibc-emergancy\"\n",
			`dock.toml:65:9: egress.level: "ibc-emergancy" is not in the list of levels, want ibc-emergency, perhaps; an id of ` + "`lampswap levels`"},
		{"", "[[criteria]]\nenergy_code = \"90.1-2016\"\nspace = \"Attic\"\n", "starts dock.toml:64:9: criteria[2].space: \"Attic\" is no space of 90.1-2016, want one of \"Warehouse\""},
		{"", "[[criteria]]\nenergy_code = \"90.1-1066\"\n", "starts dock.toml:63:15: criteria[2].energy_code: \"90.1-1066\" is not known, want "},
		{"", "[[criteria]]\nstatistic = \"power_density\"\nat_most = 1\nname = \"x\"\ngrid = \"dock\"\n",
			`dock.toml:66:8: criteria[2].grid: "dock" stands beside a power density, want no grid: it is of the whole room`},
	} {
		_, err := job.Read("dock.toml", []byte(c.top+unpriced+c.end), open)
		if want, ok := cut(c.want); ok {
			require.Error(t, err, c.top+c.end)
			assert.Contains(t, err.Error(), want)
			continue
		}
		assert.EqualError(t, err, c.want, c.top+c.end)
	}
	for _, c := range []struct{ old, new, want string }{
		{"[upkeep]", "[proposed.costs]\nballast_cost = 60\n[upkeep]", `dock.toml:33:2: proposed.costs.ballast_life_hours: is missing, want how long a ballast burns before it is replaced, beside ballast_cost`},
		{"losses = {", "temperature_points = [[0, 0.6]]\nlosses = {", `dock.toml:32:1: proposed.temperature_points: has 1, want at least two points of ambient and relative output`},
		{"losses = {", "temperature_points = [[0, 0.6], [-1, 1.0]]\nlosses = {", `dock.toml:32:1: proposed.temperature_points[1]: ambient is not above that of the point before, want ambients that rise from point to point`},
		{"relamp_hours = 16000.0", "relamping = \"group\"", `dock.toml:33:2: upkeep.relamp_hours: is missing, want the hours after which the lamps are replaced as a group`},
	} {
		_, err := job.Read("dock.toml", []byte(replaced(t, sound, c.old, c.new)), open)
		assert.EqualError(t, err, c.want, c.new)
	}
}

// cut tells whether only the start of a message is compared.
func cut(want string) (string, bool) {
	const mark = "starts "
	if len(want) > len(mark) && want[:len(mark)] == mark {
		return want[len(mark):], true
	}
	return want, false
}
