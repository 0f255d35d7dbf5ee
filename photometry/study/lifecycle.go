package study

import (
	"math"

	"lampswap/photometry/job"
	"lampswap/photometry/lifecycle"
	"lampswap/photometry/lighting"
)

// A LifeCycle is what the systems cost over the study period, present values in the job's currency. The existing lighting, kept, is the
// base. It is nil unless the job gives a price of energy and what the proposed system costs to install.
type LifeCycle struct {
	Terms  lifecycle.Terms
	Upkeep bool  // upkeep is counted: the job gives its costs for the existing and for the proposed system
	Ways   []Way // one a side, in their order
}

// A Way is one system's course over the study period.
type Way struct {
	Name     string // "existing", "proposed", "replacement"
	Plan     lifecycle.Plan
	Cost     lifecycle.Cost
	Measures *lifecycle.Measures // against the existing lighting; nil for that itself
	// SimplePaybackYears is what it costs more at the start over what a year costs less, at today's prices; NaN where nothing is saved.
	SimplePaybackYears float64
}

func lifeCycle(r *Result) *LifeCycle {
	if r.Energy.NetCost == nil || r.Energy.Accounts[0].Energy == nil {
		return nil
	}
	l := &LifeCycle{Terms: r.Job.LifeCycle, Upkeep: r.Energy.UpkeepSavingPerYear != nil}
	for i, side := range r.Sides {
		account := r.Energy.Accounts[i]
		if i > 1 && (account.NetCost == nil || l.Upkeep && !account.upkeepKnown) {
			continue // a replacement that would not be compared like with like
		}
		way := Way{Name: side.Name, Plan: plan(r.Job, side, account, l.Upkeep), SimplePaybackYears: math.NaN()}
		way.Cost = way.Plan.Cost(l.Terms)
		if i > 0 {
			m := lifecycle.Compare(l.Ways[0].Plan, way.Plan, l.Terms)
			way.Measures = &m
			way.SimplePaybackYears = l.simplePayback(r, i)
		}
		l.Ways = append(l.Ways, way)
	}
	return l
}

// simplePayback is that of a way, from the accounts of a year.
func (l *LifeCycle) simplePayback(r *Result, i int) float64 {
	year := func(a Account) float64 {
		cost, _ := a.Power()
		cost -= a.Spared
		if l.Upkeep {
			cost += a.Upkeep()
		}
		return cost
	}
	start := func(a Account) float64 {
		if a.NetCost == nil {
			return 0
		}
		return *a.NetCost
	}
	base, way := r.Energy.Accounts[0], r.Energy.Accounts[i]
	saved, added := year(base)-year(way), start(way)-start(base)
	if !(saved > 0) {
		return math.NaN()
	}
	if years := max(0, added) / saved; !math.IsInf(years, 0) {
		return years
	}
	return math.NaN() // of a saving next to nothing
}

// plan sets a side's costs in time: lamps that are replaced as a group in the years in which that falls due, all else evenly.
func plan(j *job.Job, side lighting.Side, a Account, upkeep bool) lifecycle.Plan {
	p := lifecycle.Plan{Name: side.Name, Residual: side.From.Costs.Residual}
	p.EnergyPerYear, _ = a.Power()
	p.EnergyPerYear -= a.Spared
	if a.NetCost != nil {
		p.Investment = *a.NetCost
	}
	if !upkeep {
		return p
	}
	p.MaintenancePerYear = a.Upkeep()
	for _, g := range a.groupLamps {
		p.MaintenancePerYear -= g.perYear
		p.Replacements = append(p.Replacements, lifecycle.Renewals(g.interval, g.perYear*g.interval, j.LifeCycle)...)
	}
	return p
}
