package study

import (
	"lampswap/photometry/job"
	"lampswap/photometry/lifecycle"
)

// A LifeCycle is what the systems cost over the study period, present values in the job's currency. Leaving everything as it is is the
// base. It is nil unless the job gives a price of energy and what the proposed system costs to install.
type LifeCycle struct {
	Terms lifecycle.Terms
	Ways  []Way // one a side, in their order
}

// A Way is one side's course over the study period.
type Way struct {
	Name     string // "leave as is", "convert in place", "replace the fixtures"
	Plan     lifecycle.Plan
	Cost     lifecycle.Cost
	Measures *lifecycle.Measures // against leaving as is; nil for that itself
}

var wayNames = map[string]string{"existing": "leave as is", "proposed": "convert in place", "replacement": "replace the fixtures"}

func lifeCycle(r *Result) *LifeCycle {
	if r.Energy.NetCost == nil || r.Energy.Accounts[0].Energy == nil {
		return nil
	}
	l := &LifeCycle{Terms: r.Job.LifeCycle}
	for i, side := range r.Sides() {
		account := r.Energy.Accounts[i]
		if account.NetCost == nil && i > 0 {
			continue // a replacement whose cost is not given
		}
		way := Way{Name: wayNames[side.Name], Plan: plan(r.Job, side, account)}
		way.Cost = way.Plan.Cost(l.Terms)
		if i > 0 {
			m := lifecycle.Compare(l.Ways[0].Plan, way.Plan, l.Terms)
			way.Measures = &m
		}
		l.Ways = append(l.Ways, way)
	}
	return l
}

// plan sets a side's costs in time: lamps that are replaced as a group in the years in which that falls due, all else evenly.
func plan(j *job.Job, side Side, a Account) lifecycle.Plan {
	p := lifecycle.Plan{Name: wayNames[side.Name], Residual: side.From.Costs.Residual, MaintenancePerYear: a.Upkeep()}
	p.EnergyPerYear, _ = a.power()
	if a.NetCost != nil {
		p.Investment = *a.NetCost
	}
	if hours := j.Upkeep.HoursPerYear; !j.Upkeep.Spot && a.Lamps > 0 && hours > 0 {
		interval := a.LampLifeHours / hours
		p.MaintenancePerYear -= a.Lamps
		p.Replacements = lifecycle.Renewals(interval, a.Lamps*interval, j.LifeCycle)
	}
	return p
}
