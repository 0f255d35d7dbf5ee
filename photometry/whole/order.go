package whole

import (
	"cmp"
	"math"
	"slices"
)

// A Step is a space in the order by payback, with what it and all before it come to, copies too. A budget that ends after a step pays for these.
type Step struct {
	Space         int     // its number among the spaces
	Cost          float64 // installed cost less rebates: its share of the building's
	Saving        float64 // a year
	Payback       float64 // years; infinite where nothing is saved
	CostSoFar     float64
	SavingSoFar   float64 // a year
	SavedKWhSoFar float64 // a year
	KWThen        float64 // of the building if only the spaces so far are done
	SpacesSoFar   int     // with copies
	MetSoFar      int     // of these: they meet every criterion
}

// order puts the spaces in the order of their payback: cost over what is saved a year. The building's cost is shared out by the luminaires that are
// not left as they are, an assumption; each rebate by what it is paid for. Spaces whose luminaires stay are left out.
func (r *Result) order() []Step {
	gross, saving := r.Building.Whole.Proposed.Costs.InstalledCost, r.Whole.Energy.SavingPerYear
	touched := r.Whole.Touched()
	if gross == nil || saving == nil || touched == 0 {
		return nil
	}
	var all []Step
	for i, s := range r.Spaces {
		if s.Touched() == 0 || s.Energy.SavingPerYear == nil {
			continue
		}
		copies := float64(s.Copies)
		step := Step{Space: i, Cost: copies * s.Touched() / touched * *gross, Saving: copies * r.SavingOf(s)}
		step.Cost -= r.rebated(s, touched)
		step.Payback = math.Inf(1)
		if step.Saving > 0 {
			step.Payback = max(0, step.Cost) / step.Saving
		}
		all = append(all, step)
	}
	slices.SortStableFunc(all, func(a, b Step) int { return cmp.Compare(a.Payback, b.Payback) })
	sum := Step{KWThen: r.Totals.Sides[0].KW}
	for i, step := range all {
		s := r.Spaces[step.Space]
		copies := float64(s.Copies)
		sum.CostSoFar += step.Cost
		sum.SavingSoFar += step.Saving
		sum.SavedKWhSoFar += copies * s.Energy.SavedKWhPerYear
		sum.KWThen -= copies * s.Energy.SavedKW
		sum.SpacesSoFar += s.Copies
		if s.Met() && s.Judged() {
			sum.MetSoFar += s.Copies
		}
		sum.Space, sum.Cost, sum.Saving, sum.Payback = step.Space, step.Cost, step.Saving, step.Payback
		all[i] = sum
	}
	return all
}

// SavingOf is what one copy of a space saves in a year of what is counted for the whole: upkeep only where it is known of all spaces.
func (r *Result) SavingOf(s Space) float64 { return r.SavingBy(s, 1) }

// SavingBy is the same by a side of the building.
func (r *Result) SavingBy(s Space, side int) float64 {
	e, whole := s.Energy.SavingOf(s.Counted(side)), r.Whole.Energy.SavingOf(side)
	sum := 0.0
	for _, saving := range []struct{ own, whole *float64 }{{e.EnergySavingPerYear, whole.EnergySavingPerYear}, {e.DemandSavingPerYear, whole.DemandSavingPerYear},
		{e.UpkeepSavingPerYear, whole.UpkeepSavingPerYear}} {
		if saving.own != nil && saving.whole != nil {
			sum += *saving.own
		}
	}
	return sum
}

// rebated is what of the building's rebates is paid for a space with its copies.
func (r *Result) rebated(s Space, touched float64) float64 {
	sum := 0.0
	if fixed := r.Building.Whole.Proposed.Costs.Rebate; fixed != nil {
		sum += *fixed * float64(s.Copies) * s.Touched() / touched
	}
	for _, paid := range r.Whole.Energy.Rebates {
		if paid.Units > 0 {
			sum += paid.Paid * float64(s.Copies) * s.Earns(paid.Rebate) / paid.Units
		}
	}
	return sum
}

// Changed are the luminaires of a space that the swap does not leave as they are, of one copy.
func (s Space) Changed() int { return int(s.Touched()) }
