package stations

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/cmd/lampswap/internal/units"
	"lampswap/photometry/job"
	"lampswap/photometry/room"
)

// Who stands before a face that looks to greater y has greater x on the left.
func TestAxesOfAFace(t *testing.T) {
	from, to := room.Vec{X: 12, Y: 16}, room.Vec{X: 102, Y: 16}
	for facing, want := range map[float64]string{90: "right to left", 270: "left to right"} {
		g, err := room.VerticalGrid("face", from, to, 0.5, 15.5, facing*math.Pi/180, 1)
		require.NoError(t, err)
		assert.Equal(t, "Along counts from x 12.00 m, y 16.00 m: "+want+" as one stands before the face.", Plan{Points: g}.Axes(units.Of(&job.Job{})))
	}
}
