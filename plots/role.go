package plots

import (
	"math"
	"strings"

	"gonum.org/v1/plot/vg"

	"lampswap/photometry"
	"lampswap/photometry/number"
	"lampswap/plots/internal/chart"
	"lampswap/plots/internal/pen"
	"lampswap/plots/internal/place"
)

// A Role is what a system is in a comparison. It looks the same in every chart.
type Role int

// Alternative is any other system than the two that a proposal compares.
const (
	Alternative Role = iota
	Existing
	Proposed
)

// lines returns the line of each role: dashed for what exists, solid for what is proposed, and dots and dashes for the alternatives.
func lines(roles []Role) []pen.Line {
	alternatives := [][]vg.Length{pen.Dotted.Dashes, {7, 2, 1.3, 2}, {3, 1.6}, {10, 2, 1.3, 2, 1.3, 2}}
	all := make([]pen.Line, len(roles))
	others := 0
	for i, r := range roles {
		switch r {
		case Existing:
			all[i] = pen.Dashed
		case Proposed:
			all[i] = pen.Solid
		case Alternative:
			all[i] = pen.Dotted
			all[i].Dashes = alternatives[others%len(alternatives)]
			others++
		}
	}
	return all
}

// A Level is an illuminance that is asked for.
type Level struct {
	Name  string  // who asks, such as "owner's lease"; may be empty
	Value float64 // lx
}

// text returns the level as it is written on its line.
func (l Level) text(imperial bool) string {
	if l.Name == "" {
		return l.amount(imperial) + " required"
	}
	return l.amount(imperial) + ", " + pen.Clean(l.Name)
}

// amount returns the level with its unit.
func (l Level) amount(imperial bool) string {
	u := illuminanceUnit(imperial)
	return number.Short(l.Value/u.size) + " " + u.name
}

// longNames returns the levels whose names do not fit on their lines in a chart of that width.
func longNames(levels []Level, imperial bool, width vg.Length) []string {
	const lineShare = 0.5 // of the width
	var long []string
	for _, l := range levels {
		if l.Name != "" && pen.Width(pen.Small, l.text(imperial)) > lineShare*width {
			long = append(long, l.amount(imperial)+": "+pen.Clean(l.Name)+".")
		}
	}
	return long
}

// levelLine is how a level is drawn.
var levelLine = pen.Line{Color: pen.Ink, Width: pen.Medium}

// finiteLevels returns the levels that can be drawn.
func finiteLevels(levels []Level) []Level {
	var all []Level
	for _, l := range levels {
		if photometry.Finite(l.Value) {
			all = append(all, l)
		}
	}
	return all
}

// drawLevels draws the levels across the frame. Their labels are for labelLevels, when all is taken that they must keep off.
func drawLevels(c vg.Canvas, f chart.Frame, g *place.Ground, levels []Level, unit float64) {
	for _, l := range levels {
		from, to := f.At(f.X.From, l.Value/unit), f.At(f.X.To, l.Value/unit)
		levelLine.Draw(c, from, to)
		g.TakeLine(from, to)
	}
}

// labelLevels writes each level on its line, where there is room: above or below, as clear of the curves as can be; in short where
// there is no room for all. The width is that of the figure.
func labelLevels(c vg.Canvas, f chart.Frame, g *place.Ground, levels []Level, imperial bool, width vg.Length) {
	for _, l := range levels {
		y := f.At(0, l.Value/illuminanceUnit(imperial).size).Y
		texts := []string{l.text(imperial), l.amount(imperial)}
		if len(longNames([]Level{l}, imperial, width)) > 0 {
			texts = texts[1:]
		}
		for _, text := range texts {
			b, ok := alongLine(f, g, y, pen.Width(pen.Small, text))
			if !ok {
				continue
			}
			g.Take(b)
			pen.Fill(c, pen.White, b.Grown(0.8).Corners()...)
			pen.Write(c, pen.Small, pen.Ink, vg.Point{X: b.Centre.X, Y: b.Centre.Y - b.Height/2}, pen.Centre, text)
			break
		}
	}
}

// alongLine returns the room for a text of that width on a level line.
func alongLine(f chart.Frame, g *place.Ground, y, width vg.Length) (best place.Box, ok bool) {
	const steps = 24
	height := pen.CapHeight(pen.Small)
	least := math.Inf(1)
	span := f.Max.X - f.Min.X - width - 8
	if span < 0 {
		return best, false
	}
	for i := range steps + 1 {
		x := f.Min.X + 4 + width/2 + span*vg.Length(i)/steps
		for k, away := range []vg.Length{2.2, -2.2, 6, -6} {
			middle := y + away + vg.Length(math.Copysign(float64(height)/2, float64(away)))
			b := place.Box{Centre: vg.Point{X: x, Y: middle}, Width: width, Height: height}
			if !g.Free(b.Grown(1.5)) {
				continue
			}
			if cost := float64(5*g.Crossings(b)) + 1.5*float64(k) + 0.1*float64(i); cost < least {
				least, best, ok = cost, b, true
			}
		}
	}
	return best, ok
}

// opening is how a description begins: the kind of figure and its title, or what stands for it.
func opening(kind, title, otherwise string) string {
	if title == "" {
		title = otherwise
	}
	if !strings.HasSuffix(title, "?") {
		title += "."
	}
	return kind + ": " + title
}
