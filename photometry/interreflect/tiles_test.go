package interreflect

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lampswap/photometry"
	"lampswap/photometry/direct"
	"lampswap/photometry/internal/hall"
	"lampswap/photometry/longtest"
	"lampswap/photometry/room"
)

// tiled returns by how much of the local value, direct light included, a grid that is interpolated tile by
// tile differs from one that is gathered point by point, at most, and which part of it is the same to the
// bit.
func tiled(
	t require.TestingT, ctx context.Context, s *Solution, scene direct.Scene, g room.Grid,
) (worst, same float64) {
	light, err := scene.Illuminance(ctx, g)
	require.NoError(t, err)
	o := s.enclosure.emitters([]*Solution{s})
	one, fast := [][]float64{make([]float64, g.NX*g.NY)}, [][]float64{make([]float64, g.NX*g.NY)}
	require.NoError(
		t,
		o.points(
			ctx, g.NX*g.NY, stage{}, one,
			func(i int) (p, normal room.Vec) { return g.Point(i%g.NX, i/g.NX), g.Normal },
		),
	)
	require.NoError(t, o.tiles(ctx, g, fast))
	for i, x := range fast[0] {
		want := one[0][i]
		require.Equal(t, s.enclosure.open(g.Point(i%g.NX, i/g.NX)), photometry.Finite(x), "point %d", i)
		require.Equal(t, photometry.Finite(want), photometry.Finite(x), "point %d", i)
		if !photometry.Finite(x) || x == want {
			same += 1 / float64(len(light))
			continue
		}
		worst = max(worst, math.Abs(x-want)/(want+light[i]))
	}
	return worst, same
}

// In the warehouse most points in the open are interpolated, and none is wrong. In a narrow aisle every point
// stands for itself.
func TestTiles(t *testing.T) {
	r := hall.Room()
	scene := strips(t)
	scene.Racks = hall.Racks(longtest.Pick(4, 10))
	e, err := NewEnclosure(t.Context(), r, scene.Racks, Options{})
	require.NoError(t, err)
	s, err := e.Solve(t.Context(), scene)
	require.NoError(t, err)
	step := longtest.Pick(6.0, 1.0) * ft
	face, err := room.VerticalGrid(
		"face", room.Vec{X: 66 * ft, Y: 10 * ft}, room.Vec{X: 366 * ft, Y: 10 * ft}, 0, 16*ft, math.Pi/2, 2*step,
	)
	require.NoError(t, err)
	wall, err := room.VerticalGrid("wall", room.Vec{Y: 240 * ft}, room.Vec{}, 0, 24*ft, 0, step)
	require.NoError(t, err)
	plane, above := r.WorkPlaneGrid(step), r.WorkPlaneGrid(step)
	plane.NX /= 6 // into the racks
	above.Origin.Z, above.NX = 17*ft, above.NX/6
	for _, c := range []struct {
		name        string
		grid        room.Grid
		least, most float64 // part of the points that is gathered
	}{
		{"work plane", plane, 0.1, 0.6},
		{"above the racks", above, 0.1, 0.4},
		{"face of a rack", face, 1, 1},
		{"wall", wall, 0.1, 0.7},
	} {
		t.Run(c.name, func(t *testing.T) {
			worst, same := tiled(t, t.Context(), s, scene, c.grid)
			require.Less(t, worst, 2e-3)
			require.GreaterOrEqual(t, same, c.least-1e-9)
			if longtest.On() { // a coarser grid gathers more
				require.LessOrEqual(t, same, c.most+1e-9)
			}
			t.Logf(
				"%d points, %.0f percent of them gathered, largest deviation %.2g percent of the local value",
				c.grid.NX*c.grid.NY, 100*same, 100*worst,
			)
		})
	}
}

