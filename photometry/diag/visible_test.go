package diag_test

import (
	"strings"
	"testing"
	"unicode"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"lampswap/photometry/diag"
)

func TestVisible(t *testing.T) {
	for text, want := range map[string]string{
		"Dock 4, north bay":           "Dock 4, north bay",
		"Büro β – 東":                  "Büro β – 東",
		"a\x1b[2Jb":                   `a\x1b[2Jb`,
		"bell\a, erased\b\x7f":        `bell\a, erased\b\x7f`,
		"\u009b2J, a C1 control":      `\u009b2J, a C1 control`,
		"not \u202eemos\u202c":        `not \u202eemos\u202c`,
		"\u2066isolated\u2069\u200f":  `\u2066isolated\u2069\u200f`,
		"two\r\nlines\tand\u2028more": "two lines and more",
		"no UTF-8: \xff":              "no UTF-8: \ufffd",
		"\ufeffmarked":                `\ufeffmarked`,
		"":                            "",
	} {
		assert.Equal(t, want, diag.Visible(text), "%q", text)
	}
}

// Whatever the text, nothing of it acts, and to show it once more changes nothing.
func TestVisibleActsOnNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		shown := diag.Visible(rapid.String().Draw(t, "text") + string(rapid.SliceOf(rapid.Byte()).Draw(t, "bytes")))
		assert.False(t, strings.ContainsFunc(shown, func(r rune) bool { return unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r) }), "%q", shown)
		assert.Equal(t, shown, diag.Visible(shown))
	})
}

// A fault is one line, of which nothing acts on a terminal, whatever the file has.
func TestFaultsAreVisible(t *testing.T) {
	fault := diag.Error{Pos: diag.Pos{File: "a\x1b[2J.toml", Line: 1}, Key: "k\u202ey", Wrong: "is\nodd", Want: "\u009b"}
	assert.Equal(t, `a\x1b[2J.toml:1: k\u202ey: is odd, want \u009b`, fault.Error())
}
