package whole_test

import (
	"context"
	"fmt"
	"os"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry"
	"lampswap/photometry/building"
	"lampswap/photometry/job"
	"lampswap/photometry/study"
	"lampswap/photometry/whole"
	"lampswap/photometry/wording"
)

const rounding = 1e-12

// shared are kinds, upkeep and money of a building, and of a job alike. Invented.
const (
	shared = `[kinds.strip]
photometry = "a.ies"
lamps = 2
lamp_lumens = 6000.0
ballast_factor = 0.9
input_watts = 158.0
maintenance_category = "I"
[kinds.strip.costs]
lamp_price = 6.0
[kinds.tandem]
photometry = "a.ies"
lamps = 4
lamp_lumens = 2900.0
ballast_factor = 0.88
input_watts = 112.0
maintenance_category = "I"
[kinds.tandem.costs]
lamp_price = 3.0
[upkeep]
hours_per_year = 4000.0
relamp_hours = 12000.0
clean_months = 24.0
[energy]
price_per_kwh = 0.10
demand_price_per_kw_month = 9.0
heating_cooling_factor = 0.1
rebate = 40.0
[life_cycle]
years = 12
[costs]
lines = [["material", 9000.0], ["labor", 1000.0]]
[[rebates]]
per = "lamp"
amount = 1.0
[[rebates]]
per = "kwh"
amount = 0.05
at_most_share_of_cost = 0.5
`
	// hall is a room of 50 two-lamp strips that become tandems of four.
	hall = `[room]
length = 80.0
width = 60.0
height = 16.0
space = "warehouse-bulky"
[calculation]
spacing = 10.0
interreflection = false
[[groups]]
existing = "strip"
proposed = "tandem"
rows = 5
columns = 10
mounting_height = 14.0
failed = 5
control = "occupancy"
control_saving = 0.25
[[criteria]]
name = "lease"
statistic = "average"
at_least = %s
`
)

// inSpace turns a room's tables into those of a space in place.
func inSpace(name, tables string) string {
	return "[[spaces]]\nname = \"" + name + "\"\n" + strings.NewReplacer("\n[[", "\n[[spaces.", "\n[", "\n[spaces.", "[room]", "[spaces.room]", "\n[[spaces.spaces.", "\n[[spaces.").Replace(tables)
}

func files(t *testing.T) job.Files {
	t.Helper()
	ies, err := os.ReadFile("../../cmd/lampswap/internal/jobs/demo/strip-4x4ft-t8.ies")
	require.NoError(t, err)
	return func(string) ([]byte, error) { return ies, nil }
}

func read(t *testing.T, text string) *building.Building {
	t.Helper()
	b, err := building.Read("works.toml", []byte(text), files(t), nil)
	require.NoError(t, err)
	return b
}

func run(t *testing.T, text string) *whole.Result {
	t.Helper()
	r, err := whole.Run(context.Background(), read(t, text), nil)
	require.NoError(t, err)
	return r
}

// A building of one space answers as its job does: the light, the energy, the money, to the bit.
func TestOneSpaceAnswersAsItsJob(t *testing.T) {
	room := fmt.Sprintf(hall, "20.0")
	j, err := job.Read("job.toml", []byte("title = \"hall\"\nstate = \"OH\"\n"+room+shared), files(t))
	require.NoError(t, err)
	of, err := study.Run(context.Background(), j, nil)
	require.NoError(t, err)
	r := run(t, "title = \"Works\"\nstate = \"OH\"\n"+shared+inSpace("hall", room))
	s := r.Spaces[0]
	assert.Equal(t, of.Existing().Grids, s.Existing().Grids)
	assert.Equal(t, of.Proposed().Grids, s.Proposed().Grids)
	assert.Equal(t, fmt.Sprint(of.Verdicts), fmt.Sprint(s.Verdicts)) // in which NaN is NaN
	assert.Equal(t, of.Met(), r.Met())
	assert.Equal(t, wording.Verdict(of), wording.Building(r))
	assert.Equal(t, of.PowerLimits(), s.PowerLimits())
	assert.Equal(t, of.Energy.Rebates, r.Whole.Energy.Rebates)
	assert.Equal(t, of.Energy.Emissions, r.Whole.Energy.Emissions)
	assert.Equal(t, of.Energy, r.Whole.Energy)
	assert.Equal(t, fmt.Sprintf("%+v", of.LifeCycle.Ways[0]), fmt.Sprintf("%+v", r.Whole.LifeCycle.Ways[0]))
	assert.Equal(t, of.LifeCycle.Ways[1], r.Whole.LifeCycle.Ways[1])
	assert.Equal(t, wording.Cautions(of), wording.Cautions(r.Whole))
	assert.Equal(t, of.Proposed().PowerDensity, r.Totals.Proposed().Density)
}

