package pdf

import (
	"bytes"
	"fmt"
	"strings"

	"codeberg.org/go-pdf/fpdf"
	xfont "golang.org/x/image/font"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"

	"lampswap/cmd/lampswap/internal/document"
	"lampswap/plots"
)

// A typeStyle is a size of type with its room, pt.
type typeStyle struct {
	size, leading float64
	bold          bool
	before, after float64 // white around a heading
}

// The type of a document on paper.
var (
	bodyType      = typeStyle{size: 9.5, leading: 13}
	strongType    = typeStyle{size: 9.5, leading: 13, bold: true}
	smallType     = typeStyle{size: 8.5, leading: 11.5}
	leadType      = typeStyle{size: 11, leading: 15}
	answerType    = typeStyle{size: 17, leading: 23, bold: true}
	cellType      = typeStyle{size: 8.5, leading: 11}
	cellBoldType  = typeStyle{size: 8.5, leading: 11, bold: true}
	furnitureType = typeStyle{size: 8, leading: 11}
	headingTypes  = []typeStyle{
		{size: 21, leading: 25, bold: true, after: 4},
		{size: 13.5, leading: 17, bold: true, before: 24, after: 1},
		{size: 10.5, leading: 14, bold: true, before: 12, after: -2},
	}
)

const (
	paragraphGap = 5.0
	measure      = 470.0 // longest line of running text, pt
	headingRoom  = 70.0  // kept free above a figure of a page's height
	shortList    = 3     // items; a list no longer is not parted
	widestPart   = 205.0 // of a drawing beside others
	leastSheet   = 0.5   // of its height, to which a sheet of maps, which finds another arrangement, is drawn lower rather than moved
	mostHeading  = 6     // lines
	mostCaption  = 8     // lines
	leastFigure  = 0.64  // the same of any other figure
)

func plotLength(pt float64) vg.Length { return vg.Length(pt) }

// fontFamily is the name under which figures find the font already embedded.
const fontFamily = "LiberationSans"

// addFonts embeds the faces of the text, which package plots has put into the cache and of which only the characters that are used reach the file.
func addFonts(doc *fpdf.Fpdf) error {
	for _, weight := range []xfont.Weight{xfont.WeightNormal, xfont.WeightBold} {
		face := font.DefaultCache.Lookup(font.Font{Typeface: "Liberation", Variant: "Sans", Weight: weight, Size: 10}, 10)
		var raw bytes.Buffer
		if _, err := face.Face.WriteSourceTo(nil, &raw); err != nil {
			return fmt.Errorf("font %s: %w", face.Name(), err)
		}
		style := "B"
		if weight == xfont.WeightNormal {
			style = ""
		}
		doc.AddUTF8FontFromBytes(fontFamily, style, raw.Bytes())
	}
	return nil
}

func (w *writer) set(style typeStyle) {
	weight := ""
	if style.bold {
		weight = "B"
	}
	w.pdf.SetFont(fontFamily, weight, style.size)
}

// wide is the width of a line of text, pt.
func (w *writer) wide(style typeStyle, s string) float64 {
	w.set(style)
	return w.pdf.GetStringWidth(plots.Clean(s))
}

// text writes a line with its baseline at y from the top.
func (w *writer) text(style typeStyle, ink document.RGB, x, y float64, s string) {
	if s == "" {
		return
	}
	w.set(style)
	w.pdf.SetTextColor(int(ink.R), int(ink.G), int(ink.B))
	w.pdf.Text(x, y, plots.Clean(s))
}

// lines writes lines downward from a top left corner.
func (w *writer) lines(style typeStyle, ink document.RGB, x, top float64, lines []string) {
	for i, line := range lines {
		w.text(style, ink, x, top+float64(i)*style.leading+style.size+(style.leading-style.size)*0.3, line)
	}
}

// wordsOf are what stands between the spaces of a text at which a line may end.
func wordsOf(s string) []string {
	return strings.FieldsFunc(plots.Clean(s), func(r rune) bool { return r == ' ' })
}

// wrap breaks text into lines of at most the width.
func (w *writer) wrap(style typeStyle, s string, width float64) []string {
	return plots.Wrap(plots.Clean(s), width, w.measure(style))
}

func (w *writer) measure(style typeStyle) func(string) float64 {
	return func(line string) float64 { return w.wide(style, line) }
}

// wrapMost is wrap of at most so many lines, the last of which tells that there were more.
func (w *writer) wrapMost(style typeStyle, s string, width float64, most int) []string {
	lines := w.wrap(style, s, width)
	if len(lines) > most {
		lines = append(lines[:most-1], w.fitted(style, lines[most-1]+" "+lines[most], width))
	}
	return lines
}

// fitted cuts a line off where it gets too long.
func (w *writer) fitted(style typeStyle, s string, width float64) string {
	if w.wide(style, s) <= width {
		return s
	}
	runes := []rune(s)
	for len(runes) > 1 && w.wide(style, string(runes)+"…") > width {
		runes = runes[:len(runes)-1]
	}
	return string(runes) + "…"
}

// rule draws a line across the text.
func (w *writer) rule(y float64, ink document.RGB) {
	w.pdf.SetDrawColor(int(ink.R), int(ink.G), int(ink.B))
	w.pdf.SetLineWidth(0.5)
	w.pdf.Line(sideMargin, y, w.paper.Width-sideMargin, y)
}

func (w *writer) fill(x, y, width, height float64, ink document.RGB) {
	w.pdf.SetFillColor(int(ink.R), int(ink.G), int(ink.B))
	w.pdf.Rect(x, y, width, height, "F")
}
