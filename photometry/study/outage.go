package study

import (
	"fmt"
	"math"

	"lampswap/photometry"
)

// An Outage is what a lamp burnout factor other than 1 makes of a side: its light counts the lamps that are out, its load does not.
type Outage struct {
	Name    string
	Factor  float64 // lamp burnout
	AllLit  float64 // average of the work plane with every lamp lit, lx
	KW      float64 // as counted, with every lamp lit
	LeastKW float64 // if the lamps that are out draw nothing
}

// Outages are those of the sides whose lamp burnout factor is not 1, in their order.
func (r *Result) Outages() []Outage {
	var all []Outage
	for _, side := range r.Sides() {
		o := Outage{Name: side.Name}
		found := 0.0
		for _, kind := range side.Kinds() {
			if len(kind.Grids) == 0 {
				return nil // of a building as a whole, whose light is each room's
			}
			factor, average, kw := kind.Losses.LampBurnout.Value, kind.Grids[0].Statistics.Average, kind.From.Watts()/1000
			if kind.Losses.TotalOverride != nil || !(factor > 0) {
				factor = 1
			}
			o.Factor = factor
			found += average
			o.AllLit += average / factor
			o.KW += kw
			o.LeastKW += kw * min(1, factor)
		}
		if side.Parts != nil {
			o.Factor = found / o.AllLit
		}
		if o.AllLit != found {
			all = append(all, o)
		}
	}
	return all
}

// mind says in the verdict how much of the change is only that lamps are out.
func (o Outage) mind(r *Result) string {
	text := fmt.Sprintf("Mind that the %s light is that of lamp_burnout = %.3g; with every lamp lit it is %s", o.Name, o.Factor, r.Job.Light(o.AllLit))
	if o.Name == "existing" {
		text += fmt.Sprintf(", and the proposed light %s that: the rest of the change is repair", Compared(o.AllLit, r.Proposed.Grids[0].Statistics.Average))
	}
	return text + ". Its load counts every lamp as lit."
}

// OutageWords say beside the saving what is assumed of the watts of lamps that are out, and what it is if they draw nothing.
func (r *Result) OutageWords() []string {
	outages := r.Outages()
	if len(outages) == 0 {
		return nil
	}
	var all []string
	least := map[string]float64{"existing": r.Energy.ExistingKW, "proposed": r.Energy.ProposedKW}
	for _, o := range outages {
		all = append(all, fmt.Sprintf("%s: lamp_burnout = %.3g dims the light to %s from %s with every lamp lit, but the load of %.2f kW counts every lamp as lit; "+
			"if lamps that are out draw nothing it is %.2f kW", o.Name, o.Factor, r.Job.Light(o.AllLit*o.Factor), r.Job.Light(o.AllLit), o.KW, o.LeastKW))
		least[o.Name] = o.LeastKW
	}
	saved := least["existing"] - least["proposed"]
	share := saved / math.Max(least["existing"], math.SmallestNonzeroFloat64)
	return append(all, fmt.Sprintf("the saving of %s kW, %s percent, is then %s kW, %s percent of what is drawn", photometry.Fixed(r.Energy.SavedKW, 2),
		photometry.Fixed(100*r.Energy.SavedShare, 0), photometry.Fixed(saved, 2), photometry.Fixed(100*share, 0)))
}