// By hand: 50 two-lamp strips of 158 W are 100 lamps and 50 ballasts out; 50 tandems of four are 200 lamps, 50 ballasts, 400 sockets in.
func TestTakeOffOfFiftyTandems(t *testing.T) {
	r := run(t, "title = \"Works\"\n"+shared+inSpace("hall", fmt.Sprintf(hall, "20.0")))
	require.Len(t, r.Schedule, 2)
	strip, tandem := r.Schedule[0], r.Schedule[1]
	assert.Equal(t, []any{"strip", 50, 0, 100, 50, 0, 0, 0, true, true}, []any{strip.Name, strip.By[0], strip.By[1], strip.LampsOut, strip.BallastsOut, strip.Lamps, strip.Ballasts,
		strip.Sockets, strip.Mercury(), strip.MayHoldPCB()})
	assert.Equal(t, []any{"tandem", 0, 50, 200, 50, 400, 0, 0, 0, 0}, []any{tandem.Name, tandem.By[0], tandem.By[1], tandem.Lamps, tandem.Ballasts, tandem.Sockets, tandem.LampsOut,
		tandem.BallastsOut, tandem.Mounted, tandem.Dismounted})
	assert.InEpsilon(t, 50*8*photometry.Foot, tandem.Length, 0.01) // the file's opening: about 8 ft
	require.NotNil(t, tandem.LampsCost)
	assert.InEpsilon(t, 200*3.0, *tandem.LampsCost, rounding, "lamps at 3")
	assert.Nil(t, strip.DisposalCost, "nobody tells what it costs")
	assert.Nil(t, strip.LampsCost, "none come in")
	words := strings.Join(wording.TakeOff(r), "\n")
	assert.Contains(t, words, "prices are of lamps and of their disposal")
	assert.Contains(t, words, "100 lamps to dispose of hold mercury")
	assert.Contains(t, words, "50 ballasts to dispose of may hold PCB")
}

// Kinds of one content are one row with their names joined; one name of two contents is two rows; what stays and what is taken down is told.
func TestScheduleOfKinds(t *testing.T) {
	room := strings.NewReplacer("failed = 5\n", "", "rows = 5", "rows = 1", "control = \"occupancy\"\ncontrol_saving = 0.25\n", "").Replace(fmt.Sprintf(hall, "20.0"))
	same := "[spaces.kinds.row]\nphotometry = \"a.ies\"\nlamps = 4\nlamp_lumens = 2900.0\nballast_factor = 0.88\ninput_watts = 112.0\nmaintenance_category = \"V\"\n"
	other := strings.NewReplacer("kinds.row", "kinds.tandem", "2900.0", "2700.0").Replace(same)
	r := run(t, "title = \"Works\"\n"+shared+inSpace("hall", room)+
		inSpace("shop", strings.Replace(room, "proposed = \"tandem\"", "proposed = \"row\"", 1))+same+
		inSpace("yard", room)+other+
		inSpace("store", strings.Replace(room, "proposed = \"tandem\"", "proposed = \"strip\"", 1))+
		inSpace("shed", strings.Replace(room, "existing = \"strip\"\nproposed = \"tandem\"", "existing = \"strip\"\nproposed = \"none\"", 1))+
		"[[spaces.groups]]\nexisting = \"none\"\nproposed = \"tandem\"\ncount = 3\nmounting_height = 12.0\n")
	names := map[string]whole.Kind{}
	for _, k := range r.Schedule {
		names[k.Name] = k
	}
	require.Len(t, names, 3, "%v", r.Schedule)
	assert.Nil(t, names["tandem, row"].LampsCost, "of the row the price is not told")
	strip, tandem, dim := names["strip"], names["tandem, row"], names["tandem"]
	assert.Equal(t, []int{50, 10, 80, 10}, []int{strip.By[0], strip.By[1], strip.LampsOut, strip.Dismounted}, "ten stay, ten are taken down")
	assert.Equal(t, []int{23, 92, 184, 3}, []int{tandem.By[1], tandem.Lamps, tandem.Sockets, tandem.Mounted})
	assert.Equal(t, []int{10, 40}, []int{dim.By[1], dim.Lamps})
}

