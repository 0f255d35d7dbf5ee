package main

import (
	"fmt"
	"slices"

	"lampswap/photometry/job"
	"lampswap/photometry/levels"
	"lampswap/photometry/lifecycle"
	"lampswap/photometry/room"
	"lampswap/photometry/study"
	"lampswap/plots"
)

// maps shows every grid before, after, and the change.
func (c *content) maps() {
	c.chapter("Where it is bright and where it is dim")
	c.say(fmt.Sprintf("Maps of one place share one scale of length, and the existing and the proposed map one scale of color. Lines are labelled in %s.",
		c.illuminance))
	for i, g := range c.result.Existing.Grids {
		c.show(figure{[]plots.Figure{c.sheet(i)}, c.mapCaption(g)})
	}
}

// sheet is the light sheet of a grid with its name in place of the job's title, which the document has.
func (c *content) sheet(i int) plots.Sheet {
	s := lightSheet(c.result, i)
	s.Title, s.Subtitle = capital(c.result.Existing.Grids[i].Name), ""
	return s
}

func (c *content) mapCaption(g study.Grid) string {
	low, high := g.Origin.Z, g.Point(0, g.NY-1).Z+g.StepY/2
	where := fmt.Sprintf("%s %s above the floor", c.long(low), c.length)
	if g.Plane == room.Vertical {
		where = fmt.Sprintf("standing, from %s to %s %s above the floor", c.long(low), c.long(high), c.length)
	}
	text := fmt.Sprintf("%s, %s: maintained light existing and proposed, and the change", capital(g.Name), where)
	if e := c.result.Job.Egress; e != nil && g.Emergency {
		text += fmt.Sprintf(". %d luminaires burn on emergency power; those above the path are marked", len(e.Luminaires))
	}
	return text + "."
}

// luminaires shows where each system's luminaire sends its light.
func (c *content) luminaires() {
	c.chapter("Where the luminaires send their light")
	f := figure{Caption: "Initial intensity of one luminaire with the job's lamps and ballast, nadir down, each on its own scale."}
	for _, side := range c.result.Sides() {
		f.Parts = append(f.Parts, plots.Polar{Title: capital(side.Name), Distribution: side.From.Emitted().Distribution})
	}
	c.show(f)
	c.part("What each part of the swap does to the light")
	c.say(capital(c.result.Effects().Words()) + ".")
}

// roles are what the sides are in every chart, in their order.
var roles = []plots.Role{plots.Existing, plots.Proposed, plots.Alternative}

// roleOf is what an option is in a chart.
func roleOf(existing, proposed bool) plots.Role {
	switch {
	case existing:
		return plots.Existing
	case proposed:
		return plots.Proposed
	}
	return plots.Alternative
}

// asksForAverage are the levels that the average of the work plane is to reach, lx, each value once.
func asksForAverage(j *job.Job) []plots.Level {
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

// yearsFigure is light over time of every side.
func yearsFigure(r *study.Result) figure {
	return figure{[]plots.Figure{yearsChart(r)}, "The average of the work plane from new lamps and clean surfaces on, in the course of relamping and cleaning."}
}

func yearsChart(r *study.Result) plots.Years {
	y := plots.Years{Quantity: "Average of the work plane", Imperial: r.Job.Imperial, Levels: asksForAverage(r.Job)}
	for i, side := range r.Years {
		course := plots.Course{Name: capital(side.Name), Role: roles[i], Values: side.Light}
		for _, m := range side.Moments {
			course.Years = append(course.Years, m.Years)
		}
		y.Courses = append(y.Courses, course)
	}
	return y
}

// frontFigure is light against watts of every option that may be chosen, and of the job's own systems.
func frontFigure(o *study.Options) figure {
	f := plots.Front{Quantity: "Maintained average of the work plane", Imperial: o.Job.Imperial, Levels: asksForAverage(o.Job)}
	for i := range o.List {
		p := &o.List[i]
		if !p.May() && !p.Own() {
			continue
		}
		f.Options = append(f.Options, plots.Option{Name: typeset(p.Name()), Role: roleOf(p.Existing, p.Proposed), Power: p.From.InputWatts, Light: p.Average(),
			Meets: p.Meets && p.NotAllowed == ""})
	}
	return figure{[]plots.Figure{f}, fmt.Sprintf("Watts of one luminaire against light, of %d lamps and ballasts; the line joins "+
		"those than which no other is as bright for fewer watts.", len(f.Options))}
}

// cashFigure is what each way costs over the study period, by its parts; ok is false where too little is priced.
func cashFigure(r *study.Result) (f figure, ok bool) {
	m, ok := cashChart(r)
	if !ok {
		return figure{}, false
	}
	t := r.LifeCycle.Terms
	return figure{[]plots.Figure{m}, fmt.Sprintf("Life-cycle cost over %d years, present values at %.3g percent real.", t.Years, 100*t.DiscountRate)}, true
}

func cashChart(r *study.Result) (m plots.Cash, ok bool) {
	if r.LifeCycle == nil {
		return plots.Cash{}, false
	}
	m = plots.Cash{Quantity: "Cost, present value, in the job's currency"}
	for _, w := range r.LifeCycle.Ways {
		m.Ways = append(m.Ways, plots.Way{Name: capital(w.Name)})
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

// doubtFigure is what each input does alone to the average of the proposed lighting.
func doubtFigure(r *study.Result) figure {
	return figure{[]plots.Figure{doubtChart(r)}, "What each input does alone to the average of the proposed lighting, at the lower and the upper end of its tolerance."}
}

func doubtChart(r *study.Result) plots.Effects {
	central := r.Proposed.Grids[0].Statistics.Average
	e := plots.Effects{Quantity: "Maintained average of the work plane, proposed", Central: central, Imperial: r.Job.Imperial}
	for _, in := range r.Uncertainty.Inputs {
		if in.Low == 0 && in.High == 0 {
			continue
		}
		e.Effects = append(e.Effects, plots.Effect{Name: capital(in.Name()), Input: in.Tolerances[0], Low: central * (1 + in.Low), High: central * (1 + in.High)})
	}
	return e
}
