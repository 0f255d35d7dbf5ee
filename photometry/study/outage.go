package study

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
	for _, side := range r.Sides {
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
