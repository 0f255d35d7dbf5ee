package plots

import (
	"fmt"
	"image/color"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"lampswap/plots/internal/chart"
	"lampswap/plots/internal/number"
	"lampswap/plots/internal/pen"
	"lampswap/plots/internal/place"
)

// Histogram shows how a computed result scatters when the inputs vary within their tolerances: the share of the draws in each step of
// light, the interval that holds most of them, and the levels that are asked for, with the share of the draws that reach each.
//
// Steps are about as wide as the rule of Freedman and Diaconis asks, twice the interquartile range over the cube root of the number of
// draws, made round.
type Histogram struct {
	Title, Subtitle, Caption string
	Quantity                 string    // name of the result; "" is "Maintained average"
	Samples                  []float64 // one result a draw, lx; those that are not finite do not count
	Low, High                float64   // ends of the interval, lx; both 0 is none
	Confidence               float64   // share of the draws in the interval, such as 0.95
	Central                  float64   // the result as computed, lx; 0 is none
	Levels                   []Level
	Imperial                 bool // fc on the paper, else lx
}

// bins are the shares of the draws, percent, between from, from+step, ..., in the units of the paper.
type bins struct {
	from, step float64
	shares     []float64
}

// resolved keeps the samples that can be drawn, in order.
func (h Histogram) resolved() Histogram {
	if h.Quantity == "" {
		h.Quantity = "Maintained average"
	}
	h.Levels = finiteLevels(h.Levels)
	samples := slices.DeleteFunc(slices.Clone(h.Samples), func(v float64) bool { return !finite(v) })
	slices.Sort(samples)
	h.Samples = samples
	return h
}

func (h Histogram) interval() bool { return h.Low < h.High && finite(h.Low, h.High) }

// bins counts the samples.
func (h Histogram) bins() bins {
	const mostBins = 60
	u := illuminanceUnit(h.Imperial).size
	n := len(h.Samples)
	if n == 0 {
		return bins{step: 1}
	}
	low, high := h.Samples[0]/u, h.Samples[n-1]/u
	width := 2 * (h.Samples[3*n/4] - h.Samples[n/4]) / u / math.Cbrt(float64(n))
	width = math.Max(width, (high-low)/mostBins)
	if size := math.Max(math.Abs(low), math.Abs(high)); width <= 1e-9*size { // all alike
		width = math.Max(size/50, math.SmallestNonzeroFloat32)
	}
	b := bins{step: number.RoundUp(width)}
	first := math.Floor(low/b.step + 1e-9)
	b.from = number.Multiple(first, b.step)
	b.shares = make([]float64, int(math.Floor(high/b.step+1e-9)-first)+1)
	for _, v := range h.Samples {
		i := int(math.Floor(v/u/b.step+1e-9) - first)
		b.shares[min(max(i, 0), len(b.shares)-1)] += 100 / float64(n)
	}
	return b
}

// metShare returns the share of the draws that reach a level.
func (h Histogram) metShare(level float64) float64 {
	floor := level * (1 - 1e-9)
	i, _ := slices.BinarySearch(h.Samples, floor)
	return float64(len(h.Samples)-i) / float64(len(h.Samples))
}

// percent formats a share, so that neither none nor all is said unless it is so.
func percent(share float64) string {
	p := 100 * share
	switch {
	case p > 0 && p < 0.1:
		return "less than 0.1 %"
	case p < 100 && p > 99.9:
		return "more than 99.9 %"
	case p > 0 && p < 1, p < 100 && p > 99:
		return fmt.Sprintf("%.1f %%", p)
	}
	return fmt.Sprintf("%.0f %%", p)
}

// sentences say what the figure shows.
func (h Histogram) sentences() []string {
	if len(h.Samples) == 0 {
		return []string{"No draws."}
	}
	u := illuminanceUnit(h.Imperial)
	var sentences []string
	if h.interval() {
		s := fmt.Sprintf("%s of %s draws lie between %s and %s %s", percent(h.Confidence), number.Exact(float64(len(h.Samples))),
			number.Reading(h.Low/u.size), number.Reading(h.High/u.size), u.name)
		if h.Central != 0 && finite(h.Central) {
			s += fmt.Sprintf("; as computed, at the triangle, it is %s %s", number.Reading(h.Central/u.size), u.name)
		}
		sentences = append(sentences, s+".")
	}
	for _, l := range h.Levels {
		s := l.amount(h.Imperial)
		if l.Name != "" {
			s += " (" + pen.Clean(l.Name) + ")"
		}
		sentences = append(sentences, fmt.Sprintf("%s is reached in %s of the draws.", s, percent(h.metShare(l.Value))))
	}
	return sentences
}

