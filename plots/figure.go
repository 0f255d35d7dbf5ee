package plots

import (
	"bytes"
	"fmt"
	"html"
	"io"
	"maps"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"time"

	"codeberg.org/go-pdf/fpdf"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgimg"
	"gonum.org/v1/plot/vg/vgsvg"

	"lampswap/plots/internal/paper"
	"lampswap/plots/internal/pen"
)

// Clean is text as the figures write it: accents joined to their letters, without control characters and broken encoding, and with the code
// points, as [U+4E2D U+6587], of characters that their faces do not have. A document that shares their faces writes the same.
func Clean(s string) string { return pen.Clean(s) }

// Wrap breaks text into lines of at most the width as the figures do, by a measure of a line's: at its spaces, else Cut.
func Wrap(text string, width float64, measure func(string) float64) []string {
	return pen.Wrap(text, width, measure)
}

// Cut takes as much off a word as a line of the width holds; nothing is left of one that fits.
func Cut(word string, width float64, measure func(string) float64) (head, rest string) {
	return pen.Cut(word, width, measure)
}

// Missing returns the characters in any of the texts of what is to be drawn, however deep, that Clean names by their code points: each once,
// in their order in Unicode.
func Missing(drawn any) []rune {
	found := map[rune]bool{}
	missing(reflect.ValueOf(drawn), found)
	return slices.Sorted(maps.Keys(found))
}

func missing(v reflect.Value, found map[rune]bool) {
	switch v.Kind() { //nolint:exhaustive // the others hold no text
	case reflect.String:
		for _, r := range pen.Missing(v.String()) {
			found[r] = true
		}
	case reflect.Pointer, reflect.Interface:
		if !v.IsNil() {
			missing(v.Elem(), found)
		}
	case reflect.Slice, reflect.Array:
		if k := v.Type().Elem().Kind(); k == reflect.Float64 || k == reflect.Uint8 {
			return
		}
		for i := range v.Len() {
			missing(v.Index(i), found)
		}
	case reflect.Struct:
		for _, field := range v.Fields() {
			missing(field, found)
		}
	}
}

// A Figure is one drawing on one sheet of paper.
type Figure interface {
	// Height returns the height at which the figure fills the given width without blank space, at most about 1.4 times the width or, of
	// a narrow figure, 7 in.
	Height(width vg.Length) vg.Length
	// LeastHeight returns the least height at which what is drawn can still be read at that width. Given less, a figure is drawn as for its
	// least height, over the edge of its canvas: give it another page instead.
	LeastHeight(width vg.Length) vg.Length
	// Draw draws the figure into the whole of the canvas.
	Draw(c draw.Canvas)
	// Describe is a sentence or two for a reader who cannot see the figure.
	Describe() string
}

// Formats are the file formats that Write knows.
var Formats = []string{"png", "svg", "pdf"}

// PixelsPerInch is the resolution of PNG figures: sharp at letter width in print.
const PixelsPerInch = 200

// Write draws the figure and writes it in one of Formats. A height of 0 takes the figure's own. The bytes depend on nothing but the
// figure, the format and the size. It errs on an unknown format and if w does.
//
// It panics if the width is not positive.
func Write(w io.Writer, f Figure, format string, width, height vg.Length) error {
	return WriteFrom(w, f, format, width, height, Source{})
}

// WriteFrom is Write with what made the figure in the file.
func WriteFrom(w io.Writer, f Figure, format string, width, height vg.Length, from Source) error {
	if !(width > 0) {
		panic("plots: the width must be positive")
	}
	if height <= 0 {
		height = f.Height(width)
	}
	switch format {
	case "png":
		return writePNG(w, f, width, height, from)
	case "svg":
		return writeSVG(w, f, width, height, from)
	case "pdf":
		return writePDF(w, f, width, height, from)
	}
	return fmt.Errorf("plots: format %q is none of %s", format, strings.Join(Formats, ", "))
}

