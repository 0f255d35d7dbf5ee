package building_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry/building"
)

// wrongBuildings are mistakes in a building: what stands in works, what in its place, and what is said of it.
var wrongBuildings = []struct{ name, from, to, want string }{
	{"two of one name", `name = "office"`, `name = "Hall"`, `spaces[1].name: "Hall" is the name of another space too`},
	{"no copies", "copies = 2", "copies = 0", "spaces[1].copies: is 0, want a whole number from 1 to 10000"},
	{"copies in halves", "copies = 2", "copies = 1.5", "spaces[1].copies: is 1.5, want a whole number"},
	{"an unknown key of a space", "copies = 2", "copies = 2\nx = 1", "spaces[1].x: is not a known key"},
	{"units in a space", `copies = 2`, `units = "metric"`, "spaces[1].units: stands in a space, want the building's"},
	{"energy in a space", "[spaces.upkeep]", "[spaces.energy]\nprice_per_kwh = 1.0\n[spaces.upkeep]", "spaces[1].energy: stands in a space, want [energy] of the building"},
	{"costs in a space", "[spaces.upkeep]", "[spaces.costs]\nlines = [[\"a\", 1.0]]\n[spaces.upkeep]", "spaces[1].costs: stands in a space"},
	{"rebates in a space", "[spaces.upkeep]", "[[spaces.rebates]]\nper = \"kw\"\n[spaces.upkeep]", "spaces[1].rebates: stands in a space"},
	{"life cycle in a space", "[spaces.upkeep]", "[spaces.life_cycle]\nyears = 3\n[spaces.upkeep]", "spaces[1].life_cycle: stands in a space"},
	{"currency in a space", "copies = 2", `currency = "EUR"`, "spaces[1].currency: stands in a space"},
	{"firm in a space", "[spaces.upkeep]", "[spaces.firm]\nname = \"x\"\n[spaces.upkeep]", "spaces[1].firm: stands in a space"},
	{"spaces in a space", "[spaces.upkeep]", "[[spaces.spaces]]\nname = \"x\"\n[spaces.upkeep]", "spaces[1].spaces: stands in a space"},
	{"cost of a system in a space", "[spaces.upkeep]", "[spaces.proposed.costs]\ninstalled_cost = 5.0\n[spaces.upkeep]", "spaces[1].proposed.costs.installed_cost: stands in a space"},
	{"cost of a kind", "ballast = \"is-normal\"", "ballast = \"is-normal\"\n[kinds.tandem.costs]\ninstalled_cost = 5.0", "kinds.tandem.costs.installed_cost: stands with one kind"},
	{"a room at the top", "[firm]", "[room]\nlength = 5.0\n[firm]", "room: stands beside [[spaces]]"},
	{"groups at the top", "[firm]", "[[groups]]\ncount = 5\n[firm]", "groups: stands beside [[spaces]]"},
	{"a key at the top", "[firm]", "copies = 3\n[firm]", "copies: is not a known key"},
	{"a firm without a name", `name = "Lamp Crew"`, `phone = "1"`, "firm.name: is missing, want who offers the work"},
	{"a firm's unknown key", `name = "Lamp Crew"`, "name = \"L\"\nfax = \"1\"", "firm.fax: is not a known key"},
	{"a logo that is not there", `name = "Lamp Crew"`, "name = \"L\"\nlogo = \"logo.png\"", `firm.logo: "logo.png" cannot be read`},
	{"an address of numbers", `address = ["1 Dock Road", "Harbor"]`, "address = [1, 2]", "firm.address[0]: is 1, want a text"},
	{"a job that is not there", "rooms/dock.toml", "rooms/deck.toml", `spaces[2].job: "rooms/deck.toml" cannot be read (file does not exist), want a job of one room`},
	{"a job that is a number", `job = "rooms/dock.toml"`, "job = 3", "spaces[2].job: is 3, want a text"},
	{"a room beside a job", `job = "rooms/dock.toml"`, "job = \"rooms/dock.toml\"\n[spaces.room]\nlength = 3.0", "spaces[2].room: stands beside job"},
	{"upkeep beside a job", `job = "rooms/dock.toml"`, "job = \"rooms/dock.toml\"\n[spaces.upkeep]\nhours_per_year = 3.0", "spaces[2].upkeep: stands beside job"},
	{"a building as a job", `job = "rooms/dock.toml"`, `job = "b.toml"`, `spaces[2].job: "b.toml" is a building, want a job of one room`},
	{"a job that is no TOML", `job = "rooms/dock.toml"`, `job = "broken.toml"`, "broken.toml:1:"},
	{"a space without a room", "[spaces.room]\nlength = 30.0\nwidth = 20.0\nheight = 9.0\n", "", "spaces[1].room: is missing"},
	{"a kind that nobody knows", `proposed = "tandem"`, `proposed = "tandum"`, `spaces[0].groups[0].proposed: "tandum" is not known, want one of strip, tandem, none (tandem?)`},
	{"a wrong lamp of a kind", `lamp = "F32T8/800"`, `lamp = "F32T8/900"`, `kinds.tandem.lamp: "F32T8/900" is not in the lamp list`},
	{"a wrong key of upkeep", "clean_months = 24.0", "clean_month = 24.0", "upkeep.clean_month: is not a known key, want clean_months, perhaps"},
	{"hours of a space", "hours_per_year = 2600.0", "hours_per_year = 26000.0", "spaces[1].upkeep.hours_per_year: is 26000"},
	{"a rebate per bulb", `per = "lamp"`, `per = "bulb"`, `rebates[0].per: "bulb" is not known`},
	{"cost twice", "price_per_kwh = 0.10", "price_per_kwh = 0.10\ninstalled_cost = 5.0", "costs.lines: stand beside installed_cost in [energy]"},
	{"no life cycle of that length", "[costs]", "[life_cycle]\nyears = 400\n[costs]", "life_cycle.years: is 400"},
	{"a luminaire in the roof", "mounting_height = 14.0", "mounting_height = 140.0", "spaces[0].groups[0].mounting_height: is 140"},
	{"more failed than there are", "failed = 1", "failed = 9", "spaces[1].groups[0].failed: is 9, and the group has 4 luminaires"},
	{"a layout beside groups", "[spaces.upkeep]", "[spaces.layout]\nrows = 1\n[spaces.upkeep]", "spaces[1].layout: stands beside [kinds] and [[groups]]"},
	{"spaces as a number", works, "spaces = 3\n", "spaces: is 3, want one or more tables, [[spaces]]"},
	{"no space", works, "title = \"empty\"\nspaces = []\n", "spaces: is missing, want tables [[spaces]]"},
}