// Lines of text above the bars: the interval and the levels.
const laneHeight vg.Length = 12

func (h Histogram) lanes() int {
	lanes := min(len(h.Levels), 4)
	if h.interval() {
		lanes++
	}
	return lanes
}

// axes covers the bars, the interval and the levels. The upright axis ends at the tallest bar; the lanes are above it.
func (h Histogram) axes(b bins) (across, up chart.Axis) {
	u := illuminanceUnit(h.Imperial)
	low, high := b.from, b.from+b.step*float64(len(b.shares))
	if len(b.shares) == 0 {
		high = 1
	}
	note := func(v float64) { low, high = math.Min(low, v/u.size), math.Max(high, v/u.size) }
	if h.interval() {
		note(h.Low)
		note(h.High)
	}
	for _, l := range h.Levels {
		note(l.Value)
	}
	if h.Central != 0 && finite(h.Central) {
		note(h.Central)
	}
	tallest := 1.0
	if len(b.shares) > 0 {
		tallest = slices.Max(b.shares)
	}
	room := (high - low) * 0.04
	from, to := low-room, high+room
	if low >= 0 {
		from = math.Max(from, 0)
	}
	across = chart.NewAxis(pen.Clean(h.Quantity)+" ("+u.name+")", from, to, 8).Tight(from, to)
	return across, chart.NewAxis("Share of the draws (%)", 0, tallest, 4)
}

func (h Histogram) texts(width vg.Length) chart.Texts {
	return chart.NewTexts(width, h.Title, h.Subtitle, h.Caption, nil, h.sentences()...)
}

// Height returns the height at which the bars have a good shape.
func (h Histogram) Height(width vg.Length) vg.Length {
	h = h.resolved()
	width -= 2 * pen.Margin
	across, up := h.axes(h.bins())
	return h.texts(width).Height() + chart.Around(across, up, width) + 0.7*chartHeight(width) + vg.Length(h.lanes())*laneHeight + 2*pen.Margin
}

// Colours of the draws within the interval and beyond it: both with an outline.
var within, beyondIt = color.NRGBA{0xae, 0xcb, 0xe6, 0xff}, pen.White

// Draw draws the chart into the whole of the canvas.
func (h Histogram) Draw(c draw.Canvas) {
	h = h.resolved()
	c = pen.Inset(c)
	width := c.Max.X - c.Min.X
	room := h.texts(width).Draw(c, c.Rectangle)
	b := h.bins()
	across, up := h.axes(b)
	lanes := vg.Length(h.lanes()) * laneHeight
	f := chart.FitBelow(room, across, up, lanes)
	f.Draw(c)
	h.drawBars(c, f, b)
	g := &place.Ground{Frame: vg.Rectangle{Min: vg.Point{X: f.Min.X, Y: f.Max.Y}, Max: vg.Point{X: f.Max.X, Y: f.Max.Y + lanes + 2}}}
	top := f.Max.Y + lanes
	if h.interval() {
		h.drawInterval(c, f, g, top-laneHeight/2)
		top -= laneHeight
	}
	h.drawLevels(c, f, g, top)
}

// drawBars draws each bar in two inks where an end of the interval cuts it.
func (h Histogram) drawBars(c vg.Canvas, f chart.Frame, b bins) {
	u := illuminanceUnit(h.Imperial).size
	for i, share := range b.shares {
		if share == 0 {
			continue
		}
		from := b.from + b.step*float64(i)
		to := from + b.step
		bar := vg.Rectangle{Min: f.At(from, 0), Max: f.At(to, share)}
		pen.Fill(c, beyondIt, pen.Corners(bar)...)
		if low, high := math.Max(from, h.Low/u), math.Min(to, h.High/u); h.interval() && low < high {
			pen.Fill(c, within, pen.Corners(vg.Rectangle{Min: f.At(low, 0), Max: f.At(high, share)})...)
		}
		pen.Outline(c, pen.Blue, pen.Thin, pen.Corners(bar)...)
	}
	if h.Central != 0 && finite(h.Central) {
		at := f.At(h.Central/u, 0)
		pen.Fill(c, pen.Ink, at, vg.Point{X: at.X - 2.6, Y: at.Y - 4.2}, vg.Point{X: at.X + 2.6, Y: at.Y - 4.2})
	}
}

