package levels

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lampswap/photometry"
)

func TestAValueIsTestedInThePublishedUnit(t *testing.T) {
	small := find(t, "warehouse-active-small") // published as 30 fc and as 300 lx, which is 27.9 fc
	imperial, metric := small.Criteria(true)[0], small.Criteria(false)[0]
	assert.Equal(t, Footcandles, imperial.Unit)
	assert.Equal(t, Lux, metric.Unit)
	between := 310.0 // lx
	assert.False(t, imperial.Met(between), "28.8 fc is not 30 fc")
	assert.True(t, metric.Met(between))

	// 0.1 fc in the building code is printed as 1 lx, in NFPA 101 as 1.1 lx (both seen): 1.05 lx is 0.0975 fc.
	assert.False(t, find(t, "ibc-emergency-minimum").Criteria(true)[0].Met(1.05))
	assert.True(t, find(t, "ibc-emergency-minimum").Criteria(false)[0].Met(1.05))
	assert.False(t, find(t, "nfpa101-emergency-minimum").Criteria(false)[0].Met(1.05))

	// EM 385-1-1 prints 25 fc and 270 lx; 25 fc is 269.1 lx.
	assert.True(t, find(t, "em385-rack-storage").Criteria(true)[0].Met(269.2))
	assert.False(t, find(t, "em385-rack-storage").Criteria(false)[0].Met(269.2))
}

func TestMet(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	least := Criterion{AtLeast: true, Required: 20, Unit: Lux}
	most := Criterion{Statistic: MaximumToMinimum, Required: 40, Unit: Ratio}
	for _, c := range []struct {
		name      string
		criterion Criterion
		value     float64
		want      bool
	}{
		{"on the mark", least, 20, true},
		{"above", least, 20.1, true},
		{"a rounding below", least, 20 * (1 - 1e-12), true},
		{"a millionth below is below", least, 20 * (1 - 1e-6), false},
		{"no light", least, 0, false},
		{"no value", least, nan, false},
		{"no finite value", least, inf, false},
		{"ratio on the mark", most, 40, true},
		{"ratio above", most, 40 * (1 + 1e-6), false},
		{"ratio over a minimum of 0", most, nan, false},
		{"the same as infinity", most, inf, false},
		{"at least 0", Criterion{AtLeast: true}, 0, true},
	} {
		assert.Equal(t, c.want, c.criterion.Met(c.value), c.name)
	}
}

func TestMargin(t *testing.T) {
	least := Criterion{AtLeast: true, Required: 10, Unit: Footcandles}
	assert.InEpsilon(t, 0.2, least.Margin(12*photometry.Footcandle), 1e-12) // rounding
	assert.InEpsilon(t, -0.3, least.Margin(7*photometry.Footcandle), 1e-12) // rounding
	most := Criterion{Statistic: AverageToMinimum, Required: 4, Unit: Ratio}
	assert.Equal(t, 0.25, most.Margin(3))
	assert.Equal(t, -0.25, most.Margin(5))
	assert.True(t, math.IsNaN(most.Margin(math.NaN())))
	assert.True(t, math.IsNaN(most.Margin(math.Inf(1))))
	assert.True(t, math.IsNaN(Criterion{AtLeast: true}.Margin(1)))
	assert.True(t, math.IsNaN(Criterion{AtLeast: true}.Margin(0)))
	assert.True(t, math.IsNaN(Criterion{AtLeast: true, Required: 1e-308}.Margin(1000)))
}

func TestRequiredIn(t *testing.T) {
	fc := Criterion{Required: 10, Unit: Footcandles}
	assert.Equal(t, 10.0, fc.RequiredIn(true))
	assert.InEpsilon(t, 107.6391041670972, fc.RequiredIn(false), 1e-12) // rounding; 10 / 0.3048^2
	lux := Criterion{Required: 100, Unit: Lux}
	assert.Equal(t, 100.0, lux.RequiredIn(false))
	assert.InEpsilon(t, 9.290304, lux.RequiredIn(true), 1e-12) // rounding; 100 x 0.3048^2
	ratio := Criterion{Required: 40, Unit: Ratio}
	assert.Equal(t, 40.0, ratio.RequiredIn(true))
	assert.Equal(t, 40.0, ratio.RequiredIn(false))
}

func TestARoundTripStillMeets(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := Criterion{
			AtLeast:  rapid.Bool().Draw(t, "at least"),
			Required: rapid.Float64Range(0.01, 1000).Draw(t, "required"),
			Unit:     rapid.SampledFrom([]Unit{Lux, Footcandles}).Draw(t, "unit"),
		}
		require.True(t, c.Met(c.RequiredIn(false)), "exactly what is required")
		better := 1 + rapid.Float64Range(1e-8, 10).Draw(t, "by")
		if !c.AtLeast {
			better = 1 / better
		}
		require.True(t, c.Met(c.RequiredIn(false)*better))
		require.False(t, c.Met(c.RequiredIn(false)/better))
		require.Positive(t, c.Margin(c.RequiredIn(false)*better))
		require.Negative(t, c.Margin(c.RequiredIn(false)/better))
		require.InEpsilon(t, c.RequiredIn(false), c.RequiredIn(true)*photometry.Footcandle, 1e-12) // rounding
	})
}

func TestWords(t *testing.T) {
	for i, word := range StatisticNames() {
		s, ok := ParseStatistic(word)
		assert.True(t, ok)
		assert.Equal(t, Statistic(i), s)
		assert.Equal(t, word, s.String())
	}
	_, ok := ParseStatistic("mean")
	assert.False(t, ok)
	assert.Equal(t, "Statistic(9)", Statistic(9).String())
	assert.Equal(t, []string{"lx", "fc", "", "Unit(7)"}, []string{Lux.String(), Footcandles.String(), Ratio.String(), Unit(7).String()})
	assert.Equal(t, Ratio, UnitOf(AverageToMinimum, true))
	assert.Equal(t, Footcandles, UnitOf(Minimum, true))
	assert.Equal(t, Lux, UnitOf(Average, false))
	assert.Equal(t, "at_least", Criterion{AtLeast: true}.Direction())
}
