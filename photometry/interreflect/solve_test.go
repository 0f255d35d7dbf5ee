package interreflect

import (
	"context"
	"math"
	"math/rand/v2"
	"runtime"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"

	"lampswap/photometry"
	"lampswap/photometry/direct"
	"lampswap/photometry/internal/hall"
	"lampswap/photometry/longtest"
	"lampswap/photometry/room"
)

func isotropic(tb testing.TB, lumens float64, places ...room.Placement) direct.Scene {
	tb.Helper()
	cd := lumens / (4 * math.Pi)
	d, err := photometry.NewDistribution([]float64{0}, []float64{0, 180}, [][]float64{{cd, cd}})
	require.NoError(tb, err)
	return direct.Scene{
		Sources: []direct.Source{{Luminaire: photometry.Luminaire{Distribution: d}, Placements: places}},
	}
}

// Source: CIE 171:2006, case 5.8 (the room seen, the flux from memory, unverified): the mean interreflected
// illuminance of a closed room of one reflectance is ρ Φ / (A (1 - ρ)), by the balance of energy.
func TestClosedCube(t *testing.T) {
	worst := 0.0
	for _, row := range []struct{ reflectance, want float64 }{
		{0, 0}, {0.05, 5.482}, {0.1, 11.574}, {0.2, 26.042}, {0.3, 44.643}, {0.4, 69.444}, {0.5, 104.167},
		{0.6, 156.25}, {0.7, 243.056},
		{0.8, 416.667}, {0.9, 937.5}, {0.95, 1979.167},
	} {
		r := room.Room{
			Length: 4, Width: 4, Height: 4,
			Reflectance: room.Reflectances{Ceiling: row.reflectance, Walls: row.reflectance, Floor: row.reflectance},
		}
		s, err := Solve(
			t.Context(), r, isotropic(t, 10000, room.Placement{Position: room.Vec{X: 2, Y: 2, Z: 2}}), Options{},
		)
		require.NoError(t, err)
		// discretisation of the direct light
		require.InDelta(t, row.want, s.MeanInterreflected(), 1e-3*row.want+1e-9, "ρ = %v", row.reflectance)
		if row.want > 0 {
			worst = max(worst, math.Abs(s.MeanInterreflected()/row.want-1))
		}
		b := s.Balance()
		require.InEpsilon(t, b.Emitted, b.Absorbed, 1e-3, "ρ = %v: %+v", row.reflectance, b)
		require.InEpsilon(t, b.Arrived, b.Absorbed, 1e-4)
	}
	t.Logf("largest deviation %.3f percent, half the last digit printed in it", 100*worst)
}

// A furnace: where every surface shines with 1 lm/m², every point of every direction gets 1 lx.
func TestFurnace(t *testing.T) {
	racks := []room.Rack{{Corner: room.Vec{X: 1, Y: 2}, Size: room.Vec{X: 4, Y: 1, Z: 2}}}
	worst := 0.0
	for _, racks := range [][]room.Rack{nil, racks} {
		r := room.Room{Length: 8, Width: 6, Height: 4}
		e, err := NewEnclosure(t.Context(), r, racks, Options{})
		require.NoError(t, err)
		s := &Solution{enclosure: e, exitance: make([]float64, e.Patches())}
		for i := range s.exitance {
			s.exitance[i] = 1
		}
		tilted, err := room.VerticalGrid(
			"askew", room.Vec{X: 1, Y: 4}, room.Vec{X: 5, Y: 5}, 0.2, 3.5, math.Atan2(4, -1), 0.5,
		)
		require.NoError(t, err)
		around := r.WorkPlaneGrid(0.25)
		around.Normal = room.AllRound
		for _, g := range []room.Grid{r.WorkPlaneGrid(0.25), tilted, around} {
			values, err := s.Illuminance(t.Context(), g)
			require.NoError(t, err)
			for i, x := range values {
				if !math.IsNaN(x) {
					require.InDelta(t, 1, x, 2e-3, "%s %d", g.Name, i) // interpolation
					worst = max(worst, math.Abs(x-1))
				}
			}
		}
	}
	t.Logf("largest deviation %.2f percent", 100*worst)
}