func writePNG(w io.Writer, f Figure, width, height vg.Length, from Source) error {
	c := vgimg.NewWith(vgimg.UseWH(width, height), vgimg.UseDPI(PixelsPerInch))
	f.Draw(draw.New(paper.Picture{Canvas: c}))
	var file bytes.Buffer
	_, err := vgimg.PngCanvas{Canvas: c}.WriteTo(&file)
	if err == nil {
		_, err = w.Write(from.inPNG(file.Bytes()))
	}
	if err != nil {
		return fmt.Errorf("plots: write png: %w", err)
	}
	return nil
}

var svgComment = regexp.MustCompile(`<!--.*?-->\n?`)

// svgFonts are faces of the same widths, for readers without Liberation Sans.
const svgFonts = "font-family:'Liberation Sans',Arimo,Arial,Helvetica,sans-serif"

// writeSVG writes the figure with its description for readers of the page who cannot see it.
func writeSVG(w io.Writer, f Figure, width, height vg.Length, from Source) error {
	c := vgsvg.New(width, height)
	f.Draw(draw.New(c))
	var data bytes.Buffer
	if _, err := c.WriteTo(&data); err != nil {
		return fmt.Errorf("plots: write svg: %w", err)
	}
	drawing := svgComment.ReplaceAll(data.Bytes(), nil)
	drawing = bytes.ReplaceAll(drawing, []byte("font-family:Liberation Sans"), []byte(svgFonts))
	label := `<svg role="img" aria-label="` + html.EscapeString(pen.Clean(f.Describe())) + `" `
	drawing = bytes.Replace(drawing, []byte("<svg "), []byte(label), 1)
	if _, err := w.Write(from.inSVG(drawing)); err != nil {
		return fmt.Errorf("plots: write svg: %w", err)
	}
	return nil
}

// DrawPDF draws the figure onto the current page of a document whose unit is the point: into the rectangle of the given width and
// height, pt, whose upper left corner is x from the left and y from the top of the page. Text is embedded as text, in the figure's own
// font. The document's font, colours and line style are not what they were before. Faults are the document's: see its Error.
func DrawPDF(doc *fpdf.Fpdf, f Figure, x, y, width, height float64) {
	c := paper.NewPDF(doc, x, y, vg.Length(width), vg.Length(height))
	f.Draw(draw.New(c))
	doc.SetDashPattern(nil, 0)
}

// writePDF writes the figure as a document of one page.
func writePDF(w io.Writer, f Figure, width, height vg.Length, from Source) error {
	doc := fpdf.NewCustom(&fpdf.InitType{UnitStr: "pt", Size: fpdf.SizeType{Wd: float64(width), Ht: float64(height)}})
	doc.SetCatalogSort(true) // the same bytes every time
	doc.SetCreationDate(time.Unix(0, 0).UTC())
	doc.SetModificationDate(time.Unix(0, 0).UTC())
	doc.SetMargins(0, 0, 0)
	doc.SetAutoPageBreak(false, 0)
	doc.SetTitle(pen.Clean(f.Describe()), true)
	from.inPDF(doc)
	doc.AddPage()
	DrawPDF(doc, f, 0, 0, float64(width), float64(height))
	var data bytes.Buffer
	if err := doc.Output(&data); err != nil {
		return fmt.Errorf("plots: write pdf: %w", err)
	}
	if _, err := w.Write(Undated(data.Bytes())); err != nil {
		return fmt.Errorf("plots: write pdf: %w", err)
	}
	return nil
}

var pdfDate = regexp.MustCompile(`/(CreationDate|ModDate) \([^)]*\)`)

// Undated blanks the dates of a PDF, so that no offset in it changes: a figure has no date of its own.
func Undated(data []byte) []byte {
	return pdfDate.ReplaceAllFunc(data, func(date []byte) []byte { return bytes.Repeat([]byte{' '}, len(date)) })
}
