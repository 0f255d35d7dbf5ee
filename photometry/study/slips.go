package study

import (
	"fmt"
	"slices"
	"strings"

	"lampswap/photometry"
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
func (r *Result) Slips() (light, money []string) {
	for _, side := range r.Sides() {
		for _, kind := range side.Kinds() {
			if text := efficacySlip(kind.From); text != "" {
				light = append(light, kind.Name+": "+text)
			}
		}
	}
	if watts := r.Job.Existing.ConnectedWatts() / r.Job.Room.Area(); len(r.Job.Existing.Kinds()) == 1 && watts > mostConnected {
		light = append(light, fmt.Sprintf("existing: %s of luminaires, several times what a room is lit with: look at their number and at the size of the room", r.densityWords(watts)))
	}
	return light, append(hourSlips(r.Job), moneySlips(r.Job)...)
}

// densityWords is a power density in the job's units.
func (r *Result) densityWords(watts float64) string {
	if r.Job.Imperial {
		return photometry.Digits(watts*photometry.Foot*photometry.Foot) + " W/ft2"
	}
	return photometry.Digits(watts) + " W/m2"
}

// efficacySlip says that the lamps of a luminaire give more, or far less, light of their watts than lamps do; "" if they do not.
func efficacySlip(k *job.System) string {
	lumens := k.LampLumensEach()
	if !k.Luminaire.Absolute {
		lumens *= k.BallastFactor
	}
	most, what := mostLED, "LED"
	if k.Lamp != nil && !k.Lamp.LED {
		most, what = mostFluorescent, "fluorescent lamps"
	}
	efficacy := lumens / k.InputWatts
	said := fmt.Sprintf("%s lm of %s W are %.3g lm/W", photometry.Thousands(lumens), photometry.Digits(k.InputWatts), efficacy)
	switch {
	case efficacy > most:
		return said + fmt.Sprintf(", more than %s give (%.0f): the watts are those of one luminaire with all its lamps, the lumens those of one lamp", what, most)
	case efficacy < leastEfficacy && lumens > 0:
		return said + ", less than such lamps give: the watts are those of one luminaire, not of all"
	}
	return ""
}

// hourSlips says that luminaires burn next to no time.
func hourSlips(j *job.Job) []string {
	for _, s := range []*job.System{&j.Existing, &j.Proposed} {
		for _, k := range s.Kinds() {
			if h := k.Hours(j); h < leastHours && len(k.Layout.Placements) > 0 {
				return []string{fmt.Sprintf("the luminaires burn %s h a year: the hours are those of a year, not of a day or a week", photometry.Digits(h))}
			}
		}
	}
	return nil
}

// moneySlips says that prices and costs are not what such things cost.
func moneySlips(j *job.Job) []string {
	var all []string
	if !slices.Contains(pricedAlike, j.Currency) { // other money has other numbers
		return nil
	}
	if p := j.Tariff.PricePerKWh; p != nil && *p > mostPrice {
		all = append(all, fmt.Sprintf("a kWh costs %s: in cents, perhaps", photometry.Digits(*p)))
	}
	if p := j.Tariff.DemandPricePerKWMonth; p != nil && *p > mostDemandPrice {
		all = append(all, fmt.Sprintf("a kW of demand costs %s a month: that of a year, perhaps", photometry.Digits(*p)))
	}
	n := j.Proposed.Number()
	if cost := j.Proposed.Costs.InstalledCost; cost != nil && *cost > 0 && n > 0 && *cost/float64(n) < leastCostOfOne {
		all = append(all, fmt.Sprintf("the swap costs %s for %d luminaires, %s each: the cost is that of all, not of one", photometry.Digits(*cost), n, photometry.Digits(*cost/float64(n))))
	}
	return all
}

// slipMind says in the verdict what may be a slip.
func (r *Result) slipMind() string {
	light, money := r.Slips()
	all := slices.Concat(light, money)
	switch {
	case len(all) == 0:
		return ""
	case len(all) > 2:
		all = append(all[:2:2], fmt.Sprintf("and %d more", len(all)-2))
	}
	return " Mind what looks like a slip in the job: " + strings.Join(all, "; ") + "."
}
