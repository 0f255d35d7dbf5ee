package building_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry"
	"lampswap/photometry/building"
	"lampswap/photometry/job"
)

// works is a sound building of three spaces, two in place and one by the path of a job, on which the tests of their faults are built. Invented.
const works = `title = "Works"
units = "imperial"
[firm]
name = "Lamp Crew"
address = ["1 Dock Road", "Harbor"]
[kinds.strip]
fixture = "strip-4in"
lamp = "F96T12"
lamps = 2
ballast = "magnetic"
[kinds.tandem]
fixture = "strip-4in"
lamp = "F32T8/800"
lamps = 4
ballast = "is-normal"
[upkeep]
hours_per_year = 4000.0
clean_months = 24.0
ambient_temperature = 59.0
[energy]
price_per_kwh = 0.10
[costs]
lines = [["material", 900.0], ["labor", 100.0]]
[[rebates]]
per = "lamp"
amount = 1.0
[[spaces]]
name = "hall"
[spaces.room]
length = 60.0
width = 40.0
height = 16.0
[[spaces.groups]]
name = "all over"
existing = "strip"
proposed = "tandem"
rows = 2
columns = 4
mounting_height = 14.0
[[spaces]]
name = "office"
copies = 2
[spaces.room]
length = 30.0
width = 20.0
height = 9.0
[spaces.upkeep]
hours_per_year = 2600.0
[[spaces.groups]]
existing = "strip"
proposed = "tandem"
count = 4
mounting_height = 8.5
failed = 1
[[spaces]]
name = "dock"
job = "rooms/dock.toml"
`

// dock is a job of the first edition in other units, with money of its own.
const dock = `title = "Old dock"
units = "metric"
[room]
length = 12.0
width = 9.0
height = 5.0
[layout]
mounting_height = 4.5
rows = 2
columns = 3
[existing]
photometry = "strip.ies"
lamps = 2
lamp_lumens = 6000.0
ballast_factor = 0.9
input_watts = 158.0
[proposed]
photometry = "strip.ies"
lamps = 4
lamp_lumens = 2900.0
ballast_factor = 0.88
input_watts = 112.0
[proposed.costs]
installed_cost = 99.0
lamp_price = 3.0
[energy]
price_per_kwh = 0.5
`

// shelf keeps the luminaires of all tests here, which have few between them.
var shelf = job.NewShelf(16 << 20)

// files are those beside the building; a nil one cannot be read.
func files(t *testing.T, changed map[string]string) job.Files {
	t.Helper()
	ies, err := os.ReadFile("../../cmd/lampswap/internal/jobs/demo/strip-4x4ft-t8.ies")
	require.NoError(t, err)
	return func(name string) ([]byte, error) {
		if text, is := changed[name]; is {
			return []byte(text), nil
		}
		switch name {
		case "rooms/dock.toml":
			return []byte(dock), nil
		case "rooms/strip.ies":
			return ies, nil
		}
		return nil, &os.PathError{Op: "open", Path: name, Err: os.ErrNotExist}
	}
}

func read(t *testing.T, text string) *building.Building {
	t.Helper()
	require.True(t, building.Is([]byte(text)))
	b, err := building.Read("works.toml", []byte(text), files(t, nil), shelf)
	require.NoError(t, err)
	return b
}

