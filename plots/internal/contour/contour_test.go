package contour

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// grid samples a function at the centres of n by n cells of the square from -1 to 1.
func grid(n, parts int, f func(x, y float64) float64) Surface {
	at := make([]float64, n)
	for i := range at {
		at[i] = -1 + (2*float64(i)+1)/float64(n)
	}
	values := make([]float64, n*n)
	for j, y := range at {
		for i, x := range at {
			values[j*n+i] = f(x, y)
		}
	}
	return New(at, at, values, Rect{-1, -1, 1, 1}, nil, parts)
}

func area(outlines [][]Point) float64 {
	sum := 0.0
	for _, points := range outlines {
		for i, p := range points {
			q := points[(i+1)%len(points)]
			sum += (p.X*q.Y - q.X*p.Y) / 2
		}
	}
	return sum
}

// TestConeGivesCircles holds the discretisation against theory: along a side of the lattice, h long, linear interpolation of a cone is
// off by up to h²/8r at radius r, and chords no longer than that leave out an area of up to h²/12r a length. Cubic convolution adds an
// error of higher order, a tenth at these sizes.
func TestConeGivesCircles(t *testing.T) {
	const radius, parts = 0.6, 4
	for _, n := range []int{32, 64, 128} {
		h := 2.0 / float64(parts*n)
		r := grid(n, parts, func(x, y float64) float64 { return 10 * (1 - math.Hypot(x, y)) }).Above(10 * (1 - radius))
		lines := r.Lines(0)
		require.Len(t, lines, 1)
		require.True(t, lines[0].Closed)
		for _, p := range lines[0].Points {
			assert.InDelta(t, radius, math.Hypot(p.X, p.Y), 1.1*h*h/(8*radius))
		}
		assert.InDelta(t, math.Pi*radius*radius, area(r.Outlines(0)), 1.1*2*math.Pi*radius*(h*h/(8*radius)+h*h/(12*radius)))
	}
}

func TestPlaneIsExact(t *testing.T) {
	plane := func(x, y float64) float64 { return 3 + 2*x - y }
	for _, parts := range []int{2, 6} {
		r := grid(5, parts, plane).Above(3.25)
		lines := r.Lines(1e-9)
		require.Len(t, lines, 1)
		assert.False(t, lines[0].Closed)
		assert.Len(t, lines[0].Points, 2, "straight")
		for _, p := range lines[0].Points {
			assert.InDelta(t, 3.25, plane(p.X, p.Y), 1e-12, "rounding")
			assert.InDelta(t, 1, math.Max(math.Abs(p.X), math.Abs(p.Y)), 1e-12, "from wall to wall")
		}
		// 2x - y >= 0.25 is a half of the square less a strip of height 2 and width 0.125
		assert.InDelta(t, 2-0.25, area(r.Outlines(0)), 1e-12, "rounding")
	}
}

// TestRefineMeetsPolynomials checks cubic convolution against what it is exact for, away from the ends.
func TestRefineMeetsPolynomials(t *testing.T) {
	const n, parts = 7, 6
	for _, f := range []func(x float64) float64{
		func(x float64) float64 { return 2 - 3*x },
		func(x float64) float64 { return 1 + x*x/2 },
	} {
		src, dst := make([]float64, n), make([]float64, n*parts+1)
		for i := range src {
			src[i] = f(float64(i))
		}
		refine(dst, src, n, 1, parts)
		for q := parts + parts/2; q <= (n-1)*parts-parts/2; q++ {
			x := float64(q)/parts - 0.5
			assert.InDelta(t, f(x), dst[q], 1e-12, "rounding, at %v", x)
		}
	}
}

func TestRegionsAreNestedAndFillTheMap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 7).Draw(t, "n")
		values := rapid.SliceOfN(rapid.Float64Range(0, 10), n*n, n*n).Draw(t, "values")
		s := grid(n, 2, func(x, y float64) float64 {
			i, j := int((x+1)/2*float64(n)), int((y+1)/2*float64(n))
			return values[j*n+i]
		})
		if whole := area(s.Above(math.Inf(-1)).Outlines(0)); math.Abs(whole-4) > 1e-9 {
			t.Fatalf("the lowest band covers %v of 4", whole)
		}
		last := 4.0
		for level := 0.5; level <= 10; level++ {
			a := area(s.Above(level).Outlines(0))
			if a > last+1e-9 || a < -1e-9 {
				t.Fatalf("above %v lie %v, above the level before %v", level, a, last)
			}
			last = a
		}
		if a := area(s.Above(10.5).Outlines(0)); a != 0 {
			t.Fatalf("above the greatest value lie %v", a)
		}
	})
}

func TestHoleRunsClockwise(t *testing.T) {
	ring := func(x, y float64) float64 { return 1 - math.Abs(math.Hypot(x, y)-0.5) }
	r := grid(40, 2, ring).Above(0.8)
	outlines := r.Outlines(0)
	require.Len(t, outlines, 2)
	outer, hole := area(outlines[:1]), area(outlines[1:])
	if outer < hole {
		outer, hole = hole, outer
	}
	assert.InDelta(t, math.Pi*0.49, outer, 0.01, "discretisation")
	assert.InDelta(t, -math.Pi*0.09, hole, 0.01, "discretisation")
	for _, l := range r.Lines(0) {
		assert.True(t, l.Closed)
	}
}

