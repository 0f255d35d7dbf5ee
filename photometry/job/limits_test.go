package job_test

import (
	"errors"
	"fmt"
	"runtime"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry/diag"
	"lampswap/photometry/job"
)

// wrongSizes are numbers that are none, counts that would take all memory, and texts that are no TOML.
var wrongSizes = []wrong{
	{`length = 20.0`, `length = nan`, `dock.toml:4:10: room.length: is NaN, want a length above 0 and up to 3000 m`},
	{`length = 20.0`, `length = inf`, `dock.toml:4:10: room.length: is +Inf, want a length above 0 and up to 3000 m`},
	{`length = 20.0`, `length = -inf`, `dock.toml:4:10: room.length: is -Inf, want a length above 0 and up to 3000 m`},
	{`length = 20.0`, `length = 1e300`, `dock.toml:4:10: room.length: is 1e+300, want a length above 0 and up to 3000 m`},
	{`length = 20.0`, `length = 1e400`, `dock.toml:4:10: unable to parse float: strconv.ParseFloat: parsing "1e400": value out of range, want TOML, one key = value a line`},
	{`length = 20.0`, `length = 0x7fffffffffffffff`, `dock.toml:4:10: room.length: is 9223372036854775807, want a length above 0 and up to 3000 m`},
	{`length = 20.0`, `length = 2026-04-30`, `dock.toml:4:10: room.length: is 2026-04-30, want a number: a length above 0 and up to 3000 m`},
	{`length = 20.0`, `length = [20.0]`, `dock.toml:4:1: room.length: is a list of 1, want a number: a length above 0 and up to 3000 m`},
	{`work_plane = 0.8`, `work_plane = nan`, `dock.toml:7:14: room.work_plane: is NaN, want 0 or a length above 0 and up to 6 m`},
	{`ceiling = 0.7`, `ceiling = nan`, `dock.toml:8:27: room.reflectance.ceiling: is NaN, want a number from 0 to 0.99`},
	{`walls = 0.5`, `walls = 1.0`, `dock.toml:8:40: room.reflectance.walls: is 1, want a number from 0 to 0.99`},
	{`floor = 0.2`, `floor = -0.2`, `dock.toml:8:53: room.reflectance.floor: is -0.2, want a number from 0 to 0.99`},
	{`rows = 2`, `rows = 9223372036854775807`, `dock.toml:11:8: layout.rows: is 9223372036854775807, want a whole number from 1 to 1000`},
	{`rows = 2`, `rows = 9223372036854775808`, `dock.toml:11:8: decimal number is too large to fit in a 64-bit signed integer, want TOML, one key = value a line`},
	{`columns = 4`, `columns = -4`, `dock.toml:12:11: layout.columns: is -4, want a whole number from 1 to 1000`},
	{`columns = 4`, `columns = 1001`, `dock.toml:12:11: layout.columns: is 1001, want a whole number from 1 to 1000`},
	{"rows = 2\ncolumns = 4", "positions = [[nan, 1.0], [1.0, inf]]", "dock.toml:11:15: layout.positions[0][0]: is NaN, want a place in the room, from 0 to 20\n" +
		"dock.toml:11:32: layout.positions[1][1]: is +Inf, want a place in the room, from 0 to 10"},
	{`size = [10.0, 1.0, 3.0]`, `size = [inf, 1.0, 3.0]`, `dock.toml:16:9: racks[0].size[0]: is +Inf, want a number above 0`},
	{`count = 2, step`, `count = 9223372036854775807, step`, `dock.toml:18:20: racks[0].repeat.count: is 9223372036854775807, want a whole number from 1 to 10000`},
	{`step = [0.0, 3.0]`, `step = [nan, 3.0]`, `dock.toml:18:31: racks[0].repeat.step[0]: is NaN, want any number`},
	{`step = [0.0, 3.0]`, `step = [0.0, 1e300]`, `dock.toml:15:1: racks[0].corner: puts rack 2 of 2 outside the room, want racks that stand inside it`},
	{`lamps = 4
ballast =`, `lamps = 1000000000
ballast =`, `dock.toml:22:9: existing.lamps: is 1000000000, want a whole number from 1 to 100`},
	{`lamp_lumens = 2800.0`, `lamp_lumens = nan`, `dock.toml:28:15: proposed.lamp_lumens: is NaN, want a number from 0.001 to 1000000`},
	{`lamp_lumens = 2800.0`, `lamp_lumens = 1e7`, `dock.toml:28:15: proposed.lamp_lumens: is 1e+07, want a number from 0.001 to 1000000`},
	{`ballast_factor = 0.88`, `ballast_factor = inf`, `dock.toml:29:18: proposed.ballast_factor: is +Inf, want a number from 0.1 to 2`},
	{`input_watts = 112.0`, `input_watts = nan`, `dock.toml:30:15: proposed.input_watts: is NaN, want a number from 0.001 to 100000`},
	{`lamp_lumen_depreciation = 0.9`, `lamp_lumen_depreciation = nan`, `dock.toml:32:38: proposed.losses.lamp_lumen_depreciation: is NaN, want a number from 0.001 to 1.5`},
	{`relamp_hours = 16000.0`, `relamp_hours = inf`, `dock.toml:35:16: upkeep.relamp_hours: is +Inf, want a number from 1 to 200000`},
	{`clean_months = 24.0`, `clean_months = nan`, `dock.toml:36:16: upkeep.clean_months: is NaN, want 0 or a number from 0.01 to 240`},
	{`ambient_temperature = 20.0`, `ambient_temperature = nan`, `dock.toml:38:23: upkeep.ambient_temperature: is NaN, want a number from -50 to 80`},
	{`[calculation]
spacing = 0.5`, `[calculation]
spacing = 1e-300`, `dock.toml:40:11: calculation.spacing: makes a grid of +Inf points, want at most 10000000`},
	{`[calculation]
spacing = 0.5`, `[calculation]
spacing = 5e-324`, `dock.toml:40:11: calculation.spacing: makes a grid of +Inf points, want at most 10000000`},
	{`heights = [0.2, 2.9]`, `heights = [nan, 2.9]`, `dock.toml:46:12: grids[0].heights[0]: is NaN, want a place in the room, from 0 to 6`},
	{`facing = 90.0`, `facing = nan`, `dock.toml:47:10: grids[0].facing: is NaN, want a number from -360 to 360`},
	{`at_least = 200.0`, `at_least = inf`, `dock.toml:61:12: criteria[1].at_least: is +Inf, want a number above 0 and up to 1e9`},
	{`price_per_kwh = 0.11`, `price_per_kwh = nan`, `dock.toml:63:17: energy.price_per_kwh: is NaN, want a number from 0 to 1e12`},
	{`title = "bay"`, `title = "   "`, `dock.toml:1:9: title: is blank, want a text`},
	{`title = "bay"`, "title = \"\xff\"", `dock.toml:1:10: invalid UTF-8 character in basic string, want TOML, one key = value a line`},
	{`title = "bay"`, "title = \"bay\"\ntitle = \"bay\"", `dock.toml:2:1: key title is already defined, want TOML, one key = value a line`},
	{`title = "bay"`, `title = "bay`, `dock.toml:1:13: basic strings cannot have new lines, want TOML, one key = value a line`},
	{`title = "bay"`, `title "bay"`, `dock.toml:1:7: expected '=' after key, want TOML, one key = value a line`},
	{`title = "bay"`, "title = \"bay\"\n" + strings.Repeat("a.", 60) + "a = 1", `dock.toml:2:101: more than 50 tables or lists in each other, want fewer`},
	{`title = "bay"`, "title = \"bay\"\nx = " + strings.Repeat("[", 60) + strings.Repeat("]", 60), `dock.toml:2:1: more than 50 tables or lists in each other, want fewer`},
	{`[energy]`, strings.Repeat("[[racks]]\n", 10_001) + `[energy]`, `dock.toml:14:3: racks: has 10002 tables, want at most 10000`},
}

