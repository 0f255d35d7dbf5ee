package direct_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"lampswap/photometry"
	"lampswap/photometry/direct"
	"lampswap/photometry/room"
)

// contour is the illuminance that a diffuse polygon of luminance 1 cd/m² gives at a point, cut at the horizon
// of the surface there:
//
//	E = ½ |Σ Θ n·Γ|
//
// over its edges, Θ the angle that one subtends and Γ the unit normal of the plane through it and the point.
// Source: Lambert, Photometria (1760), as in Howell's catalogue, from memory; the clipping is Sutherland and
// Hodgman's.
func contour(p, normal room.Vec, corners ...room.Vec) float64 {
	var seen []room.Vec
	for i, a := range corners {
		b := corners[(i+1)%len(corners)]
		a, b = a.Sub(p), b.Sub(p)
		fa, fb := a.Dot(normal), b.Dot(normal)
		if fa >= 0 {
			seen = append(seen, a)
		}
		if (fa >= 0) != (fb >= 0) {
			seen = append(seen, a.Add(b.Sub(a).Scale(fa/(fa-fb))))
		}
	}
	sum := 0.0
	for i, a := range seen {
		b := seen[(i+1)%len(seen)]
		across := room.Vec{X: a.Y*b.Z - a.Z*b.Y, Y: a.Z*b.X - a.X*b.Z, Z: a.X*b.Y - a.Y*b.X}
		if l := across.Length(); l > 0 {
			sum += math.Atan2(l, a.Dot(b)) / l * across.Dot(normal)
		}
	}
	return math.Abs(sum) / 2
}

// A diffuse rectangle that the plane of a grid cuts, along it, across it and askew: point by point and by the
// fast ways it is what stays before the plane.
func TestAHorizonThroughTheOpening(t *testing.T) {
	o := photometry.Opening{Length: 2.4, Width: 0.3}
	const turn, nadir = 0.4, 1000.0
	at := room.Vec{X: 4, Y: 3, Z: 4}
	scene := one(lambertian(t, nadir), o, at, turn)
	along, across := room.Vec{
		X: math.Cos(turn),
		Y: math.Sin(turn),
	}, room.Vec{
		X: -math.Sin(turn),
		Y: math.Cos(turn),
	}
	corner := func(u, v float64) room.Vec {
		return at.Add(along.Scale(u * o.Length)).Add(across.Scale(v * o.Width))
	}
	corners := []room.Vec{corner(-0.5, -0.5), corner(0.5, -0.5), corner(0.5, 0.5), corner(-0.5, 0.5)}
	luminance := nadir / (o.Length * o.Width)
	for _, row := range []struct {
		name      string
		direction room.Vec // of the grid's line
		beside    room.Vec // the line from the middle of the opening
	}{
		{"along", along, across.Scale(0.1)}, {"along, the far side", along, across.Scale(-0.1)},
		{"across", across, along.Scale(0.7)}, {"across, the middle", across, room.Vec{}},
		{"askew", room.Vec{X: 1}, across.Scale(0.05)},
	} {
		from := at.Add(row.beside).Sub(row.direction.Scale(2))
		g, err := room.VerticalGrid(
			"g",
			from,
			from.Add(row.direction.Scale(4)),
			0.5,
			3.7,
			math.Atan2(row.direction.X, -row.direction.Y),
			0.2,
		)
		require.NoError(t, err)
		values, err := scene.Illuminance(t.Context(), g)
		require.NoError(t, err)
		worst, fast := 0.0, 0.0
		for i, x := range values {
			p := g.Point(i%g.NX, i/g.NX)
			want := luminance * contour(p, g.Normal, corners...)
			worst, fast = max(worst, math.Abs(scene.At(p, g.Normal)/want-1)), max(fast, math.Abs(x/want-1))
		}
		t.Logf(
			"%s: largest deviation of the plain sum %.3f percent, of the fast ways %.3f",
			row.name,
			100*worst,
			100*fast,
		)
		require.Less(t, max(worst, fast), 2e-3, row.name)
	}
}

// A horizontal plane through an opening with height sees what of it is above: that of the same light from the
// upper part alone.
func TestAHorizonThroughAnOpeningWithHeight(t *testing.T) {
	d := isotropic(t, 500)
	whole := one(d, photometry.Opening{Length: 1.2, Width: 0.2, Height: 0.4}, room.Vec{X: 2, Y: 2, Z: 3}, 0)
	upper := one(
		d.Scaled(0.25),
		photometry.Opening{Length: 1.2, Width: 0.2, Height: 0.1},
		room.Vec{X: 2, Y: 2, Z: 3.15},
		0,
	)
	g := room.HorizontalGrid("g", room.Vec{}, room.Vec{X: 6, Y: 5}, 3.1, 0.25)
	got, err := whole.Illuminance(t.Context(), g)
	require.NoError(t, err)
	want, err := upper.Illuminance(t.Context(), g)
	require.NoError(t, err)
	for i := range want {
		require.InEpsilon(t, want[i], got[i], 1e-6, "point %d", i)
	}
}

// Parts of an opening have all of its light between them: those before a plane and those behind it.
func TestPartsOfAnOpening(t *testing.T) {
	through := room.Vec{X: 2.05, Y: 2.05, Z: 2.95}
	for _, shape := range []photometry.Shape{photometry.Rectangular, photometry.Elliptic} {
		scene := one(
			isotropic(t, 500),
			photometry.Opening{Shape: shape, Length: 1.2, Width: 0.5, Height: 0.2},
			room.Vec{X: 2, Y: 2, Z: 3},
			0.3,
		)
		for _, normal := range []room.Vec{{X: 0.6, Y: 0.8}, {X: 1}, {Z: 1}, {X: 0.48, Y: 0.64, Z: 0.6}} {
			sum := direct.ShareBefore(scene, through, normal) + direct.ShareBefore(scene, through, normal.Scale(-1))
			require.InDelta(t, 1, sum, 2e-3, "%v: strips of an ellipse", normal)
		}
	}
}
