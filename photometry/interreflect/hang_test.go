package interreflect

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lampswap/photometry/longtest"
	"lampswap/photometry/room"
)

// hung is a crowd of which some racks hang: above others, on them, at the ceiling, through one another.
func hung(
	draw func(name string, least, most int) int, transmittance []float64,
) (room.Room, []room.Rack, []room.Placement) {
	r, racks, places := crowd(draw, transmittance)
	for i := range racks {
		if k := &racks[i]; draw("hangs", 0, 2) > 0 {
			k.Size.Z = min(k.Size.Z, 2)
			k.Corner.Z = float64(draw("bottom", 1, 4-int(k.Size.Z)))
		}
	}
	under := []room.Placement{
		{Position: room.Vec{X: 4.4, Y: 6.3, Z: 0.7}}, {Position: room.Vec{X: 1.6, Y: 1.7, Z: 0.6}},
	}
	places = slices.DeleteFunc(append(places, under...), func(p room.Placement) bool {
		return slices.ContainsFunc(racks, func(k room.Rack) bool { return k.Contains(p.Position) })
	})
	return r, racks, places
}

// Among boxes that hang, over and under them, solid and open, light goes as photons do.
func TestPhotonsAmongHangingBoxes(t *testing.T) {
	arrangements, photons := longtest.Pick(2, 8), longtest.Pick(50_000, 400_000)
	worst, errors := 0.0, 0.0
	for i := range arrangements {
		rng := rand.New(rand.NewPCG(11, uint64(i)))
		r, racks, places := hung(
			func(_ string, least, most int) int { return least + rng.IntN(most-least+1) },
			[][]float64{{0}, {0, 0.3, 0.6}}[i%2],
		)
		scene := isotropic(t, 1000, places...)
		scene.Racks = racks
		s, err := Solve(t.Context(), r, scene, Options{Patch: 0.25, Rays: 256})
		require.NoError(t, err)
		want, deviation := count(r, racks, places, photons)
		for w, got := range kept(s) {
			off := math.Abs(got - want[w])
			require.Less(
				t, off, max(3*deviation[w], 6e-3*want[w])+1e-12, "arrangement %d, surface %d: %v for %v: %+v\n%+v", i, w,
				got, want[w], racks, places,
			)
			if want[w] > 0.02 {
				worst, errors = max(worst, off/want[w]), max(errors, off/deviation[w])
			}
		}
	}
	t.Logf("largest deviation %.2f percent, %.1f standard errors", 100*worst, errors)
}

// The underside of a mezzanine is lit and bounces: what falls on it, and on the floor below it, is what
// photons say.
func TestPhotonsUnderAMezzanine(t *testing.T) {
	r := room.Room{
		Length: 12, Width: 9, Height: 6, Reflectance: room.Reflectances{Ceiling: 0.7, Walls: 0.5, Floor: 0.3},
	}
	racks := []room.Rack{
		{Corner: room.Vec{X: 5, Y: 0, Z: 2.6}, Size: room.Vec{X: 7, Y: 9, Z: 0.4}, Reflectance: 0.6},
	}
	places := []room.Placement{
		{Position: room.Vec{X: 2.5, Y: 3, Z: 5.2}}, {Position: room.Vec{X: 3, Y: 7, Z: 5.5}},
		{Position: room.Vec{X: 8, Y: 4, Z: 2.2}},
	}
	scene := isotropic(t, 1000, places...)
	scene.Racks = racks
	s, err := Solve(t.Context(), r, scene, Options{Patch: 0.25})
	require.NoError(t, err)
	e := s.enclosure
	flux := [2]float64{}
	for k, f := e.faces[floor].first, &e.faces[floor]; k < f.first+f.columns()*f.rows(); k++ {
		if u := (k - f.first) % f.columns(); f.us[u] > 5-touching {
			flux[0] += s.total[k] * e.areas[k] / s.balance.Emitted
		}
	}
	under := &e.faces[e.under[0]]
	require.Equal(t, -1.0, under.sign)
	for k := under.first; k < under.first+under.columns()*under.rows(); k++ {
		flux[1] += s.total[k] * e.areas[k] / s.balance.Emitted
	}
	rng, photons := rand.New(rand.NewPCG(3, 5)), longtest.Pick(200_000, 1_000_000)
	var hits, squares [2]float64
	for range photons {
		z, turn := 2*rng.Float64()-1, 2*math.Pi*rng.Float64()
		p, d := places[rng.IntN(len(places))].Position, room.Vec{
			X: math.Sqrt(1-z*z) * math.Cos(turn), Y: math.Sqrt(1-z*z) * math.Sin(turn), Z: z,
		}
		var own [2]float64
		for {
			at, normal, reflectance, where := fly(r, racks, p, d)
			switch {
			case where == 0 && at.X > 5:
				own[0]++
			case where < 0 && normal.Z < 0 && at.Z < 3:
				own[1]++
			}
			if rng.Float64() >= reflectance {
				break
			}
			p, d = at.Add(normal.Scale(1e-9)), bounceOff(normal, rng)
		}
		for i := range own {
			hits[i] += own[i]
			squares[i] += own[i] * own[i]
		}
	}
	for i, name := range []string{"floor below", "underside"} {
		n := float64(photons)
		want := hits[i] / n
		deviation := math.Sqrt((squares[i]/n - want*want) / n)
		require.InDelta(t, want, flux[i], max(3*deviation, 6e-3*want), name)
		t.Logf(
			"%s: deviation %.2f percent, %.1f standard errors", name, 100*math.Abs(flux[i]/want-1),
			math.Abs(flux[i]-want)/deviation,
		)
	}
}

