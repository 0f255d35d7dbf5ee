package losses

import "math"

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

// Aged is what the light of lamps at an age rests on.
type Aged struct {
	Law          Law
	Mean         float64 // over initial lumens; of BeyondMean and AssumedMean
	Age          Age     // 0 for what is not known of it, as two reasons are compared
	Lamp, Source string  // its name, and where its figures are from; "" for none
}

// A Law is how the lumens of lamps fall.
type Law int

// The laws.
const (
	L70Law         Law = iota // exponential through the L70 life
	L70LifeUnknown            // taken as at 40 percent of it
	MeanUnknown               // no loss is counted
	LifeUnknown               // mean over initial lumens
	AtMean                    // the same, at 40 percent of the rated life
	BeyondMean                // carried on from there
	AssumedMean               // of a lamp of which nothing is known
)

// OfLamp is a factor of LampLumenDepreciation with the lamp's name, and where its figures are from.
func (f Factor) OfLamp(name, source string) Factor {
	aged, _ := f.Why.(Aged)
	aged.Lamp, aged.Source = name, source
	f.Why = aged
	return f
}

// LampLumenDepreciation returns the share of initial lumens left at an age. initial and mean are lm (any equal unit); an LED tube's life is the time to 70
// percent of its lumens, and mean isn't asked for. It is LumenMaintenance; mean over initial (LED: 0.70^0.40) where the life is not known and the age is
// no part of it. What is not known of the lumens (0) gives 1, "default".
func LampLumenDepreciation(initial, mean float64, l70 bool, age Age) Factor {
	by := func(share float64, from string, law Law) Factor {
		return Factor{share, from, Aged{Law: law, Age: age.told()}}
	}
	switch known := !math.IsNaN(age.OfLife); {
	case l70 && known:
		return by(LumenMaintenance(0, 0, 1, age.OfLife, true), FromTable, L70Law)
	case l70:
		return by(LumenMaintenance(0, 0, 1, meanLumensAt, true), FromDefault, L70LifeUnknown)
	case !(initial > 0) || !(mean > 0):
		return Factor{1, FromDefault, Aged{Law: MeanUnknown}}
	case !known:
		return by(mean/initial, FromTable, LifeUnknown)
	case age.OfLife == meanLumensAt:
		return by(mean/initial, FromTable, AtMean)
	}
	return Factor{LumenMaintenance(initial, mean, 1, age.OfLife, false), FromTable, Aged{Law: BeyondMean, Mean: mean / initial, Age: age.told()}}
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