// The radiosity equation of a small room, solved by gonum/mat.
func TestDenseRadiosity(t *testing.T) {
	r := room.Room{
		Length: 5, Width: 4, Height: 3, Reflectance: room.Reflectances{Ceiling: 0.7, Walls: 0.5, Floor: 0.2},
	}
	scene := isotropic(t, 5000, room.Placement{Position: room.Vec{X: 1.5, Y: 2.5, Z: 2.2}})
	s, err := Solve(t.Context(), r, scene, Options{Patch: 0.7, Residual: 1e-7})
	require.NoError(t, err)
	e := s.enclosure
	n := e.Patches()
	factors := dense(e)
	a, b := mat.NewDense(n, n, nil), mat.NewVecDense(n, s.direct)
	for i := range n {
		for j := range n {
			a.Set(i, j, -factors[i][j]*e.faceOf(j).reflectance)
		}
		a.Set(i, i, 1+a.At(i, i))
	}
	var want mat.VecDense
	require.NoError(t, want.SolveVec(a, b))
	for i := range n {
		require.InEpsilon(t, want.AtVec(i), s.total[i], 1e-5, "patch %d", i) // the residual
	}
	// and at points, from the patches one by one
	g := r.WorkPlaneGrid(0.5)
	values, err := s.Illuminance(t.Context(), g)
	require.NoError(t, err)
	for i := range values {
		plain := 0.0
		for j := range n {
			f := e.faceOf(j)
			u, v := extent(f, j, f.u), extent(f, j, f.v)
			corners := [4]room.Vec{
				f.point(u.from, v.from), f.point(u.to, v.from), f.point(u.to, v.to), f.point(u.from, v.to),
			}
			plain += s.exitance[j] * configuration(&corners, g.Point(i%g.NX, i/g.NX), g.Normal)
		}
		require.InEpsilon(t, plain, values[i], 2e-3, "point %d", i)
	}
}

// at gathers one solution at one point.
func at(s *Solution, p, normal room.Vec) float64 {
	return seen(s.enclosure.emitters([]*Solution{s}), p, normal)
}

// seen is what an emitters of one solution shows at a point.
func seen(o *emitters, p, normal room.Vec) float64 {
	l := o.gatherer()
	l.gather(p, normal)
	return l.light[0] / (2 * math.Pi)
}

// Source: CIE 171:2006, case 5.6 (title from memory, unverified): the light that one evenly lit diffuse
// rectangle reflects to a point is M C. Here the ceiling alone reflects, lit by a lamp, and the point looks
// at it.
func TestReflectionOverDiffuseRectangle(t *testing.T) {
	r := room.Room{Length: 6, Width: 6, Height: 4, Reflectance: room.Reflectances{Ceiling: 0.6}}
	e, err := NewEnclosure(t.Context(), r, nil, Options{})
	require.NoError(t, err)
	s := &Solution{enclosure: e, total: make([]float64, e.Patches()), exitance: make([]float64, e.Patches())}
	for i := range s.total {
		s.total[i] = 500
	}
	e.reflect(s.exitance, s.total)
	corner := func(a, b, d float64) float64 {
		x, y := a/d, b/d
		p, q := math.Sqrt(1+x*x), math.Sqrt(1+y*y)
		return (x/p*math.Atan(y/p) + y/q*math.Atan(x/q)) / (2 * math.Pi)
	}
	require.InEpsilon(t, 300*4*corner(3, 3, 4), at(s, room.Vec{X: 3, Y: 3}, room.Vec{Z: 1}), 1e-9) // rounding
	require.InEpsilon(
		t, 300*(corner(1, 2, 3)+corner(5, 2, 3)+corner(1, 4, 3)+corner(5, 4, 3)),
		at(s, room.Vec{X: 1, Y: 2, Z: 1}, room.Vec{Z: 1}), 1e-9,
	)
}

