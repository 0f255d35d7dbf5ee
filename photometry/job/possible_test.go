package job_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// wrongCriteria are criteria that no light meets, or every light, and two of one name.
var wrongCriteria = []wrong{
	{`at_least = 200.0`, `at_least = 0`, `dock.toml:61:12: criteria[1].at_least: is 0, want a number above 0 and up to 1e9`},
	{`at_least = 200.0`, `at_most = 0.0`, `dock.toml:61:11: criteria[1].at_most: is 0, want a number above 0 and up to 1e9`},
	{"\"average\"\nat_least = 200.0", "\"maximum_to_minimum\"\nat_most = 0.5", `dock.toml:61:11: criteria[1].at_most: is 0.5 of maximum_to_minimum, ` +
		`which is 1 or more in every light, want 1 or more; at_most = 2 limits it as at least 0.5 of the inverse would`},
	{"\"average\"\nat_least = 200.0", "\"average_to_minimum\"\nat_most = 0.4", `dock.toml:61:11: criteria[1].at_most: is 0.4 of average_to_minimum, ` +
		`which is 1 or more in every light, want 1 or more; at_most = 2.5 limits it as at least 0.4 of the inverse would`},
	{"\"average\"\nat_least = 200.0", "\"average_to_minimum\"\nat_least = 0.4", `dock.toml:61:12: criteria[1].at_least: is 0.4 of average_to_minimum, ` +
		`which is 1 or more in every light, want at_most; at_most = 2.5 limits it as at least 0.4 of the inverse would`},
	{"\"average\"\nat_least = 200.0", "\"average_to_minimum\"\nat_least = 20",
		`dock.toml:61:12: criteria[1].at_least: stands with average_to_minimum, of which less is better, want at_most`},
	{"grid = \"dock\"\nstatistic = \"average\"\nat_least = 200.0", "statistic = \"power_density\"\nat_least = 8",
		`dock.toml:60:12: criteria[1].at_least: stands with power_density, of which less is better, want at_most`},
	{priced, "[[criteria]]\nname = \"dim\"\ngrid = \"dock\"\nat_most = 100.0\n", `dock.toml:65:11: criteria[2].at_most: no light has average of at most 100 ` +
		`beside average of at least 200 in criteria[1], want limits that one light can meet on "dock"`},
	{priced, "[[criteria]]\nname = \"none\"\ngrid = \"dock\"\nstatistic = \"maximum\"\nat_most = 100.0\n", `dock.toml:66:11: criteria[2].at_most: no light has ` +
		`maximum of at most 100 beside average of at least 200 in criteria[1], want limits that one light can meet on "dock"`},
	{priced, "[[criteria]]\nname = \"a\"\ngrid = \"dock\"\nstatistic = \"minimum\"\nat_most = 10.0\n[[criteria]]\nname = \"b\"\ngrid = \"dock\"\n" +
		"statistic = \"average_to_minimum\"\nat_most = 4.0\n", `dock.toml:71:11: criteria[3].at_most: no light has average to minimum of at most 4 ` +
		`beside minimum of at most 10 in criteria[2] and average of at least 200 in criteria[1], want limits that one light can meet on "dock"`},
	{priced, "[[criteria]]\nname = \"dark\"\nat_most = 90.0\n", `dock.toml:64:11: criteria[2].at_most: no light has average of at most 90 ` +
		`beside average of at least 100 in criteria[0], want limits that one light can meet on "work plane"`},
	{priced, "[[criteria]]\nname = \" Lease\"\nat_most = 900.0\n", `dock.toml:63:8: criteria[2].name: " Lease" is the name of criteria[1] too, ` +
		`want a name of its own for each criterion`},
	{priced, "[[criteria]]\nname = \"lease\"\nlevel = \"fmr-storage\"\n", `dock.toml:63:8: criteria[2].name: "lease" is the name of criteria[1] too, ` +
		`want a name of its own for each criterion`},
	{priced, "[[criteria]]\nlevel = \"warehouse-active-bulky\"\n", `dock.toml:63:9: criteria[2].level: "warehouse-active-bulky" stands in criteria[0] too, ` +
		`for the same grid, want each once`},
}

// What is no contradiction is taken: one level on two grids, a band for one statistic, a limit that another just leaves room for.
func TestCriteriaThatCanBeMet(t *testing.T) {
	for _, more := range []string{
		"[[criteria]]\nlevel = \"warehouse-active-bulky\"\ngrid = \"dock\"\n",
		"[[criteria]]\ngrid = \"dock\"\nat_most = 200.0\n",
		"[[criteria]]\ngrid = \"dock\"\nstatistic = \"minimum\"\nat_least = 1000.0\n[[criteria]]\ngrid = \"work plane\"\nstatistic = \"maximum\"\nat_most = 100.0\n",
		"[[criteria]]\ngrid = \"dock\"\nstatistic = \"minimum\"\nat_most = 50.0\n[[criteria]]\ngrid = \"dock\"\nstatistic = \"average_to_minimum\"\nat_most = 4.0\n",
		"[[criteria]]\nlevel = \"wa-indoor-task\"\nname = \"the state's\"\n", // two tests of one name
		"[[criteria]]\nstatistic = \"maximum_to_minimum\"\nat_most = 1\n",
	} {
		read(t, sound+more)
	}
}

// Criteria are refused if and only if no light meets them. All limits are 10 lx times powers of two and all ratios are such powers, so that where any
// light meets them one does whose minimum, average and maximum are such, too: bounds of differences of whole numbers have whole solutions.
func TestContradictionsAreThose(t *testing.T) {
	statistics := []string{"minimum", "average", "maximum", "average_to_minimum", "maximum_to_minimum"}
	type limit struct {
		statistic, power int
		atLeast          bool
	}
	met := func(l limit, least, average, most int) bool {
		x := []int{least, average, most, average - least, most - least}[l.statistic]
		return l.atLeast && x >= l.power || !l.atLeast && x <= l.power
	}
	possible := func(limits []limit) bool {
		for least := -6; least <= 8; least++ {
			for average := least; average <= 8; average++ {
				for most := average; most <= 14; most++ {
					if !slices.ContainsFunc(limits, func(l limit) bool { return !met(l, least, average, most) }) {
						return true
					}
				}
			}
		}
		return false
	}
	counts := map[bool]int{}
	rapid.Check(t, func(t *rapid.T) {
		var text strings.Builder
		var limits []limit
		for i := range rapid.IntRange(1, 5).Draw(t, "criteria") {
			l := limit{statistic: rapid.IntRange(0, 4).Draw(t, "statistic"), power: rapid.IntRange(0, 4).Draw(t, "power"), atLeast: rapid.Bool().Draw(t, "at least")}
			unit := 10.0
			if l.statistic > 2 {
				unit, l.atLeast = 1, false
			}
			fmt.Fprintf(&text, "[[criteria]]\nname = \"c%d\"\ngrid = \"north face\"\nstatistic = %q\n%s = %g\n", i, statistics[l.statistic],
				map[bool]string{true: "at_least", false: "at_most"}[l.atLeast], unit*math.Exp2(float64(l.power)))
			limits = append(limits, l)
		}
		_, err := shelf.Read("dock.toml", []byte(unpriced+text.String()), open)
		counts[err == nil]++
		if possible(limits) != (err == nil) {
			t.Fatalf("some light meets them: %v; and yet %v:\n%s", possible(limits), err, text.String())
		}
	})
	assert.Positive(t, counts[false])
	assert.Positive(t, counts[true])
}
