package direct_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lampswap/photometry"
	"lampswap/photometry/direct"
	"lampswap/photometry/longtest"
	"lampswap/photometry/room"
)

// sides are the six surfaces of a room, cut into cells of about a size.
func sides(r room.Room, cell float64) []room.Grid {
	x, y, z := room.Vec{X: 1}, room.Vec{Y: 1}, room.Vec{Z: 1}
	far := room.Vec{X: r.Length, Y: r.Width, Z: r.Height}
	side := func(at room.Vec, u, v, normal room.Vec) room.Grid {
		g := room.Grid{
			NX:     room.Cells(far.Dot(u), cell),
			NY:     room.Cells(far.Dot(v), cell),
			Origin: at,
			U:      u,
			V:      v,
			Normal: normal,
		}
		g.StepX, g.StepY = far.Dot(u)/float64(g.NX), far.Dot(v)/float64(g.NY)
		return g
	}
	return []room.Grid{
		side(room.Vec{}, x, y, z), side(room.Vec{Z: r.Height}, x, y, z.Scale(-1)),
		side(room.Vec{}, y, z, x), side(room.Vec{X: r.Length}, y, z, x.Scale(-1)),
		side(room.Vec{}, x, z, y), side(room.Vec{Y: r.Width}, x, z, y.Scale(-1)),
	}
}

// rays casts the flux of a scene along many directions from many places of every opening and returns what
// each cell of a surface gets, lm.
func rays(scene direct.Scene, r room.Room, g room.Grid, along, polar, around int) []float64 {
	got := make([]float64, g.NX*g.NY)
	for _, s := range scene.Sources {
		o := s.Luminaire.Opening
		for _, place := range s.Placements {
			half := math.Abs(math.Cos(place.Rotation)*o.Length)/2 + math.Abs(math.Sin(place.Rotation)*o.Width)/2
			middle := place.Position
			middle.X = min(max(middle.X, half), r.Length-half)
			half = math.Abs(math.Sin(place.Rotation)*o.Length)/2 + math.Abs(math.Cos(place.Rotation)*o.Width)/2
			middle.Y = min(max(middle.Y, half), r.Width-half)
			for i := range along {
				t := ((float64(i)+0.5)/float64(along) - 0.5) * o.Length
				q := middle.Add(room.Vec{X: t * math.Cos(place.Rotation), Y: t * math.Sin(place.Rotation)})
				for j := range polar {
					cos := (float64(j)+0.5)/float64(polar)*2 - 1
					sin := math.Sqrt(1 - cos*cos)
					for k := range around {
						turn := 2 * math.Pi * (float64(k) + 0.5) / float64(around)
						d := room.Vec{X: sin * math.Cos(turn), Y: sin * math.Sin(turn), Z: -cos}
						facing := -d.Dot(g.Normal)
						if facing <= 0 {
							continue
						}
						at := q.Add(d.Scale(q.Sub(g.Origin).Dot(g.Normal) / facing)).Sub(g.Origin)
						u, v := at.Dot(g.U)/g.StepX, at.Dot(g.V)/g.StepY
						if u < 0 || v < 0 || u >= float64(g.NX) || v >= float64(g.NY) {
							continue
						}
						got[int(v)*g.NX+int(u)] += s.Luminaire.Distribution.Intensity(turn-place.Rotation, math.Acos(cos)) *
							4 * math.Pi / float64(along*polar*around)
					}
				}
			}
		}
	}
	return got
}

// Flux of the cells of a ceiling and a wall, from a strip at many gaps and turns, is that of rays in even
// directions, which know no nearness: off by a part of the brightest cell's that is the rays' own, whose
// places along the strip and directions are steps.
func TestFluxIsThatOfRays(t *testing.T) {
	r := room.Room{Length: 6.1, Width: 4.9, Height: 3.7}
	worst := 0.0
	for _, row := range []struct{ gap, rotation float64 }{{1, 0}, {0.1, 0.5}, {0.03, 0}, {0, 0.5}} {
		scene := one(
			skew(t),
			photometry.Opening{Length: 2.4, Width: 0.05},
			room.Vec{X: 2.6, Y: 2.1, Z: r.Height - max(row.gap, 1e-6)},
			row.rotation,
		)
		scene.Room = r.Sides()
		for _, g := range sides(r, 0.61)[1:3] {
			want := rays(scene, r, g, 120, 120, 240)
			got, err := direct.Means(t.Context(), scene, g)
			require.NoError(t, err)
			off, most := 0.0, 0.0
			for c := range want {
				off, most = max(off, math.Abs(got[c]*g.StepX*g.StepY-want[c])), max(most, want[c])
			}
			t.Logf(
				"gap %g m, turned %g: deviation %.2f percent of the most at most",
				row.gap,
				row.rotation,
				100*off/most,
			)
			worst = max(worst, off/most)
		}
	}
	require.Less(t, worst, 0.02)
}

