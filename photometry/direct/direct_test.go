package direct_test

import (
	"context"
	"math"
	"runtime"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lampswap/photometry"
	"lampswap/photometry/direct"
	"lampswap/photometry/room"
)

var up, down = room.Vec{Z: 1}, room.Vec{Z: -1}

// tabulated makes a distribution of an analytic intensity, every half degree and fifteen degrees around.
func tabulated(
	tb testing.TB,
	stepDeg, topDeg float64,
	intensity func(c, g float64) float64,
) *photometry.Distribution {
	tb.Helper()
	var horizontal, vertical []float64
	for c := 0.0; c <= 360; c += 15 {
		horizontal = append(horizontal, c)
	}
	for i := 0; float64(i)*stepDeg <= topDeg; i++ {
		vertical = append(vertical, float64(i)*stepDeg)
	}
	table := make([][]float64, len(horizontal))
	for h, c := range horizontal {
		for _, g := range vertical {
			table[h] = append(table[h], max(0, intensity(c*math.Pi/180, g*math.Pi/180)))
		}
	}
	d, err := photometry.NewDistribution(horizontal, vertical, table)
	require.NoError(tb, err)
	return d
}

func lambertian(tb testing.TB, nadir float64) *photometry.Distribution {
	tb.Helper()
	return tabulated(tb, 0.25, 90, func(_, g float64) float64 { return nadir * math.Cos(g) })
}

func isotropic(tb testing.TB, candela float64) *photometry.Distribution {
	tb.Helper()
	d, err := photometry.NewDistribution([]float64{0}, []float64{0, 180}, [][]float64{{candela, candela}})
	require.NoError(tb, err)
	return d
}

// skew has no symmetry at all and shines upwards too.
func skew(tb testing.TB) *photometry.Distribution {
	tb.Helper()
	return tabulated(tb, 5, 180, func(c, g float64) float64 {
		return 800*(1.2+math.Cos(g))*(1+(0.3*math.Cos(c)+0.2*math.Sin(2*c))*math.Sin(g)) + 100*math.Sin(g)
	})
}

func one(d *photometry.Distribution, o photometry.Opening, at room.Vec, rotation float64) direct.Scene {
	return direct.Scene{Sources: []direct.Source{{Luminaire: photometry.Luminaire{Distribution: d, Opening: o},
		Placements: []room.Placement{{Position: at, Rotation: rotation}}}}}
}

// Source: CIE 171:2006, case 5.2 (title from memory, unverified): E = I cos ε / d²; 1,000 cd at 3 m and at 10
// ft.
func TestPointSource(t *testing.T) {
	worst := 0.0
	for _, row := range []struct{ height, offset, want, unit, tolerance float64 }{
		{3, 0, 111.1111, 1, 5e-5}, // tolerance: print, half the last digit
		{3, 1, 94.8683, 1, 5e-5},
		{3, 2, 64.0039, 1, 5e-5},
		{3, 3, 39.2837, 1, 5e-5},
		{10 * photometry.Foot, 0, 10, photometry.Footcandle, 5e-5},
		{10 * photometry.Foot, 5 * photometry.Foot, 7.1554, photometry.Footcandle, 5e-5},
		{10 * photometry.Foot, 10 * photometry.Foot, 3.5355, photometry.Footcandle, 5e-5},
	} {
		scene := one(isotropic(t, 1000), photometry.Opening{}, room.Vec{Z: row.height}, 0)
		require.InDelta(t, row.want, scene.At(room.Vec{X: row.offset}, up)/row.unit, row.tolerance)
		require.InDelta(t, row.want, scene.At(room.Vec{Y: -row.offset}, up)/row.unit, row.tolerance)
		require.Zero(t, scene.At(room.Vec{X: row.offset}, down), "the far side is dark")
		worst = max(worst, math.Abs(scene.At(room.Vec{X: row.offset}, up)/row.unit/row.want-1))
	}
	t.Logf("largest deviation %.4f percent, of print", 100*worst)
	scene := one(isotropic(t, 1000), photometry.Opening{}, room.Vec{Z: 3}, 0)
	require.InDelta(t, 1000*4/125.0, scene.At(room.Vec{X: 4}, room.Vec{X: -1}), 1e-10) // rounding
	require.Zero(t, scene.At(room.Vec{X: 4}, room.Vec{X: 1}))
}

