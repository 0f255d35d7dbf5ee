package interreflect

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lampswap/photometry/direct"
	"lampswap/photometry/internal/hall"
	"lampswap/photometry/longtest"
	"lampswap/photometry/room"
)

// store is a small room with racks along and across, one of them in a corner, two of them touching.
func store(transmittance float64) (room.Room, []room.Rack) {
	r := room.Room{
		Length: 12, Width: 9, Height: 5, WorkPlane: 0.8,
		Reflectance: room.Reflectances{Ceiling: 0.7, Walls: 0.5, Floor: 0.2},
	}
	rack := func(x, y, length, width, height float64) room.Rack {
		return room.Rack{
			Corner: room.Vec{X: x, Y: y}, Size: room.Vec{X: length, Y: width, Z: height}, Reflectance: 0.4,
			Transmittance: transmittance,
		}
	}
	return r, []room.Rack{
		rack(2, 1.5, 6, 1, 3), rack(2, 2.5, 6, 0.8, 2.2), rack(2, 5, 7, 1.2, 3.5), rack(10, 0, 2, 4, 2.5),
	}
}

// plain adds up one solution at a point from small squares of every patch, each as far as the racks let it
// through: a sum without any of the gather's thoughts.
func plain(s *Solution, p, normal room.Vec, square float64) float64 {
	e := s.enclosure
	light := 0.0
	for i := range e.faces {
		f := &e.faces[i]
		for k := range f.columns() * f.rows() {
			a, b := k%f.columns(), k/f.columns()
			if s.exitance[f.first+k] == 0 {
				continue
			}
			du, dv := f.us[a+1]-f.us[a], f.vs[b+1]-f.vs[b]
			d := square * max(p.Sub(f.point(f.us[a]+du/2, f.vs[b]+dv/2)).Length(), 0.1) // near squares are smaller
			nu, nv := int(du/d)+1, int(dv/d)+1
			for c := range nu * nv {
				q := f.point(f.us[a]+du*(float64(c%nu)+0.5)/float64(nu), f.vs[b]+dv*(float64(c/nu)+0.5)/float64(nv))
				v := q.Sub(p)
				cosines := v.Dot(normal) * -v.Dot(f.inward())
				if v.Dot(normal) <= 0 || cosines <= 0 {
					continue
				}
				passes := 1.0
				for _, b := range e.between.Boxes {
					if b.Hides(p, q) {
						passes *= b.Passes
					}
				}
				square := v.Dot(v)
				light += passes * s.exitance[f.first+k] * cosines / (math.Pi * square * square) * du * dv / float64(nu*nv)
			}
		}
	}
	return light
}

// A point sees what the sum over small squares of all surfaces says that it sees, whichever way it faces,
// behind solid racks and through open ones. The squares, 0.4 percent of their distance wide, err at the edges
// of shadows themselves.
func TestGatherAgreesWithThePlainSum(t *testing.T) {
	worst := 0.0
	for _, transmittance := range []float64{0, 0.3} {
		r, racks := store(transmittance)
		e, err := NewEnclosure(t.Context(), r, racks, Options{})
		require.NoError(t, err)
		e.finer = 1 // as the plain sum has it
		s, err := e.Solve(
			t.Context(),
			isotropic(
				t, 3000, room.Placement{Position: room.Vec{X: 3, Y: 4.2, Z: 4}},
				room.Placement{Position: room.Vec{X: 9.5, Y: 7, Z: 4}},
			),
		)
		require.NoError(t, err)
		turned := func(degrees float64) room.Vec {
			return room.Vec{X: math.Cos(degrees * math.Pi / 180), Y: math.Sin(degrees * math.Pi / 180)}
		}
		points := []struct{ p, normal room.Vec }{
			{room.Vec{X: 5, Y: 4, Z: 0.8}, room.Vec{Z: 1}},        // in an aisle
			{room.Vec{X: 9.4, Y: 4.5, Z: 0.8}, room.Vec{Z: 1}},    // at its end
			{room.Vec{X: 5, Y: 4, Z: 4.2}, room.Vec{Z: -1}},       // and down on them
			{room.Vec{X: 5.1, Y: 3.3, Z: 1.4}, room.Vec{Y: 1}},    // on the face of a rack
			{room.Vec{X: 10, Y: 2, Z: 1}, room.Vec{X: -1}},        // towards the ends of others
			{room.Vec{X: 8.6, Y: 4.1, Z: 1.5}, turned(35)},        // askew
			{room.Vec{X: 8.6, Y: 4.1, Z: 1.5}, turned(215)},       // and back
			{room.Vec{X: 5, Y: 7, Z: 0.8}, turned(300).Scale(1)},  // at a rack
			{room.Vec{X: 11.5, Y: 4.3, Z: 2}, room.Vec{Y: -1}},    // at a rack in a corner
			{room.Vec{X: 0.05, Y: 0.05, Z: 4.9}, room.Vec{Z: -1}}, // and in another
			{room.Vec{X: 2, Y: 4.1, Z: 0.8}, room.Vec{Z: 1}},      // in line with the ends of racks
			{room.Vec{X: 8.5, Y: 5.01, Z: 3.55}, room.Vec{Z: -1}}, // just above a rack
			{room.Vec{X: 9.05, Y: 5.5, Z: 0.05}, room.Vec{Z: 1}},  // at the foot of one
		}
		if transmittance > 0 || !longtest.On() {
			points = points[:longtest.Pick(2, 4)]
		}
		for _, c := range points {
			g := room.Grid{NX: 1, NY: 1, Origin: c.p, U: room.Vec{X: 1}, V: room.Vec{Y: 1}, Normal: c.normal}
			got, err := s.Illuminance(t.Context(), g)
			require.NoError(t, err)
			want := plain(s, c.p, c.normal, 0.004)
			require.InEpsilon(t, want, got[0], 2e-3, "transmittance %v, %v facing %v", transmittance, c.p, c.normal)
			worst = max(worst, math.Abs(got[0]/want-1))
		}
	}
	t.Logf("largest deviation %.2g percent", 100*worst)
}