// Whatever the racks and wherever the grid.
func TestTilesAnywhere(t *testing.T) {
	most := 0.0
	strip, err := hall.Strip()
	require.NoError(t, err)
	ctx := t.Context()
	longtest.Check(t, 4, func(t *rapid.T) {
		from := func(low, high float64, name string) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
		r := room.Room{Length: from(6, 20, "length"), Width: from(6, 20, "width"), Height: from(3, 9, "height"),
			WorkPlane: from(0, 1.5, "work plane"),
			Reflectance: room.Reflectances{Ceiling: from(0.1, 0.8, "ceiling"), Walls: from(0.1, 0.7, "walls"),
				Floor: from(0.1, 0.4, "floor")}}
		var racks []room.Rack
		for range rapid.IntRange(1, 4).Draw(t, "racks") {
			x, y := from(0, r.Length-2, "x"), from(0, r.Width-1, "y")
			racks = append(racks, room.Rack{Corner: room.Vec{X: x, Y: y}, Reflectance: from(0, 0.6, "reflectance"),
				Size: room.Vec{
					X: from(0.5, r.Length-x, "long"), Y: from(0.5, min(3, r.Width-y), "wide"),
					Z: from(0.5, r.Height-1.2, "high"),
				},
				Transmittance: rapid.SampledFrom([]float64{0, 0, 0.3}).Draw(t, "transmittance")})
		}
		places := r.Lattice(
			rapid.IntRange(1, 4).Draw(t, "rows"), rapid.IntRange(1, 5).Draw(t, "columns"),
			r.Height-from(0.2, 0.8, "below the ceiling"), 0,
		)
		scene := direct.Scene{Racks: racks, Sources: []direct.Source{{Luminaire: strip, Placements: places}}}
		e, err := NewEnclosure(ctx, r, racks, Options{Patch: from(0.6, 1.2, "patch")})
		require.NoError(t, err)
		s, err := e.Solve(ctx, scene)
		require.NoError(t, err)
		g := r.WorkPlaneGrid(from(0.2, 0.5, "spacing"))
		if rapid.Bool().Draw(t, "vertical") {
			k := racks[0]
			g, err = room.VerticalGrid(
				"face", k.Corner, room.Vec{X: k.Far().X, Y: k.Corner.Y}, 0, k.Size.Z, -math.Pi/2, g.StepX/2,
			)
			require.NoError(t, err)
		}
		worst, _ := tiled(t, ctx, s, scene, g)
		if worst > 2e-3 {
			t.Fatalf("%.2g of the local value", worst)
		}
		most = max(most, worst)
	})
	t.Logf("largest deviation %.2g percent of the local value", 100*most)
}

// Half a foot from a wall its patches show one by one, the more so right above a floor: in this room, which
// was drawn, a cubic along the wall through four points met all three of its checks and was 0.20 percent off.
func TestTilesBesideAWall(t *testing.T) {
	r := room.Room{Length: 15.937287143312886, Width: 8.07444976697822, Height: 8.001342916462555,
		WorkPlane:   0.034105333171318156,
		Reflectance: room.Reflectances{Ceiling: 0.1137682655771744, Walls: 0.6815171043019675, Floor: 0.25826647660922974}}
	strip, err := hall.Strip()
	require.NoError(t, err)
	scene := direct.Scene{
		Sources: []direct.Source{{Luminaire: strip, Placements: r.Lattice(1, 1, 7.694391920957644, 0)}},
		Racks: []room.Rack{{
			Corner:      room.Vec{X: 5.950577083901352, Y: 0.4274979467308126},
			Size:        room.Vec{X: 4.512272519567002, Y: 2.69452547989242, Z: 1.0187745194009243},
			Reflectance: 0.08052257015550894,
		}},
	}
	e, err := NewEnclosure(t.Context(), r, scene.Racks, Options{Patch: 0.9389817537240952})
	require.NoError(t, err)
	s, err := e.Solve(t.Context(), scene)
	require.NoError(t, err)
	worst, same := tiled(t, t.Context(), s, scene, r.WorkPlaneGrid(0.2268))
	require.Less(t, worst, 1e-3)
	require.Less(t, same, 0.75)
	t.Logf("largest deviation %.2g percent of the local value", 100*worst)
}

