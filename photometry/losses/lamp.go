package losses

import (
	"fmt"
	"math"

	"lampswap/photometry"
)

// Mean lumens of fluorescent lamps are stated at this share of rated life. Source: a lamp supplier's public answer page (seen).
const meanLumensAt = 0.4

// What is left of an LED tube's lumens at its L70 life, by definition.
const l70Share = 0.7

// Group relamping later than this share of rated life is worth a warning: our choice. At 1 half of the lamps have failed, by definition.
const lateRelamping = 0.7

// LumenMaintenance returns the share of initial lumens that a lamp gives after some hours of burning:
//
//	(mean / initial)^√(hours / (0.4 life))        fluorescent, initial and mean in lm
//	0.7^(hours / life)                            LED with an L70 life
//
// The first passes 1 at 0 h and the published mean lumens at 40 percent of rated life, fast at first and slower later, as phosphors age;
// both are our interpolation, assumed, not published. It is NaN where initial, mean (L70: not needed) or life is not above 0 or hours are below 0.
func LumenMaintenance(initial, mean, ratedLifeHours, hours float64, l70 bool) float64 {
	switch {
	case !(ratedLifeHours > 0) || !(hours >= 0):
		return math.NaN()
	case l70:
		return math.Pow(l70Share, hours/ratedLifeHours)
	case !(initial > 0) || !(mean > 0):
		return math.NaN()
	}
	return math.Pow(mean/initial, math.Sqrt(hours/(meanLumensAt*ratedLifeHours)))
}

// LampLumenDepreciation returns the share of initial lumens left at the relamping point. initial and mean are lm (any equal unit), the hours are of burning.
// Relamp hours of 0 mean that none are given: then it is mean over initial, which holds at 40 percent of rated life, and for an
// LED with an L70 life 0.7, its end. With relamp hours it is LumenMaintenance. What is not known (0) gives 1, "default".
func LampLumenDepreciation(initial, mean, ratedLifeHours, relampHours float64, l70 bool) Factor {
	given := relampHours > 0 && ratedLifeHours > 0
	switch {
	case l70 && given:
		return Factor{LumenMaintenance(0, 0, ratedLifeHours, relampHours, true), FromTable,
			fmt.Sprintf("%s h of an L70 life of %s h: 0.7^(%g/%g), our assumed law", photometry.Thousands(relampHours), photometry.Thousands(ratedLifeHours), relampHours, ratedLifeHours)}
	case l70:
		return Factor{l70Share, FromDefault, "no relamping time or no life given: taken at the L70 life, 70 percent of the lumens left"}
	case !(initial > 0) || !(mean > 0):
		return Factor{1, FromDefault, "mean lumens are not known: no loss is counted"}
	case given:
		return Factor{LumenMaintenance(initial, mean, ratedLifeHours, relampHours, false), FromTable,
			fmt.Sprintf("%.3g mean over initial lumens at 40 percent of %s h, carried to %s h by our interpolation, assumed",
				mean/initial, photometry.Thousands(ratedLifeHours), photometry.Thousands(relampHours))}
	}
	return Factor{mean / initial, FromTable, "mean over initial lumens, which holds at 40 percent of rated life; no relamping time is used"}
}

// BurnoutWarning returns a warning if lamps are to burn for more than 70 percent of their rated life before they are replaced as a group, else "".
// Half of the lamps have failed at rated life, by its definition; how many earlier was not found in a public source.
func BurnoutWarning(relampHours, ratedLifeHours float64) string {
	if !(ratedLifeHours > 0) || !(relampHours > lateRelamping*ratedLifeHours) {
		return ""
	}
	return fmt.Sprintf("lamps burn %s h before they are replaced, %.0f percent of the rated life of %s h, at which half have failed: "+
		"the result holds only if failed lamps are replaced as they fail, else give losses.lamp_burnout",
		photometry.Thousands(relampHours), 100*relampHours/ratedLifeHours, photometry.Thousands(ratedLifeHours))
}
