package job_test

import (
	"slices"
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

// priced is the end of the sound job, its price of energy; unpriced is the job without.
const priced = "[energy]\nprice_per_kwh = 0.11\n"

var unpriced = strings.TrimSuffix(sound, priced)

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

// What the swap costs line by line is its installed cost, and rebates by what it does stand beside the one sum.
func TestLinesAndRebates(t *testing.T) {
	j := read(t, "currency = \"CAD\"\n"+unpriced+`
[energy]
price_per_kwh = 0.1
rebate = 50
heating_cooling_factor = 0.1
[costs]
lines = [["material", 9200.0], ["labor\u0007", 6400], ["disposal", 380.0]]
[[rebates]]
per = "kwh"
amount = 0.08
at_most_share_of_cost = 0.5
[[rebates]]
per = "lamp"
amount = 2
at_most = 100
`)
	c := j.Proposed.Costs
	assert.Equal(t, 15980.0, *c.InstalledCost)
	assert.Equal(t, 50.0, *c.Rebate)
	require.Len(t, c.Lines, 3)
	assert.Equal(t, job.Line{Text: "material", Amount: 9200}, c.Lines[0])
	assert.NotContains(t, c.Lines[1].Text, "\a", "as it can be shown")
	half, most := 0.5, 100.0
	assert.Equal(t, []job.Rebate{{Per: "kwh", Amount: 0.08, AtMostShareOfCost: &half}, {Per: "lamp", Amount: 2, AtMost: &most}}, c.Rebates)
	assert.Equal(t, 0.1, j.Tariff.HeatingCooling)
	assert.Equal(t, "CAD", j.Currency)
	assert.NotContains(t, keysOf(j), "energy.heating_cooling_factor")

	assert.Empty(t, read(t, sound).Currency, "in metres")
	assert.Equal(t, "USD", read(t, replaced(t, sound, `"metric"`, `"imperial"`)).Currency)
	assert.Contains(t, keysOf(read(t, sound)), "energy.heating_cooling_factor")
	assert.NotContains(t, keysOf(read(t, unpriced)), "energy.heating_cooling_factor", "nothing is priced")

	absolute := replaced(t, sound, "[proposed]\nphotometry = \"strip.ies\"", "[proposed]\nphotometry = \"absolute.ies\"") + "[[rebates]]\nper = \"lamp\"\namount = 2\n"
	_, err := job.Read("dock.toml", []byte(absolute), open)
	assert.ErrorContains(t, err, `rebates[0].per: is "lamp", and absolute.ies does not tell how many lamps a luminaire has, want "luminaire"`)
}

// In what money a job in feet counts is listed wherever an amount of it stands; a price in dollars is not taken for one in other money.
func TestCurrency(t *testing.T) {
	feet := replaced(t, unpriced, `"metric"`, `"imperial"`)
	assert.NotContains(t, keysOf(read(t, feet)), "currency", "nothing is priced")
	for _, money := range []string{"[energy]\nprice_per_kwh = 0.1\n", "[energy]\ndemand_price_per_kw_month = 9\n", "[energy]\nrebate = 9\n", "[costs]\nlines = [[\"labor\", 9]]\n",
		"[[rebates]]\nper = \"lamp\"\namount = 9\n", "[existing.costs]\nlamp_price = 9\n", "[proposed.costs]\nresidual = 9\n"} {
		assert.Contains(t, keysOf(read(t, feet+money)), "currency", money)
		assert.NotContains(t, keysOf(read(t, "currency = \"CAD\"\n"+feet+money)), "currency", money)
	}
	inTexas := "state = \"TX\"\n" + feet
	assert.NotNil(t, read(t, "currency = \"USD\"\n"+inTexas).Tariff.PricePerKWh)
	j := read(t, "currency = \"CAD\"\n"+inTexas)
	assert.Nil(t, j.Tariff.PricePerKWh)
	assert.Equal(t, []string{"energy: no price is taken: the average price in Texas is known in USD, and the job counts in CAD: give price_per_kwh"}, j.Warnings)
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
	assert.Equal(t, &job.Egress{Grid: "way", Name: "way, on emergency power"}, j.Egress)
	for _, s := range j.Systems() {
		assert.Equal(t, []job.Pack{{Place: 0, Share: 1}, {Place: 7, Share: 1}}, s.Emergency)
	}
	assert.Contains(t, keysOf(j), "egress.light_share")
	last := j.Criteria[len(j.Criteria)-3:]
	for i, want := range []levels.Statistic{levels.Average, levels.Minimum, levels.MaximumToMinimum} {
		assert.Equal(t, want, last[i].Statistic)
		assert.Equal(t, j.Egress.Name, last[i].Grid)
	}
	own := read(t, unpriced+path+"light_share = 0.3\nlevel = \"nfpa101-emergency-minimum\"\n")
	assert.Equal(t, 0.3, own.Proposed.Emergency[1].Share)
	assert.Equal(t, "nfpa101-emergency-minimum", own.Criteria[len(own.Criteria)-1].Level)
	assert.Nil(t, read(t, sound).Egress)
}

func TestEnergyCode(t *testing.T) {
	j := read(t, unpriced+"[[criteria]]\nenergy_code = \"90.1-2016\"\nspace = \"warehouse\"\n[[criteria]]\nenergy_code = \"iecc-2021-area-warehouse\"\nname = \"city\"\n"+
		"[[criteria]]\nname = \"lean\"\nstatistic = \"power_density\"\nat_most = 6\n")
	a, b, own := j.Criteria[len(j.Criteria)-3], j.Criteria[len(j.Criteria)-2], j.Criteria[len(j.Criteria)-1]
	assert.Equal(t, []any{"ashrae901-2016-area-warehouse", levels.WholeRoom, levels.PowerDensity, 0.48, levels.WattsPerSquareFoot},
		[]any{a.Level, a.Grid, a.Statistic, a.Required, a.Unit}, "ASHRAE 90.1-2016, building area method: 0.48 W/ft2")
	assert.Equal(t, []any{"city", 0.45}, []any{b.Name, b.Required})
	assert.Equal(t, []any{levels.WholeRoom, 6.0, levels.WattsPerSquareMeter}, []any{own.Grid, own.Required, own.Unit})
	assert.NotContains(t, keysOf(j), "criteria[4].grid")
}

// What the room is says which limit of an edition is meant, space by space first; where the list has none nothing else is taken for it.
func TestEnergyCodeOfASpace(t *testing.T) {
	const code = "[[criteria]]\nenergy_code = \"90.1-2016\"\n"
	of := func(space string) string {
		return replaced(t, unpriced, "[room]", "[room]\nspace = \""+space+"\"") + code
	}
	for space, want := range map[string]string{"warehouse-bulky": "ashrae901-2016-space-warehouse-storage-medium-to-bulky-items",
		"manufacturing-extra-high-bay": "ashrae901-2016-area-manufacturing-facility", "loading-dock": "ashrae901-2016-space-loading-dock-interior"} {
		j := read(t, of(space))
		assert.Equal(t, want, j.Criteria[len(j.Criteria)-1].Level)
		assert.Equal(t, space, j.Space.ID)
		assert.Contains(t, keysOf(j), "criteria[2].space")
	}
	_, err := job.Read("dock.toml", []byte(of("retail-sales")), open)
	assert.ErrorContains(t, err, `dock.toml:64:15: criteria[2].energy_code: "90.1-2016" has no limit in the list for retail-sales, want statistic = "power_density"`)
	assert.Nil(t, read(t, sound).Space)
}

func TestTemperaturePoints(t *testing.T) {
	j := read(t, replaced(t, sound, "losses = {", "temperature_points = [[0, 0.6], [25, 1.0]]\nlosses = {"))
	assert.Equal(t, []losses.OutputPoint{{AmbientCelsius: 0, RelativeOutput: 0.6}, {AmbientCelsius: 25, RelativeOutput: 1}}, j.Proposed.OutputPoints)
	assert.Nil(t, j.Existing.OutputPoints)
}

func TestRelamping(t *testing.T) {
	assert.Equal(t, 16000.0, read(t, sound).Proposed.Care.RelampHours)
	assert.Zero(t, read(t, replaced(t, sound, "relamp_hours = 16000.0\n", "")).Proposed.Care.RelampHours)
	spot := read(t, replaced(t, sound, "relamp_hours = 16000.0\n", "relamp_hours = 16000.0\nrelamping = \"spot\"\n"))
	assert.Zero(t, spot.Proposed.Care.RelampHours)
	assert.Contains(t, spot.Warnings[0], "relamp_hours counts for nothing")
}

// wrongMoney are mistakes in money, facts, egress and codes.
var wrongMoney = []wrong{
	{`title = "bay"`, "state = \"XX\"\ntitle = \"bay\"", `dock.toml:1:9: state: is "XX", want the two letters of a state of the US, as CA`},
	{`title = "bay"`, "date = \"30.4.2026\"\ntitle = \"bay\"", `dock.toml:1:8: date: is the text "30.4.2026", want a day as "2026-04-30"`},
	{`title = "bay"`, "date = 7\ntitle = \"bay\"", `dock.toml:1:8: date: is 7, want a day as "2026-04-30"`},
	{`title = "bay"`, "north = 400\ntitle = \"bay\"", `dock.toml:1:9: north: is 400, want a number from -360 to 360`},
	{priced, "[energy]\nprice_per_kwh = 0.1\naverage_price_per_kwh = 0.1\n",
		`dock.toml:64:25: energy.average_price_per_kwh: stands beside price_per_kwh, want one of the two: the average price holds demand and fixed charges already`},
	{priced, "[energy]\ndemand_months = 13\n", `dock.toml:63:17: energy.demand_months: is 13, want a number from 0 to 12`},
	{priced, "[energy]\nco2_kg_per_kwh = 0.5\n", `dock.toml:62:2: energy.co2_rate: is missing, want the name and year of the rate, as "utility's marginal rate, 2025"`},
	{priced, "[energy]\nco2_rate = \"x\"\n", `dock.toml:62:2: energy.co2_kg_per_kwh: is missing, want the rate that co2_rate names`},
	{`title = "bay"`, "currency = \"usd\"\ntitle = \"bay\"", `dock.toml:1:12: currency: is "usd", want its three letters, as USD or CAD`},
	{priced, "[energy]\nheating_cooling_factor = 1.1\n", `dock.toml:63:26: energy.heating_cooling_factor: is 1.1, want a number from -0.9 to 1`},
	{priced, "[costs]\n", `dock.toml:62:2: costs.lines: is missing, want what the swap costs, [["material", 9200.0], ["labor", 6400.0]]`},
	{priced, "[costs]\nlines = []\n", `dock.toml:63:1: costs.lines: is a list of 0, want a list of 1 to 1000 pairs of a text and a number`},
	{`title = "bay"`, "costs = 9\ntitle = \"bay\"", `dock.toml:1:9: costs: is 9, want a table, [costs]`},
	{priced, "[costs]\nlines = [[\"material\", -1], [\"labor\"], [\" \", 1], [1, \"labor\"]]\n", "dock.toml:63:23: costs.lines[0][1]: is -1, want a number from 0 to 1e12\n" +
		"dock.toml:63:29: costs.lines[1]: is a list of 1, want a text and a number\n" +
		"dock.toml:63:40: costs.lines[2][0]: is blank, want a text\n" +
		"dock.toml:63:50: costs.lines[3][0]: is 1, want a text in quotes\n" +
		"dock.toml:63:53: costs.lines[3][1]: is the text \"labor\", want a number from 0 to 1e12"},
	{priced, "[energy]\ninstalled_cost = 1\n[costs]\nlines = [[\"material\", 1]]\n", `dock.toml:65:1: costs.lines: stand beside installed_cost in [energy], want one of the two: installed_cost is then their sum`},
	{priced, "[costs]\nlines = [[\"material\", 1]]\n[proposed.costs]\ninstalled_cost = 1\n", `dock.toml:63:1: costs.lines: stand beside installed_cost in [proposed.costs], want one of the two: installed_cost is then their sum`},
	{priced, "[[rebates]]\n", "dock.toml:62:3: rebates[0].per: is missing, want what it is paid for: \"lamp\", \"luminaire\", \"kwh\" saved in a year or \"kw\" saved\n" +
		"dock.toml:62:3: rebates[0].amount: is missing, want what is paid for each"},
	{priced, "[[rebates]]\nper = \"kWh\"\namount = -1\nat_most = -1\nat_most_share_of_cost = 1.5\n", "dock.toml:63:7: rebates[0].per: \"kWh\" is not known, want one of lamp, luminaire, kwh, kw (kwh?)\n" +
		"dock.toml:64:10: rebates[0].amount: is -1, want a number from 0 to 1e12\n" +
		"dock.toml:65:11: rebates[0].at_most: is -1, want a number from 0 to 1e12\n" +
		"dock.toml:66:25: rebates[0].at_most_share_of_cost: is 1.5, want a number from 0 to 1"},
	{priced, "[[rebates]]\nper = \"kwh\"\namount = 1\nat_most_share_of_cost = 0.5\n",
		`dock.toml:65:25: rebates[0].at_most_share_of_cost: has no cost to be a share of, want energy.installed_cost or costs.lines beside it`},
	{priced, "[rebates]\nper = \"kwh\"\namount = 1\n", `dock.toml:62:2: rebates: is a table, want one or more tables, [[rebates]]`},
	{priced, "[life_cycle]\nyears = 41\n", `dock.toml:63:9: life_cycle.years: is 41, want a whole number from 1 to 40`},
	{priced, "[life_cycle]\ndiscount_rate = 3\n", `dock.toml:63:17: life_cycle.discount_rate: is 3, want a number from 0 to 0.5`},
	{priced, path + "light_share = 2\n", `dock.toml:70:15: egress.light_share: is 2, want a number from 0.001 to 1`},
	{priced, "[egress]\n",
		"dock.toml:62:2: egress.luminaires: is missing, want the numbers of the luminaires that stay lit, 1 for the first of the layout, counted along x, then row by row\n" +
			"dock.toml:62:2: egress.grid: is missing, want the path out: the name of one of the [[grids]], at the floor"},
	{priced, "[egress]\nluminaires = [9]\ngrid = \"dock\"\n", `dock.toml:63:1: egress.luminaires: names luminaire 9, want a number up to 8, that each system has`},
	{priced, "[egress]\nluminaires = [2, 2]\ngrid = \"dock\"\n", `dock.toml:63:1: egress.luminaires: names luminaire 2 twice, want each once`},
	{priced, "[egress]\nluminaires = [1.5]\ngrid = \"dock\"\n", `dock.toml:63:15: egress.luminaires[0]: is 1.5, want a whole number from 1 to 100000`},
	{priced, "[egress]\nluminaires = [1]\ngrid = \"doc\"\n", `dock.toml:64:8: egress.grid: "doc" is not known, want one of work plane, north face, dock (dock?)`},
	{priced, "[egress]\nluminaires = [1]\ngrid = \"dock\"\nlevel = \"ibc-emergancy\"\n",
		`dock.toml:65:9: egress.level: "ibc-emergancy" is not in the list of levels, want ibc-emergency, perhaps; an id of ` + "`lampswap levels`"},
	{priced, "[[criteria]]\nenergy_code = \"90.1-2016\"\nspace = \"Attic\"\n",
		`dock.toml:64:9: criteria[2].space: "Attic" is no space of 90.1-2016, want one of "Warehouse", "Warehouse storage, medium to bulky items", "Warehouse storage, fine or smaller items", "Storage room <50 ft2", "Storage room 50 to 1000 ft2", "Storage room, other", "Loading dock, interior", "Manufacturing, low bay", "Manufacturing, high bay", "Manufacturing facility"`},
	{priced, "[[criteria]]\nenergy_code = \"90.1-1999\"\n", `dock.toml:62:3: criteria[2].space: is missing, want what the limit is for: [room] space, or ` +
		`one of "Warehouse", "Warehouse storage, medium to bulky items", "Warehouse storage, fine or smaller items"`},
	{`work_plane = 0.8`, `space = "office"`, `dock.toml:7:9: room.space: "office" is not in the list of spaces, want office-enclosed, office-open, lobby-post-office, post-office-sorting, perhaps; ` +
		"an id of `lampswap levels --spaces`"},
	{`work_plane = 0.8`, `space = 7`, `dock.toml:7:9: room.space: is 7, want a text in quotes`},
	{priced, "[[criteria]]\nenergy_code = \"90.1-1066\"\n",
		`dock.toml:63:15: criteria[2].energy_code: "90.1-1066" is not known, want an edition: one of ashrae-90.1-1989, ashrae-90.1-1999, ashrae-90.1-2001, ashrae-90.1-2004, ashrae-90.1-2007, ashrae-90.1-2010, ashrae-90.1-2013, ashrae-90.1-2016, ashrae-90.1-2019, ashrae-90.1-2022, iecc-2006, iecc-2009, iecc-2012, iecc-2015, iecc-2018, iecc-2021, iecc-2024, washington-local-energy-code-unknown`},
	{priced, "[[criteria]]\nstatistic = \"power_density\"\nat_most = 1\nname = \"x\"\ngrid = \"dock\"\n",
		`dock.toml:66:8: criteria[2].grid: "dock" stands beside power_density, want no grid: it is of the whole room`},
	{"[upkeep]", "[proposed.costs]\nballast_cost = 60\n[upkeep]",
		`dock.toml:33:2: proposed.costs.ballast_life_hours: is missing, want how long a ballast burns before it is replaced, beside ballast_cost`},
	{"losses = {", "temperature_points = [[0, 0.6]]\nlosses = {",
		`dock.toml:32:1: proposed.temperature_points: has 1, want at least two points of ambient and relative output`},
	{"losses = {", "temperature_points = [[0, 0.6], [-1, 1.0]]\nlosses = {",
		`dock.toml:32:34: proposed.temperature_points[1]: ambient is not above that of the point before, want ambients that rise from point to point`},
	{"relamp_hours = 16000.0", "relamping = \"group\"", `dock.toml:33:2: upkeep.relamp_hours: is missing, want the hours after which the lamps are replaced as a group`},
	{`title = "bay"`, "prepared_by = 7\nprepared_for = \"\"\ntitle = \"bay\"", "dock.toml:1:15: prepared_by: is 7, want a text in quotes\n" +
		"dock.toml:2:16: prepared_for: is blank, want a text"},
	{`title = "bay"`, "state = 7\nnorth = \"up\"\ntitle = \"bay\"", "dock.toml:1:9: state: is 7, want a text in quotes\n" +
		"dock.toml:2:9: north: is the text \"up\", want a number from -360 to 360"},
	{priced, "[energy]\nprice_per_kwh = -0.1\naverage_price_per_kwh = \"low\"\ndemand_price_per_kw_month = -9\n" +
		"demand_share = 1.1\nco2_kg_per_kwh = 3.1\nco2_rate = 2025\ninstalled_cost = true\nrebate = -1\n",
		"dock.toml:63:17: energy.price_per_kwh: is -0.1, want a number from 0 to 1e12\n" +
			"dock.toml:64:25: energy.average_price_per_kwh: is the text \"low\", want a number from 0 to 1e12\n" +
			"dock.toml:65:29: energy.demand_price_per_kw_month: is -9, want a number from 0 to 1e12\n" +
			"dock.toml:66:16: energy.demand_share: is 1.1, want a number from 0 to 1\n" +
			"dock.toml:67:18: energy.co2_kg_per_kwh: is 3.1, want a number from 0 to 3\n" +
			"dock.toml:68:12: energy.co2_rate: is 2025, want a text in quotes\n" +
			"dock.toml:69:18: energy.installed_cost: is true, want a number from 0 to 1e12\n" +
			"dock.toml:70:10: energy.rebate: is -1, want a number from 0 to 1e12"},
	{priced, "[energy]\nrebate = 50\n[proposed.costs]\nrebate = 50\n", `dock.toml:63:10: energy.rebate: stands in [proposed.costs] too, want one of the two`},
	{priced, "[life_cycle]\nyears = 10.5\ndiscount_rate = -0.01\nenergy_escalation = 0.21\n",
		"dock.toml:63:9: life_cycle.years: is 10.5, want a whole number from 1 to 40\n" +
			"dock.toml:64:17: life_cycle.discount_rate: is -0.01, want a number from 0 to 0.5\n" +
			"dock.toml:65:21: life_cycle.energy_escalation: is 0.21, want a number from -0.2 to 0.2"},
	{priced, "[[criteria]]\nenergy_code = 90.1\nspace = 7\nname = 7\n", "dock.toml:63:15: criteria[2].energy_code: is 90.1, want a text in quotes\n" +
		"dock.toml:64:9: criteria[2].space: is 7, want a text in quotes\n" +
		"dock.toml:65:8: criteria[2].name: is 7, want a text in quotes"},
	{priced, "[[criteria]]\nlevel = \"fmr-storage\"\nname = \" \"\n", `dock.toml:64:8: criteria[2].name: is blank, want a text`},
	{priced, "[egress]\nluminaires = []\ngrid = 1\nlevel = 1\nlight_share = 0\n",
		"dock.toml:63:1: egress.luminaires: is a list of 0, want a list of 1 to 100000 whole numbers\n" +
			"dock.toml:64:8: egress.grid: is 1, want a text in quotes\n" +
			"dock.toml:65:9: egress.level: is 1, want a text in quotes\n" +
			"dock.toml:66:15: egress.light_share: is 0, want a number from 0.001 to 1"},
	{priced, "[egress]\nluminaires = 1\ngrid = \"dock\"\n", `dock.toml:63:14: egress.luminaires: is 1, want a list of 1 to 100000 whole numbers`},
	{"[upkeep]", "[proposed.costs]\ninstalled_cost = -1\nrebate = \"none\"\nlamp_price = -1\nlamp_labor = -1\nlamp_disposal = -1\n" +
		"cleaning = -1\nballast_cost = -1\nballast_life_hours = 0\nother_per_year = -1\nresidual = nan\n[upkeep]",
		"dock.toml:34:18: proposed.costs.installed_cost: is -1, want a number from 0 to 1e12\n" +
			"dock.toml:35:10: proposed.costs.rebate: is the text \"none\", want a number from 0 to 1e12\n" +
			"dock.toml:36:14: proposed.costs.lamp_price: is -1, want a number from 0 to 1e12\n" +
			"dock.toml:37:14: proposed.costs.lamp_labor: is -1, want a number from 0 to 1e12\n" +
			"dock.toml:38:17: proposed.costs.lamp_disposal: is -1, want a number from 0 to 1e12\n" +
			"dock.toml:39:12: proposed.costs.cleaning: is -1, want a number from 0 to 1e12\n" +
			"dock.toml:40:16: proposed.costs.ballast_cost: is -1, want a number from 0 to 1e12\n" +
			"dock.toml:41:22: proposed.costs.ballast_life_hours: is 0, want a number from 1 to 1000000\n" +
			"dock.toml:42:18: proposed.costs.other_per_year: is -1, want a number from 0 to 1e12\n" +
			"dock.toml:43:12: proposed.costs.residual: is NaN, want a number from 0 to 1e12"},
	{"[upkeep]", "[proposed.costs]\nlamp_price = inf\nballast_life_hours = 1e7\nlamp_prize = 3\n[upkeep]",
		"dock.toml:34:14: proposed.costs.lamp_price: is +Inf, want a number from 0 to 1e12\n" +
			"dock.toml:35:22: proposed.costs.ballast_life_hours: is 1e+07, want a number from 1 to 1000000\n" +
			"dock.toml:36:14: proposed.costs.lamp_prize: is not a known key, want lamp_price, perhaps"},
	{"[upkeep]", "[replacement]\n[upkeep]",
		`dock.toml:33:2: replacement.photometry: is missing, want an LM-63 file beside the job file, or fixture = one of industrial-slotted, industrial-solid, strip-4in, strip-5in, strip-reflector, wraparound`},
	{"losses = {", "temperature_points = [[0, 0.6], [25, -1.0]]\nlosses = {",
		`dock.toml:32:34: proposed.temperature_points[1]: relative output is -1, want a number above 0 and up to 1.2, 1 at the ambient of the lamp's rating`},
	{"losses = {", "temperature_points = [[0, 0.6], [300, 1.0]]\nlosses = {", `dock.toml:32:34: proposed.temperature_points[1][0]: is 300, want a number from -100 to 250`},
	{"losses = {", "temperature_points = 0.6\nlosses = {", `dock.toml:32:22: proposed.temperature_points: is 0.6, want a list of 1 to 100 lists of numbers`},
	{"relamp_hours = 16000.0", "relamp_hours = 16000.0\nrelamping = \"never\"", `dock.toml:36:13: upkeep.relamping: "never" is not known, want one of group, spot`},
	{"{ lamp_lumen_depreciation = 0.9 }", "{ luminaire_dirt_depreciation = 0, room_surface_dirt_depreciation = -1, lamp_burnout = 1.6, temperature = nan, voltage = \"230\", other = 0.0 }",
		"dock.toml:32:42: proposed.losses.luminaire_dirt_depreciation: is 0, want a number from 0.001 to 1.5\n" +
			"dock.toml:32:78: proposed.losses.room_surface_dirt_depreciation: is -1, want a number from 0.001 to 1.5\n" +
			"dock.toml:32:97: proposed.losses.lamp_burnout: is 1.6, want a number from 0.001 to 1.5\n" +
			"dock.toml:32:116: proposed.losses.temperature: is NaN, want a number from 0.001 to 1.5\n" +
			"dock.toml:32:131: proposed.losses.voltage: is the text \"230\", want a number from 0.001 to 1.5\n" +
			"dock.toml:32:146: proposed.losses.other: is 0, want a number from 0.001 to 1.5"},
}

// Lamps are judged at one basis, which follows from whether all are replaced at an interval where the job does not say; each system may be kept up in
// a way of its own.
func TestJudgedAt(t *testing.T) {
	const relamp = "relamp_hours = 16000.0\n"
	own := func(system, keys string) string {
		return "[" + system + ".upkeep]\n" + keys + "[upkeep]\nhours_per_year"
	}
	const at = "[upkeep]\nhours_per_year"
	for name, c := range map[string]struct {
		pairs []string
		want  losses.Basis
		hours [2]float64 // of relamping
	}{
		"both at an interval":    {nil, losses.Basis{At: losses.End}, [2]float64{16000, 16000}},
		"none":                   {[]string{relamp, ""}, losses.Basis{}, [2]float64{}},
		"one of its own":         {[]string{relamp, "", at, own("existing", "relamp_hours = 9000\n")}, losses.Basis{}, [2]float64{9000, 0}},
		"each its own":           {[]string{relamp, "", at, own("existing", "relamp_hours = 9000\n[proposed.upkeep]\nrelamp_hours = 30000\n")}, losses.Basis{At: losses.End}, [2]float64{9000, 30000}},
		"one for all but one":    {[]string{at, own("existing", "relamp_hours = 9000\n")}, losses.Basis{At: losses.End}, [2]float64{9000, 16000}},
		"as they fail":           {[]string{relamp, relamp + "relamping = \"spot\"\n"}, losses.Basis{}, [2]float64{}},
		"mid-life all the same":  {[]string{relamp, relamp + "judged_at = \"mid-life\"\n"}, losses.Basis{}, [2]float64{16000, 16000}},
		"end all the same":       {[]string{relamp, "judged_at = \"end\"\n"}, losses.Basis{At: losses.End}, [2]float64{}},
		"after hours":            {[]string{relamp, "judged_at = 8000\n"}, losses.Basis{At: losses.AtHours, Hours: 8000}, [2]float64{}},
		"after hours, as a part": {[]string{relamp, relamp + "judged_at = 0.0\n"}, losses.Basis{At: losses.AtHours}, [2]float64{16000, 16000}},
	} {
		j := read(t, replaced(t, sound, c.pairs...))
		assert.Equal(t, c.want, j.Upkeep.JudgedAt, name)
		assert.Equal(t, c.hours, [2]float64{j.Existing.Care.RelampHours, j.Proposed.Care.RelampHours}, name)
		listed := slices.ContainsFunc(j.Defaults, func(d job.Default) bool { return d.Key == "upkeep.judged_at" })
		assert.Equal(t, !strings.Contains(strings.Join(c.pairs, ""), "judged_at"), listed, name)
	}
	clean := read(t, replaced(t, sound, at, own("proposed", "clean_months = 6\n")))
	assert.Equal(t, []float64{2, 0.5}, []float64{clean.Existing.Care.CleanYears, clean.Proposed.Care.CleanYears})
}

// wrongCostsOfGroups are mistakes in what a system of several groups costs as a whole.
var wrongCostsOfGroups = []wrong{
	{"[energy]\n", "[costs.proposed]\ninstalled_cost = -1\nrebate = \"none\"\nother_per_year = -2\nresidual = true\n[energy]\n", `dock.toml:63:18: costs.proposed.installed_cost: is -1, want a number from 0 to 1e12
dock.toml:64:10: costs.proposed.rebate: is the text "none", want a number from 0 to 1e12
dock.toml:65:18: costs.proposed.other_per_year: is -2, want a number from 0 to 1e12
dock.toml:66:12: costs.proposed.residual: is true, want a number from 0 to 1e12`},
	{"[energy]\n", "[costs.proposed]\ninstalled_cost = 900\nrebate = 1\n[energy]\ninstalled_cost = 900\nrebate = 2\n", `dock.toml:63:18: costs.proposed.installed_cost: stands in [energy] too, want one of the two
dock.toml:64:10: costs.proposed.rebate: stands in [energy] too, want one of the two`},
	{"[energy]\n", "[costs]\nlines = [[\"work\", 5]]\nproposed = { installed_cost = 900 }\n[energy]\n", `dock.toml:63:1: costs.lines: stand beside installed_cost in [costs.proposed], want one of the two: installed_cost is then their sum`},
	{"[energy]\n", "[costs.replacement]\ninstalled_cost = 900\n[energy]\n", `dock.toml:62:2: costs.replacement: is not a known key, want one of existing, lines, proposed`},
	{"[energy]\n", "[costs]\nexisting = 7\nproposed = [1]\n[energy]\n", `dock.toml:63:12: costs.existing: is 7, want a table, [costs.existing]
dock.toml:64:1: costs.proposed: is a list of 1, want a table, [costs.proposed]`},
	{"[energy]\n", "[costs.existing]\nlamp_price = 7\n[energy]\n", `dock.toml:63:14: costs.existing.lamp_price: is not a known key, want one of installed_cost, other_per_year, rebate, residual`},
}
