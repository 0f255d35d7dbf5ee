package place

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/plot/vg"
	"pgregory.net/rapid"
)

func length(t *rapid.T, low, high float64, name string) vg.Length {
	return vg.Length(rapid.Float64Range(low, high).Draw(t, name))
}

func TestBesideTakesFreeRoom(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := &Ground{Frame: vg.Rectangle{Max: vg.Point{X: 200, Y: 100}}}
		var taken []Box
		for range rapid.IntRange(0, 20).Draw(t, "n") {
			at := vg.Point{X: length(t, 0, 200, "x"), Y: length(t, 0, 100, "y")}
			b, ok := g.Beside(at, 2, length(t, 1, 40, "width"), 6, 30)
			if !ok {
				continue
			}
			for _, o := range taken {
				if b.Overlaps(o) {
					t.Fatalf("%+v lies on %+v", b, o)
				}
			}
			for _, p := range b.Corners() {
				if p.X < 0 || p.X > 200 || p.Y < 0 || p.Y > 100 {
					t.Fatalf("%+v leaves the frame", b)
				}
			}
			taken = append(taken, b)
		}
	})
}

func TestBesideAvoidsLines(t *testing.T) {
	g := &Ground{Frame: vg.Rectangle{Max: vg.Point{X: 100, Y: 100}}}
	g.TakeLine(vg.Point{X: 50, Y: 50}, vg.Point{X: 100, Y: 50})
	b, ok := g.Beside(vg.Point{X: 50, Y: 50}, 2, 20, 5, 20)
	assert.True(t, ok)
	assert.Zero(t, g.Crossings(b), "not to the right, along the line")
	assert.False(t, g.Free(b), "the room is taken")

	full := &Ground{Frame: vg.Rectangle{Max: vg.Point{X: 10, Y: 10}}}
	_, ok = full.Beside(vg.Point{X: 5, Y: 5}, 2, 20, 5, 20)
	assert.False(t, ok, "no room")
}

func TestLeads(t *testing.T) {
	at := vg.Point{X: 10, Y: 10}
	_, _, ok := Leads(at, 2, Box{Centre: vg.Point{X: 20, Y: 10}, Width: 14, Height: 6})
	assert.False(t, ok, "close enough")
	from, to, ok := Leads(at, 2, Box{Centre: vg.Point{X: 50, Y: 10}, Width: 20, Height: 6})
	assert.True(t, ok)
	assert.InDelta(t, 12.5, float64(from.X), 1e-9, "from the edge of the mark")
	assert.InDelta(t, 38.5, float64(to.X), 1e-9, "to a little before the label")
}

func TestSpread(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(0, 6).Draw(t, "n")
		middles, heights := make([]vg.Length, n), make([]vg.Length, n)
		var sum vg.Length
		for i := range n {
			middles[i], heights[i] = length(t, -20, 120, "middle"), length(t, 5, 25, "height")
			sum += heights[i]
		}
		spread, ok := Spread(middles, heights, 0, 100)
		if ok != (sum <= 100) {
			t.Fatalf("labels of %v in all: %v", sum, ok)
		}
		for i := range spread {
			if spread[i]-heights[i]/2 < -1e-9 || spread[i]+heights[i]/2 > 100+1e-9 {
				t.Fatalf("label %d leaves: %v", i, spread)
			}
			for k := range i {
				apart := spread[i] - spread[k]
				if apart < 0 {
					apart = -apart
				}
				if apart < (heights[i]+heights[k])/2-1e-9 {
					t.Fatalf("labels %d and %d meet: %v", k, i, spread)
				}
				if middles[i] < middles[k] && spread[i] > spread[k] {
					t.Fatalf("labels %d and %d change places: %v", k, i, spread)
				}
			}
		}
	})
}

func TestSpreadLeavesWhatIsApart(t *testing.T) {
	spread, ok := Spread([]vg.Length{20, 80}, []vg.Length{10, 10}, 0, 100)
	assert.True(t, ok)
	assert.Equal(t, []vg.Length{20, 80}, spread)
}