// The whole is the sum of its spaces, copies too, whatever the number of processors; equal rooms have equal answers.
func TestTheWholeIsTheSum(t *testing.T) {
	text := "title = \"Works\"\n" + shared + strings.Replace(inSpace("hall", fmt.Sprintf(hall, "20.0")), "name = \"hall\"", "name = \"hall\"\ncopies = 3", 1) +
		inSpace("shop", strings.Replace(fmt.Sprintf(hall, "900.0"), "length = 80.0", "length = 60.0", 1)) + inSpace("store", fmt.Sprintf(hall, "20.0"))
	r := run(t, text)
	kw, kWh, saving, cost := 0.0, 0.0, 0.0, 0.0
	for _, s := range r.Spaces {
		kw += float64(s.Copies) * s.Energy.ExistingKW
		kWh += float64(s.Copies) * s.Energy.SavedKWhPerYear
		saving += float64(s.Copies) * r.SavingOf(s)
	}
	assert.InEpsilon(t, kw, r.Totals.Sides[0].KW, rounding)
	assert.InEpsilon(t, kWh, r.Whole.Energy.SavedKWhPerYear, rounding)
	assert.InEpsilon(t, saving, *r.Whole.Energy.SavingPerYear, rounding)
	assert.InEpsilon(t, (4*80*60+60*60)*photometry.Foot*photometry.Foot, r.Totals.FloorArea, rounding)
	assert.Equal(t, []int{5, 4, 1, 0, 250}, []int{r.Totals.Spaces, r.Totals.Proposed().Met, r.Totals.Proposed().Missed, r.Totals.Unjudged, r.Totals.Sides[0].Luminaires})
	assert.False(t, r.Met())
	assert.Contains(t, wording.Building(r), "Of 5 spaces the proposed lighting is enough in 4. Enough: hall (3 alike), store. NOT enough: shop misses \"lease\"")
	for _, step := range r.Order {
		cost += step.Cost
	}
	last := r.Order[len(r.Order)-1]
	assert.InEpsilon(t, *r.Whole.Energy.NetCost, cost, rounding, "the cost is shared out whole")
	assert.InEpsilon(t, *r.Whole.Energy.NetCost, last.CostSoFar, rounding)
	assert.InEpsilon(t, r.Totals.Proposed().KW, last.KWThen, rounding)
	assert.Equal(t, 5, last.SpacesSoFar)
	for _, processors := range []int{1, 8} {
		before := runtime.GOMAXPROCS(processors)
		again := run(t, text)
		runtime.GOMAXPROCS(before)
		for i := range r.Spaces {
			assert.Equal(t, r.Spaces[i].Proposed().Grids, again.Spaces[i].Proposed().Grids)
		}
		assert.Equal(t, r.Totals, again.Totals)
		assert.Equal(t, r.Whole.Energy, again.Whole.Energy)
	}
}

// By hand: the hall of 4,800 ft2 may have 0.33 W/ft2 by ASHRAE 90.1-2022 (limits.csv); an office has no limit listed here, and counts in no sum.
func TestLimitsOfABuilding(t *testing.T) {
	office := strings.Replace(fmt.Sprintf(hall, "20.0"), "warehouse-bulky", "office-open", 1)
	r := run(t, "title = \"Works\"\n"+shared+inSpace("hall", fmt.Sprintf(hall, "20.0"))+inSpace("office", office))
	assert.Equal(t, []string{"office"}, r.Limits.Unknown)
	assert.True(t, r.Limits.Spaces[0].Known)
	assert.False(t, r.Limits.Spaces[1].Known)
	found := false
	for _, sum := range r.Limits.Sums {
		if sum.Edition == "ashrae-90.1-2022" {
			found = true
			assert.InEpsilon(t, 4800*0.33, sum.Allowed, rounding)
			assert.InEpsilon(t, 50*112.0, sum.Connected[1], rounding, "the hall's alone, all lit")
			assert.Equal(t, []string{"office"}, sum.Left)
			assert.False(t, sum.Met(sum.Connected[1]))
		}
	}
	assert.True(t, found)
	metric := run(t, "units = \"metric\"\ntitle = \"Works\"\n"+shared+inSpace("hall", strings.NewReplacer("80.0", "24.0", "60.0", "18.0", "16.0", "5.0", "14.0", "4.0", "10.0", "3.0").Replace(fmt.Sprintf(hall, "20.0"))))
	assert.Empty(t, metric.Limits.Sums, "no code of the United States elsewhere")
}

