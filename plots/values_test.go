package plots

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/plot/vg"

	"lampswap/photometry/number"
)

// A map that no line or one crosses has values of points written on it, each that of a point of its grid, and says so; others have none.
func TestEvenLightIsTold(t *testing.T) {
	even := warehouse(120, 60, 2, 6, 12, 1100)
	for i := range even.Values {
		even.Values[i] = 300 + 0.01*float64(i)
	}
	even.Levels = []float64{20, 40}
	assert.True(t, even.resolved().sparse())
	texts := recordFigure(even, 7*vg.Inch).texts
	assert.Contains(t, texts, "Value at a point")
	known := map[string]bool{}
	for _, v := range even.resolved().shown() {
		known[number.Reading(v)] = true
	}
	values := 0
	for _, text := range texts {
		if strings.Contains(text, ".") && known[text] {
			values++
		}
	}
	assert.GreaterOrEqual(t, values, 6, "at least")

	varied := warehouse(120, 60, 2, 6, 12, 1100)
	assert.NotContains(t, recordFigure(varied, 7*vg.Inch).texts, "Value at a point")
	for i := range varied.Values {
		varied.Values[i] = math.NaN()
	}
	assert.NotContains(t, recordFigure(varied, 7*vg.Inch).texts, "Value at a point")
}