// Source: CIE 171:2006, case 5.7 in Ashdown's correction (Errata, 2016): the configuration factor of what
// stays visible. A black rack right across the room, 2 m high, its face 1 m before the point, hides the
// ceiling, 4 m up, beyond 2 m.
func TestObstructedReflection(t *testing.T) {
	r := room.Room{Length: 6, Width: 6, Height: 4, Reflectance: room.Reflectances{Ceiling: 0.6}}
	racks := []room.Rack{{Corner: room.Vec{X: 3}, Size: room.Vec{X: 1, Y: 6, Z: 2}}}
	progress := 0
	e, err := NewEnclosure(t.Context(), r, racks, Options{Progress: func(string, float64) { progress++ }})
	require.NoError(t, err)
	require.Positive(t, progress)
	s := &Solution{enclosure: e, total: make([]float64, e.Patches()), exitance: make([]float64, e.Patches())}
	for i := range s.total {
		s.total[i] = 500
	}
	e.reflect(s.exitance, s.total)
	point := room.HorizontalGrid("point", room.Vec{X: 1.5, Y: 2.5}, room.Vec{X: 2.5, Y: 3.5}, 0, 1)
	values, err := s.Illuminance(t.Context(), point)
	require.NoError(t, err)
	x, y := 2.0/4, 3.0/4
	p, q := math.Sqrt(1+x*x), math.Sqrt(1+y*y)
	corner := (x/p*math.Atan(y/p) + y/q*math.Atan(x/q)) / (2 * math.Pi)
	require.InEpsilon(t, 300*4*corner, values[0], 1e-6) // a rack is drawn in by a ten-millionth of its size
	t.Logf("deviation %.2g percent", 100*math.Abs(values[0]/(300*4*corner)-1))
}

// photons traces light by chance: each photon flies, is absorbed or flies on, and is counted where it lands.
// It returns the total illuminance of the floor outside the racks and of the walls, lx, and their standard
// errors.
func photons(
	r room.Room, racks []room.Rack, places []room.Placement, lumens float64, count int,
) (mean, deviation [2]float64) {
	rng := rand.New(rand.NewPCG(1, 1))
	area := [2]float64{r.Length * r.Width, 2 * r.Height * (r.Length + r.Width)}
	for _, k := range racks {
		area[0] -= k.Size.X * k.Size.Y
	}
	var sum, squares [2]float64
	for range count {
		var hits [2]float64
		p := places[rng.IntN(len(places))].Position
		z := 2*rng.Float64() - 1
		turn := 2 * math.Pi * rng.Float64()
		d := room.Vec{X: math.Sqrt(1-z*z) * math.Cos(turn), Y: math.Sqrt(1-z*z) * math.Sin(turn), Z: z}
		for {
			at, normal, reflectance, where := fly(r, racks, p, d)
			if where >= 0 {
				hits[where]++
			}
			if rng.Float64() >= reflectance {
				break
			}
			p = at.Add(normal.Scale(1e-9))
			d = bounceOff(normal, rng)
		}
		for i := range hits {
			sum[i] += hits[i]
			squares[i] += hits[i] * hits[i]
		}
	}
	n := float64(count)
	for i := range sum {
		mean[i] = sum[i] / n * lumens / area[i]
		deviation[i] = math.Sqrt((squares[i]/n-sum[i]*sum[i]/n/n)/n) * lumens / area[i]
	}
	return mean, deviation
}

func bounceOff(n room.Vec, rng *rand.Rand) room.Vec {
	for { // a point on the unit sphere about the tip of the normal
		v := room.Vec{X: 2*rng.Float64() - 1, Y: 2*rng.Float64() - 1, Z: 2*rng.Float64() - 1}
		if l := v.Length(); l > 1e-3 && l <= 1 {
			d := n.Add(v.Scale(1 / l))
			return d.Scale(1 / d.Length())
		}
	}
}

