package study

import (
	"fmt"
	"math"
	"strings"
)

// Effects are the factors by which each part of the swap multiplies the maintained average of the lumen method. Their product is the
// whole change. Our derivation, from E = N Φ CU LLF / A with CU = efficiency × utilance.
type Effects struct {
	Number        float64 // of luminaires
	LampLumens    float64 // initial, of one luminaire
	BallastFactor float64
	Efficiency    float64 // of the fixture: lamps that shade each other, light that the housing keeps
	Distribution  float64 // where the fixture sends its light: utilance, CU over efficiency
	Time          float64 // all other loss factors: lamps that fade, dirt
}

// Effects separates what the fixture does from what lamps, ballast and time do.
func (r *Result) Effects() Effects {
	e, p := r.Existing, r.Proposed
	utilance := func(s System) float64 { return s.LumenMethod.CoefficientOfUtilization / s.Efficiency }
	return Effects{
		Number:        float64(p.Luminaires) / float64(e.Luminaires),
		LampLumens:    p.LampLumensEach / e.LampLumensEach,
		BallastFactor: p.Losses.BallastFactor.Value / e.Losses.BallastFactor.Value,
		Efficiency:    p.Efficiency / e.Efficiency,
		Distribution:  utilance(p) / utilance(e),
		Time:          p.kept() / e.kept(),
	}
}

// Whole is the product of all effects: maintained average after over before, 1 for no change.
func (e Effects) Whole() float64 {
	return e.Number * e.LampLumens * e.BallastFactor * e.Efficiency * e.Distribution * e.Time
}

// boundless is a change that nobody wants in percent.
const boundless = 1e6

// Words says what each part does to the light; parts that do nothing are left out.
func (e Effects) Words() string {
	var parts []string
	for _, part := range []struct {
		name   string
		factor float64
	}{{"number of luminaires", e.Number}, {"lamp lumens", e.LampLumens}, {"ballast factor", e.BallastFactor}, {"efficiency of the fixture", e.Efficiency},
		{"distribution of the fixture", e.Distribution}, {"losses over time", e.Time}} {
		switch {
		case part.factor > boundless: // the existing light is none, or next to none
			parts = append(parts, part.name+" from next to none before")
		case math.Abs(part.factor-1) >= 5e-4:
			parts = append(parts, fmt.Sprintf("%s %+.1f percent", part.name, 100*(part.factor-1)))
		}
	}
	if len(parts) == 0 {
		return "nothing changes the light"
	}
	if whole := e.Whole(); !(whole <= boundless) {
		return strings.Join(parts, ", ")
	}
	return fmt.Sprintf("%s; together %+.1f percent maintained, by the lumen method", strings.Join(parts, ", "), 100*(e.Whole()-1))
}
