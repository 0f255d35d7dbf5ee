package proposal

import (
	"bytes"
	"image/png"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/text/unicode/norm"

	"lampswap/cmd/lampswap/internal/document"
	"lampswap/cmd/lampswap/internal/document/pdf"
	"lampswap/cmd/lampswap/internal/ledger"
	"lampswap/cmd/lampswap/internal/phrases"
	"lampswap/cmd/lampswap/internal/typeset"
	"lampswap/plots"
)

// A reader other than ours opens the PDF, on both papers, and every page has something on it.
func TestPDFOpensInAReader(t *testing.T) {
	pdftoppm, pdfinfo := tool(t, "pdftoppm"), tool(t, "pdfinfo")
	_, r := aDocument(t, proposalJob)
	for name := range document.Papers {
		content := aPDF(t, name, proposalJob)
		folder := t.TempDir()
		path := filepath.Join(folder, "document.pdf")
		require.NoError(t, os.WriteFile(path, content, 0o600))
		info, complaints := output(t, pdfinfo, path)
		assert.Empty(t, complaints, "%s", name)
		pages, err := strconv.Atoi(regexp.MustCompile(`Pages: +(\d+)`).FindStringSubmatch(info)[1])
		require.NoError(t, err)
		assert.Greater(t, pages, 8)
		assert.Contains(t, info, r.Job.Title, "the title, whatever its letters")
		assert.Contains(t, info, "Producer:        lampswap\n", "no version")
		_, complaints = output(t, pdftoppm, "-r", "20", "-png", path, filepath.Join(folder, "page"))
		assert.Empty(t, complaints, "%s", name)
		pictures, err := filepath.Glob(filepath.Join(folder, "page-*.png"))
		require.NoError(t, err)
		require.Len(t, pictures, pages)
		for i, picture := range pictures {
			assert.Greater(t, inked(t, picture), 0.08, "%s, page %d: the part of its lines that bear ink", name, i+1)
		}
	}
}

// inked is the part of a picture's rows that are not blank.
func inked(t *testing.T, path string) float64 {
	t.Helper()
	f, err := os.Open(path)
	require.NoError(t, err)
	defer f.Close() //nolint:errcheck // read only
	picture, err := png.Decode(f)
	require.NoError(t, err)
	b, rows := picture.Bounds(), 0
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			if r, g, bl, _ := picture.At(x, y).RGBA(); r+g+bl < 3*0xd000 {
				rows++
				break
			}
		}
	}
	return float64(rows) / float64(b.Dy())
}

func TestPDFTextIsText(t *testing.T) {
	_, r := aDocument(t, proposalJob)
	text := pdfText(t, aPDF(t, "letter", proposalJob))
	word, sentence := ledger.Answer(r)
	assert.Contains(t, text, word)
	assert.Contains(t, squeezed(text), squeezed(typeset.Text(sentence)))
	assert.Contains(t, text, "Größere Halle Süd – café (invented)", "letters beyond English")
	pages := regexp.MustCompile(`Page (\d+) of (\d+)`).FindAllStringSubmatch(text, -1)
	for i, p := range pages {
		assert.Equal(t, strconv.Itoa(i+1), p[1])
		assert.Equal(t, strconv.Itoa(len(pages)), p[2])
	}
	assert.Equal(t, len(pages), strings.Count(text, "30 April 2026")-1, "the date stands on each page and on the cover")
}

// Words keep within the margins of both papers, and within the page from top to bottom.
func TestPDFKeepsItsMargins(t *testing.T) {
	for name, p := range document.Papers {
		keepsMargins(t, name, p, aPDF(t, name, proposalJob))
	}
}

// So does the longest word of a verdict, which stands large.
func TestTheLongestVerdictKeepsTheMargins(t *testing.T) {
	long := document.Verdict{Word: phrases.Spanish.Say("word.spaces.judged.other"), Sentence: "S."}
	for name, p := range document.Papers {
		content, err := pdf.Write(document.Document{Title: "T", Language: "es", Blocks: []document.Block{long}}, p)
		require.NoError(t, err)
		keepsMargins(t, name, p, content)
	}
}

// keepsMargins asserts it of a document. A figure's own margin hangs over by 4 pt.
func keepsMargins(t *testing.T, name string, p document.Paper, content []byte) {
	t.Helper()
	pdftotext := tool(t, "pdftotext")
	const sideMargin = 54 // pt, of the PDF writer
	place := regexp.MustCompile(`<word xMin="([-0-9.]+)" yMin="([-0-9.]+)" xMax="([-0-9.]+)" yMax="([-0-9.]+)">(.*)</word>`)
	path := filepath.Join(t.TempDir(), "document.pdf")
	require.NoError(t, os.WriteFile(path, content, 0o600))
	boxes, _ := output(t, pdftotext, "-bbox", path, "-")
	words := place.FindAllStringSubmatch(boxes, -1)
	require.NotEmpty(t, words)
	for _, w := range words {
		var at [4]float64
		for i := range at {
			var err error
			at[i], err = strconv.ParseFloat(w[i+1], 64)
			require.NoError(t, err)
		}
		const slack = 5
		assert.True(t, at[0] > sideMargin-slack && at[2] < p.Width-sideMargin+slack && at[1] > 20 && at[3] < p.Height-20, "%s: %q at %v",
			name, w[5], at)
	}
}