// fly goes to the nearest plane among all sides of all boxes. where is 0 for the floor, 1 for a wall, else
// -1.
func fly(r room.Room, racks []room.Rack, p, d room.Vec) (
	at, normal room.Vec, reflectance float64, where int,
) {
	best := math.Inf(1)
	meet := func(a axis, plane, sign float64, low, high room.Vec, rho float64, w int) {
		t := (plane - along(p, a)) / along(d, a)
		if !(t > 0) || t >= best || along(d, a)*sign >= 0 {
			return
		}
		q := p.Add(d.Scale(t))
		for b := range axis(3) {
			if b != a && (along(q, b) < along(low, b) || along(q, b) > along(high, b)) {
				return
			}
		}
		best, at, normal, reflectance, where = t, q, unit(a).Scale(sign), rho, w
	}
	far := room.Vec{X: r.Length, Y: r.Width, Z: r.Height}
	for a := range axis(3) {
		low, high, w := r.Reflectance.Walls, r.Reflectance.Walls, [2]int{1, 1}
		if a == axisZ {
			low, high, w = r.Reflectance.Floor, r.Reflectance.Ceiling, [2]int{0, -1}
		}
		meet(a, 0, 1, room.Vec{}, far, low, w[0])
		meet(a, along(far, a), -1, room.Vec{}, far, high, w[1])
		for _, k := range racks {
			meet(a, along(k.Corner, a), -1, k.Corner, k.Far(), k.Reflectance, -1)
			meet(a, along(k.Far(), a), 1, k.Corner, k.Far(), k.Reflectance, -1)
		}
	}
	return at, normal, reflectance, where
}

func TestPhotons(t *testing.T) {
	r := room.Room{
		Length: 8, Width: 6, Height: 4, Reflectance: room.Reflectances{Ceiling: 0.7, Walls: 0.5, Floor: 0.3},
	}
	places := []room.Placement{
		{Position: room.Vec{X: 2.3, Y: 3.1, Z: 3}}, {Position: room.Vec{X: 6, Y: 2.2, Z: 2.7}},
	}
	for name, racks := range map[string][]room.Rack{
		"empty": nil,
		"racks": {
			{Corner: room.Vec{X: 1.2, Y: 1}, Size: room.Vec{X: 5, Y: 0.8, Z: 2.2}, Reflectance: 0.4},
			{Corner: room.Vec{X: 1.2, Y: 4}, Size: room.Vec{X: 5, Y: 0.8, Z: 2.5}, Reflectance: 0.4},
		},
	} {
		scene := isotropic(t, 4000, places...)
		scene.Racks = racks
		s, err := Solve(t.Context(), r, scene, Options{Patch: 0.25})
		require.NoError(t, err)
		var flux, area [2]float64
		for i := range s.total {
			w := -1
			switch f := s.enclosure.faceOf(i); {
			case f == &s.enclosure.faces[floor]:
				w = 0
			case f.rack < 0 && f.normal != axisZ:
				w = 1
			}
			if w >= 0 {
				flux[w] += s.total[i] * s.enclosure.areas[i]
				area[w] += s.enclosure.areas[i]
			}
		}
		want, deviation := photons(r, racks, places, 8000, 400000)
		for i := range want {
			require.InDelta(t, want[i], flux[i]/area[i], 3*deviation[i], "%s, surface %d: %v", name, i, deviation)
			off := math.Abs(flux[i]/area[i] - want[i])
			t.Logf(
				"%s, surface %d: deviation %.2f percent, %.1f standard errors", name, i, 100*off/want[i],
				off/deviation[i],
			)
		}
		b := s.Balance()
		require.InEpsilon(t, b.Emitted, b.Absorbed, 1e-3, "%s: %+v", name, b)
	}
}