// With all phases on one day the net savings are those of the life cycle at a time; a later phase saves less by its years, by hand.
func TestPhases(t *testing.T) {
	noUpkeep := strings.NewReplacer("[kinds.strip.costs]\nlamp_price = 6.0\n", "", "[kinds.tandem.costs]\nlamp_price = 3.0\n", "").Replace(shared)
	text := "title = \"Works\"\n" + noUpkeep + inSpace("hall", fmt.Sprintf(hall, "20.0")) + inSpace("shop", fmt.Sprintf(hall, "31.0"))
	both := "[[phases]]\ndate = 2026-09-01\nspaces = [\"hall\", \"shop\"]\n"
	once := run(t, text+both)
	net, ok := once.PhasedNetSavings()
	require.True(t, ok)
	assert.InEpsilon(t, once.Whole.LifeCycle.Ways[1].Measures.NetSavings, net, 1e-9) // rounding, of sums year by year
	require.Len(t, once.Stages, 2)
	assert.InEpsilon(t, once.Totals.Sides[0].KW, once.Stages[0].KW, rounding)
	assert.InEpsilon(t, once.Totals.Proposed().KW, once.Stages[1].KW, rounding)
	assert.InEpsilon(t, *once.Whole.Energy.NetCost, once.Stages[1].CostSoFar, rounding)
	assert.InEpsilon(t, *once.Whole.Energy.SavingPerYear, once.Stages[1].SavingSoFar, rounding)

	late := run(t, text+"[[phases]]\ndate = 2026-09-01\nspaces = \"hall\"\n[[phases]]\ndate = 2056-09-01\nspaces = \"shop\"\n")
	later, _ := late.PhasedNetSavings()
	assert.InEpsilon(t, net/2, later, 1e-9, "two halls alike, of which one is done after the study") // rounding
	assert.Equal(t, []int{1, 1, 2}, []int{late.Stages[0].Met, late.Stages[0].Missed, late.Stages[2].Met}, "the dim shop is met once it is done")
	assert.InEpsilon(t, (late.Totals.Sides[0].KW+late.Totals.Proposed().KW)/2, late.Stages[1].KW, rounding)
	_, ok = run(t, text).PhasedNetSavings()
	assert.False(t, ok)
}

// A third system in some spaces only: the others count as proposed in it, which is said.
func TestAReplacementInSomeSpaces(t *testing.T) {
	third := strings.Replace(fmt.Sprintf(hall, "20.0"), "proposed = \"tandem\"\n", "proposed = \"tandem\"\nreplacement = \"strip\"\n", 1)
	r := run(t, "title = \"Works\"\n"+shared+inSpace("hall", third)+inSpace("shop", fmt.Sprintf(hall, "20.0")))
	require.Len(t, r.Whole.Energy.Accounts, 3)
	hall, shop := r.Spaces[0].Energy.Accounts, r.Spaces[1].Energy.Accounts
	assert.InEpsilon(t, hall[2].KW+shop[1].KW, r.Whole.Energy.Accounts[2].KW, rounding)
	assert.Contains(t, r.Building.Warnings, "replacement: shop: no replacement, so that they count in it as proposed")
}

// halves is a hall in two groups, of which the second is dim until it is done; its criterion wants both. Invented.
func halves(t *testing.T, phases string) *whole.Result {
	t.Helper()
	hall := strings.NewReplacer("failed = 5\n", "", "control = \"occupancy\"\ncontrol_saving = 0.25\n", "", "rows = 5", "rows = 2", "mounting_height = 14.0", "mounting_height = 14.0\narea = [0.0, 0.0, 80.0, 30.0]",
		"[[criteria]]", `[[groups]]
name = "north"
existing = "strip"
proposed = "tandem"
rows = 2
columns = 10
mounting_height = 14.0
area = [0.0, 30.0, 80.0, 60.0]
failed = [1, 2, 3, 4]
[[criteria]]`).Replace(fmt.Sprintf(hall, "25.0"))
	return run(t, "title = \"Works\"\n"+shared+strings.Replace(inSpace("hall", hall), "name = \"hall\"", "name = \"hall\"\ncopies = 2", 1)+phases)
}

