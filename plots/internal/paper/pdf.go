// Package paper holds the canvases that plots draws on where those of gonum/plot fall short: a page of a PDF document, and a picture
// whose letters are outlines. It answers for plots.
package paper

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"math"

	"codeberg.org/go-pdf/fpdf"
	xfont "golang.org/x/image/font"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
)

// A PDF is a canvas on the current page of a document. It keeps the transformation itself, so that the page holds plain coordinates.
type PDF struct {
	doc           *fpdf.Fpdf
	width, height vg.Length
	state         pdfState
	stack         []pdfState
	images        int
}

// A pdfState is what Push keeps. The matrix takes the canvas's coordinates to those of the page, y downward.
type pdfState struct {
	xx, xy, yx, yy, x0, y0 float64
	color                  color.Color
	line                   vg.Length
	dashes                 []vg.Length
	offset                 vg.Length
}

// NewPDF returns a canvas on the current page of a document whose unit is the point: the rectangle of the given width and height whose
// upper left corner is x from the left and y from the top of the page. Faults are the document's: see its Error. What it sets of the
// document's line style, colours and font stays set.
func NewPDF(doc *fpdf.Fpdf, x, y float64, width, height vg.Length) *PDF {
	c := &PDF{doc: doc, width: width, height: height, state: pdfState{xx: 1, yy: -1, x0: x, y0: y + float64(height)}}
	doc.SetLineJoinStyle("round")
	doc.SetLineCapStyle("butt")
	vg.Initialize(c)
	return c
}

// Size returns the size of the canvas.
func (c *PDF) Size() (width, height vg.Length) { return c.width, c.height }

// SetLineWidth sets the width of lines.
func (c *PDF) SetLineWidth(width vg.Length) { c.state.line = width }

// SetLineDash sets the dashes and gaps of lines.
func (c *PDF) SetLineDash(dashes []vg.Length, offset vg.Length) {
	c.state.dashes, c.state.offset = dashes, offset
}

// SetColor sets the colour of lines, areas and text; nil is black.
func (c *PDF) SetColor(ink color.Color) {
	if ink == nil {
		ink = color.Black
	}
	c.state.color = ink
}

// Rotate turns what follows counter-clockwise by an angle, rad.
func (c *PDF) Rotate(angle float64) {
	sin, cos := math.Sincos(angle)
	s := c.state
	c.state.xx, c.state.yx = s.xx*cos+s.xy*sin, s.yx*cos+s.yy*sin
	c.state.xy, c.state.yy = s.xy*cos-s.xx*sin, s.yy*cos-s.yx*sin
}

// Translate moves what follows.
func (c *PDF) Translate(by vg.Point) { c.state.x0, c.state.y0 = c.at(by) }

// Scale stretches what follows. Text grows by the mean of both.
func (c *PDF) Scale(x, y float64) {
	c.state.xx, c.state.yx = c.state.xx*x, c.state.yx*x
	c.state.xy, c.state.yy = c.state.xy*y, c.state.yy*y
}

// Push keeps the state for Pop.
func (c *PDF) Push() { c.stack = append(c.stack, c.state) }

// Pop takes the state back that the last Push kept.
func (c *PDF) Pop() {
	c.state, c.stack = c.stack[len(c.stack)-1], c.stack[:len(c.stack)-1]
}

// at returns the place on the page of a point.
func (c *PDF) at(p vg.Point) (x, y float64) {
	s, px, py := c.state, float64(p.X), float64(p.Y)
	return s.xx*px + s.xy*py + s.x0, s.yx*px + s.yy*py + s.y0
}

// enlarged returns by how much lengths are stretched.
func (c *PDF) enlarged() float64 {
	s := c.state
	return math.Sqrt(math.Abs(s.xx*s.yy - s.xy*s.yx))
}

// ink hands the colour to the document.
func (c *PDF) ink() {
	n := color.NRGBAModel.Convert(c.state.color).(color.NRGBA)
	r, g, b := int(n.R), int(n.G), int(n.B)
	c.doc.SetDrawColor(r, g, b)
	c.doc.SetFillColor(r, g, b)
	c.doc.SetTextColor(r, g, b)
	if alpha, _ := c.doc.GetAlpha(); alpha != float64(n.A)/255 {
		c.doc.SetAlpha(float64(n.A)/255, "Normal")
	}
}

// Stroke draws the path as a line.
func (c *PDF) Stroke(path vg.Path) {
	if c.state.line <= 0 || len(path) == 0 {
		return
	}
	c.ink()
	k := c.enlarged()
	dashes := make([]float64, len(c.state.dashes))
	for i, d := range c.state.dashes {
		dashes[i] = float64(d) * k
	}
	c.doc.SetLineWidth(float64(c.state.line) * k)
	c.doc.SetDashPattern(dashes, float64(c.state.offset)*k)
	c.trace(path)
	c.doc.DrawPath("D")
}

