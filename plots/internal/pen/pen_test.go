package pen

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"golang.org/x/text/unicode/norm"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
	"pgregory.net/rapid"
)

func TestBlockFitsAndLosesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`([a-zW]{0,20} ?){0,12}`).Draw(t, "text")
		width := vg.Length(rapid.Float64Range(20, 400).Draw(t, "width"))
		b := NewBlock(Small, Ink, text, width)
		for _, line := range b.Lines {
			if w := Width(Small, line); w > width {
				t.Fatalf("%q is %v wide, more than %v", line, w, width)
			}
		}
		bare := func(s string) string { return strings.Join(strings.Fields(s), "") }
		if got := bare(strings.Join(b.Lines, "")); got != bare(text) {
			t.Fatalf("%q of %q", got, text)
		}
	})
}

func TestClean(t *testing.T) {
	for text, want := range map[string]string{
		"Lager Süd\x00\n№ 3 — 日本 🏭 ":           "Lager Süd № 3 — [U+65E5 U+672C] [U+1F3ED] ",
		"Zażółć gęślą jaźń":                    "Zażółć gęślą jaźń",
		"Αποθήκη Άλφα, Склад №2, Щит":          "Αποθήκη Άλφα, Склад №2, Щит",
		"Kho hàng số 5 ở Đà Nẵng":              "Kho hàng số 5 ở Đà Nẵng",
		"מחסן 5":                               "[U+05DE U+05D7 U+05E1 U+05DF] 5",
		"Gr\u0061\u0308tz, Nguye\u0302\u0303n": "Grätz, Nguyễn",
		"q\u0303":                              "q[U+0303]",
		"مخزن":                                 "[U+0645 U+062E U+0632 U+0646]",
		"गोदाम":                                "[U+0917 U+094B U+0926 U+093E U+092E]",
		"倉":                                    "[U+5009]",
		"[a]":                                  "[a]",
	} {
		assert.Equal(t, want, Clean(text))
		assert.Equal(t, Clean(text), Clean(Clean(text)), "once is enough")
		assert.Equal(t, strings.Contains(want, "U+"), len(Missing(text)) > 0, text)
	}
	assert.Equal(t, []rune("日本🏭"), Missing("日本 🏭 日本"))
}

// A question mark stands for nothing: whatever the text, it is one that was typed.
func TestCleanHidesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.String().Draw(t, "text")
		clean := Clean(text)
		if strings.Count(clean, "?") != strings.Count(norm.NFC.String(text), "?") {
			t.Fatalf("%q of %q", clean, text)
		}
		for _, r := range Missing(text) {
			if !strings.Contains(clean, fmt.Sprintf("U+%04X", r)) {
				t.Fatalf("%q does not name %q of %q", clean, r, text)
			}
		}
		for _, r := range clean {
			if !drawable(r) {
				t.Fatalf("%q cannot be drawn in %q of %q", r, clean, text)
			}
		}
	})
}

func TestOnCircle(t *testing.T) {
	up := OnCircle(vg.Point{X: 1, Y: 2}, 3, 3.141592653589793/2)
	assert.InDelta(t, 1, float64(up.X), 1e-12, "rounding")
	assert.InDelta(t, 5, float64(up.Y), 1e-12, "rounding")
}

// Widths are those of the font itself, to the bit, kerning and all.
func TestWidthIsThatOfTheFont(t *testing.T) {
	for _, f := range []font.Font{Title, Text, TinyBold} {
		whole := font.DefaultCache.Lookup(f, f.Size)
		for _, s := range []string{"", "A", "AVATAR, To We", "12.5 fc", "Žluťoučký kůň", "Ω ≥ 3 m²", "no-break\u00a0space"} {
			assert.Equal(t, whole.Width(s), Width(f, s), s)
		}
	}
}

// A long word is cut behind its last hyphen or point that fits, and no line ends at a no-break space.
func TestWrap(t *testing.T) {
	letters := func(line string) float64 { return float64(len([]rune(line))) }
	for text, want := range map[string][]string{
		"LED-T8-4FT-18.5W-B  of four":   {"LED-T8-4FT-", "18.5W-B of", "four"},
		"abcdefghijklmnop":              {"abcdefghijkl", "mnop"},
		"costs 12\u00a0400\u00a0kr all": {"costs", "12\u00a0400\u00a0kr", "all"},
		"":                              nil,
	} {
		assert.Equal(t, want, Wrap(text, 12, letters), text)
	}
	assert.Equal(t, []string{"W", "W"}, Wrap("WW", 0.5, letters), "a letter at least")
}
