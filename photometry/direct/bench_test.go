package direct_test

import (
	"context"
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"lampswap/photometry"
	"lampswap/photometry/direct"
	"lampswap/photometry/internal/hall"
	"lampswap/photometry/room"
)

func strip(tb testing.TB) photometry.Luminaire {
	tb.Helper()
	l, err := hall.Strip()
	require.NoError(tb, err)
	return l
}

func benchmark(b *testing.B, scene direct.Scene, g room.Grid) {
	b.Helper()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := scene.Illuminance(context.Background(), g); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(g.NX*g.NY)*float64(b.N)/b.Elapsed().Seconds(), "points/s")
}

// Linear in the points, and nearly free of them.
func BenchmarkLatticeByPoints(b *testing.B) {
	r := hall.Room()
	scene := direct.Scene{Sources: []direct.Source{{Luminaire: strip(b), Placements: hall.Places()}}}
	for _, spacing := range []float64{1, 0.5, 0.25} {
		g := r.WorkPlaneGrid(spacing * photometry.Foot)
		b.Run(fmt.Sprintf("points=%d", g.NX*g.NY), func(b *testing.B) { benchmark(b, scene, g) })
	}
}

// A lattice's luminaires share one kernel.
func BenchmarkLatticeByLuminaires(b *testing.B) {
	for _, columns := range []int{7, 14, 27} {
		r := hall.Room()
		places := r.Lattice(15, columns, 20*photometry.Foot, 0)
		scene := direct.Scene{Sources: []direct.Source{{Luminaire: strip(b), Placements: places}}}
		b.Run(
			fmt.Sprintf("luminaires=%d", len(places)),
			func(b *testing.B) { benchmark(b, scene, r.WorkPlaneGrid(photometry.Foot)) },
		)
	}
}

// Luminaires without order are linear in their number.
func BenchmarkIrregular(b *testing.B) {
	for _, columns := range []int{7, 14, 27} {
		r := hall.Room()
		places := r.Lattice(15, columns, 20*photometry.Foot, 0)
		for i := range places {
			places[i].Position.X += 0.1 * math.Sin(float64(i)) // m
		}
		scene := direct.Scene{Sources: []direct.Source{{Luminaire: strip(b), Placements: places}}}
		b.Run(
			fmt.Sprintf("luminaires=%d", len(places)),
			func(b *testing.B) { benchmark(b, scene, r.WorkPlaneGrid(photometry.Foot)) },
		)
	}
}

// and in the points.
func BenchmarkIrregularByPoints(b *testing.B) {
	const ft = photometry.Foot
	places := hall.Places()
	for i := range places {
		places[i].Position.X += 0.1 * math.Sin(float64(i)) // m
	}
	scene := direct.Scene{Sources: []direct.Source{{Luminaire: strip(b), Placements: places}}}
	for _, length := range []float64{108, 216, 432} { // of a wall, too coarse a grid to interpolate
		g, err := room.VerticalGrid("wall", room.Vec{}, room.Vec{X: length * ft}, 0, 24*ft, math.Pi/2, ft)
		require.NoError(b, err)
		b.Run(fmt.Sprintf("points=%d", g.NX*g.NY), func(b *testing.B) { benchmark(b, scene, g) })
	}
}

func BenchmarkRacksByPoints(b *testing.B) {
	r := hall.Room()
	scene := direct.Scene{
		Sources: []direct.Source{{Luminaire: strip(b), Placements: hall.Places()}},
		Racks:   hall.Racks(20),
	}
	for _, spacing := range []float64{4, 2, 1} {
		g := r.WorkPlaneGrid(spacing * photometry.Foot)
		b.Run(fmt.Sprintf("points=%d", g.NX*g.NY), func(b *testing.B) { benchmark(b, scene, g) })
	}
}

func BenchmarkRackFace(b *testing.B) {
	const ft = photometry.Foot
	scene := direct.Scene{
		Sources: []direct.Source{{Luminaire: strip(b), Placements: hall.Places()}},
		Racks:   hall.Racks(20),
	}
	g, err := room.VerticalGrid(
		"face",
		room.Vec{X: 66 * ft, Y: 70 * ft},
		room.Vec{X: 366 * ft, Y: 70 * ft},
		0,
		16*ft,
		math.Pi/2,
		ft,
	)
	require.NoError(b, err)
	benchmark(b, scene, g)
}

func BenchmarkPlain(b *testing.B) {
	scene := direct.Scene{Sources: []direct.Source{{Luminaire: strip(b), Placements: hall.Places()}}}
	b.ReportAllocs()
	for b.Loop() {
		scene.At(room.Vec{X: 31, Y: 17, Z: 0.8}, room.Vec{Z: 1})
	}
}

// The mean light on cells between racks, solid ones and such that let light through.
func BenchmarkMeansAmongRacks(b *testing.B) {
	const ft = photometry.Foot
	for _, passes := range []float64{0, 0.3} {
		scene := direct.Scene{
			Sources: []direct.Source{{Luminaire: strip(b), Placements: hall.Places()}},
			Racks:   hall.Racks(20),
		}
		for i := range scene.Racks {
			scene.Racks[i].Transmittance = passes
		}
		g, err := room.VerticalGrid(
			"face",
			room.Vec{X: 66 * ft, Y: 70 * ft},
			room.Vec{X: 366 * ft, Y: 70 * ft},
			0,
			16*ft,
			math.Pi/2,
			2*ft,
		)
		require.NoError(b, err)
		integrator := scene.Prepare().Tree().Integrator()
		b.Run(fmt.Sprintf("passes=%g", passes), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				integrator.Means(g, true, 1)
			}
		})
	}
}

// The tables of a distribution, that every job makes of each of its kinds of luminaire.
func BenchmarkTables(b *testing.B) {
	l := strip(b)
	scene := direct.Scene{Sources: []direct.Source{{Luminaire: l, Placements: []room.Placement{{}}}}}
	b.ReportAllocs()
	for b.Loop() {
		scene.Prepare()
	}
}