func TestReadBuilding(t *testing.T) {
	b := read(t, works)
	assert.Equal(t, "Works", b.Title)
	assert.Equal(t, []string{"hall", "office", "dock"}, b.Names())
	assert.Equal(t, job.Firm{Name: "Lamp Crew", Address: []string{"1 Dock Road", "Harbor"}}, b.Firm)
	assert.Equal(t, []string{"rooms/dock.toml", "rooms/strip.ies"}, b.InputNames)
	hall, office, dock := b.Find("HALL"), b.Find("office"), b.Find("dock")
	assert.Nil(t, b.Find("yard"))
	assert.Equal(t, []int{1, 2, 1}, []int{hall.Copies, office.Copies, dock.Copies})
	assert.Equal(t, "strip", hall.Job.Existing.Kind)
	assert.Equal(t, 4000.0, hall.Job.Upkeep.HoursPerYear)
	assert.Equal(t, 2600.0, office.Job.Upkeep.HoursPerYear, "key by key")
	assert.Equal(t, 2.0, office.Job.Upkeep.Care.CleanYears, "the building's, as the space says nothing of it")
	assert.Equal(t, "dock", dock.Job.Title)
	assert.True(t, dock.Job.Imperial, "shown in the building's units")
	assert.Equal(t, 12.0, dock.Job.Room.Length)
	assert.InEpsilon(t, 15, dock.Job.Upkeep.AmbientCelsius, 1e-12, "59 °F, in a job in °C") // rounding
	assert.Nil(t, dock.Job.Proposed.Costs.InstalledCost, "its money counts for nothing")
	assert.Equal(t, 3.0, dock.Job.Proposed.Costs.LampPrice, "what upkeep costs goes with the luminaires")
	assert.Equal(t, 0.10, *dock.Job.Tariff.PricePerKWh)
	assert.Equal(t, 1000.0, *b.Whole.Proposed.Costs.InstalledCost)
	assert.Equal(t, 8+2*4+6, b.Whole.Existing.Number())
	assert.Equal(t, []int{2, 6}, b.Whole.Existing.Find("office: group 1").Use.Failed, "the third of four, in each copy")
	assert.Contains(t, strings.Join(b.Warnings, "\n"), "dock: the money in rooms/dock.toml")
	assert.Contains(t, strings.Join(b.Warnings, "\n"), "dock: rooms/dock.toml is in meters and lux")
	for _, d := range append(b.Defaults, hall.Job.Defaults...) {
		assert.NotContains(t, d.Key, "spaces[", "%v: keys of a space are named as in a job", d)
	}
	for _, s := range b.Spaces {
		for _, d := range s.Job.Defaults {
			assert.NotContains(t, d.Key, "energy", "%s: money is the building's", s.Name)
		}
	}
}

// What a building lends to a job in other units is converted: 1.5 ft of lamp are as many meters.
func TestLentInOtherUnits(t *testing.T) {
	const metric = `units = "metric"
[room]
length = 12.0
width = 9.0
height = 5.0
[[groups]]
existing = "strip"
proposed = "typed"
count = 4
mounting_height = 4.0
`
	text := works + "[[spaces]]\njob = \"m.toml\"\n[kinds.typed]\nfixture = \"strip-4in\"\nlamps = 4\nlamp_lumens = 2000.0\nlamp_kind = \"led\"\nled_type = \"B\"\nlamp_watts = 15.0\nlamp_diameter = 0.0833333333333\nminimum_temperature = 32.0\n"
	b, err := building.Read("works.toml", []byte(text), files(t, map[string]string{"m.toml": metric}), shelf)
	require.NoError(t, err)
	lamp := b.Find("m").Job.Proposed.Lamp
	assert.InDelta(t, photometry.Inch, lamp.Diameter, 1e-6) // print, of the number in the file
	assert.InDelta(t, 0, lamp.LeastAmbientCelsius, 1e-9)    // rounding
	assert.Equal(t, "spaces[3].name", b.Defaults[len(b.Defaults)-1].Key)
}

// A Kind of a space's own counts there, the building's elsewhere.
func TestOwnKindsWin(t *testing.T) {
	own := "[spaces.kinds.tandem]\nfixture = \"strip-4in\"\nlamp = \"F32T8/800\"\nlamps = 2\nballast = \"is-normal\"\n"
	b := read(t, strings.Replace(works, "[[spaces]]\nname = \"dock\"", own+"[[spaces]]\nname = \"dock\"", 1))
	assert.Equal(t, 2, b.Find("office").Job.Proposed.Lamps)
	assert.Equal(t, 4, b.Find("hall").Job.Proposed.Lamps)
}

