package proposal

import (
	"strings"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/text"

	"lampswap/cmd/lampswap/internal/document"
)

// notesOf reads a firm's notes, in Markdown: headings, paragraphs, lists and emphasis. Links keep their words, pictures and raw HTML are
// left out; nothing in them can act.
func notesOf(markdown string) []document.Block {
	source := []byte(markdown)
	root := goldmark.DefaultParser().Parse(text.NewReader(source))
	var all []document.Block
	for n := root.FirstChild(); n != nil; n = n.NextSibling() {
		switch n := n.(type) {
		case *ast.Heading:
			all = append(all, document.Heading{Level: 3, Text: plain(runsOf(n, source))})
		case *ast.List:
			all = append(all, document.Rich{Parts: []document.RichPart{{List: true, Ordered: n.IsOrdered(), Items: itemsOf(n, source)}}})
		case *ast.Blockquote:
			for p := n.FirstChild(); p != nil; p = p.NextSibling() {
				all = append(all, paragraph(runsOf(p, source)))
			}
		case *ast.CodeBlock, *ast.FencedCodeBlock:
			all = append(all, paragraph([]document.Run{{Text: strings.Join(strings.Fields(string(n.Lines().Value(source))), " ")}}))
		case *ast.HTMLBlock, *ast.ThematicBreak:
		default:
			all = append(all, paragraph(runsOf(n, source)))
		}
	}
	kept := all[:0]
	for _, b := range all {
		if r, ok := b.(document.Rich); ok && plain(r.Parts[0].Items[0]) == "" && len(r.Parts[0].Items) == 1 {
			continue // a picture alone, or HTML
		}
		kept = append(kept, b)
	}
	return kept
}

func paragraph(runs []document.Run) document.Rich {
	return document.Rich{Parts: []document.RichPart{{Items: [][]document.Run{runs}}}}
}

// itemsOf are the items of a list; those of a list in it follow the item that they belong to.
func itemsOf(list *ast.List, source []byte) [][]document.Run {
	var all [][]document.Run
	for item := list.FirstChild(); item != nil; item = item.NextSibling() {
		var own []document.Run
		var below [][]document.Run
		for part := item.FirstChild(); part != nil; part = part.NextSibling() {
			if inner, ok := part.(*ast.List); ok {
				below = append(below, itemsOf(inner, source)...)
				continue
			}
			if own != nil {
				own = append(own, document.Run{Text: " "})
			}
			own = append(own, runsOf(part, source)...)
		}
		all = append(append(all, own), below...)
	}
	return all
}

// runsOf are the words of a node, with their emphasis.
func runsOf(n ast.Node, source []byte) []document.Run {
	var all []document.Run
	var walk func(n ast.Node, like document.Run)
	walk = func(n ast.Node, like document.Run) {
		for c := n.FirstChild(); c != nil; c = c.NextSibling() {
			next := like
			switch c := c.(type) {
			case *ast.Text:
				next.Text = string(c.Value(source))
				if c.SoftLineBreak() || c.HardLineBreak() {
					next.Text += " "
				}
				all = append(all, next)
				continue
			case *ast.String:
				next.Text = string(c.Value)
				all = append(all, next)
				continue
			case *ast.AutoLink:
				next.Text = string(c.URL(source))
				all = append(all, next)
				continue
			case *ast.RawHTML, *ast.Image:
				continue
			case *ast.Emphasis:
				next.Strong, next.Emphasis = next.Strong || c.Level > 1, next.Emphasis || c.Level == 1
			}
			walk(c, next)
		}
	}
	walk(n, document.Run{})
	return all
}

func plain(runs []document.Run) string {
	var b strings.Builder
	for _, r := range runs {
		b.WriteString(r.Text)
	}
	return strings.TrimSpace(b.String())
}
