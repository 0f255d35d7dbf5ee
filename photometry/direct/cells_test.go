package direct_test

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"lampswap/photometry"
	"lampswap/photometry/direct"
	"lampswap/photometry/internal/hall"
	"lampswap/photometry/longtest"
	"lampswap/photometry/room"
)

// missing returns by how much the mean of the cells of a grid, each cut into smaller ones, differs from that
// of many points, as a part of what the brightest cell has.
func missing(t *testing.T, scene direct.Scene, g room.Grid, cut int) float64 {
	t.Helper()
	const points = 16
	finer := func(n, m int) room.Grid {
		f := g
		f.NX, f.NY, f.StepX, f.StepY = g.NX*n, g.NY*m, g.StepX/float64(n), g.StepY/float64(m)
		return f
	}
	means := func(light []float64, n, m int) []float64 {
		all := make([]float64, g.NX*g.NY)
		for i := range light {
			all[i/(g.NX*n)/m*g.NX+i%(g.NX*n)/n] += light[i] / float64(n*m)
		}
		return all
	}
	// Two rows of cells where there is one column: a row has the shadows of its middle, and at the corner of a
	// rack exact shadows along rows 0.125 m apart are themselves 2.5 percent off.
	light, err := direct.Means(t.Context(), scene, finer(cut, 2*cut))
	require.NoError(t, err)
	plain, err := scene.Prepare().Illuminance(t.Context(), finer(points, points))
	require.NoError(t, err)
	got, want := means(light, cut, 2*cut), means(plain, points, points)
	worst := 0.0
	for i := range got {
		worst = max(worst, math.Abs(got[i]-want[i]))
	}
	return worst / slices.Max(want)
}

// The mean over a cell that racks light in part, solid racks and open ones, lamps along and across them and
// askew, slender and wide, against that of many points. What is missing comes of light that is not even over
// a cell and of shadows along its row, and falls with its size.
func TestMeansOfCells(t *testing.T) {
	strip, err := hall.Strip()
	require.NoError(t, err)
	wide := strip
	wide.Opening = photometry.Opening{Length: 1.2, Width: 0.6}
	rack := func(x, y, length, width, height, passes float64) room.Rack {
		return room.Rack{
			Corner:        room.Vec{X: x, Y: y},
			Size:          room.Vec{X: length, Y: width, Z: height},
			Transmittance: passes,
		}
	}
	for _, c := range []struct {
		name      string
		luminaire photometry.Luminaire
		rotation  float64
		passes    float64
	}{
		{"along", strip, 0, 0}, {"across", strip, math.Pi / 2, 0}, {"askew", strip, 0.6, 0}, {"wide", wide, 0, 0},
		{"open racks", strip, 0, 0.3},
	} {
		t.Run(c.name, func(t *testing.T) {
			if c.name == "wide" {
				longtest.Only(t, "openings that take the most points")
			}
			var places []room.Placement
			for _, at := range []room.Vec{{X: 3, Y: 2.2, Z: 6}, {X: 6, Y: 3.9, Z: 6}, {X: 9, Y: 7, Z: 6},
				{X: 2, Y: 8.5, Z: 6}} {
				places = append(places, room.Placement{Position: at, Rotation: c.rotation})
			}
			scene := direct.Scene{
				Sources: []direct.Source{{Luminaire: c.luminaire, Placements: places}},
				Racks: []room.Rack{
					rack(2, 1, 7, 1, 4.5, c.passes),
					rack(2, 3, 6, 1.2, 4.5, c.passes),
					rack(2, 5.5, 7, 1, 3.5, c.passes),
				},
			}
			for _, g := range []room.Grid{
				// face
				{NX: 6, NY: 12, StepX: 0.75, StepY: 0.5, Origin: room.Vec{X: 2, Y: 3},
					U: room.Vec{Z: 1}, V: room.Vec{X: 1}, Normal: room.Vec{Y: -1}},
				// aisle
				{NX: 3, NY: 12, StepX: 0.4, StepY: 0.5, Origin: room.Vec{X: 2, Y: 4.2},
					U: room.Vec{Y: 1}, V: room.Vec{X: 1}, Normal: room.Vec{Z: 1}},
				// wall
				{NX: 8, NY: 10, StepX: 0.5, StepY: 0.5, Origin: room.Vec{X: 0, Y: 2},
					U: room.Vec{Z: 1}, V: room.Vec{Y: 1}, Normal: room.Vec{X: 1}},
			} {
				coarse, fine := missing(t, scene, g, 1), missing(t, scene, g, 4)
				t.Logf(
					"largest deviation %.2g percent of the most, with cells a quarter as large %.2g",
					100*coarse,
					100*fine,
				)
				require.Less(t, fine, 0.02)
				// next to nothing is left to fall where shadows are wide
				require.LessOrEqual(t, fine, max(coarse/2, 0.015))
			}
		})
	}
}

// Under a ceiling light may change sharply: here it begins to fall 35 degrees from straight up and is gone at
// 15. The means of its patches are those of many points.
func TestMeansOfSharpLight(t *testing.T) {
	d := tabulated(t, 2.5, 180, func(_, g float64) float64 {
		return 1000 * min(1, (165-g*180/math.Pi)/20)
	})
	r := room.Room{Length: 45, Width: 35, Height: 7.2}
	scene := direct.Scene{Sources: []direct.Source{{
		Luminaire:  photometry.Luminaire{Distribution: d, Opening: photometry.Opening{Length: 2.4, Width: 0.1}},
		Placements: r.Lattice(7, 9, 6, 0),
	}}}
	const patch, points = 0.85, 16
	g := room.Grid{
		NX:     12,
		NY:     10,
		StepX:  patch,
		StepY:  patch,
		Origin: room.Vec{Z: 7.2},
		U:      room.Vec{X: 1},
		V:      room.Vec{Y: 1},
		Normal: room.Vec{Z: -1},
	}
	got, err := direct.Means(t.Context(), scene, g)
	require.NoError(t, err)
	fine := g
	fine.NX, fine.NY, fine.StepX, fine.StepY = g.NX*points, g.NY*points, g.StepX/points, g.StepY/points
	light, err := scene.Illuminance(t.Context(), fine)
	require.NoError(t, err)
	want := make([]float64, len(got))
	for i, x := range light {
		want[i/fine.NX/points*g.NX+i%fine.NX/points] += x / (points * points)
	}
	worst := 0.0
	for i := range got {
		worst = max(worst, math.Abs(got[i]/want[i]-1))
	}
	t.Logf("largest deviation %.2g percent", 100*worst)
	require.Less(t, worst, 2e-3)
}
