package interreflect

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry/direct"
	"lampswap/photometry/internal/hall"
	"lampswap/photometry/room"
)

// floorWithRacks is 120 by 60 ft with 3 racks of 90 by 4 by 20 ft under 32 strips, so many times along and
// across.
func floorWithRacks(tb testing.TB, along, across int) (room.Room, direct.Scene) {
	tb.Helper()
	r := room.Room{Length: 120 * ft * float64(along), Width: 60 * ft * float64(across), Height: 30 * ft,
		WorkPlane:   2.5 * ft,
		Reflectance: hall.Room().Reflectance}
	scene := strips(tb)
	scene.Sources[0].Placements = r.Lattice(4*across, 8*along, 28*ft, 0)
	for i := range along {
		for j := range 3 * across {
			scene.Racks = append(scene.Racks, room.Rack{Corner: room.Vec{
				X: (15 + 120*float64(i)) * ft, Y: (8 + 20*float64(j)) * ft,
			},
				Size: room.Vec{X: 90 * ft, Y: 4 * ft, Z: 20 * ft}, Reflectance: 0.3})
		}
	}
	return r, scene
}

// Far luminaires that count together give the patches of a large floor and its racks what each gives by
// itself.
func TestFarLuminairesTogether(t *testing.T) {
	r, scene := floorWithRacks(t, 4, 2)
	var both [2]*Solution
	for i, plain := range []bool{false, true} {
		e, err := NewEnclosure(t.Context(), r, scene.Racks, Options{Plain: plain, Rays: 16})
		require.NoError(t, err)
		both[i], err = e.Solve(t.Context(), scene)
		require.NoError(t, err)
	}
	off, all := 0.0, 0.0
	for i, area := range both[1].enclosure.areas {
		want := both[1].direct[i]
		off, all = off+area*(both[0].direct[i]-want)*(both[0].direct[i]-want), all+area*want*want
	}
	t.Logf("deviation of the patches %.3f percent (root mean square)", 100*math.Sqrt(off/all))
	assert.Less(t, math.Sqrt(off/all), 1e-3)
	assert.InEpsilon(t, both[1].balance.Arrived, both[0].balance.Arrived, 3e-4)
}

// Systems that are solved together get what each gets alone, to the bit, whether they hang alike or not.
func TestSolvedTogether(t *testing.T) {
	r, scene := floorWithRacks(t, 1, 1)
	other, apart := strips(t), strips(t)
	other.Sources[0].Placements, apart.Sources[0].Placements = scene.Sources[0].Placements,
		r.Lattice(3, 5, 27*ft, 0.4)
	other.Sources[0].Luminaire.Distribution = isotropic(t, 3000).Sources[0].Luminaire.Distribution
	other.Racks = scene.Racks
	e, err := NewEnclosure(t.Context(), r, scene.Racks, Options{Rays: 16})
	require.NoError(t, err)
	scenes := []direct.Scene{scene, apart, other}
	all, err := e.SolveAll(t.Context(), scenes)
	require.NoError(t, err)
	for i := range scenes {
		one, err := e.Solve(t.Context(), scenes[i])
		require.NoError(t, err)
		require.Equal(t, one.total, all[i].total, "scene %d", i)
	}
	require.Equal(t, []direct.Group{{0, 2}, {1}}, direct.Alike(scenes))
	g := r.WorkPlaneGrid(2 * ft)
	light, err := direct.Prepare(scene, other).All(t.Context(), g)
	require.NoError(t, err)
	for i, s := range []direct.Scene{scene, other} {
		one, err := s.Illuminance(t.Context(), g)
		require.NoError(t, err)
		for k, x := range one {
			require.Equal(t, math.Float64bits(x), math.Float64bits(light[i][k]), "scene %d, point %d", i, k)
		}
	}
}
