package plots

import (
	"image/color"
	"math"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"lampswap/photometry"
	"lampswap/photometry/currency"
	"lampswap/photometry/number"
	"lampswap/plots/internal/chart"
	"lampswap/plots/internal/palette"
	"lampswap/plots/internal/pen"
)

// Cash compares what each system costs over the years: a bar of the parts of its cost, and the sum at its end, with how much more or less
// that is than the first way. One length is one amount of money, so that an owner sees at a glance both which way is the cheapest and
// what its cost is made of.
type Cash struct {
	Title, Subtitle, Caption string
	Quantity                 string // name of the cost; "" is "Cost, present value"
	Currency                 string // its three letters, "" if it is not known
	Parts                    []string
	Ways                     []Way
}

// A Way is one thing to do, such as to leave the lighting as it is.
type Way struct {
	Name, Detail string    // Detail is written small below the name; may be empty
	Costs        []float64 // one for each part, in the currency; below 0 is money received. Not finite is unknown
}

// total returns the sum of the costs; ok is false if one is unknown.
func (w Way) total() (sum float64, ok bool) {
	for _, c := range w.Costs {
		sum += c
	}
	return sum, photometry.Finite(sum)
}

// ends returns how far the bar reaches to the left and to the right of 0.
func (w Way) ends() (low, high float64) {
	for _, c := range w.Costs {
		low, high = low+math.Min(c, 0), high+math.Max(c, 0)
	}
	return low, high
}

// partColours are those of the parts, in order: neighbours are far apart in grey.
var partColours = []color.NRGBA{
	{0x1f, 0x46, 0x77, 0xff}, {0xeb, 0xc1, 0x77, 0xff}, {0x82, 0x98, 0xaa, 0xff},
	{0xfb, 0xf2, 0xda, 0xff}, {0xa9, 0x66, 0x0f, 0xff}, {0xae, 0xcb, 0xe6, 0xff},
}

// mostParts is how many parts a cost may have: more colours would not be told apart.
const mostParts = 6

// resolved checks the shape and gives the cost its name.
func (m Cash) resolved() Cash {
	if len(m.Parts) > mostParts {
		panic("plots: a cost has too many parts")
	}
	for _, w := range m.Ways {
		if len(w.Costs) != len(m.Parts) {
			panic("plots: a way's costs do not match the parts")
		}
	}
	if m.Quantity == "" {
		m.Quantity = "Cost, present value"
	}
	return m
}

// amount formats money; small figures show hundredths.
func (m Cash) amount(x float64) string {
	var most float64
	for _, w := range m.Ways {
		for _, c := range w.Costs {
			if photometry.Finite(c) {
				most = math.Max(most, math.Abs(c))
			}
		}
	}
	return m.money(x, most < 100)
}

// money writes an amount by the habits of its currency, to the unit, and with all its decimals where the whole figure is small.
func (m Cash) money(x float64, fine bool) string {
	amount := currency.Amount(m.Currency, x)
	if fine {
		amount = currency.Fine(m.Currency, x)
	}
	if short, ok := number.WithExponent(x); ok && math.Abs(x) >= 1 {
		amount = currency.Around(m.Currency, short)
	}
	return number.OnFigure(amount)
}

func (m Cash) axis() chart.Axis {
	low, high := 0.0, 0.0
	for _, w := range m.Ways {
		if _, ok := w.total(); ok {
			a, b := w.ends()
			low, high = math.Min(low, a), math.Max(high, b)
		}
	}
	if low == high {
		high = 1
	}
	a := chart.NewAxis(pen.Clean(m.Quantity), low, high, 6)
	hundredths := high-low < 6
	a.Text = func(x float64) string { return m.money(x, hundredths) }
	return a
}

func (m Cash) rows(width vg.Length) chart.Rows {
	var names, details []string
	for _, w := range m.Ways {
		names, details = append(names, w.Name), append(details, w.Detail)
	}
	return chart.NewRows(width, 0.3, 20, names, details)
}

func (m Cash) texts(width vg.Length) chart.Texts {
	if len(m.Ways) == 0 {
		return chart.NewTexts(width, m.Title, m.Subtitle, m.Caption, nil, "No systems to compare.")
	}
	var samples []chart.Sample
	for i, p := range m.Parts {
		samples = append(samples, chart.BoxSample(p, func(c vg.Canvas, r vg.Rectangle) { drawPart(c, r, i) }))
	}
	var notes []string
	for _, w := range m.Ways {
		if low, _ := w.ends(); low < 0 {
			notes = []string{"Money received is left of 0; the mark on such a bar is its sum."}
		}
	}
	return chart.NewTexts(width, m.Title, m.Subtitle, m.Caption, samples, notes...)
}

