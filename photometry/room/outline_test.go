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

func outline(places ...float64) room.Outline {
	var o room.Outline
	for i := 0; i < len(places); i += 2 {
		o = append(o, room.Vec{X: places[i], Y: places[i+1]})
	}
	return o
}

var (
	ell    = outline(0, 0, 10, 0, 10, 4, 6, 4, 6, 9, 0, 9)
	tee    = outline(0, 6, 0, 9, 10, 9, 10, 6, 7, 6, 7, 0, 3, 0, 3, 6)
	you    = outline(0, 0, 12, 0, 12, 8, 9, 8, 9, 3, 3, 3, 3, 8, 0, 8)
	alcove = outline(0, 0, 10, 0, 10, 5, 6, 5, 6, 5.6, 4, 5.6, 4, 5, 0, 5)
)

// The area is the sum of the rectangles into which a hand cuts the plan, the perimeter the sum of its walls.
func TestAreaAndPerimeterOfOutlines(t *testing.T) {
	for name, c := range map[string]struct {
		outline         room.Outline
		area, perimeter float64
		blocks          int
	}{
		"rectangle":            {outline(0, 0, 10, 0, 10, 8, 0, 8), 80, 36, 0},
		"with a corner more":   {outline(0, 0, 4, 0, 10, 0, 10, 8, 0, 8), 80, 36, 0},
		"L":                    {ell, 10*4 + 6*5, 38, 1},
		"T":                    {tee, 10*3 + 4*6, 38, 2},
		"U":                    {you, 12*3 + 2*3*5, 50, 1},
		"an alcove":            {alcove, 10*5 + 2*0.6, 31.2, 2},
		"away from the origin": {outline(2, 1, 6, 1, 6, 5, 2, 5), 16, 16, 2},
	} {
		x, y := c.outline.Extent()
		r := room.Room{Length: x, Width: y, Height: 3, Outline: c.outline}
		assert.InDelta(t, c.area, r.Area(), 1e-12, name)
		assert.InDelta(t, c.perimeter, r.Perimeter(), 1e-12, name)
		assert.Len(t, r.Outside(), c.blocks, name)
		back := slices.Clone(c.outline)
		slices.Reverse(back)
		assert.InDelta(t, c.area, back.Area(), 1e-12, "%s, the other way round", name)
		again := slices.Concat(c.outline[2:], c.outline[:2])
		assert.InDelta(t, c.area, again.Area(), 1e-12, "%s, from another corner", name)
		l, w := r.Rectangle()
		assert.InDelta(t, c.area, l*w, 1e-9, name)
		assert.InDelta(t, c.perimeter, 2*(l+w), 1e-9, name)
	}
	box := room.Room{Length: 10, Width: 8, Height: 3}
	assert.Equal(t, []float64{80, 36}, []float64{box.Area(), box.Perimeter()})
	assert.Empty(t, box.Boxes(nil))
}

// drawnOutline is a plan of columns side by side that open into each other.
func drawnOutline(t *rapid.T) room.Outline {
	whole := rapid.IntRange
	n := whole(1, 5).Draw(t, "columns")
	var below, above room.Outline
	low, x := whole(0, 3).Draw(t, "low"), whole(0, 2).Draw(t, "x")
	high := low + whole(1, 6).Draw(t, "high")
	for i := range n {
		if i > 0 {
			low = whole(0, high-1).Draw(t, "low")
			high = max(low, int(below[len(below)-1].Y)) + whole(1, 6).Draw(t, "high")
		}
		end := x + whole(1, 4).Draw(t, "wide")
		below = append(below, room.Vec{X: float64(x), Y: float64(low)}, room.Vec{X: float64(end), Y: float64(low)})
		above = append(
			above,
			room.Vec{X: float64(x), Y: float64(high)},
			room.Vec{X: float64(end), Y: float64(high)},
		)
		x = end
	}
	slices.Reverse(above)
	o := slices.Compact(append(below, above...))
	if rapid.Bool().Draw(t, "reversed") {
		slices.Reverse(o)
	}
	turn := whole(0, len(o)-1).Draw(t, "first")
	return slices.Concat(o[turn:], o[:turn])
}

