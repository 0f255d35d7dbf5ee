package plots

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"lampswap/plots/internal/palette"
	"lampswap/plots/internal/pen"
)

// TestLinesDiffer asks that lines are told apart by their dashes alone, and by colour to every eye.
func TestLinesDiffer(t *testing.T) {
	lines := []pen.Line{pen.Solid, pen.Dotted, pen.Dashed}
	for i, a := range lines {
		for _, b := range lines[i+1:] {
			assert.NotEqual(t, a.Dashes, b.Dashes)
			for eye, see := range palette.Deuteranopes {
				assert.Greater(t, palette.Difference(see(a.Color), see(b.Color)), 15.0, eye)
			}
		}
		assert.Greater(t, palette.Contrast(a.Color, pen.White), 3.0)
	}
	assert.Greater(t, math.Abs(palette.Lightness(pen.Solid.Color)-palette.Lightness(pen.Dashed.Color)), 15.0, "before and after in grey")
}