func TestSaddleFollowsItsMean(t *testing.T) {
	saddle := func(level float64) int {
		s := Surface{xs: []float64{0, 1, 2}, ys: []float64{0, 1, 2}, parts: 2, drawn: []bool{true},
			values: []float64{1, 0, 0, 0, 1, 0, 0, 0, 0}} // high at (0, 0) and (1, 1): the quad between has a mean of 0.5
		return len(s.Above(level).Outlines(0))
	}
	assert.Equal(t, 1, saddle(0.4), "joined")
	assert.Equal(t, 2, saddle(0.6), "apart")
}

func TestCellsWithoutValues(t *testing.T) {
	nan := math.NaN()
	x, y := []float64{0.5, 1.5, 2.5}, []float64{0.5, 1.5, 2.5}
	values := []float64{5, 5, 5, 5, nan, 5, 5, 5, 5}
	extent := Rect{0, 0, 3, 3}
	blank := New(x, y, values, extent, nil, 4)
	assert.InDelta(t, 8, area(blank.Above(math.Inf(-1)).Outlines(0)), 1e-12, "the cell in the middle is left out")
	assert.Empty(t, blank.Above(5).Lines(0), "a border is no contour")

	filled := New(x, y, values, extent, []Rect{{1.2, 1.2, 1.8, 1.8}}, 4)
	assert.InDelta(t, 9, area(filled.Above(math.Inf(-1)).Outlines(0)), 1e-12, "filled, since a rack will cover part of it")

	all := New(x, y, []float64{nan, nan, nan, nan, nan, nan, nan, nan, nan}, extent, []Rect{extent}, 2)
	assert.Empty(t, all.Above(math.Inf(-1)).Outlines(0))
}

func TestRackHasNoLightOfTheOtherSide(t *testing.T) {
	// a wall of cells without values between 10 and 2
	nan := math.NaN()
	s := New([]float64{0.5, 1.5, 2.5, 3.5, 4.5}, []float64{0.5}, []float64{10, 10, nan, 2, 2}, Rect{0, 0, 5, 1}, []Rect{{2.2, 0, 2.8, 1}}, 4)
	for _, p := range s.Above(6).Outlines(0)[0] {
		assert.LessOrEqual(t, p.X, 2.75, "the change is beneath the rack")
	}
	left := s.Above(9.99).Outlines(0)
	assert.Greater(t, area(left), 2.2, "10 reaches up to the rack")
}

func TestSurfaceStaysWithinItsValues(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 8).Draw(t, "n")
		values := rapid.SliceOfN(rapid.Float64Range(-5, 5), n, n).Draw(t, "values")
		at := make([]float64, n)
		least, most := math.Inf(1), math.Inf(-1)
		for i, v := range values {
			at[i] = float64(i) + 0.5
			least, most = math.Min(least, v), math.Max(most, v)
		}
		s := New(at, []float64{0.5}, values, Rect{0, 0, float64(n), 1}, nil, 6)
		for i, v := range s.values {
			if !(v >= least && v <= most) {
				t.Fatalf("node %d is %v, the values are %v to %v", i, v, least, most)
			}
		}
		for i, v := range values {
			if got := s.values[len(s.xs)*3+i*6+3]; math.Abs(got-v) > 1e-12*math.Max(1, math.Abs(v)) {
				t.Fatalf("centre %d is %v, want %v", i, got, v)
			}
		}
	})
}

func TestSimplifyKeepsWithinTheTolerance(t *testing.T) {
	var points []Point
	for i := range 200 {
		a := math.Pi * float64(i) / 199
		points = append(points, Point{math.Cos(a), math.Sin(a)})
	}
	kept := simplify(points, 1e-3)
	// chords that sag 1e-3 span 0.0895 rad, 36 of them a half circle; halving takes up to twice as many
	assert.Less(t, len(kept), 2*36+1)
	for _, p := range points {
		off := math.Inf(1)
		for i := 1; i < len(kept); i++ {
			off = math.Min(off, p.from(kept[i-1], kept[i]))
		}
		assert.LessOrEqual(t, off, 1e-3)
	}
}

func BenchmarkAbove(b *testing.B) {
	s := grid(60, 4, func(x, y float64) float64 { return math.Sin(9*x) * math.Cos(7*y) })
	b.ReportAllocs()
	for b.Loop() {
		s.Above(0.2)
	}
}

// Parts of a surface make the whole: the areas at a level add up, and a line that a cut goes through ends and begins at the same place.
func TestPartsMakeTheWhole(t *testing.T) {
	f := grid(20, 4, func(x, y float64) float64 { return math.Sin(3*x) + y })
	left, right := f.Part(Rect{-1, -1, 0.2, 1}), f.Part(Rect{0.2, -1, 1, 1})
	for _, level := range []float64{math.Inf(-1), -0.5, 0, 0.7} {
		whole := area(f.Above(level).Outlines(0))
		assert.InEpsilon(t, whole, area(left.Above(level).Outlines(0))+area(right.Above(level).Outlines(0)), 1e-12, "rounding")
	}
	at := func(s Surface) (all []Point) {
		for _, l := range s.Above(0).Lines(0) {
			for _, p := range []Point{l.Points[0], l.Points[len(l.Points)-1]} {
				if math.Abs(p.X-0.2) < 1e-12 {
					all = append(all, p)
				}
			}
		}
		return all
	}
	assert.NotEmpty(t, at(left))
	assert.ElementsMatch(t, at(left), at(right))
	assert.Empty(t, f.Part(Rect{2, 2, 3, 3}).Above(0).Outlines(0), "nothing is there")
}
