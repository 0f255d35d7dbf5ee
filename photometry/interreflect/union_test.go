package interreflect

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lampswap/photometry/direct"
	"lampswap/photometry/longtest"
	"lampswap/photometry/room"
)

// crowd is a room with racks on a lattice so coarse that they touch, cross, share volume, stand at walls,
// reach the ceiling and are there twice; draw returns a whole number between two others.
func crowd(
	draw func(name string, least, most int) int, transmittance []float64,
) (room.Room, []room.Rack, []room.Placement) {
	r := room.Room{
		Length: 10, Width: 8, Height: 4, WorkPlane: 0.8,
		Reflectance: room.Reflectances{Ceiling: 0.7, Walls: 0.5, Floor: 0.3},
	}
	var racks []room.Rack
	for range draw("racks", 1, 6) {
		if n := len(racks); n > 0 && draw("again", 0, 5) == 0 {
			racks = append(racks, racks[draw("which", 0, n-1)])
			continue
		}
		x, y := float64(draw("x", 0, 9)), float64(draw("y", 0, 7))
		racks = append(racks, room.Rack{Corner: room.Vec{X: x, Y: y},
			Reflectance: float64(draw("reflectance", 1, 6)) / 10,
			Size: room.Vec{
				X: min(float64(draw("long", 1, 5)), r.Length-x), Y: min(float64(draw("wide", 1, 4)), r.Width-y),
				Z: float64(draw("high", 1, 4)),
			},
			Transmittance: transmittance[draw("transmittance", 0, len(transmittance)-1)]})
	}
	var places []room.Placement
	for _, at := range []room.Vec{
		{X: 2.3, Y: 3.1, Z: 3.4}, {X: 7.6, Y: 5.2, Z: 3.4}, {X: 5.1, Y: 1.4, Z: 3.2}, {X: 0.4, Y: 7.7, Z: 3.7},
		{X: 9.7, Y: 0.3, Z: 3.7},
	} {
		if !slices.ContainsFunc(racks, func(k room.Rack) bool { return k.Contains(at) }) {
			places = append(places, room.Placement{Position: at})
		}
	}
	return r, racks, places
}

// travel goes from a place on until light is kept: at every side of any rack by the ratio of the least
// transmittance of the racks on the far side to that of those on both sides. rack is which keeps it; -1 a
// surface of the room, -2 the rack in which it began.
func travel(r room.Room, racks []room.Rack, p, d room.Vec, rng *rand.Rand) (at, normal room.Vec, rack int) {
	least := func(q room.Vec, also func(k room.Rack) bool) (passes float64, which int) {
		passes, which = 1, -1
		for i, k := range racks {
			if k.Contains(q) && also(k) && k.Transmittance < passes {
				passes, which = k.Transmittance, i
			}
		}
		return passes, which
	}
	if passes, _ := least(p, func(room.Rack) bool { return true }); rng.Float64() >= passes {
		return p, normal, -2
	}
	type side struct {
		t float64
		a axis
	}
	var sides []side
	for a := range axis(3) {
		planes := []float64{0, along(room.Vec{X: r.Length, Y: r.Width, Z: r.Height}, a)}
		for _, k := range racks {
			planes = append(planes, along(k.Corner, a), along(k.Far(), a))
		}
		slices.Sort(planes)
		for _, x := range slices.Compact(planes) {
			if t := (x - along(p, a)) / along(d, a); t > 1e-7 {
				sides = append(sides, side{t, a})
			}
		}
	}
	slices.SortFunc(sides, func(x, y side) int { return int(math.Copysign(1, x.t-y.t)) })
	for _, s := range sides {
		at, normal = p.Add(d.Scale(s.t)), unit(s.a).Scale(-math.Copysign(1, along(d, s.a)))
		before, behind := p.Add(d.Scale(s.t-1e-8)), p.Add(d.Scale(s.t+1e-8))
		if !(&Enclosure{room: r}).within(behind) {
			return at, normal, -1
		}
		stays, _ := least(before, func(k room.Rack) bool { return k.Contains(behind) })
		after, which := least(behind, func(k room.Rack) bool { return !k.Contains(before) })
		if after < stays && rng.Float64() >= after/stays {
			return at, normal, which
		}
	}
	panic("light left the room")
}

