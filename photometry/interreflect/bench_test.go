package interreflect

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"lampswap/photometry"
	"lampswap/photometry/direct"
	"lampswap/photometry/room"
)

const ft = photometry.Foot

// hall is the warehouse of the speed targets, or a part of its length.
func hall(share float64) room.Room {
	return room.Room{Length: 400 * ft * share, Width: 250 * ft, Height: 24 * ft, WorkPlane: 2.5 * ft,
		Reflectance: room.Reflectances{Ceiling: 0.5, Walls: 0.3, Floor: 0.2}}
}

func strips(tb testing.TB, r room.Room, share float64) direct.Scene {
	tb.Helper()
	var horizontal, vertical []float64
	for c := 0.0; c <= 90; c += 10 {
		horizontal = append(horizontal, c)
	}
	for g := 0.0; g <= 180; g += 5 {
		vertical = append(vertical, g)
	}
	table := make([][]float64, len(horizontal))
	for h, c := range horizontal {
		for _, g := range vertical {
			c, g := c*math.Pi/180, g*math.Pi/180
			table[h] = append(table[h], 3000*math.Max(0, math.Cos(g))*(1+0.3*math.Pow(math.Sin(g)*math.Sin(c), 2))+200*math.Sin(g)*math.Sin(g))
		}
	}
	d, err := photometry.NewDistribution(horizontal, vertical, table)
	require.NoError(tb, err)
	return direct.Scene{Sources: []direct.Source{{
		Luminaire:  photometry.Luminaire{Distribution: d, Opening: photometry.Opening{Length: 8 * ft, Width: 4 * photometry.Inch}},
		Placements: r.Lattice(15, int(25*share), 20*ft, 0)}}}
}

func aisles() []room.Rack {
	var racks []room.Rack
	for i := range 20 {
		racks = append(racks, room.Rack{Corner: room.Vec{X: 50 * ft, Y: (4 + 12*float64(i)) * ft}, Size: room.Vec{X: 300 * ft, Y: 8 * ft, Z: 16 * ft}, Reflectance: 0.3})
	}
	return racks
}

// both systems, before and after, with the direct light, as a job does.
func twoSystems(b *testing.B, r room.Room, scene direct.Scene, options Options, spacing float64) {
	b.Helper()
	b.ReportAllocs()
	g := r.WorkPlaneGrid(spacing)
	patches := 0
	for b.Loop() {
		e, err := NewEnclosure(b.Context(), r, scene.Racks, options)
		require.NoError(b, err)
		patches = e.Patches()
		for range 2 {
			s, err := e.Solve(b.Context(), scene)
			require.NoError(b, err)
			_, err = s.Illuminance(b.Context(), g)
			require.NoError(b, err)
			_, err = scene.Illuminance(b.Context(), g)
			require.NoError(b, err)
		}
	}
	b.ReportMetric(float64(patches), "patches")
}

func BenchmarkEmptyRoom(b *testing.B) {
	for _, share := range []float64{0.24, 0.48, 1} {
		r := hall(share)
		b.Run(fmt.Sprintf("points=%.0f", 1e5*share), func(b *testing.B) { twoSystems(b, r, strips(b, r, share), Options{}, ft) })
	}
}

func BenchmarkSolve(b *testing.B) {
	for _, patch := range []float64{4, 2, 1} {
		r := hall(1)
		scene := strips(b, r, 1)
		e, err := NewEnclosure(b.Context(), r, nil, Options{Patch: patch * ft})
		require.NoError(b, err)
		b.Run(fmt.Sprintf("patches=%d", e.Patches()), func(b *testing.B) {
			for b.Loop() {
				_, err := e.Solve(b.Context(), scene)
				require.NoError(b, err)
			}
		})
	}
}

func BenchmarkRacks(b *testing.B) {
	for _, patch := range []float64{8, 4, 2} {
		r := hall(1)
		scene := strips(b, r, 1)
		scene.Racks = aisles()
		b.Run(fmt.Sprintf("patch=%.0fft", patch), func(b *testing.B) { twoSystems(b, r, scene, Options{Patch: patch * ft}, ft) })
	}
}
