package wording

import (
	"fmt"
	"slices"
	"strings"

	"lampswap/photometry/job"
	"lampswap/photometry/number"
	"lampswap/photometry/study"
)

// Egress say of each kind of luminaire in each system which part of its light burns on emergency power; none where the job has no path out.
func Egress(r *study.Result) []string {
	e := r.Job.Egress
	if e == nil {
		return nil
	}
	var all []string
	for _, side := range r.Sides {
		var kinds []string
		for _, kind := range side.Kinds() {
			if words := fed(kind.From); words != "" && len(r.Job.Groups) > 1 {
				kinds = append(kinds, kind.From.Group+": "+words)
			} else if words != "" {
				kinds = append(kinds, words)
			}
		}
		if kinds == nil {
			kinds = []string{"no luminaire burns"}
		}
		all = append(all, fmt.Sprintf("%s, on the path out %q: %s", side.Name, e.Grid, strings.Join(kinds, "; ")))
	}
	return all
}

// fed say how many luminaires of a kind burn on emergency power, and how bright; "" where none does.
func fed(s *job.System) string {
	var parts []string
	full := s.LampLumensEach() * s.BallastFactor
	rest := slices.Clone(s.Emergency)
	for len(rest) > 0 {
		first := rest[0]
		like := func(p job.Pack) bool { return p.Share == first.Share && p.Lumens == first.Lumens }
		before := len(rest)
		rest = slices.DeleteFunc(rest, like)
		words := fmt.Sprintf("%d of %d at %.0f percent of their normal light", before-len(rest), len(s.Layout.Placements), 100*first.Share)
		if first.Lumens > 0 {
			words = fmt.Sprintf("%d of %d by packs of %s lm, of the %s lm that the lamps of each give: a share of %.3f", before-len(rest), len(s.Layout.Placements),
				number.Thousands(first.Lumens), number.Thousands(full), s.EmergencyShare(first))
		}
		parts = append(parts, words)
	}
	if dark := len(s.Emergency) - len(s.FedLit()); dark > 0 {
		parts = append(parts, fmt.Sprintf("%d of these failed, and count as dark on emergency power too", dark))
	}
	return strings.Join(parts, ", ")
}
