package survey

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lampswap/photometry/metrology"
	"lampswap/photometry/room"
)

// Two blocks of rows, invented: two rows of racks in each, 3 m of aisle between them, and open floor around.
var blocks = []room.Rack{
	{Corner: room.Vec{X: 4, Y: 3}, Size: room.Vec{X: 20, Y: 2, Z: 5}}, {Corner: room.Vec{X: 4, Y: 8}, Size: room.Vec{X: 20, Y: 2, Z: 5}},
	{Corner: room.Vec{X: 27, Y: 4}, Size: room.Vec{X: 20, Y: 2, Z: 5}}, {Corner: room.Vec{X: 27, Y: 10}, Size: room.Vec{X: 20, Y: 2, Z: 5}},
	{Corner: room.Vec{X: 1, Y: 1}, Size: room.Vec{X: 2, Y: 14, Z: 0.5}}, // a bench that one sees over
}

func TestAisles(t *testing.T) {
	r := room.Room{Length: 50, Width: 16, Height: 8, WorkPlane: 0.8}
	at := func(x0, y0, x1, y1, wide float64) Aisle {
		return Aisle{room.Vec{X: x0, Y: y0, Z: 0.8}, room.Vec{X: x1, Y: y1, Z: 0.8}, wide}
	}
	assert.Equal(t, []Aisle{at(4, 1.5, 24, 1.5, 3), at(4, 6.5, 24, 6.5, 3), at(4, 13, 24, 13, 6),
		at(27, 2, 47, 2, 4), at(27, 8, 47, 8, 4), at(27, 14, 47, 14, 4),
		at(2, 0, 2, 16, 4), at(25.5, 0, 25.5, 16, 3), at(48.5, 0, 48.5, 16, 3)}, Aisles(r, blocks, 0.8, 8))
	assert.Len(t, Aisles(r, blocks, 0.8, 3), 14, "wide ones have lines side by side")
	turned := room.Room{Length: 16, Width: 50, Height: 8}
	var other []room.Rack
	for _, k := range blocks {
		other = append(other, room.Rack{Corner: room.Vec{X: k.Corner.Y, Y: k.Corner.X}, Size: room.Vec{X: k.Size.Y, Y: k.Size.X, Z: k.Size.Z}})
	}
	for i, a := range Aisles(turned, other, 0.8, 8) {
		assert.Equal(t, Aisles(r, blocks, 0.8, 8)[i].From.X, a.From.Y, "the same, turned")
	}
	full := []room.Rack{{Corner: room.Vec{X: 0.1, Y: 0.1}, Size: room.Vec{X: 49.8, Y: 15.8, Z: 5}}}
	assert.Empty(t, Aisles(r, full, 0.8, 8), "nobody walks there")
}

func TestAislePlan(t *testing.T) {
	r := room.Room{Length: 50, Width: 16, Height: 8, WorkPlane: 0.8}
	aisles := Aisles(r, blocks, 0.8, 8)
	p := AislePlan(r, aisles, blocks, Walk{Height: 6})
	assert.True(t, p.Sampled)
	assert.Equal(t, "a sample of points", p.Words())
	assert.Len(t, p.Stations, 6*4+3*3, "20 m in parts of at most 6 m, and 16 m")
	assert.Equal(t, "g1-1", p.Stations[0].Name)
	assert.Equal(t, room.Vec{X: 6.5, Y: 1.5, Z: 0.8}, p.Stations[0].Position)
	assert.Equal(t, "g2-4", p.Stations[4].Name, "back again in the next aisle")
	few := AislePlan(r, aisles, blocks, Walk{Height: 6, Stations: 20})
	assert.LessOrEqual(t, len(few.Stations), 20)
	assert.GreaterOrEqual(t, len(few.Stations), 18)
	fewer := AislePlan(r, aisles, blocks, Walk{Height: 6, Stations: 8})
	assert.Len(t, fewer.Stations, 8)
	assert.Equal(t, Note{Code: SomeAisles, Count: 4, All: 9, Dead: 1, Share: metrology.Seen(9, 1, 4)}, fewer.Notes[0])
	assert.InDelta(t, 0.44, fewer.Notes[0].Share, 0.005)
	assert.Len(t, AislePlan(r, aisles, blocks, Walk{Height: 6, Spacing: 2}).Stations, 6*10+3*8)
	in := AislePlan(r, aisles[:1], blocks, Walk{Height: 6, Lattice: &Lattice{Length: 50, Width: 16, Rows: 2, Columns: 10}})
	assert.Len(t, in.Stations, 5, "not four, 5 m apart as the luminaires")
	in = AislePlan(r, aisles[:1], blocks, Walk{Height: 6, Stations: 4, Lattice: &Lattice{Length: 50, Width: 16, Rows: 2, Columns: 10}})
	assert.LessOrEqual(t, len(in.Stations), 4, "unless so few are asked for")
}

