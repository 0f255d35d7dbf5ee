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

// aisles returns as many racks 300 x 8 x 16 ft as asked for, 20 at most.
func aisles(count int) []room.Rack {
	var racks []room.Rack
	for i := range count {
		racks = append(racks, room.Rack{Corner: room.Vec{X: 50 * ft, Y: (4 + 12*float64(i)) * ft}, Size: room.Vec{X: 300 * ft, Y: 8 * ft, Z: 16 * ft}, Reflectance: 0.3})
	}
	return racks
}

// twoSystems is the light of both systems, before and after, direct and what bounces, as a job asks for it.
func twoSystems(b *testing.B, r room.Room, scene direct.Scene, options Options, spacing float64) {
	b.Helper()
	b.ReportAllocs()
	g := r.WorkPlaneGrid(spacing)
	after := scene
	after.Sources = []direct.Source{scene.Sources[0]}
	after.Sources[0].Luminaire.Distribution = scene.Sources[0].Luminaire.Distribution.Scaled(0.8)
	patches := 0
	for b.Loop() {
		e, err := NewEnclosure(b.Context(), r, scene.Racks, options)
		require.NoError(b, err)
		patches = e.Patches()
		var both []*Solution
		for _, s := range []direct.Scene{scene, after} {
			solution, err := e.Solve(b.Context(), s)
			require.NoError(b, err)
			both = append(both, solution)
			_, err = s.Illuminance(b.Context(), g)
			require.NoError(b, err)
		}
		_, err = e.Illuminance(b.Context(), g, both...)
		require.NoError(b, err)
	}
	b.ReportMetric(float64(patches), "patches")
	b.ReportMetric(float64(g.NX*g.NY), "points")
}

// The work of a job in an empty room, by its points.
func BenchmarkEmptyRoom(b *testing.B) {
	r := hall(1)
	scene := strips(b, r, 1)
	for _, spacing := range []float64{2, 1, 0.5} {
		b.Run(fmt.Sprintf("points=%.0f", 1e5/(spacing*spacing)), func(b *testing.B) { twoSystems(b, r, scene, Options{}, spacing*ft) })
	}
}

// What bounces in an empty room is N log N with its patches.
func BenchmarkSolve(b *testing.B) {
	r := hall(1)
	scene := strips(b, r, 1)
	for _, patch := range []float64{4, 2, 1} {
		e, err := NewEnclosure(b.Context(), r, nil, Options{Patch: patch * ft})
		require.NoError(b, err)
		b.Run(fmt.Sprintf("patches=%d", e.Patches()), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				_, err := e.Solve(b.Context(), scene)
				require.NoError(b, err)
			}
		})
	}
}

// One bounce alone.
func BenchmarkBounce(b *testing.B) {
	for _, patch := range []float64{4, 2, 1} {
		e, err := NewEnclosure(b.Context(), hall(1), nil, Options{Patch: patch * ft})
		require.NoError(b, err)
		bounce := e.bouncer()
		dst, exitance := make([]float64, e.Patches()), make([]float64, e.Patches())
		for i := range exitance {
			exitance[i] = 1
		}
		b.Run(fmt.Sprintf("patches=%d", e.Patches()), func(b *testing.B) {
			for b.Loop() {
				bounce.bounce(dst, exitance)
			}
		})
	}
}

// The work of a job among 20 racks, by its patches.
func BenchmarkRacksByPatches(b *testing.B) {
	r := hall(1)
	scene := strips(b, r, 1)
	scene.Racks = aisles(20)
	for _, patch := range []float64{8, 4, 2} {
		b.Run(fmt.Sprintf("patch=%.0fft", patch), func(b *testing.B) { twoSystems(b, r, scene, Options{Patch: patch * ft}, ft) })
	}
}

// The same by its racks, patches of 4 ft.
func BenchmarkRacksByNumber(b *testing.B) {
	r := hall(1)
	scene := strips(b, r, 1)
	for _, count := range []int{5, 10, 20} {
		scene.Racks = aisles(count)
		b.Run(fmt.Sprintf("racks=%d", count), func(b *testing.B) { twoSystems(b, r, scene, Options{}, ft) })
	}
}

// The same by its points.
func BenchmarkRacksByPoints(b *testing.B) {
	r := hall(1)
	scene := strips(b, r, 1)
	scene.Racks = aisles(20)
	for _, spacing := range []float64{4, 2, 1} {
		b.Run(fmt.Sprintf("points=%.0f", 1e5/(spacing*spacing)), func(b *testing.B) { twoSystems(b, r, scene, Options{}, spacing*ft) })
	}
}
