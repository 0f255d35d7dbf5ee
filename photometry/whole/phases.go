package whole

import (
	"math"
	"time"

	"lampswap/photometry/lifecycle"
)

// A Stage is how the building stands when a phase, and all before it, is done; the first is as it is now.
type Stage struct {
	Name        string
	Date        time.Time // zero for the first
	Spaces      []string  // that are done in this phase
	KW          float64
	KWhPerYear  float64
	Met, Missed int     // spaces with copies: that meet every criterion, with the light that they have then
	CostSoFar   float64 // NaN where costs or prices are not known
	SavingSoFar float64 // a year; NaN likewise
}

// daysAYear turns days into years.
const daysAYear = 365.25

// stages are those of the building's phases; none where it has no phases.
func (r *Result) stages() []Stage {
	phases := r.Building.Phases
	if len(phases) == 0 {
		return nil
	}
	done := make([]bool, len(r.Spaces))
	all := []Stage{r.stage(Stage{Name: "now"}, done)}
	for _, p := range phases {
		s := Stage{Name: p.Name, Date: p.Date}
		for _, i := range p.Spaces {
			done[i] = true
			s.Spaces = append(s.Spaces, r.Spaces[i].Name)
		}
		all = append(all, r.stage(s, done))
	}
	return all
}

// stage adds up the building with some of its spaces done.
func (r *Result) stage(stage Stage, done []bool) Stage {
	if r.Building.Whole.Proposed.Costs.InstalledCost == nil || r.Whole.Energy.SavingPerYear == nil {
		stage.CostSoFar, stage.SavingSoFar = math.NaN(), math.NaN()
	}
	for i, s := range r.Spaces {
		copies, e := float64(s.Copies), s.Energy
		met := s.ExistingMet()
		if done[i] {
			stage.KW, stage.KWhPerYear = stage.KW+copies*e.ProposedKW, stage.KWhPerYear+copies*e.ProposedKWhPerYear
			stage.CostSoFar += r.costOf(i)
			stage.SavingSoFar += copies * r.SavingOf(s)
			met = s.Met()
		} else {
			stage.KW, stage.KWhPerYear = stage.KW+copies*e.ExistingKW, stage.KWhPerYear+copies*e.ExistingKWhPerYear
		}
		switch {
		case !s.Judged():
		case met:
			stage.Met += s.Copies
		default:
			stage.Missed += s.Copies
		}
	}
	return stage
}

// ExistingMet tells whether the existing lighting of a space meets every criterion, and its light is known.
func (s Space) ExistingMet() bool {
	for _, v := range s.Verdicts {
		if !v.ExistingMet {
			return false
		}
	}
	return s.Existing.Outside == ""
}

// costOf is a space's share of the cost, less rebates, with its copies.
func (r *Result) costOf(i int) float64 {
	for _, step := range r.Order {
		if step.Space == i {
			return step.Cost
		}
	}
	return 0 // its luminaires stay
}

// PhasedNetSavings is what the building saves over the study, each phase from its day on, less what the phases cost, all at their present values on
// the day of the first; ok is false where too little is priced. Upkeep counts evenly through the years.
func (r *Result) PhasedNetSavings() (net float64, ok bool) {
	phases := r.Building.Phases
	if len(phases) == 0 || r.Whole.LifeCycle == nil {
		return 0, false
	}
	for _, p := range phases {
		start := p.Date.Sub(phases[0].Date).Hours() / 24 / daysAYear
		for _, i := range p.Spaces {
			net += r.netOf(i, start, r.Whole.LifeCycle.Terms)
		}
	}
	return net, true
}

// netOf is the net saving of a space that is done some years after the start.
func (r *Result) netOf(i int, start float64, t lifecycle.Terms) float64 {
	s := r.Spaces[i]
	copies := float64(s.Copies)
	power := 0.0
	for _, x := range []*float64{s.Energy.EnergySavingPerYear, s.Energy.DemandSavingPerYear} {
		if x != nil {
			power += copies * *x
		}
	}
	upkeep := copies*r.SavingOf(s) - power
	net := 0.0
	if start < float64(t.Years) {
		net = -r.costOf(i) * math.Pow(1+t.DiscountRate, -start)
	}
	for year := 1; year <= t.Years; year++ {
		part := min(1, max(0, float64(year)-start)) // of the year in which it is done already
		net += part * lifecycle.SPV(t.DiscountRate, year) * (power*math.Pow(1+t.EnergyEscalation, float64(year)) + upkeep)
	}
	return net
}
