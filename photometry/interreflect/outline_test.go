package interreflect

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"lampswap/photometry/longtest"
	"lampswap/photometry/room"
)

func plan2(places ...float64) room.Outline {
	var o room.Outline
	for i := 0; i < len(places); i += 2 {
		o = append(o, room.Vec{X: places[i], Y: places[i+1]})
	}
	return o
}

// shaped is a room with an outline.
func shaped(o room.Outline, height float64) room.Room {
	x, y := o.Extent()
	return room.Room{
		Length: x, Width: y, Height: height, WorkPlane: 0.8, Outline: o,
		Reflectance: room.Reflectances{Ceiling: 0.7, Walls: 0.5, Floor: 0.3},
	}
}

// flyWithin goes to the nearest of the floor, the ceiling and the walls along an outline: it knows no blocks.
// where is 0 for the floor, 1 for the ceiling, 2 for a wall.
func flyWithin(r room.Room, p, d room.Vec) (at, normal room.Vec, where int) {
	best := math.Inf(1)
	meet := func(t float64, n room.Vec, w int) {
		if t > 1e-9 && t < best {
			best, normal, where = t, n, w
		}
	}
	meet(-p.Z/d.Z, room.Vec{Z: 1}, 0)
	meet((r.Height-p.Z)/d.Z, room.Vec{Z: -1}, 1)
	for i, a := range r.Outline {
		b := r.Outline[(i+1)%len(r.Outline)]
		if a.X == b.X {
			t := (a.X - p.X) / d.X
			if y := p.Y + t*d.Y; y >= min(a.Y, b.Y) && y <= max(a.Y, b.Y) {
				meet(t, room.Vec{X: -math.Copysign(1, d.X)}, 2)
			}
			continue
		}
		t := (a.Y - p.Y) / d.Y
		if x := p.X + t*d.X; x >= min(a.X, b.X) && x <= max(a.X, b.X) {
			meet(t, room.Vec{Y: -math.Copysign(1, d.Y)}, 2)
		}
	}
	return p.Add(d.Scale(best)), normal, where
}

