package study

import (
	"lampswap/photometry/utility"
)

// An Emission is the CO2 that a year's saving spares, by one rate.
type Emission struct {
	Rate           string  // its name, kind and year
	KgPerKWh       float64 // the rate
	SavedKgPerYear float64
	Source, Caveat string
}

// Of returns what any saving spares in a year by the rate, kg.
func (e Emission) Of(s Saving) float64 { return s.SavedKWhPerYear * e.KgPerKWh }

// wholeCountry is the rate for a job that names no state, or one without a rate of its own.
const wholeCountry = "us-48-2023"

// emissions prices the saving in CO2: at the rate that the job gives; else at every non-baseload rate known for the state, which is the
// kind for electricity saved, and at an average one, of the state or of the country. The rates can differ threefold, so each is named. Rates of places outside the United States are not known here.
func emissions(r *Result) []Emission {
	saved := r.Energy.SavedKWhPerYear
	if given := r.Job.Tariff.Emission; given != nil {
		return []Emission{{Rate: given.Name, KgPerKWh: given.KilogramsPerKWh, SavedKgPerYear: saved * given.KilogramsPerKWh, Source: "the job file"}}
	}
	if !r.Job.InUnitedStates() {
		return nil
	}
	state := r.Job.Facts.State
	rates := utility.RatesFor(state, utility.NonBaseload)
	if average := utility.RatesFor(state, utility.TotalOutput); len(average) > 0 {
		rates = append(rates, average[len(average)-1]) // the state's own
	} else if country, ok := utility.FindRate(wholeCountry); ok {
		rates = append(rates, country)
	}
	var all []Emission
	for _, rate := range rates {
		all = append(all, Emission{Rate: rate.Label(), KgPerKWh: rate.KgPerKWh, SavedKgPerYear: saved * rate.KgPerKWh, Source: rate.Source, Caveat: rate.Caveat()})
	}
	return all
}
