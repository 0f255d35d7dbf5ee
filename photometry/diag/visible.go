package diag

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Visible returns a text as it can be shown to a person: a character that would act on a terminal or on the order of what is read, a control
// character or one of Unicode's bidirectional controls, stands as its escape, \x1b or \u202e; blanks of every kind and ends of lines are one
// space each, or one together. What is no UTF-8 is the replacement character.
func Visible(text string) string {
	if !strings.ContainsFunc(text, acts) && utf8.ValidString(text) {
		return text
	}
	var b strings.Builder
	blank := false
	for _, r := range text {
		ends := r == '\n' || r == '\r' || r == '\t' || r == '\u2028' || r == '\u2029' || r == '\u0085'
		switch {
		case ends && !blank:
			b.WriteByte(' ')
		case ends:
		case acts(r):
			b.WriteString(strings.Trim(strconv.QuoteRuneToASCII(r), "'"))
		default:
			b.WriteRune(r)
		}
		blank = ends
	}
	return b.String()
}

// acts tells whether a character does something rather than being seen.
func acts(r rune) bool {
	return unicode.IsControl(r) || unicode.In(r, unicode.Bidi_Control, unicode.Zl, unicode.Zp) || r == '\ufeff'
}
