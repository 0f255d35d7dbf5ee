package room_test

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lampswap/photometry/room"
)

// Open finds what a look at each point finds, on grids that touch faces of racks too.
func TestOpenIsThatOfEachPoint(t *testing.T) {
	open, covered := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		tenth := func(name string, least, most int) float64 {
			return room.Snap(float64(rapid.IntRange(least, most).Draw(t, name)) / 10)
		}
		var racks []room.Rack
		for range rapid.IntRange(0, 6).Draw(t, "racks") {
			racks = append(racks, room.Rack{Corner: room.Vec{X: tenth("x", 0, 20), Y: tenth("y", 0, 20)},
				Size: room.Vec{X: tenth("length", 1, 20), Y: tenth("width", 1, 20), Z: tenth("height", 5, 30)}})
		}
		from := room.Vec{X: tenth("from x", 0, 10), Y: tenth("from y", 0, 10)}
		long, wide, spacing := tenth("long", 1, 10), tenth("wide", 1, 10), tenth("spacing", 1, 7)
		var g room.Grid
		if rapid.Bool().Draw(t, "vertical") {
			along := rapid.SampledFrom([]float64{0, math.Pi / 2, 0.7}).Draw(t, "along")
			to := from.Add(room.Vec{X: long * math.Cos(along), Y: long * math.Sin(along)}).Snap()
			var err error
			g, err = room.VerticalGrid("face", from, to, 0, wide, along+math.Pi/2, spacing)
			require.NoError(t, err)
		} else {
			g = room.HorizontalGrid(
				"area",
				from,
				from.Add(room.Vec{X: long, Y: wide}).Snap(),
				tenth("z", 0, 20),
				spacing,
			)
		}
		want := false
		for i := range g.NX * g.NY {
			inside := func(p room.Vec) bool {
				return slices.ContainsFunc(racks, func(r room.Rack) bool { return r.Contains(p) })
			}
			p, covered := g.Point(i%g.NX, i/g.NX), true
			for _, x := range [2]float64{-room.Touching, room.Touching} { // all around it, as between racks that touch
				for _, y := range [2]float64{-room.Touching, room.Touching} {
					covered = covered && inside(p.Add(room.Vec{X: x, Y: y, Z: x})) &&
						inside(p.Add(room.Vec{X: x, Y: y, Z: -x}))
				}
			}
			want = want || !covered && !inside(p)
		}
		if want {
			open++
		} else {
			covered++
		}
		assert.Equal(t, want, g.Open(racks), "%+v\n%+v", g, racks)
	})
	assert.Positive(t, open)
	assert.Positive(t, covered)
}

// A million points below ten thousand racks are looked through cell by cell: one by one it would outlast the
// test's time.
func TestOpenOfMany(t *testing.T) {
	var racks []room.Rack
	for i := range 10_000 {
		racks = append(
			racks,
			room.Rack{Corner: room.Vec{X: float64(i) * 0.1}.Snap(), Size: room.Vec{X: 0.1001, Y: 1000, Z: 3}},
		)
	}
	g := room.HorizontalGrid("all", room.Vec{Y: 1}, room.Vec{X: 1000, Y: 11}, 1, 0.1)
	require.Greater(t, g.NX*g.NY, 900_000)
	assert.False(t, g.Open(racks))
	assert.True(t, g.Open(racks[:9_999]), "the last column")
}
