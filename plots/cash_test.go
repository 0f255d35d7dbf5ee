package plots

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/plot/vg"

	"lampswap/plots/internal/palette"
)

func TestSums(t *testing.T) {
	m := Cash{Currency: "USD", Parts: []string{"a", "b"}, Ways: []Way{
		{Costs: []float64{0, 1000}}, {Costs: []float64{500, 200}}, {Costs: []float64{1500, -200}}, {Costs: []float64{400, 600}}, {Costs: []float64{math.NaN(), 1}},
	}}.resolved()
	for i, want := range [][2]string{{"$1,000", ""}, {"$700", "$300 less"}, {"$1,300", "$300 more"}, {"$1,000", ""}, {"unknown", ""}} {
		sum, than := m.sum(i)
		assert.Equal(t, want, [2]string{sum, than})
	}
	low, high := m.Ways[2].ends()
	assert.Equal(t, [2]float64{-200, 1500}, [2]float64{low, high})
	assert.LessOrEqual(t, m.axis().From, -200.0)
}

func TestTextOfCash(t *testing.T) {
	texts := recordFigure(cash(), 6.5*vg.Inch).texts
	for _, want := range []string{"Existing", "$81,200", "$66,400", "$14,800 less", "$61,800", "Energy", "Cost over 15 years, present value", "$20,000"} {
		assert.Contains(t, texts, want)
	}
	received := charts()["cash-received"]
	assert.Contains(t, recordFigure(received, 6.5*vg.Inch).texts, "CHF\u00a066’600")
	assert.Contains(t, cash().Describe(), "Proposed: $66,400, $14,800 less than Existing.")
}

// TestPartsDiffer asks more of the parts of a bar than of bands: they do not come in an order of lightness that would help.
func TestPartsDiffer(t *testing.T) {
	for i, a := range partColours {
		if i > 0 {
			b := partColours[i-1]
			assert.Greater(t, math.Abs(palette.Lightness(a)-palette.Lightness(b)), 15.0, "parts %d and %d in grey", i-1, i)
		}
		for k, b := range partColours[:i] {
			for eye, see := range palette.Deuteranopes {
				assert.Greater(t, palette.Difference(see(a), see(b)), 15.0, "parts %d and %d to %s", k, i, eye)
			}
			if i < 4 { // the usual ones are told apart by lightness alone
				assert.Greater(t, math.Abs(palette.Lightness(a)-palette.Lightness(b)), 12.0, "parts %d and %d in grey", k, i)
			}
		}
		assert.GreaterOrEqual(t, palette.Contrast(palette.InkOn(a, a), a), 4.5, "an amount on part %d", i)
	}
}

func TestCashPanics(t *testing.T) {
	assert.Panics(t, func() { Cash{Parts: []string{"a"}, Ways: []Way{{}}}.Height(300) })
	assert.Panics(t, func() { Cash{Parts: make([]string, 7)}.Height(300) })
}

func TestMoney(t *testing.T) {
	assert.Equal(t, "$21,000", Cash{Currency: "USD"}.money(21000.4, false))
	assert.Equal(t, "−$1,200", Cash{Currency: "USD"}.money(-1199.6, false))
	assert.Equal(t, "€12.50", Cash{Currency: "EUR"}.money(12.5, true))
	assert.Equal(t, "CHF\u00a01’200", Cash{Currency: "CHF"}.money(1200, false))
	assert.Equal(t, "$0", Cash{Currency: "USD"}.money(-0.2, false), "no minus before nothing")
	assert.Equal(t, "$0", Cash{Currency: "USD"}.money(1e-9, false))
	assert.Equal(t, "3", Cash{}.money(3, false))
	assert.Equal(t, "−3e99", Cash{}.money(-3e99, false))
}
