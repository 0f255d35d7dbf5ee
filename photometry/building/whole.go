package building

import (
	"slices"
	"strings"

	"lampswap/photometry/job"
)

// money reads the building's, against all its luminaires as one job, and prices power in each space as there.
func (r *reader) money() {
	whole := r.whole()
	whole.Defaults, whole.Warnings = r.head.Defaults, nil
	job.ReadMoney(r.file, whole)
	r.b.Defaults = append(whole.Defaults, r.b.Defaults...)
	r.b.Warnings = append(r.b.Warnings, whole.Warnings...)
	whole.Defaults, whole.Warnings = nil, nil
	r.b.Whole = whole
	for i := range r.b.Spaces {
		j := r.b.Spaces[i].Job
		j.WithoutMoney()
		j.Imperial, j.Tariff, j.Currency, j.CurrencyGiven, j.LifeCycle = whole.Imperial, whole.Tariff, whole.Currency, whole.CurrencyGiven, whole.LifeCycle
	}
}

// whole is one job of all luminaires of the building: each group of each space, with its copies, is a group of it, with hours of its own.
func (r *reader) whole() *job.Job {
	w := *r.head
	if slices.ContainsFunc(r.b.Spaces, func(s Space) bool { return s.Job.Replacement != nil }) {
		w.Replacement = &job.System{}
	}
	var without []string // names of the spaces that have no third system, where others have
	for _, s := range r.b.Spaces {
		systems := s.Job.Systems()
		if w.Replacement != nil && s.Job.Replacement == nil {
			systems = append(systems, &s.Job.Proposed)
			without = append(without, s.Name)
		}
		for i, to := range w.Systems() {
			add(to, s, systems[i])
		}
		for _, group := range s.Job.Groups {
			w.Groups = append(w.Groups, groupOf(s.Name, group))
		}
		w.Upkeep.JudgedAt = s.Job.Upkeep.JudgedAt
	}
	if len(without) > 0 {
		r.b.Warnings = append(r.b.Warnings, "replacement: "+strings.Join(without, ", ")+": no replacement, so that they count in it as proposed")
	}
	return &w
}

// groupOf is what a group of a space is called among all.
func groupOf(space, group string) string { return space + ": " + group }

// add adds the luminaires of a space to those of a system of the whole, and what they cost a year.
func add(to *job.System, s Space, system *job.System) {
	for _, kind := range system.Kinds() {
		part := *kind
		hours := part.Hours(s.Job)
		if part.Use.HoursPerYear == nil {
			part.Use.Schedule = s.Job.Upkeep.Schedule
		}
		part.Group, part.Use.HoursPerYear = groupOf(s.Name, kind.Group), &hours
		n := len(kind.Layout.Placements)
		part.Layout.Placements = slices.Repeat(kind.Layout.Placements, s.Copies)
		part.Use.Failed = nil
		for c := range s.Copies {
			for _, i := range kind.Use.Failed {
				part.Use.Failed = append(part.Use.Failed, i+c*n)
			}
		}
		part.Costs.InstalledCost, part.Costs.Rebate, part.Costs.Lines, part.Costs.Rebates = nil, nil, nil, nil
		to.Parts = append(to.Parts, part)
	}
	to.Costs.OtherPerYear += float64(s.Copies) * system.Costs.OtherPerYear
	to.Costs.Residual += float64(s.Copies) * system.Costs.Residual
}
