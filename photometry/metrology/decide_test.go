package metrology

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// A target of 10 fc, u = 0.5 fc: probabilities of conformity to four decimals, and the acceptance limits for a risk of 5 and of
// 2.3 percent. Constructed; the numbers are those of the normal distribution.
func TestDecideTable(t *testing.T) {
	worst := 0.0
	for _, c := range []struct {
		y, probability, print float64
		outcome               Outcome
	}{
		{9.5, 0.1587, 5e-5, NotProven}, {10, 0.5, 5e-5, NotProven}, {10.4, 0.7881, 5e-5, NotProven}, {10.6, 0.8849, 5e-5, NotProven},
		{10.822, 0.95, 1.6e-4, NotProven}, // here the value itself is printed to 0.0005 fc, which is 1.1e-4 of probability more
		{10.823, 0.9501, 5e-5, Conforms}, {11, 0.9772, 5e-5, Conforms}, {9.17, 0.0485, 5e-5, DoesNotConform}, {9.18, 0.0505, 5e-5, NotProven},
	} {
		d := Decide(c.y, 0.5, math.Inf(1), 10, true, 0.95)
		assert.InDelta(t, c.probability, d.Probability, c.print, "print, %v fc", c.y)
		worst = max(worst, math.Abs(d.Probability-c.probability))
		assert.Equal(t, c.outcome, d.Outcome, "%v fc", c.y)
		assert.InDelta(t, 10.822, d.AcceptanceLimit, 0.0005, "print")
		assert.InDelta(t, 9.178, d.RejectionLimit, 0.0005, "print")
		assert.InDelta(t, 1.645*0.5, d.Guard, 0.0005, "print")
	}
	t.Logf("largest deviation of a probability %.1e", worst)
	assert.InDelta(t, 11.0, Decide(10, 0.5, math.Inf(1), 10, true, 0.9772).AcceptanceLimit, 0.0005, "2.3 percent risk: two standard uncertainties")
}

// An uncertainty of few degrees of freedom is one of Student's t: its table of critical values has 2.132 for 4, 1.833 for 9 and 1.740 for
// 17 degrees, one-sided 95 percent, and 2.776, 2.262, 2.110 for two sides (NIST/SEMATECH e-Handbook 1.3.6.7.2, from memory, unverified).
func TestDecideOfFewReadings(t *testing.T) {
	for freedom, want := range map[float64][2]float64{4: {2.132, 2.776}, 9.7: {1.833, 2.262}, 17: {1.740, 2.110}} {
		d := Decide(12, 0.5, freedom, 10, true, 0.95)
		assert.InDelta(t, want[0], d.Guard/0.5, 0.0005, "print, %v", freedom)
		assert.InDelta(t, want[1], d.CoverageFactor(0.95), 0.0005, "print, %v", freedom)
		assert.Less(t, d.Probability, Decide(12, 0.5, math.Inf(1), 10, true, 0.95).Probability)
	}
	assert.InDelta(t, 1.960, Decide(12, 0.5, math.Inf(1), 10, true, 0.95).CoverageFactor(0.95), 0.0005, "print")
	assert.PanicsWithValue(t, errDecide, func() { Decide(1, 1, 0, 1, true, 0.95) })
	assert.PanicsWithValue(t, errProbability, func() { Decide(1, 1, 3, 1, true, 0.95).CoverageFactor(1) })
}

func TestDecideWords(t *testing.T) {
	assert.Equal(t, "met", Conforms.String())
	assert.Equal(t, "missed", DoesNotConform.String())
	assert.Equal(t, "not proven", NotProven.String())
}

func TestDecideAtTheEdges(t *testing.T) {
	simple := Decide(10, 0.5, math.Inf(1), 10, true, 0.5)
	assert.Equal(t, Conforms, simple.Outcome, "simple acceptance")
	assert.InDelta(t, 0, simple.Guard, 1e-15)
	sure := Decide(10, 0, math.Inf(1), 10, true, 0.95)
	assert.Equal(t, Conforms, sure.Outcome)
	assert.Equal(t, 1.0, sure.Probability)
	sure = Decide(9.999, 0, math.Inf(1), 10, true, 0.95)
	assert.Equal(t, DoesNotConform, sure.Outcome)
	assert.Zero(t, sure.Probability)
	for name, f := range map[string]func(){
		"u below 0":         func() { Decide(1, -1, math.Inf(1), 1, true, 0.95) },
		"u unknown":         func() { Decide(1, math.NaN(), math.Inf(1), 1, true, 0.95) },
		"u without end":     func() { Decide(1, math.Inf(1), math.Inf(1), 1, true, 0.95) },
		"nothing measured":  func() { Decide(math.NaN(), 1, math.Inf(1), 1, true, 0.95) },
		"no limit":          func() { Decide(1, 1, math.Inf(1), math.Inf(1), true, 0.95) },
		"certainty":         func() { Decide(1, 1, math.Inf(1), 1, true, 1) },
		"less than a guess": func() { Decide(1, 1, math.Inf(1), 1, true, 0.4) },
	} {
		assert.PanicsWithValue(t, errDecide, f, name)
	}
}

// What proves "at least" is the mirror of what proves "at most"; the outcome is the probability held against the confidence; and a
// larger uncertainty never proves more.
func TestDecideLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		y, limit := rapid.Float64Range(0, 100).Draw(t, "y"), rapid.Float64Range(0, 100).Draw(t, "limit")
		u := rapid.Float64Range(0.01, 20).Draw(t, "u")
		confidence := rapid.Float64Range(0.5, 0.999).Draw(t, "confidence")
		d := Decide(y, u, math.Inf(1), limit, true, confidence)
		mirror := Decide(-y, u, math.Inf(1), -limit, false, confidence)
		assert.Equal(t, d.Outcome, mirror.Outcome)
		assert.Equal(t, d.Probability, mirror.Probability)
		most := Decide(y, u, math.Inf(1), limit, false, confidence)
		assert.InDelta(t, 1, d.Probability+most.Probability, 1e-12)
		const near = 1e-9 // the quantile and the integral are two roundings of one curve
		switch {
		case d.Probability > confidence+near:
			assert.Equal(t, Conforms, d.Outcome)
		case d.Probability < 1-confidence-near:
			assert.Equal(t, DoesNotConform, d.Outcome)
		case d.Probability > 1-confidence+near && d.Probability < confidence-near:
			assert.Equal(t, NotProven, d.Outcome)
		}
		if vaguer := Decide(y, 1.5*u, math.Inf(1), limit, true, confidence); d.Outcome == NotProven {
			assert.Equal(t, NotProven, vaguer.Outcome)
		}
	})
}