// Light that passes a rack wholly makes the rack vanish.
func TestTransparentRackIsNotThere(t *testing.T) {
	r := room.Room{
		Length: 8, Width: 6, Height: 4, WorkPlane: 0.8,
		Reflectance: room.Reflectances{Ceiling: 0.7, Walls: 0.5, Floor: 0.3},
	}
	scene := isotropic(t, 4000, room.Placement{Position: room.Vec{X: 2.3, Y: 3.1, Z: 3}})
	empty, err := Solve(t.Context(), r, scene, Options{})
	require.NoError(t, err)
	scene.Racks = []room.Rack{
		{Corner: room.Vec{X: 3, Y: 2}, Size: room.Vec{X: 2, Y: 1, Z: 2}, Reflectance: 0.5, Transmittance: 1},
	}
	clear, err := Solve(t.Context(), r, scene, Options{})
	require.NoError(t, err)
	p := room.HorizontalGrid("part", room.Vec{X: 6, Y: 1}, room.Vec{X: 7, Y: 5}, 0.8, 0.5)
	a, err := empty.Illuminance(t.Context(), p)
	require.NoError(t, err)
	b, err := clear.Illuminance(t.Context(), p)
	require.NoError(t, err)
	for i := range a {
		require.InEpsilon(t, a[i], b[i], 0.03, "point %d", i) // discretisation: rays
	}
}

// Open racks pass, reflect and absorb: all light is accounted for, and an open rack leaves the floor brighter
// than a solid one.
func TestOpenRacksKeepTheBalance(t *testing.T) {
	r := room.Room{
		Length: 8, Width: 6, Height: 4, WorkPlane: 0.8,
		Reflectance: room.Reflectances{Ceiling: 0.7, Walls: 0.5, Floor: 0.3},
	}
	scene := isotropic(t, 4000, room.Placement{Position: room.Vec{X: 2.3, Y: 3.1, Z: 3}})
	before := 0.0
	for _, transmittance := range []float64{0, 0.4, 0.8} {
		scene.Racks = []room.Rack{
			{
				Corner: room.Vec{X: 3, Y: 0.5}, Size: room.Vec{X: 1, Y: 5, Z: 2}, Reflectance: 0.5,
				Transmittance: transmittance,
			},
			{
				Corner: room.Vec{X: 6, Y: 0.5}, Size: room.Vec{X: 1, Y: 5, Z: 2.5}, Reflectance: 0.5,
				Transmittance: transmittance,
			},
		}
		s, err := Solve(t.Context(), r, scene, Options{})
		require.NoError(t, err)
		b := s.Balance()
		require.InEpsilon(t, b.Emitted, b.Absorbed, 1e-3, "%+v", b)
		require.Less(t, b.Correction, 0.02, "%+v", b) // discretisation, of the rays
		between := room.HorizontalGrid("between", room.Vec{X: 4.2, Y: 1}, room.Vec{X: 5.8, Y: 5}, 0.8, 0.4)
		values, err := s.Illuminance(t.Context(), between)
		require.NoError(t, err)
		mean := room.Summarize(values).Average
		require.Greater(t, mean, before)
		before = mean
	}
}

func TestSameBitsOnAnyNumberOfProcessors(t *testing.T) {
	r := room.Room{
		Length: 8, Width: 6, Height: 4, WorkPlane: 0.8,
		Reflectance: room.Reflectances{Ceiling: 0.7, Walls: 0.5, Floor: 0.3},
	}
	for _, racks := range [][]room.Rack{
		nil, {{Corner: room.Vec{X: 3, Y: 2}, Size: room.Vec{X: 2, Y: 1, Z: 2}, Reflectance: 0.5}},
	} {
		var results [2][]float64
		before := runtime.GOMAXPROCS(0)
		for i, n := range []int{1, 8} {
			runtime.GOMAXPROCS(n)
			scene := isotropic(t, 4000, room.Placement{Position: room.Vec{X: 2.3, Y: 3.1, Z: 3}})
			scene.Racks = racks
			s, err := Solve(t.Context(), r, scene, Options{})
			require.NoError(t, err)
			results[i], err = s.Illuminance(t.Context(), r.WorkPlaneGrid(0.2))
			require.NoError(t, err)
		}
		runtime.GOMAXPROCS(before)
		for i := range results[0] {
			require.Equal(t, math.Float64bits(results[0][i]), math.Float64bits(results[1][i]), "point %d", i)
		}
	}
}

