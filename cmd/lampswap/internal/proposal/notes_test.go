package proposal

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"lampswap/cmd/lampswap/internal/document"
)

// What a firm writes keeps its paragraphs, lists and emphasis, and nothing in it can act.
func TestNotes(t *testing.T) {
	got := notesOf("# Night work\nWe *lock out* **each\ncircuit** first; see [the plan](javascript:alert(1)) <b>now</b>.\n\n1. boxes\n2. a lift\n   - indoor\n\n<script>alert(1)</script>\n\n![x](http://example.com/x.png)\n\n> quoted\n\n    code <b>\n")
	assert.Equal(t, []document.Block{
		document.Heading{Level: 3, Text: "Night work"},
		document.Rich{Parts: []document.RichPart{{Items: [][]document.Run{{{Text: "We "}, {Text: "lock out", Emphasis: true}, {Text: " "},
			{Text: "each ", Strong: true}, {Text: "circuit", Strong: true}, {Text: " first; see "}, {Text: "the plan"}, {Text: " "}, {Text: "now"}, {Text: "."}}}}}},
		document.Rich{Parts: []document.RichPart{{List: true, Ordered: true, Items: [][]document.Run{{{Text: "boxes"}}, {{Text: "a lift"}}, {{Text: "indoor"}}}}}},
		document.Rich{Parts: []document.RichPart{{Items: [][]document.Run{{{Text: "quoted"}}}}}},
		document.Rich{Parts: []document.RichPart{{Items: [][]document.Run{{{Text: "code <b>"}}}}}},
	}, got)
	assert.Empty(t, notesOf("\n\n"))
}

func TestTogether(t *testing.T) {
	assert.Equal(t, "existing: hall, shop; proposed: hall; replacement", together([]string{"existing, hall", "existing, shop", "proposed, hall", "replacement"}))
}
