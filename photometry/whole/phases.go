package whole

import (
	"math"
	"slices"
	"time"

	"lampswap/photometry/building"
	"lampswap/photometry/lifecycle"
	"lampswap/photometry/lighting"
	"lampswap/photometry/study"
)

// A Stage is how the building stands when a phase, and all before it, is done; the first is as it is now.
type Stage struct {
	Name        string
	Date        time.Time // zero for the first
	Spaces      []string  // that are done in this phase; groups as "hall: dock"
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
	done := make([][]string, len(r.Spaces))
	all := []Stage{r.stage(Stage{Name: "now"}, done)}
	for _, p := range phases {
		s := Stage{Name: p.Name, Date: p.Date}
		for _, part := range p.Parts {
			done[part.Space] = append(done[part.Space], part.Groups...)
			s.Spaces = append(s.Spaces, r.called(part)...)
		}
		all = append(all, r.stage(s, done))
	}
	return all
}

// called names what is done of a space.
func (r *Result) called(part building.Done) []string {
	name := r.Spaces[part.Space].Name
	if part.Whole {
		return []string{name}
	}
	var all []string
	for _, g := range part.Groups {
		all = append(all, name+": "+g)
	}
	return all
}

// stage adds up the building with some groups of its spaces done.
func (r *Result) stage(stage Stage, done [][]string) Stage {
	priced := r.Building.Whole.Proposed.Costs.InstalledCost != nil && r.Whole.Energy.SavingPerYear != nil
	if !priced {
		stage.CostSoFar, stage.SavingSoFar = math.NaN(), math.NaN()
	}
	for i := range r.Spaces {
		s := r.mixed(i, done[i])
		copies, e := float64(s.Copies), s.Energy
		stage.KW, stage.KWhPerYear = stage.KW+copies*e.ProposedKW, stage.KWhPerYear+copies*e.ProposedKWhPerYear
		if priced {
			stage.CostSoFar += r.costOf(s)
			stage.SavingSoFar += copies * r.SavingOf(s)
		}
		switch {
		case !s.Judged():
		case s.Met():
			stage.Met += s.Copies
		default:
			stage.Missed += s.Copies
		}
	}
	return stage
}

// mixed is a space in which some groups are as proposed, and the others as existing still: light is a sum over groups, and so is what they draw.
func (r *Result) mixed(i int, done []string) Space {
	s := r.Spaces[i]
	j := *s.Space.Job
	if len(done) == len(j.Groups) {
		return s
	}
	j.Proposed.Parts, j.Replacement = nil, nil
	var parts []lighting.System
	for _, side := range s.Sides[:2] {
		for _, kind := range side.Kinds() {
			if slices.Contains(done, kind.From.Group) == (side.From == &s.Space.Job.Proposed) {
				j.Proposed.Parts, parts = append(j.Proposed.Parts, *kind.From), append(parts, *kind.System)
			}
		}
	}
	if len(done) == 0 {
		j.Proposed.Costs.OtherPerYear = j.Existing.Costs.OtherPerYear
	}
	found := study.Mixed(&j, *s.Existing().System, lighting.Together(parts, *s.Existing().System))
	return Space{s.Space, found}
}

// costOf is a space's share of the cost, less rebates, with its copies.
func (r *Result) costOf(s Space) float64 {
	touched, gross := r.Whole.Touched(), r.Building.Whole.Proposed.Costs.InstalledCost
	if touched == 0 || gross == nil {
		return 0
	}
	return float64(s.Copies)*s.Touched()/touched**gross - r.rebated(s, touched)
}

// PhasedNetSavings is what the building saves over the study, each phase from its day on, less what the phases cost, all at their present values on
// the day of the first; ok is false where too little is priced. Upkeep counts evenly through the years.
func (r *Result) PhasedNetSavings() (net float64, ok bool) {
	phases := r.Building.Phases
	if len(phases) == 0 || r.Whole.LifeCycle == nil {
		return 0, false
	}
	done := make([][]string, len(r.Spaces))
	for _, p := range phases {
		start := p.Date.Sub(phases[0].Date).Hours() / 24 / daysAYear
		for _, part := range p.Parts {
			before := r.mixed(part.Space, done[part.Space])
			done[part.Space] = append(done[part.Space], part.Groups...)
			net += r.netOf(before, r.mixed(part.Space, done[part.Space]), start, r.Whole.LifeCycle.Terms)
		}
	}
	return net, true
}

// netOf is the net saving of what is done of a space some years after the start: what it costs and saves then less what it did before.
func (r *Result) netOf(before, after Space, start float64, t lifecycle.Terms) float64 {
	power, upkeep, cost := r.yearly(after)
	was, kept, paid := r.yearly(before)
	power, upkeep, cost = power-was, upkeep-kept, cost-paid
	net := 0.0
	if start < float64(t.Years) {
		net = -cost * math.Pow(1+t.DiscountRate, -start)
	}
	for year := 1; year <= t.Years; year++ {
		part := min(1, max(0, float64(year)-start)) // of the year in which it is done already
		net += part * lifecycle.SPV(t.DiscountRate, year) * (power*math.Pow(1+t.EnergyEscalation, float64(year)) + upkeep)
	}
	return net
}

// yearly is what a space saves a year of power and of upkeep, and what it costs, with its copies.
func (r *Result) yearly(s Space) (power, upkeep, cost float64) {
	copies := float64(s.Copies)
	for _, x := range []*float64{s.Energy.EnergySavingPerYear, s.Energy.DemandSavingPerYear} {
		if x != nil {
			power += copies * *x
		}
	}
	return power, copies*r.SavingOf(s) - power, r.costOf(s)
}
