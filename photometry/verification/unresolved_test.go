package verification_test

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry"
	"lampswap/photometry/metrology"
	"lampswap/photometry/number"
	"lampswap/photometry/survey"
	"lampswap/photometry/verification"
	"lampswap/photometry/wording"
)

// keys are what is unresolved.
func keys(v *verification.Verification) []verification.Key {
	var all []verification.Key
	for _, u := range v.Unresolved {
		all = append(all, u.Key)
	}
	return all
}

// Honest readings scatter by a few percent. Mistaken ones, each in its own way, prove nothing, though the level is well below what they
// come to or well above it: neither met nor missed, and the verdict says why.
func TestMistakenReadingsProveNothing(t *testing.T) {
	plain := surveyed(t, "proposed", 1)
	found := verified(t, plain).Areas[0].Measured.Value
	scatter := []float64{1.02, 0.97, 1.01, 0.96, 1.03, 0.99, 1.0, 0.98, 1.04, 0.95, 1.01, 1.02, 0.97, 0.99, 1.03, 1.0, 0.96, 1.02}
	for _, limit := range []float64{0.5, 3} {
		level := []string{upkeep, rule("average", "at_least", limit*found) + rule("minimum", "at_least", 0.1*limit*found) + upkeep}
		for name, c := range map[string]struct {
			change func(i int, value float64) float64
			keys   []verification.Key
			says   string
		}{
			"honest":         {func(_ int, x float64) float64 { return x }, nil, ""},
			"a tenth more":   {func(_ int, x float64) float64 { return 1.1 * x }, nil, ""},
			"one times ten":  {func(i int, x float64) float64 { return x * math.Pow10(btoi(i == 3)) }, []verification.Key{"slip"}, "r4 ("},
			"one by ten":     {func(i int, x float64) float64 { return x / math.Pow10(btoi(i == 16)) }, []verification.Key{"slip"}, "p1 ("},
			"all in lux":     {func(_ int, x float64) float64 { return x * photometry.Footcandle }, []verification.Key{"unit"}, "lx taken for fc"},
			"all in fc":      {func(_ int, x float64) float64 { return x / photometry.Footcandle }, []verification.Key{"unit"}, "fc taken for lx"},
			"all equal":      {func(int, float64) float64 { return found }, []verification.Key{"equal"}, "all 18 stations have the same reading"},
			"a fifth":        {func(_ int, x float64) float64 { return x / 5 }, []verification.Key{"mismatch"}, "lamps that are out (80 percent of them)"},
			"half as much":   {func(_ int, x float64) float64 { return 0.55 * x }, []verification.Key{"beyond"}, "18 of 18 stations differ from their prediction"},
			"two in lux":     {func(i int, x float64) float64 { return x * math.Pow(photometry.Footcandle, btof(i < 2)) }, []verification.Key{"slip"}, "r1 ("},
			"half in lux":    {func(i int, x float64) float64 { return x * math.Pow(photometry.Footcandle, btof(i%2 == 0)) }, []verification.Key{"unit"}, "some were in lx and some in fc"},
			"nothing at all": {func(int, float64) float64 { return 0 }, []verification.Key{"equal"}, "the same reading, 0"},
		} {
			s := surveyed(t, "proposed", 1, level...)
			s.Areas[0].Arrangement = survey.PointGrid // as if these were all the points there are
			for i := range s.Readings.Lines {
				l := &s.Readings.Lines[i]
				l.Value = c.change(i, l.Value*scatter[i])
			}
			v := verified(t, s, level...)
			assert.Equal(t, c.keys, keys(v), name)
			if c.keys == nil {
				assert.Equal(t, limit < 1, v.Proven(), name)
				assert.NotContains(t, wording.Readings(v), "NOTHING IS PROVEN")
				continue
			}
			assert.False(t, v.Proven(), name)
			assert.Contains(t, wording.Readings(v), "NOTHING IS PROVEN: ", name)
			assert.Contains(t, wording.Readings(v), c.says, name)
			for _, d := range v.Areas[0].Decisions {
				assert.Equal(t, metrology.NotProven, d.Found.Outcome, "%s: %s", name, d.Name)
				assert.Equal(t, metrology.NotProven, d.Carried.Outcome, "%s: %s", name, d.Name)
				assert.NotEmpty(t, d.Doubts, name)
			}
		}
	}
}

func btof(b bool) float64 { return float64(btoi(b)) }

func btoi(b bool) int {
	if b {
		return 1
	}
	return 0
}

