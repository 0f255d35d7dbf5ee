package room_test

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lampswap/photometry/room"
)

// A wall of a rack halfway between the eye and a lamp hides twice its own width of it: similar triangles.
func TestShadowOfAnEdge(t *testing.T) {
	rack := room.Rack{Corner: room.Vec{X: 0, Y: -1, Z: 0}, Size: room.Vec{X: 5, Y: 2, Z: 2}}
	eye, a, b := room.Vec{X: 0, Z: 0}, room.Vec{X: -2, Z: 4}, room.Vec{X: 2, Z: 4}
	eye.X = -1
	from, to, ok := rack.Shadow(eye, a, b)
	require.True(t, ok)
	// the edge x = 0, z = 2 is seen from x = -1 in the direction of x = 1 at z = 4: t = 3/4
	require.InDelta(t, 0.75, from, 1e-6) // the rack is drawn in by 1e-7
	require.InDelta(t, 1, to, 1e-6)
}

func TestFaceDoesNotHideItsOwnPoints(t *testing.T) {
	rack := room.Rack{Corner: room.Vec{X: 1, Y: 1}, Size: room.Vec{X: 2, Y: 1, Z: 3}}
	require.False(t, rack.Hides(room.Vec{X: 2, Y: 2, Z: 1}, room.Vec{X: 2, Y: 9, Z: 4}))
	require.True(t, rack.Hides(room.Vec{X: 2, Y: 2, Z: 1}, room.Vec{X: 2, Y: 0, Z: 1}))
	_, _, ok := rack.Shadow(room.Vec{X: 2, Y: 2, Z: 1}, room.Vec{X: 1, Y: 9, Z: 4}, room.Vec{X: 3, Y: 9, Z: 4})
	require.False(t, ok)
}

// The shadow interval and the segment test are two ways to say the same.
func TestShadowAgreesWithHides(t *testing.T) {
	point := func(t *rapid.T, name string) room.Vec {
		c := rapid.Float64Range(-4, 4)
		return room.Vec{X: c.Draw(t, name+" x"), Y: c.Draw(t, name+" y"), Z: c.Draw(t, name+" z")}
	}
	rapid.Check(t, func(t *rapid.T) {
		size := rapid.Float64Range(0.1, 3)
		rack := room.Rack{
			Corner: room.Vec{X: -1, Y: -1, Z: 0},
			Size:   room.Vec{X: size.Draw(t, "length"), Y: size.Draw(t, "width"), Z: size.Draw(t, "height")},
		}
		p, a, b := point(t, "p"), point(t, "a"), point(t, "b")
		switch rapid.SampledFrom([]string{"askew", "x", "y", "z"}).Draw(t, "segment along") {
		case "x":
			b.Y, b.Z = a.Y, a.Z
		case "y":
			b.X, b.Z = a.X, a.Z
		case "z":
			b.X, b.Y = a.X, a.Y
		}
		from, to, ok := rack.Shadow(p, a, b)
		for i := range 41 {
			x := (float64(i) + 0.5) / 41
			hidden := rack.Hides(p, a.Add(b.Sub(a).Scale(x)))
			const edge = 1e-6 // rounding at the border
			switch {
			case ok && x > from+edge && x < to-edge:
				require.True(t, hidden, "t = %v inside %v to %v", x, from, to)
			case !ok || x < from-edge || x > to+edge:
				require.False(t, hidden, "t = %v outside %v to %v", x, from, to)
			}
		}
	})
}
