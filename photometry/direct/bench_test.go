package direct_test

import (
	"context"
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"lampswap/photometry"
	"lampswap/photometry/direct"
	"lampswap/photometry/room"
)

// hall is the warehouse of the speed targets, 400 x 250 x 24 ft, or a part of it.
func hall(share float64) room.Room {
	const ft = photometry.Foot
	return room.Room{Length: 400 * ft * share, Width: 250 * ft, Height: 24 * ft, WorkPlane: 2.5 * ft}
}

// strip is an 8-ft luminaire with a table of 37 by 10 angles.
func strip(tb testing.TB) photometry.Luminaire {
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
	return photometry.Luminaire{Distribution: d, Opening: photometry.Opening{Length: 8 * photometry.Foot, Width: 4 * photometry.Inch}}
}

// aisles returns 20 racks 300 x 8 x 16 ft.
func aisles() []room.Rack {
	const ft = photometry.Foot
	var racks []room.Rack
	for i := range 20 {
		racks = append(racks, room.Rack{Corner: room.Vec{X: 50 * ft, Y: (4 + 12*float64(i)) * ft}, Size: room.Vec{X: 300 * ft, Y: 8 * ft, Z: 16 * ft}, Reflectance: 0.3})
	}
	return racks
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
	r := hall(1)
	scene := direct.Scene{Sources: []direct.Source{{Luminaire: strip(b), Placements: r.Lattice(15, 25, 20*photometry.Foot, 0)}}}
	for _, spacing := range []float64{1, 0.5, 0.25} {
		g := r.WorkPlaneGrid(spacing * photometry.Foot)
		b.Run(fmt.Sprintf("points=%d", g.NX*g.NY), func(b *testing.B) { benchmark(b, scene, g) })
	}
}

// A lattice's luminaires share one kernel.
func BenchmarkLatticeByLuminaires(b *testing.B) {
	for _, share := range []float64{0.24, 0.48, 0.96} {
		r := hall(1)
		places := r.Lattice(15, int(25*share), 20*photometry.Foot, 0)
		scene := direct.Scene{Sources: []direct.Source{{Luminaire: strip(b), Placements: places}}}
		b.Run(fmt.Sprintf("luminaires=%d", len(places)), func(b *testing.B) { benchmark(b, scene, r.WorkPlaneGrid(photometry.Foot)) })
	}
}

// Luminaires without order are linear in their number.
func BenchmarkIrregular(b *testing.B) {
	for _, columns := range []int{6, 12, 25} {
		r := hall(1)
		places := r.Lattice(15, columns, 20*photometry.Foot, 0)
		for i := range places {
			places[i].Position.X += 0.1 * math.Sin(float64(i)) // m
		}
		scene := direct.Scene{Sources: []direct.Source{{Luminaire: strip(b), Placements: places}}}
		b.Run(fmt.Sprintf("luminaires=%d", len(places)), func(b *testing.B) { benchmark(b, scene, r.WorkPlaneGrid(photometry.Foot)) })
	}
}

// and in the points.
func BenchmarkIrregularByPoints(b *testing.B) {
	const ft = photometry.Foot
	r := hall(1)
	places := r.Lattice(15, 25, 20*ft, 0)
	for i := range places {
		places[i].Position.X += 0.1 * math.Sin(float64(i)) // m
	}
	scene := direct.Scene{Sources: []direct.Source{{Luminaire: strip(b), Placements: places}}}
	for _, length := range []float64{100, 200, 400} { // of a wall, too coarse a grid to interpolate
		g, err := room.VerticalGrid("wall", room.Vec{}, room.Vec{X: length * ft}, 0, 24*ft, math.Pi/2, ft)
		require.NoError(b, err)
		b.Run(fmt.Sprintf("points=%d", g.NX*g.NY), func(b *testing.B) { benchmark(b, scene, g) })
	}
}

func BenchmarkRacksByPoints(b *testing.B) {
	r := hall(1)
	scene := direct.Scene{Sources: []direct.Source{{Luminaire: strip(b), Placements: r.Lattice(15, 25, 20*photometry.Foot, 0)}}, Racks: aisles()}
	for _, spacing := range []float64{4, 2, 1} {
		g := r.WorkPlaneGrid(spacing * photometry.Foot)
		b.Run(fmt.Sprintf("points=%d", g.NX*g.NY), func(b *testing.B) { benchmark(b, scene, g) })
	}
}

func BenchmarkRackFace(b *testing.B) {
	const ft = photometry.Foot
	r := hall(1)
	scene := direct.Scene{Sources: []direct.Source{{Luminaire: strip(b), Placements: r.Lattice(15, 25, 20*ft, 0)}}, Racks: aisles()}
	g, err := room.VerticalGrid("face", room.Vec{X: 50 * ft, Y: 72 * ft}, room.Vec{X: 350 * ft, Y: 72 * ft}, 0, 16*ft, math.Pi/2, ft)
	require.NoError(b, err)
	benchmark(b, scene, g)
}

func BenchmarkPlain(b *testing.B) {
	r := hall(1)
	scene := direct.Scene{Sources: []direct.Source{{Luminaire: strip(b), Placements: r.Lattice(15, 25, 20*photometry.Foot, 0)}}}
	b.ReportAllocs()
	for b.Loop() {
		scene.At(room.Vec{X: 31, Y: 17, Z: 0.8}, room.Vec{Z: 1})
	}
}