// Grids together are bounded, and a file that asks for more than that takes little more memory than its own text.
func TestHugeCountsAreNotMade(t *testing.T) {
	var grids strings.Builder
	for i := range 2000 {
		fmt.Fprintf(&grids, "[[grids]]\nname = \"g%d\"\narea = [0.0, 0.0, 20.0, 10.0]\nspacing = 0.0045\n", i)
	}
	text := []byte(replaced(t, sound, "[energy]", grids.String()+"[energy]"))
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	_, err := shelf.Read("dock.toml", text, open)
	runtime.ReadMemStats(&after)
	assert.EqualError(t, err, "dock.toml:69:11: grids[3].spacing: makes 19763414 points with the grids before it, want at most 10000000 in all", "said once")
	assert.Less(t, after.TotalAlloc-before.TotalAlloc, uint64(64<<20), "for a text of %d bytes", len(text))
}

// repeated is a text many times over, %d in it being the number of the time.
func repeated(n int, text string) string {
	var b strings.Builder
	for i := range n {
		b.WriteString(strings.ReplaceAll(text, "%d", strconv.Itoa(i)))
	}
	return b.String()
}

// The largest and the least that is taken of every number and every count, and the first that is not.
func TestEdges(t *testing.T) {
	const (
		rack  = "[[racks]]\ncorner = [1.0, 8.0]\nsize = [1.0, 1.0, 1.0]\n"
		grid  = "[[grids]]\nname = \"%d\"\narea = [0.0, 0.0, 1.0, 1.0]\nspacing = 1.0\n"
		rule  = "[[criteria]]\nat_least = 1.0\n"
		doubt = priced + "[uncertainty]\n"
		costs = "[proposed.costs]\n"
	)
	for _, c := range []struct{ key, old, taken, refused string }{
		{"room.length", "length = 20.0", "length = 3000.0", "length = 3000.1"},
		{"room.length", "length = 20.0", "length = 0.1", "length = 0.09"},
		{"room.width", "width = 10.0", "width = 3000", "width = 3000.1"},
		{"room.height", "height = 6.0", "height = 100.0", "height = 100.1"},
		{"room.reflectance.walls", "walls = 0.5", "walls = 0.99", "walls = 0.991"},
		{"layout.rows", "rows = 2", "rows = 1000", "rows = 1001"},
		{"layout.columns", "columns = 4", "columns = 1000", "columns = 1001"},
		{"layout.rows", "rows = 2\ncolumns = 4", "rows = 100\ncolumns = 1000", "rows = 101\ncolumns = 1000"},
		{"layout.positions", "rows = 2\ncolumns = 4", "positions = [" + repeated(100_000, "[1.0, 2.0], ") + "]", "positions = [" + repeated(100_001, "[1.0, 2.0], ") + "]"},
		{"racks", priced, repeated(9998, rack), repeated(10_000, rack)},
		{"racks[0].repeat.count", "count = 2, step = [0.0, 3.0]", "count = 10000, step = [0.0, 1e-4]", "count = 10001, step = [0.0, 1e-4]"},
		{"racks[1].repeat", priced, rack + "repeat = { count = 9998, step = [0.0, 1e-4] }\n", rack + "repeat = { count = 9999, step = [0.0, 1e-4] }\n"},
		{"racks[0].transmittance", "reflectance = 0.3\n", "reflectance = 0.3\ntransmittance = 1.0\n", "reflectance = 0.3\ntransmittance = 1.01\n"},
		{"existing.lamps", "lamps = 4\nballast =", "lamps = 100\nballast =", "lamps = 101\nballast ="},
		{"proposed.lamp_lumens", "lamp_lumens = 2800.0", "lamp_lumens = 1e6", "lamp_lumens = 1.1e6"},
		{"proposed.lamp_lumens", "lamp_lumens = 2800.0", "lamp_lumens = 1e-3", "lamp_lumens = 9e-4"},
		{"proposed.input_watts", "input_watts = 112.0", "input_watts = 1e5", "input_watts = 1.1e5"},
		{"proposed.input_watts", "input_watts = 112.0", "input_watts = 1e-3", "input_watts = 9e-4"},
		{"proposed.ballast_factor", "ballast_factor = 0.88", "ballast_factor = 2.0", "ballast_factor = 2.01"},
		{"proposed.ballast_factor", "ballast_factor = 0.88", "ballast_factor = 0.1", "ballast_factor = 0.09"},
		{"proposed.losses.lamp_lumen_depreciation", "depreciation = 0.9", "depreciation = 1.5", "depreciation = 1.51"},
		{"proposed.losses.lamp_lumen_depreciation", "depreciation = 0.9", "depreciation = 0.001", "depreciation = 0.0009"},
		{"proposed.temperature_points", "losses = {", "temperature_points = [" + repeated(100, "[%d, 1.0], ") + "]\nlosses = {",
			"temperature_points = [" + repeated(101, "[%d, 1.0], ") + "]\nlosses = {"},
		{"upkeep.relamp_hours", "relamp_hours = 16000.0", "relamp_hours = 1.0", "relamp_hours = 0.9"},
		{"upkeep.relamp_hours", "relamp_hours = 16000.0", "relamp_hours = 200000.0", "relamp_hours = 200001.0"},
		{"upkeep.clean_months", "clean_months = 24.0", "clean_months = 0.01", "clean_months = 0.009"},
		{"upkeep.clean_months", "clean_months = 24.0", "clean_months = 240.0", "clean_months = 241.0"},
		{"calculation.spacing", "[calculation]\nspacing = 0.5", "[calculation]\nspacing = 0.00447228", "[calculation]\nspacing = 0.004472"},
		{"grids[1].spacing", "height = 1.0\nspacing = 1.0", "height = 1.0\nspacing = 0.00155", "height = 1.0\nspacing = 0.0015"},
		{"grids", priced, repeated(9998, grid), repeated(9999, grid)},
		{"criteria", priced, repeated(9998, rule), repeated(9999, rule)},
		{"criteria[1].at_least", "at_least = 200.0", "at_least = 1e9", "at_least = 1.1e9"},
		{"criteria[1].at_most", "at_least = 200.0", "at_most = 1e9", "at_most = 1.1e9"},
		{"energy.price_per_kwh", "price_per_kwh = 0.11", "price_per_kwh = 1e12", "price_per_kwh = 1.1e12"},
		{"proposed.costs.ballast_life_hours", "[upkeep]", costs + "ballast_life_hours = 1.0\n[upkeep]", costs + "ballast_life_hours = 0.9\n[upkeep]"},
		{"proposed.costs.ballast_life_hours", "[upkeep]", costs + "ballast_life_hours = 1e6\n[upkeep]", costs + "ballast_life_hours = 1.1e6\n[upkeep]"},
		{"proposed.costs.residual", "[upkeep]", costs + "residual = 1e12\n[upkeep]", costs + "residual = 1.1e12\n[upkeep]"},
		{"life_cycle.years", priced, "[life_cycle]\nyears = 40\n", "[life_cycle]\nyears = 41\n"},
		{"egress.light_share", priced, path + "light_share = 0.001\n", path + "light_share = 0.0009\n"},
		{"uncertainty.samples", priced, doubt + "samples = 1000000\n", doubt + "samples = 1000001\n"},
		{"uncertainty.samples", priced, doubt + "samples = 1000\n", doubt + "samples = 999\n"},
		{"uncertainty.confidence", priced, doubt + "confidence = 0.999\n", doubt + "confidence = 0.9991\n"},
	} {
		faults := func(new string) (of []string) {
			_, err := shelf.Read("dock.toml", []byte(replaced(t, sound, c.old, new)), open)
			var all diag.List
			errors.As(err, &all)
			for _, f := range all {
				if f.Key == c.key {
					of = append(of, f.Error())
				}
			}
			return of
		}
		assert.Empty(t, faults(c.taken), "%s: %.100s", c.key, c.taken)
		assert.Len(t, faults(c.refused), 1, "%s: %.100s", c.key, c.refused)
	}
}

// A job file may be as long as that, and no longer.
func TestLongestFile(t *testing.T) {
	text := sound + "#" + strings.Repeat("x", job.MaxBytes-len(sound)-1)
	_, err := shelf.Read("dock.toml", []byte(text), open)
	require.NoError(t, err)
	_, err = shelf.Read("dock.toml", []byte(text+"x"), open)
	require.EqualError(t, err, "dock.toml:1:1: the file is too long, want at most 16777216 bytes")
}
