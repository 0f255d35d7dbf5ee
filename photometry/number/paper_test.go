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
	assert.Equal(t, "−2.5", SignedExact(-2.5))
	assert.Equal(t, "+1,500", SignedExact(1500))
	assert.Equal(t, "12,345,678", Exact(12345678))
	assert.Equal(t, "0", Exact(0))
}

func TestShort(t *testing.T) {
	for x, want := range map[float64]string{0: "0", 30: "30", 29.999999999999996: "30", 10.764: "10.8", 0.1: "0.1", 1076.4: "1,076", -322.9: "−323", 999.7: "1,000", 2e15: "2e15"} {
		assert.Equal(t, want, Short(x), "%v", x)
	}
}

func TestLargeAndSmall(t *testing.T) {
	assert.Equal(t, "1e12", Exact(1e12))
	assert.Equal(t, "−2.5e−9", Exact(-2.5e-9))
	assert.Equal(t, "1.23e300", Reading(1.234e300))
	assert.Less(t, len(Exact(math.Inf(1))), 6)
}
