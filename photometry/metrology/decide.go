package metrology

import (
	"gonum.org/v1/gonum/stat/distuv"

	"lampswap/photometry"
)

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
	Limit           float64
	AtLeast         bool // else at most
	Confidence      float64
	Guard           float64 // width of the guard band
	AcceptanceLimit float64 // accepted from here on
	RejectionLimit  float64 // rejected beyond
	Probability     float64 // that the true value conforms
}

const errDecide = "metrology: a decision needs finite values, an uncertainty of 0 or more and a confidence from 0.5 to below 1"

// Decide tests a measured value with standard uncertainty u against a limit, by guarded acceptance and guarded rejection:
//
//	w = Φ⁻¹(confidence) u                       one-sided: 1.645 u for 0.95
//	at least T: conforms if y ≥ T + w, does not if y < T - w, P = Φ((y - T)/u)
//	at most T:  conforms if y ≤ T - w, does not if y > T + w, P = Φ((T - y)/u)
//
// The risk of a wrong verdict is at most 1 - confidence either way. A confidence of 0.5 is simple acceptance, no guard band. Source:
// JCGM 106:2012 (ISO/IEC Guide 98-4), from memory; the value is normally distributed about the truth and nothing is known of it
// beforehand. It panics on values that are not finite, u below 0 or a confidence outside 0.5 to 1.
func Decide(measured, u, limit float64, atLeast bool, confidence float64) Decision {
	if !(u >= 0) || !photometry.Finite(measured, u, limit) || !(confidence >= 0.5 && confidence < 1) {
		panic(errDecide)
	}
	d := Decision{Measured: measured, Standard: u, Limit: limit, AtLeast: atLeast, Confidence: confidence}
	d.Guard = distuv.UnitNormal.Quantile(confidence) * u
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
		d.Probability = distuv.UnitNormal.CDF(margin / u)
	case margin >= 0:
		d.Probability = 1
	}
	return d
}
