// Package chart is the frame of charts: axes with round ticks and the place of a value on the paper.
//
// The name of the upright axis stands above the frame, not turned, so that it is read without turning the head. Lengths are pt.
package chart

import (
	"math"

	"gonum.org/v1/plot/vg"

	"lampswap/photometry/number"
	"lampswap/plots/internal/pen"
)

// An Axis runs between two values, with ticks.
type Axis struct {
	Name     string // with its unit
	From, To float64
	Ticks    []float64
	Text     func(float64) string // how a tick is written
}

// NewAxis returns an axis that covers a range with at most so many intervals; its ends are round.
func NewAxis(name string, from, to float64, most int) Axis {
	a := Axis{Name: name, Text: number.Exact}
	if size := math.Max(math.Abs(from), math.Abs(to)); !(to-from > 1e-9*size) { // one value, but for rounding
		half := size / 10
		if half == 0 {
			half = 1
		}
		from, to = from-half, to+half
	}
	step := RoundUp((to - from) / float64(max(most, 1)))
	for {
		first, last := math.Floor(from/step+1e-9), math.Ceil(to/step-1e-9)
		if last-first <= float64(max(most, 2)) {
			for k := first; k <= last; k++ {
				a.Ticks = append(a.Ticks, Multiple(k, step))
			}
			break
		}
		step = RoundUp(step * 1.01)
	}
	a.From, a.To = a.Ticks[0], a.Ticks[len(a.Ticks)-1]
	return a
}

// Tight returns the axis with its ends at the values, and the ticks between them.
func (a Axis) Tight(from, to float64) Axis {
	a.From, a.To = from, to
	var ticks []float64
	slack := 1e-9 * (to - from)
	for _, t := range a.Ticks {
		if t >= from-slack && t <= to+slack {
			ticks = append(ticks, t)
		}
	}
	a.Ticks = ticks
	return a
}

// A Text stands beside a value, outward from it.
type Text struct {
	Value float64
	Width vg.Length
}

// WithRoom returns the axis with its ends so far out that texts left and right of values fit into a frame of that width, as far as they
// can: at most four fifths of the width are for texts.
func (a Axis) WithRoom(width vg.Length, left, right []Text) Axis {
	var before, after vg.Length
	for _, t := range left {
		before = max(before, t.Width)
	}
	for _, t := range right {
		after = max(after, t.Width)
	}
	share := 1.0
	if sum := before + after; sum > 0.8*width {
		share = float64(0.8 * width / sum)
	}
	from, to := a.From, a.To
	for range 60 { // each round is a share of the one before: 0.8^60 is not seen
		perPoint := share * (to - from) / float64(width)
		from, to = a.From, a.To
		for _, t := range left {
			from = math.Min(from, t.Value-float64(t.Width)*perPoint)
		}
		for _, t := range right {
			to = math.Max(to, t.Value+float64(t.Width)*perPoint)
		}
	}
	return a.Tight(from, to)
}

// thinned leaves out ticks until each has its room along an axis of that length.
func (a Axis) thinned(room func(string) vg.Length, length vg.Length) Axis {
	for n := len(a.Ticks) - 1; n > 0; n-- {
		var widest vg.Length
		for _, t := range a.Ticks {
			widest = max(widest, room(a.Text(t)))
		}
		step := vg.Length((a.Ticks[1] - a.Ticks[0]) / (a.To - a.From))
		if step*length >= widest {
			break
		}
		fewer := Ticks(a.Ticks[0], a.Ticks[len(a.Ticks)-1], n)
		if len(fewer) < 2 {
			a.Ticks = a.Ticks[:1]
			break
		}
		a.Ticks = fewer
	}
	return a
}

// Room between the parts of a frame, pt.
const (
	tick = 2.5
	gap  = 2.5
)

// A Frame maps values to the paper.
type Frame struct {
	vg.Rectangle
	X, Y   Axis
	room   vg.Rectangle
	across pen.Block // name of the axis across
	up     pen.Block // name of the upright axis
	rows   bool      // no upright axis: rows have names of their own
}

// Fit returns the frame with its axes in the room given: the numbers and names are outside of the frame and inside of the room.
func Fit(room vg.Rectangle, x, y Axis) Frame {
	f := fit(room, x, y)
	f.Y = y.thinned(func(string) vg.Length { return pen.Small.Size + 2 }, f.Max.Y-f.Min.Y)
	f.Min.X += f.widestNumber()
	f.fitAcross()
	return f
}

// FitRows returns the frame of a chart whose rows have names of their own: there is no upright axis, and values of y run from 0 at the
// bottom to 1 at the top.
func FitRows(room vg.Rectangle, x Axis) Frame {
	f := fit(room, x, Axis{To: 1, Text: number.Exact})
	f.rows = true
	f.fitAcross()
	return f
}

