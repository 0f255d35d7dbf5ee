package plots

import (
	"math"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"lampswap/photometry"
	"lampswap/photometry/number"
	"lampswap/plots/internal/chart"
	"lampswap/plots/internal/pen"
)

// Effects shows which input matters most: a bar for each from the result at its low value to that at its high value, around the result
// as computed. The part towards the low value is hollow, that towards the high value filled. Bars stand in the order given.
type Effects struct {
	Title, Subtitle, Caption string
	Quantity                 string  // name of the result; "" is "Maintained average"
	Central                  float64 // the result as computed: lx, or in Unit
	Effects                  []Effect
	Unit                     string // "" is lx, shown as fc if imperial; any other is shown as given
	Imperial                 bool
}

// An Effect is the result with one input at its ends and all others as computed.
type Effect struct {
	Name      string
	Input     string  // the range of the input, such as "0.85 to 0.95"; may be empty
	Low, High float64 // the result at the low and the high end of the input; not finite is unknown
}

// resolved gives the result its name.
func (e Effects) resolved() Effects {
	if e.Quantity == "" {
		e.Quantity = "Maintained average"
	}
	return e
}

func (e Effects) unit() unit {
	if e.Unit != "" {
		return unit{pen.Clean(e.Unit), 1}
	}
	return illuminanceUnit(e.Imperial)
}

func (e Effects) rows(width vg.Length) chart.Rows {
	var names, details []string
	for _, f := range e.Effects {
		names, details = append(names, f.Name), append(details, f.Input)
	}
	return chart.NewRows(width, 0.36, 9, names, details)
}

// axis covers the ends of all the bars.
func (e Effects) axis() chart.Axis {
	u := e.unit()
	low, high := math.Inf(1), math.Inf(-1)
	note := func(v float64) {
		if photometry.Finite(v) {
			low, high = math.Min(low, v/u.size), math.Max(high, v/u.size)
		}
	}
	note(e.Central)
	for _, f := range e.Effects {
		if photometry.Finite(f.Low, f.High) {
			note(f.Low)
			note(f.High)
		}
	}
	if low > high {
		low, high = 0, 1
	}
	return chart.NewAxis(pen.Clean(e.Quantity)+" ("+u.name+")", low, high, 8)
}

func (e Effects) texts(width vg.Length) chart.Texts {
	if len(e.Effects) == 0 {
		return chart.NewTexts(width, e.Title, e.Subtitle, e.Caption, nil, "No inputs.")
	}
	samples := []chart.Sample{chart.BoxSample("input at its low end", drawLow), chart.BoxSample("at its high end", drawHigh)}
	if photometry.Finite(e.Central) {
		u := e.unit()
		const half = chart.SampleHeight/2 + 1
		text := "as computed: " + number.Reading(e.Central/u.size) + " " + u.name
		samples = append(samples, chart.Sample{Width: 3, Text: text, Draw: func(c vg.Canvas, m vg.Point) {
			pen.Stroke(c, pen.Ink, pen.Medium, nil, vg.Point{X: m.X, Y: m.Y - half}, vg.Point{X: m.X, Y: m.Y + half})
		}})
	}
	return chart.NewTexts(width, e.Title, e.Subtitle, e.Caption, samples)
}

func drawLow(c vg.Canvas, r vg.Rectangle) {
	pen.Fill(c, pen.White, pen.Corners(r)...)
	pen.Outline(c, pen.Blue, pen.Medium, pen.Corners(r)...)
}

func drawHigh(c vg.Canvas, r vg.Rectangle) {
	pen.Fill(c, pen.Blue, pen.Corners(r)...)
	pen.Outline(c, pen.Blue, pen.Medium, pen.Corners(r)...)
}

// Height returns the height that the bars need.
func (e Effects) Height(width vg.Length) vg.Length { return rowsHeight(e.resolved(), width) }

// LeastHeight is the height: the names of the bars need it.
func (e Effects) LeastHeight(width vg.Length) vg.Length { return e.Height(width) }

