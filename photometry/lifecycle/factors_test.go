package lifecycle

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// The factors of payments at year's end, computed apart from this package in our working notes; six decimals.
// The definitions are those of NIST Handbook 135.
func TestFactorsAsTabled(t *testing.T) {
	rates, worst := []float64{0.03, 0.05, 0.07}, 0.0
	for _, row := range []struct {
		years    int
		spv, upv [3]float64
	}{
		{1, [3]float64{.970874, .952381, .934579}, [3]float64{0.970874, 0.952381, 0.934579}},
		{2, [3]float64{.942596, .907029, .873439}, [3]float64{1.913470, 1.859410, 1.808018}},
		{5, [3]float64{.862609, .783526, .712986}, [3]float64{4.579707, 4.329477, 4.100197}},
		{7, [3]float64{.813092, .710681, .622750}, [3]float64{6.230283, 5.786373, 5.389289}},
		{10, [3]float64{.744094, .613913, .508349}, [3]float64{8.530203, 7.721735, 7.023582}},
		{12, [3]float64{.701380, .556837, .444012}, [3]float64{9.954004, 8.863252, 7.942686}},
		{15, [3]float64{.641862, .481017, .362446}, [3]float64{11.937935, 10.379658, 9.107914}},
		{20, [3]float64{.553676, .376889, .258419}, [3]float64{14.877475, 12.462210, 10.594014}},
		{25, [3]float64{.477606, .295303, .184249}, [3]float64{17.413148, 14.093945, 11.653583}},
		{30, [3]float64{.411987, .231377, .131367}, [3]float64{19.600441, 15.372451, 12.409041}},
	} {
		for i, rate := range rates {
			assert.InDelta(t, row.spv[i], SPV(rate, row.years), 0.5e-6, "SPV at %v, %d years", rate, row.years) // print
			assert.InDelta(t, row.upv[i], UPV(rate, row.years), 0.5e-6, "UPV at %v, %d years", rate, row.years) // print
			worst = max(worst, math.Abs(SPV(rate, row.years)-row.spv[i]), math.Abs(UPV(rate, row.years)-row.upv[i]))
		}
	}
	t.Logf("largest deviation %.1e", worst)
}

func TestFactorsAtTheirEdges(t *testing.T) {
	assert.Equal(t, 1.0, SPV(0.03, 0))
	assert.Equal(t, 0.0, UPV(0.03, 0))
	assert.Equal(t, 12.0, UPV(0, 12))
	assert.Equal(t, 20.0, EscalatedUPV(0.03, 0.03, 20), "a price that rises as fast as money is discounted")
	assert.Equal(t, UPV(0.03, 20), EscalatedUPV(0.03, 0, 20))
	assert.InEpsilon(t, 10, UPV(1e-14, 10), 1e-12, "a tiny rate loses no digits") // rounding
	for name, call := range map[string]func(){
		"rate -1":       func() { SPV(-1, 1) },
		"rate NaN":      func() { UPV(math.NaN(), 1) },
		"years -1":      func() { UPV(0.03, -1) },
		"escalation -1": func() { EscalatedUPV(0.03, -1, 1) },
	} {
		assert.PanicsWithValue(t, badFactor, call, name)
	}
}

// The closed forms equal the sums they stand for.
func TestFactorsAreSums(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.Float64Range(-0.2, 0.5).Draw(t, "d")
		e := rapid.Float64Range(-0.2, 0.5).Draw(t, "e")
		years := rapid.IntRange(1, 40).Draw(t, "years")
		upv, escalated := 0.0, 0.0
		for year := 1; year <= years; year++ {
			upv += SPV(d, year)
			escalated += math.Pow((1+e)/(1+d), float64(year))
		}
		assert.InEpsilon(t, upv, UPV(d, years), 1e-12)                   // rounding
		assert.InEpsilon(t, escalated, EscalatedUPV(d, e, years), 1e-12) // rounding
		// What is borrowed is paid back; rounding, of the larger of the two numbers that are added.
		assert.InDelta(t, 1, UPV(d, years)*d+SPV(d, years), 1e-12*math.Max(1, SPV(d, years)))
	})
}
