package whole

import (
	"slices"

	"lampswap/photometry/job"
)

// A Default is a default that was used, with the spaces that took it; none where all did, or it is the building's.
type Default struct {
	job.Default
	Spaces []string
}

// Defaults are the building's, then those of its spaces.
func (r *Result) Defaults() []Default {
	var all []Default
	for _, d := range r.Building.Defaults {
		all = append(all, Default{Default: d})
	}
	own := len(all)
	for _, s := range r.Spaces {
		for _, d := range s.Space.Job.Defaults {
			at := slices.IndexFunc(all[own:], func(a Default) bool { return a.Default == d })
			if at < 0 {
				all = append(all, Default{Default: d})
				at = len(all) - 1 - own
			}
			if with := &all[own+at]; !slices.Contains(with.Spaces, s.Name) {
				with.Spaces = append(with.Spaces, s.Name)
			}
		}
	}
	for i := range all {
		if len(all[i].Spaces) == len(r.Spaces) {
			all[i].Spaces = nil
		}
	}
	return all
}

// Priced tells that a line of the take-off has a price.
func (r *Result) Priced() bool {
	return slices.ContainsFunc(r.Schedule, func(k Kind) bool { return k.LampsCost != nil || k.DisposalCost != nil })
}
