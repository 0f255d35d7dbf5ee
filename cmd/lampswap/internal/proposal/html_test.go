package proposal

import (
	"bytes"
	"fmt"
	"image"
	"math"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	markup "golang.org/x/net/html"

	"lampswap/cmd/lampswap/internal/document"
	"lampswap/cmd/lampswap/internal/document/html"
	"lampswap/cmd/lampswap/internal/document/pdf"
	"lampswap/cmd/lampswap/internal/ledger"
	"lampswap/cmd/lampswap/internal/typeset"
)

func parsed(t *testing.T, page []byte) *markup.Node {
	t.Helper()
	root, err := markup.Parse(bytes.NewReader(page))
	require.NoError(t, err)
	return root
}

func attribute(n *markup.Node, key string) string {
	for _, a := range n.Attr {
		if a.Key == key {
			return a.Val
		}
	}
	return ""
}

// textOf is all text below a node, but for that of drawings and style sheets.
func textOf(n *markup.Node) string {
	var b strings.Builder
	for d := range n.Descendants() {
		if d.Type == markup.TextNode && !inside(d, "svg", "style") {
			b.WriteString(d.Data + " ")
		}
	}
	return b.String()
}

func inside(n *markup.Node, elements ...string) bool {
	for a := range n.Ancestors() {
		if slices.Contains(elements, a.Data) {
			return true
		}
	}
	return false
}

func htmlText(t *testing.T, page []byte) string {
	t.Helper()
	return textOf(parsed(t, page))
}

func elements(root *markup.Node, name string) []*markup.Node {
	var all []*markup.Node
	for n := range root.Descendants() {
		if n.Type == markup.ElementNode && n.Data == name {
			all = append(all, n)
		}
	}
	return all
}

// The page needs nothing from elsewhere: no script, no file, no address but within itself.
func TestPageIsSelfContained(t *testing.T) {
	d, _ := aDocument(t, proposalJob)
	page, err := html.Write(d, document.Papers["letter"])
	require.NoError(t, err)
	root := parsed(t, page)
	for _, name := range []string{"script", "link", "iframe", "object", "embed", "img", "image", "use", "base", "form", "video", "audio"} {
		assert.Empty(t, elements(root, name), name)
	}
	for n := range root.Descendants() {
		for _, a := range n.Attr {
			switch {
			case a.Key == "href" || a.Key == "src" || a.Key == "srcset" || a.Key == "poster" || a.Key == "data":
				assert.True(t, strings.HasPrefix(a.Val, "#"), "%s %s=%q", n.Data, a.Key, a.Val)
			case strings.HasPrefix(a.Key, "on"):
				t.Errorf("%s has %s", n.Data, a.Key)
			}
			assert.NotContains(t, a.Val, "url(http")
		}
	}
	style := elements(root, "style")
	require.Len(t, style, 1)
	assert.NotContains(t, style[0].FirstChild.Data, "url(")
	assert.NotContains(t, style[0].FirstChild.Data, "@import")
}

// What a reader who cannot see the page needs: headings in order, tables with heads, drawings with descriptions, unique names.
func TestPageIsAccessible(t *testing.T) {
	d, r := aDocument(t, proposalJob)
	page, err := html.Write(d, document.Papers["letter"])
	require.NoError(t, err)
	root := parsed(t, page)
	assert.Equal(t, "en", attribute(elements(root, "html")[0], "lang"))
	assert.Equal(t, r.Job.Title, strings.TrimSpace(textOf(elements(root, "title")[0])))
	assert.Len(t, elements(root, "main"), 1)
	level := 0
	for n := range root.Descendants() {
		if regexp.MustCompile(`^h[1-6]$`).MatchString(n.Data) {
			next := int(n.Data[1] - '0')
			assert.LessOrEqual(t, next, level+1, "after a heading of level %d: %s", level, textOf(n))
			assert.NotEmpty(t, strings.TrimSpace(textOf(n)))
			level = next
		}
	}
	assert.Len(t, elements(root, "h1"), 1)
	checkNames(t, root)
	tables := elements(root, "table")
	assert.NotEmpty(t, tables)
	for _, table := range tables {
		checkTable(t, table)
	}
	drawn := elements(root, "svg")
	assert.NotEmpty(t, drawn)
	for _, svg := range drawn {
		if attribute(svg, "aria-hidden") == "true" { // the sign beside the verdict's word
			require.True(t, inside(svg, "strong"))
			continue
		}
		assert.Equal(t, "img", attribute(svg, "role"))
		assert.Greater(t, len(attribute(svg, "aria-label")), 30, "a sentence for who cannot see it")
	}
	for _, f := range elements(root, "figure") {
		assert.Len(t, elements(f, "figcaption"), 1)
	}
}

