package pen

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
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
	assert.Equal(t, "Lager Süd № 3 — ?? ? ", Clean("Lager Süd\x00\n№ 3 — 日本 🏭 "))
}

func TestOnCircle(t *testing.T) {
	up := OnCircle(vg.Point{X: 1, Y: 2}, 3, 3.141592653589793/2)
	assert.InDelta(t, 1, float64(up.X), 1e-12, "rounding")
	assert.InDelta(t, 5, float64(up.Y), 1e-12, "rounding")
}
