package levels_test

import (
	"math"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lampswap/photometry"
	"lampswap/photometry/levels"
	"lampswap/photometry/number"
)

// What is reached and what is required are shown with the digit that decides, and with no more.
func TestFiner(t *testing.T) {
	fc := func(x float64) float64 { return x * photometry.Footcandle }
	thirty := levels.Criterion{Required: 30, Unit: levels.Footcandles, AtLeast: true}
	for _, c := range []struct {
		of       levels.Criterion
		imperial bool
		reached  float64
		want     int
	}{
		{thirty, true, fc(29.9), 0}, {thirty, true, fc(30), 0}, {thirty, true, fc(30.04), 0},
		{thirty, true, fc(29.97), 1}, {thirty, true, fc(29.9996), 3},
		{thirty, true, math.NaN(), 0},
		{levels.Criterion{Required: 3, Unit: levels.Ratio}, true, 3.004, 1},
		{levels.Criterion{Required: 3, Unit: levels.Ratio}, false, 3.006, 0},
		{levels.Criterion{Required: 0.48, Unit: levels.WattsPerSquareFoot}, true, 0.4803 * photometry.Footcandle, 2},
		{levels.Criterion{Required: 300, Unit: levels.Lux, AtLeast: true}, false, 299.6, 1},
		{thirty, false, fc(29.999), 2}, // 322.92 lx required, as is shown, and 322.91 reached
	} {
		assert.Equal(t, c.want, c.of.Finer(c.imperial, c.reached), "%v of %v", c.reached, c.of)
	}
	assert.Equal(t, 1, thirty.Finer(true, fc(20), fc(29.97), fc(40)), "one for all beside it")
}

// Whoever compares the numbers that are shown comes to what was decided.
func TestFinerDecides(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := levels.Criterion{Required: rapid.Float64Range(0.1, 2000).Draw(t, "required"), AtLeast: rapid.Bool().Draw(t, "at least"),
			Unit: rapid.SampledFrom([]levels.Unit{levels.Lux, levels.Footcandles, levels.Ratio}).Draw(t, "unit")}
		imperial := rapid.Bool().Draw(t, "imperial")
		off := math.Pow(10, rapid.Float64Range(-6, 0).Draw(t, "how near")) * rapid.SampledFrom([]float64{-1, 1}).Draw(t, "side")
		scale := 1.0
		if imperial && c.Unit != levels.Ratio {
			scale = photometry.Footcandle
		}
		reached := c.RequiredIn(imperial) * (1 + off) * scale
		more := c.Finer(imperial, reached)
		shown, err := strconv.ParseFloat(number.Finer(reached/scale, more), 64)
		require.NoError(t, err)
		required, err := strconv.ParseFloat(number.Finer(c.RequiredIn(imperial), more), 64)
		require.NoError(t, err)
		seems := shown <= required
		if c.AtLeast {
			seems = shown >= required
		}
		require.Equal(t, c.Met(reached), seems, "%v shown beside %v", shown, required)
	})
}