// Fill fills the path by the nonzero winding rule.
func (c *PDF) Fill(path vg.Path) {
	if len(path) == 0 {
		return
	}
	c.ink()
	c.trace(path)
	c.doc.DrawPath("F")
}

func (c *PDF) trace(path vg.Path) {
	var at vg.Point // where the path has got to
	for i, p := range path {
		x, y := c.at(p.Pos)
		switch p.Type {
		case vg.MoveComp:
			c.doc.MoveTo(x, y)
		case vg.LineComp:
			c.doc.LineTo(x, y)
		case vg.ArcComp:
			c.traceArc(p, i == 0)
			at = onArc(p, 1)
			continue
		case vg.CurveComp:
			first, second := p.Control[0], p.Control[0]
			if len(p.Control) == 1 { // PDF has cubic curves only: raise the degree
				first, second = towards(at, first), towards(p.Pos, second)
			} else {
				second = p.Control[1]
			}
			x1, y1 := c.at(first)
			x2, y2 := c.at(second)
			c.doc.CurveBezierCubicTo(x1, y1, x2, y2, x, y)
		case vg.CloseComp:
			c.doc.ClosePath()
			continue
		}
		at = p.Pos
	}
}

// towards returns the point two thirds of the way from a to b.
func towards(a, b vg.Point) vg.Point { return a.Add(b.Sub(a).Scale(2. / 3)) }

// onArc returns the point at a share of the way along an arc.
func onArc(p vg.PathComp, share float64) vg.Point {
	sin, cos := math.Sincos(p.Start + p.Angle*share)
	return vg.Point{X: p.Pos.X + p.Radius*vg.Length(cos), Y: p.Pos.Y + p.Radius*vg.Length(sin)}
}

// traceArc draws an arc as short straight lines, 2 degrees each.
func (c *PDF) traceArc(p vg.PathComp, first bool) {
	n := max(1, int(math.Ceil(math.Abs(p.Angle)/(math.Pi/90))))
	for i := range n + 1 {
		x, y := c.at(onArc(p, float64(i)/float64(n)))
		if first && i == 0 {
			c.doc.MoveTo(x, y)
			continue
		}
		c.doc.LineTo(x, y)
	}
}

// FillString draws text with its baseline at a point.
func (c *PDF) FillString(f font.Face, at vg.Point, s string) {
	if f.Font.Size <= 0 || s == "" {
		return
	}
	style := ""
	if f.Font.Weight >= xfont.WeightSemiBold {
		style += "B"
	}
	if f.Font.Style != xfont.StyleNormal {
		style += "I"
	}
	family := string(f.Font.Typeface) + string(f.Font.Variant)
	var raw bytes.Buffer
	if c.doc.GetFontDesc(family, style).Ascent == 0 { // not known to the document yet
		if _, err := f.Face.WriteSourceTo(nil, &raw); err != nil {
			c.doc.SetError(fmt.Errorf("paper: font %s: %w", f.Name(), err))
			return
		}
		c.doc.AddUTF8FontFromBytes(family, style, raw.Bytes())
	}
	c.ink()
	c.doc.SetFont(family, style, float64(f.Font.Size)*c.enlarged())
	x, y := c.at(at)
	angle := math.Atan2(-c.state.yx, c.state.xx) * 180 / math.Pi
	if math.Abs(angle) < 1e-9 {
		c.doc.Text(x, y, s)
		return
	}
	c.doc.TransformBegin()
	c.doc.TransformRotate(angle, x, y)
	c.doc.Text(x, y, s)
	c.doc.TransformEnd()
}

// DrawImage draws a picture, upright, into the rectangle.
func (c *PDF) DrawImage(r vg.Rectangle, img image.Image) {
	var data bytes.Buffer
	if err := png.Encode(&data, img); err != nil {
		c.doc.SetError(fmt.Errorf("paper: picture: %w", err))
		return
	}
	c.images++
	name := fmt.Sprintf("paper-%d-%d", c.doc.PageNo(), c.images)
	options := fpdf.ImageOptions{ImageType: "png"}
	c.doc.RegisterImageOptionsReader(name, options, &data)
	x0, y0 := c.at(r.Min)
	x1, y1 := c.at(r.Max)
	c.doc.ImageOptions(name, math.Min(x0, x1), math.Min(y0, y1), math.Abs(x1-x0), math.Abs(y1-y0), false, options, 0, "")
}