func TestRefusals(t *testing.T) {
	r := room.Room{Length: 80, Width: 60, Height: 8}
	racks := []room.Rack{{Corner: room.Vec{X: 3, Y: 2}, Size: room.Vec{X: 2, Y: 1, Z: 2}}}
	_, err := NewEnclosure(t.Context(), r, racks, Options{Memory: 1 << 20})
	var memory *MemoryError
	require.ErrorAs(t, err, &memory)
	require.Greater(t, memory.Bytes, memory.Limit)
	require.Contains(t, err.Error(), "patches with 128 rays each would take")
	require.Contains(t, err.Error(), "the limit is 1 MiB; choose larger patches")
	small, err := NewEnclosure(
		t.Context(), room.Room{Length: 8, Width: 6, Height: 4}, racks, Options{Patch: 2, Memory: 1 << 20},
	)
	require.NoError(t, err)
	s, err := small.Solve(t.Context(), isotropic(t, 100, room.Placement{Position: room.Vec{X: 2, Y: 2, Z: 3}}))
	require.NoError(t, err)
	_, err = s.Illuminance(t.Context(), room.HorizontalGrid("many", room.Vec{}, room.Vec{X: 8, Y: 6}, 0, 0.1))
	require.NoError(t, err, "points take no memory that counts")

	open := []room.Rack{racks[0]}
	open[0].Transmittance = 0.5
	hall := room.Room{Length: 24, Width: 18, Height: 4}
	fits, err := NewEnclosure(t.Context(), hall, open, Options{})
	require.NoError(t, err)
	need := int64(bytesOfBundle * len(fits.seen.through))
	for _, seen := range fits.seen.through {
		need += bytesOfFactor * int64(len(seen))
	}
	_, err = NewEnclosure(t.Context(), hall, open, Options{Memory: need})
	require.NoError(t, err, "to the byte")
	_, err = NewEnclosure(t.Context(), hall, open, Options{Memory: need - 1})
	require.ErrorAs(t, err, &memory)
	require.Greater(t, memory.Bytes, memory.Limit)
	require.Contains(t, err.Error(), "interreflect: sights of the patches through racks, ")
	require.Contains(t, err.Error(), "; choose larger patches")

	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	for _, k := range [][]room.Rack{nil, racks} {
		_, err = NewEnclosure(ctx, r, k, Options{})
		require.ErrorIs(t, err, context.Canceled)
	}
	white := room.Room{
		Length: 4, Width: 4, Height: 4, Reflectance: room.Reflectances{Ceiling: 1, Walls: 1, Floor: 1},
	}
	_, err = Solve(
		t.Context(), white, isotropic(t, 100, room.Placement{Position: room.Vec{X: 2, Y: 2, Z: 2}}),
		Options{Patch: 1},
	)
	require.ErrorIs(t, err, ErrEndless)
}

