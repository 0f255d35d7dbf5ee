package main

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
	"pgregory.net/rapid"
)

// A reader other than ours opens the PDF, on both papers, and every page has something on it.
func TestPDFOpensInAReader(t *testing.T) {
	pdftoppm, pdfinfo := tool(t, "pdftoppm"), tool(t, "pdfinfo")
	d, r := aDocument(t, proposalJob)
	for name, p := range papers {
		content, err := writePDF(d, p)
		require.NoError(t, err)
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
	d, r := aDocument(t, proposalJob)
	content, err := writePDF(d, papers["letter"])
	require.NoError(t, err)
	text := pdfText(t, content)
	word, sentence := answerOf(r)
	assert.Contains(t, text, word)
	assert.Contains(t, squeezed(text), squeezed(typeset(sentence)))
	assert.Contains(t, text, "Größere Halle Süd – café (invented)", "letters beyond English")
	pages := regexp.MustCompile(`Page (\d+) of (\d+)`).FindAllStringSubmatch(text, -1)
	for i, p := range pages {
		assert.Equal(t, strconv.Itoa(i+1), p[1])
		assert.Equal(t, strconv.Itoa(len(pages)), p[2])
	}
	assert.Equal(t, len(pages), strings.Count(text, "30 April 2026")-1, "the date stands on each page and on the cover")
}

// Words keep within the margins of both papers, and within the page from top to bottom. A figure's own margin hangs over by 4 pt.
func TestPDFKeepsItsMargins(t *testing.T) {
	pdftotext := tool(t, "pdftotext")
	d, _ := aDocument(t, proposalJob)
	place := regexp.MustCompile(`<word xMin="([-0-9.]+)" yMin="([-0-9.]+)" xMax="([-0-9.]+)" yMax="([-0-9.]+)">(.*)</word>`)
	for name, p := range papers {
		content, err := writePDF(d, p)
		require.NoError(t, err)
		path := filepath.Join(t.TempDir(), "document.pdf")
		require.NoError(t, os.WriteFile(path, content, 0o600))
		boxes, _ := output(t, pdftotext, "-bbox", path, "-")
		words := place.FindAllStringSubmatch(boxes, -1)
		require.NotEmpty(t, words)
		for _, w := range words {
			var at [4]float64
			for i := range at {
				at[i], err = strconv.ParseFloat(w[i+1], 64)
				require.NoError(t, err)
			}
			const slack = 5
			assert.True(t, at[0] > sideMargin-slack && at[2] < p.width-sideMargin+slack && at[1] > 20 && at[3] < p.height-20, "%s: %q at %v",
				name, w[5], at)
		}
	}
}

func TestPDFEmbedsItsFonts(t *testing.T) {
	pdffonts := tool(t, "pdffonts")
	d, _ := aDocument(t)
	content, err := writePDF(d, papers["letter"])
	require.NoError(t, err)
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
	d, _ := aDocument(t, proposalJob)
	first, err := writePDF(d, papers["a4"])
	require.NoError(t, err)
	again, err := workOut(t.Context(), proposalJob)
	require.NoError(t, err)
	second, err := writePDF(proposalOf(again.result, again.others), papers["a4"])
	require.NoError(t, err)
	assert.True(t, bytes.Equal(first, second))
	assert.Contains(t, string(first), "/CreationDate (D:20260430000000", "the job's date")
	undated, _ := aDocument(t)
	content, err := writePDF(undated, papers["letter"])
	require.NoError(t, err)
	assert.NotContains(t, string(content), "/CreationDate")
	assert.NotContains(t, string(content), "/ModDate")
}

// Every box is placed once and in order, none beyond the page unless it is higher than one; what is kept together is on one page if it
// can be, and the head of a table is drawn again where a row of it begins a page.
func TestPaginate(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		const height = 100.0
		boxes := make([]box, rapid.IntRange(1, 40).Draw(t, "boxes"))
		var drawn []int
		head := &box{height: 6, draw: func(float64, float64) { drawn = append(drawn, -1) }}
		for i := range boxes {
			boxes[i] = box{before: rapid.Float64Range(0, 10).Draw(t, "before"), height: rapid.Float64Range(1, 90).Draw(t, "height"),
				keep: rapid.Bool().Draw(t, "keep"),
				draw: func(float64, float64) { drawn = append(drawn, i) }}
			if rapid.Bool().Draw(t, "shrinks") {
				boxes[i].least = boxes[i].height * rapid.Float64Range(0.5, 1).Draw(t, "least")
			}
			if rapid.Bool().Draw(t, "row") {
				boxes[i].head = head
			}
		}
		pages := paginate(boxes, height)
		pageOf, next := make([]int, len(boxes)), 0
		for p, page := range pages {
			bottom := 0.0
			for k, b := range page {
				drawn = nil
				b.draw(b.y, b.height)
				assert.GreaterOrEqual(t, b.y, bottom-1e-9, "none over the one before")
				bottom = b.y + b.height
				assert.LessOrEqual(t, bottom, height+1e-9)
				if drawn[0] < 0 {
					assert.Zero(t, k, "a head is drawn again at the top only")
					continue
				}
				require.Equal(t, next, drawn[0], "in order")
				pageOf[next] = p
				own := boxes[next]
				assert.LessOrEqual(t, b.height, own.height+1e-9)
				assert.GreaterOrEqual(t, b.height, map[bool]float64{true: own.least, false: own.height}[own.least > 0]-1e-9)
				assert.False(t, k == 0 && own.head != nil, "a row does not begin a page without its head")
				next++
			}
		}
		assert.Equal(t, len(boxes), next, "each is placed")
		for i := 0; i < len(boxes); {
			n, tall := i, boxes[i].height+head.height
			for boxes[n].keep && n+1 < len(boxes) {
				n++
				tall += boxes[n].before + boxes[n].height
			}
			if tall <= height {
				assert.Equal(t, pageOf[i], pageOf[n], "boxes %d to %d are kept together", i, n)
			}
			i = n + 1
		}
	})
}

