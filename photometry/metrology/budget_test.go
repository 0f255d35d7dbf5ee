package metrology

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Tolerance of two ways to the same number: rounding only, relative.
const rounding = 1e-12

// A constructed budget, all standard uncertainties in percent: 1.5, 1.8, 1.0, 0.6, 2.0 give 3.29 (print); and a bound of 10 percent
// read as rectangular is 5.77 percent and would dominate.
func TestBudgetWorkedNumbers(t *testing.T) {
	var b Budget
	for _, u := range []float64{1.5, 1.8, 1.0, 0.6, 2.0} {
		b = append(b, StandardUncertainty("", u/100, math.Inf(1), "constructed"))
	}
	assert.InDelta(t, 3.29, 100*b.Standard(), 0.005, "print")
	station := Limit("", 0.10, "constructed")
	assert.InDelta(t, 5.77, 100*station.Standard(), 0.005, "print")
	with := append(Budget{station}, b...)
	assert.Greater(t, station.Standard(), with.Standard()*0.8)
	assert.InDelta(t, 1.96, b.CoverageFactor(0.95), 0.005, "print, normal distribution")
	assert.InEpsilon(t, b.CoverageFactor(0.95)*b.Standard(), b.Expanded(0.95), rounding)
}

func TestContributions(t *testing.T) {
	assert.InEpsilon(t, 0.06/math.Sqrt(3), Limit("", 0.06, "").Standard(), rounding)
	assert.InEpsilon(t, 0.015, Certificate("", 0.03, 2, "").Standard(), rounding)
	p := Contribution{Name: "position of the sensor", Value: 0.04, Shape: Rectangular, Variable: true}
	common, variable := Budget{p, Limit("meter", 0.1, "")}.Split()
	assert.Equal(t, "meter", common[0].Name)
	assert.Equal(t, "position of the sensor", variable[0].Name)
	assert.Equal(t, []string{"rectangular", "normal"}, []string{Rectangular.String(), Normal.String()})
}

// t-factors for 95 percent: 12.71 for 1, 2.23 for 10, 1.98 for 100 degrees of freedom (print; GUM table G.2, from memory, any table
// of the t-distribution).
func TestCoverageFactorOfFewReadings(t *testing.T) {
	for freedom, want := range map[float64]float64{1: 12.71, 2: 4.30, 10: 2.23, 100: 1.984} {
		b := Budget{StandardUncertainty("", 0.02, freedom, "")}
		assert.InEpsilon(t, freedom, b.Freedom(), 1e-9)
		assert.InDelta(t, want, b.CoverageFactor(0.95), 0.005)
	}
	// Welch and Satterthwaite by hand: u = 3 with 4 and 4 with infinity: 5⁴ / (3⁴/4) = 30.86.
	b := Budget{StandardUncertainty("", 0.03, 4, ""), StandardUncertainty("", 0.04, math.Inf(1), "")}
	assert.InDelta(t, 30.86, b.Freedom(), 0.005, "print")
	assert.InDelta(t, 2.04, b.CoverageFactor(0.95), 0.005, "print, 30 degrees of freedom")
	assert.InDelta(t, 1.96, Budget(nil).CoverageFactor(0.95), 0.005)
	assert.Zero(t, Budget(nil).Standard())
	for _, p := range []float64{0, 1, math.NaN()} {
		assert.PanicsWithValue(t, errProbability, func() { b.CoverageFactor(p) })
	}
}

// The combined uncertainty is no less than any part and no more than their sum, and the order does not matter.
func TestCombinedUncertainty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var b, back Budget
		sum, most := 0.0, 0.0
		for _, a := range rapid.SliceOfN(rapid.Float64Range(1e-6, 0.2), 1, 10).Draw(t, "limits") {
			c := Limit("", a, "")
			b, back = append(b, c), append(Budget{c}, back...)
			sum, most = sum+c.Standard(), max(most, c.Standard())
		}
		u := b.Standard()
		assert.GreaterOrEqual(t, u, most*(1-rounding))
		assert.LessOrEqual(t, u, sum*(1+rounding))
		assert.InDelta(t, u, back.Standard(), rounding)
	})
}