// Draw draws the chart into the whole of the canvas.
func (e Effects) Draw(c draw.Canvas) {
	e = e.resolved()
	c, f, middles, least := layRows(e, c)
	u := e.unit()
	half := min(4.5, least/2)
	for i, b := range e.Effects {
		e.drawBar(c, f, b, middles[i], half)
	}
	if photometry.Finite(e.Central) {
		f.Upright(c, e.Central/u.size)
	}
}

// spaced returns the axis with room for the values beside the bars, in a frame about so wide. It ends where the bars do, or their texts.
func (e Effects) spaced(width vg.Length) chart.Axis {
	a, u := e.axis(), e.unit()
	low, high := a.To, a.From
	var left, right []chart.Text
	for _, f := range e.Effects {
		if !photometry.Finite(f.Low, f.High, e.Central) {
			continue
		}
		first, last := math.Min(e.Central, math.Min(f.Low, f.High))/u.size, math.Max(e.Central, math.Max(f.Low, f.High))/u.size
		low, high = math.Min(low, first), math.Max(high, last)
		below, above := e.ends(f)
		left = append(left, chart.Text{Value: first, Width: pen.Width(pen.Small, below) + valueGap + 1})
		right = append(right, chart.Text{Value: last, Width: pen.Width(pen.Small, above) + valueGap + 1})
	}
	if low >= high {
		return a
	}
	spaced := a.Tight(low, high).WithRoom(width, left, right)
	return a.Tight(spaced.From, spaced.To)
}

const valueGap vg.Length = 3

// drawBar draws the two parts of a bar, the longer first where both lie on one side, with the results at its ends.
func (e Effects) drawBar(c vg.Canvas, f chart.Frame, b Effect, y, half vg.Length) {
	u := e.unit()
	if !photometry.Finite(b.Low, b.High, e.Central) {
		at := f.Min
		if photometry.Finite(e.Central) {
			at = f.At(e.Central/u.size, 0)
		}
		chart.WriteOver(c, pen.Small, pen.Soft, vg.Point{X: at.X + valueGap, Y: y - pen.CapHeight(pen.Small)/2}, pen.Left, "unknown")
		return
	}
	part := func(v float64) vg.Rectangle {
		from, to := f.At(e.Central/u.size, 0).X, f.At(v/u.size, 0).X
		return vg.Rectangle{Min: vg.Point{X: min(from, to), Y: y - half}, Max: vg.Point{X: max(from, to), Y: y + half}}
	}
	low, high := part(b.Low), part(b.High)
	if high.Max.X-high.Min.X > low.Max.X-low.Min.X {
		drawHigh(c, high)
		drawLow(c, low)
	} else {
		drawLow(c, low)
		drawHigh(c, high)
	}
	base := y - pen.CapHeight(pen.Small)/2
	below, above := e.ends(b)
	if below != "" {
		chart.WriteOver(c, pen.Small, pen.Ink, vg.Point{X: min(low.Min.X, high.Min.X) - valueGap, Y: base}, pen.Right, below)
	}
	if above != "" {
		chart.WriteOver(c, pen.Small, pen.Ink, vg.Point{X: max(low.Max.X, high.Max.X) + valueGap, Y: base}, pen.Left, above)
	}
}

// ends returns the results that are written below and above the result as computed: one on each side, or both on one.
func (e Effects) ends(b Effect) (below, above string) {
	u := e.unit()
	first, last := math.Min(b.Low, b.High), math.Max(b.Low, b.High)
	low, high := number.Reading(first/u.size), number.Reading(last/u.size)
	switch {
	case low == high && last < e.Central:
		return low, ""
	case low == high:
		return "", high
	case last < e.Central:
		return low + " and " + high, ""
	case first > e.Central:
		return "", low + " and " + high
	}
	return low, high
}

// Describe names the inputs in the order given, with the results at their ends.
func (e Effects) Describe() string {
	e = e.resolved()
	u := e.unit()
	parts := []string{opening("Chart", e.Title, "which input matters most")}
	for _, f := range e.Effects {
		if photometry.Finite(f.Low, f.High) {
			parts = append(parts, f.Name+": "+number.Reading(f.Low/u.size)+" to "+number.Reading(f.High/u.size)+" "+u.name+".")
		}
	}
	return strings.Join(parts, " ")
}
