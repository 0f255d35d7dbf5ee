package direct_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry"
	"lampswap/photometry/room"
)

// A luminaire that all but touches the plane of a grid is no reason to lay a lattice of more nodes than can
// be counted.
func TestALuminaireThatTouchesThePlane(t *testing.T) {
	g := room.HorizontalGrid("g", room.Vec{}, room.Vec{X: 10, Y: 10}, 0, 0.1)
	for _, height := range []float64{0, 5e-324, 9e-244, 1e-12, 1e-3} {
		values, err := one(
			isotropic(t, 100),
			photometry.Opening{},
			room.Vec{X: 3, Y: 7, Z: height},
			0,
		).Prepare().Illuminance(
			t.Context(),
			g,
		)
		require.NoError(t, err)
		for _, v := range values {
			if math.IsNaN(v) || math.IsInf(v, 0) || v < 0 {
				t.Fatalf("height %g: %v lx", height, v)
			}
		}
		far := g.NX*g.NY - 1
		at := g.Point(g.NX-1, g.NY-1)
		square := (at.X-3)*(at.X-3) + (at.Y-7)*(at.Y-7) + height*height
		const place = 1e-7 // m: rounding of places in a room of 10 m that are kept in single precision
		assert.InDelta(
			t,
			100*height/math.Pow(square, 1.5),
			values[far],
			100*place/math.Pow(square, 1.5),
			"I h / d³",
		)
	}
}
