package losses

import (
	"fmt"
	"math"
)

// Mean lumens of fluorescent lamps are stated at this share of rated life. Source: a lamp supplier's public answer page (seen).
const meanLumensAt = 0.4

// What is left of an LED tube's lumens at its L70 life, by definition.
const l70Share = 0.7

// Group relamping outside these shares of rated life is worth a warning: our choice.
const (
	EarlyRelamping = 0.4
	LateRelamping  = 0.7
)

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

// LampLumenDepreciation returns the share of initial lumens left at an age. initial and mean are lm (any equal unit); an LED tube's life is the time to 70
// percent of its lumens, and mean isn't asked for. It is LumenMaintenance; mean over initial (LED: 0.70^0.40) where the life is not known and the age is
// no part of it. What is not known of the lumens (0) gives 1, "default".
func LampLumenDepreciation(initial, mean float64, l70 bool, age Age) Factor {
	switch known := !math.IsNaN(age.OfLife); {
	case l70 && known:
		return Factor{LumenMaintenance(0, 0, 1, age.OfLife, true), FromTable,
			fmt.Sprintf("%s: 0.70^%.3g, exponential through the L70 life, our assumed law", age, age.OfLife)}
	case l70:
		return Factor{LumenMaintenance(0, 0, 1, meanLumensAt, true), FromDefault,
			fmt.Sprintf("%s, but the L70 life is not known: taken as at 40 percent of it, 0.70^0.40, assumed", age)}
	case !(initial > 0) || !(mean > 0):
		return Factor{1, FromDefault, "mean lumens are not known: no loss is counted"}
	case !known:
		return Factor{mean / initial, FromTable, fmt.Sprintf("%s, but the rated life is not known: mean over initial lumens, which holds at 40 percent of it", age)}
	case age.OfLife == meanLumensAt:
		return Factor{mean / initial, FromTable, fmt.Sprintf("%s: mean over initial lumens, which holds there", age)}
	}
	return Factor{LumenMaintenance(initial, mean, 1, age.OfLife, false), FromTable,
		fmt.Sprintf("%s: %.3g, mean over initial lumens at 40 percent of rated life, carried on by our interpolation, assumed", age, mean/initial)}
}

// A Relamping is how the time after which all lamps are replaced together stands to the end of their rated life.
type Relamping int

// Those that are not far from it, and those that are.
const (
	InTime Relamping = iota
	Early
	EarlyL70
	BeyondL70
	Late // more lamps have failed than the job counts
)

// RelampingOf compares hours. Far is our choice: under 40 percent of rated life; over 70 percent for fluorescent lamps, of which half have failed at rated
// life by its definition (how many earlier was not found in a public source), unless failed says that the job counts those; over all of it for an L70 life,
// which tells of light and not of failures.
func RelampingOf(relampHours, ratedLifeHours float64, l70, failed bool) Relamping {
	if !(ratedLifeHours > 0) || !(relampHours > 0) {
		return InTime
	}
	switch share := relampHours / ratedLifeHours; {
	case share < EarlyRelamping && l70:
		return EarlyL70
	case share < EarlyRelamping:
		return Early
	case l70 && share > 1:
		return BeyondL70
	case !l70 && share > LateRelamping && !failed:
		return Late
	}
	return InTime
}
