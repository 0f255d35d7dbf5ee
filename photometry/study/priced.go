package study

import (
	"lampswap/photometry/job"
	"lampswap/photometry/lighting"
)

// Priced works out the energy and the money of a job, and nothing of its light: of all luminaires of a building together, which
// have no one room. What it warns of is of money alone.
func Priced(j *job.Job) *Result {
	r := Lit(j)
	for _, side := range r.Sides {
		if side.From.Parts != nil {
			side.Parts = make([]lighting.System, len(side.From.Parts))
		}
	}
	r.Energy = energy(r)
	r.Energy.Emissions = emissions(r)
	r.LifeCycle = lifeCycle(r)
	r.Warnings = moneyWarnings(r)
	return r
}

// Mixed works out a job whose proposed luminaires are in part the existing ones, of which the light of both systems is known: energy, money and what
// becomes of the criteria.
func Mixed(j *job.Job, existing, proposed lighting.System) *Result {
	r := Lit(j, existing, proposed)
	r.Energy = energy(r)
	r.Verdicts = judge(r)
	return r
}

// Earns is of how many units of a rebate (lamps, luminaires, kWh a year, kW) the swap is.
func (r *Result) Earns(rebate job.Rebate) float64 { return r.units(rebate, &r.Energy) }

// units are what a rebate is paid for.
func (r *Result) units(rebate job.Rebate, e *Energy) float64 {
	switch rebate.Per {
	case "lamp":
		return r.changed(sameLamps, func(s *job.System) int { return s.Lamps })
	case "luminaire":
		return r.Touched()
	case "kwh":
		return max(0, e.SavedKWhPerYear)
	case "kw":
		return max(0, e.SavedKW)
	}
	return 0
}

// Touched is how many of the proposed luminaires are not as the existing ones are.
func (r *Result) Touched() float64 {
	return r.changed(sameLuminaire, func(*job.System) int { return 1 })
}

// Stays tells that luminaires of one kind are left as they are.
func Stays(before, after *job.System) bool { return sameLuminaire(before, after) }