// Several solutions gathered at once are what each is by itself.
func TestSeveralSolutionsAtOnce(t *testing.T) {
	r := room.Room{
		Length: 8, Width: 6, Height: 4, WorkPlane: 0.8,
		Reflectance: room.Reflectances{Ceiling: 0.7, Walls: 0.5, Floor: 0.3},
	}
	for _, racks := range [][]room.Rack{
		nil, {{Corner: room.Vec{X: 3, Y: 2}, Size: room.Vec{X: 2, Y: 1, Z: 2}, Reflectance: 0.5}},
	} {
		e, err := NewEnclosure(t.Context(), r, racks, Options{})
		require.NoError(t, err)
		var solutions []*Solution
		for i := range 5 {
			s, err := e.Solve(
				t.Context(), isotropic(t, 4000, room.Placement{Position: room.Vec{X: 1.3 + float64(i), Y: 3.1, Z: 3}}),
			)
			require.NoError(t, err)
			solutions = append(solutions, s)
		}
		wall, err := room.VerticalGrid("wall", room.Vec{X: 1}, room.Vec{X: 2}, 0, 4, math.Pi/2, 0.25)
		require.NoError(t, err)
		for _, g := range []room.Grid{r.WorkPlaneGrid(longtest.Pick(0.2, 0.1)), wall} {
			grids, err := e.Illuminance(t.Context(), []room.Grid{g}, solutions...)
			require.NoError(t, err)
			together := grids[0]
			for k, s := range solutions {
				alone, err := s.Illuminance(t.Context(), g)
				require.NoError(t, err)
				for i := range alone {
					if math.IsNaN(alone[i]) {
						require.True(t, math.IsNaN(together[k][i]), "solution %d, point %d", k, i)
						continue
					}
					require.Equal(t, alone[i], together[k][i], "solution %d, point %d", k, i)
				}
			}
		}
	}
}

// patchByPatch is an emitters in which no block counts as one patch.
func patchByPatch(s *Solution) *emitters {
	o := s.enclosure.emitters([]*Solution{s})
	o.refinement = math.Inf(1)
	return o
}

// lowHall is lit from close under its ceiling, so that each luminaire leaves a bright spot there.
func lowHall(t *testing.T) *Solution {
	t.Helper()
	r := room.Room{
		Length: 40, Width: 30, Height: 4, Reflectance: room.Reflectances{Ceiling: 0.7, Walls: 0.5, Floor: 0.2},
	}
	s, err := Solve(t.Context(), r, isotropic(t, 3000, r.Lattice(5, 8, 3.84, 0)...), Options{})
	require.NoError(t, err)
	return s
}

// Blocks of patches give what the patches give one by one, within the half of the 0.2 percent that
// interpolation leaves them.
func TestBlocksAgreeWithPatches(t *testing.T) {
	agree := func(s *Solution, grids ...room.Grid) {
		o, patches := s.enclosure.emitters([]*Solution{s}), patchByPatch(s)
		for _, g := range grids {
			for i := range g.NX * g.NY {
				p := g.Point(i%g.NX, i/g.NX)
				require.InEpsilon(t, seen(patches, p, g.Normal), seen(o, p, g.Normal), 1e-3, "point %d", i)
			}
		}
	}
	for _, height := range []float64{3, 4} {
		r := room.Room{
			Length: 8, Width: 6, Height: height, WorkPlane: 0.8,
			Reflectance: room.Reflectances{Ceiling: 0.7, Walls: 0.5, Floor: 0.3},
		}
		s, err := Solve(
			t.Context(), r, isotropic(t, 4000, room.Placement{Position: room.Vec{X: 2.7, Y: 3.1, Z: height - 1}}),
			Options{},
		)
		require.NoError(t, err)
		agree(s, r.WorkPlaneGrid(0.3), room.HorizontalGrid("up", room.Vec{}, room.Vec{X: 8, Y: 6}, 0, 0.7))
	}
	s := lowHall(t)
	agree(s, s.enclosure.room.WorkPlaneGrid(1.3))
}

// What is interpolated is the plain sum within a thousandth, also near the walls and under a low ceiling.
func TestInterpolatedIsThePlainSum(t *testing.T) {
	s := lowHall(t)
	patches := patchByPatch(s)
	for _, height := range []float64{0, 1.5, 2.7} {
		g := room.HorizontalGrid("plane", room.Vec{}, room.Vec{X: 40, Y: 30}, height, 0.4)
		light, err := s.Illuminance(t.Context(), g)
		require.NoError(t, err)
		for i := 0; i < len(light); i += longtest.Pick(31, 7) {
			want := seen(patches, g.Point(i%g.NX, i/g.NX), g.Normal)
			require.InEpsilon(t, want, light[i], 1e-3, "height %v, point %d", height, i)
		}
	}
}

