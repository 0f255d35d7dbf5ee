package plots

import (
	"bytes"
	"encoding/xml"
	"errors"
	"flag"
	"fmt"
	"image/png"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"codeberg.org/go-pdf/fpdf"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/plot/cmpimg"
	"gonum.org/v1/plot/vg"

	"lampswap/photometry/longtest"
	"lampswap/plots/internal/pen"
)

var update = flag.Bool("update", false, "write the golden figures anew")

func written(t *testing.T, f Figure, format string, width, height vg.Length) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, Write(&b, f, format, width, height))
	return b.Bytes()
}

// widths are from a column of a page to a broad sheet; where there is little time, the column alone.
var widths = longtest.Pick([]vg.Length{4 * vg.Inch}, []vg.Length{3 * vg.Inch, 4 * vg.Inch, 6.5 * vg.Inch, 10 * vg.Inch})

// TestNoTextOnText draws every figure at several widths: no text may lie on another.
func TestNoTextOnText(t *testing.T) {
	for name, f := range figures(t) {
		for _, width := range widths {
			assert.Empty(t, recordFigure(f, width).overlaps(), "%s at %v in", name, width/vg.Inch)
		}
	}
}

// TestNothingIsCutOff draws every figure at several widths: no ink may leave the paper's margin, and the paper may not stay empty.
func TestNothingIsCutOff(t *testing.T) {
	for name, f := range figures(t) {
		for _, width := range widths {
			t.Run(fmt.Sprintf("%s %v in", name, width/vg.Inch), func(t *testing.T) {
				l := recordFigure(f, width)
				assert.LessOrEqual(t, l.height, max(1.4*width+40, 7*vg.Inch))
				const slack = 3 // of the margin of 4 pt: overhanging numbers
				assert.GreaterOrEqual(t, l.ink.Min.X, pen.Margin-slack)
				assert.GreaterOrEqual(t, l.ink.Min.Y, pen.Margin-slack)
				assert.LessOrEqual(t, l.ink.Max.X, width-pen.Margin+slack)
				assert.LessOrEqual(t, l.ink.Max.Y, l.height-pen.Margin+slack)
				assert.Less(t, l.ink.Min.Y, vg.Length(16), "its own height leaves no blank space")
			})
		}
	}
}

// TestGivenHeight squeezes and stretches figures.
func TestGivenHeight(t *testing.T) {
	for name, f := range figures(t) {
		for _, height := range []vg.Length{f.LeastHeight(6.5 * vg.Inch), 3.5 * vg.Inch, 9 * vg.Inch} {
			height = max(height, f.LeastHeight(6.5*vg.Inch))
			l := newLedger(6.5*vg.Inch, height)
			f.Draw(drawOn(l))
			assert.Empty(t, l.overlaps(), "%s at %v", name, height)
			assert.GreaterOrEqual(t, l.ink.Min.Y, vg.Length(0), "%s at %v", name, height)
			assert.LessOrEqual(t, l.ink.Max.Y, height, "%s at %v", name, height)
		}
	}
}

// TestNoNumberIsNoneHoweverSmallThePaper draws figures on papers that are far too small, and with texts that leave them no room: every place
// is a number, and below the least height nothing shrinks further.
func TestNoNumberIsNoneHoweverSmallThePaper(t *testing.T) {
	all := figures(t)
	long := beforeAfter(warehouse(40, 30, 2, 3, 4, 1100))
	long.Title = strings.Repeat("Receiving, bay by the quay ", 60)
	all["sheet-of-a-long-title"] = long
	for name, f := range all {
		for _, width := range longtest.Pick([]vg.Length{20}, []vg.Length{20, 6.5 * vg.Inch}) {
			assert.LessOrEqual(t, f.LeastHeight(width), f.Height(width)+1e-6, "%s at %v", name, width)
			for _, height := range []vg.Length{1, f.LeastHeight(width)} {
				l := newLedger(width, height)
				f.Draw(drawOn(l))
				assert.Zero(t, l.nowhere, "%s, %v by %v", name, width, height)
			}
		}
	}
}

// TestDescriptions asks every figure for words for a reader who cannot see it.
func TestDescriptions(t *testing.T) {
	for name, f := range figures(t) {
		words := f.Describe()
		assert.Greater(t, len(words), 15, name)
		assert.NotContains(t, words, "NaN", name)
		assert.NotContains(t, words, "Inf", name)
		for _, s := range recordFigure(f, 4*vg.Inch).texts {
			assert.NotContains(t, s, "NaN", name)
			assert.NotContains(t, s, "Inf", name)
		}
	}
}

func TestSameBytes(t *testing.T) {
	fs := figures(t)
	for _, name := range longtest.Pick([]string{"map-racks", "front"}, []string{"map-racks", "sheet-wide", "polar-up", "front", "deviations"}) {
		for _, format := range Formats {
			first := written(t, fs[name], format, 4*vg.Inch, 0)
			for range longtest.Pick(1, 3) {
				require.True(t, bytes.Equal(first, written(t, figures(t)[name], format, 4*vg.Inch, 0)), "%s.%s", name, format)
			}
		}
	}
}

