package study

import (
	"slices"

	"lampswap/photometry/job"
)

// Beyond these a value of a job is more likely a slip than a fact. Common practice, no source, each with much room: the best fluorescent lamps give some
// 105 lm/W with their ballasts and LED tubes some 180, old ones 50 and 80; a bright shop draws 2 W/ft2; power costs 0.05 to 0.50 of the money named.
const (
	mostFluorescent = 125.0 // lm/W of lamps with their ballast
	mostLED         = 250.0
	leastEfficacy   = 15.0
	mostConnected   = 65.0 // W/m2
	leastHours      = 150.0
	mostPrice       = 2.0   // a kWh
	leastCostOfOne  = 2.0   // of a luminaire that is changed
	mostDemandPrice = 100.0 // a kW and month
)

// pricedAlike are currencies in which a kWh costs a part of one.
var pricedAlike = []string{"USD", "EUR", "GBP", "CAD", "AUD", "CHF"}

// Slips tells of values in the job that are more likely slips than facts: of light and load those on which the verdict rests, of money all others.
func (r *Result) Slips() (light, money []Warning) {
	for _, kind := range r.Kinds() {
		switch efficacy := RatedLumens(kind.From) / kind.From.InputWatts; {
		case efficacy > MostEfficacy(kind.From):
			light = append(light, Warning{Code: MuchLight, Side: kind, Value: efficacy})
		case efficacy < leastEfficacy && RatedLumens(kind.From) > 0:
			light = append(light, Warning{Code: LittleLight, Side: kind, Value: efficacy})
		}
	}
	existing := r.Sides[0]
	if load := existing.From.ConnectedWatts() / r.Job.Room.Area(); len(existing.From.Kinds()) == 1 && load > mostConnected {
		light = append(light, Warning{Code: MuchLoad, Side: existing, Value: load})
	}
	return light, append(hourSlips(r.Job), moneySlips(r.Job)...)
}

// RatedLumens are what the lamps of a luminaire give on its ballast when new, lm.
func RatedLumens(k *job.System) float64 {
	if k.Luminaire.Absolute {
		return k.LampLumensEach()
	}
	return k.LampLumensEach() * k.BallastFactor
}

// MostEfficacy is the most that such lamps give with their ballast, lm/W.
func MostEfficacy(k *job.System) float64 {
	if k.Lamp != nil && !k.Lamp.LED {
		return mostFluorescent
	}
	return mostLED
}

// hourSlips says that luminaires burn next to no time.
func hourSlips(j *job.Job) []Warning {
	for _, k := range append(j.Existing.Kinds(), j.Proposed.Kinds()...) {
		if h := k.Hours(j); h < leastHours && len(k.Layout.Placements) > 0 {
			return []Warning{{Code: FewHours, Value: h}}
		}
	}
	return nil
}

// moneySlips says that prices and costs are not what such things cost.
func moneySlips(j *job.Job) []Warning {
	var all []Warning
	if !slices.Contains(pricedAlike, j.Currency) { // other money has other numbers
		return nil
	}
	if p := j.Tariff.PricePerKWh; p != nil && *p > mostPrice {
		all = append(all, Warning{Code: DearEnergy, Value: *p})
	}
	if p := j.Tariff.DemandPricePerKWMonth; p != nil && *p > mostDemandPrice {
		all = append(all, Warning{Code: DearDemand, Value: *p})
	}
	n := j.Proposed.Number()
	if cost := j.Proposed.Costs.InstalledCost; cost != nil && *cost > 0 && n > 0 && *cost/float64(n) < leastCostOfOne {
		all = append(all, Warning{Code: CheapSwap, Value: *cost, Count: n})
	}
	return all
}
