package plots

import (
	"math"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"lampswap/photometry/room"
	"lampswap/plots/internal/contour"
)

// A glyph is a small mark that is explained in the notes.
type glyph int

const (
	noGlyph glyph = iota
	minimumGlyph
	maximumGlyph
	luminaireGlyph
	dotGlyph // a luminaire without a length
	rackGlyph
)

const glyphSize, dotSize vg.Length = 5.2, 3.4

// drawGlyph draws the glyph centred on a point.
func drawGlyph(c vg.Canvas, g glyph, at vg.Point) {
	half := glyphSize / 2
	box := vg.Rectangle{Min: vg.Point{X: at.X - 1.8*half, Y: at.Y - half}, Max: vg.Point{X: at.X + 1.8*half, Y: at.Y + half}}
	switch g {
	case noGlyph:
	case minimumGlyph, maximumGlyph:
		up := half
		if g == minimumGlyph {
			up = -half
		}
		triangle := []vg.Point{{X: at.X - half, Y: at.Y - up*0.8}, {X: at.X + half, Y: at.Y - up*0.8}, {X: at.X, Y: at.Y + up}}
		outline(c, white, 1.6, triangle...)
		fill(c, ink, triangle...)
	case luminaireGlyph:
		drawBar(c, at, 3.6*half, 2, 0)
	case dotGlyph:
		drawDot(c, at, dotSize)
	case rackGlyph:
		drawHatched(c, box, true)
	}
}

// An extreme is the place of the least or the greatest value.
type extreme struct {
	glyph glyph
	at    contour.Point
	ok    bool
}

// extremes returns the first places of the least and the greatest value. Values that differ by rounding count as equal, so that the
// same one of several mirrored places is marked on every machine.
func (m Map) extremes() (least, most extreme) {
	least.glyph, most.glyph = minimumGlyph, maximumGlyph
	s := room.Summarize(m.Values)
	if s.Points == 0 {
		return least, most
	}
	slack := 1e-9 * math.Max(math.Abs(s.Minimum), math.Abs(s.Maximum))
	if s.Maximum-s.Minimum <= slack {
		return least, most
	}
	for i, v := range m.Values {
		at := contour.Point{X: m.X[i%len(m.X)], Y: m.Y[i/len(m.X)]}
		if !least.ok && v <= s.Minimum+slack {
			least.at, least.ok = at, true
		}
		if !most.ok && v >= s.Maximum-slack {
			most.at, most.ok = at, true
		}
	}
	return least, most
}

// obstacles returns what labels keep clear of.
func (m Map) obstacles(v view, extremes ...extreme) []box {
	var taken []box
	for _, l := range m.Luminaires {
		length, width := l.size(v)
		taken = append(taken, box{v.at(contour.Point{X: l.X, Y: l.Y}), length, width, l.Rotation})
	}
	for _, r := range m.Racks {
		taken = append(taken, boxOf(v.rect(r)))
	}
	for _, e := range extremes {
		if e.ok {
			taken = append(taken, box{v.within(e.at), glyphSize + 2, glyphSize + 2, 0})
		}
	}
	return taken
}

// size returns the length and width of a luminaire on the white: to scale, but no thinner than can be seen.
func (l Mark) size(v view) (length, width vg.Length) {
	if l.Length == 0 {
		return dotSize, dotSize
	}
	return max(v.scale*vg.Length(l.Length), 2.4), max(v.scale*vg.Length(l.Width), 1.7)
}

func (m Map) drawLuminaires(c vg.Canvas, v view) {
	for _, l := range m.Luminaires {
		length, width := l.size(v)
		at := v.at(contour.Point{X: l.X, Y: l.Y})
		if l.Length == 0 {
			drawDot(c, at, length)
			continue
		}
		drawBar(c, at, length, width, l.Rotation)
	}
}

// drawBar draws a luminaire: white with a dark outline, so that it shows on every band.
func drawBar(c vg.Canvas, at vg.Point, length, width vg.Length, rotation float64) {
	points := box{at, length, width, rotation}.corners()
	fill(c, white, points...)
	outline(c, ink, 0.5, points...)
}

func drawDot(c vg.Canvas, at vg.Point, size vg.Length) {
	fill(c, white, circle(at, size/2)...)
	outline(c, ink, 0.5, circle(at, size/2)...)
}

// opaqueRacks returns the racks that no point of the grid lies in. Where there are points, they are above or in front of the rack.
func (m Map) opaqueRacks() []contour.Rect {
	var opaque []contour.Rect
	for _, r := range m.Racks {
		if !m.seesInto(r) {
			opaque = append(opaque, contour.Rect(r))
		}
	}
	return opaque
}

func (m Map) seesInto(r Rect) bool {
	for i, v := range m.Values {
		x, y := m.X[i%len(m.X)], m.Y[i/len(m.X)]
		if !math.IsNaN(v) && x > r.X0 && x < r.X1 && y > r.Y0 && y < r.Y1 {
			return true
		}
	}
	return false
}

func (m Map) drawRacks(c vg.Canvas, v view) {
	for _, r := range m.Racks {
		drawHatched(c, clip(v.rect(r), v.frame), !m.seesInto(r))
	}
}