func TestWrongBuildings(t *testing.T) {
	for _, c := range wrongBuildings {
		require.Contains(t, works, c.from, c.name)
		text := strings.Replace(works, c.from, c.to, 1)
		more := map[string]string{"b.toml": works, "broken.toml": "[room\n"}
		_, err := building.Read("works.toml", []byte(text), files(t, more), shelf)
		if assert.Error(t, err, c.name) {
			assert.Contains(t, err.Error(), c.want, c.name)
			for line := range strings.SplitSeq(err.Error(), "\n") {
				assert.Regexp(t, `^[a-z./]+\.toml:\d+:\d+: `, line, "%s: has its place", c.name)
			}
			assert.LessOrEqual(t, strings.Count(err.Error(), "\n"), 1, "%s: one mistake, few faults: %v", c.name, err)
		}
	}
}

// Ten mistakes of one kind that is lent to many spaces are told once each.
func TestLentMistakesAreToldOnce(t *testing.T) {
	text := strings.Replace(works, `lamp = "F96T12"`, `lamp = "F96T13"`, 1)
	_, err := building.Read("works.toml", []byte(text), files(t, nil), shelf)
	require.Error(t, err)
	assert.Equal(t, 1, strings.Count(err.Error(), "F96T13"), err)
}

// wrongPhases are mistakes in phases, which stand behind works.
var wrongPhases = []struct{ text, want string }{
	{"[[phases]]\ndate = 2026-09-01\nspaces = [\"hall\", \"office\"]\n", "phases: leave out dock, want every space in one phase"},
	{"[[phases]]\nspaces = [\"hall\", \"office\", \"dock\"]\n", "phases[0].date: is missing"},
	{"[[phases]]\ndate = 2026-09-01\n", "phases[0].spaces: is missing"},
	{"[[phases]]\ndate = \"soon\"\nspaces = [\"hall\", \"office\", \"dock\"]\n", `phases[0].date: is the text "soon", want a day`},
	{"[[phases]]\ndate = 2026-09-01\nspaces = [\"hall\", \"ofice\", \"dock\"]\n", `phases[0].spaces[1]: "ofice" is no space of the building, want office, perhaps`},
	{"[[phases]]\ndate = 2026-09-01\nspaces = [\"hall\", \"office\", \"dock\"]\n[[phases]]\ndate = 2027-09-01\nspaces = \"hall\"\n", `phases[1].spaces: "hall" is in phase 1 already`},
	{"[[phases]]\ndate = 2026-09-01\nspaces = [\"hall\", \"office\", \"dock\"]\ngroups = [\"x\"]\n", `phases[0].groups: "x" is no group of a space, want a space and its group with a colon between`},
	{"[[phases]]\ndate = 2026-09-01\nspaces = [\"hall\", \"office\", \"dock\"]\ngroups = [\"hall: all over\"]\n", `phases[0].groups: "hall: all over" is in phase 1 already, want each group in one phase`},
	{"[[phases]]\ndate = 2026-09-01\ngroups = [\"hall: all oven\", \"hall\"]\n", `phases[0].groups[0]: "hall: all oven" is no group of a space, want hall: all over, perhaps`},
	{"[[phases]]\ndate = 2026-09-01\ngroups = \"hall: all over\"\n[[phases]]\ndate = 2027-09-01\nspaces = \"hall\"\n", `phases[1].spaces: "hall" is in phase 1 already, want each space in one phase, or its groups one by one`},
	{"[[phases]]\ndate = 2026-09-01\ngroups = 3\n", "phases[0].groups: is 3, want a space and its group"},
	{"[[phases]]\ndate = 2026-09-01\nspaces = [\"hall\", \"office\", \"dock\"]\nweek = 3\n", "phases[0].week: is not a known key"},
}

func TestWrongPhases(t *testing.T) {
	for _, c := range wrongPhases {
		_, err := building.Read("works.toml", []byte(works+c.text), files(t, nil), shelf)
		if assert.Error(t, err, c.text) {
			assert.Contains(t, err.Error(), c.want, c.text)
		}
	}
	b, err := building.Read("works.toml", []byte(works+"[[phases]]\nname = \"later\"\ndate = 2027-09-01\nspaces = \"office\"\n[[phases]]\ndate = 2026-09-01\nspaces = [\"hall\", \"dock\"]\n"), files(t, nil), shelf)
	require.NoError(t, err)
	assert.Equal(t, []string{"phase 2", "later"}, []string{b.Phases[0].Name, b.Phases[1].Name}, "in the order of their dates")
	assert.Equal(t, []building.Done{{Space: 0, Groups: []string{"all over"}, Whole: true}, {Space: 2, Groups: []string{"all"}, Whole: true}}, b.Phases[0].Parts)
}