// A figure is drawn lower before it leaves the rest of a page empty.
func TestPaginateShrinksWhatCanBeDrawnLower(t *testing.T) {
	nothing := func(float64, float64) {}
	pages := paginate([]box{{height: 50, draw: nothing}, {height: 60, least: 40, draw: nothing}}, 100)
	require.Len(t, pages, 1)
	assert.InDelta(t, 50, pages[0][1].height, 1e-12)
	pages = paginate([]box{{height: 70, draw: nothing}, {height: 60, least: 40, draw: nothing}}, 100)
	require.Len(t, pages, 2)
	assert.InDelta(t, 60, pages[1][0].height, 1e-12)
}

// A few lines are not left for a page of their own: the part that they end goes there.
func TestSpreadLeavesNoLineAlone(t *testing.T) {
	nothing := func(float64, float64) {}
	boxes := []box{{height: 60, draw: nothing}, {height: 10, opens: true, keep: true, draw: nothing}, {height: 10, draw: nothing}, {height: 10, draw: nothing},
		{height: 12, draw: nothing}}
	require.Len(t, paginate(boxes, 100)[1], 1)
	pages := spread(boxes, 100)
	require.Len(t, pages, 2)
	assert.Len(t, pages[0], 1)
	assert.Len(t, pages[1], 4)
}

func TestWrapBreaksLongWords(t *testing.T) {
	d := document{Title: "x", Language: "en", Blocks: []block{heading{1, strings.Repeat("Wide", 60)},
		dataTable{Caption: "c", Label: "l", Columns: []column{{"text", 1}, {Name: "n"}}, Groups: []group{{Rows: []tableRow{
			{strings.Repeat("key.", 50), []datum{{Text: strings.Repeat("value-", 50)}, {Text: "1"}}}}}}}, prose{Text: "日本\x00語 \u200b é"}}}
	content, err := writePDF(d, papers["letter"])
	require.NoError(t, err)
	text := pdfText(t, content)
	assert.Equal(t, 61, strings.Count(squeezed(text), "Wide")+1)
	assert.Contains(t, text, "??? é", "letters that the font does not have are question marks, what is no letter is left out")
}