func TestPDFEmbedsItsFonts(t *testing.T) {
	pdffonts := tool(t, "pdffonts")
	content := aPDF(t, "letter")
	path := filepath.Join(t.TempDir(), "document.pdf")
	require.NoError(t, os.WriteFile(path, content, 0o600))
	fonts, _ := output(t, pdffonts, path)
	lines := strings.Split(strings.TrimSpace(fonts), "\n")[2:]
	assert.Len(t, lines, 2, "text and figures share them: %s", fonts)
	for _, line := range lines {
		assert.Regexp(t, `yes +(yes|no) +yes +\d+ +\d+$`, line, "embedded, with the table that turns it into text")
	}
	assert.Less(t, len(content), 1_000_000, "only the letters that are used")
}

func TestPDFIsTheSameEveryTime(t *testing.T) {
	first := aPDF(t, "a4", proposalJob)
	again, err := workOut(t.Context(), proposalJob)
	require.NoError(t, err)
	d, err := Of(again.result, again.others, Both, phrases.English)
	require.NoError(t, err)
	second, err := pdf.Write(d, document.Papers["a4"])
	require.NoError(t, err)
	assert.True(t, bytes.Equal(first, second))
	assert.Contains(t, string(first), "/CreationDate (D:20260430000000", "the job's date")
	undated := string(aPDF(t, "letter"))
	assert.NotContains(t, undated, "/CreationDate")
	assert.NotContains(t, undated, "/ModDate")
}

func TestWrapBreaksLongWords(t *testing.T) {
	d := document.Document{Title: "x", Language: "en", Blocks: []document.Block{document.Heading{Level: 1, Text: strings.Repeat("Wide", 60)},
		document.Table{Caption: "c", Label: "l", Columns: []document.Column{{Name: "text", Share: 1}, {Name: "n"}}, Groups: []document.Group{{Rows: []document.Row{
			{Label: strings.Repeat("key.", 50), Cells: []document.Cell{{Text: strings.Repeat("value-", 50)}, {Text: "1"}}}}}}}, document.Prose{Text: "日本\x00語 \u200b é"}}}
	content, err := pdf.Write(d, document.Papers["letter"])
	require.NoError(t, err)
	text := pdfText(t, content)
	assert.Equal(t, 61, strings.Count(squeezed(text), "Wide")+1)
	assert.Contains(t, text, "[U+65E5 U+672C U+8A9E] é", "letters that the font does not have are named, what is no letter is left out")
}

// Titles of many scripts can be found and copied as they were typed; accents that stand apart are joined to their letters.
func TestPDFTextAsTyped(t *testing.T) {
	titles := []string{"Zażółć gęślą jaźń, hala 5", "Αποθήκη Άλφα", "Складской корпус №2, щит", "Kho hàng số 5 ở Đà Nẵng"}
	d := document.Document{Title: "x", Language: "en"}
	for _, title := range titles {
		d.Blocks = append(d.Blocks, document.Heading{Level: 2, Text: title}, document.Figure{Caption: title,
			Parts: []plots.Figure{plots.Years{Title: title, Courses: []plots.Course{{Name: "Existing", Years: []float64{0, 1}, Values: []float64{1, 2}}}}}})
	}
	d.Blocks = append(d.Blocks, document.Prose{Text: norm.NFD.String("Přístav Größe Nguyễn")})
	content, err := pdf.Write(d, document.Papers["a4"])
	require.NoError(t, err)
	text := pdfText(t, content)
	for _, title := range titles {
		assert.GreaterOrEqual(t, strings.Count(text, title), 3, "%s: heading, figure, caption", title)
	}
	assert.Contains(t, text, "Přístav Größe Nguyễn")
	assert.Empty(t, plots.Missing(d))
}

// A chapter's heading and the paragraph below it stand on the page where its table begins.
func TestPDFKeepsHeadingsWithTheirTables(t *testing.T) {
	for _, files := range [][]string{{proposalJob}, nil} {
		seen := 0
		for page := range strings.SplitSeq(pdfText(t, aPDF(t, "letter", files...)), "\f") {
			for heading, begun := range map[string]string{"Behind a loss factor": "One luminaire", "Energy and money: the systems compared": "Light on the work plane, maintained"} {
				if strings.Contains(page, heading) && !regexp.MustCompile(heading+` [0-9]`).MatchString(page) { // no list of contents
					seen++
					assert.Contains(t, page, begun, heading)
				}
			}
		}
		assert.Equal(t, 2, seen)
	}
}
