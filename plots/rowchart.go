package plots

import (
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"lampswap/plots/internal/chart"
	"lampswap/plots/internal/pen"
)

// A rowChart is a figure of named rows, each with a bar along one axis: Bars, Effects and Cash.
type rowChart interface {
	texts(width vg.Length) chart.Texts
	axis() chart.Axis
	rows(width vg.Length) chart.Rows
	spaced(width vg.Length) chart.Axis // the axis with room for what stands beside the bars
}

// rowsHeight returns the height that the rows need, no less: their names must be read.
func rowsHeight(r rowChart, width vg.Length) vg.Length {
	width -= 2 * pen.Margin
	return r.texts(width).Height() + chart.Around(r.axis(), chart.Axis{}, width) + r.rows(width).Height() + 2*pen.Margin
}

// layRows draws texts, names and axis, and returns the frame of the bars, the middle of each and what a row has at least, as drawn.
func layRows(r rowChart, c draw.Canvas) (inner draw.Canvas, f chart.Frame, middles []vg.Length, least vg.Length) {
	inner = pen.Inset(pen.AtLeast(c, rowsHeight(r, c.Max.X-c.Min.X)))
	width := inner.Max.X - inner.Min.X
	rows := r.rows(width)
	f, middles = rows.Lay(inner, r.texts(width).Draw(inner, inner.Rectangle), r.spaced)
	return inner, f, middles, rows.Least * (f.Max.Y - f.Min.Y) / max(rows.Height(), 1)
}