// Where every surface gives one lumen to the square metre every open point has one lux, wherever it is and
// whichever way it faces. What is missing comes of bands that are shaded as their middle line is, and falls
// with their width.
func TestGatherOfAFurnace(t *testing.T) {
	r, racks := store(0)
	e, err := NewEnclosure(t.Context(), r, racks, Options{})
	require.NoError(t, err)
	s := &Solution{enclosure: e, exitance: make([]float64, e.Patches())}
	for i := range s.exitance {
		s.exitance[i] = 1
	}
	o := e.emitters([]*Solution{s})
	l := o.gatherer()
	rapid.Check(t, func(t *rapid.T) {
		inside := func(to float64, name string) float64 { return rapid.Float64Range(0.001, to-0.001).Draw(t, name) }
		p := room.Vec{X: inside(r.Length, "x"), Y: inside(r.Width, "y"), Z: inside(r.Height, "z")}
		if !e.open(p) {
			t.Skip("in a rack")
		}
		turn := rapid.Float64Range(0, 2*math.Pi).Draw(t, "turn")
		normal := rapid.SampledFrom(
			[]room.Vec{
				{Z: 1}, {Z: -1}, {X: 1}, {X: -1}, {Y: 1}, {Y: -1}, {X: math.Cos(turn), Y: math.Sin(turn)}, room.AllRound,
			},
		).Draw(t, "normal")
		for _, c := range []struct{ refinement, missing float64 }{{1, 3e-3}, {8, 1e-3}} {
			o.refinement = c.refinement
			l.gather(p, normal)
			if got := l.light[0] / (2 * math.Pi); math.Abs(got-1) > c.missing {
				t.Fatalf("%v facing %v has %v lx with bands %v times finer", p, normal, got, c.refinement)
			}
		}
	})
}

// A place at the border of a patch, but for rounding, has light: a block of no length once gave it none that
// is a number.
func TestGatherAtABorder(t *testing.T) {
	r := room.Room{Length: 25, Width: 11.012818336486816, Height: 9}
	racks := []room.Rack{{Size: room.Vec{X: 12.629469912212269, Y: 1.6517253820202313, Z: 0.6549625396728516}},
		{Corner: room.Vec{X: 3.393908381462097, Y: 0.004874113375092692},
			Size: room.Vec{X: 0.5, Y: 1.3446440696716309, Z: 7.8}}}
	e, err := NewEnclosure(t.Context(), r, racks, Options{Patch: 1.125})
	require.NoError(t, err)
	s := &Solution{enclosure: e, exitance: make([]float64, e.Patches())}
	for i := range s.exitance {
		s.exitance[i] = 1
	}
	l := e.emitters([]*Solution{s}).gatherer()
	l.gather(room.Vec{X: 8.394607843137255, Y: 5.567591492335001, Z: 0.00433938888569757}, room.Vec{Z: 1})
	require.InDelta(t, 1, l.light[0]/(2*math.Pi), 3e-3)
}

