package metrology

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func pairs(ratios ...float64) []Pair {
	all := make([]Pair, len(ratios))
	for i, r := range ratios {
		all[i] = Pair{Station: string(rune('a' + i)), Predicted: 200, Measured: 200 * r, PredictedStandard: 12, MeasuredStandard: 5}
	}
	return all
}

// By hand: u = 13 lx, so En = difference / 26; the median of the ratios is 0.98, of the deviations 0.02.
func TestCompare(t *testing.T) {
	c := Compare(pairs(1, 0.96, 0.98, 0.99, 0.95, 1.02, 0.6), 0)
	d := c.Stations[6]
	assert.InDelta(t, -80, d.Difference, 1e-9)
	assert.InEpsilon(t, -80.0/26, d.NormalizedError, 1e-9)
	assert.True(t, d.Disagrees)
	assert.True(t, d.Outlier)
	assert.InDelta(t, 0.98, c.Median, 1e-12)
	assert.InDelta(t, (0.6-0.98)*0.6745/0.02, d.Score, 0.002, "print of 0.6745")
	assert.False(t, c.Stations[5].Outlier)
	assert.Equal(t, [2]int{7, 6}, [2]int{c.Judged, c.Agreeing})
	assert.InEpsilon(t, 6.5/7, c.Mean, 1e-12)
	assert.Equal(t, 6, c.Kept)
	assert.InEpsilon(t, 5.9/6, c.KeptMean, 1e-12)
	assert.Less(t, c.KeptStandard, c.Standard)
}

// All stations 20 percent low: none is unlike the others, all disagree with the prediction, and the mean says by how much.
func TestCompareOfABias(t *testing.T) {
	c := Compare(pairs(0.80, 0.81, 0.79, 0.80, 0.80, 0.8), 0.05)
	for _, d := range c.Stations {
		assert.False(t, d.Outlier)
		assert.True(t, d.Disagrees)
	}
	assert.InDelta(t, 0.8, c.Mean, 1e-9)
	assert.GreaterOrEqual(t, c.Standard, 0.8*0.05, "what is common does not average out")
}

func TestCompareOfFewStations(t *testing.T) {
	none := Compare(nil, 0.05)
	assert.True(t, math.IsNaN(none.Mean) && math.IsNaN(none.Median) && math.IsNaN(none.Standard) && math.IsNaN(none.KeptMean))
	one := Compare(pairs(0.9), 0)
	assert.InDelta(t, 0.9, one.Mean, 1e-12)
	assert.InEpsilon(t, math.Hypot(5, 0.9*12)/200, one.Standard, 1e-9, "a single station has its own uncertainty")
	assert.True(t, math.IsNaN(one.Stations[0].Score))
	assert.True(t, math.IsNaN(Compare(pairs(1, 10), 0).Stations[1].Score), "of two, either may be the slip")
	bare := Compare([]Pair{{Station: "a", Predicted: 100, Measured: 90}}, 0)
	assert.True(t, math.IsNaN(bare.Standard) && math.IsNaN(bare.Stations[0].NormalizedError))
	assert.Zero(t, bare.Judged)
	four := Compare(pairs(1, 1, 1, 0.2), 0)
	assert.True(t, four.Stations[3].Outlier)
	assert.True(t, four.Stations[3].Disagrees)
	assert.True(t, Compare(pairs(0.8, 1, 10), 0).Stations[2].Outlier, "three are enough for a slip")
	assert.False(t, Compare(pairs(1, 1, 1.3), 0).Stations[2].Outlier, "and not for less: two may agree by chance")
	assert.False(t, Compare(pairs(1, 1, 1, 1, 1, 1.1), 0).Stations[5].Outlier, "stations scatter by a few percent")
	same := Compare(pairs(1, 1, 1, 1, 1, 0.5), 0)
	assert.True(t, same.Stations[5].Outlier, "the others agree to the last digit")
	assert.False(t, Compare(pairs(1, 1, 1, 1, 1.0000001), 0).Stations[4].Outlier, "below a digit of the display")
	dark := Compare(append(pairs(1, 1), Pair{Station: "z", Measured: 3}), 0)
	assert.True(t, math.IsNaN(dark.Stations[2].Ratio))
	assert.Equal(t, 2, dark.Kept)
	for _, p := range []Pair{{Measured: -1}, {Predicted: math.NaN()}, {MeasuredStandard: math.Inf(1)}, {PredictedStandard: -1}} {
		assert.PanicsWithValue(t, errPair, func() { Compare([]Pair{p}, 0) })
	}
}

// Readings that scatter normally by 4 percent about 0.93 of the prediction: over 400 seeded rooms of 12 stations the stated
// uncertainty of the mean holds the truth as often as it should. Sampling: 400 draws of a probability of 0.95 lie within 0.03 of it
// (2.75 σ).
func TestCompareCoversTheTruth(t *testing.T) {
	const roomsTried, stations, truth = 400, 12, 0.93
	covered := 0
	for i := range roomsTried {
		source := rand.New(rand.NewPCG(7, uint64(i)))
		all := make([]Pair, stations)
		for k := range all {
			p := 100 + 200*source.Float64()
			all[k] = Pair{Predicted: p, Measured: p * truth * (1 + 0.04*source.NormFloat64()), MeasuredStandard: 0.04 * p * truth}
		}
		c := Compare(all, 0)
		if math.Abs(c.Mean-truth) <= 1.96*c.Standard {
			covered++
		}
	}
	assert.GreaterOrEqual(t, float64(covered)/roomsTried, 0.95-0.03)
}

