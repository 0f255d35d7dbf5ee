package chart

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

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