// drawInterval draws a bracket over the bars, with what it holds on it or beside it.
func (h Histogram) drawInterval(c vg.Canvas, f chart.Frame, g *place.Ground, y vg.Length) {
	u := illuminanceUnit(h.Imperial)
	from, to := f.At(h.Low/u.size, 0).X, f.At(h.High/u.size, 0).X
	const end vg.Length = 3
	for _, x := range []vg.Length{from, to} {
		pen.Stroke(c, pen.Blue, pen.Medium, nil, vg.Point{X: x, Y: y - end}, vg.Point{X: x, Y: y + end})
	}
	pen.Stroke(c, pen.Blue, pen.Medium, nil, vg.Point{X: from, Y: y}, vg.Point{X: to, Y: y})
	g.Take(place.BoxOf(vg.Rectangle{Min: vg.Point{X: from, Y: y - end}, Max: vg.Point{X: to, Y: y + end}}))
	text := percent(h.Confidence) + " of the draws"
	w := pen.Width(pen.Small, text)
	at := vg.Point{X: (from + to) / 2, Y: y - pen.CapHeight(pen.Small)/2}
	switch {
	case w+8 < to-from:
		pen.Fill(c, pen.White, pen.Corners(vg.Rectangle{Min: vg.Point{X: at.X - w/2 - 3, Y: y - 3}, Max: vg.Point{X: at.X + w/2 + 3, Y: y + 3}})...)
	case to+4+w <= f.Max.X:
		at.X = to + 4 + w/2
	case from-4-w >= f.Min.X:
		at.X = from - 4 - w/2
	default:
		return // the sentence below the chart says it
	}
	pen.Write(c, pen.Small, pen.Ink, at, pen.Centre, text)
	g.Take(place.Box{Centre: vg.Point{X: at.X, Y: y}, Width: w, Height: pen.CapHeight(pen.Small)})
}

// drawLevels draws the levels upright through the bars, each with its text in the first lane below top where it has room.
func (h Histogram) drawLevels(c vg.Canvas, f chart.Frame, g *place.Ground, top vg.Length) {
	u := illuminanceUnit(h.Imperial).size
	for i, l := range h.Levels {
		x := f.At(l.Value/u, 0).X
		lane := top - laneHeight*(vg.Length(i)+0.5)
		for _, text := range []string{l.text(h.Imperial), l.amount(h.Imperial)} {
			if h.writeLevel(c, f, g, x, lane, text) {
				break
			}
		}
		levelLine.Draw(c, vg.Point{X: x, Y: f.Min.Y}, vg.Point{X: x, Y: max(lane, f.Max.Y) + laneHeight/2 - 2})
	}
}

// writeLevel writes the text of a level right or left of its line, if it has room.
func (h Histogram) writeLevel(c vg.Canvas, f chart.Frame, g *place.Ground, x, y vg.Length, text string) bool {
	w, size := pen.Width(pen.Small, text), pen.CapHeight(pen.Small)
	for _, side := range []vg.Length{1, -1} {
		b := place.Box{Centre: vg.Point{X: x + side*(w/2+3.5), Y: y}, Width: w, Height: size}
		clear := true
		for _, l := range h.Levels { // keep off the lines of the other levels
			at := f.At(l.Value/illuminanceUnit(h.Imperial).size, 0).X
			if at != x && b.Grown(1).CrossedBy(vg.Point{X: at, Y: f.Min.Y}, vg.Point{X: at, Y: g.Frame.Max.Y}) {
				clear = false
			}
		}
		if clear && g.Free(b) {
			g.Take(b)
			pen.Write(c, pen.Small, pen.Ink, vg.Point{X: b.Centre.X, Y: y - size/2}, pen.Centre, text)
			return true
		}
	}
	return false
}

// Describe says what the figure shows.
func (h Histogram) Describe() string {
	h = h.resolved()
	return opening("Histogram", h.Title, h.Quantity) + " " + strings.Join(h.sentences(), " ")
}
