package interreflect

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lampswap/photometry/room"
)

// Howell's factor of two equal parallel rectangles a by b at distance c (C-11).
func howellParallel(a, b, c float64) float64 {
	x, y := a/c, b/c
	p, q := math.Sqrt(1+x*x), math.Sqrt(1+y*y)
	return 2 / (math.Pi * x * y) * (math.Log(math.Sqrt(p*p*q*q/(1+x*x+y*y))) +
		x*q*math.Atan(x/q) + y*p*math.Atan(y/p) - x*math.Atan(x) - y*math.Atan(y))
}

// Howell's factor of two rectangles with a common edge of length l, widths w1 (of the first) and w2 (C-14),
// by H = w2/l, W = w1/l.
func howellPerpendicular(l, w1, w2 float64) float64 {
	h, w := w2/l, w1/l
	r := math.Sqrt(h*h + w*w)
	a := (1 + w*w) * (1 + h*h) / (1 + w*w + h*h)
	b := math.Pow(w*w*(1+w*w+h*h)/((1+w*w)*(w*w+h*h)), w*w)
	c := math.Pow(h*h*(1+h*h+w*w)/((1+h*h)*(h*h+w*w)), h*h)
	return (w*math.Atan(1/w) + h*math.Atan(1/h) - r*math.Atan(1/r) + 0.25*math.Log(a*b*c)) / (math.Pi * w)
}

func TestCatalogueFactors(t *testing.T) {
	worst := 0.0
	require.InDelta(t, 0.199825, howellParallel(1, 1, 1), 5e-7)      // cube, print
	require.InDelta(t, 0.200044, howellPerpendicular(1, 1, 1), 5e-7) // (1 - 0.199825) / 4, print
	rapid.Check(t, func(t *rapid.T) {
		side := rapid.Float64Range(0.1, 10)
		a, b, c := side.Draw(t, "a"), side.Draw(t, "b"), side.Draw(t, "c")
		parallel := exchangeParallel(interval{0, a}, interval{0, b}, interval{0, a}, interval{0, b}, c) / (a * b)
		require.InDelta(t, howellParallel(a, b, c), parallel, 1e-9) // rounding
		perpendicular := exchangePerpendicular(
			interval{0, a}, interval{0, b}, interval{0, a}, interval{0, c},
		) / (a * b)
		require.InDelta(t, howellPerpendicular(a, b, c), perpendicular, 1e-9)
		worst = max(
			worst, math.Abs(parallel-howellParallel(a, b, c)), math.Abs(perpendicular-howellPerpendicular(a, b, c)),
		)
	})
	t.Logf("largest deviation %.0e", worst)
}

// Rectangles anywhere: against the double integral of cos cos / (π r²) by the configuration factor over one
// of them.
func TestExchangeAnywhere(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at, size := rapid.Float64Range(0, 3), rapid.Float64Range(0.2, 1)
		draw := func(name string) interval {
			from := at.Draw(t, name)
			return interval{from, from + size.Draw(t, name+" size")}
		}
		x1, y1, x2, z2 := draw("x1"), draw("y1"), draw("x2"), draw("z2")
		y1.from, y1.to, z2.from, z2.to = y1.from+0.5, y1.to+0.5, z2.from+0.5, z2.to+0.5
		const n = 8
		wall := [4]room.Vec{
			{X: x2.from, Z: z2.from}, {X: x2.to, Z: z2.from}, {X: x2.to, Z: z2.to}, {X: x2.from, Z: z2.to},
		}
		above := [4]room.Vec{
			{X: x2.from, Y: z2.from, Z: 1}, {X: x2.to, Y: z2.from, Z: 1}, {X: x2.to, Y: z2.to, Z: 1},
			{X: x2.from, Y: z2.to, Z: 1},
		}
		toWall, toAbove := 0.0, 0.0
		for i := range n {
			for j := range n {
				p := room.Vec{X: x1.from + (float64(i)+0.5)/n*x1.length(), Y: y1.from + (float64(j)+0.5)/n*y1.length()}
				toWall += configuration(&wall, p, room.Vec{Z: 1}) * x1.length() * y1.length() / (n * n)
				toAbove += configuration(&above, p, room.Vec{Z: 1}) * x1.length() * y1.length() / (n * n)
			}
		}
		require.InEpsilon(t, toWall, exchangePerpendicular(x1, y1, x2, z2), 0.01) // discretisation, eight by eight
		require.InEpsilon(t, toAbove, exchangeParallel(x1, y1, x2, z2, 1), 0.01)
		// reciprocity
		require.InEpsilon(t, exchangePerpendicular(x1, y1, x2, z2), exchangePerpendicular(x2, z2, x1, y1), 1e-9)
	})
}