// checkNames holds that every id is there once, and that what refers to one finds it.
func checkNames(t *testing.T, root *markup.Node) {
	t.Helper()
	seen := map[string]bool{}
	for n := range root.Descendants() {
		if id := attribute(n, "id"); id != "" {
			assert.False(t, seen[id], "id %q twice", id)
			seen[id] = true
		}
	}
	for n := range root.Descendants() {
		if target := attribute(n, "href"); target != "" {
			assert.True(t, seen[strings.TrimPrefix(target, "#")], target)
		}
		if label := attribute(n, "aria-labelledby"); label != "" {
			assert.True(t, seen[label], label)
		}
	}
}

func checkTable(t *testing.T, table *markup.Node) {
	t.Helper()
	caption := elements(table, "caption")
	require.Len(t, caption, 1)
	name := strings.TrimSpace(textOf(caption[0]))
	assert.NotEmpty(t, name)
	head := elements(table, "thead")
	require.Len(t, head, 1, name)
	columns := elements(head[0], "th")
	for _, th := range columns {
		assert.Equal(t, "col", attribute(th, "scope"), name)
		assert.NotEmpty(t, strings.TrimSpace(textOf(th)), "%s: a column without a name", name)
	}
	for _, body := range elements(table, "tbody") {
		for _, row := range elements(body, "tr") {
			heads := elements(row, "th")
			require.Len(t, heads, 1, name)
			assert.Contains(t, []string{"row", "rowgroup"}, attribute(heads[0], "scope"), name)
			assert.NotEmpty(t, strings.TrimSpace(textOf(heads[0])), name)
			if attribute(heads[0], "scope") == "rowgroup" {
				assert.Equal(t, fmt.Sprint(len(columns)), attribute(heads[0], "colspan"))
				continue
			}
			assert.Len(t, elements(row, "td"), len(columns)-1, name)
		}
	}
}

// Every ink is read on its ground: contrast of at least 4.5 to 1, WCAG 2.1, success criterion 1.4.3, by its definition of relative
// luminance; in the light and in the dark look.
func TestContrastOfTheLooks(t *testing.T) {
	assert.InDelta(t, 21, contrast(document.RGB{}, document.RGB{R: 255, G: 255, B: 255}), 1e-9, "black on white, by definition")
	assert.InDelta(t, 4.48, contrast(document.RGB{R: 0x77, G: 0x77, B: 0x77}, document.RGB{R: 255, G: 255, B: 255}), 0.005, "print: #777 on white, widely quoted as 4.48")
	d, _ := aDocument(t)
	page, err := html.Write(d, document.Papers["letter"])
	require.NoError(t, err)
	for name, l := range map[string]document.Look{"light": document.Light, "dark": document.Dark} {
		for pair, colors := range map[string][2]document.RGB{
			"text": {l.Ink, l.Paper}, "captions": {l.Soft, l.Paper}, "group": {l.Ink, l.Tint}, "links": {l.Good, l.Tint}, "alarm": {l.Bad, l.Paper},
			"good word": {l.Good, l.GoodPaper}, "bad word": {l.Bad, l.BadPaper}, "good sentence": {l.Ink, l.GoodPaper}, "bad " +
				"sentence": {l.Ink, l.BadPaper}, "open word": {l.Open, l.OpenPaper}, "open sentence": {l.Ink, l.OpenPaper}, "no word": {l.Soft, l.Tint},
		} {
			assert.GreaterOrEqual(t, contrast(colors[0], colors[1]), 4.5, "%s: %s", name, pair)
			assert.Contains(t, string(page), colors[0].String(), "the page uses it")
			assert.Contains(t, string(page), colors[1].String())
		}
	}
}

