package number

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestNumbers(t *testing.T) {
	for x, want := range map[float64]string{0: "0.0", 0.004: "0.00", 0.56: "0.56", 7.25: "7.2", 27.44: "27.4", 99.96: "100", 1234.5: "1,234", -3.21: "−3.2", -0.001: "0.00"} {
		assert.Equal(t, want, Reading(x), "%v", x)
	}
	assert.Equal(t, "+3.2", SignedReading(3.2))
	assert.Equal(t, "0.0", SignedReading(0))
	assert.Equal(t, "−2.5", Signed(-2.5))
	assert.Equal(t, "+1,500", Signed(1500))
	assert.Equal(t, "12,345,678", Exact(12345678))
	assert.Equal(t, "0", Exact(0))
}

func TestRoundSteps(t *testing.T) {
	for x, want := range map[float64]float64{0.011: 0.02, 0.1: 0.1, 0.3: 0.5, 1: 1, 1.2: 2, 4.9: 5, 5.1: 10, 730: 1000} {
		assert.Equal(t, want, RoundUp(x), "%v", x)
	}
	for x, want := range map[float64]float64{0.07: 0.05, 1: 1, 19: 10, 24: 20, 99: 50, 1000: 1000} {
		assert.Equal(t, want, RoundDown(x), "%v", x)
	}
	assert.Equal(t, []float64{0, 20, 40, 60, 80, 100, 120}, Ticks(0, 120, 10))
	assert.Equal(t, []float64{0.2, 0.4, 0.6, 0.8}, Ticks(0.15, 0.9, 4))
}

func TestShort(t *testing.T) {
	for x, want := range map[float64]string{0: "0", 30: "30", 29.999999999999996: "30", 10.764: "10.8", 0.1: "0.1", 1076.4: "1,076", -322.9: "−323", 999.7: "1,000", 2e15: "2e15"} {
		assert.Equal(t, want, Short(x), "%v", x)
	}
}

func TestMoney(t *testing.T) {
	assert.Equal(t, "$21,000", Money("USD", 21000.4, false))
	assert.Equal(t, "−$1,200", Money("USD", -1199.6, false))
	assert.Equal(t, "€12.50", Money("EUR", 12.5, true))
	assert.Equal(t, "CHF\u00a01’200", Money("CHF", 1200, false))
	assert.Equal(t, "$0", Money("USD", -0.2, false), "no minus before nothing")
	assert.Equal(t, "$0", Money("USD", 1e-9, false))
	assert.Equal(t, "3", Money("", 3, false))
}

func TestLargeAndSmall(t *testing.T) {
	assert.Equal(t, "1e12", Exact(1e12))
	assert.Equal(t, "−2.5e−9", Exact(-2.5e-9))
	assert.Equal(t, "1.23e300", Reading(1.234e300))
	assert.Equal(t, "−3e99", Money("", -3e99, false))
	assert.Less(t, len(Exact(math.Inf(1))), 6)
}
