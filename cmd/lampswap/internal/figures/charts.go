package figures

import (
	"math"
	"slices"

	"lampswap/cmd/lampswap/internal/typeset"
	"lampswap/photometry/job"
	"lampswap/photometry/levels"
	"lampswap/photometry/lifecycle"
	"lampswap/photometry/options"
	"lampswap/photometry/study"
	"lampswap/photometry/wording"
	"lampswap/plots"
)

// roles are what the sides are in every chart, in their order.
var roles = []plots.Role{plots.Existing, plots.Proposed, plots.Alternative}

// RoleOf is what an option is in a chart.
func RoleOf(existing, proposed bool) plots.Role {
	switch {
	case existing:
		return plots.Existing
	case proposed:
		return plots.Proposed
	}
	return plots.Alternative
}

// AverageRequired are the values that the average of the work plane is to reach, lx, each once.
func AverageRequired(j *job.Job) []plots.Level {
	var all []plots.Level
	for _, c := range j.Criteria {
		if c.Statistic != levels.Average || !c.AtLeast || c.Grid != j.Room.WorkPlaneGrid(j.Spacing).Name {
			continue
		}
		level := plots.Level{Name: c.Name, Value: c.RequiredIn(false)}
		if !slices.ContainsFunc(all, func(l plots.Level) bool { return l.Value == level.Value }) {
			all = append(all, level)
		}
	}
	return all
}

// Bars is the maintained average of the work plane of every side, against what is required of it.
func Bars(r *study.Result) plots.Bars {
	b := plots.Bars{Quantity: "Average on the work plane", Imperial: r.Job.Imperial, Required: AverageRequired(r.Job)}
	for i, side := range r.Sides {
		bar := plots.Bar{Name: typeset.Capital(side.Name), Value: side.Grids[0].Statistics.Average, Role: roles[i]}
		if side.Outside != nil {
			bar.Value = math.NaN()
		}
		b.Bars = append(b.Bars, bar)
	}
	return b
}

// Years is light over time of every side.
func Years(r *study.Result) plots.Years {
	y := plots.Years{Quantity: "Average of the work plane", Imperial: r.Job.Imperial, Levels: AverageRequired(r.Job)}
	for i, side := range r.Years {
		course := plots.Course{Name: typeset.Capital(side.Name), Role: roles[i], Values: side.Light, Unknown: typeset.Text(wording.Outside(r.Sides[i].Outside))}
		for _, m := range side.Moments {
			course.Years = append(course.Years, m.Years)
		}
		y.Courses = append(y.Courses, course)
	}
	return y
}

// Cash is what each system costs over the study period, by its parts; ok is false where too little is priced.
func Cash(r *study.Result) (m plots.Cash, ok bool) {
	if r.LifeCycle == nil {
		return plots.Cash{}, false
	}
	m = plots.Cash{Currency: r.Job.Currency}
	for _, w := range r.LifeCycle.Ways {
		m.Ways = append(m.Ways, plots.Way{Name: typeset.Capital(w.Name)})
	}
	for _, part := range []struct {
		name string
		of   func(c lifecycle.Cost) float64
	}{
		{"Installed cost less rebate", func(c lifecycle.Cost) float64 { return c.Investment }},
		{"Energy and demand", func(c lifecycle.Cost) float64 { return c.Energy }},
		{"Upkeep", func(c lifecycle.Cost) float64 { return c.Maintenance + c.Replacements }},
		{"Residual value", func(c lifecycle.Cost) float64 { return -c.Residual }},
	} {
		if !slices.ContainsFunc(r.LifeCycle.Ways, func(w study.Way) bool { return part.of(w.Cost) != 0 }) {
			continue
		}
		m.Parts = append(m.Parts, part.name)
		for i, w := range r.LifeCycle.Ways {
			m.Ways[i].Costs = append(m.Ways[i].Costs, part.of(w.Cost))
		}
	}
	return m, true
}

// Doubt is what each input does alone to the average of the proposed lighting.
func Doubt(r *study.Result) plots.Effects {
	central := r.Proposed().Grids[0].Statistics.Average
	e := plots.Effects{Quantity: "Maintained average of the work plane, proposed", Central: central, Imperial: r.Job.Imperial}
	for _, in := range r.Uncertainty.Inputs {
		if in.Low == 0 && in.High == 0 {
			continue
		}
		e.Effects = append(e.Effects, plots.Effect{Name: typeset.Capital(in.Name()), Input: typeset.Text(wording.Tolerance(in, 0, r.Job.Imperial)), Low: central * (1 + in.Low), High: central * (1 + in.High)})
	}
	return e
}

// Front is the trade-off between light and power as a figure. Levels for the average of the work plane are lines in it.
func Front(o *options.Options) plots.Front {
	f := plots.Front{Title: o.Job.Title, Subtitle: "Lamps and ballasts for the same fixtures: light against power", PerArea: true, Imperial: o.Job.Imperial}
	for _, p := range o.Points() {
		f.Options = append(f.Options, plots.Option{Name: typeset.Text(wording.Option(p)), Role: RoleOf(p.Existing, p.Proposed), Power: p.Light.PowerDensity, Light: p.Average(), Meets: p.Meets})
	}
	for _, c := range o.Job.Criteria {
		if c.Grid == o.List[0].Light.Grids[0].Name && c.Statistic == levels.Average && c.AtLeast {
			f.Levels = append(f.Levels, plots.Level{Name: c.Name, Value: c.RequiredIn(false)})
		}
	}
	return f
}
