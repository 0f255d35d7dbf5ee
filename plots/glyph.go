package plots

import (
	"slices"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"lampswap/plots/internal/pen"
	"lampswap/plots/internal/place"
)

// A glyph is a small mark that is explained in the notes.
type glyph int

const (
	noGlyph glyph = iota
	minimumGlyph
	maximumGlyph
	luminaireGlyph
	dotGlyph // a luminaire without a length
	failedGlyph
	rackGlyph
	hangingGlyph
	belowGlyph // what lies below the required level
	valueGlyph // the point that a value is of
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
		pen.Outline(c, pen.White, 1.6, triangle...)
		pen.Fill(c, pen.Ink, triangle...)
	case luminaireGlyph:
		drawBar(c, at, 3.6*half, 2, 0)
	case dotGlyph:
		drawDot(c, at, dotSize)
	case failedGlyph:
		drawBar(c, at, 3.6*half, 2, 0)
		drawCross(c, at, vg.Rectangle{Min: vg.Point{X: at.X - crossSize, Y: at.Y - crossSize}, Max: vg.Point{X: at.X + crossSize, Y: at.Y + crossSize}})
	case rackGlyph:
		drawHatched(c, box, true)
	case hangingGlyph:
		drawHanging(c, box, false)
	case belowGlyph:
		drawBelowGlyph(c, box)
	case valueGlyph:
		pen.Fill(c, pen.Ink, pen.Circle(at, valueDot)...)
	}
}

// drawBar draws a luminaire: white with a dark outline, so that it shows on every band.
func drawBar(c vg.Canvas, at vg.Point, length, width vg.Length, rotation float64) {
	drawHousing(c, place.Box{Centre: at, Width: length, Height: width, Angle: rotation}.Corners())
}

func drawHousing(c vg.Canvas, points []vg.Point) {
	pen.Fill(c, pen.White, points...)
	pen.Outline(c, pen.Ink, 0.5, points...)
}

func drawDot(c vg.Canvas, at vg.Point, size vg.Length) {
	pen.Fill(c, pen.White, pen.Circle(at, size/2)...)
	pen.Outline(c, pen.Ink, 0.5, pen.Circle(at, size/2)...)
}

// crossSize is the width of the cross over a luminaire that gives no light.
const crossSize vg.Length = 6

// drawCross crosses something out, as far as that lies within a frame.
func drawCross(c vg.Canvas, at vg.Point, within vg.Rectangle) {
	const half = crossSize / 2
	inside := draw.Canvas{Canvas: c, Rectangle: within}
	for _, slope := range []vg.Length{1, -1} {
		line := []vg.Point{{X: at.X - half, Y: at.Y - slope*half}, {X: at.X + half, Y: at.Y + slope*half}}
		for _, piece := range inside.ClipLinesXY(line) {
			pen.Stroke(c, pen.White, 2.4, nil, piece...)
		}
		for _, piece := range inside.ClipLinesXY(line) {
			pen.Stroke(c, pen.Ink, 1, nil, piece...)
		}
	}
}

func clip(r, frame vg.Rectangle) vg.Rectangle {
	return vg.Rectangle{
		Min: vg.Point{X: max(r.Min.X, frame.Min.X), Y: max(r.Min.Y, frame.Min.Y)},
		Max: vg.Point{X: min(r.Max.X, frame.Max.X), Y: min(r.Max.Y, frame.Max.Y)},
	}
}

// drawHanging draws the dashed sides of what hangs.
func drawHanging(c vg.Canvas, r vg.Rectangle, opaque bool) {
	if r.Min.X >= r.Max.X || r.Min.Y >= r.Max.Y {
		return
	}
	corners := pen.Corners(r)
	if opaque {
		pen.Fill(c, pen.White, corners...)
	}
	sides := slices.Concat(corners, corners[:1])
	pen.Stroke(c, pen.White, 3*pen.Thin, nil, sides...)
	pen.Stroke(c, pen.Ink, 1.5*pen.Thin, []vg.Length{4, 2}, sides...)
}

// drawHatched draws a rectangle with lines at 45 degrees, which end at its sides.
func drawHatched(c vg.Canvas, r vg.Rectangle, opaque bool) {
	if r.Min.X >= r.Max.X || r.Min.Y >= r.Max.Y {
		return
	}
	if opaque {
		pen.Fill(c, pen.White, pen.Corners(r)...)
	}
	const every vg.Length = 4.2
	size := r.Size()
	for d := every / 2; d < size.X+size.Y; d += every {
		// x - y runs from the upper left to the lower right corner
		from := vg.Point{X: r.Min.X + max(0, d-size.Y), Y: r.Max.Y - min(d, size.Y)}
		to := vg.Point{X: r.Min.X + min(d, size.X), Y: r.Max.Y - max(0, d-size.X)}
		pen.Stroke(c, pen.Faint, pen.Hairline, nil, from, to)
	}
	pen.Outline(c, pen.Soft, pen.Thin, pen.Corners(r)...)
}