// Source: Howell, differential element to rectangle, parallel and perpendicular; values by numerical
// integration.
func TestConfigurationFactors(t *testing.T) {
	above := func(a, b, d float64) *[4]room.Vec {
		return &[4]room.Vec{{Z: d}, {X: a, Z: d}, {X: a, Y: b, Z: d}, {Y: b, Z: d}}
	}
	up := room.Vec{Z: 1}
	require.InDelta(t, 0.138532, configuration(above(1, 1, 1), room.Vec{}, up), 5e-7) // print, all of them
	require.InDelta(t, 0.059864, configuration(above(0.5, 0.5, 1), room.Vec{}, up), 5e-7)
	require.InDelta(t, 0.167375, configuration(above(2, 1, 1), room.Vec{}, up), 5e-7)
	require.InDelta(t, 0.207757, configuration(above(2, 2, 1), room.Vec{}, up), 5e-7)
	standing := func(w, h, d float64) *[4]room.Vec {
		return &[4]room.Vec{{Y: d}, {X: w, Y: d}, {X: w, Y: d, Z: h}, {Y: d, Z: h}}
	}
	require.InDelta(t, 0.055734, configuration(standing(1, 1, 1), room.Vec{}, up), 5e-7)
	require.InDelta(t, 0.035547, configuration(standing(0.5, 1, 1), room.Vec{}, up), 5e-7)
	require.InDelta(t, 0.147825, configuration(standing(2, 3, 1), room.Vec{}, up), 5e-7)
	// half below the horizon: the standing rectangle moved down counts only above it
	cut := standing(2, 3, 1)
	cut[0].Z, cut[1].Z = -5, -5
	require.InDelta(t, 0.147825, configuration(cut, room.Vec{}, up), 5e-7)
}

// A patch sees its whole surroundings: light of one lm/m² from everywhere gives one lx everywhere.
func TestRowsSumToOne(t *testing.T) {
	for _, r := range []room.Room{{Length: 4, Width: 4, Height: 4}, {Length: 12, Width: 7, Height: 3}} {
		e, err := NewEnclosure(t.Context(), r, nil, Options{})
		require.NoError(t, err)
		ones, out := make([]float64, e.Patches()), make([]float64, e.Patches())
		for i := range ones {
			ones[i] = 1
		}
		e.convolver().bounce(out, ones)
		for i := range out {
			require.InDelta(t, 1, out[i], 1e-7, "patch %d of %v", i, r) // rounding, of antiderivatives far larger
		}
	}
}

// The convolution equals the plain sum over closed forms, patch by patch.
func TestBounceIsThePlainSum(t *testing.T) {
	r := room.Room{Length: 3, Width: 2.2, Height: 1.7}
	for _, patch := range []float64{0.5, 0.35, 1, 4} { // even and odd numbers of patches, and single ones
		e, err := NewEnclosure(t.Context(), r, nil, Options{Patch: patch})
		require.NoError(t, err)
		exitance, out := make([]float64, e.Patches()), make([]float64, e.Patches())
		for i := range exitance {
			exitance[i] = 1 + math.Sin(float64(i*i))
		}
		e.convolver().bounce(out, exitance)
		factors := dense(e)
		for i := range out {
			want := 0.0
			for j := range exitance {
				want += factors[i][j] * exitance[j]
			}
			require.InDelta(t, want, out[i], 1e-9, "patches of %v m, patch %d", patch, i) // rounding
		}
	}
}

// dense returns all form factors of an empty room, one by one from the closed forms.
func dense(e *Enclosure) [][]float64 {
	factors := make([][]float64, e.Patches())
	for i := range factors {
		factors[i] = make([]float64, e.Patches())
		f := e.faceOf(i)
		for j := range factors[i] {
			if g := e.faceOf(j); f != g {
				factors[i][j] = exchange(e, f, g, i, j) / e.areas[i]
			}
		}
	}
	return factors
}

func extent(f *face, patch int, a axis) interval {
	k := patch - f.first
	if a == f.u {
		return interval{f.us[k%f.columns()], f.us[k%f.columns()+1]}
	}
	return interval{f.vs[k/f.columns()], f.vs[k/f.columns()+1]}
}

func exchange(e *Enclosure, f, g *face, i, j int) float64 {
	if f.normal == g.normal {
		return exchangeParallel(
			extent(f, i, f.u), extent(f, i, f.v), extent(g, j, f.u), extent(g, j, f.v), math.Abs(f.at-g.at),
		)
	}
	shared := axisX + axisY + axisZ - f.normal - g.normal
	away := func(x interval, at float64) interval {
		a, b := math.Abs(x.from-at), math.Abs(x.to-at)
		return interval{min(a, b), max(a, b)}
	}
	return exchangePerpendicular(
		extent(f, i, shared), away(extent(f, i, g.normal), g.at), extent(g, j, shared),
		away(extent(g, j, f.normal), f.at),
	)
}

// An interval is an extent along one axis, m.
type interval struct{ from, to float64 }

func (i interval) length() float64 { return i.to - i.from }

// both sums an antiderivative of the offset over two intervals: f(a.to-b.from) + f(a.from-b.to) -
// f(a.from-b.from) - f(a.to-b.to).
func both(a, b interval, f func(s float64) float64) float64 {
	return f(a.to-b.from) + f(a.from-b.to) - f(a.from-b.from) - f(a.to-b.to)
}

// exchangeParallel returns the exchange area, m², the area of one rectangle times its form factor to the
// other, of two rectangles that face each other at a distance: x1 by y1 and x2 by y2.
func exchangeParallel(x1, y1, x2, y2 interval, distance float64) float64 {
	return both(x1, x2, func(x float64) float64 {
		return both(y1, y2, func(y float64) float64 { return facing(x, y, distance) })
	})
}

// exchangePerpendicular returns the exchange area, m², of a rectangle s1 by y in one plane and a rectangle s2
// by z in a plane square to it; s runs along the planes' common line, y and z are distances from it.
func exchangePerpendicular(s1, y, s2, z interval) float64 {
	return both(s1, s2, func(s float64) float64 {
		return square(s, y.to, z.to) - square(s, y.from, z.to) - square(s, y.to, z.from) + square(s, y.from, z.from)
	})
}
