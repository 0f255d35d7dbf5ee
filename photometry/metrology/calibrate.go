package metrology

import (
	"math"
)

// An Input is one thing that makes the prediction uncertain, with what it does to each system: relative standard uncertainties of the
// illuminance, of the same sign if an error of the input moves both the same way. What concerns one system only (its lamps, its dirt
// on the day, its ballasts) has 0 for the other.
type Input struct {
	Name               string
	Existing, Proposed float64
}

// A Transfer is what carries readings of the existing system over to the proposed one. Illuminances, lx, are of the same kind:
// averages by the same formula, or one station. PredictedExisting is for the day of the readings: its burning hours, dirt and lamps
// that are out.
type Transfer struct {
	MeasuredExisting  float64
	MeasuredStandard  float64 // relative standard uncertainty of the readings
	PredictedExisting float64
	PredictedProposed float64
	Inputs            []Input
}

// A Corrected is the proposed system as predicted, and as predicted from readings, lx, with standard uncertainties, lx.
type Corrected struct {
	Factor            float64 // measured over predicted, existing system
	FactorStandard    float64 // standard uncertainty with which the factor is the measured truth over the prediction: that of the readings
	Predicted         float64
	PredictedStandard float64
	Value             float64
	Standard          float64
	Better            bool    // the corrected value is the less uncertain
	Remaining         float64 // relative standard uncertainty of the inputs that the ratio does not take away
}

const errTransfer = "metrology: a correction needs predicted and measured illuminances above 0 and an uncertainty of 0 or more"

// Calibrate corrects the predicted illuminance of the proposed system by readings of the existing one:
//
//	E2' = E2 · f,  f = M1 / E1
//	predicted:  u²(E2)/E2²   = Σ p²
//	corrected:  u²(E2')/E2'² = um² + Σ (p - e)²
//
// with e and p what an input does to the existing and to the proposed system, relative. What both share (surface reflectances, the
// room, mounting height, and the photometry where the fixture stays) has p = e and cancels; what is the existing system's own (its
// old lamps, its dirt) comes in with e though it says nothing of the proposed one; what is the proposed system's own stays. So
// readings help if what they take away, Σ p² - Σ (p - e)², is more than um². Source: our derivation, GUM (JCGM 100:2008) 5.2.2 for a
// quotient with fully correlated inputs.
//
// If the result is verified later with the same meter, its calibration cancels there as well; that is not counted here. It panics on
// illuminances that are not above 0 and finite.
func Calibrate(t Transfer) Corrected {
	for _, e := range []float64{t.MeasuredExisting, t.PredictedExisting, t.PredictedProposed} {
		if !(e > 0) || math.IsInf(e, 0) {
			panic(errTransfer)
		}
	}
	if !(t.MeasuredStandard >= 0) {
		panic(errTransfer)
	}
	var before, after float64
	for _, in := range t.Inputs {
		before += in.Proposed * in.Proposed
		after += (in.Proposed - in.Existing) * (in.Proposed - in.Existing)
	}
	c := Corrected{Factor: t.MeasuredExisting / t.PredictedExisting, Predicted: t.PredictedProposed, Remaining: math.Sqrt(after)}
	c.FactorStandard = c.Factor * t.MeasuredStandard
	c.PredictedStandard = c.Predicted * math.Sqrt(before)
	c.Value = c.Predicted * c.Factor
	relative := math.Sqrt(t.MeasuredStandard*t.MeasuredStandard + after)
	c.Standard = c.Value * relative
	c.Better = relative < math.Sqrt(before)
	return c
}