// count follows photons among racks that may let light through and returns the part of them that is kept by
// or falls on the floor, the other surfaces of the room, and racks, with its standard errors.
func count(
	r room.Room, racks []room.Rack, places []room.Placement, photons int,
) (mean, deviation [3]float64) {
	rng := rand.New(rand.NewPCG(1, 2))
	var sum, squares [3]float64
	for range photons {
		var hits [3]float64
		z, turn := 2*rng.Float64()-1, 2*math.Pi*rng.Float64()
		p, d := places[rng.IntN(len(places))].Position, room.Vec{
			X: math.Sqrt(1-z*z) * math.Cos(turn), Y: math.Sqrt(1-z*z) * math.Sin(turn), Z: z,
		}
		for {
			at, normal, rack := travel(r, racks, p, d, rng)
			rho := 0.0
			switch {
			case rack == -2:
			case rack >= 0:
				hits[2]++
				rho = racks[rack].Reflectance
			case normal.Z > 0:
				hits[0]++
				rho = r.Reflectance.Floor
			case normal.Z < 0:
				hits[1]++
				rho = r.Reflectance.Ceiling
			default:
				hits[1]++
				rho = r.Reflectance.Walls
			}
			if rng.Float64() >= rho {
				break
			}
			p, d = at.Add(normal.Scale(1e-7)), bounceOff(normal, rng)
		}
		for i, h := range hits {
			sum[i] += h
			squares[i] += h * h
		}
	}
	for i := range sum {
		n := float64(photons)
		mean[i] = sum[i] / n
		deviation[i] = math.Sqrt((squares[i]/n - mean[i]*mean[i]) / n)
	}
	return mean, deviation
}

// kept is the same of a solution.
func kept(s *Solution) (flux [3]float64) {
	e := s.enclosure
	for i := range e.faces {
		f, w := &e.faces[i], 2
		switch {
		case i == floor:
			w = 0
		case i < roomFaces:
			w = 1
		}
		for k := f.first; k < f.first+f.columns()*f.rows(); k++ {
			flux[w] += s.total[k] * e.areas[k] * e.keeps[k] / s.balance.Emitted
		}
	}
	return flux
}

