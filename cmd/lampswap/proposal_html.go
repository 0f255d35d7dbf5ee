package main

import (
	"bytes"
	_ "embed"
	"fmt"
	"html/template"
	"slices"
	"strings"

	"gonum.org/v1/plot/vg"

	"lampswap/plots"
)

//go:embed proposal.html.tmpl
var proposalPage string

// figureWidth is the width of the drawings of a figure together, on a screen.
const (
	figureWidth = 7.3 * vg.Inch
	partGap     = 0.2 * vg.Inch // at least as the style sheet has it
)

// A htmlPage is a document with what the template asks of it.
type htmlPage struct {
	document
	Paper       string
	Light, Dark look
}

// writeHTML renders a document as one HTML file that needs no other.
func writeHTML(d document, p paper) ([]byte, error) {
	page := htmlPage{document: d, Paper: p.name, Light: lightLook, Dark: darkLook}
	t, err := template.New("proposal").Funcs(template.FuncMap{"drawings": drawings, "css": cssString}).Parse(proposalPage)
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
	Blocks    []htmlBlock
}

// A htmlBlock is a block with its kind, by which the template chooses.
type htmlBlock struct {
	Kind  string
	Block block
}

// Front is what stands before the first chapter.
func (p htmlPage) Front() []htmlBlock {
	var front []htmlBlock
	for _, b := range p.Blocks {
		if h, ok := b.(heading); ok && h.Level == 2 {
			break
		}
		front = append(front, htmlBlock{b.kind(), b})
	}
	return front
}

// Chapters are the parts of the page that the list of contents names.
func (p htmlPage) Chapters() []htmlChapter {
	var all []htmlChapter
	for _, b := range p.Blocks {
		if h, ok := b.(heading); ok && h.Level == 2 {
			all = append(all, htmlChapter{ID: fmt.Sprintf("chapter-%d", len(all)+1), Title: h.Text})
			continue
		}
		if len(all) > 0 {
			last := &all[len(all)-1]
			last.Blocks = append(last.Blocks, htmlBlock{b.kind(), b})
		}
	}
	return all
}

// Span is how many columns a table has with its labels.
func (t dataTable) Span() int { return len(t.Columns) + 1 }

// Grouped tells whether its groups have names.
func (t dataTable) Grouped() bool {
	return slices.ContainsFunc(t.Groups, func(g group) bool { return g.Name != "" })
}

// Classes are those of a cell in the style sheet.
func (t dataTable) Classes(column int, d datum) string {
	var all []string
	if t.Columns[column].Share == 0 {
		all = append(all, "number")
	}
	if d.Alarm {
		all = append(all, "alarm")
	}
	return strings.Join(all, " ")
}

// drawings are the parts of a figure as inline SVG, each with its description for who cannot see it.
func drawings(f figure) ([]template.HTML, error) {
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