// A diffuse line of I' cd/m perpendicular to it, Lambertian across too, seen from straight below one end at
// distance h:
//
//	E = I'/(2h) (α + sin α cos α), tan α = length / h;  infinite both ways: E = I' π / (2h)
//
// Source: our derivation; with I(γ along) = I' cos: dE = I' cos² /d² cos... = I' h² dx / (h²+x²)².
func TestDiffuseLine(t *testing.T) {
	const h = 2.5
	worst := 0.0
	for _, length := range []float64{0.1, 0.5, 1.2192, 2.4384, 10, 1000} {
		line := photometry.Opening{Length: length}
		scene := one(lambertian(t, 100*length), line, room.Vec{X: length / 2, Z: h}, 0)
		alpha := math.Atan(length / h)
		want := 100 / (2 * h) * (alpha + math.Sin(alpha)*math.Cos(alpha))
		require.InEpsilon(t, want, scene.At(room.Vec{}, up), 1e-3, "length %v", length) // discretisation
		worst = max(worst, math.Abs(scene.At(room.Vec{}, up)/want-1))
		if length == 1000 {
			require.InEpsilon(t, 100*math.Pi/(4*h), scene.At(room.Vec{}, up), 1e-3)
		}
	}
	t.Logf("largest deviation %.3f percent", 100*worst)
}

// parallel is the configuration factor of a rectangle a by b, seen along the normal through its corner from
// the distance d.
func parallel(a, b, d float64) float64 {
	x, y := a/d, b/d
	p, q := math.Sqrt(1+x*x), math.Sqrt(1+y*y)
	return (x/p*math.Atan(y/p) + y/q*math.Atan(x/q)) / (2 * math.Pi)
}

// perpendicular is that of a rectangle of width w and height h, standing on the point's plane, one lower
// corner straight ahead.
func perpendicular(w, h, d float64) float64 {
	s := math.Hypot(d, h)
	return (math.Atan(w/d) - d/s*math.Atan(w/s)) / (2 * math.Pi)
}

// Source: CIE 171:2006, case 5.3 (title from memory, unverified), by Howell's configuration factors.
func TestAreaSource(t *testing.T) {
	require.InDelta(t, 0.138532, parallel(1, 1, 1), 5e-7) // values: numerical integration, print
	require.InDelta(t, 0.167375, parallel(2, 1, 1), 5e-7)
	require.InDelta(t, 0.055734, perpendicular(1, 1, 1), 5e-7)
	require.InDelta(t, 0.147825, perpendicular(2, 3, 1), 5e-7)

	const exitance = 1000.0 // lm/m²
	worst := 0.0
	hold := func(want, got float64, row any) {
		require.InEpsilon(t, want, got, 0.005, "%v", row) // discretisation
		worst = max(worst, math.Abs(got/want-1))
	}
	for _, row := range []struct{ a, b, d float64 }{
		{1, 1, 1}, {2, 1, 1}, {2, 2, 1}, {1, 3, 1}, {0.5, 0.1, 4}, {1, 1, 5}, {1, 1, 10}, {1, 1, 20}, {1, 1, 0.3},
		{1, 2, 0.1},
	} {
		area := photometry.Opening{Length: row.a, Width: row.b}
		scene := one(
			lambertian(t, exitance*row.a*row.b/math.Pi),
			area,
			room.Vec{X: row.a / 2, Y: row.b / 2, Z: row.d},
			0,
		)
		hold(exitance*parallel(row.a, row.b, row.d), scene.At(room.Vec{}, up), row)
		centred := one(lambertian(t, exitance*row.a*row.b/math.Pi), area, room.Vec{Z: row.d}, 0)
		hold(4*exitance*parallel(row.a/2, row.b/2, row.d), centred.At(room.Vec{}, up), row)
		// a vertical point sees the horizontal source as a horizontal point sees a standing one: the source's edge
		// lies in the plane of the point's surface, at the distance d
		hold(exitance*perpendicular(row.b, row.a, row.d), scene.At(room.Vec{}, room.Vec{X: 1}), row)
	}
	t.Logf("largest deviation %.2f percent", 100*worst)
}

