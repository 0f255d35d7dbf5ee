package interreflect

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"lampswap/photometry/longtest"
	"lampswap/photometry/room"
)

// traced returns the interreflected illuminance, lx, at a point by paths that begin there, and its standard
// error: each path bounces off surfaces, and at each gathers the direct light of isotropic point sources of 1
// cd by the inverse square.
func traced(
	r room.Room, racks []room.Rack, places []room.Placement, p, normal room.Vec, paths int,
) (mean, deviation float64) {
	rng := rand.New(rand.NewPCG(3, 5))
	hides := room.NewObstructions(racks).Boxes
	direct := func(at, normal room.Vec) float64 {
		e := 0.0
	source:
		for _, s := range places {
			v := s.Position.Sub(at)
			cos := v.Dot(normal)
			if cos <= 0 {
				continue
			}
			for _, k := range hides {
				if k.Hides(at, s.Position) {
					continue source
				}
			}
			e += cos / math.Pow(v.Dot(v), 1.5)
		}
		return e
	}
	sum, squares := 0.0, 0.0
	for range paths {
		at, n, light, weight := p, normal, 0.0, 1.0
		for {
			q, out, rho, _ := fly(r, racks, at.Add(n.Scale(1e-9)), bounceOff(n, rng))
			light += weight * rho * direct(q, out)
			if rng.Float64() >= rho {
				break
			}
			at, n = q, out
		}
		sum += light
		squares += light * light
	}
	mean = sum / float64(paths)
	return mean, math.Sqrt((squares/float64(paths) - mean*mean) / float64(paths))
}

// Between the ends of full-height racks and a wall light dies away within a few feet: there, close to a rack
// and close to the wall, and in the aisles, it is what paths say; so is its mean.
func TestLightInANook(t *testing.T) {
	paths := longtest.Pick(60_000, 250_000)
	worst, mean := 0.0, 0.0
	for _, c := range []struct{ height, racks, gap, wide float64 }{{30, 30, 2, 4}, {30, 20, 3, 8}} {
		r := room.Room{
			Length: 60 * ft, Width: 40 * ft, Height: c.height * ft, WorkPlane: 2.5 * ft,
			Reflectance: room.Reflectances{Ceiling: 0.7, Walls: 0.5, Floor: 0.2},
		}
		var racks []room.Rack
		for i := range 3 {
			racks = append(
				racks,
				room.Rack{
					Corner: room.Vec{X: c.gap * ft, Y: (4 + 12*float64(i)) * ft},
					Size:   room.Vec{X: 50 * ft, Y: c.wide * ft, Z: c.racks * ft}, Reflectance: 0.4,
				},
			)
		}
		var places []room.Placement
		for i := range 10 {
			places = append(
				places,
				room.Placement{
					Position: room.Vec{
						X: (6 + 12*float64(i%5)) * ft, Y: (14 + 12*float64(i/5)) * ft, Z: (c.height - 3) * ft,
					},
				},
			)
		}
		scene := isotropic(t, 4*math.Pi, places...)
		scene.Racks = racks
		s, err := Solve(t.Context(), r, scene, Options{})
		require.NoError(t, err)
		var got, want, square float64
		for _, p := range []room.Vec{
			{X: c.gap - 0.5, Y: 6}, {X: 0.5, Y: 6}, {X: c.gap - 0.5, Y: 18}, {X: 30, Y: 4.5 + c.wide}, {X: 30, Y: 14},
		} {
			p.Z = 2.5
			light, deviation := traced(r, racks, places, p.Scale(ft), room.Vec{Z: 1}, paths)
			found := at(s, p.Scale(ft), room.Vec{Z: 1})
			require.InDelta(t, light, found, 0.03*light+2*deviation, "%v: %+v", p, c)
			worst = max(worst, math.Abs(found/light-1))
			got, want, square = got+found, want+light, square+deviation*deviation
		}
		require.InDelta(t, want, got, 0.01*want+2*math.Sqrt(square), "%+v", c)
		mean = max(mean, math.Abs(got/want-1))
	}
	t.Logf("largest deviation %.1f percent at a point, %.1f percent of the mean", 100*worst, 100*mean)
}
