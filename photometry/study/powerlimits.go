package study

import (
	"lampswap/photometry/codes"
)

// A PowerLimit is one edition's limit of lighting power density with what the systems make of it.
type PowerLimit struct {
	codes.Limit
	MetBy []bool // one a side
}

// PowerLimits sets the power density against every edition's limits for the kind of space that the room is. Without a kind of space, and outside the
// United States, there are none. Which one binds, and whether the swap is an alteration that has to meet it, the adopted code says; a job that must meet one
// asks for it as a criterion.
func (r *Result) PowerLimits() []PowerLimit {
	all := []PowerLimit{}
	if r.Job.Space == nil || !r.Job.InUnitedStates() {
		return all
	}
	for _, l := range codes.LimitsAbout(r.Job.Space.CodeSpaces) {
		limit := PowerLimit{Limit: l}
		for _, side := range r.Sides {
			limit.MetBy = append(limit.MetBy, l.Met(side.PowerDensity))
		}
		all = append(all, limit)
	}
	return all
}
