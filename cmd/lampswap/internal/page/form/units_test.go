package form

import (
	"math"
	"net/url"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/cmd/lampswap/internal/jobs"
	"lampswap/cmd/lampswap/internal/page/tomltext"
	"lampswap/photometry"
	"lampswap/photometry/job"
	"lampswap/photometry/room"
)

func textOf(t *testing.T, text string) *tomltext.Text {
	t.Helper()
	read, err := tomltext.Read(text)
	require.NoError(t, err)
	return read
}

const manyUnits = `units = "imperial" # as taped
[room]
length = 18.5 # along the wall
outline = [[0, 0], [18.5, 1_0]] # an L
[kinds."a.b"]
lamp_diameter = "26 mm"
lamp_length = 4
temperature_points = [[32, 0.75], [77.0, 1.0]]
minimum_temperature = -4
[[groups]]
positions = [[10.0, 5, 90.0, 14]]
hours_per_year = 4000
[[racks]]
repeat = { count = 2, step = [0, 10.0] }
[[criteria]]
at_least = 20.0
[[criteria]]
statistic = "power_density"
at_most = 0.8
[[criteria]]
statistic = "average_to_minimum"
at_most = 3.5
[uncertainty]
ambient_temperature = 9
mounting_height = 0.5
lamp_lumens = 5.0
[upkeep]
ambient_temperature = 50
`

// Every number of another unit is put into it, and nothing else is touched.
func TestUnitsAreSwitched(t *testing.T) {
	metric, err := Apply(manyUnits, url.Values{"units": {"metric"}}, nil, nil)
	require.NoError(t, err)
	for _, is := range []string{"units = \"metric\" # as taped\n", "length = 5.6388 # along the wall\n", "outline = [[0.0, 0.0], [5.6388, 3.048]] # an L\n", `lamp_diameter = "26 mm"`, "lamp_length = 1.2192\n",
		"temperature_points = [[0.0, 0.75], [25.0, 1.0]]\n", "minimum_temperature = -20.0\n", "positions = [[3.048, 1.524, 90.0, 4.2672]]\n", "hours_per_year = 4000\n",
		"repeat = { count = 2, step = [0.0, 3.048] }\n", "at_least = 215.278208\n", "at_most = 8.611128\n", "at_most = 3.5\n", "ambient_temperature = 5.0\n", "mounting_height = 0.1524\n",
		"lamp_lumens = 5.0\n", "ambient_temperature = 10.0\n"} {
		assert.Contains(t, metric, is)
	}
	back, err := Apply(metric, url.Values{"units": {"imperial"}, "room.length": {"6.096"}}, nil, nil)
	require.NoError(t, err)
	assert.Contains(t, back, "length = 20.0 # along the wall\n", "what is typed at the same time is typed in meters")
	late, err := Apply(metric, url.Values{"units": {"metric"}, "room.length": {"20"}, "room.outline": {"0, 0\n18.5, 10"}, ShownUnits: {"imperial"}}, nil, nil)
	require.NoError(t, err)
	assert.Equal(t, strings.Replace(metric, "length = 5.6388", "length = 6.096", 1), late, "typed in feet, before the page showed meters")
	same, err := Apply(manyUnits, url.Values{"units": {"imperial"}}, nil, nil)
	require.NoError(t, err)
	assert.Equal(t, manyUnits, same)
	unsaid, err := Apply("[room]\nlength = 10\n", url.Values{"units": {"metric"}}, nil, nil)
	require.NoError(t, err)
	assert.Equal(t, "units = \"metric\"\n[room]\nlength = 3.048\n", unsaid, "feet are what a job has that does not say")
}

// Each demonstration, in meters and back in feet, is the job that it was: to a thousandth of a millimeter, remarks and all.
func TestUnitsThereAndBack(t *testing.T) {
	const tape = 1e-5 // m
	for _, name := range []string{"demo/as-found.toml", "demo/parts-store.toml"} {
		was, err := jobs.Demo.ReadFile(name)
		require.NoError(t, err)
		text := string(was)
		var all []*job.Job
		for _, units := range []string{"imperial", "metric", "imperial"} {
			text, err = Apply(text, url.Values{"units": {units}}, nil, nil)
			require.NoError(t, err)
			j, err := job.Read(name, []byte(text), func(name string) ([]byte, error) { return jobs.Demo.ReadFile("demo/" + name) })
			require.NoError(t, err, "%s in %s", name, units)
			assert.Equal(t, units == "imperial", j.Imperial)
			all = append(all, j)
		}
		assert.Equal(t, remarks(string(was)), remarks(text))
		for _, j := range all[1:] {
			first := all[0]
			near := func(a, b room.Vec) { assert.Less(t, a.Sub(b).Length(), tape) }
			near(room.Vec{X: first.Room.Length, Y: first.Room.Width, Z: first.Room.Height}, room.Vec{X: j.Room.Length, Y: j.Room.Width, Z: j.Room.Height})
			require.Len(t, j.Racks, len(first.Racks))
			for i, r := range first.Racks {
				near(r.Corner, j.Racks[i].Corner)
				near(r.Size, j.Racks[i].Size)
			}
			for i, kind := range first.Kinds() {
				require.Len(t, j.Kinds()[i].Layout.Placements, len(kind.Layout.Placements))
				for k, p := range kind.Layout.Placements {
					near(p.Position, j.Kinds()[i].Layout.Placements[k].Position)
				}
			}
			assert.InDelta(t, first.Upkeep.AmbientCelsius, j.Upkeep.AmbientCelsius, 1e-5)
			assert.InDelta(t, first.Spacing, j.Spacing, tape)
		}
	}
}

func remarks(text string) []string {
	var all []string
	for line := range strings.Lines(text) {
		if _, remark, ok := strings.Cut(line, "#"); ok {
			all = append(all, remark)
		}
	}
	return all
}

// There and back within what is written: a millionth.
func TestChangesAreUndone(t *testing.T) {
	for name, change := range changes {
		for _, x := range []float64{0, 1, 18.5, 120, 0.125, -40, 1e4} {
			assert.InDelta(t, x, change(change(x, true), false), 1e-9*max(1, math.Abs(x)), name)
		}
	}
	assert.InDelta(t, photometry.Foot, changes["length"](1, true), 1e-12)
}