// A group done before another: load, cost and light then are of what is done and of what hangs there still. By hand: of 40 luminaires 20 are done,
// half of the cost of 10,000, of the rebate of 40, and of that for 320 lamps; the rebate for energy goes by what is saved; what the groups save adds up.
func TestPhasesOfGroups(t *testing.T) {
	r := halves(t, "[[phases]]\ndate = 2026-09-01\ngroups = \"Hall: north\"\n[[phases]]\ndate = 2027-09-01\ngroups = [\"hall: group 1\"]\n")
	require.Len(t, r.Stages, 3)
	now, half, done := r.Stages[0], r.Stages[1], r.Stages[2]
	assert.Equal(t, [][]string{nil, {"hall: north"}, {"hall: group 1"}}, [][]string{now.Spaces, half.Spaces, done.Spaces})
	e := r.Whole.Energy
	north, all := 16*158.0-20*112, 36*158.0-40*112 // W saved
	assert.InEpsilon(t, 5000-20-80*2-e.Rebates[1].Paid*north/all, half.CostSoFar, rounding)
	assert.InEpsilon(t, *e.NetCost, done.CostSoFar, rounding)
	existing, proposed := r.Spaces[0].Space.Job.Existing, r.Spaces[0].Space.Job.Proposed
	assert.InEpsilon(t, 2*(existing.Find("group 1").Watts()+proposed.Find("north").Watts())/1000, half.KW, rounding)
	assert.InEpsilon(t, r.Totals.Sides[0].KW, now.KW, rounding)
	assert.InEpsilon(t, r.Totals.Proposed().KW, done.KW, rounding)
	assert.InEpsilon(t, *e.SavingPerYear, done.SavingSoFar, rounding)
	assert.Equal(t, []int{0, 2, 2}, []int{now.Met, half.Met, done.Met}, "the dark half is what is missed")

	other := halves(t, "[[phases]]\ndate = 2026-09-01\ngroups = [\"hall: group 1\"]\n[[phases]]\ndate = 2027-09-01\ngroups = \"hall: north\"\n")
	assert.InEpsilon(t, *e.SavingPerYear, half.SavingSoFar+other.Stages[1].SavingSoFar, rounding, "one half and the other")
	once, ok := halves(t, "[[phases]]\ndate = 2026-09-01\ngroups = [\"hall: group 1\", \"hall: north\"]\n").PhasedNetSavings()
	require.True(t, ok)
	whole, _ := halves(t, "[[phases]]\ndate = 2026-09-01\nspaces = \"hall\"\n").PhasedNetSavings()
	assert.InEpsilon(t, whole, once, rounding)
	never, _ := halves(t, "[[phases]]\ndate = 2026-09-01\ngroups = [\"hall: group 1\"]\n[[phases]]\ndate = 2066-09-01\ngroups = \"hall: north\"\n").PhasedNetSavings()
	later, _ := halves(t, "[[phases]]\ndate = 2026-09-01\ngroups = [\"hall: north\"]\n[[phases]]\ndate = 2066-09-01\ngroups = \"hall: group 1\"\n").PhasedNetSavings()
	assert.InEpsilon(t, whole, never+later, 1e-9, "after the study nothing counts") // rounding, of sums year by year
}

// Where all is taken down before anything new hangs the space is dark in between, and draws nothing.
func TestPhasesWithADarkOneBetween(t *testing.T) {
	swap := strings.NewReplacer("failed = 5\n", "", "control = \"occupancy\"\ncontrol_saving = 0.25\n", "", "proposed = \"tandem\"", "proposed = \"none\"").Replace(fmt.Sprintf(hall, "12.0"))
	text := "title = \"Works\"\n" + shared + inSpace("hall", swap) + "[[spaces.groups]]\nname = \"new\"\nexisting = \"none\"\nproposed = \"tandem\"\nrows = 5\ncolumns = 10\nmounting_height = 14.0\n"
	r := run(t, text+"[[phases]]\ndate = 2026-09-01\ngroups = \"hall: group 1\"\n[[phases]]\ndate = 2026-10-01\ngroups = \"hall: new\"\n")
	require.Len(t, r.Stages, 3)
	assert.Zero(t, r.Stages[1].KW)
	assert.Equal(t, []int{1, 0, 1}, []int{r.Stages[0].Met, r.Stages[1].Met, r.Stages[2].Met})
	assert.Equal(t, []int{0, 1, 0}, []int{r.Stages[0].Missed, r.Stages[1].Missed, r.Stages[2].Missed})
	assert.InEpsilon(t, r.Totals.Proposed().KW, r.Stages[2].KW, rounding)
}

// Spaces without criteria are not counted among those that the light is not enough in.
func TestSpacesWithoutCriteriaAreSetApart(t *testing.T) {
	open, _, _ := strings.Cut(hall, "[[criteria]]")
	text := "title = \"Works\"\n" + shared + inSpace("store", open) + inSpace("yard", open)
	assert.Contains(t, wording.Building(run(t, text)), "None of 2 spaces has a criterion of light. Light not judged, as no criterion is about it: store, yard.")
	text += inSpace("hall", fmt.Sprintf(hall, "900.0"))
	assert.Contains(t, wording.Building(run(t, text)), "Of 1 space with criteria of light, 3 in all, the proposed lighting is enough in 0. NOT enough: hall misses")
	text += inSpace("shop", fmt.Sprintf(hall, "20.0"))
	assert.Contains(t, wording.Building(run(t, text)), "Of 2 spaces with criteria of light, 4 in all, the proposed lighting is enough in 1.")
}