func clip(r, frame vg.Rectangle) vg.Rectangle {
	return vg.Rectangle{
		Min: vg.Point{X: max(r.Min.X, frame.Min.X), Y: max(r.Min.Y, frame.Min.Y)},
		Max: vg.Point{X: min(r.Max.X, frame.Max.X), Y: min(r.Max.Y, frame.Max.Y)},
	}
}

// drawHatched draws a rectangle with lines at 45 degrees, which end at its sides.
func drawHatched(c vg.Canvas, r vg.Rectangle, opaque bool) {
	if r.Min.X >= r.Max.X || r.Min.Y >= r.Max.Y {
		return
	}
	if opaque {
		fill(c, white, corners(r)...)
	}
	const every vg.Length = 4.2
	size := r.Size()
	for d := every / 2; d < size.X+size.Y; d += every {
		// x - y runs from the upper left to the lower right corner
		from := vg.Point{X: r.Min.X + max(0, d-size.Y), Y: r.Max.Y - min(d, size.Y)}
		to := vg.Point{X: r.Min.X + min(d, size.X), Y: r.Max.Y - max(0, d-size.X)}
		stroke(c, faint, hairline, nil, from, to)
	}
	outline(c, soft, thin, corners(r)...)
}

// Axes are the ticks of both directions and the room that they need outside of the frame, pt.
type axes struct {
	unit                unit
	across, up          string // names
	xTicks, yTicks      []float64
	left, right, bottom vg.Length
}

// Tick intervals at most: fewer than would fit at letter width, so that the axes stay light. The short way of a long room gets a few.
const mostTicksX, mostTicksY, fewestTicks = 10, 6, 3

func (m Map) axes() axes {
	a := axes{unit: lengthUnit(m.Imperial), across: "x", up: "y"}
	if m.Plane == room.Vertical {
		a.across, a.up = "along", "height"
	}
	e, size := m.Extent, a.unit.size
	w, h := e.X1-e.X0, e.Y1-e.Y0
	nx, ny := mostTicksX, mostTicksY
	if w > h { // ticks about as far apart on both
		ny = max(fewestTicks, min(ny, int(math.Round(1.6*float64(nx)*h/w))))
	} else {
		nx = max(fewestTicks, min(nx, int(math.Round(float64(mostTicksY)*w/h))))
	}
	a.xTicks, a.yTicks = ticks(e.X0/size, e.X1/size, nx), ticks(e.Y0/size, e.Y1/size, ny)
	var widest vg.Length
	for _, t := range a.yTicks {
		widest = max(widest, textWidth(smallFont, exact(t)))
	}
	a.left = widest + tickLength + 3 + smallFont.Size + 3
	a.right = 5
	if n := len(a.xTicks); n > 0 {
		a.right = max(a.right, textWidth(smallFont, exact(a.xTicks[n-1]))/2+1)
	}
	a.bottom = tickLength + 2.5 + 2*smallFont.Size + 2
	return a
}

// fitted leaves out ticks whose numbers would run into each other on the paper.
func (a axes) fitted(v view) axes {
	a.xTicks = thinned(a.xTicks, func(t float64) vg.Length { return textWidth(smallFont, exact(t)) + 6 }, v.scale*vg.Length(a.unit.size))
	a.yTicks = thinned(a.yTicks, func(float64) vg.Length { return smallFont.Size + 2 }, v.scale*vg.Length(a.unit.size))
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
		if wide := ticks(from, to, n); len(wide) < 2 || vg.Length(wide[1]-wide[0])*scale >= widest {
			return wide
		}
	}
	return at[:1]
}

func (a axes) draw(c draw.Canvas, v view) {
	y := v.frame.Min.Y
	below := y - tickLength - 2.5 - capHeight(smallFont)
	for _, t := range a.xTicks {
		x := v.at(contour.Point{X: t * a.unit.size, Y: 0}).X
		stroke(c, soft, thin, nil, vg.Point{X: x, Y: y}, vg.Point{X: x, Y: y - tickLength})
		write(c, smallFont, soft, vg.Point{X: x, Y: below}, centre, exact(t))
	}
	x := v.frame.Min.X
	var widest vg.Length
	for _, t := range a.yTicks {
		at := v.at(contour.Point{X: 0, Y: t * a.unit.size}).Y
		stroke(c, soft, thin, nil, vg.Point{X: x, Y: at}, vg.Point{X: x - tickLength, Y: at})
		write(c, smallFont, soft, vg.Point{X: x - tickLength - 2, Y: at - capHeight(smallFont)/2}, right, exact(t))
		widest = max(widest, textWidth(smallFont, exact(t)))
	}
	name := func(s string) string { return s + " (" + a.unit.name + ")" }
	write(c, smallFont, soft, vg.Point{X: (v.frame.Min.X + v.frame.Max.X) / 2, Y: below - smallFont.Size - 1.5}, centre, name(a.across))
	at := vg.Point{X: x - tickLength - 2 - widest - 2.5 - smallFont.Size/2, Y: (v.frame.Min.Y + v.frame.Max.Y) / 2}
	if textWidth(smallFont, name(a.up)) <= v.frame.Max.Y-y+8 {
		writeTurned(c, smallFont, soft, at, math.Pi/2, name(a.up))
	}
}
