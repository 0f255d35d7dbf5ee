package lighting_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry/direct"
	"lampswap/photometry/interreflect"
	"lampswap/photometry/job"
	"lampswap/photometry/lighting"
	"lampswap/photometry/longtest"
	"lampswap/photometry/room"
)

// A pinned job is one of those by which it is decided what makes light fast and whether it stays right:
// regular and moved, low and large, close to the ceiling, among racks, on vertical faces.
type pinned struct{ name, text string }

func pinnedJobs() []pinned {
	jobs := []pinned{
		{"lattice", imperial(120, 60, 18, "mounting_height = 16\nrows = 6\ncolumns = 12", "")},
		{"moved", imperial(120, 60, 18, "mounting_height = 16\n"+moved(6, 12, 10, 10), "")},
		{"low", metric(120, 80, 4, "mounting_height = 3.6\nrows = 16\ncolumns = 24")},
	}
	for _, gap := range []float64{1, 0.25, 0.15, 0.1, 0} {
		jobs = append(
			jobs,
			pinned{
				fmt.Sprintf("gap=%g", gap),
				imperial(40, 30, 12, fmt.Sprintf("mounting_height = %g\nrows = 3\ncolumns = 5", 12-gap), ""),
			},
		)
	}
	const racks = "[[racks]]\ncorner = [10.0, 6.0]\nsize = [100.0, 6.0, 10.0]\nreflectance = 0.3\n" +
		"transmittance = %g\nrepeat = { count = 4, step = [0.0, 14.0] }\n"
	return append(jobs,
		pinned{
			"racks", imperial(120, 60, 18, "mounting_height = 16\nrows = 6\ncolumns = 12", fmt.Sprintf(racks, 0.0)),
		},
		pinned{
			"open-racks",
			imperial(120, 60, 18, "mounting_height = 16\nrows = 6\ncolumns = 12", fmt.Sprintf(racks, 0.3)),
		},
		pinned{"large", imperial(400, 250, 24, "mounting_height = 20\nrows = 15\ncolumns = 25", "")},
		pinned{"vertical", imperial(60, 40, 16, "mounting_height = 14\nrows = 4\ncolumns = 6",
			strings.Join([]string{
				face("below the lamps", "from = [2.0, 15.0]\nto = [58.0, 15.0]\nheights = [0.5, 13.5]\nfacing = 90.0"),
				face("across", "from = [25.0, 2.0]\nto = [25.0, 38.0]\nheights = [0.5, 13.5]\nfacing = 0.0"),
				face("wall", "from = [0.0, 0.0]\nto = [0.0, 40.0]\nheights = [0.0, 16.0]\nfacing = 0.0")}, ""))})
}

func face(name, keys string) string {
	return fmt.Sprintf("[[grids]]\nname = %q\n%s\nspacing = 1.0\n", name, keys)
}

// moved is a layout in rows and columns of which each luminaire hangs up to 0.3 ft off, in two directions.
func moved(rows, columns int, pitchX, pitchY float64) string {
	rng := rand.New(rand.NewPCG(3, 4))
	var places []string
	for r := range rows {
		for c := range columns {
			places = append(
				places,
				fmt.Sprintf(
					"[%.4f, %.4f]", (float64(c)+0.5)*pitchX+0.6*rng.Float64()-0.3,
					(float64(r)+0.5)*pitchY+0.6*rng.Float64()-0.3,
				),
			)
		}
	}
	return "positions = [" + strings.Join(places, ", ") + "]"
}

func imperial(length, width, height float64, layout, more string) string {
	return pinnedText("imperial", length, width, height, 2.5, 2, layout, more)
}

func metric(length, width, height float64, layout string) string {
	return pinnedText("metric", length, width, height, 0.8, 0.5, layout, "")
}

func pinnedText(units string, length, width, height, plane, spacing float64, layout, more string) string {
	return fmt.Sprintf(`title = "pinned"
units = %q
[room]
length = %g
width = %g
height = %g
work_plane = %g
reflectance = { ceiling = 0.5, walls = 0.3, floor = 0.2 }
[layout]
%s
[existing]
fixture = "strip-4in"
lamp = "F96T12"
lamps = 2
ballast = "magnetic"
[proposed]
fixture = "strip-4in"
lamp = "F32T8/800"
lamps = 4
ballast = "is-normal"
%s[calculation]
spacing = %g
`, units, length, width, height, plane, layout, more, spacing)
}