func drawPart(c vg.Canvas, r vg.Rectangle, part int) {
	pen.Fill(c, partColours[part], pen.Corners(r)...)
	pen.Outline(c, pen.Ink, pen.Thin, pen.Corners(r)...)
}

// Height returns the height that the bars need.
func (m Cash) Height(width vg.Length) vg.Length { return rowsHeight(m.resolved(), width) }

// LeastHeight is the height: the names of the bars need it.
func (m Cash) LeastHeight(width vg.Length) vg.Length { return m.Height(width) }

// Draw draws the chart into the whole of the canvas.
func (m Cash) Draw(c draw.Canvas) {
	m = m.resolved()
	c, f, middles, least := layRows(m, c)
	half := min(7.5, 0.4*least)
	for i, w := range m.Ways {
		m.drawBar(c, f, w, middles[i], half)
		m.drawSum(c, f, i, middles[i])
	}
	if f.X.From < 0 {
		f.Upright(c, 0)
	}
}

// spaced returns the axis with room for the sums right of the bars, in a frame about so wide.
func (m Cash) spaced(width vg.Length) chart.Axis {
	var right []chart.Text
	for i, w := range m.Ways {
		sum, than := m.sum(i)
		end := 0.0
		if _, ok := w.total(); ok {
			_, end = w.ends()
		}
		right = append(right, chart.Text{Value: end, Width: max(pen.Width(pen.SmallBold, sum), pen.Width(pen.Small, than)) + valueGap + 2})
	}
	return m.axis().WithRoom(width, nil, right)
}

// sum returns the text at the end of a bar, and what it is than the first way.
func (m Cash) sum(i int) (sum, than string) {
	total, ok := m.Ways[i].total()
	if !ok {
		return "unknown", ""
	}
	if i > 0 {
		if first, ok := m.Ways[0].total(); ok {
			switch less := first - total; {
			case less > 0:
				than = m.amount(less) + " less"
			case less < 0:
				than = m.amount(-less) + " more"
			}
		}
	}
	return m.amount(total), than
}

// drawBar draws the parts beside each other, costs to the right of 0 and money received to the left, each with its amount if that fits.
func (m Cash) drawBar(c vg.Canvas, f chart.Frame, w Way, y, half vg.Length) {
	total, ok := w.total()
	if !ok {
		return
	}
	low, high := 0.0, 0.0
	for i, cost := range w.Costs {
		from, to := high, high+cost
		if cost < 0 {
			from, to = low+cost, low
			low = from
		} else {
			high = to
		}
		r := vg.Rectangle{Min: vg.Point{X: f.At(from, 0).X, Y: y - half}, Max: vg.Point{X: f.At(to, 0).X, Y: y + half}}
		if r.Max.X-r.Min.X < 0.1 {
			continue
		}
		drawPart(c, r, i)
		text := m.amount(cost)
		if pen.Width(pen.Small, text)+4 < r.Max.X-r.Min.X && 2*half > pen.Small.Size {
			at := vg.Point{X: (r.Min.X + r.Max.X) / 2, Y: y - pen.CapHeight(pen.Small)/2}
			pen.Write(c, pen.Small, palette.InkOn(partColours[i], partColours[i]), at, pen.Centre, text)
		}
	}
	if low < 0 {
		x := f.At(total, 0).X
		pen.Stroke(c, pen.White, 2.5*pen.Medium, nil, vg.Point{X: x, Y: y - half}, vg.Point{X: x, Y: y + half})
		pen.Stroke(c, pen.Ink, 1.5*pen.Medium, nil, vg.Point{X: x, Y: y - half - 2}, vg.Point{X: x, Y: y + half + 2})
	}
}

// drawSum writes the sum of a way right of its bar.
func (m Cash) drawSum(c vg.Canvas, f chart.Frame, i int, y vg.Length) {
	sum, than := m.sum(i)
	end := 0.0
	if _, ok := m.Ways[i].total(); ok {
		_, end = m.Ways[i].ends()
	}
	at := vg.Point{X: f.At(end, 0).X + valueGap, Y: y - pen.CapHeight(pen.Small)/2}
	if than != "" {
		at.Y += pen.LineHeight(pen.Small) / 2
		chart.WriteOver(c, pen.Small, pen.Soft, vg.Point{X: at.X, Y: at.Y - pen.LineHeight(pen.Small)}, pen.Left, than)
	}
	chart.WriteOver(c, pen.SmallBold, pen.Ink, at, pen.Left, sum)
}

// Describe says what each system costs.
func (m Cash) Describe() string {
	m = m.resolved()
	parts := []string{opening("Chart", m.Title, m.Quantity)}
	for i, w := range m.Ways {
		sum, than := m.sum(i)
		if than != "" {
			sum += ", " + than + " than " + m.Ways[0].Name
		}
		parts = append(parts, w.Name+": "+sum+".")
	}
	return strings.Join(parts, " ")
}
