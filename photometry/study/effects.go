package study

import (
	"math"

	"lampswap/photometry/lighting"
)

// Effects are the factors by which each part of the swap multiplies the maintained average of the lumen method. Their product is the
// whole change. Our derivation, from E = N Φ CU LLF / A with CU = efficiency × utilance.
type Effects struct {
	Number        float64 // of luminaires that are lit
	LampLumens    float64 // initial, of one luminaire, as far as it is dimmed
	BallastFactor float64
	Efficiency    float64 // of the luminaire: lamps that shade each other, light that the housing keeps
	Distribution  float64 // where the luminaire sends its light: utilance, CU over efficiency; NaN if none came before
	Time          float64 // all other loss factors: lamps that fade, dirt
}

// Effects separates what the luminaire does from what lamps, ballast and time do; all are NaN where a system has luminaires of several kinds.
func (r *Result) Effects() Effects {
	e, p := *r.Existing().System, *r.Proposed().System
	if e.Parts != nil || p.Parts != nil { // luminaires of several kinds have no one efficiency or loss
		nan := math.NaN()
		return Effects{nan, nan, nan, nan, nan, nan}
	}
	utilance := func(s lighting.System) float64 { return s.LumenMethod.CoefficientOfUtilization / s.Efficiency }
	dimmed := 1.0
	if p.DimmedTo > 0 {
		dimmed = p.DimmedTo
	}
	distribution := math.NaN()
	if before := utilance(e); before > 0 {
		distribution = utilance(p) / before
	}
	return Effects{
		Number:        float64(p.Luminaires-p.Failed) / float64(e.Luminaires-e.Failed),
		LampLumens:    p.LampLumensEach * dimmed / e.LampLumensEach,
		BallastFactor: p.Losses.BallastFactor.Value / e.Losses.BallastFactor.Value,
		Efficiency:    p.Efficiency / e.Efficiency,
		Distribution:  distribution,
		Time:          p.Kept() / e.Kept(),
	}
}

// Whole is the product of all effects: maintained average after over before, 1 for no change.
func (e Effects) Whole() float64 {
	return e.Number * e.LampLumens * e.BallastFactor * e.Efficiency * e.Distribution * e.Time
}
