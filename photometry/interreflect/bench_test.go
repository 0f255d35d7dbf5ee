package interreflect

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"lampswap/photometry"
	"lampswap/photometry/direct"
	"lampswap/photometry/internal/hall"
	"lampswap/photometry/room"
)

const ft = photometry.Foot

// strips is the warehouse's lighting, 15 rows of 27.
func strips(tb testing.TB) direct.Scene {
	tb.Helper()
	l, err := hall.Strip()
	require.NoError(tb, err)
	return direct.Scene{Sources: []direct.Source{{Luminaire: l, Placements: hall.Places()}}}
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
		both, err := e.SolveAll(b.Context(), []direct.Scene{scene, after})
		require.NoError(b, err)
		_, err = direct.Prepare(scene, after).All(b.Context(), g)
		require.NoError(b, err)
		_, err = e.Illuminance(b.Context(), []room.Grid{g}, both...)
		require.NoError(b, err)
	}
	b.ReportMetric(float64(patches), "patches")
	b.ReportMetric(float64(g.NX*g.NY), "points")
}

// The work of a job in an empty room, by its points.
func BenchmarkEmptyRoom(b *testing.B) {
	r := hall.Room()
	scene := strips(b)
	for _, spacing := range []float64{2, 1, 0.5} {
		b.Run(
			fmt.Sprintf("points=%.0f", 1e5/(spacing*spacing)),
			func(b *testing.B) { twoSystems(b, r, scene, Options{}, spacing*ft) },
		)
	}
}

// What bounces in an empty room is N log N with its patches.
func BenchmarkSolve(b *testing.B) {
	r := hall.Room()
	scene := strips(b)
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
		e, err := NewEnclosure(b.Context(), hall.Room(), nil, Options{Patch: patch * ft})
		require.NoError(b, err)
		bounce := e.convolver()
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
	r := hall.Room()
	scene := strips(b)
	scene.Racks = hall.Racks(20)
	for _, patch := range []float64{8, 4, 2} {
		b.Run(
			fmt.Sprintf("patch=%.0fft", patch),
			func(b *testing.B) { twoSystems(b, r, scene, Options{Patch: patch * ft}, ft) },
		)
	}
}

// The same by its racks, patches of 4 ft.
func BenchmarkRacksByNumber(b *testing.B) {
	r := hall.Room()
	scene := strips(b)
	for _, count := range []int{5, 10, 20} {
		scene.Racks = hall.Racks(count)
		b.Run(fmt.Sprintf("racks=%d", count), func(b *testing.B) { twoSystems(b, r, scene, Options{}, ft) })
	}
}

// The same by its points.
func BenchmarkRacksByPoints(b *testing.B) {
	r := hall.Room()
	scene := strips(b)
	scene.Racks = hall.Racks(20)
	for _, spacing := range []float64{4, 2, 1} {
		b.Run(
			fmt.Sprintf("points=%.0f", 1e5/(spacing*spacing)),
			func(b *testing.B) { twoSystems(b, r, scene, Options{}, spacing*ft) },
		)
	}
}

// Racks that let light through: every ray goes on behind them.
func BenchmarkOpenRacks(b *testing.B) {
	r := hall.Room()
	scene := strips(b)
	scene.Racks = hall.Racks(20)
	for i := range scene.Racks {
		scene.Racks[i].Transmittance = 0.3
	}
	twoSystems(b, r, scene, Options{}, 2*ft)
}

// Floor and racks that grow together: 120 by 60 ft with 3 racks of 90 by 4 by 20 ft, and as many more of
// both.
func BenchmarkFloorAndRacks(b *testing.B) {
	for _, times := range [][2]int{{1, 1}, {4, 2}, {8, 4}} {
		r, scene := floorWithRacks(b, times[0], times[1])
		b.Run(
			fmt.Sprintf("floor=%d", times[0]*times[1]),
			func(b *testing.B) { twoSystems(b, r, scene, Options{}, 2*ft) },
		)
	}
}
