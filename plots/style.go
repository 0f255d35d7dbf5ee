package plots

import (
	"image/color"
	"math"
	"strings"
	"unicode"

	xfont "golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"gonum.org/v1/plot" // for the fonts, which it puts into the cache
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// One look for every figure: inks, type sizes and line weights.
var (
	ink   = color.NRGBA{0x1c, 0x27, 0x33, 0xff} // text, marks
	soft  = color.NRGBA{0x4d, 0x58, 0x64, 0xff} // axis text, captions
	faint = color.NRGBA{0x8a, 0x94, 0x9e, 0xff} // ticks, hatching
	pale  = color.NRGBA{0xd3, 0xd8, 0xdd, 0xff} // grid lines
	white = color.NRGBA{0xff, 0xff, 0xff, 0xff}
)

var (
	titleFont   = sans(11.5, xfont.WeightBold)
	panelFont   = sans(9.5, xfont.WeightBold)
	textFont    = sans(8.5, xfont.WeightNormal)
	smallFont   = sans(7.5, xfont.WeightNormal)
	contourFont = sans(6.5, xfont.WeightNormal)
	changeFont  = sans(6.5, xfont.WeightBold) // bold, so that a minus does not pass for a dash of the line
)

const (
	hairline vg.Length = 0.35
	thin     vg.Length = 0.55
	medium   vg.Length = 0.9
)

const leading = 1.3 // line distance over type size

func sans(size vg.Length, weight xfont.Weight) font.Font {
	f := font.From(plot.DefaultFont, size)
	f.Typeface, f.Variant, f.Weight = "Liberation", "Sans", weight
	return f
}

func face(f font.Font) font.Face { return font.DefaultCache.Lookup(f, f.Size) }

func textWidth(f font.Font, s string) vg.Length {
	face := face(f)
	return face.Width(s)
}

// capHeight is how high digits and capitals of Liberation Sans stand over the baseline.
func capHeight(f font.Font) vg.Length { return 0.7 * f.Size }

func lineHeight(f font.Font) vg.Length { return leading * f.Size }

// Alignment of text along its baseline: the share of its width that lies before the point given.
const (
	left   = 0.0
	centre = 0.5
	right  = 1.0
)

// write draws one line of text with its baseline at the point.
func write(c vg.Canvas, f font.Font, ink color.Color, at vg.Point, align float64, s string) {
	if s == "" {
		return
	}
	c.SetColor(ink)
	at.X -= vg.Length(align) * textWidth(f, s)
	c.FillString(face(f), at, s)
}

// writeTurned draws one line of text centred on the point, turned counter-clockwise by the angle, rad.
func writeTurned(c vg.Canvas, f font.Font, ink color.Color, at vg.Point, angle float64, s string) {
	c.Push()
	c.Translate(at)
	c.Rotate(angle)
	write(c, f, ink, vg.Point{Y: -capHeight(f) / 2}, centre, s)
	c.Pop()
}

// block is text broken into lines.
type block struct {
	font  font.Font
	color color.Color
	lines []string
}

func newBlock(f font.Font, ink color.Color, s string, width vg.Length) block {
	return block{f, ink, wrap(f, clean(s), width)}
}

func (b block) height() vg.Length { return vg.Length(len(b.lines)) * lineHeight(b.font) }

// draw draws the block downward from a top left corner and returns the height that it took.
func (b block) draw(c vg.Canvas, x, top vg.Length) vg.Length {
	y := top - b.font.Size
	for _, line := range b.lines {
		write(c, b.font, b.color, vg.Point{X: x, Y: y}, left, line)
		y -= lineHeight(b.font)
	}
	return b.height()
}

// wrap breaks text into lines of at most the width, at spaces where there are any.
func wrap(f font.Font, s string, width vg.Length) []string {
	var lines []string
	line := ""
	for word := range strings.FieldsSeq(s) {
		for textWidth(f, word) > width { // longer than a line: cut it
			n := len([]rune(word)) - 1
			for n > 1 && textWidth(f, string([]rune(word)[:n])) > width {
				n--
			}
			if n < 1 {
				break
			}
			if line != "" {
				lines, line = append(lines, line), ""
			}
			lines, word = append(lines, string([]rune(word)[:n])), string([]rune(word)[n:])
		}
		switch {
		case line == "":
			line = word
		case textWidth(f, line+" "+word) <= width:
			line += " " + word
		default:
			lines, line = append(lines, line), word
		}
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// clean leaves out what is not text, control characters and broken encoding, and puts a question mark for characters that the font
// does not have.
func clean(s string) string {
	var buffer sfnt.Buffer
	face := face(textFont).Face
	return strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r) && r != '\u00a0':
			return ' '
		case !unicode.IsPrint(r) && r != '\u00a0', r == unicode.ReplacementChar:
			return -1
		}
		if glyph, err := face.GlyphIndex(&buffer, r); err != nil || glyph == 0 {
			return '?'
		}
		return r
	}, s)
}

// stroke draws an open polyline.
func stroke(c vg.Canvas, ink color.Color, width vg.Length, dashes []vg.Length, points ...vg.Point) {
	if len(points) < 2 {
		return
	}
	c.SetColor(ink)
	c.SetLineWidth(width)
	c.SetLineDash(dashes, 0)
	c.Stroke(polygonPath(points, false))
}

// outline draws a closed polygon.
func outline(c vg.Canvas, ink color.Color, width vg.Length, points ...vg.Point) {
	c.SetColor(ink)
	c.SetLineWidth(width)
	c.SetLineDash(nil, 0)
	c.Stroke(polygonPath(points, true))
}

func fill(c vg.Canvas, ink color.Color, points ...vg.Point) {
	c.SetColor(ink)
	c.Fill(polygonPath(points, true))
}

func polygonPath(points []vg.Point, closed bool) vg.Path {
	path := make(vg.Path, 0, len(points)+1)
	for i, p := range points {
		if i == 0 {
			path.Move(p)
		} else {
			path.Line(p)
		}
	}
	if closed {
		path.Close()
	}
	return path
}

// circle returns a circle as a polygon fine enough for the eye: the canvases do not agree on arcs.
func circle(centre vg.Point, radius vg.Length) []vg.Point {
	n := max(16, 4*int(math.Sqrt(float64(radius))*4))
	points := make([]vg.Point, n)
	for i := range points {
		points[i] = onCircle(centre, radius, 2*math.Pi*float64(i)/float64(n))
	}
	return points
}

func onCircle(centre vg.Point, radius vg.Length, angle float64) vg.Point {
	sin, cos := math.Sincos(angle)
	return vg.Point{X: centre.X + radius*vg.Length(cos), Y: centre.Y + radius*vg.Length(sin)}
}

// corners returns the corners of a rectangle, counter-clockwise from the lower left.
func corners(r vg.Rectangle) []vg.Point {
	return []vg.Point{r.Min, {X: r.Max.X, Y: r.Min.Y}, r.Max, {X: r.Min.X, Y: r.Max.Y}}
}

// margin keeps a figure's own ink off the edge of its paper.
const margin vg.Length = 4

// inset paints the paper and returns the canvas within the margin.
func inset(c draw.Canvas) draw.Canvas {
	fill(c, white, corners(c.Rectangle)...)
	return draw.Crop(c, margin, -margin, margin, -margin)
}
