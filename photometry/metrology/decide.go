package metrology

import "lampswap/photometry"

// An Outcome is what a reading proves.
type Outcome int

// The outcomes of a test.
const (
	NotProven Outcome = iota // neither is shown at the stated confidence
	Conforms
	DoesNotConform
)

// String is the outcome in words.
func (o Outcome) String() string {
	switch o {
	case Conforms:
		return "met"
	case DoesNotConform:
		return "missed"
	case NotProven:
	}
	return "not proven"
}

// A Decision is the test of a measured value against a limit. All but Confidence and Probability are in the unit of the value.
type Decision struct {
	Outcome         Outcome
	Measured        float64
	Standard        float64 // standard uncertainty
	Freedom         float64 // its degrees of freedom; +Inf where it is not in doubt
	Limit           float64
	AtLeast         bool // else at most
	Confidence      float64
	Guard           float64 // width of the guard band
	AcceptanceLimit float64 // accepted from here on
	RejectionLimit  float64 // rejected beyond
	Probability     float64 // that the true value conforms
}

const errDecide = "metrology: a decision needs finite values, an uncertainty of 0 or more of one degree of freedom or more and a confidence from 0.5 to below 1"

// CoverageFactor returns k for an interval about the measured value that holds the truth with a probability, as Budget.CoverageFactor.
func (d Decision) CoverageFactor(probability float64) float64 {
	if !(probability > 0 && probability < 1) {
		panic(errProbability)
	}
	return chance(d.Freedom).Quantile((1 + probability) / 2)
}

// Decide tests a measured value with standard uncertainty u, of so many degrees of freedom, against a limit, by guarded acceptance and
// guarded rejection:
//
//	w = Φ⁻¹(confidence) u                       one-sided: 1.645 u for 0.95
//	at least T: conforms if y ≥ T + w, does not if y < T - w, P = Φ((y - T)/u)
//	at most T:  conforms if y ≤ T - w, does not if y > T + w, P = Φ((T - y)/u)
//
// The risk of a wrong verdict is at most 1 - confidence either way. A confidence of 0.5 is simple acceptance, no guard band. Source:
// JCGM 106:2012 (ISO/IEC Guide 98-4), from memory; the value is normally distributed about the truth and nothing is known of it
// beforehand. With few degrees of freedom Φ is that of Student's t (GUM G.3). It panics on values that are not finite, u below 0 or a confidence outside 0.5 to 1.
func Decide(measured, u, freedom, limit float64, atLeast bool, confidence float64) Decision {
	if !(u >= 0) || !(freedom >= 1) || !photometry.Finite(measured, u, limit) || !(confidence >= 0.5 && confidence < 1) {
		panic(errDecide)
	}
	d := Decision{Measured: measured, Standard: u, Freedom: freedom, Limit: limit, AtLeast: atLeast, Confidence: confidence}
	off := chance(freedom)
	d.Guard = off.Quantile(confidence) * u
	side := 1.0
	if !atLeast {
		side = -1
	}
	d.AcceptanceLimit, d.RejectionLimit = limit+side*d.Guard, limit-side*d.Guard
	margin := side * (measured - limit)
	switch {
	case side*(measured-d.AcceptanceLimit) >= 0:
		d.Outcome = Conforms
	case side*(measured-d.RejectionLimit) < 0:
		d.Outcome = DoesNotConform
	}
	switch {
	case u > 0:
		d.Probability = off.CDF(margin / u)
	case margin >= 0:
		d.Probability = 1
	}
	return d
}