func contrast(a, b document.RGB) float64 {
	light, dark := luminance(a), luminance(b)
	if light < dark {
		light, dark = dark, light
	}
	return (light + 0.05) / (dark + 0.05)
}

func luminance(c document.RGB) float64 {
	linear := func(v uint8) float64 {
		s := float64(v) / 255
		if s <= 0.03928 {
			return s / 12.92
		}
		return math.Pow((s+0.055)/1.055, 2.4)
	}
	return 0.2126*linear(c.R) + 0.7152*linear(c.G) + 0.0722*linear(c.B)
}

// A visit is what a real browser made of a page.
type visit struct {
	dom      string
	console  string   // its messages
	requests []string // to whatever machine, but for the page itself
	printed  []byte   // as a PDF
}

// browsersOwn are the machines that the browser asks for the time and for updates of itself, whatever the page.
var browsersOwn = regexp.MustCompile(`(^|\.)(google|googleapis|gvt1)\.com(:443)?$`)

// browse shows a page in Chromium and prints it where the screen is dark. Its only way to any machine is a proxy of ours that writes down what is
// asked for.
func browse(t *testing.T, chromium string, page []byte) visit {
	t.Helper()
	const address = "http://page.invalid/"
	var v visit
	var mutex sync.Mutex
	proxy := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.URL.String() == address {
			w.Header().Set("Content-Type", "text/html; charset=utf-8")
			_, err := w.Write(page)
			assert.NoError(t, err)
			return
		}
		mutex.Lock()
		defer mutex.Unlock()
		if r.URL.String() != address+"favicon.ico" && !browsersOwn.MatchString(r.URL.Host) {
			v.requests = append(v.requests, r.Method+" "+r.URL.String())
		}
		w.WriteHeader(http.StatusNotFound)
	}))
	defer proxy.Close()
	var log string
	out := filepath.Join(t.TempDir(), "page.pdf")
	v.dom, log = output(t, chromium, "--headless", "--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking",
		"--disable-component-update",
		"--disable-sync", "--disable-default-apps", "--user-data-dir="+t.TempDir(), "--proxy-server="+proxy.Listener.Addr().String(),
		"--enable-logging=stderr", "--no-pdf-header-footer", "--blink-settings=preferredColorScheme=0", "--print-to-pdf="+out,
		"--dump-dom", address)
	printed, err := os.ReadFile(out)
	require.NoError(t, err)
	v.printed = printed
	for line := range strings.Lines(log) {
		if strings.Contains(line, ":CONSOLE") {
			v.console += line
		}
	}
	return v
}

// A real browser shows the page, asks nobody for anything, and its console stays empty; printed by it, the page is as one wants it.
func TestPageInChromium(t *testing.T) {
	chromium := tool(t, "chromium", "chromium-browser", "google-chrome")
	control := browse(t, chromium, []byte(`<!DOCTYPE html><html lang="en"><title>control</title><img alt="" src="http://elsewhere.invalid/x.png"><script>nosuch()</script></html>`))
	require.Contains(t, control.console, "nosuch", "the control: what is wrong is told")
	require.Contains(t, control.requests, "GET http://elsewhere.invalid/x.png", "the control: a request is seen")
	d, r := aDocument(t, proposalJob)
	page, err := html.Write(d, document.Papers["letter"])
	require.NoError(t, err)
	seen := browse(t, chromium, page)
	assert.Empty(t, seen.console)
	assert.Empty(t, seen.requests)
	root := parsed(t, []byte(seen.dom))
	_, sentence := ledger.Answer(r)
	assert.Contains(t, squeezed(textOf(root)), squeezed(typeset.Text(sentence)))
	assert.Len(t, elements(root, "svg"), len(elements(parsed(t, page), "svg")))
	prints(t, page, seen.printed)
}

