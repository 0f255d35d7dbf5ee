package plots

import (
	"math"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"lampswap/photometry/number"
	"lampswap/photometry/room"
	"lampswap/plots/internal/chart"
	"lampswap/plots/internal/contour"
	"lampswap/plots/internal/pen"
)

// Axes are the ticks of both directions and the room that they need outside of the frame, pt.
type axes struct {
	unit                unit
	length              string // its name in the words of the map
	across, up          string // names
	xTicks, yTicks      []float64
	left, right, bottom vg.Length
}

// Tick intervals at most: fewer than would fit at letter width, so that the axes stay light. The short way of a long room gets a few.
const mostTicksX, mostTicksY, fewestTicks = 10, 6, 3

func (p plan) axes() axes {
	a := axes{unit: lengthUnit(p.imperial), across: "x", up: "y"}
	a.length = p.words.of(a.unit.name)
	if p.plane == room.Vertical {
		a.across, a.up = "along", "height"
	}
	e, size := p.extent, a.unit.size
	w, h := e.X1-e.X0, e.Y1-e.Y0
	nx, ny := mostTicksX, mostTicksY
	if w > h { // ticks about as far apart on both
		ny = max(fewestTicks, min(ny, int(math.Round(1.6*float64(nx)*h/w))))
	} else {
		nx = max(fewestTicks, min(nx, int(math.Round(float64(mostTicksY)*w/h))))
	}
	a.xTicks, a.yTicks = chart.Ticks(e.X0/size, e.X1/size, nx), chart.Ticks(e.Y0/size, e.Y1/size, ny)
	var widest vg.Length
	for _, t := range a.yTicks {
		widest = max(widest, pen.Width(pen.Small, number.Exact(t)))
	}
	a.left = widest + tickLength + 3 + pen.Small.Size + 3
	a.right = 5
	if n := len(a.xTicks); n > 0 {
		a.right = max(a.right, pen.Width(pen.Small, number.Exact(a.xTicks[n-1]))/2+1)
	}
	a.bottom = tickLength + 2.5 + 2*pen.Small.Size + 2
	return a
}

// narrowestPlan is how much of a figure's width is left to its plan, however narrow the figure is.
const narrowestPlan vg.Length = 30

// remaining returns what is left to the plan of a figure's width.
func (a axes) remaining(width vg.Length) vg.Length { return max(width-a.left-a.right, narrowestPlan) }

// fitted leaves out ticks whose numbers would run into each other on the paper.
func (a axes) fitted(v view) axes {
	a.xTicks = thinned(a.xTicks, func(t float64) vg.Length { return pen.Width(pen.Small, number.Exact(t)) + 6 }, v.scale*vg.Length(a.unit.size))
	a.yTicks = thinned(a.yTicks, func(float64) vg.Length { return pen.Small.Size + 2 }, v.scale*vg.Length(a.unit.size))
	return a
}

// thinned returns the ticks at a step that leaves each number its room.
func thinned(at []float64, room func(float64) vg.Length, scale vg.Length) []float64 {
	if len(at) < 2 || scale <= 0 {
		return at
	}
	var widest vg.Length
	for _, t := range at {
		widest = max(widest, room(t))
	}
	from, to := at[0], at[len(at)-1]
	for n := len(at) - 1; n > 0; n-- {
		if wide := chart.Ticks(from, to, n); len(wide) < 2 || vg.Length(wide[1]-wide[0])*scale >= widest {
			return wide
		}
	}
	return at[:1]
}

func (a axes) draw(c draw.Canvas, v view) {
	y := v.frame.Min.Y
	below := y - tickLength - 2.5 - pen.CapHeight(pen.Small)
	for _, t := range a.xTicks {
		x := v.at(contour.Point{X: t * a.unit.size, Y: 0}).X
		pen.Stroke(c, pen.Soft, pen.Thin, nil, vg.Point{X: x, Y: y}, vg.Point{X: x, Y: y - tickLength})
		pen.Write(c, pen.Small, pen.Soft, vg.Point{X: x, Y: below}, pen.Centre, number.Exact(t))
	}
	x := v.frame.Min.X
	var widest vg.Length
	for _, t := range a.yTicks {
		at := v.at(contour.Point{X: 0, Y: t * a.unit.size}).Y
		pen.Stroke(c, pen.Soft, pen.Thin, nil, vg.Point{X: x, Y: at}, vg.Point{X: x - tickLength, Y: at})
		pen.Write(c, pen.Small, pen.Soft, vg.Point{X: x - tickLength - 2, Y: at - pen.CapHeight(pen.Small)/2}, pen.Right, number.Exact(t))
		widest = max(widest, pen.Width(pen.Small, number.Exact(t)))
	}
	name := func(s string) string {
		if s == "" {
			return "" // it stands at a neighboring strip
		}
		return s + " (" + a.length + ")"
	}
	middle := vg.Point{X: (v.frame.Min.X + v.frame.Max.X) / 2, Y: below - pen.Small.Size - 1.5}
	pen.Write(c, pen.Small, pen.Soft, middle, pen.Centre, name(a.across))
	at := vg.Point{X: x - tickLength - 2 - widest - 2.5 - pen.Small.Size/2, Y: (v.frame.Min.Y + v.frame.Max.Y) / 2}
	if pen.Width(pen.Small, name(a.up)) <= v.frame.Max.Y-y+8 {
		pen.WriteTurned(c, pen.Small, pen.Soft, at, math.Pi/2, name(a.up))
	}
}