// A room far narrower than it is long, its luminaires a hand's breadth from the walls, is not cut into
// patches without end.
func TestNarrowRoom(t *testing.T) {
	r := room.Room{
		Length: 60, Width: 0.4, Height: 3, Reflectance: room.Reflectances{Ceiling: 0.7, Walls: 0.5, Floor: 0.2},
	}
	scene := isotropic(t, 2000, r.Lattice(1, 20, 2.7, 0)...)
	s, err := Solve(t.Context(), r, scene, Options{})
	require.NoError(t, err)
	require.Less(t, s.enclosure.Patches(), mostPatches)
	require.InEpsilon(t, s.Balance().Emitted, s.Balance().Absorbed, 1e-3, "%+v", s.Balance())
	flat, err := NewEnclosure(t.Context(), room.Room{Length: 120, Width: 80, Height: 0.3}, nil, Options{})
	require.NoError(t, err)
	require.Less(t, flat.Patches(), mostPatches)
}

// Direct light on the patches among racks, whose shadows run along and across them, against twelve by twelve
// points a patch, each with its exact shadows. What is missing is what the few rows of cells of a patch do
// not see of shadows that run along them.
func TestDirectLightOnPatchesAmongRacks(t *testing.T) {
	r := room.Room{
		Length: 60 * ft, Width: 40 * ft, Height: 24 * ft, WorkPlane: 2.5 * ft, Reflectance: hall.Room().Reflectance,
	}
	scene := strips(t)
	scene.Sources[0].Placements = r.Lattice(3, 4, 20*ft, 0)
	rack := func(x, y, length, width float64) room.Rack {
		return room.Rack{
			Corner: room.Vec{X: x * ft, Y: y * ft}, Size: room.Vec{X: length * ft, Y: width * ft, Z: 16 * ft},
			Reflectance: 0.3,
		}
	}
	scene.Racks = []room.Rack{rack(10, 4, 40, 8), rack(10, 16, 40, 8), rack(10, 28, 30, 8)}
	e, err := NewEnclosure(t.Context(), r, scene.Racks, Options{})
	require.NoError(t, err)
	s, err := e.Solve(t.Context(), scene)
	require.NoError(t, err)
	const parts = 12
	prepared := scene.Prepare()
	square, all, flux := 0.0, 0.0, 0.0
	for _, sheet := range e.sheets() {
		g := sheet.grid()
		g.NX, g.NY, g.StepX, g.StepY = g.NX*parts, g.NY*parts, g.StepX/parts, g.StepY/parts
		light, err := prepared.Illuminance(t.Context(), g)
		require.NoError(t, err)
		mean := make(map[int]float64)
		at := 0
		for p := range sheet.patches {
			ix, iy := at%sheet.us.count()*parts, at/sheet.us.count()*parts
			at++
			for k := range parts * parts {
				if x := light[(iy+k/parts)*g.NX+ix+k%parts]; photometry.Finite(x) {
					mean[p] += x / (parts * parts)
				}
			}
		}
		for at, want := range mean {
			square += (s.direct[at] - want) * (s.direct[at] - want) * e.areas[at]
			all += want * want * e.areas[at]
			flux += want * e.areas[at]
		}
	}
	require.Less(t, math.Sqrt(square/all), 3e-3)
	require.InEpsilon(t, s.balance.Emitted, flux, 2e-3)
	require.InEpsilon(t, s.balance.Emitted, s.balance.Arrived, 2e-3)
	t.Logf(
		"deviation of the patches %.2g percent (root mean square), of all light %.2g percent",
		100*math.Sqrt(square/all), 100*(s.balance.Arrived/s.balance.Emitted-1),
	)
}
