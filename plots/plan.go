package plots

import (
	"math"
	"slices"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"lampswap/photometry/number"
	"lampswap/photometry/room"
	"lampswap/plots/internal/chart"
	"lampswap/plots/internal/contour"
	"lampswap/plots/internal/pen"
	"lampswap/plots/internal/place"
)

// A plan is the place that a figure shows: how large it is and what stands and hangs there.
type plan struct {
	plane      room.Plane
	extent     Rect
	luminaires []Mark
	racks      []Rect
	hanging    []Rect
	outline    room.Outline
	seesInto   func(Rect) bool // whether what is drawn shows in a rack too: such a rack is hatched only
	imperial   bool
	words      Words
	whole      Rect // of which the extent is a strip; all 0 where the plan is in one piece
}

// A view maps the plane to the white, alike in both directions.
type view struct {
	extent Rect
	frame  vg.Rectangle
	scale  vg.Length // pt a metre
}

func (v view) at(p contour.Point) vg.Point {
	return vg.Point{X: v.frame.Min.X + v.scale*vg.Length(p.X-v.extent.X0), Y: v.frame.Min.Y + v.scale*vg.Length(p.Y-v.extent.Y0)}
}

// within returns the place of a glyph: on the point, but inside the frame.
func (v view) within(p contour.Point) vg.Point {
	const room = glyphSize/2 + 1.5
	at := v.at(p)
	return vg.Point{X: max(min(at.X, v.frame.Max.X-room), v.frame.Min.X+room), Y: max(min(at.Y, v.frame.Max.Y-room), v.frame.Min.Y+room)}
}

func (v view) all(points []contour.Point) []vg.Point {
	onPaper := make([]vg.Point, len(points))
	for i, p := range points {
		onPaper[i] = v.at(p)
	}
	return onPaper
}

func (v view) rect(r Rect) vg.Rectangle {
	return vg.Rectangle{Min: v.at(contour.Point{X: r.X0, Y: r.Y0}), Max: v.at(contour.Point{X: r.X1, Y: r.Y1})}
}

// obstacles returns what labels keep clear of: all that stands and hangs there, and the marks given.
func (p plan) obstacles(v view, marks ...extreme) []place.Box {
	var taken []place.Box
	for _, l := range p.luminaires {
		length, width := l.size(v)
		at := v.at(contour.Point{X: l.X, Y: l.Y})
		taken = append(taken, place.Box{Centre: at, Width: length, Height: width, Angle: l.Rotation})
		if l.Sided {
			tip := pen.OnCircle(at, width/2+sidePoint/2, l.Rotation+math.Pi/2)
			taken = append(taken, place.Box{Centre: tip, Width: sidePoint, Height: sidePoint, Angle: l.Rotation})
		}
	}
	for _, r := range slices.Concat(p.racks, p.outside()) {
		taken = append(taken, place.BoxOf(v.rect(r)))
	}
	for _, e := range marks {
		taken = append(taken, place.Box{Centre: v.within(e.at), Width: glyphSize + 2, Height: glyphSize + 2})
	}
	return taken
}

// outside returns what of the extent lies outside the room.
func (p plan) outside() []Rect {
	x, y := p.outline.Extent()
	var all []Rect
	for _, b := range (room.Room{Length: max(x, p.extent.X1), Width: max(y, p.extent.Y1), Outline: p.outline}).Outside() {
		r, far := p.extent, b.Far()
		r = Rect{max(r.X0, b.Corner.X), max(r.Y0, b.Corner.Y), min(r.X1, far.X), min(r.Y1, far.Y)}
		if r.X0 < r.X1 && r.Y0 < r.Y1 {
			all = append(all, r)
		}
	}
	return all
}

// size returns the length and width of a luminaire on the white: to scale, but no thinner than can be seen.
func (l Mark) size(v view) (length, width vg.Length) {
	if l.Length == 0 {
		return dotSize, dotSize
	}
	return max(v.scale*vg.Length(l.Length), 2.4), max(v.scale*vg.Length(l.Width), 1.7)
}

// sidePoint is the length of the point on a luminaire whose light goes to one side.
const sidePoint vg.Length = 3.2

// drawLuminaires draws the luminaires, or what of them lies within the plan.
func (p plan) drawLuminaires(c vg.Canvas, v view) {
	inside := draw.Canvas{Canvas: c, Rectangle: v.frame}
	for _, l := range p.luminaires {
		length, width := l.size(v)
		at := v.at(contour.Point{X: l.X, Y: l.Y})
		if l.Sided {
			base := pen.OnCircle(at, 0.4*width, l.Rotation+math.Pi/2)
			tip := []vg.Point{pen.OnCircle(base, 0.6*sidePoint, l.Rotation+math.Pi), pen.OnCircle(base, 0.6*sidePoint, l.Rotation),
				pen.OnCircle(at, width/2+sidePoint, l.Rotation+math.Pi/2)}
			tip = inside.ClipPolygonXY(tip)
			pen.Outline(c, pen.White, 1.2, tip...)
			pen.Fill(c, pen.Ink, tip...)
		}
		if l.Failed {
			defer drawCross(c, at, v.frame) // above the housings
		}
		if l.Length == 0 {
			drawDot(c, v.within(contour.Point{X: l.X, Y: l.Y}), length)
			continue
		}
		drawHousing(c, inside.ClipPolygonXY(place.Box{Centre: at, Width: length, Height: width, Angle: l.Rotation}.Corners()))
		if square := length < 1.5*width && length > 5; square {
			along := []vg.Point{pen.OnCircle(at, 0.35*length, l.Rotation+math.Pi), pen.OnCircle(at, 0.35*length, l.Rotation)}
			for _, piece := range inside.ClipLinesXY(along) {
				pen.Stroke(c, pen.Ink, pen.Thin, nil, piece...)
			}
		}
	}
}