// A slip is resolved by a second reading that bears it out, or by striking it out with a reason; another that differs resolves nothing.
// The verdict has the average with and without.
func TestASlipIsResolved(t *testing.T) {
	level := []string{upkeep, bright + upkeep}
	s := surveyed(t, "proposed", 1, level...)
	honest := s.Readings.Lines[0]
	s.Readings.Lines[0].Value *= 10
	v := verified(t, s, level...)
	require.Equal(t, []string{"r1"}, v.Slips)
	a := v.Areas[0]
	assert.InEpsilon(t, 0.625/8*9*honest.Value+verified(t, surveyed(t, "proposed", 1, level...), level...).Areas[0].Measured.Value, a.Measured.Value, 1e-9, "R counts 15 of 24, in eight stations")
	assert.Less(t, a.Without.Value, 1.02*a.Predicted.Value)
	assert.Contains(t, wording.Readings(v), "The average of the work plane is "+number.Digits(a.Measured.Value)+" lx with r1, and "+number.Digits(a.Without.Value)+" lx without.")
	assert.Contains(t, wording.Readings(v), "as by another unit or a decimal point out of place")

	again := s
	again.Readings.Lines = append(slices.Clip(again.Readings.Lines), honest)
	assert.Equal(t, []verification.Key{"slip"}, keys(verified(t, again, level...)), "one of the two is wrong, and which is not said")
	again.Readings.Lines[0].StruckOut = "wrong range, read again"
	v = verified(t, again, level...)
	assert.Empty(t, v.Unresolved)
	assert.True(t, v.Proven())
	assert.Contains(t, wording.Readings(v), "r1 ("+number.Digits(again.Readings.Lines[0].Value)+" lx: wrong range, read again) struck out, with which the average of the work plane is ")
	require.Len(t, v.Struck, 1)
	assert.Equal(t, "wrong range, read again", v.Struck[0].Reason)
	assert.Empty(t, v.Areas[0].Missing)
}

// Stations that are struck out and not read again must be few: else it is a choice of readings.
func TestTooManyStruckOut(t *testing.T) {
	s := surveyed(t, "proposed", 1)
	for _, i := range []int{0, 1, 2} {
		s.Readings.Lines[i].StruckOut = "in the way"
	}
	assert.Empty(t, keys(verified(t, s)))
	s.Readings.Lines[3].StruckOut = "in the way"
	assert.Equal(t, []verification.Key{"struck_out"}, keys(verified(t, s)))
}

// Readings that scatter make the average less certain than the meter alone; few of them by Student's t, and one tells nothing.
func TestScatterCounts(t *testing.T) {
	s := surveyed(t, "proposed", 1)
	even := verified(t, s).Areas[0].Budget.Standard()
	for i := range s.Readings.Lines {
		s.Readings.Lines[i].Value *= 1 + 0.08*float64(i%3-1)
	}
	v := verified(t, s)
	a := v.Areas[0]
	assert.Empty(t, keys(v))
	own := 0.08 * math.Sqrt(12.0/17) // of 18 stations 12 are off by 8 percent
	squares := 0.0
	for name, w := range a.Measured.Weights {
		m := v.Comparison.Stations[0].Measured
		for _, d := range v.Comparison.Stations {
			if d.Station == name {
				m = d.Measured
			}
		}
		squares += w * m / a.Measured.Value * w * m / a.Measured.Value
	}
	assert.InEpsilon(t, math.Sqrt(even*even+own*own*squares), a.Budget.Standard(), 0.01, "about the ratio of the averages, not the mean of ratios")
	_, k := a.Expanded()
	assert.Greater(t, k, 1.96)
	assert.Equal(t, 17.0, a.Reading[len(a.Reading)-1].Freedom)

	one := surveyed(t, "proposed", 1)
	one.Areas[0].Stations = one.Areas[0].Stations[:1]
	one.Areas[0].Arrangement = survey.PointGrid
	one.Readings.Lines = one.Readings.Lines[:1]
	assert.Equal(t, []verification.Key{"scatter"}, keys(verified(t, one)))
}

// A calibration factor multiplies readings, and digits of the display weigh more on faint ones: 2 of the step of 1 lx on about 168 lx, as
// a rectangle, beside 4 percent.
func TestMeterByItsDataSheet(t *testing.T) {
	s := surveyed(t, "proposed", 1)
	plain := verified(t, s).Areas[0]
	s.Meter = metrology.Meter{Total: 0.04, Digits: 2}
	s.Factor = 1.05
	for i := range s.Readings.Lines {
		s.Readings.Lines[i].Step = 1 / 1.05
	}
	v := verified(t, s)
	a := v.Areas[0]
	assert.InEpsilon(t, 1.05*plain.Measured.Value, a.Measured.Value, rounding)
	assert.InEpsilon(t, math.Hypot(0.04, 2/a.Measured.Value)/math.Sqrt(3), a.Reading.Standard(), 1e-9)
	assert.Contains(t, wording.ReadingNotes(v), "readings are multiplied by the meter's calibration factor of 1.05")
	s.Meter, _ = metrology.ClassMeter("A")
	s.Meter.Calibration = 0.03
	v = verified(t, s)
	assert.Len(t, v.Budget, 1)
	assert.Contains(t, wording.ReadingNotes(v), "the uncertainty on the meter's certificate is not counted besides its class, which includes calibration")
	assert.InEpsilon(t, 0.2, metrology.UnknownMeter().Total, rounding, "class C")
	assert.Contains(t, metrology.UnknownMeter().Budget()[0].Source, "nothing is known of the meter")
}