// Faults are told at every level at once, each where it stands, and what is lent to many once.
func TestAllFaultsOfABuildingAtOnce(t *testing.T) {
	text := strings.NewReplacer("lamps = 4\nballast", "lamps = 400\nballast", "width = 40.0", "width = -40.0", `existing = "strip"`+"\nproposed = \"tandem\"\ncount", `existing = "stripe"`+"\nproposed = \"tandem\"\ncount",
		"price_per_kwh = 0.10", `price_per_kwh = "ten"`).Replace(works)
	bad := strings.Replace(dock, "height = 5.0", "height = 5000.0", 1)
	_, err := building.Read("site/works.toml", []byte(text), files(t, map[string]string{"rooms/dock.toml": bad}), shelf)
	require.Error(t, err)
	lines := strings.Split(err.Error(), "\n")
	path := filepath.FromSlash("site/rooms/dock.toml")
	for _, want := range []string{path + ":6:10: room.height: is 5000", "site/works.toml:14:9: kinds.tandem.lamps: is 400", `site/works.toml:21:17: energy.price_per_kwh: is the text "ten"`,
		"site/works.toml:31:9: spaces[0].room.width: is -40", `site/works.toml:50:12: spaces[1].groups[0].existing: "stripe" is not known, want one of strip, tandem, none (strip?)`} {
		assert.Contains(t, err.Error(), want)
	}
	assert.Len(t, lines, 5, err.Error())
}

func TestIs(t *testing.T) {
	for text, want := range map[string]bool{"[[spaces]]\n": true, "spaces = []": true, "title = \"x\"\n[spaces.room]": true, "[room]\nspaces = 3": false, "title = \"spaces\"": false, "": false, "[[": false} {
		assert.Equal(t, want, building.Is([]byte(text)), text)
	}
}

// Shifts of the building are the hours of its spaces, but of those that say their own; by hand: 8 h on 5 days of 52 weeks, 2 of them in the peak.
func TestShiftsOfABuilding(t *testing.T) {
	const day = "[[shifts]]\ndays = \"mon-fri\"\nfrom = \"06:00\"\nto = \"14:00\"\nweeks = 52\n"
	text := strings.Replace(works, "hours_per_year = 4000.0\n", "", 1)
	b := read(t, strings.Replace(text, "[energy]", day+"[energy]", 1))
	assert.Equal(t, []float64{2080, 2600, 2080}, []float64{b.Find("hall").Job.Upkeep.HoursPerYear, b.Find("office").Job.Upkeep.HoursPerYear, b.Find("dock").Job.Upkeep.HoursPerYear})
	own := strings.Replace(works, "[spaces.upkeep]\nhours_per_year = 2600.0\n", strings.ReplaceAll(day, "[[shifts", "[[spaces.shifts"), 1)
	assert.Equal(t, 2080.0, read(t, own).Find("office").Job.Upkeep.HoursPerYear, "its own shifts, not the building's 4,000 h")
	_, err := building.Read("works.toml", []byte(strings.Replace(works, "[energy]", day+"[energy]", 1)), files(t, nil), shelf)
	require.Error(t, err)
	assert.Contains(t, err.Error(), "works.toml:17:18: upkeep.hours_per_year: stands beside shifts")
	const peak = "[energy]\npeak_from = \"12:00\"\npeak_to = \"18:00\"\npeak_price_per_kwh = 0.3\n"
	text = strings.Replace(strings.Replace(text, "[spaces.upkeep]\nhours_per_year = 2600.0\n", "", 1), "[energy]\n", day+peak, 1)
	b = read(t, text)
	for _, kind := range b.Whole.Kinds() {
		share, ok := kind.PeakShare(b.Whole)
		assert.True(t, ok)
		assert.InEpsilon(t, 0.25, share, 1e-12) // rounding
	}
}

// Where a job is wanted, a building is said to be one, and nothing else is wrong with it.
func TestABuildingIsNoJob(t *testing.T) {
	_, err := job.Read("works.toml", []byte(works), files(t, nil))
	require.Error(t, err)
	assert.Regexp(t, `^works\.toml:\d+:3: spaces: is of a building, want a job of one room here`, err.Error())
	assert.NotContains(t, err.Error(), "\n")
}