// A diffuse disc of radius r on its axis: E = M r² / (r² + d²). Source: Howell, from memory, unverified;
// follows by integration.
func TestDisc(t *testing.T) {
	disc := photometry.Opening{Shape: photometry.Elliptic, Length: 1.2, Width: 1.2}
	for _, d := range []float64{0.1, 0.3, 0.6, 1.2, 3, 6, 12} {
		scene := one(lambertian(t, 1000*0.36), disc, room.Vec{Z: d}, 0.3) // I = L π r² = M r²
		require.InEpsilon(t, 1000*0.36/(0.36+d*d), scene.At(room.Vec{}, up), 0.005, "%v m", d)
	}
}

// Source: CIE 171:2006, case 5.4 (title from memory, unverified): a black closed room receives the whole
// flux.
func TestFluxConservation(t *testing.T) {
	box := room.Room{Length: 4, Width: 4, Height: 4}
	for name, scene := range map[string]direct.Scene{
		"cube": one(isotropic(t, 10000/(4*math.Pi)), photometry.Opening{}, room.Vec{X: 2, Y: 2, Z: 2}, 0),
		"no centre": one(skew(t), photometry.Opening{Length: 1.2, Width: 0.3}, room.Vec{X: 1.2, Y: 2.3, Z: 2.6},
			0.4),
	} {
		flux := 0.0
		for _, g := range surfaces(t, box, 0.08) {
			values, err := scene.Illuminance(context.Background(), g)
			require.NoError(t, err)
			for _, e := range values {
				flux += e * g.StepX * g.StepY
			}
		}
		require.InEpsilon(t, scene.Flux(), flux, 1e-3, name) // discretisation of the surfaces
	}
	// face centre and corner of the same cube: I/d² and I cos/d²
	scene := one(isotropic(t, 10000/(4*math.Pi)), photometry.Opening{}, room.Vec{X: 2, Y: 2, Z: 2}, 0)
	require.InDelta(t, 198.944, scene.At(room.Vec{X: 2, Y: 2}, up), 5e-4) // print
	require.InDelta(t, 38.287, scene.At(room.Vec{}, up), 5e-4)
}

// surfaces returns a grid on each of the six surfaces of a room, facing inwards.
func surfaces(tb testing.TB, r room.Room, spacing float64) []room.Grid {
	tb.Helper()
	floor := room.HorizontalGrid("floor", room.Vec{}, room.Vec{X: r.Length, Y: r.Width}, 0, spacing)
	ceiling := room.HorizontalGrid("ceiling", room.Vec{}, room.Vec{X: r.Length, Y: r.Width}, r.Height, spacing)
	ceiling.Normal = down
	grids := []room.Grid{floor, ceiling}
	for _, w := range []struct {
		from, to room.Vec
		facing   float64
	}{
		{room.Vec{}, room.Vec{X: r.Length}, math.Pi / 2},
		{room.Vec{Y: r.Width}, room.Vec{X: r.Length, Y: r.Width}, -math.Pi / 2},
		{room.Vec{}, room.Vec{Y: r.Width}, 0},
		{room.Vec{X: r.Length}, room.Vec{X: r.Length, Y: r.Width}, math.Pi},
	} {
		g, err := room.VerticalGrid("wall", w.from, w.to, 0, r.Height, w.facing, spacing)
		require.NoError(tb, err)
		grids = append(grids, g)
	}
	return grids
}

// Source: CIE 171:2006, case 5.7 in Ashdown's correction (Errata, 2016): what an obstruction leaves is the
// configuration factor of the part that stays visible. A 2 m square source, 3 m up; a rack with its near top
// edge at x = 0, z = 1.5 hides from a point at x = -0.5 all that lies beyond x = 0.5.
func TestObstruction(t *testing.T) {
	source := photometry.Opening{Length: 2, Width: 2}
	scene := one(lambertian(t, 4000/math.Pi), source, room.Vec{Z: 3}, 0)
	scene.Racks = []room.Rack{{Corner: room.Vec{X: 0, Y: -5}, Size: room.Vec{X: 1, Y: 10, Z: 1.5}}}
	p := room.Vec{X: -0.5}
	// visible: x from -1 to 0.5, that is 0.5 behind the point and 1 before it
	want := 1000 * 2 * (parallel(0.5, 1, 3) + parallel(1, 1, 3))
	require.InEpsilon(t, want, scene.At(p, up), 0.005)
	across := scene.At(p, up)
	scene.Sources[0].Placements[0].Rotation = math.Pi / 2 // now the edge cuts along the strips
	require.InEpsilon(t, want, scene.At(p, up), 0.005)
	t.Logf("largest deviation %.0e percent", 100*max(math.Abs(across/want-1), math.Abs(scene.At(p, up)/want-1)))
}