// Of length by width each place is in the outline or in one block outside, and their areas add up.
func TestOutsideIsTheRest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := drawnOutline(t)
		i, j, crosses := o.Crossing()
		require.False(t, crosses, "sides %d and %d of %v", i, j, o)
		x, y := o.Extent()
		r := room.Room{
			Length:      x + float64(rapid.IntRange(0, 1).Draw(t, "beyond")),
			Width:       y,
			Height:      3,
			Outline:     o,
			Reflectance: room.Reflectances{Walls: 0.4},
		}
		sum := r.Area()
		for _, b := range r.Outside() {
			sum += b.Size.X * b.Size.Y
			require.Equal(t, [3]float64{0, 3, 0.4}, [3]float64{b.Corner.Z, b.Size.Z, b.Reflectance})
			require.True(t, b.Outside)
		}
		require.InDelta(t, r.Length*r.Width, sum, 1e-9)
		g := r.WorkPlaneGrid(0.5)
		for i := range g.NX * g.NY {
			p, n := g.Point(i%g.NX, i/g.NX), 0
			for _, b := range r.Outside() {
				if b.Contains(p) {
					n++
				}
			}
			if r.Holds(p) {
				n++
			}
			require.Equal(t, 1, n, "%v of %v", p, o)
		}
		l, w := r.Rectangle()
		require.InEpsilon(t, r.Area(), l*w, 1e-9)
		require.InEpsilon(t, r.Perimeter(), 2*(l+w), 1e-9)
		require.False(t, math.IsNaN(l+w))
	})
}

// Luminaires that are spread over an outline all hang in it, as many as asked for, and each part of it has
// its share of them.
func TestSpreadInAnOutline(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := drawnOutline(t)
		x, y := o.Extent()
		n := rapid.IntRange(1, 300).Draw(t, "luminaires")
		places := o.Spread(room.Box{High: room.Vec{X: x, Y: y}}, n, 3, 0)
		require.Len(t, places, n)
		for _, p := range places {
			require.True(t, o.Holds(p.Position), "%v of %v", p.Position, o)
			require.Equal(t, 3.0, p.Position.Z)
		}
	})
	r := room.Room{Outline: ell}
	arm := 0
	for _, p := range ell.Spread(room.Box{High: room.Vec{X: 10, Y: 9}}, 140, 3, 0) {
		if p.Position.Y > 4 {
			arm++
		}
	}
	assert.InDelta(t, 140*30/r.Area(), arm, 5)
	part := ell.Spread(room.Box{Low: room.Vec{X: 5, Y: 2}, High: room.Vec{X: 10, Y: 9}}, 9, 3, 0)
	assert.Len(t, part, 9)
	assert.Empty(
		t,
		ell.Spread(room.Box{Low: room.Vec{X: 7, Y: 5}, High: room.Vec{X: 10, Y: 9}}, 9, 3, 0),
		"outside",
	)
	assert.Len(
		t,
		you.Spread(room.Box{Low: room.Vec{X: 4, Y: 1}, High: room.Vec{X: 8, Y: 8}}, 1, 3, 0),
		1,
		"the middle of it lies outside",
	)
}

func TestHoldsItsWalls(t *testing.T) {
	r := room.Room{Length: 10, Width: 9, Outline: ell}
	for _, p := range []room.Vec{{}, {X: 10, Y: 4}, {X: 6, Y: 6}, {X: 8, Y: 4}, {X: 6, Y: 4}, {X: 3, Y: 9}} {
		assert.True(t, r.Holds(p), "%v", p)
	}
	for _, p := range []room.Vec{{X: 6.1, Y: 6}, {X: 8, Y: 4.1}, {X: 10, Y: 9}, {X: -0.1, Y: 3},
		{X: 3, Y: 9.1}, {X: 10.1, Y: 3}} {
		assert.False(t, r.Holds(p), "%v", p)
		assert.False(
			t,
			p.X <= 10 && p.Y <= 9 && p.X >= 0 && !slices.ContainsFunc(r.Outside(), func(b room.Rack) bool {
				return p.X >= b.Corner.X && p.X <= b.Far().X && p.Y >= b.Corner.Y && p.Y <= b.Far().Y
			}),
			"%v",
			p,
		)
	}
	assert.True(t, room.Room{Length: 10, Width: 9}.Holds(room.Vec{X: 10, Y: 9}))
	assert.False(t, room.Room{Length: 10, Width: 9}.Holds(room.Vec{X: 10.1, Y: 9}))
}

func TestCrossing(t *testing.T) {
	for name, c := range map[string]struct {
		outline room.Outline
		i, j    int
	}{
		"a bow tie":               {outline(0, 0, 4, 0, 4, 4, 2, 4, 2, -1, 0, -1), 0, 3},
		"turns back":              {outline(0, 0, 4, 0, 2, 0, 2, 4, 0, 4), 0, 1},
		"touches a side":          {outline(0, 0, 6, 0, 6, 4, 3, 4, 3, 0, 2, 0, 2, 4, 0, 4), 0, 3},
		"touches at a corner":     {outline(0, 0, 4, 0, 4, 4, 8, 4, 8, 8, 4, 8, 4, 4, 0, 4), 1, 2},
		"the last with the first": {outline(0, 0, 4, 0, 4, 4, 2, 4, 2, 0), 0, 3},
	} {
		i, j, crosses := c.outline.Crossing()
		assert.True(t, crosses, name)
		if name != "touches at a corner" {
			assert.Equal(t, []int{c.i, c.j}, []int{i, j}, name)
		}
	}
}