// Over the border of two patches, as the middle of a room often is, the last digit of a place decides nothing:
// feet and meters would give different light.
func TestGatherByTheLastDigit(t *testing.T) {
	s := lowHall(t)
	for _, normal := range []room.Vec{{Z: 1}, {X: 1}, {Y: -1}, room.AllRound} {
		p := room.Vec{X: 20, Y: 15, Z: 0.8}
		want := at(s, p, normal)
		for _, off := range []room.Vec{{X: 1e-13}, {X: -1e-13}, {Y: 1e-13}, {Y: -1e-13}, {Z: 1e-13}, {Z: -1e-13}} {
			require.InEpsilon(t, want, at(s, p.Add(off), normal), 1e-9, "facing %v, moved by %v", normal, off)
		}
	}
}

// The face of a rack that all but stands in a wall has the wall before it, and of the floor a strip too
// narrow to divide by.
func TestGatherBesideAWall(t *testing.T) {
	const y = 1e-310
	r := room.Room{Length: 6, Width: 6, Height: 3}
	e, err := NewEnclosure(
		t.Context(), r, []room.Rack{{Corner: room.Vec{X: 1, Y: y}, Size: room.Vec{X: 2, Y: 2, Z: 0.7}}},
		Options{Patch: 0.8},
	)
	require.NoError(t, err)
	s := &Solution{enclosure: e, exitance: make([]float64, e.Patches())}
	for i := range s.exitance {
		s.exitance[i] = 1
	}
	l := e.emitters([]*Solution{s}).gatherer()
	l.gather(room.Vec{X: 1.1, Y: y, Z: 0.3}, room.Vec{Y: -1})
	require.InDelta(t, 1, l.light[0]/(2*math.Pi), 1e-6)
}

// Blocks of patches, among racks as of the speed targets and in a low hall lit from close under its ceiling,
// against blocks an eighth as large.
func TestGatherByBlocks(t *testing.T) {
	low := room.Room{
		Length: 40, Width: 24, Height: 4, WorkPlane: 0.8,
		Reflectance: room.Reflectances{Ceiling: 0.7, Walls: 0.5, Floor: 0.2},
	}
	warehouse := room.Room{
		Length: 120 * ft, Width: 64 * ft, Height: 24 * ft, WorkPlane: 2.5 * ft,
		Reflectance: hall.Room().Reflectance,
	}
	racks := hall.Racks(5)
	for i := range racks {
		racks[i].Corner.X, racks[i].Size.X = 20*ft, 80*ft
	}
	strip, err := hall.Strip()
	require.NoError(t, err)
	strips := direct.Scene{
		Sources: []direct.Source{{Luminaire: strip, Placements: warehouse.Lattice(4, 7, 20*ft, 0)}},
	}
	for _, c := range []struct {
		name  string
		room  room.Room
		racks []room.Rack
		scene direct.Scene
		step  float64
	}{
		{"warehouse", warehouse, racks, strips, ft},
		{"low", low, []room.Rack{
			{Corner: room.Vec{X: 4, Y: 4}, Size: room.Vec{X: 30, Y: 1, Z: 2}, Reflectance: 0.3},
		},
			isotropic(t, 3000, low.Lattice(6, 10, 3.8, 0)...), 0.4},
	} {
		t.Run(c.name, func(t *testing.T) {
			e, err := NewEnclosure(t.Context(), c.room, c.racks, Options{})
			require.NoError(t, err)
			s, err := e.Solve(t.Context(), c.scene)
			require.NoError(t, err)
			c.step *= longtest.Pick(4.0, 1.0)
			g := c.room.WorkPlaneGrid(c.step)
			light, err := direct.Scene{Sources: c.scene.Sources, Racks: c.racks}.Illuminance(t.Context(), g)
			require.NoError(t, err)
			fast, err := s.Illuminance(t.Context(), g)
			require.NoError(t, err)
			o := e.emitters([]*Solution{s})
			o.refinement = 8
			fine, err := o.illuminance(t.Context(), g)
			require.NoError(t, err)
			worst, all := 0.0, fine[0]
			for i := range all {
				if !math.IsNaN(all[i]) {
					worst = max(worst, math.Abs(fast[i]-all[i])/(all[i]+light[i]))
				}
			}
			require.Less(t, worst, 2e-3, fmt.Sprint("of the local value, ", c.name))
			t.Logf("largest deviation %.2g percent of the local value", 100*worst)
		})
	}
}