func TestHalfHiddenLampGivesHalf(t *testing.T) {
	scene := one(lambertian(t, 1000), photometry.Opening{Length: 2.4}, room.Vec{Z: 4}, 0)
	p := room.Vec{X: 0, Y: 0, Z: 0}
	whole := scene.At(p, up)
	scene.Racks = []room.Rack{{Corner: room.Vec{X: 0, Y: -1, Z: 0}, Size: room.Vec{X: 3, Y: 2, Z: 2}}}
	p.X = -1e-9
	require.InEpsilon(t, whole/2, scene.At(p, up), 1e-3) // half the lamp is on the rack's side
	scene.Racks[0].Transmittance = 0.3
	require.InEpsilon(t, whole*0.65, scene.At(p, up), 1e-3)
	scene.Racks = append(
		scene.Racks,
		room.Rack{Corner: room.Vec{X: 0, Y: -1, Z: 2.5}, Size: room.Vec{X: 3, Y: 2, Z: 1}, Transmittance: 0.5},
	)
	require.InEpsilon(t, whole*(0.5+0.5*0.15), scene.At(p, up), 1e-3)
}

func TestRackNeverAddsDirectLight(t *testing.T) {
	d := skew(t)
	rapid.Check(t, func(t *rapid.T) {
		at := rapid.Float64Range(0, 8)
		scene := one(
			d,
			photometry.Opening{
				Length: rapid.Float64Range(0, 2.5).Draw(t, "length"),
				Width:  rapid.Float64Range(0, 0.6).Draw(t, "width"),
			},
			room.Vec{X: at.Draw(t, "x"), Y: at.Draw(t, "y"), Z: 5},
			rapid.Float64Range(0, 7).Draw(t, "rotation"),
		)
		p := room.Vec{X: at.Draw(t, "px"), Y: at.Draw(t, "py"), Z: 0.8}
		empty := scene.At(p, up)
		scene.Racks = []room.Rack{
			{
				Corner:        room.Vec{X: at.Draw(t, "rx"), Y: at.Draw(t, "ry")},
				Size:          room.Vec{X: 1.5, Y: 0.7, Z: rapid.Float64Range(0.5, 4.9).Draw(t, "rz")},
				Transmittance: rapid.Float64Range(0, 1).Draw(t, "transmittance"),
			},
		}
		if got := scene.At(p, up); got > empty*1.003 { // discretisation: the visible part is subdivided anew
			t.Fatalf("with a rack %v lx, without %v lx", got, empty)
		}
	})
}

// Twice the lumens give exactly twice the light: a power of two.
func TestTwiceTheLumens(t *testing.T) {
	d := skew(t)
	rapid.Check(t, func(t *rapid.T) {
		at := rapid.Float64Range(-5, 5)
		p := room.Vec{X: at.Draw(t, "x"), Y: at.Draw(t, "y")}
		o := photometry.Opening{Length: 1.2, Width: 0.2}
		a, b := one(d, o, room.Vec{Z: 3}, 0.2).At(p, up), one(d.Scaled(2), o, room.Vec{Z: 3}, 0.2).At(p, up)
		if b != 2*a {
			t.Fatalf("%v lx and %v lx", a, b)
		}
	})
}

// A lamp turned by a quarter lights the room as the lamp lights the room that is turned back.
func TestQuarterTurn(t *testing.T) {
	d := skew(t)
	rapid.Check(t, func(t *rapid.T) {
		at := rapid.Float64Range(-5, 5)
		x, y := at.Draw(t, "x"), at.Draw(t, "y")
		o := photometry.Opening{Length: 1.2, Width: 0.2, Height: 0.1}
		a := one(d, o, room.Vec{Z: 3}, 0).At(room.Vec{X: x, Y: y}, up)
		b := one(d, o, room.Vec{Z: 3}, math.Pi/2).At(room.Vec{X: -y, Y: x}, up)
		if math.Abs(a-b) > 1e-9*a { // rounding
			t.Fatalf("%v lx and %v lx", a, b)
		}
	})
}

