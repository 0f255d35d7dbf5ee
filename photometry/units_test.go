package photometry_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"lampswap/photometry"
)

func TestDegrees(t *testing.T) {
	assert.Equal(t, "0 °C (32 °F)", photometry.Degrees(-0.2))
	assert.Equal(t, "-18 °C (0 °F)", photometry.Degrees(-17.9))
	assert.Equal(t, "16 °C (60 °F)", photometry.Degrees(photometry.CelsiusFromFahrenheit(60)))
	assert.Equal(t, "-40 °C (-40 °F)", photometry.Degrees(-40))
}

func TestFinite(t *testing.T) {
	assert.True(t, photometry.Finite())
	assert.True(t, photometry.Finite(0, -1e308))
	for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		assert.False(t, photometry.Finite(1, x))
	}
}
