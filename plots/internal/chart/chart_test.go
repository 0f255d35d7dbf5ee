package chart

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/plot/vg"
	"pgregory.net/rapid"
)

func TestAxisCoversWithRoundTicks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size := math.Pow(10, rapid.Float64Range(-12, 12).Draw(t, "size"))
		from := size * rapid.Float64Range(-1, 1).Draw(t, "from")
		to := from + size*rapid.Float64Range(0, 1).Draw(t, "range")
		most := rapid.IntRange(2, 12).Draw(t, "most")
		a := NewAxis("x", from, to, most)
		slack := 1e-6 * (a.To - a.From)
		if a.From > from+slack || a.To < to-slack {
			t.Fatalf("%v to %v does not cover %v to %v", a.From, a.To, from, to)
		}
		if n := len(a.Ticks); n < 2 || n > most+1 {
			t.Fatalf("%d ticks, at most %d intervals", n, most)
		}
		if math.Abs(a.Ticks[0]-a.From) > slack || math.Abs(a.Ticks[len(a.Ticks)-1]-a.To) > slack {
			t.Fatalf("ticks %v from %v to %v", a.Ticks, a.From, a.To)
		}
	})
}

func TestAxis(t *testing.T) {
	assert.Equal(t, []float64{0, 10, 20, 30, 40, 50}, NewAxis("", 0, 46, 6).Ticks)
	a := NewAxis("", 0, 5.5, 3).Tight(0, 5.5)
	assert.Equal(t, []float64{0, 2, 4}, a.Ticks, "no tick beyond the end")
	one := NewAxis("", 500, 500, 6)
	assert.True(t, one.From < 500 && one.To > 500, "one value has room on both sides")
}

func TestFrame(t *testing.T) {
	room := vg.Rectangle{Min: vg.Point{X: 10, Y: 20}, Max: vg.Point{X: 310, Y: 220}}
	f := Fit(room, NewAxis("Years", 0, 20, 10), NewAxis("Light", 0, 50, 5))
	assert.Equal(t, f.Min, f.At(0, 0))
	assert.Equal(t, f.Max, f.At(20, 50))
	assert.InDelta(t, float64(f.Min.X+f.Max.X)/2, float64(f.At(10, 0).X), 1e-9, "rounding")
	assert.True(t, f.Min.X > room.Min.X && f.Min.Y > room.Min.Y && f.Max.X < room.Max.X && f.Max.Y < room.Max.Y)
	assert.InDelta(t, float64(room.Max.Y-room.Min.Y-(f.Max.Y-f.Min.Y)), float64(Around(f.X, f.Y, 300)), 1e-9, "rounding")
	narrow := Fit(vg.Rectangle{Max: vg.Point{X: 60, Y: 60}}, NewAxis("", 0, 1e6, 10), NewAxis("", 0, 50, 10))
	assert.LessOrEqual(t, len(narrow.X.Ticks), 3, "numbers do not meet")
}

func TestWithRoom(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		const width = 300
		a := Axis{From: 0, To: 10}
		var left, right []Text
		for range rapid.IntRange(1, 5).Draw(t, "n") {
			left = append(left, Text{rapid.Float64Range(0, 5).Draw(t, "left"), vg.Length(rapid.Float64Range(0, 110).Draw(t, "width"))})
			right = append(right, Text{rapid.Float64Range(5, 10).Draw(t, "right"), vg.Length(rapid.Float64Range(0, 110).Draw(t, "width"))})
		}
		b := a.WithRoom(width, left, right)
		perPoint := (b.To - b.From) / width
		for i := range left {
			if left[i].Value-float64(left[i].Width)*perPoint < b.From-1e-4 || right[i].Value+float64(right[i].Width)*perPoint > b.To+1e-4 {
				t.Fatalf("texts leave the axis from %v to %v", b.From, b.To)
			}
		}
		if b.From > a.From || b.To < a.To {
			t.Fatalf("the axis from %v to %v shrank", b.From, b.To)
		}
	})
}
