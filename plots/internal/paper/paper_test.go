package paper

import (
	"bytes"
	"image"
	"image/color"
	"math"
	"testing"

	"codeberg.org/go-pdf/fpdf"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	xfont "golang.org/x/image/font"
	"gonum.org/v1/plot"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
)

// page draws on a canvas of 50 by 40 pt, its upper left corner at (20, 10) of a page of 100 by 100 pt, and returns the document in
// clear. PDF counts from the lower left: the canvas's origin is at (20, 50) there.
func page(t *testing.T, draw func(c *PDF)) string {
	t.Helper()
	doc := fpdf.NewCustom(&fpdf.InitType{UnitStr: "pt", Size: fpdf.SizeType{Wd: 100, Ht: 100}})
	doc.SetCompression(false)
	doc.AddPage()
	draw(NewPDF(doc, 20, 10, 50, 40))
	var b bytes.Buffer
	require.NoError(t, doc.Output(&b))
	return b.String()
}

func line(from, to vg.Point) vg.Path {
	var p vg.Path
	p.Move(from)
	p.Line(to)
	return p
}

func TestPDFTransforms(t *testing.T) {
	s := page(t, func(c *PDF) {
		w, h := c.Size()
		assert.Equal(t, [2]vg.Length{50, 40}, [2]vg.Length{w, h})
		c.Stroke(line(vg.Point{}, vg.Point{X: 10}))
		c.Push()
		c.Translate(vg.Point{X: 5, Y: 5})
		c.Rotate(math.Pi / 2)
		c.Stroke(line(vg.Point{}, vg.Point{X: 10}))
		c.Scale(2, 3)
		c.SetLineWidth(0.5)
		c.Stroke(line(vg.Point{}, vg.Point{X: 10, Y: 1}))
		c.Pop()
		c.Stroke(line(vg.Point{}, vg.Point{Y: 7}))
		c.SetLineWidth(0)
		c.Stroke(line(vg.Point{}, vg.Point{Y: 9}))
	})
	assert.Contains(t, s, "20.00 50.00 m\n30.00 50.00 l\nS")
	assert.Contains(t, s, "25.00 55.00 m\n25.00 65.00 l\nS", "turned to the left")
	assert.Contains(t, s, "25.00 55.00 m\n22.00 75.00 l\nS", "turned, then stretched along itself")
	assert.Contains(t, s, "1.22 w", "lines grow by the mean of both, 0.5 √6")
	assert.Contains(t, s, "20.00 50.00 m\n20.00 57.00 l\nS", "as before Push")
	assert.NotContains(t, s, "59.00 l", "a line without width is not drawn")
}

func TestPDFPaths(t *testing.T) {
	s := page(t, func(c *PDF) {
		var p vg.Path
		p.Move(vg.Point{X: 10})
		p.Arc(vg.Point{}, 10, 0, math.Pi/2)
		p.QuadTo(vg.Point{X: 1, Y: 1}, vg.Point{X: 2, Y: 2})
		p.CubeTo(vg.Point{X: 3, Y: 3}, vg.Point{X: 4, Y: 4}, vg.Point{X: 5, Y: 5})
		p.Close()
		c.SetColor(color.NRGBA{0xff, 0, 0, 0x80})
		c.Fill(p)
		c.SetColor(nil)
		var arc vg.Path
		arc.Arc(vg.Point{}, 5, math.Pi, math.Pi)
		c.SetLineDash([]vg.Length{3, 1}, 0.5)
		c.Stroke(arc)
		c.Stroke(nil)
		c.Fill(nil)
	})
	assert.Contains(t, s, "30.00 50.00 m\n30.00 50.00 l\n")
	assert.Contains(t, s, "20.00 60.00 l\n", "a quarter of a circle ends above its middle")
	// from (0, 10) by way of (1, 1) to (2, 2): two thirds of the way to the control point from either end
	assert.Contains(t, s, "20.66667 54.00000 21.33333 51.33333 22.00000 52.00000 c")
	assert.Contains(t, s, "23.00000 53.00000 24.00000 54.00000 25.00000 55.00000 c")
	assert.Contains(t, s, "/ca 0.502", "half seen through")
	assert.Contains(t, s, "15.00 50.00 m\n", "an arc alone starts at its start")
	assert.Contains(t, s, "[3.00 1.00] 0.50 d")
}

func TestPDFTextAndPicture(t *testing.T) {
	lookup := func(weight xfont.Weight, style xfont.Style) font.Face {
		f := font.From(plot.DefaultFont, 8)
		f.Typeface, f.Variant, f.Weight, f.Style = "Liberation", "Sans", weight, style
		return font.DefaultCache.Lookup(f, 8)
	}
	s := page(t, func(c *PDF) {
		c.FillString(lookup(xfont.WeightNormal, xfont.StyleNormal), vg.Point{X: 1, Y: 2}, "plain −3 °")
		c.FillString(lookup(xfont.WeightBold, xfont.StyleNormal), vg.Point{X: 1, Y: 12}, "bold")
		c.FillString(lookup(xfont.WeightNormal, xfont.StyleItalic), vg.Point{X: 1, Y: 22}, "italic")
		c.FillString(lookup(xfont.WeightBold, xfont.StyleNormal), vg.Point{}, "")
		c.Rotate(0.3)
		c.FillString(lookup(xfont.WeightBold, xfont.StyleNormal), vg.Point{X: 20, Y: 2}, "turned")
		c.DrawImage(vg.Rectangle{Max: vg.Point{X: 4, Y: 4}}, image.NewGray(image.Rect(0, 0, 2, 2)))
	})
	assert.Contains(t, s, "21.00 52.00 Td")
	for _, name := range []string{"utf8liberationsans\n", "utf8liberationsansB\n", "utf8liberationsansI\n"} {
		assert.Contains(t, s, name)
	}
	assert.Contains(t, s, "/Subtype /Image")
}

func TestTextPathIsAsWideAsItsText(t *testing.T) {
	f := font.From(plot.DefaultFont, 10)
	f.Typeface, f.Variant = "Liberation", "Sans"
	face := font.DefaultCache.Lookup(f, 10)
	extent := func(s string) (least, most vg.Length) {
		least = vg.Length(math.Inf(1))
		for _, p := range textPath(face, vg.Point{X: 100, Y: 50}, s) {
			if p.Type != vg.CloseComp {
				least, most = min(least, p.Pos.X), max(most, p.Pos.X)
			}
		}
		return least, most
	}
	for _, s := range []string{"H", "HAVH", "120 ft H"} { // H leaves about 0.8 of 10 pt on either side
		least, most := extent(s)
		width := face.Width(s)
		assert.InDelta(t, 100.8, float64(least), 0.9, s)
		assert.InDelta(t, float64(100+width-0.8), float64(most), 0.3, s)
	}
	assert.Empty(t, textPath(face, vg.Point{}, " "))
}