// Twice the light on both sides changes no ratio; the order of the stations no sum.
func TestCompareLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ratios := rapid.SliceOfN(rapid.Float64Range(0.2, 3), 1, 20).Draw(t, "ratios")
		a := pairs(ratios...)
		twice := make([]Pair, len(a))
		for i, p := range a {
			twice[i] = Pair{p.Station, 2 * p.Predicted, 2 * p.Measured, 2 * p.PredictedStandard, 2 * p.MeasuredStandard}
		}
		c, d := Compare(a, 0.03), Compare(twice, 0.03)
		assert.Equal(t, c.Mean, d.Mean, "powers of two")
		assert.Equal(t, c.Standard, d.Standard)
		for i := range c.Stations {
			assert.Equal(t, c.Stations[i].Outlier, d.Stations[i].Outlier)
		}
		assert.GreaterOrEqual(t, c.Standard, 0.03*c.Mean*(1-rounding))
	})
}

// By hand: measured 180 where 200 was predicted, so 250 becomes 225. Shared 10 percent cancels; own 3 and 4 stay, with 2 of the meter.
func TestCalibrate(t *testing.T) {
	c := Calibrate(Transfer{MeasuredExisting: 180, MeasuredStandard: 0.02, PredictedExisting: 200, PredictedProposed: 250, Inputs: []Input{
		{"reflectances", 0.10, 0.10}, {"old lamps and dirt", 0.03, 0}, {"new lamps", 0, 0.04}}})
	assert.InEpsilon(t, 0.9, c.Factor, rounding)
	assert.InEpsilon(t, 0.018, c.FactorStandard, rounding)
	assert.InEpsilon(t, 225, c.Value, rounding)
	assert.InEpsilon(t, 225*math.Sqrt(0.02*0.02+0.03*0.03+0.04*0.04), c.Standard, rounding)
	assert.InEpsilon(t, 250*math.Hypot(0.1, 0.04), c.PredictedStandard, rounding)
	assert.InEpsilon(t, 0.05, c.Remaining, rounding)
	assert.True(t, c.Better)

	worse := Calibrate(Transfer{MeasuredExisting: 180, MeasuredStandard: 0.06, PredictedExisting: 200, PredictedProposed: 250, Inputs: []Input{
		{"old lamps and dirt", 0.1, 0}, {"new lamps", 0, 0.04}}})
	assert.False(t, worse.Better, "nothing is shared: readings of the old system say nothing of the new one")
	half := Calibrate(Transfer{MeasuredExisting: 1, PredictedExisting: 1, PredictedProposed: 1, Inputs: []Input{{"walls", 0.05, 0.08}}})
	assert.InEpsilon(t, 0.03, half.Standard, rounding, "a shared input that moves the two by different amounts leaves the difference")
	for _, bad := range []Transfer{{}, {MeasuredExisting: 1, PredictedExisting: 1}, {MeasuredExisting: 1, PredictedExisting: 1, PredictedProposed: math.Inf(1)},
		{MeasuredExisting: 1, PredictedExisting: 1, PredictedProposed: 1, MeasuredStandard: math.NaN()}} {
		assert.PanicsWithValue(t, errTransfer, func() { Calibrate(bad) })
	}
}

// The closed form against draws of the model itself: truth = prediction x product of errors, readings = truth x error of the meter.
// Sampling: 20,000 seeded draws give a standard deviation to 0.5 percent, and the second order of the product adds about u²: 2
// percent in all.
func TestCalibrateAgainstDraws(t *testing.T) {
	inputs := []Input{{"shared", 0.08, 0.06}, {"old", 0.03, 0}, {"new", 0, 0.04}, {"walls", 0.02, 0.02}}
	const meter, draws = 0.025, 20000
	source := rand.New(rand.NewPCG(1, 1))
	sum, squares := 0.0, 0.0
	for range draws {
		old, next := 200.0, 250.0 // the truth, where 200 and 250 are predicted
		for _, in := range inputs {
			z := source.NormFloat64()
			old *= 1 + in.Existing*z
			next *= 1 + in.Proposed*z
		}
		measured := old * (1 + meter*source.NormFloat64())
		off := math.Log(250 * measured / 200 / next)
		sum += off
		squares += off * off
	}
	deviation := math.Sqrt(squares/draws - sum/draws*sum/draws)
	c := Calibrate(Transfer{MeasuredExisting: 200, MeasuredStandard: meter, PredictedExisting: 200, PredictedProposed: 250, Inputs: inputs})
	require.InEpsilon(t, deviation, c.Standard/c.Value, 0.02)
	t.Logf("deviation of the standard uncertainty from that of the draws %.1f percent", 100*math.Abs(c.Standard/c.Value/deviation-1))
}