// A hand's breadth from a wall a patch of it fills half the view, and the rise of its exitance counts by the
// first moments of the whole of it: by the difference of two of its places alone, what bounces went up and
// down by 4 percent from point to point on this face of a rack, which was drawn.
func TestTilesOnAFaceBesideAWall(t *testing.T) {
	r := room.Room{Length: 10, Width: 7.765116153713787, Height: 4.65625, WorkPlane: 0.24525991152586357,
		Reflectance: room.Reflectances{Ceiling: 0.10340618263107908, Walls: 0.16684219054877758, Floor: 0.11828011754362838}}
	strip, err := hall.Strip()
	require.NoError(t, err)
	rack := func(x, y, long, wide, high, passes float64) room.Rack {
		return room.Rack{Corner: room.Vec{X: x, Y: y}, Size: room.Vec{X: long, Y: wide, Z: high}, Transmittance: passes}
	}
	scene := direct.Scene{
		Sources: []direct.Source{{Luminaire: strip, Placements: r.Lattice(3, 2, r.Height-0.6596534055025529, 0)}},
		Racks: []room.Rack{
			rack(0, 3.663928985595703, 0.664703369140625, 1.1852810137313636, 2.494099592788274, 0.3),
			rack(0, 6.169921875, 9.834641128778458, 0.875, 1.3948684227539374, 0),
			rack(8, 0, 0.5060894675552845, 0.6772507703362862, 0.8180923461914062, 0.3),
			rack(7.53599702296868, 0.6167876331849325, 0.5994201629091549, 0.7833709716796875, 0.9166703224182129, 0.3),
		},
	}
	e, err := NewEnclosure(t.Context(), r, scene.Racks, Options{Patch: 0.8120622240684914})
	require.NoError(t, err)
	s, err := e.Solve(t.Context(), scene)
	require.NoError(t, err)
	k := scene.Racks[0]
	g, err := room.VerticalGrid("face", k.Corner, room.Vec{X: k.Far().X, Y: k.Corner.Y}, 0, k.Size.Z, -math.Pi/2, 0.1)
	require.NoError(t, err)
	worst, _ := tiled(t, t.Context(), s, scene, g)
	require.Less(t, worst, 2e-3)
	t.Logf("largest deviation %.2g percent of the local value", 100*worst)
	light, err := s.Illuminance(t.Context(), g)
	require.NoError(t, err)
	for i := range g.NY - 1 { // up the wall it grows
		require.Greater(t, light[(i+1)*g.NX], light[i*g.NX], "row %d", i)
	}
}

// Two steps of this grid are a fourth of a patch: every gap between nodes must be checked all the same. In this
// room, which was drawn, light right above the floor was 0.9 percent off.
func TestTilesOfShortGaps(t *testing.T) {
	r := room.Room{Length: 6, Width: 6, Height: 3,
		Reflectance: room.Reflectances{Ceiling: 0.8, Walls: 0.7, Floor: 0.4}}
	strip, err := hall.Strip()
	require.NoError(t, err)
	scene := direct.Scene{
		Sources: []direct.Source{{Luminaire: strip, Placements: r.Lattice(2, 2, 2.566, 0)}},
		Racks: []room.Rack{
			{Corner: room.Vec{X: 3.1189, Y: 0.7588}, Size: room.Vec{X: 0.60001, Y: 0.9908, Z: 1.7382}},
			{Corner: room.Vec{X: 1.6487, Y: 0.5594}, Size: room.Vec{X: 0.7038, Y: 3, Z: 1.0506}},
		},
	}
	e, err := NewEnclosure(t.Context(), r, scene.Racks, Options{Patch: 0.7468})
	require.NoError(t, err)
	s, err := e.Solve(t.Context(), scene)
	require.NoError(t, err)
	k := scene.Racks[0]
	g, err := room.VerticalGrid(
		"face", k.Corner, room.Vec{X: k.Far().X, Y: k.Corner.Y}, 0, k.Size.Z, -math.Pi/2, 0.1,
	)
	require.NoError(t, err)
	worst, _ := tiled(t, t.Context(), s, scene, g)
	require.Less(t, worst, 2e-3)
}
