package direct_test

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lampswap/photometry"
	"lampswap/photometry/direct"
	"lampswap/photometry/longtest"
	"lampswap/photometry/room"
)

// agreement is what the fast paths promise against the plain sum: 0.2 percent of the local value.
const agreement = 2e-3

// agree compares a whole grid with the plain sum at some of its points, and returns the worst relative
// difference.
func agree(tb testing.TB, scene direct.Scene, g room.Grid, every int) float64 {
	tb.Helper()
	values, err := scene.Illuminance(context.Background(), g)
	require.NoError(tb, err)
	worst := 0.0
	for i := 0; i < len(values); i += every {
		p := g.Point(i%g.NX, i/g.NX)
		if math.IsNaN(values[i]) {
			continue
		}
		want := scene.At(p, g.Normal)
		if want < 1e-3 { // lx: no light worth a comparison
			require.Less(tb, values[i], 2e-3)
			continue
		}
		if d := math.Abs(values[i]/want - 1); d > worst {
			worst = d
		}
	}
	return worst
}

func TestFastAgreesWithPlain(t *testing.T) {
	hall := room.Room{Length: 24, Width: 18, Height: 6, WorkPlane: 0.8}
	racks := []room.Rack{
		{Corner: room.Vec{X: 3, Y: 3}, Size: room.Vec{X: 18, Y: 1.2, Z: 3.6}},
		{Corner: room.Vec{X: 3, Y: 7}, Size: room.Vec{X: 18, Y: 1.2, Z: 4.9}},
		{Corner: room.Vec{X: 5, Y: 11}, Size: room.Vec{X: 4, Y: 4, Z: 2}, Transmittance: 0.3},
		{Corner: room.Vec{X: 12, Y: 12}, Size: room.Vec{X: 0.5, Y: 0.5, Z: 5}, Transmittance: 0.1},
	}
	strip := photometry.Opening{Length: 2.4, Width: 0.1}
	tub := photometry.Opening{Shape: photometry.Elliptic, Length: 0.5, Width: 0.5, Height: 0.1}
	stepped := append(hall.Lattice(3, 4, 5.2, 0), hall.Lattice(4, 3, 4.6, math.Pi/2)...)
	mixed := append(
		hall.Lattice(2, 3, 5.1, 0.4),
		room.Placement{Position: room.Vec{X: 3.3, Y: 15.1, Z: 4.2}, Rotation: 1.1},
	)
	symmetric := tabulated(
		t,
		10,
		90,
		func(c, g float64) float64 { return 2000 * math.Cos(g) * (1 + 0.3*math.Cos(2*c)*math.Sin(g)) },
	)
	for _, row := range []struct {
		name   string
		d      *photometry.Distribution
		o      photometry.Opening
		places []room.Placement
		racks  []room.Rack
	}{
		{"lattice", symmetric, strip, hall.Lattice(3, 4, 5.2, 0), nil},
		{"lattice across", skew(t), strip, hall.Lattice(3, 5, 5.2, math.Pi/2), nil},
		{"two lattices", symmetric, strip, stepped, nil},
		{"irregular", skew(t), tub, mixed, nil},
		{"racks", symmetric, strip, hall.Lattice(3, 4, 5.2, 0), racks},
		{"racks across", skew(t), strip, hall.Lattice(3, 4, 5.2, math.Pi/2), racks},
		{"racks askew", skew(t), tub, mixed, racks},
		{"points", skew(t), photometry.Opening{}, mixed, racks},
	} {
		scene := direct.Scene{
			Sources: []direct.Source{
				{Luminaire: photometry.Luminaire{Distribution: row.d, Opening: row.o}, Placements: row.places},
			},
			Racks: row.racks,
		}
		spacing := 0.1
		if row.racks != nil { // no interpolation to try out
			spacing = 0.6
		}
		for _, g := range append(surfaces(t, hall, 2.5*spacing), hall.WorkPlaneGrid(spacing)) {
			worst := agree(t, scene, g, g.NX*g.NY/25+1)
			if worst > agreement {
				t.Errorf("%s, %s %v: worst difference %.2e of the local value", row.name, g.Name, g.Normal, worst)
			}
		}
	}
}

// A beam too narrow for interpolation: rows and columns share a kernel at the very points of the grid.
func TestSharedKernelAgreesWithPlain(t *testing.T) {
	hall := room.Room{Length: 24, Width: 18, Height: 6, WorkPlane: 0.8}
	beam := tabulated(t, 1, 90, func(_, g float64) float64 { return 20000*math.Exp(-g*g/0.01) + 20 })
	scene := direct.Scene{
		Sources: []direct.Source{
			{Luminaire: photometry.Luminaire{Distribution: beam}, Placements: hall.Lattice(9, 12, 5.2, 0)},
		},
	}
	require.LessOrEqual(t, agree(t, scene, hall.WorkPlaneGrid(0.25), 13), agreement)
}

func TestFastAgreesWithPlainAnywhere(t *testing.T) {
	distributions := []*photometry.Distribution{skew(t), lambertian(t, 1000), isotropic(t, 300)}
	longtest.Check(t, 15, func(rt *rapid.T) {
		at := rapid.Float64Range(0, 10)
		scene := direct.Scene{Sources: []direct.Source{{
			Luminaire: photometry.Luminaire{
				Distribution: distributions[rapid.IntRange(0, 2).Draw(rt, "distribution")],
				Opening: photometry.Opening{
					Length: rapid.SampledFrom([]float64{0, 0.3, 1.2, 2.4}).Draw(rt, "length"),
					Width:  rapid.SampledFrom([]float64{0, 0.1, 0.6, 3}).Draw(rt, "width"),
				},
			},
			Placements: []room.Placement{
				{
					Position: room.Vec{X: at.Draw(rt, "x"), Y: at.Draw(rt, "y"), Z: 4},
					Rotation: rapid.Float64Range(-4, 4).Draw(rt, "rotation"),
				},
				{Position: room.Vec{X: at.Draw(rt, "x"), Y: at.Draw(rt, "y"), Z: 5}},
			},
		}}}
		for range rapid.IntRange(0, 2).Draw(rt, "racks") {
			scene.Racks = append(scene.Racks, room.Rack{
				Corner: room.Vec{X: at.Draw(rt, "rx"), Y: at.Draw(rt, "ry")},
				Size: room.Vec{
					X: 3,
					Y: 0.8,
					Z: rapid.Float64Range(0.5, 3).Draw(rt, "rz"),
				},
				Transmittance: rapid.SampledFrom([]float64{0, 0.4}).Draw(rt, "transmittance"),
			})
		}
		g := room.HorizontalGrid(
			"floor",
			room.Vec{},
			room.Vec{X: 10, Y: 10},
			rapid.Float64Range(0, 1.5).Draw(rt, "height"),
			rapid.SampledFrom([]float64{0.1, 0.7, 3}).Draw(rt, "spacing"),
		)
		if worst := agree(t, scene, g, g.NX*g.NY/4+1); worst > agreement {
			rt.Fatalf("worst difference %.2e of the local value", worst)
		}
	})
}
