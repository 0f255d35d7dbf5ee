package room_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lampswap/photometry/room"
)

func TestVec(t *testing.T) {
	a, b := room.Vec{X: 1, Y: 2, Z: 2}, room.Vec{X: 4, Y: -6, Z: 0.5}
	assert.Equal(t, room.Vec{X: 5, Y: -4, Z: 2.5}, a.Add(b))
	assert.Equal(t, room.Vec{X: -3, Y: 8, Z: 1.5}, a.Sub(b))
	assert.Equal(t, room.Vec{X: 3, Y: 6, Z: 6}, a.Scale(3))
	assert.Equal(t, -7.0, a.Dot(b))
	assert.Equal(t, 3.0, a.Length())
}

// A rack's own face is not inside it. It stands on the floor: whatever is below its top is inside.
func TestRackContains(t *testing.T) {
	rack := room.Rack{Corner: room.Vec{X: 10, Y: 8}, Size: room.Vec{X: 90, Y: 4, Z: 12}}
	assert.Equal(t, room.Vec{X: 100, Y: 12, Z: 12}, rack.Far())
	inside := room.Vec{X: 50, Y: 10, Z: 3}
	assert.True(t, rack.Contains(inside))
	assert.True(t, rack.Contains(room.Vec{X: 50, Y: 10, Z: 0}), "the floor under it")
	for name, face := range map[string]room.Vec{
		"west": {X: 10, Y: 10, Z: 3}, "east": {X: 100, Y: 10, Z: 3}, "south": {X: 50, Y: 8, Z: 3},
		"north": {X: 50, Y: 12, Z: 3},
		"top":   {X: 50, Y: 10, Z: 12}, "corner": {X: 10, Y: 8, Z: 0},
	} {
		assert.False(t, rack.Contains(face), name)
		assert.True(t, rack.Contains(face.Scale(1-1e-6).Add(inside.Scale(1e-6))), "just inside %s", name)
		assert.False(t, rack.Contains(face.Scale(1+1e-6).Sub(inside.Scale(1e-6))), "just outside %s", name)
	}
}

// Rows along y, columns along x, half a spacing from the walls, first row first.
func TestLattice(t *testing.T) {
	r := room.Room{Length: 120, Width: 60, Height: 18}
	got := r.Lattice(6, 12, 16, math.Pi/2)
	require.Len(t, got, 72)
	assert.Equal(t, room.Placement{Position: room.Vec{X: 5, Y: 5, Z: 16}, Rotation: math.Pi / 2}, got[0])
	assert.Equal(t, room.Vec{X: 15, Y: 5, Z: 16}, got[1].Position)
	assert.Equal(t, room.Vec{X: 5, Y: 15, Z: 16}, got[12].Position)
	assert.Equal(t, room.Vec{X: 115, Y: 55, Z: 16}, got[71].Position)
	one := r.Lattice(1, 1, 10, 0)
	require.Len(t, one, 1)
	assert.Equal(t, room.Vec{X: 60, Y: 30, Z: 10}, one[0].Position, "the middle")
	assert.Empty(t, r.Lattice(0, 12, 16, 0))
}

func TestLatticeIsItsOwnMirror(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := room.Room{
			Length: rapid.Float64Range(2, 200).Draw(t, "length"),
			Width:  rapid.Float64Range(2, 200).Draw(t, "width"),
		}
		rows, columns := rapid.IntRange(1, 20).Draw(t, "rows"), rapid.IntRange(1, 20).Draw(t, "columns")
		got := r.Lattice(rows, columns, 5, 0)
		require.Len(t, got, rows*columns)
		for i, p := range got {
			q := got[len(got)-1-i].Position
			assert.InDelta(t, r.Length, p.Position.X+q.X, 1e-10)
			assert.InDelta(t, r.Width, p.Position.Y+q.Y, 1e-10)
			assert.Equal(t, 5.0, p.Position.Z)
		}
	})
}

// Places that are equal on paper are equal here, whether they come from feet or metres, from one number or
// from several: a point on the face of a rack that was placed by steps is on it.
func TestAPointOnTheFaceIsOnIt(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tenths := func(name string, most int) float64 { return float64(rapid.IntRange(1, most).Draw(t, name)) / 10 }
		unit := rapid.SampledFrom([]float64{1, 0.3048}).Draw(t, "unit")
		corner, size, step, height := tenths(
			"corner",
			500,
		), tenths(
			"size",
			100,
		), tenths(
			"step",
			300,
		), tenths(
			"height",
			200,
		)
		n := float64(rapid.IntRange(0, 9).Draw(t, "n"))
		rack := room.Rack{
			Corner: room.Vec{X: corner * unit, Y: corner*unit + n*(step*unit)}.Snap(),
			Size:   room.Vec{X: size * unit, Y: size * unit, Z: height * unit},
		}
		middle := room.Vec{X: (corner + size/2) * unit, Y: rack.Corner.Y + size/2*unit, Z: height / 2 * unit}
		require.True(t, rack.Contains(middle))
		typed := math.Round((corner+n*step+size)*10) / 10 // as somebody would write the face into a job
		for _, p := range []room.Vec{
			{X: middle.X, Y: typed * unit, Z: middle.Z},
			{X: middle.X, Y: math.Round((corner+n*step)*10) / 10 * unit, Z: middle.Z},
			{X: math.Round((corner+size)*10) / 10 * unit, Y: middle.Y, Z: middle.Z},
			{X: middle.X, Y: middle.Y, Z: height * unit},
		} {
			require.False(t, rack.Contains(p.Snap()), "%v on %v", p, rack)
		}
	})
}