// opaque returns the racks that no point of the grid lies in, and what is outside the room. Where there are points, they are above a rack, below
// it or in front of it.
func (p plan) opaque() []contour.Rect {
	var opaque []contour.Rect
	for _, r := range slices.Concat(p.racks, p.hanging) {
		if !p.seesInto(r) {
			opaque = append(opaque, contour.Rect(r))
		}
	}
	for _, r := range p.outside() {
		opaque = append(opaque, contour.Rect(r))
	}
	return opaque
}

// drawRacks draws racks and boxes that hang, as far as they are in the room.
func (p plan) drawRacks(c vg.Canvas, v view) {
	for _, r := range p.racks {
		drawHatched(c, clip(v.rect(r), v.frame), !p.seesInto(r))
	}
	for _, r := range p.hanging {
		drawHanging(c, clip(v.rect(r), v.frame), !p.seesInto(r))
	}
	for _, r := range p.outside() {
		pen.Fill(c, pen.White, pen.Corners(v.rect(r))...)
	}
}

// drawWalls draws the walls of the room, or the frame of what is shown of it.
func (p plan) drawWalls(c vg.Canvas, v view) {
	walls := p.walls()
	if walls == nil {
		pen.Outline(c, pen.Ink, pen.Medium, pen.Corners(v.frame)...)
		return
	}
	pen.Outline(c, pen.Faint, pen.Hairline, pen.Corners(v.frame)...)
	hair := vg.Point{X: pen.Hairline, Y: pen.Hairline} // a wall on the frame is within it
	inside := draw.Canvas{Canvas: c, Rectangle: vg.Rectangle{Min: v.frame.Min.Sub(hair), Max: v.frame.Max.Add(hair)}}
	for _, piece := range inside.ClipLinesXY(v.all(append(walls, walls[0]))) {
		pen.Stroke(c, pen.Ink, pen.Medium, nil, piece...)
	}
}

// walls returns the corners of the walls, or of what the plan shows of them; nil where these are the frame.
func (p plan) walls() []contour.Point {
	if w := p.whole; p.outline == nil && w != (Rect{}) {
		return []contour.Point{{X: w.X0, Y: w.Y0}, {X: w.X1, Y: w.Y0}, {X: w.X1, Y: w.Y1}, {X: w.X0, Y: w.Y1}}
	}
	var walls []contour.Point
	for _, corner := range p.outline {
		walls = append(walls, contour.Point{X: corner.X, Y: corner.Y})
	}
	return walls
}

// barGap is the room beside a scale bar.
const barGap vg.Length = 18

// A scaleBar is a round length to scale.
type scaleBar struct {
	length vg.Length
	text   string
}

func (p plan) scaleBar(v view) scaleBar {
	u := lengthUnit(p.imperial)
	long := chart.RoundDown(float64(longestBar/v.scale) / u.size)
	return scaleBar{v.scale * vg.Length(long*u.size), number.Exact(long) + " " + p.words.of(u.name)}
}

// draw draws the bar in line with the colour bar of a scale that has the same top.
func (b scaleBar) draw(c vg.Canvas, x, top vg.Length) {
	const half vg.Length = 1.5 // of its thickness
	y := top - pen.LineHeight(pen.Small) - barHeight/2
	part := func(from, to vg.Length) []vg.Point {
		return pen.Corners(vg.Rectangle{Min: vg.Point{X: x + from, Y: y - half}, Max: vg.Point{X: x + to, Y: y + half}})
	}
	pen.Fill(c, pen.Ink, part(0, b.length/2)...)
	pen.Fill(c, pen.White, part(b.length/2, b.length)...)
	pen.Outline(c, pen.Ink, pen.Thin, part(0, b.length)...)
	base := top - pen.LineHeight(pen.Small) - barHeight - 2.5 - pen.CapHeight(pen.Small)
	pen.Write(c, pen.Small, pen.Soft, vg.Point{X: x + b.length/2, Y: base}, pen.Centre, b.text)
}

const northSize vg.Length = 20

// drawNorth draws an arrow that points north, its azimuth in degrees counter-clockwise from +x.
func drawNorth(c vg.Canvas, at vg.Point, azimuthDeg float64) {
	angle := azimuthDeg * math.Pi / 180
	radius := northSize/2 - 0.5
	pen.Outline(c, pen.Faint, pen.Hairline, pen.Circle(at, radius)...)
	tip := pen.OnCircle(at, radius, angle)
	tail := pen.OnCircle(at, 0.35*radius, angle+math.Pi)
	pen.Fill(c, pen.Ink, tip, pen.OnCircle(at, 0.75*radius, angle+0.78*math.Pi), tail)
	half := []vg.Point{tip, pen.OnCircle(at, 0.75*radius, angle-0.78*math.Pi), tail}
	pen.Fill(c, pen.White, half...)
	pen.Outline(c, pen.Ink, pen.Hairline, half...)
	pen.Write(c, pen.Tiny, pen.Soft, vg.Point{X: at.X - radius - 2.5, Y: at.Y - pen.CapHeight(pen.Tiny)/2}, pen.Right, "N")
}
