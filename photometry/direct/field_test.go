package direct

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lampswap/photometry"
	"lampswap/photometry/room"
)

// spun is a table of an analytic intensity, in steps of the given angles.
func spun(
	tb testing.TB,
	planesDeg, stepDeg, lastPlaneDeg, topDeg float64,
	intensity func(c, g float64) float64,
) *photometry.Distribution {
	tb.Helper()
	var planes, verticals []float64
	for c := 0.0; c <= lastPlaneDeg; c += planesDeg {
		planes = append(planes, c)
	}
	for g := 0.0; g <= topDeg; g += stepDeg {
		verticals = append(verticals, g)
	}
	table := make([][]float64, len(planes))
	for i, c := range planes {
		for _, g := range verticals {
			table[i] = append(table[i], intensity(c*math.Pi/180, g*math.Pi/180))
		}
	}
	d, err := photometry.NewDistribution(planes, verticals, table)
	require.NoError(tb, err)
	return d
}

// A resampled distribution gives what the distribution gives, in all directions: with symmetry and without,
// down only and all around, coarse and fine.
func TestFieldAgreesWithDistribution(t *testing.T) {
	skew := func(c, g float64) float64 {
		return 800*(1.2+math.Cos(g))*(1+(0.3*math.Cos(c)+0.2*math.Sin(2*c))*math.Sin(g)) + 100*math.Sin(g)
	}
	for _, row := range []struct {
		name string
		d    *photometry.Distribution
		part float64 // of the peak that the field may miss: discretisation
	}{
		{"skew", spun(t, 15, 5, 360, 180, skew), 5e-4},
		{"symmetric", spun(t, 10, 5, 90, 180, func(c, g float64) float64 {
			return 900 + 500*math.Cos(g) + 200*math.Sin(g)*math.Cos(2*c)
		}), 5e-4},
		{"down, cut off at the horizontal", spun(t, 15, 2.5, 90, 90,
			func(c, g float64) float64 { return 1000 + 100*math.Sin(g)*math.Cos(2*c) }), 5e-4},
		{"fine", spun(t, 15, 1, 360, 180, skew), 5e-4},
	} {
		f := newField(row.d)
		peak := row.d.Peak()
		rapid.Check(t, func(rt *rapid.T) {
			c, cos := rapid.Float64Range(
				0,
				2*math.Pi,
			).Draw(
				rt,
				"azimuth",
			), rapid.Float64Range(
				-1,
				1,
			).Draw(
				rt,
				"cosine",
			)
			distance := rapid.Float64Range(0.5, 100).Draw(rt, "distance")
			if math.Abs(cos) < 1e-12 { // a table that ends there is bright below and dark above
				cos = 0.5
			}
			sin := math.Sqrt(1 - cos*cos)
			x, y, z := distance*sin*math.Cos(c), distance*sin*math.Sin(c), -distance*cos
			want := row.d.Intensity(math.Atan2(y, x), math.Acos(cos))
			got := f.light(x, y, z) * distance * distance * distance
			if math.Abs(got-want) > row.part*peak {
				rt.Fatalf("%s: %v cd, the distribution %v cd", row.name, got, want)
			}
			// the same along a row of one point
			dst := []float64{0}
			f.add(dst, points[:], &track{x: x, y: y, z: z, facing: 1, weight: 1})
			if math.Abs(dst[0]*distance*distance*distance-got) > 1e-6*peak { // rounding of tables in single precision
				rt.Fatalf("%s: in a row %v cd, alone %v cd", row.name, dst[0]*distance*distance*distance, got)
			}
		})
	}
}

// Rows through all faces of the octahedron equal their points one by one.
func TestRowsThroughTheOctahedron(t *testing.T) {
	f := newField(
		spun(
			t,
			15,
			5,
			360,
			180,
			func(c, g float64) float64 { return 500 * (1.5 + math.Cos(g) + 0.3*math.Cos(c)*math.Sin(g)) },
		),
	)
	rapid.Check(t, func(rt *rapid.T) {
		at := rapid.Float64Range(-5, 5)
		tr := track{
			x:          at.Draw(rt, "x"),
			y:          at.Draw(rt, "y"),
			z:          at.Draw(rt, "z"),
			stepX:      at.Draw(rt, "dx") / 10,
			stepY:      at.Draw(rt, "dy") / 10,
			stepZ:      at.Draw(rt, "dz") / 10,
			facing:     at.Draw(rt, "facing"),
			stepFacing: at.Draw(rt, "step") / 10,
			weight:     0.5,
		}
		dst := make([]float64, 32)
		f.add(dst, points[:], &tr)
		for i := range dst {
			k := float64(i)
			x, y, z, facing := tr.x+k*tr.stepX, tr.y+k*tr.stepY, tr.z+k*tr.stepZ, tr.facing+k*tr.stepFacing
			d := room.Vec{X: x, Y: y, Z: z}.Length()
			if d < 0.01 {
				continue
			}
			want := 0.5 * max(0, facing) * f.light(x, y, z)
			if math.Abs(dst[i]-want) > 1e-5*(want+1e-9) { // rounding of tables in single precision
				rt.Fatalf("point %d: %v lx, alone %v lx", i, dst[i], want)
			}
		}
	})
}

// A point in the very place of a piece has no light from it, along a row as alone.
func TestAPointInThePlaceOfAPiece(t *testing.T) {
	f := newField(spun(t, 15, 5, 360, 180, func(_, _ float64) float64 { return 500 }))
	for _, tr := range []track{
		{facing: 1, weight: 1},
		{stepX: 0.1, stepY: 0.1, stepZ: 0.1, facing: 1, weight: 1},
		{stepX: 0.1, facing: 1, weight: 1},
	} {
		dst := make([]float64, 8)
		f.add(dst, points[:], &tr)
		for i, v := range dst {
			require.False(t, math.IsNaN(v) || math.IsInf(v, 0) || v < 0, "%v: point %d has %v", tr, i, v)
		}
		require.Zero(t, dst[0])
	}
	require.Zero(t, f.light(0, 0, 0))
}

// slide equals the sums that it is made of.
func TestSlide(t *testing.T) {
	src := make([]float64, 60)
	for i := range src {
		src[i] = math.Sin(float64(i * i))
	}
	for _, row := range []struct{ stride, n int }{{1, 1}, {1, 5}, {7, 3}, {13, 4}, {3, 1}} {
		dst := make([]float64, len(src)-(row.n-1)*row.stride)
		slide(dst, src, row.stride, row.n)
		for i, x := range dst {
			want := 0.0
			for a := range row.n {
				want += src[i+a*row.stride]
			}
			require.InDelta(t, want, x, 1e-12, "%+v, value %d", row, i) // rounding
		}
	}
}
