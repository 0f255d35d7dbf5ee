// Package pen is the one look of all figures: inks, type sizes, line weights, and the drawing of text and shapes with them.
//
// Lengths are pt. Text is Liberation Sans, whose widths are those of Arial.
package pen

import (
	"image/color"
	"math"
	"strings"
	"sync"
	"sync/atomic"

	xfont "golang.org/x/image/font"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// One look for every figure: inks, type sizes and line weights.
var (
	Ink   = color.NRGBA{0x1c, 0x27, 0x33, 0xff} // text, marks
	Soft  = color.NRGBA{0x4d, 0x58, 0x64, 0xff} // axis text, captions
	Faint = color.NRGBA{0x8a, 0x94, 0x9e, 0xff} // ticks, hatching
	Pale  = color.NRGBA{0xd3, 0xd8, 0xdd, 0xff} // grid lines
	White = color.NRGBA{0xff, 0xff, 0xff, 0xff}
)

// Colours of lines and areas: blue, amber and slate differ to every eye, and in lightness.
var (
	Blue  = color.NRGBA{0x1f, 0x46, 0x77, 0xff}
	Amber = color.NRGBA{0xb8, 0x62, 0x0c, 0xff}
	Slate = color.NRGBA{0x6a, 0x76, 0x82, 0xff}
)

// Type, by what it is for.
var (
	Title     = sans(11.5, xfont.WeightBold)
	Panel     = sans(9.5, xfont.WeightBold)
	Text      = sans(8.5, xfont.WeightNormal)
	Small     = sans(7.5, xfont.WeightNormal)
	SmallBold = sans(7.5, xfont.WeightBold)
	Tiny      = sans(6.5, xfont.WeightNormal)
	TinyBold  = sans(6.5, xfont.WeightBold) // bold, so that a minus does not pass for a dash of the line
)

// Line weights.
const (
	Hairline vg.Length = 0.35
	Thin     vg.Length = 0.55
	Medium   vg.Length = 0.9
)

const leading = 1.3 // line distance over type size

func face(f font.Font) font.Face { return font.DefaultCache.Lookup(f, f.Size) }

// Width returns how long a line of text is, pt.
func Width(f font.Font, s string) vg.Length {
	a := advancesOf(f)
	units := vg.Length(0)
	before := rune(-1)
	for _, r := range s {
		units += a.of(before, r)
		before = r
	}
	return units * (f.Size / a.em)
}

// advances are those of letters of a font that were measured: text is measured much more often than drawn. Of any size, in units of which
// the em has so many.
type advances struct {
	em    vg.Length
	whole font.Face                              // of the size of the em
	ascii [(letters + 1) * letters]atomic.Uint64 // the bits of those after another letter of ASCII, or after none; 0 is not measured yet
	mutex sync.RWMutex
	known map[[2]rune]vg.Length // of all others, a letter after another, or after none: below 0
}

const letters = 128 // of ASCII

var measured sync.Map // *advances by typeface and weight

func advancesOf(f font.Font) *advances {
	f.Size = 0
	if a, ok := measured.Load(f); ok {
		return a.(*advances) //nolint:forcetypeassert // it holds nothing else
	}
	em := vg.Length(face(f).Face.UnitsPerEm())
	unsized := f
	f.Size = em
	a, _ := measured.LoadOrStore(unsized, &advances{em: em, whole: face(f), known: map[[2]rune]vg.Length{}})
	return a.(*advances) //nolint:forcetypeassert // it holds nothing else
}

// of returns how far a letter moves the pen, kerning included.
func (a *advances) of(before, r rune) vg.Length {
	if before < letters && r < letters {
		kept := &a.ascii[(before+1)*letters+r]
		if bits := kept.Load(); bits != 0 {
			return vg.Length(math.Float64frombits(bits))
		}
		units := a.measure(before, r)
		kept.Store(math.Float64bits(float64(units)))
		return units
	}
	pair := [2]rune{before, r}
	a.mutex.RLock()
	units, ok := a.known[pair]
	a.mutex.RUnlock()
	if ok {
		return units
	}
	units = a.measure(before, r)
	a.mutex.Lock()
	a.known[pair] = units
	a.mutex.Unlock()
	return units
}

func (a *advances) measure(before, r rune) vg.Length {
	if before < 0 {
		return a.whole.Width(string(r))
	}
	return a.whole.Width(string([]rune{before, r})) - a.whole.Width(string(before))
}

// CapHeight is how high digits and capitals of Liberation Sans stand over the baseline.
func CapHeight(f font.Font) vg.Length { return 0.7 * f.Size }

// LineHeight returns the distance of two lines of text, pt.
func LineHeight(f font.Font) vg.Length { return leading * f.Size }

// Left, Centre and Right align text along its baseline: the share of its width that lies before the point given.
const (
	Left   = 0.0
	Centre = 0.5
	Right  = 1.0
)

// Write draws one line of text with its baseline at the point.
func Write(c vg.Canvas, f font.Font, ink color.Color, at vg.Point, align float64, s string) {
	if s == "" {
		return
	}
	c.SetColor(ink)
	at.X -= vg.Length(align) * Width(f, s)
	c.FillString(face(f), at, s)
}

// WriteTurned draws one line of text centred on the point, turned counter-clockwise by the angle, rad.
func WriteTurned(c vg.Canvas, f font.Font, ink color.Color, at vg.Point, angle float64, s string) {
	c.Push()
	c.Translate(at)
	c.Rotate(angle)
	Write(c, f, ink, vg.Point{Y: -CapHeight(f) / 2}, Centre, s)
	c.Pop()
}

// Block is text broken into lines.
type Block struct {
	font  font.Font
	color color.Color
	Lines []string
}

// NewBlock breaks text into lines of at most the width, pt.
func NewBlock(f font.Font, ink color.Color, s string, width vg.Length) Block {
	return Block{f, ink, Wrap(Clean(s), width.Points(), func(line string) float64 { return Width(f, line).Points() })}
}

// Most returns the block with so many lines at most; the last of those then ends in an ellipsis.
func (b Block) Most(lines int) Block {
	if len(b.Lines) > lines {
		last := []rune(b.Lines[lines-1])
		b.Lines = append(b.Lines[:lines-1:lines-1], strings.TrimSpace(string(last[:max(len(last)-2, 0)]))+"…")
	}
	return b
}

// Height returns the height of all the lines, pt.
func (b Block) Height() vg.Length { return vg.Length(len(b.Lines)) * LineHeight(b.font) }

// Draw draws the block downward from a top left corner and returns the height that it took.
func (b Block) Draw(c vg.Canvas, x, top vg.Length) vg.Length { return b.draw(c, x, top, Left) }

// DrawRight draws the block downward from a top right corner and returns the height that it took.
func (b Block) DrawRight(c vg.Canvas, x, top vg.Length) vg.Length { return b.draw(c, x, top, Right) }

func (b Block) draw(c vg.Canvas, x, top vg.Length, align float64) vg.Length {
	y := top - b.font.Size
	for _, line := range b.Lines {
		Write(c, b.font, b.color, vg.Point{X: x, Y: y}, align, line)
		y -= LineHeight(b.font)
	}
	return b.Height()
}

// Stroke draws an open polyline.
func Stroke(c vg.Canvas, ink color.Color, width vg.Length, dashes []vg.Length, points ...vg.Point) {
	if len(points) < 2 {
		return
	}
	c.SetColor(ink)
	c.SetLineWidth(width)
	c.SetLineDash(dashes, 0)
	c.Stroke(Polygon(points, false))
}

// A Line is how a curve is drawn. Lines differ in lightness, in width and in dashes, so that they are told apart in grey.
type Line struct {
	Color  color.NRGBA
	Width  vg.Length
	Dashes []vg.Length
}

// The lines of a chart.
var (
	Solid  = Line{Blue, 1.5, nil}
	Dotted = Line{Slate, 1.3, []vg.Length{1.3, 1.9}}
	Dashed = Line{Amber, 1.5, []vg.Length{6, 2.4}}
)

// Draw draws an open polyline.
func (l Line) Draw(c vg.Canvas, points ...vg.Point) { Stroke(c, l.Color, l.Width, l.Dashes, points...) }

// Outline draws a closed polygon.
func Outline(c vg.Canvas, ink color.Color, width vg.Length, points ...vg.Point) {
	c.SetColor(ink)
	c.SetLineWidth(width)
	c.SetLineDash(nil, 0)
	c.Stroke(Polygon(points, true))
}

// Fill fills a polygon.
func Fill(c vg.Canvas, ink color.Color, points ...vg.Point) {
	c.SetColor(ink)
	c.Fill(Polygon(points, true))
}

// Polygon returns the path through the points.
func Polygon(points []vg.Point, closed bool) vg.Path {
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

// Circle returns a circle as a polygon fine enough for the eye: the canvases do not agree on arcs.
func Circle(centre vg.Point, radius vg.Length) []vg.Point {
	n := max(16, 4*int(math.Sqrt(float64(radius))*4))
	points := make([]vg.Point, n)
	for i := range points {
		points[i] = OnCircle(centre, radius, 2*math.Pi*float64(i)/float64(n))
	}
	return points
}

// OnCircle returns the point of a circle at an angle counter-clockwise from +x, rad.
func OnCircle(centre vg.Point, radius vg.Length, angle float64) vg.Point {
	sin, cos := math.Sincos(angle)
	return vg.Point{X: centre.X + radius*vg.Length(cos), Y: centre.Y + radius*vg.Length(sin)}
}

// Corners returns the corners of a rectangle, counter-clockwise from the lower left.
func Corners(r vg.Rectangle) []vg.Point {
	return []vg.Point{r.Min, {X: r.Max.X, Y: r.Min.Y}, r.Max, {X: r.Min.X, Y: r.Max.Y}}
}

// Margin keeps a figure's own ink off the edge of its paper.
const Margin vg.Length = 4

// AtLeast returns the canvas, or where it is lower than a height, one of that height from the same top.
func AtLeast(c draw.Canvas, height vg.Length) draw.Canvas {
	if c.Max.Y-c.Min.Y < height {
		c.Min.Y = c.Max.Y - height
	}
	return c
}

// Inset paints the paper and returns the canvas within the margin.
func Inset(c draw.Canvas) draw.Canvas {
	Fill(c, White, Corners(c.Rectangle)...)
	return draw.Crop(c, Margin, -Margin, Margin, -Margin)
}