// Seen from either end: a symmetric lamp gives the same at mirrored points, and turning it by a half changes
// nothing.
func TestMirror(t *testing.T) {
	d := tabulated(
		t,
		5,
		180,
		func(c, g float64) float64 { return 500 * (1.1 + math.Cos(g)) * (1 + 0.3*math.Cos(2*c)*math.Sin(g)) },
	)
	o := photometry.Opening{Length: 2.4, Width: 0.3}
	rapid.Check(t, func(t *rapid.T) {
		at := rapid.Float64Range(0, 5)
		x, y := at.Draw(t, "x"), at.Draw(t, "y")
		a := one(d, o, room.Vec{Z: 2}, 0).At(room.Vec{X: x, Y: y}, up)
		for _, m := range [][3]float64{{-1, 1, 0}, {1, -1, 0}, {-1, -1, 0}, {1, 1, math.Pi}} {
			b := one(d, o, room.Vec{Z: 2}, m[2]).At(room.Vec{X: m[0] * x, Y: m[1] * y}, up)
			if math.Abs(a-b) > 1e-9*a { // rounding
				t.Fatalf("%v lx and %v lx", a, b)
			}
		}
	})
}

// A turned lamp keeps its distribution with it: what is bright along the lamp stays along the lamp.
func TestRotationTurnsTheDistribution(t *testing.T) {
	d := tabulated(t, 1, 90, func(c, g float64) float64 { return 1000 * math.Max(0, math.Cos(c)) * math.Sin(g) })
	scene := one(d, photometry.Opening{}, room.Vec{Z: 1}, math.Pi/6)
	along := scene.At(room.Vec{X: math.Cos(math.Pi / 6), Y: math.Sin(math.Pi / 6)}, up)
	require.InEpsilon(
		t,
		1000*math.Sin(math.Pi/4)*math.Pow(math.Cos(math.Pi/4), 3),
		along,
		1e-9,
	) // E = I cos³/h², rounding
	require.InDelta(t, 0, scene.At(room.Vec{X: -math.Sin(math.Pi / 6), Y: math.Cos(math.Pi / 6)}, up), 1e-9)
}

func TestCoincidentPointIsFinite(t *testing.T) {
	for _, o := range []photometry.Opening{{}, {Length: 1.2}, {Length: 1.2, Width: 0.3},
		{Length: 1, Width: 1, Height: 0.2}, {Shape: photometry.Elliptic, Length: 1, Width: 1}} {
		scene := one(isotropic(t, 1000), o, room.Vec{Z: 3}, 0)
		for _, p := range []room.Vec{{Z: 3}, {X: 0.1, Z: 3}, {X: 0.6, Z: 3}, {Z: 3 - 1e-12}} {
			e := scene.At(p, up)
			require.False(t, math.IsNaN(e) || math.IsInf(e, 0), "%v: %v", o, e)
		}
	}
}

func busy(tb testing.TB) (direct.Scene, room.Room) {
	tb.Helper()
	r := room.Room{Length: 12, Width: 9, Height: 5, WorkPlane: 0.8}
	return direct.Scene{
		Sources: []direct.Source{
			{
				Luminaire: photometry.Luminaire{
					Distribution: skew(tb),
					Opening:      photometry.Opening{Length: 1.2, Width: 0.2},
				},
				Placements: r.Lattice(2, 3, 4.2, 0.3),
			},
		},
		Racks: []room.Rack{{Corner: room.Vec{X: 3, Y: 2}, Size: room.Vec{X: 6, Y: 1, Z: 3}, Reflectance: 0.3}},
	}, r
}

func TestSameBitsOnAnyNumberOfProcessors(t *testing.T) {
	scene, r := busy(t)
	g := r.WorkPlaneGrid(0.25)
	before := runtime.GOMAXPROCS(1)
	defer runtime.GOMAXPROCS(before)
	first, err := scene.Illuminance(context.Background(), g)
	require.NoError(t, err)
	runtime.GOMAXPROCS(8)
	second, err := scene.Illuminance(context.Background(), g)
	require.NoError(t, err)
	hidden := 0
	for i := range first {
		if math.IsNaN(first[i]) && math.IsNaN(second[i]) {
			hidden++
			continue
		}
		require.Equal(t, math.Float64bits(first[i]), math.Float64bits(second[i]), "point %d", i)
	}
	require.Equal(t, 24*4, hidden, "points inside the rack")
}

func TestCancelled(t *testing.T) {
	scene, r := busy(t)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	_, err := scene.Illuminance(ctx, r.WorkPlaneGrid(0.5))
	require.ErrorIs(t, err, context.Canceled)
}