func read(tb testing.TB, p pinned) *job.Job {
	tb.Helper()
	j, err := job.Read(
		p.name+".toml", []byte(p.text),
		func(name string) ([]byte, error) { return nil, fmt.Errorf("no file %s", name) },
	)
	require.NoError(tb, err, p.name)
	return j
}

// The light of both systems of each pinned job, and the room's patches with it.
func BenchmarkJobs(b *testing.B) {
	for _, p := range pinnedJobs() {
		j := read(b, p)
		b.Run(p.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				solved(b, j)
			}
		})
	}
}

// Direct light on the grids of the pinned jobs is the plain sum over every luminaire, and all that is emitted
// is absorbed.
func TestPinnedJobs(t *testing.T) {
	for _, p := range pinnedJobs() {
		if !longtest.On() && !slices.Contains([]string{"moved", "gap=0.1", "racks"}, p.name) {
			continue
		}
		j := read(t, p)
		space, err := lighting.NewSpace(t.Context(), j, interreflect.Options{})
		require.NoError(t, err)
		s, err := space.Solve(t.Context(), &j.Existing)
		require.NoError(t, err)
		scale := j.Existing.BallastFactor * j.Existing.LampLumensEach() / j.Existing.Luminaire.LampLumens
		scene := direct.Scene{
			Sources: []direct.Source{{Luminaire: j.Existing.Luminaire, Placements: j.Existing.Layout.Placements}},
			Racks:   j.Racks, Room: j.Room.Sides(),
		}
		worst := 0.0
		for _, g := range s.Grids {
			for i := range spots {
				at := spot(g.Grid, i)
				if want := scale * scene.At(g.Point(at%g.NX, at/g.NX), g.Normal); !math.IsNaN(g.Direct[at]) && want > 0 {
					worst = max(worst, math.Abs(g.Direct[at]/want-1))
				}
			}
		}
		off := s.Balance.Imbalance()
		t.Logf(
			"%s: direct light %.3f percent from the plain sum, balance %+.3f percent", p.name, 100*worst, 100*off,
		)
		assert.LessOrEqual(t, worst, 2e-3, "%s: what the fast ways promise", p.name)
		assert.InDelta(t, 0, off, 3e-3, "%s: what is emitted is absorbed", p.name)
	}
}

// What bounces is the same where no short cut is taken: every luminaire by itself on the patches, every point
// by itself in their view.
func TestPinnedJobsArePlain(t *testing.T) {
	for _, p := range pinnedJobs() {
		if p.name != "moved" && p.name != "gap=0" && p.name != "vertical" {
			continue
		}
		j := read(t, p)
		var both [2]lighting.System
		for i, options := range []interreflect.Options{{}, {Plain: true}} {
			space, err := lighting.NewSpace(t.Context(), j, options)
			require.NoError(t, err)
			both[i], err = space.Solve(t.Context(), &j.Existing)
			require.NoError(t, err)
		}
		worst := 0.0
		for g := range both[0].Grids {
			for i, want := range both[1].Grids[g].Interreflected {
				worst = max(worst, math.Abs(both[0].Grids[g].Interreflected[i]-want)/(want+both[1].Grids[g].Direct[i]))
			}
		}
		t.Logf("%s: what bounces deviates by %.3f percent of the light there", p.name, 100*worst)
		assert.LessOrEqual(t, worst, 2e-3, p.name)
	}
}

const spots = 12

// spot is one of some points spread over a grid by an additive recurrence, the even cover of two dimensions.
func spot(g room.Grid, i int) int {
	_, x := math.Modf(0.5 + float64(i)*0.7548776662466927)
	_, y := math.Modf(0.5 + float64(i)*0.5698402909980532)
	return int(y*float64(g.NY))*g.NX + int(x*float64(g.NX))
}