// Text of a job cannot become markup or style.
func TestPageEscapes(t *testing.T) {
	evil := `</style><script>alert(1)</script>"\ & ` + "\n" + `<b>`
	d := document.Document{Title: evil, Author: evil, Language: "en", Foot: evil, PageOf: [3]string{evil, evil, evil}, Contents: "Contents", Blocks: []document.Block{
		document.Heading{Level: 1, Text: evil}, document.Facts{List: []document.Fact{{Name: evil, Value: evil}}}, document.Heading{Level: 2, Text: evil}, document.Prose{Text: evil}, document.Verdict{Word: evil, Sentence: evil, Mark: document.Good}, document.Bullets{Items: []string{evil}},
		document.Table{Caption: evil, Label: evil, Columns: []document.Column{{Name: evil}}, Groups: []document.Group{{Name: evil, Rows: []document.Row{{Label: evil, Cells: []document.Cell{{Text: evil, Alarm: true}}}}}}}}}
	page, err := html.Write(d, document.Papers["letter"])
	require.NoError(t, err)
	root := parsed(t, page)
	assert.Empty(t, elements(root, "script"))
	assert.Empty(t, elements(root, "b"))
	assert.Len(t, elements(root, "style"), 1)
	_, err = pdf.Write(d, document.Papers["letter"])
	require.NoError(t, err)
}

// prints looks at the page as a browser prints it: no sheet ends with a heading, with what a table is called or with its head, and paper stays white
// where the screen is dark.
func prints(t *testing.T, page, printed []byte) {
	t.Helper()
	pdftotext, pdftoppm := tool(t, "pdftotext"), tool(t, "pdftoppm")
	folder := t.TempDir()
	out := filepath.Join(folder, "page.pdf")
	require.NoError(t, os.WriteFile(out, printed, 0o600))
	held := map[string]bool{} // what may not stand last
	root := parsed(t, page)
	for _, kind := range []string{"h1", "h2", "h3", "caption"} {
		for _, e := range elements(root, kind) {
			held[squeezed(textOf(e))] = true
		}
	}
	for _, e := range elements(root, "thead") {
		held[squeezed(textOf(e))] = true
	}
	for _, e := range elements(root, "th") {
		if attribute(e, "scope") == "rowgroup" {
			held[squeezed(textOf(e))] = true
		}
	}
	require.Greater(t, len(held), 30)
	text, _ := output(t, pdftotext, "-layout", out, "-")
	pages := strings.Split(strings.TrimRight(text, "\f"), "\f")
	require.Greater(t, len(pages), 12)
	for i, page := range pages {
		var lines []string
		for line := range strings.Lines(page) {
			if line := squeezed(line); line != "" && !strings.Contains(line, squeezed(fmt.Sprintf("Page %d of %d", i+1, len(pages)))) {
				lines = append(lines, line)
			}
		}
		require.NotEmpty(t, lines, "page %d", i+1)
		assert.False(t, held[lines[len(lines)-1]], "page %d ends with %q", i+1, lines[len(lines)-1])
	}
	picture := filepath.Join(folder, "first")
	output(t, pdftoppm, "-r", "20", "-f", "1", "-l", "1", "-singlefile", "-png", out, picture)
	content, err := os.ReadFile(picture + ".png")
	require.NoError(t, err)
	drawn, _, err := image.Decode(bytes.NewReader(content))
	require.NoError(t, err)
	r, g, b, _ := drawn.At(2, 2).RGBA()
	assert.Equal(t, [3]uint32{65535, 65535, 65535}, [3]uint32{r, g, b})
}