// Racks that touch, cross, share volume and are there twice, solid and open, against photons.
func TestPhotonsAmongRacksThatShareVolume(t *testing.T) {
	arrangements, photons := longtest.Pick(2, 8), longtest.Pick(50_000, 200_000)
	worst, errors := 0.0, 0.0
	for i := range arrangements {
		rng := rand.New(rand.NewPCG(7, uint64(i)))
		transmittance := [][]float64{{0}, {0, 0.3, 0.6}}[i%2]
		r, racks, places := crowd(
			func(_ string, least, most int) int { return least + rng.IntN(most-least+1) }, transmittance,
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

// A wall of which racks shade the lower part alone gets the light of a luminaire near its upper part whole.
// Such a draw once failed: 6 percent more than was sent out.
func TestLightBesideAPartlyShadedWall(t *testing.T) {
	r := room.Room{
		Length: 10, Width: 8, Height: 4, WorkPlane: 0.8,
		Reflectance: room.Reflectances{Ceiling: 0.7, Walls: 0.5, Floor: 0.3},
	}
	scene := isotropic(t, 1000, room.Placement{Position: room.Vec{X: 9.7, Y: 0.3, Z: 3.7}})
	scene.Racks = []room.Rack{{
		Corner: room.Vec{X: 8, Y: 3}, Size: room.Vec{X: 1, Y: 4, Z: 1}, Reflectance: 0.4, Transmittance: 0.3,
	},
		{Corner: room.Vec{X: 8, Y: 0}, Size: room.Vec{X: 2, Y: 1, Z: 1}, Reflectance: 0.5},
		{Corner: room.Vec{X: 0, Y: 7}, Size: room.Vec{X: 1, Y: 1, Z: 4}, Reflectance: 0.3, Transmittance: 0.6}}
	s, err := Solve(t.Context(), r, scene, Options{Patch: 0.5, Rays: 64})
	require.NoError(t, err)
	require.InEpsilon(t, s.Balance().Emitted, s.Balance().Arrived, 3e-3, "%+v", s.Balance())
}

// What open racks that touch keep is what photons say: light through one falls whole on the side of the next.
// Such a draw once failed: the first went on into the second, and stood before that side; 1 percent of all
// light was missing, 14 percent of what the racks keep.
func TestPhotonsThroughRacksThatTouch(t *testing.T) {
	r := room.Room{Length: 23.5, Width: 15.2, Height: 7.24}
	const wide = 0.8128
	racks := []room.Rack{{
		Corner: room.Vec{X: 0.15, Y: 1}, Size: room.Vec{X: 16.5, Y: wide, Z: 5.9}, Transmittance: 0.55,
	},
		{Corner: room.Vec{X: 0.15, Y: 1 + wide}, Size: room.Vec{X: 16.5, Y: wide, Z: 5.9}, Transmittance: 0.55}}
	scene := isotropic(t, 1000, room.Placement{Position: room.Vec{X: 8, Y: 7.6, Z: 6.8}})
	scene.Racks = racks
	s, err := Solve(t.Context(), r, scene, Options{Patch: 0.6096, Rays: 128})
	require.NoError(t, err)
	require.InEpsilon(t, s.Balance().Emitted, s.Balance().Arrived, 3e-3)
	want, deviation := count(r, racks, scene.Sources[0].Placements, longtest.Pick(50_000, 400_000))
	for w, got := range kept(s) {
		require.InDelta(t, want[w], got, 3*deviation[w]+6e-3*want[w], "surface %d", w)
	}
}

// Light is neither lost nor made whatever the racks do to each other, and a rack listed twice changes
// nothing.
func TestBalanceAmongRacksThatShareVolume(t *testing.T) {
	ctx, scene := t.Context(), isotropic(t, 1000)
	least, most := 1.0, 1.0
	longtest.Check(t, 10, func(t *rapid.T) {
		r, racks, places := crowd(
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
		least, most = min(least, b.Arrived/b.Emitted), max(most, b.Arrived/b.Emitted)
		require.InEpsilon(t, b.Emitted, b.Absorbed, 3e-3, "%+v", b)
		require.InEpsilon(t, b.Emitted, b.Arrived, 1e-2, "%+v", b)
		again := direct.Scene{
			Sources: scene.Sources,
			Racks:   append(slices.Clone(racks), racks[rapid.IntRange(0, len(racks)-1).Draw(t, "twice")]),
		}
		twice, err := Solve(ctx, r, again, Options{Patch: 0.5, Rays: 64})
		require.NoError(t, err)
		require.Equal(t, s.total, twice.total)
		g := r.WorkPlaneGrid(0.5)
		once, err := s.Illuminance(ctx, g)
		require.NoError(t, err)
		values, err := twice.Illuminance(ctx, g)
		require.NoError(t, err)
		for i, x := range once {
			require.Equal(t, math.Float64bits(x), math.Float64bits(values[i]), "point %d", i)
			require.Equal(t, !s.enclosure.open(g.Point(i%g.NX, i/g.NX)), math.IsNaN(x), "point %d", i)
		}
	})
	t.Logf(
		"of the light %.2f to %.2f percent found on the surfaces before it is made whole", 100*least, 100*most,
	)
}
