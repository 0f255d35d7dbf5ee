// Package html renders a document as one HTML file that needs no other.
package html

import (
	"bytes"
	_ "embed"
	"encoding/base64"
	"fmt"
	"html/template"
	"strings"

	"gonum.org/v1/plot/vg"

	"lampswap/cmd/lampswap/internal/document"
	"lampswap/plots"
)

//go:embed page.html.tmpl
var proposalPage string

// figureWidth is the width of the drawings of a figure together, on a screen.
const (
	figureWidth = 7.3 * vg.Inch
	partGap     = 0.2 * vg.Inch // at least as the style sheet has it
)

// A htmlPage is a document with what the template asks of it.
type htmlPage struct {
	document.Document
	Paper       string
	Light, Dark document.Look
}

// Write renders a document as one HTML file that needs no other.
func Write(d document.Document, p document.Paper) ([]byte, error) {
	page := htmlPage{Document: d, Paper: p.Name, Light: document.Light, Dark: document.Dark}
	t, err := template.New("proposal").Funcs(template.FuncMap{"drawings": drawings, "picture": picture, "css": cssString}).Parse(proposalPage)
	if err != nil {
		return nil, fmt.Errorf("write the page: %w", err)
	}
	var b bytes.Buffer
	if err := t.Execute(&b, page); err != nil {
		return nil, fmt.Errorf("write the page: %w", err)
	}
	return b.Bytes(), nil
}

// A htmlChapter is a chapter of the page: a heading of level 2 with all up to the next.
type htmlChapter struct {
	ID, Title string
	Language  string // "" is the document's
	Blocks    []htmlBlock
}

// A htmlBlock is a block with its kind, by which the template chooses.
type htmlBlock struct {
	Kind  string
	Block document.Block
}

// Front is what stands before the first chapter.
func (p htmlPage) Front() []htmlBlock {
	var front []htmlBlock
	for _, b := range p.Blocks {
		if h, ok := b.(document.Heading); ok && h.Level == 2 {
			break
		}
		front = append(front, htmlBlock{b.Kind(), b})
	}
	return front
}

// Chapters are the parts of the page that the list of contents names.
func (p htmlPage) Chapters() []htmlChapter {
	var all []htmlChapter
	language := ""
	for _, b := range p.Blocks {
		if t, ok := b.(document.Tongue); ok {
			language = t.Language
		}
		if h, ok := b.(document.Heading); ok && h.Level == 2 {
			all = append(all, htmlChapter{ID: fmt.Sprintf("chapter-%d", len(all)+1), Title: h.Text, Language: language})
			continue
		}
		if len(all) > 0 {
			last := &all[len(all)-1]
			last.Blocks = append(last.Blocks, htmlBlock{b.Kind(), b})
		}
	}
	return all
}

// drawings are the parts of a figure as inline SVG, each with its description for who cannot see it.
func drawings(f document.Figure) ([]template.HTML, error) {
	n := vg.Length(len(f.Parts))
	width := (figureWidth - partGap*(n-1)) / n
	var all []template.HTML
	for _, part := range f.Parts {
		var b bytes.Buffer
		if err := plots.Write(&b, part, "svg", width, 0); err != nil {
			return nil, err
		}
		_, drawing, found := strings.Cut(b.String(), "<svg ")
		if !found {
			return nil, fmt.Errorf("a figure has no drawing")
		}
		all = append(all, template.HTML("<svg "+drawing)) //nolint:gosec // our own drawing, whose texts plots escapes
	}
	return all, nil
}

// picture is a photograph as an address that holds it.
func picture(p document.Picture) template.URL {
	return template.URL("data:image/jpeg;base64," + base64.StdEncoding.EncodeToString(p.JPEG)) //nolint:gosec // base64 alone
}

// cssString is a text as a string of a style sheet.
func cssString(s string) template.CSS {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range s {
		if r < ' ' || strings.ContainsRune(`"\<>&`, r) {
			fmt.Fprintf(&b, `\%x `, r)
			continue
		}
		b.WriteRune(r)
	}
	b.WriteByte('"')
	return template.CSS(b.String()) //nolint:gosec // every sign that could end the string is escaped
}