// DIN 5032-7 as a meter maker's public manual has it; the totals confirmed by a public German handbook page.
func TestMeterClasses(t *testing.T) {
	totals := map[string]float64{"L": 3, "A": 5, "B": 10, "C": 20}
	assert.Equal(t, []string{"L", "A", "B", "C"}, MeterClasses())
	before := 0.0
	for _, class := range MeterClasses() {
		m, ok := ClassMeter(class)
		require.True(t, ok)
		assert.InDelta(t, totals[class], 100*m.Total, 1e-9, class)
		b := m.Budget()
		require.Len(t, b, 1, "the total stands for all of it")
		assert.InEpsilon(t, m.Total/math.Sqrt(3), b.Standard(), rounding)
		assert.Contains(t, b[0].Source, "DIN 5032-7")
		assert.Greater(t, m.Total, before)
		before = m.Total

		// The total is not less than the root of the squares of the parts: the class keeps what its parts promise, and is the safe
		// side.
		m.Errors = ClassErrors(class)
		require.Len(t, m.Errors, 10)
		parts := m.Budget()
		assert.Less(t, parts.Standard(), b.Standard(), class)
	}
	b, ok := ClassMeter(" b ")
	assert.True(t, ok)
	assert.Equal(t, "B", b.Class)
	_, ok = ClassMeter("D")
	assert.False(t, ok)
	assert.Empty(t, ClassErrors("D"))
}

func TestMeterErrorByError(t *testing.T) {
	want := map[string]float64{"spectral mismatch": 6, "ultraviolet": 2, "infrared": 2, "cosine": 3, "linearity": 2, "display": 4.5, "fatigue": 1,
		"temperature": 1, "modulated light": 0.5, "range change": 1}
	squares := 0.0
	for _, e := range ClassErrors("B") {
		assert.InDelta(t, want[e.Name], 100*e.Limit, 1e-9, e.Name)
		limit := e.Limit
		if e.PerKelvin {
			limit *= 5
		}
		squares += limit * limit / 3
	}
	m := Meter{Errors: ClassErrors("B"), Calibration: 0.03, CalibrationSource: "certificate of the test", KelvinOff: -5}
	b := m.Budget()
	require.Len(t, b, 11)
	assert.Equal(t, "calibration", b[0].Name)
	assert.Equal(t, "certificate of the test", b[0].Source)
	assert.InEpsilon(t, math.Sqrt(0.015*0.015+squares), b.Standard(), rounding)
	assert.Empty(t, m.Unknown())
	assert.Equal(t, []string{"cosine"}, Meter{Errors: ClassErrors("L")}.Unknown())
	m.KelvinOff = 0
	assert.Len(t, m.Budget(), 10, "no temperature error at the temperature of calibration")
}

func TestMeterOfOwnFigures(t *testing.T) {
	b := Meter{Total: 0.04, Calibration: 0.03, CalibrationFactor: 3}.Budget()
	require.Len(t, b, 2)
	assert.InEpsilon(t, math.Hypot(0.01, 0.04/math.Sqrt(3)), b.Standard(), rounding)
	assert.Equal(t, "as given", b[0].Source)
	class, _ := ClassMeter("A")
	class.Calibration = 0.03
	assert.Len(t, class.Budget(), 1, "a class includes its calibration")
	assert.PanicsWithValue(t, errMeter, func() { Meter{}.Budget() })
}

// By hand: with a scatter of 10 percent 5 percent take 18 readings, t of 17 degrees 2.110: 21.1/√18 = 4.97, and of 16 2.120: 21.2/√17 = 5.14.
func TestEnough(t *testing.T) {
	assert.Equal(t, 18, Enough(0.1, 0.05, 1000))
	assert.Equal(t, 2, Enough(0, 0.05, 1000))
	assert.Equal(t, 50, Enough(0.1, 0.001, 50), "as many as may be")
}
