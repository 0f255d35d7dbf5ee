package room_test

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat"
	"pgregory.net/rapid"

	"lampswap/photometry/room"
)

func TestSummarize(t *testing.T) {
	nan := math.NaN()
	got := room.Summarize([]float64{2, nan, 4, 4, 4, nan, 5, 5, 7, 9})
	assert.Equal(t, 8, got.Points, "NaN is no point")
	assert.InDelta(t, 5, got.Average, rounding)
	assert.Equal(t, 2.0, got.Minimum)
	assert.Equal(t, 9.0, got.Maximum)
	assert.InDelta(t, 2.5, got.AverageToMinimum, rounding)
	assert.InDelta(t, 4.5, got.MaximumToMinimum, rounding)
	assert.InDelta(
		t,
		0.4,
		got.CoefficientOfVariation,
		rounding,
		"population standard deviation 2; the sample's would be 2.14",
	)
}

func TestSummarizeWithoutLightOrPoints(t *testing.T) {
	some := room.Summarize([]float64{0, 3, 6})
	assert.True(
		t,
		math.IsNaN(some.AverageToMinimum) && math.IsNaN(some.MaximumToMinimum),
		"minimum 0: no ratio, %+v",
		some,
	)
	assert.InDelta(t, math.Sqrt(6)/3, some.CoefficientOfVariation, rounding)

	dark := room.Summarize([]float64{0, 0})
	assert.Equal(t, 2, dark.Points)
	assert.Zero(t, dark.Average)
	assert.True(t, math.IsNaN(dark.CoefficientOfVariation))

	for _, none := range [][]float64{nil, {math.NaN(), math.NaN()}} {
		s := room.Summarize(none)
		assert.Zero(t, s.Points)
		for _, x := range []float64{s.Average, s.Minimum, s.Maximum, s.AverageToMinimum, s.MaximumToMinimum,
			s.CoefficientOfVariation} {
			assert.True(t, math.IsNaN(x), "%+v", s)
		}
	}
}

// Against gonum/stat, and points inside racks change nothing.
func TestSummarizeProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		values := rapid.SliceOfN(rapid.Float64Range(0.1, 2000), 1, 60).Draw(t, "lx")
		got := room.Summarize(values)
		mean, deviation := stat.PopMeanStdDev(values, nil)
		assert.InEpsilon(t, mean, got.Average, rounding)
		assert.InDelta(t, deviation/mean, got.CoefficientOfVariation, 1e-9)
		assert.Equal(t, slices.Min(values), got.Minimum)
		assert.Equal(t, slices.Max(values), got.Maximum)
		at := rapid.IntRange(0, len(values)).Draw(t, "at")
		assert.Equal(t, got, room.Summarize(slices.Insert(slices.Clone(values), at, math.NaN())))
		twice := make([]float64, len(values))
		for i, v := range values {
			twice[i] = 2 * v
		}
		double := room.Summarize(twice)
		require.Equal(t, 2*got.Average, double.Average, "exact: a power of two")
		assert.Equal(t, got.CoefficientOfVariation, double.CoefficientOfVariation)
		assert.Equal(t, got.AverageToMinimum, double.AverageToMinimum)
	})
}

func BenchmarkSummarize(b *testing.B) {
	values := make([]float64, 100_000)
	for i := range values {
		values[i] = float64(i%97) + 1
	}
	b.ReportAllocs()
	for b.Loop() {
		room.Summarize(values)
	}
}