// Light is neither lost nor made among boxes that hang, and a point within one has none.
func TestBalanceAmongHangingBoxes(t *testing.T) {
	ctx, scene := t.Context(), isotropic(t, 1000)
	worst := 0.0
	longtest.Check(t, 15, func(t *rapid.T) {
		r, racks, places := hung(
			func(name string, least, most int) int { return rapid.IntRange(least, most).Draw(t, name) },
			[]float64{0, 0, 0.3, 0.6},
		)
		if len(places) == 0 {
			t.Skip("all luminaires inside racks")
		}
		scene.Sources[0].Placements, scene.Racks = places, racks
		s, err := Solve(ctx, r, scene, Options{Patch: 0.5, Rays: 64})
		require.NoError(t, err)
		b := s.Balance()
		worst = max(worst, math.Abs(b.Arrived/b.Emitted-1))
		require.InEpsilon(t, b.Emitted, b.Absorbed, 3e-3, "%+v", b)
		require.InEpsilon(t, b.Emitted, b.Arrived, 1e-2, "%+v", b)
		g := r.WorkPlaneGrid(0.5)
		values, err := s.Illuminance(ctx, g)
		require.NoError(t, err)
		for i, x := range values {
			require.Equal(t, !s.enclosure.open(g.Point(i%g.NX, i/g.NX)), math.IsNaN(x), "point %d", i)
		}
	})
	t.Logf("at most %.2f percent of the light found or lost on the surfaces before it is made whole", 100*worst)
}

// A box that is given as standing on the floor, and as two of which one hangs right above the other, is the
// same to light.
func TestABoxInTwoIsTheSame(t *testing.T) {
	r := room.Room{
		Length: 10, Width: 8, Height: 4, WorkPlane: 0.8,
		Reflectance: room.Reflectances{Ceiling: 0.7, Walls: 0.5, Floor: 0.3},
	}
	scene := isotropic(
		t, 1000, room.Placement{Position: room.Vec{X: 2, Y: 3, Z: 3.6}},
		room.Placement{Position: room.Vec{X: 8, Y: 5, Z: 3.6}},
	)
	one := room.Rack{Corner: room.Vec{X: 4, Y: 2}, Size: room.Vec{X: 2, Y: 3, Z: 3}, Reflectance: 0.5}
	low, high := one, one
	low.Size.Z, high.Size.Z, high.Corner.Z = 1, 2, 1
	var light [2][]float64
	for i, racks := range [][]room.Rack{{one}, {low, high}} {
		scene.Racks = racks
		s, err := Solve(t.Context(), r, scene, Options{Patch: 0.25, Rays: 512})
		require.NoError(t, err)
		light[i], err = s.Illuminance(t.Context(), r.WorkPlaneGrid(0.5))
		require.NoError(t, err)
	}
	for i, want := range light[0] {
		if !math.IsNaN(want) {
			// discretisation: the rays, which other patches lay out otherwise
			require.InEpsilon(t, want, light[1][i], 4e-3, "point %d", i)
		}
	}
}
