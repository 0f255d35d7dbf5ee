package direct_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lampswap/photometry"
	"lampswap/photometry/direct"
	"lampswap/photometry/room"
)

// cylindrical is a grid of the cylindrical illuminance on part of a floor.
func cylindrical(r room.Room, height, spacing float64) room.Grid {
	g := room.HorizontalGrid("cylinders", room.Vec{}, room.Vec{X: r.Length, Y: r.Width}, height, spacing)
	g.Normal = room.AllRound
	return g
}

// The illuminance of a cylinder by a point is I sin γ / (π d²): the mean of a positive cosine over a turn is
// 1/π.
func TestCylinderUnderAPoint(t *testing.T) {
	scene := one(isotropic(t, 1000), photometry.Opening{}, room.Vec{X: 3, Y: 4, Z: 5}, 0)
	for _, c := range []struct {
		at   room.Vec
		want float64
	}{
		{room.Vec{X: 3, Y: 4, Z: 1}, 0},                                     // right below: a cylinder has no top
		{room.Vec{X: 6, Y: 4, Z: 1}, 1000 * 3 / 5.0 / (math.Pi * 25)},       // 3, 4, 5
		{room.Vec{X: 3, Y: 9, Z: 5}, 1000 / (math.Pi * 25)},                 // beside it
		{room.Vec{X: 3, Y: 7, Z: 9}, 1000 * 3 / 5.0 / (math.Pi * 25)},       // above it
		{room.Vec{X: 2, Y: 2, Z: 3}, 1000 * math.Sqrt(5) / 3 / math.Pi / 9}, // 1, 2, 2
	} {
		assert.InDelta(t, c.want, scene.At(c.at, room.AllRound), 1e-9, "%v", c.at) // rounding
		got, err := scene.Illuminance(t.Context(), room.PointGrid(c.at, room.AllRound))
		require.NoError(t, err)
		assert.InDelta(t, c.want, got[0], 3e-4*c.want+1e-12, "%v", c.at) // table of the field
	}
}

// Cylindrical illuminance is the mean of that of upright surfaces facing all ways, each worked out by itself:
// a second way of the plainest kind. 180 directions leave 1e-4 (discretisation: the mean of a clipped cosine
// at n places errs by the square of π/n).
func TestCylinderIsTheMeanOverDirections(t *testing.T) {
	scene, _ := busy(t)
	scene.Racks = append(
		scene.Racks,
		room.Rack{Corner: room.Vec{X: 8, Y: 5}, Size: room.Vec{X: 2, Y: 2, Z: 4}, Transmittance: 0.3},
	)
	const ways = 180
	worst := 0.0
	for _, p := range []room.Vec{{X: 1, Y: 1, Z: 1.2}, {X: 4, Y: 4.5, Z: 1.2}, {X: 11, Y: 8, Z: 1.7},
		{X: 5, Y: 3.4, Z: 1.2}, {X: 7.7, Y: 6, Z: 4.8}, {X: 6, Y: 1.7, Z: 0}} {
		mean := 0.0
		for i := range ways {
			mean += scene.At(p, room.Facing(2*math.Pi*float64(i)/ways)) / ways
		}
		got := scene.At(p, room.AllRound)
		require.InEpsilon(t, mean, got, 2*agreement, "%v", p)
		worst = max(worst, math.Abs(got/mean-1))
	}
	t.Logf("largest deviation %.3f percent", 100*worst)
}

// Grids of cylinders, and of upright surfaces on a level lattice, get what each point gets by itself: among
// racks, with luminaires in rows and columns and at several heights, below and above them.
func TestUprightOnALevelLattice(t *testing.T) {
	scene, r := busy(t)
	bare := scene
	bare.Racks = nil
	bare.Sources = append(
		bare.Sources,
		direct.Source{
			Luminaire:  bare.Sources[0].Luminaire,
			Placements: append(r.Lattice(2, 2, 3, 0), r.Lattice(3, 2, 4.5, 0)...),
		},
	)
	for _, s := range []direct.Scene{scene, bare} {
		for _, height := range []float64{0, 1.2, 4.6} {
			g := cylindrical(r, height, 0.4)
			assert.Less(t, agree(t, s, g, 7), agreement, "cylinders at %v", height)
			for _, azimuth := range []float64{0, math.Pi / 2, 3.7} {
				g.Normal = room.Facing(azimuth)
				assert.Less(t, agree(t, s, g, 11), agreement, "facing %v at %v", azimuth, height)
			}
		}
	}
}

// A mirrored room has mirrored cylinders, and a cylinder has no side: a room turned by a quarter gives the
// same.
func TestCylindersMirrorAndTurn(t *testing.T) {
	lopsided := skew(t)
	rapid.Check(t, func(t *rapid.T) {
		x, y, z := rapid.Float64Range(
			0.5,
			9,
		).Draw(
			t,
			"x",
		), rapid.Float64Range(
			0.5,
			9,
		).Draw(
			t,
			"y",
		), rapid.Float64Range(
			0,
			4,
		).Draw(
			t,
			"z",
		)
		lamp := photometry.Luminaire{
			Distribution: lopsided,
			Opening:      photometry.Opening{Length: 1.2, Width: 0.2, Height: 0.1},
		}
		at := func(p room.Vec, turn float64, luminaire room.Vec) float64 {
			s := direct.Scene{
				Sources: []direct.Source{
					{Luminaire: lamp, Placements: []room.Placement{{Position: luminaire, Rotation: turn}}},
				},
			}
			return s.At(p, room.AllRound)
		}
		straight := at(room.Vec{X: x, Y: y, Z: z}, 0, room.Vec{X: 4, Y: 5, Z: 4.5})
		turned := at(room.Vec{X: -y, Y: x, Z: z}, math.Pi/2, room.Vec{X: -5, Y: 4, Z: 4.5})
		if math.Abs(straight-turned) > 1e-9*straight {
			t.Fatalf("%v lx, turned %v", straight, turned)
		}
	})
}
