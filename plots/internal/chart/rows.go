package chart

import (
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"lampswap/plots/internal/pen"
)

// Rows are the names of a chart of horizontal bars, in a column left of the frame: a name and, softer, what goes with it.
type Rows struct {
	names, details []pen.Block
	Width          vg.Length // of the column
	Least          vg.Length // height of a row
}

// RowGap is the room between the names and the frame, and between rows, pt.
const RowGap vg.Length = 8

// NewRows breaks names and details into lines of at most a share of the width of the figure.
func NewRows(width vg.Length, share vg.Length, least vg.Length, names, details []string) Rows {
	r := Rows{Least: least}
	for i := range names {
		name, detail := pen.NewBlock(pen.Small, pen.Ink, names[i], share*width), pen.NewBlock(pen.Tiny, pen.Soft, details[i], share*width)
		r.names, r.details = append(r.names, name), append(r.details, detail)
		for _, line := range name.Lines {
			r.Width = max(r.Width, pen.Width(pen.Small, line))
		}
		for _, line := range detail.Lines {
			r.Width = max(r.Width, pen.Width(pen.Tiny, line))
		}
	}
	return r
}

// heightOf returns the height that a row needs.
func (r Rows) heightOf(i int) vg.Length {
	return max(r.Least, r.names[i].Height()+r.details[i].Height()) + RowGap
}

// Height returns the height that all the rows need.
func (r Rows) Height() vg.Length {
	var h vg.Length
	for i := range r.names {
		h += r.heightOf(i)
	}
	return max(h, r.Least+RowGap)
}

// Middles returns the middle of each row between a top and a bottom: rows share what room there is more or less than they need.
func (r Rows) Middles(top, bottom vg.Length) []vg.Length {
	middles := make([]vg.Length, len(r.names))
	share := (top - bottom) / r.Height()
	for i := range middles {
		h := share * r.heightOf(i)
		middles[i] = top - h/2
		top -= h
	}
	return middles
}

// Lay draws the names and the frame beside them into a room, with the axis that the frame's width asks for. It returns the frame and the
// middle of each row.
func (r Rows) Lay(c draw.Canvas, room vg.Rectangle, axis func(width vg.Length) Axis) (f Frame, middles []vg.Length) {
	if r.Width > 0 {
		room.Min.X += r.Width + RowGap
	}
	f = FitRows(room, axis(room.Max.X-room.Min.X))
	f.Draw(c)
	middles = r.Middles(f.Max.Y, f.Min.Y)
	r.Draw(c, f.Min.X, middles)
	return f, middles
}

// Upright draws a line at a value from the bottom of the frame to its top.
func (f Frame) Upright(c vg.Canvas, value float64) {
	x := f.At(value, 0).X
	pen.Stroke(c, pen.Ink, pen.Medium, nil, vg.Point{X: x, Y: f.Min.Y}, vg.Point{X: x, Y: f.Max.Y})
}

// Draw writes the names, right aligned against the frame.
func (r Rows) Draw(c vg.Canvas, right vg.Length, middles []vg.Length) {
	for i, y := range middles {
		y += (r.names[i].Height() + r.details[i].Height()) / 2
		for _, b := range []pen.Block{r.names[i], r.details[i]} {
			y -= b.DrawRight(c, right-RowGap, y)
		}
	}
}