// In rooms with outlines light goes as photons do that know nothing but the walls along it: on the floor, the
// ceiling and the walls, and on the floor of one arm.
func TestPhotonsInAnOutline(t *testing.T) {
	photons := longtest.Pick(300_000, 4_000_000)
	worst, errors := 0.0, 0.0
	for name, c := range map[string]struct {
		r      room.Room
		arm    func(p room.Vec) bool
		places []room.Placement
	}{
		"L": {shaped(plan2(0, 0, 10, 0, 10, 4, 5, 4, 5, 9, 0, 9), 3.5), func(p room.Vec) bool { return p.Y > 4 },
			[]room.Placement{{Position: room.Vec{X: 8.2, Y: 2.1, Z: 2.9}},
				{Position: room.Vec{X: 2.3, Y: 1.4, Z: 3.1}}}},
		"T": {shaped(
			plan2(0, 5, 0, 8, 10, 8, 10, 5, 7, 5, 7, 0, 4, 0, 4, 5), 4,
		), func(p room.Vec) bool { return p.Y < 5 },
			[]room.Placement{{Position: room.Vec{X: 1.2, Y: 6.1, Z: 3.6}},
				{Position: room.Vec{X: 9.3, Y: 7.4, Z: 3.6}},
				{Position: room.Vec{X: 5.3, Y: 1.4, Z: 3.2}}}},
		"U": {shaped(
			plan2(8, 7, 8, 3, 3, 3, 3, 7, 0, 7, 0, 0, 11, 0, 11, 7), 3,
		), func(p room.Vec) bool { return p.X > 8 && p.Y > 3 },
			[]room.Placement{{Position: room.Vec{X: 1.6, Y: 5.1, Z: 2.6}},
				{Position: room.Vec{X: 5.3, Y: 1.4, Z: 2.4}}}},
	} {
		s, err := Solve(t.Context(), c.r, isotropic(t, 1000, c.places...), Options{Patch: 0.25, Rays: 512})
		require.NoError(t, err)
		e := s.enclosure
		var got, sum, squares [4]float64
		for i := range e.faces {
			f := &e.faces[i]
			for k := f.first; k < f.first+f.columns()*f.rows(); k++ {
				flux := s.total[k] * e.areas[k] / s.balance.Emitted
				u, v := (k-f.first)%f.columns(), (k-f.first)/f.columns()
				switch {
				case i == floor && c.arm(f.point((f.us[u]+f.us[u+1])/2, (f.vs[v]+f.vs[v+1])/2)):
					got[3] += flux
					got[0] += flux
				case i == floor:
					got[0] += flux
				case i == ceiling:
					got[1] += flux
				default:
					got[2] += flux
				}
			}
		}
		rng := rand.New(rand.NewPCG(5, 9))
		rho := [3]float64{c.r.Reflectance.Floor, c.r.Reflectance.Ceiling, c.r.Reflectance.Walls}
		for range photons {
			var own [4]float64
			z, turn := 2*rng.Float64()-1, 2*math.Pi*rng.Float64()
			p, d := c.places[rng.IntN(len(c.places))].Position, room.Vec{
				X: math.Sqrt(1-z*z) * math.Cos(turn), Y: math.Sqrt(1-z*z) * math.Sin(turn), Z: z,
			}
			for {
				at, normal, where := flyWithin(c.r, p, d)
				own[where]++
				if where == 0 && c.arm(at) {
					own[3]++
				}
				if rng.Float64() >= rho[where] {
					break
				}
				p, d = at.Add(normal.Scale(1e-9)), bounceOff(normal, rng)
			}
			for i, x := range own {
				sum[i] += x
				squares[i] += x * x
			}
		}
		for i := range got {
			n := float64(photons)
			want := sum[i] / n
			deviation := math.Sqrt((squares[i]/n - want*want) / n)
			require.InDelta(t, want, got[i], max(3*deviation, 6e-3*want), "%s, surface %d", name, i)
			if want > 0.02 {
				worst, errors = max(worst, math.Abs(got[i]/want-1)), max(errors, math.Abs(got[i]-want)/deviation)
			}
		}
		b := s.Balance()
		require.InEpsilon(t, b.Emitted, b.Absorbed, 1e-3, "%s: %+v", name, b)
		require.InEpsilon(t, b.Emitted, b.Arrived, 5e-3, "%s: %+v", name, b)
	}
	t.Logf("largest deviation %.2f percent, %.1f standard errors", 100*worst, errors)
}

// An L is brighter than the rectangle into which its lit arm is cut off by a black wall in the opening, which
// takes light and gives none, and darker than the same behind a wall of white, which takes none; both bound
// every point of that arm. With nothing that reflects in the other arm the black wall changes nothing.
func TestAnLBetweenBlackAndWhite(t *testing.T) {
	ell := shaped(plan2(0, 0, 10, 0, 10, 4, 5, 4, 5, 9, 0, 9), 3.5)
	places := []room.Placement{
		{Position: room.Vec{X: 8.2, Y: 2.1, Z: 2.9}},
		{Position: room.Vec{X: 2.3, Y: 1.4, Z: 3.1}},
	}
	arm := room.HorizontalGrid("arm", room.Vec{}, room.Vec{X: 10, Y: 4}, 0.8, 0.5)
	light := func(r room.Room, racks ...room.Rack) []float64 {
		scene := isotropic(t, 1000, places...)
		scene.Racks = racks
		s, err := Solve(t.Context(), r, scene, Options{Patch: 0.25, Rays: 256})
		require.NoError(t, err)
		values, err := s.Illuminance(t.Context(), arm)
		require.NoError(t, err)
		return values
	}
	const thick = 0.01
	door := room.Rack{Corner: room.Vec{Y: 4}, Size: room.Vec{X: 5, Y: thick, Z: 3.5}}
	white := door
	white.Reflectance = 0.999
	open, black, bright := light(ell), light(ell, door), light(ell, white)
	for i, x := range open {
		require.Greater(t, x, black[i]*0.998, "point %d", i) // discretisation: the rays
		require.Less(t, x, bright[i]*1.002, "point %d", i)
	}
	require.Greater(t, room.Summarize(open).Average, 1.005*room.Summarize(black).Average)
	require.Less(t, room.Summarize(open).Average, 0.995*room.Summarize(bright).Average)

	// the black wall leaves what a rectangle leaves of which a part of one wall is black: a room in its own
	// right
	cut := ell
	cut.Width, cut.Outline = 4+thick, nil
	block := room.Rack{
		Corner: room.Vec{X: 5, Y: 4}, Size: room.Vec{X: 5, Y: thick, Z: 3.5}, Reflectance: ell.Reflectance.Walls,
	}
	for i, x := range light(cut, door, block) {
		// the rays of two rooms: 0.2 percent of each, root mean square
		require.InEpsilon(t, x, black[i], 6e-3, "point %d", i)
	}
}

