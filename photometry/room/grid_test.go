package room_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lampswap/photometry/room"
)

const (
	foot     = 0.3048
	rounding = 1e-12
)

func TestCells(t *testing.T) {
	for _, c := range []struct {
		length, spacing float64
		want            int
	}{
		{120, 2, 60},
		{120, 2.1, 58},
		{1, 3, 1},     // never none
		{3, 3, 1},     //
		{3.001, 3, 2}, //
		{0.6, 0.2, 3}, // 0.6/0.2 is 2.9999999999999996 in floating point
		{0.3, 0.1, 3}, // 0.3/0.1 likewise
		{120 * foot, 2 * foot, 60},
		{2 * (1 + 0.9e-9), 1, 3}, // 1.8e-9 over: counts
		{2 + 0.9e-9, 1, 2},       // 0.9e-9 over: forgiven
	} {
		assert.Equal(t, c.want, room.Cells(c.length, c.spacing), "%v by %v", c.length, c.spacing)
	}
	rapid.Check(t, func(t *rapid.T) {
		n, spacing := rapid.IntRange(1, 2000).Draw(t, "n"), rapid.Float64Range(0.05, 10).Draw(t, "spacing")
		assert.Equal(t, n, room.Cells(float64(n)*spacing, spacing), "a whole number of cells in any unit")
		length := rapid.Float64Range(0.1, 300).Draw(t, "length")
		cells := room.Cells(length, spacing)
		assert.LessOrEqual(t, length/float64(cells), spacing*(1+1e-9), "no cell larger than asked")
		assert.True(t, cells == 1 || length/float64(cells-1) > spacing, "no cell too many")
	})
}

// The contract: nx = ceil(length/spacing), x_i = (i+0.5) length/nx, y likewise.
func TestWorkPlaneGrid(t *testing.T) {
	r := room.Room{Length: 10, Width: 4, Height: 5, WorkPlane: 0.76}
	g := r.WorkPlaneGrid(1.5)
	assert.Equal(t, "work plane", g.Name)
	assert.Equal(t, room.Horizontal, g.Plane)
	assert.Equal(t, room.Vec{Z: 1}, g.Normal, "looks up")
	require.Equal(t, 7, g.NX)
	require.Equal(t, 3, g.NY)
	x, y := g.Coordinates()
	require.Len(t, x, 7)
	require.Len(t, y, 3)
	for i := range x {
		assert.InDelta(t, (float64(i)+0.5)*10/7, x[i], rounding)
		for j := range y {
			assert.InDelta(t, (float64(j)+0.5)*4/3, y[j], rounding)
			p := g.Point(i, j)
			assert.InDelta(t, x[i], p.X, rounding)
			assert.InDelta(t, y[j], p.Y, rounding)
			assert.Equal(t, 0.76, p.Z)
		}
	}
}

func TestHorizontalGridOfAPart(t *testing.T) {
	g := room.HorizontalGrid("dock", room.Vec{X: 2, Y: 3}, room.Vec{X: 5, Y: 7}, 1.2, 1)
	require.Equal(t, []int{3, 4}, []int{g.NX, g.NY})
	x, y := g.Coordinates()
	assert.InDeltaSlice(t, []float64{2.5, 3.5, 4.5}, x, rounding, "in the room's frame")
	assert.InDeltaSlice(t, []float64{3.5, 4.5, 5.5, 6.5}, y, rounding)
	assert.Equal(t, room.Vec{X: 4.5, Y: 6.5, Z: 1.2}, g.Point(2, 3))
}

// Along a line that runs north, light may come from either side.
func TestVerticalGridFacesEitherSide(t *testing.T) {
	from, to := room.Vec{X: 4, Y: 1}, room.Vec{X: 4, Y: 7}
	for facing, normal := range map[float64]room.Vec{0: {X: 1}, math.Pi: {X: -1}, -math.Pi: {X: -1},
		2 * math.Pi: {X: 1}, 0.008: {X: 1}} {
		g, err := room.VerticalGrid("aisle", from, to, 0.5, 3.5, facing, 1)
		require.NoError(t, err)
		assert.Equal(t, "vertical", g.Plane.String())
		require.Equal(t, []int{6, 3}, []int{g.NX, g.NY})
		assert.InDelta(
			t,
			0,
			g.Normal.Sub(normal).Length(),
			rounding,
			"the normal is square, even if the azimuth is a little off",
		)
		x, y := g.Coordinates()
		assert.InDeltaSlice(t, []float64{0.5, 1.5, 2.5, 3.5, 4.5, 5.5}, x, rounding, "distance along the line")
		assert.InDeltaSlice(t, []float64{1, 2, 3}, y, rounding, "height above the floor")
		assert.InDelta(t, 0, g.Point(0, 0).Sub(room.Vec{X: 4, Y: 1.5, Z: 1}).Length(), rounding)
		assert.InDelta(t, 0, g.Point(5, 2).Sub(room.Vec{X: 4, Y: 6.5, Z: 3}).Length(), rounding)
	}
}

func TestVerticalGridMustFaceSquare(t *testing.T) {
	from, to := room.Vec{X: 4, Y: 1}, room.Vec{X: 4, Y: 7}
	for _, facing := range []float64{math.Pi / 2, -math.Pi / 2, 0.6 * math.Pi / 180, 1, math.NaN()} {
		_, err := room.VerticalGrid("aisle", from, to, 0, 1, facing, 1)
		require.ErrorIs(t, err, room.ErrFacing, "facing %v", facing)
	}
	_, err := room.VerticalGrid("a point", from, from, 0, 1, 0, 1)
	require.ErrorIs(t, err, room.ErrFacing, "a line without length faces nowhere")
}

func TestVerticalGridProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		along := rapid.Float64Range(-7, 7).Draw(t, "azimuth of the line")
		length := rapid.Float64Range(0.5, 60).Draw(t, "length")
		from := room.Vec{X: rapid.Float64Range(0, 50).Draw(t, "x"), Y: rapid.Float64Range(0, 50).Draw(t, "y")}
		to := from.Add(room.Vec{X: length * math.Cos(along), Y: length * math.Sin(along)})
		side := rapid.SampledFrom([]float64{-1, 1}).Draw(t, "side")
		g, err := room.VerticalGrid("face", from, to, 0.2, 4.1, along+side*math.Pi/2, 0.9)
		require.NoError(t, err)
		assert.InDelta(t, 1, g.Normal.Length(), rounding)
		assert.InDelta(t, 0, g.Normal.Dot(g.U), rounding)
		assert.Zero(t, g.Normal.Z)
		assert.InDelta(t, side, g.Normal.Dot(room.Vec{X: -g.U.Y, Y: g.U.X}), rounding, "left is counter-clockwise")
		first, last := g.Point(0, 0), g.Point(g.NX-1, g.NY-1)
		middle := first.Add(last).Scale(0.5)
		assert.InDelta(t, 0, middle.Sub(from.Add(to).Scale(0.5).Add(room.Vec{Z: 2.15})).Length(), 1e-9, "centred")
	})
}

func TestPlaneString(t *testing.T) {
	assert.Equal(t, "horizontal", room.Horizontal.String())
	assert.Equal(t, "vertical", room.Vertical.String())
}