func fit(room vg.Rectangle, x, y Axis) Frame {
	f := Frame{Rectangle: room, X: x, Y: y, room: room}
	f.across, f.up = x.name(room.Max.X-room.Min.X), y.name(room.Max.X-room.Min.X)
	f.Min.Y += tick + gap + pen.LineHeight(pen.Small) + f.across.Height()
	f.Max.Y -= above(f.up)
	return f
}

func (a Axis) name(width vg.Length) pen.Block {
	return pen.NewBlock(pen.Small, pen.Soft, a.Name, width)
}

// above is the height of what is above a frame: at least half of the uppermost number.
func above(name pen.Block) vg.Length { return name.Height() + 4 }

// Around returns the height of what is above and below the frame in a room of that width.
func Around(x, y Axis, width vg.Length) vg.Length {
	f := fit(vg.Rectangle{Max: vg.Point{X: width}}, x, y)
	return f.Min.Y - f.Max.Y
}

// fitAcross leaves room for the halves of the outer numbers and drops those that would meet.
func (f *Frame) fitAcross() {
	f.X = f.X.thinned(func(s string) vg.Length { return pen.Width(pen.Small, s) + 6 }, f.Max.X-f.Min.X)
	if n := len(f.X.Ticks); n > 0 {
		half := pen.Width(pen.Small, f.X.Text(f.X.Ticks[n-1])) / 2
		rest := f.At(f.X.To, 0).X - f.At(f.X.Ticks[n-1], 0).X
		f.Max.X -= max(half-rest, 1)
		if f.rows {
			half = pen.Width(pen.Small, f.X.Text(f.X.Ticks[0])) / 2
			f.Min.X += max(half-(f.At(f.X.Ticks[0], 0).X-f.Min.X), 0)
		}
	}
}

// At returns the place of a pair of values.
func (f Frame) At(x, y float64) vg.Point {
	return vg.Point{
		X: f.Min.X + (f.Max.X-f.Min.X)*vg.Length((x-f.X.From)/(f.X.To-f.X.From)),
		Y: f.Min.Y + (f.Max.Y-f.Min.Y)*vg.Length((y-f.Y.From)/(f.Y.To-f.Y.From)),
	}
}

// Draw draws ticks, numbers, names and the grid lines of the upright axis; of the other where there is no upright one.
func (f Frame) Draw(c vg.Canvas) {
	for _, t := range f.Y.Ticks {
		y := f.At(0, t).Y
		pen.Stroke(c, pen.Pale, pen.Thin, nil, vg.Point{X: f.Min.X, Y: y}, vg.Point{X: f.Max.X, Y: y})
		pen.Stroke(c, pen.Soft, pen.Thin, nil, vg.Point{X: f.Min.X - tick, Y: y}, vg.Point{X: f.Min.X, Y: y})
		pen.Write(c, pen.Small, pen.Soft, vg.Point{X: f.Min.X - tick - gap + 0.5, Y: y - pen.CapHeight(pen.Small)/2}, pen.Right, f.Y.Text(t))
	}
	base := f.Min.Y - tick - gap - pen.CapHeight(pen.Small)
	for _, t := range f.X.Ticks {
		x := f.At(t, 0).X
		if f.rows {
			pen.Stroke(c, pen.Pale, pen.Thin, nil, vg.Point{X: x, Y: f.Min.Y}, vg.Point{X: x, Y: f.Max.Y})
		}
		pen.Stroke(c, pen.Soft, pen.Thin, nil, vg.Point{X: x, Y: f.Min.Y - tick}, vg.Point{X: x, Y: f.Min.Y})
		pen.Write(c, pen.Small, pen.Soft, vg.Point{X: x, Y: base}, pen.Centre, f.X.Text(t))
	}
	pen.Stroke(c, pen.Soft, pen.Thin, nil, f.Min, vg.Point{X: f.Max.X, Y: f.Min.Y})
	if !f.rows {
		pen.Stroke(c, pen.Soft, pen.Thin, nil, f.Min, vg.Point{X: f.Min.X, Y: f.Max.Y})
		f.up.Draw(c, f.room.Min.X, f.room.Max.Y)
	}
	base -= pen.LineHeight(pen.Small)
	for _, line := range f.across.Lines { // in the middle of the frame, or as near as the room allows
		half := pen.Width(pen.Small, line) / 2
		x := min(max((f.Min.X+f.Max.X)/2, f.room.Min.X+half), f.room.Max.X-half)
		pen.Write(c, pen.Small, pen.Soft, vg.Point{X: x, Y: base}, pen.Centre, line)
		base -= pen.LineHeight(pen.Small)
	}
}

func (f Frame) widestNumber() vg.Length {
	var widest vg.Length
	for _, t := range f.Y.Ticks {
		widest = max(widest, pen.Width(pen.Small, f.Y.Text(t)))
	}
	return widest + tick + gap
}