// A rectangle that is given by its corners is the same room, to the bit.
func TestARectangleByItsCorners(t *testing.T) {
	r := room.Room{
		Length: 8, Width: 6, Height: 4, WorkPlane: 0.8,
		Reflectance: room.Reflectances{Ceiling: 0.7, Walls: 0.5, Floor: 0.3},
	}
	scene := isotropic(t, 1000, room.Placement{Position: room.Vec{X: 2.3, Y: 3.1, Z: 3}})
	var light [2][]float64
	for i, o := range []room.Outline{nil, plan2(8, 6, 8, 0, 0, 0, 0, 3, 0, 6)} {
		r.Outline = o
		s, err := Solve(t.Context(), r, scene, Options{})
		require.NoError(t, err)
		light[i], err = s.Illuminance(t.Context(), r.WorkPlaneGrid(0.3))
		require.NoError(t, err)
	}
	require.Equal(t, light[0], light[1])
}

// In a furnace, a room whose surfaces all give as much as falls on them, every place sees the same: light
// that is even stays so in any plan.
func TestFurnaceOfAnyPlan(t *testing.T) {
	for name, r := range map[string]room.Room{
		"L": shaped(plan2(0, 0, 10, 0, 10, 4, 5, 4, 5, 9, 0, 9), 3.5),
		"U": shaped(plan2(8, 7, 8, 3, 3, 3, 3, 7, 0, 7, 0, 0, 11, 0, 11, 7), 3),
	} {
		r.Reflectance = room.Reflectances{Ceiling: 0.5, Walls: 0.5, Floor: 0.5}
		racks := []room.Rack{
			{Corner: room.Vec{X: 1, Y: 1, Z: 2}, Size: room.Vec{X: 2, Y: 1, Z: 0.5}, Reflectance: 0.5},
		}
		e, err := NewEnclosure(t.Context(), r, racks, Options{})
		require.NoError(t, err)
		s := &Solution{enclosure: e, total: make([]float64, e.Patches()), exitance: make([]float64, e.Patches())}
		for i := range s.total {
			s.total[i] = 200
		}
		e.reflect(s.exitance, s.total)
		values, err := s.Illuminance(t.Context(), r.WorkPlaneGrid(0.5))
		require.NoError(t, err)
		g, lit := r.WorkPlaneGrid(0.5), 0
		for i, x := range values {
			require.Equal(t, !r.Holds(g.Point(i%g.NX, i/g.NX)), math.IsNaN(x), "%s, point %d", name, i)
			if !math.IsNaN(x) {
				// discretisation: a band is shaded as its middle line
				require.InEpsilon(t, 100.0, x, 1e-3, "%s, point %d", name, i)
				lit++
			}
		}
		require.InEpsilon(t, r.Area(), float64(lit)*g.StepX*g.StepY, 1e-9, name)
	}
}