func TestSVGIsXMLWithADescription(t *testing.T) {
	m := warehouse(60, 40, 4, 2, 2, 1100)
	m.Title = `North & south <"bay">`
	drawing := written(t, m, "svg", 4*vg.Inch, 0)
	decoder := xml.NewDecoder(bytes.NewReader(drawing))
	var label string
	texts := 0
	for {
		token, err := decoder.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		require.NoError(t, err)
		start, ok := token.(xml.StartElement)
		if !ok {
			continue
		}
		switch start.Name.Local {
		case "svg":
			for _, a := range start.Attr {
				if a.Name.Local == "aria-label" {
					label = a.Value
				}
			}
		case "text":
			texts++
		}
	}
	assert.Contains(t, label, m.Title)
	assert.Contains(t, label, "average")
	assert.Greater(t, texts, 10)
	assert.NotContains(t, string(drawing), "<!--")
	assert.Equal(t, texts, strings.Count(string(drawing), svgFonts))
}

func TestPDFHasTextAndNoDate(t *testing.T) {
	for name, f := range figures(t) {
		data := written(t, f, "pdf", 6.5*vg.Inch, 0)
		assert.True(t, bytes.HasPrefix(data, []byte("%PDF-")), name)
		assert.True(t, bytes.HasSuffix(bytes.TrimSpace(data), []byte("%%EOF")), name)
		assert.NotContains(t, string(data), "CreationDate", name)
		assert.NotContains(t, string(data), "ModDate", name)
		assert.Contains(t, string(data), "/ToUnicode", "text can be searched")
		same, err := cmpimg.Equal("pdf", data, data) // reads pages, contents and trailer
		require.NoError(t, err, name)
		assert.True(t, same, name)
		assert.Less(t, len(data), 200_000, "%s embeds only the letters that it uses", name)
	}
}

func TestDrawPDFOnAPageOfOthers(t *testing.T) {
	doc := fpdf.New("P", "pt", "Letter", "")
	doc.AddPage()
	DrawPDF(doc, rackFace(t), 72, 72, 468, 150)
	DrawPDF(doc, Polar{Distribution: strip(t, 0)}, 72, 250, 200, 180)
	doc.AddPage()
	DrawPDF(doc, rackFace(t), 72, 72, 468, 150)
	var b bytes.Buffer
	require.NoError(t, doc.Output(&b))
	assert.Equal(t, 2, doc.PageCount())
}

func TestStrangeTitles(t *testing.T) {
	m := warehouse(60, 40, 4, 2, 2, 1100)
	m.Title = "Lager Süd\x00\n№ 3 — 日本 🏭 " + strings.Repeat("W", 300)
	m.Subtitle, m.Caption = "\xff\xfe", " "
	for _, format := range Formats {
		data := written(t, m, format, 3*vg.Inch, 0)
		if format == "svg" {
			require.NoError(t, xml.Unmarshal(data, new(struct{})))
		}
	}
	assert.Equal(t, []rune("日本🏭"), Missing(Sheet{Maps: []Map{m}}), "however deep")
	assert.Empty(t, Missing(figures(t)))
}

type broken struct{}

func (broken) Write([]byte) (int, error) { return 0, io.ErrClosedPipe }

func TestWriteErrs(t *testing.T) {
	m := warehouse(60, 40, 4, 2, 2, 1100)
	require.ErrorContains(t, Write(io.Discard, m, "bmp", vg.Inch, 0), "png, svg, pdf")
	for _, format := range Formats {
		require.ErrorIs(t, Write(broken{}, m, format, 2*vg.Inch, 0), io.ErrClosedPipe)
	}
	assert.Panics(t, func() { _ = Write(io.Discard, m, "png", 0, 0) })
}

// golden are the figures that are kept as pictures: one of each way to draw.
var golden = []string{"map-racks", "polar-up", "years", "front", "cash", "deviations", "map-outline"}

// TestGolden compares some small figures with their golden pictures, but for what rounding on other machines may do to a pixel.
func TestGolden(t *testing.T) {
	for _, name := range golden {
		path := filepath.Join("testdata", name+".png")
		got := written(t, figures(t)[name], "png", 3.2*vg.Inch, 0)
		if *update {
			require.NoError(t, os.MkdirAll("testdata", 0o755))
			require.NoError(t, os.WriteFile(path, got, 0o644))
		}
		want, err := os.ReadFile(path)
		require.NoError(t, err)
		same, err := cmpimg.EqualApprox("png", got, want, 0.1)
		require.NoError(t, err)
		assert.True(t, same, "%s differs; look at it, then go test ./plots -update", name)
	}
}

func TestPNGSize(t *testing.T) {
	c, err := png.DecodeConfig(bytes.NewReader(written(t, rackFace(t), "png", 4*vg.Inch, 2*vg.Inch)))
	require.NoError(t, err)
	assert.Equal(t, 4*PixelsPerInch, c.Width)
	assert.Equal(t, 2*PixelsPerInch, c.Height)
}
