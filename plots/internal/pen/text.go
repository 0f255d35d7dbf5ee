package pen

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"golang.org/x/image/font/sfnt"
	"golang.org/x/text/unicode/norm"
)

// Clean is text as it is drawn. Accents that stand apart from their letters are joined to them (Unicode's form NFC), control characters and
// broken encoding are left out, and what cannot be drawn stands as its code points in brackets, as [U+4E2D U+6587]: characters that the faces do
// not have, marks that have no letter to be joined to, and what is written from right to left: our lines go the other way. The scripts whose
// letters change by their neighbours are among them; the faces have none of theirs.
func Clean(s string) string {
	if plain(s) {
		return s
	}
	var b strings.Builder
	named := false
	for _, r := range norm.NFC.String(s) {
		switch {
		case unicode.IsSpace(r) && r != '\u00a0':
			r = ' '
		case !unicode.IsPrint(r) && r != '\u00a0', r == unicode.ReplacementChar:
			continue
		}
		open := " "
		if !named {
			open = "["
		}
		switch drawn := drawable(r); {
		case !drawn:
			fmt.Fprintf(&b, "%sU+%04X", open, r)
		case named:
			b.WriteByte(']')
			fallthrough
		default:
			b.WriteRune(r)
		}
		named = !drawable(r)
	}
	if named {
		b.WriteByte(']')
	}
	return b.String()
}

// plain tells whether a text is of the characters that every face has.
func plain(s string) bool {
	for i := range len(s) {
		if s[i] < ' ' || s[i] > '~' {
			return false
		}
	}
	return true
}

// Missing returns the characters of a text that Clean names by their code points, each once, in the order of their first places.
func Missing(s string) []rune {
	var missing []rune
	if plain(s) {
		return nil
	}
	for _, r := range norm.NFC.String(s) {
		if unicode.IsPrint(r) && r != unicode.ReplacementChar && !unicode.IsSpace(r) && !drawable(r) && !slices.Contains(missing, r) {
			missing = append(missing, r)
		}
	}
	return missing
}

// drawable tells whether a character is drawn as it should be, by itself.
func drawable(r rune) bool {
	if r >= ' ' && r <= '~' {
		return true
	}
	if unicode.In(r, unicode.Mn, unicode.Mc, unicode.Me, unicode.Hebrew) { // a mark without a joined form would not stand on its letter
		return false
	}
	var buffer sfnt.Buffer
	glyph, err := face(Text).Face.GlyphIndex(&buffer, r)
	return err == nil && glyph != 0
}
