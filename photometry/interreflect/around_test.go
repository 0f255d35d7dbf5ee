package interreflect

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"lampswap/photometry/room"
)

// What a cylinder receives of the light that bounces is the mean of what upright surfaces receive that face
// all ways: the closed forms of those, 72 times, against the rule of the cylinder. The mean itself errs by
// 1e-4 (discretisation), the rule where a point is near a surface.
func TestCylinderIsTheMeanOverDirections(t *testing.T) {
	const ways = 72
	worst := 0.0
	for _, c := range []struct {
		transmittance float64
		empty         bool
	}{{0, true}, {0, false}, {0.3, false}} {
		r, racks := store(c.transmittance)
		if c.empty {
			racks = nil
		}
		e, err := NewEnclosure(t.Context(), r, racks, Options{})
		require.NoError(t, err)
		s, err := e.Solve(
			t.Context(),
			isotropic(
				t, 3000, room.Placement{Position: room.Vec{X: 3, Y: 4.2, Z: 4}},
				room.Placement{Position: room.Vec{X: 9.5, Y: 7, Z: 4}},
			),
		)
		require.NoError(t, err)
		for _, p := range []room.Vec{
			{X: 5, Y: 4, Z: 1.2}, {X: 9.4, Y: 4.5, Z: 1.7}, {X: 5.1, Y: 3.35, Z: 1.2}, {X: 0.1, Y: 0.2, Z: 0.3},
			{X: 11, Y: 8, Z: 4.99}, {X: 1.5, Y: 7, Z: 0}, {X: 12, Y: 6, Z: 1.2},
		} {
			mean := 0.0
			for i := range ways {
				mean += at(s, p, room.Facing(2*math.Pi*float64(i)/ways)) / ways
			}
			got := at(s, p, room.AllRound)
			require.InEpsilon(t, mean, got, 4e-3, "%v, %+v", p, c)
			worst = max(worst, math.Abs(got/mean-1))
		}
	}
	t.Logf("largest deviation %.2g percent", 100*worst)
}

// Grids of cylinders and of upright surfaces on a level lattice are interpolated as any other is.
func TestTilesOfUprightSurfaces(t *testing.T) {
	for _, empty := range []bool{true, false} {
		r, racks := store(0)
		if empty {
			racks = nil
		}
		scene := isotropic(t, 3000, r.Lattice(3, 3, 4.4, 0)...)
		scene.Racks = racks
		e, err := NewEnclosure(t.Context(), r, racks, Options{})
		require.NoError(t, err)
		s, err := e.Solve(t.Context(), scene)
		require.NoError(t, err)
		for _, normal := range []room.Vec{room.AllRound, room.Facing(2)} {
			g := room.HorizontalGrid("upright", room.Vec{}, room.Vec{X: r.Length, Y: r.Width}, 1.2, 0.4)
			g.Normal = normal
			worst, same := tiled(t, t.Context(), s, scene, g)
			require.Less(t, worst, 2e-3, "%v", normal)
			t.Logf(
				"facing %v: largest deviation %.3f percent of the local value, %.0f percent gathered", normal, 100*worst,
				100*same,
			)
		}
	}
}