// What a luminaire emits arrives, wherever it hangs: also in a surface, in an edge, reaching through a wall,
// of any size and turn.
func TestFluxIsWhole(t *testing.T) {
	d, even := skew(t), isotropic(t, 100)
	worst := 0.0
	longtest.Check(t, 20, func(rt *rapid.T) {
		size := func(name string) float64 { return rapid.Float64Range(2, 15).Draw(rt, name) }
		r := room.Room{Length: size("length"), Width: size("width"), Height: size("height")}
		at := func(name string, length float64) float64 {
			share := rapid.OneOf(
				rapid.Float64Range(0, 1),
				rapid.SampledFrom([]float64{0, 1, 0.5, 0.999, 1e-6}),
			).Draw(
				rt,
				name,
			)
			return share * length
		}
		most := min(r.Length, r.Width, r.Height) / 2 // a luminaire does not fill a room
		o := photometry.Opening{
			Length: rapid.Float64Range(0, min(2, most)).Draw(rt, "opening"),
			Width:  rapid.Float64Range(0, min(1, most)).Draw(rt, "wide"),
			Height: rapid.Float64Range(0, 0.5).Draw(rt, "high"),
		}
		if rapid.Bool().Draw(rt, "elliptic") { // no luminaire is a needle: its pieces stand along its axes
			o.Shape = photometry.Elliptic
			o.Width = max(o.Width, o.Length/4)
		}
		distribution := d
		if rapid.Bool().Draw(rt, "even") {
			distribution = even
		}
		scene := one(
			distribution,
			o,
			room.Vec{X: at("x", r.Length), Y: at("y", r.Width), Z: at("z", r.Height)},
			rapid.Float64Range(0, 7).Draw(rt, "turn"),
		)
		scene.Room = r.Sides()
		scene.Cell = rapid.Float64Range(0.3, 1).Draw(rt, "cell")
		flux := 0.0
		for _, g := range sides(r, scene.Cell) {
			values, err := direct.Means(t.Context(), scene, g)
			require.NoError(rt, err)
			for _, x := range values {
				flux += x * g.StepX * g.StepY
			}
		}
		worst = max(worst, math.Abs(flux/scene.Flux()-1))
		require.InEpsilon(rt, scene.Flux(), flux, 3e-3)
	})
	t.Logf("largest deviation %.3f percent", 100*worst)
}

// Luminaires in rows and columns that share the flux or the light of one give what each gives by itself.
func TestSharedIsPlain(t *testing.T) {
	r := room.Room{Length: 24, Width: 18, Height: 5, WorkPlane: 0.8}
	scene := direct.Scene{
		Sources: []direct.Source{
			{
				Luminaire: photometry.Luminaire{
					Distribution: skew(t),
					Opening:      photometry.Opening{Length: 1.2, Width: 0.1},
				},
				Placements: r.Lattice(3, 4, 4.8, 0),
			},
		},
	}
	plain := scene
	plain.Plain = true
	same := func(got, want []float64, err, other error) {
		require.NoError(t, err)
		require.NoError(t, other)
		for i := range want {
			require.InDelta(t, want[i], got[i], 2e-3*want[i]+1e-9, "what both ways promise")
		}
	}
	for _, g := range append(sides(r, 0.5), r.WorkPlaneGrid(0.3)) {
		got, err := direct.Means(t.Context(), scene, g)
		want, other := direct.Means(t.Context(), plain, g)
		same(got, want, err, other)
		got, err = scene.Illuminance(t.Context(), g)
		want, other = plain.Illuminance(t.Context(), g)
		same(got, want, err, other)
	}
}

// Light that is the same on both sides is added up on one; a clearance of difference has it added up on all,
// and changes nothing else.
func TestMirroredTablesAreWhole(t *testing.T) {
	table := func(clearance float64) *photometry.Distribution {
		d, err := photometry.NewDistribution(
			[]float64{0, 45, 90, 135, 180, 225, 270, 315},
			[]float64{0, 45, 90, 135, 180},
			[][]float64{
				{900, 500, 90, 40, 10},
				{900, 700, 200, 30, 10},
				{900, 800, 300, 20, 10},
				{900, 700, 200, 30, 10},
				{900, 500, 90 + clearance, 40, 10},
				{900, 700, 200, 30, 10},
				{900, 800, 300, 20, 10},
				{900, 700, 200, 30, 10},
			},
		)
		require.NoError(t, err)
		return d
	}
	whole := table(1e-7)
	mirrored, err := photometry.NewDistribution([]float64{0, 45, 90}, []float64{0, 45, 90, 135, 180},
		[][]float64{{900, 500, 90, 40, 10}, {900, 700, 200, 30, 10}, {900, 800, 300, 20, 10}})
	require.NoError(t, err)
	require.True(t, mirrored.QuadrantSymmetric())
	require.False(t, whole.QuadrantSymmetric())
	r := room.Room{Length: 7, Width: 5, Height: 3}
	for _, rotation := range []float64{0, math.Pi / 2, math.Pi, 0.4} {
		for n, g := range sides(r, 0.5) {
			light := func(d *photometry.Distribution) []float64 {
				means, err := direct.Means(
					t.Context(),
					direct.Scene{Room: room.Box{High: room.Vec{X: 7, Y: 5, Z: 3}}, Cell: 0.5, Sources: []direct.Source{{
						Luminaire:  photometry.Luminaire{Distribution: d, Opening: photometry.Opening{Length: 1.2, Width: 0.1}},
						Placements: []room.Placement{{Position: room.Vec{X: 2, Y: 3, Z: 2.5}, Rotation: rotation}}}}},
					g,
				)
				require.NoError(t, err)
				return means
			}
			require.InDeltaSlice(t, light(whole), light(mirrored), 1e-5, "rotation %g, side %d", rotation, n)
		}
	}
}