// Wherever racks stand: stations lie in the room, a foot clear of every rack, no more than asked for, each with a name and a key of its own.
func TestWalkedStationsAreClear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := room.Room{Length: rapid.Float64Range(5, 200).Draw(t, "length"), Width: rapid.Float64Range(5, 100).Draw(t, "width"), Height: 8, WorkPlane: 0.8}
		var racks []room.Rack
		for range rapid.IntRange(1, 12).Draw(t, "racks") {
			x, y := rapid.Float64Range(0, 0.9*r.Length).Draw(t, "x"), rapid.Float64Range(0, 0.9*r.Width).Draw(t, "y")
			racks = append(racks, room.Rack{Corner: room.Vec{X: x, Y: y}, Size: room.Vec{X: rapid.Float64Range(0.1, r.Length-x).Draw(t, "long"),
				Y: rapid.Float64Range(0.1, r.Width-y).Draw(t, "deep"), Z: rapid.Float64Range(0.2, 6).Draw(t, "high")}})
		}
		w := Walk{Height: rapid.Float64Range(0.3, 12).Draw(t, "above"), Stations: rapid.IntRange(2, 200).Draw(t, "stations")}
		p := AislePlan(r, Aisles(r, racks, r.WorkPlane, 2*w.Height), racks, w)
		require.LessOrEqual(t, len(p.Stations), max(w.Stations, leastInAisle))
		seen := map[string]bool{}
		for _, s := range p.Stations {
			require.False(t, nearRack(racks, s.Position), s.Name)
			require.True(t, s.Position.X >= 0 && s.Position.X <= r.Length && s.Position.Y >= 0 && s.Position.Y <= r.Width, s.Name)
			require.False(t, seen[s.Name], s.Name)
			seen[s.Name] = true
		}
	})
}

func TestFacePoints(t *testing.T) {
	g, err := room.VerticalGrid("face", room.Vec{X: 2, Y: 4}, room.Vec{X: 32, Y: 4}, 0.5, 5, math.Pi/2, 0.3)
	require.NoError(t, err)
	f := FacePoints(g, 6)
	assert.Equal(t, [2]int{5, 3}, [2]int{f.NX, f.NY})
	assert.InDelta(t, 0.5+0.75, f.Point(0, 0).Z, 1e-12)
	assert.InDelta(t, 5, f.Point(0, 0).X, 1e-12)
	assert.Equal(t, 7, FacePoints(g, 1).NX)
	assert.Equal(t, 3, FacePoints(g, 100).NX)
}

// A hall of 12 by 30 luminaires has 319 bays; of 32 dead ones among them one is seen with 91 percent by 22, with less than 90 by 21. Its average is still that of the
// formula, as bays in their middle stand for each other.
func TestBaysOfALargeHall(t *testing.T) {
	l := Lattice{Length: 150, Width: 60, WorkPlane: 0.8, Rows: 12, Columns: 30}
	plain := plan(t, l)
	p := plain.WithBays(l, 0)
	assert.Len(t, p.Stations, 18+22)
	assert.Equal(t, p, plain.WithBays(l, 0), "the same bays each time")
	assert.Equal(t, Note{Code: SomeBays, Count: 22, All: 319, Dead: 32, Share: metrology.Seen(319, 32, 22)}, p.Notes[len(p.Notes)-1])
	assert.InDelta(t, 0.91, p.Notes[len(p.Notes)-1].Share, 0.005)
	values := map[string]float64{}
	for _, s := range p.Stations {
		values[s.Name] = 100 + s.Position.X
	}
	a, err := p.Average(values)
	require.NoError(t, err)
	sum := 0.0
	for _, w := range a.Weights {
		sum += w
	}
	assert.InEpsilon(t, 1, sum, rounding)
	small := Lattice{Length: 50, Width: 24, WorkPlane: 0.8, Rows: 4, Columns: 5}
	assert.Equal(t, plan(t, small), plan(t, small).WithBays(small, 0))
	assert.Len(t, plan(t, small).WithBays(small, 6).Stations, 24)
	walked := p.Walked()
	assert.Len(t, walked.Stations, len(p.Stations))
	length := func(p Plan) float64 {
		sum := 0.0
		for i := 1; i < len(p.Stations); i++ {
			sum += inPlan(p.Stations[i].Position, p.Stations[i-1].Position)
		}
		return sum
	}
	assert.Less(t, length(walked), length(p))
	square := []Station{{Name: "a", Position: room.Vec{X: 1, Y: 1}}, {Name: "b", Position: room.Vec{X: 9, Y: 9}}, {Name: "c", Position: room.Vec{X: 1, Y: 9}},
		{Name: "d", Position: room.Vec{X: 9, Y: 1}}}
	shorten(square)
	assert.InDelta(t, 24, length(Plan{Stations: square}), 1e-9, "three sides, not the diagonals")
	assert.True(t, strings.HasPrefix(walked.Stations[0].Name, "p"), "from the corner")
	var bays []string
	for _, s := range walked.Stations {
		if s.Name[0] == 'b' {
			bays = append(bays, s.Name)
		}
	}
	assert.Equal(t, "b1", bays[0])
	assert.Equal(t, "b22", bays[21])
}
