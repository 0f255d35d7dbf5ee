package plots

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/plot/vg"
	"pgregory.net/rapid"

	"lampswap/plots/internal/palette"
	"lampswap/plots/internal/pen"
)

func TestBinsHoldAllDraws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		samples := rapid.SliceOfN(rapid.Float64Range(0, 2e4), 1, 200).Draw(t, "samples")
		h := Histogram{Samples: samples, Imperial: rapid.Bool().Draw(t, "imperial")}.resolved()
		b := h.bins()
		if n := len(b.shares); n < 1 || n > 62 {
			t.Fatalf("%d bins", n)
		}
		sum := 0.0
		for _, s := range b.shares {
			sum += s
		}
		if math.Abs(sum-100) > 1e-9 {
			t.Fatalf("the shares add to %v", sum)
		}
		u, end := illuminanceUnit(h.Imperial).size, b.from+b.step*float64(len(b.shares))
		for _, v := range samples {
			if slack := 1e-6 * b.step; v/u < b.from-slack || v/u > end+slack {
				t.Fatalf("%v is outside of the bins from %v to %v", v/u, b.from, end)
			}
		}
	})
}

func TestBinsAreCounted(t *testing.T) {
	h := Histogram{Samples: []float64{1, 1.5, 2, 2.5, 3, 3.5, 4, 4.5}}.resolved()
	b := h.bins()
	assert.Equal(t, 2.0, b.step, "2 (4 - 2) / 2 = 2")
	assert.Equal(t, []float64{25, 50, 25}, b.shares)
}

func TestMetShare(t *testing.T) {
	h := Histogram{Samples: []float64{10, 20, 30, 40, math.NaN()}}.resolved()
	assert.InDelta(t, 0.5, h.metShare(30), 1e-12, "reached counts")
	assert.InDelta(t, 1, h.metShare(0), 1e-12)
	assert.InDelta(t, 0, h.metShare(41), 1e-12)
	for share, want := range map[float64]string{0: "0 %", 1: "100 %", 0.9999: "more than 99.9 %", 0.0004: "less than 0.1 %", 0.005: "0.5 %", 0.994: "99.4 %", 0.345: "34 %"} {
		assert.Equal(t, want, percent(share))
	}
}

func TestTextOfAHistogram(t *testing.T) {
	texts := recordFigure(draws(), 6.5*vg.Inch).texts
	for _, want := range []string{"95 % of the draws", "30 fc, active warehouse, bulky items", "28 fc, owner's lease", "Share of the draws (%)", "Maintained average (fc)",
		"30 fc (active warehouse, bulky items) is reached in 86 % of the draws."} {
		assert.Contains(t, texts, want)
	}
	assert.Contains(t, draws().Describe(), "95 % of 2,000 draws lie between 29.0 and 33.4 fc")
	assert.Contains(t, recordFigure(Histogram{}, 3*vg.Inch).texts, "No draws.")
	assert.Greater(t, palette.Lightness(beyondIt)-palette.Lightness(within), 15.0, "told apart in grey")
	assert.Greater(t, palette.Contrast(pen.Blue, within), 3.0, "the outline of a bar")
}
