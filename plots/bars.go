package plots

import (
	"fmt"
	"image/color"
	"math"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"lampswap/photometry"
	"lampswap/photometry/number"
	"lampswap/plots/internal/chart"
	"lampswap/plots/internal/pen"
)

// Bars sets the light of systems side by side, a bar each from 0 on, against what is required, so that one look tells which is enough.
type Bars struct {
	Title, Subtitle, Caption string
	Quantity                 string // name of the light; "" is "Maintained average"
	Bars                     []Bar
	Required                 []Level // drawn upright across the bars
	Imperial                 bool
	Words                    Words // in another language
}

// A Bar is the light of a system.
type Bar struct {
	Name, Detail string
	Value        float64 // lx; not finite is unknown
	Role         Role
}

func (b Bars) resolved() Bars {
	if b.Quantity == "" {
		b.Quantity = "Maintained average"
	}
	return b
}

func (b Bars) rows(width vg.Length) chart.Rows {
	var names, details []string
	for _, bar := range b.Bars {
		names, details = append(names, bar.Name), append(details, bar.Detail)
	}
	return chart.NewRows(width, 0.3, 15, names, details)
}

// axis goes from 0 over the bars and what is required.
func (b Bars) axis() chart.Axis {
	u := illuminanceUnit(b.Imperial)
	most := 0.0
	for _, bar := range b.Bars {
		if photometry.Finite(bar.Value) {
			most = math.Max(most, bar.Value/u.size)
		}
	}
	for _, l := range finiteLevels(b.Required) {
		most = math.Max(most, l.Value/u.size)
	}
	if most == 0 {
		most = 1
	}
	return chart.NewAxis(pen.Clean(b.Quantity)+" ("+u.name+")", 0, most, 8)
}

func (b Bars) texts(width vg.Length) chart.Texts {
	if len(b.Bars) == 0 {
		return chart.NewTexts(width, b.Title, b.Subtitle, b.Caption, nil, "No systems.")
	}
	var samples []chart.Sample
	for _, l := range finiteLevels(b.Required) {
		const half = chart.SampleHeight/2 + 1
		samples = append(samples, chart.Sample{Width: 3, Text: l.text(b.Imperial), Draw: func(c vg.Canvas, m vg.Point) {
			pen.Stroke(c, pen.Ink, pen.Medium, nil, vg.Point{X: m.X, Y: m.Y - half}, vg.Point{X: m.X, Y: m.Y + half})
		}})
	}
	return chart.NewTexts(width, b.Title, b.Subtitle, b.Caption, samples)
}

// Height returns the height that the bars need.
func (b Bars) Height(width vg.Length) vg.Length { return rowsHeight(b.resolved(), width) }

// LeastHeight is the height: the names of the bars need it.
func (b Bars) LeastHeight(width vg.Length) vg.Length { return b.Height(width) }

// Draw draws the chart into the whole of the canvas.
func (b Bars) Draw(c draw.Canvas) {
	b = b.resolved()
	c, f, middles, least := layRows(b, c)
	u := illuminanceUnit(b.Imperial)
	half := min(7, least/2)
	for i, bar := range b.Bars {
		b.drawBar(c, f, bar, middles[i], half)
	}
	for _, l := range finiteLevels(b.Required) {
		f.Upright(c, l.Value/u.size)
	}
	for i, bar := range b.Bars {
		b.writeValue(c, f, bar, middles[i])
	}
}

// spaced returns the axis with room for the values behind the bars, in a frame about so wide.
func (b Bars) spaced(width vg.Length) chart.Axis {
	a, u := b.axis(), illuminanceUnit(b.Imperial)
	var right []chart.Text
	for _, bar := range b.Bars {
		if photometry.Finite(bar.Value) {
			right = append(right, chart.Text{Value: bar.Value / u.size, Width: pen.Width(pen.SmallBold, number.Reading(bar.Value/u.size)+" "+u.name) + 2*valueGap})
		}
	}
	return a.WithRoom(width, nil, right)
}

// barInk is what the bar of a role is filled with: light for what exists, dark for what is proposed.
func barInk(r Role) color.NRGBA {
	switch r {
	case Existing:
		return pen.Pale
	case Proposed:
		return pen.Blue
	case Alternative:
	}
	return pen.Slate
}

func (b Bars) drawBar(c vg.Canvas, f chart.Frame, bar Bar, y, half vg.Length) {
	if !photometry.Finite(bar.Value) {
		return
	}
	from, to := f.At(0, 0).X, f.At(bar.Value/illuminanceUnit(b.Imperial).size, 0).X
	corners := pen.Corners(vg.Rectangle{Min: vg.Point{X: from, Y: y - half}, Max: vg.Point{X: to, Y: y + half}})
	pen.Fill(c, barInk(bar.Role), corners...)
	pen.Outline(c, pen.Ink, pen.Hairline, corners...)
}

func (b Bars) writeValue(c vg.Canvas, f chart.Frame, bar Bar, y vg.Length) {
	u := illuminanceUnit(b.Imperial)
	base := y - pen.CapHeight(pen.SmallBold)/2
	if !photometry.Finite(bar.Value) {
		chart.WriteOver(c, pen.Small, pen.Soft, vg.Point{X: f.Min.X + valueGap, Y: base}, pen.Left, b.Words.of("not known"))
		return
	}
	at := vg.Point{X: f.At(bar.Value/u.size, 0).X + valueGap, Y: base}
	chart.WriteOver(c, pen.SmallBold, pen.Ink, at, pen.Left, number.Reading(bar.Value/u.size)+" "+u.name)
}

// Describe tells the light of each system and what is required.
func (b Bars) Describe() string {
	b = b.resolved()
	u := illuminanceUnit(b.Imperial)
	parts := []string{opening(b.Words.of("Chart"), b.Title, fmt.Sprintf(b.Words.of("%s of each system"), strings.ToLower(b.Quantity)))}
	for _, bar := range b.Bars {
		value := b.Words.of("not known")
		if photometry.Finite(bar.Value) {
			value = number.Reading(bar.Value/u.size) + " " + u.name
		}
		parts = append(parts, bar.Name+": "+value+".")
	}
	for _, l := range finiteLevels(b.Required) {
		parts = append(parts, fmt.Sprintf(b.Words.of("Required: %s."), l.text(b.Imperial)))
	}
	return strings.Join(parts, " ")
}
