package study

import (
	"lampswap/photometry/job"
)

// A RebatePaid is a rebate of the job with what comes of it.
type RebatePaid struct {
	job.Rebate
	Units    float64 // lamps, luminaires, kWh a year or kW that it is paid for
	Uncapped float64 // what they come to
	Paid     float64 // the same, no more than the rebate's limits leave
}

// rebates works out what is paid for the swap. Nothing is paid for lamps and luminaires that stay as they are, nor for a saving that is none;
// of two limits the lesser counts.
func rebates(r *Result, e *Energy) []RebatePaid {
	var all []RebatePaid
	after := &r.Job.Proposed
	for _, rebate := range after.Costs.Rebates {
		p := RebatePaid{Rebate: rebate, Units: r.units(rebate, e)}
		p.Uncapped = p.Units * rebate.Amount
		p.Paid = p.Uncapped
		if rebate.AtMost != nil {
			p.Paid = min(p.Paid, *rebate.AtMost)
		}
		if rebate.AtMostShareOfCost != nil {
			p.Paid = min(p.Paid, *rebate.AtMostShareOfCost**after.Costs.InstalledCost)
		}
		all = append(all, p)
	}
	return all
}

// changed counts, over the groups, how many of something in a luminaire are not the same after the swap.
func (r *Result) changed(same func(a, b *job.System) bool, each func(*job.System) int) float64 {
	n := 0
	for _, after := range r.Job.Proposed.Kinds() {
		before := r.Job.Existing.Find(after.Group)
		if before == nil || !same(before, after) {
			n += len(after.Layout.Placements) * each(after)
		}
	}
	return float64(n)
}

// sameLamps tells that the lamps of a luminaire stay.
func sameLamps(a, b *job.System) bool {
	if a.Lamp == nil || b.Lamp == nil {
		return a.Lamp == b.Lamp && a.Lamps == b.Lamps && a.LampLumens == b.LampLumens
	}
	return a.Lamps == b.Lamps && a.Lamp.Same(*b.Lamp)
}

// sameLuminaire tells that nothing of a luminaire is changed.
func sameLuminaire(a, b *job.System) bool {
	return sameLamps(a, b) && a.Photometry == b.Photometry && a.BallastFactor == b.BallastFactor && a.InputWatts == b.InputWatts
}
