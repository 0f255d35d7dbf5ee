package whole

import (
	"slices"

	"lampswap/photometry/codes"
)

// Limits are how the building's power density stands against energy codes, by each of their two methods. It has none outside the United States.
type Limits struct {
	Spaces  []SpaceLimit // one a space, in their order
	Sums    []LimitSum   // space by space, an edition each
	Areas   []AreaLimit  // of the building as a whole, an edition and kind of building each
	Unknown []string     // names of spaces of no known kind, or of one for which no limit is listed
}

// A SpaceLimit is the limit for one space of the edition that the table of spaces shows; ok is false where there is none.
type SpaceLimit struct {
	codes.Limit
	Known bool
}

// A LimitSum is what an edition allows by the space by space method: the sum of the limits times the areas, of the spaces that it has a limit for.
type LimitSum struct {
	Code, Year, Edition string
	Covered             []string  // spaces that have a limit
	Left                []string  // spaces that have none
	Area                float64   // of the covered, m²
	Allowed             float64   // W, of the covered
	Connected           []float64 // W, of the covered, one a side
	FromMemory          bool
}

// Met tells whether a connected load stays within what is allowed.
func (l LimitSum) Met(watts float64) bool { return watts <= l.Allowed*(1+1e-9) }

// An AreaLimit is what an edition allows a building of a kind as a whole.
type AreaLimit struct {
	codes.Limit
	MetBy []bool // one a side
}

// shownCode is the code whose newest edition the table of spaces shows.
const shownCode = "ASHRAE 90.1"

// limits holds the connected load against every edition's limits for the kinds of space that are there.
func (r *Result) limits() Limits {
	all := Limits{Spaces: make([]SpaceLimit, len(r.Spaces))}
	if !r.Building.Whole.InUnitedStates() {
		return all
	}
	own := make([][]codes.Limit, len(r.Spaces)) // of each space, by any edition
	var editions []codes.Limit                  // one limit of each
	for i, s := range r.Spaces {
		if kind := s.Space.Job.Space; kind != nil {
			own[i] = codes.LimitsAbout(kind.CodeSpaces)
		}
		known := false
		for _, l := range own[i] {
			if l.Method != codes.SpaceBySpace {
				all.addArea(r, l)
				continue
			}
			known = true
			if !slices.ContainsFunc(editions, func(e codes.Limit) bool { return e.Edition() == l.Edition() }) {
				editions = append(editions, l)
			}
			if shown := &all.Spaces[i]; l.Code == shownCode && (!shown.Known || l.Year > shown.Year || l.Year == shown.Year && l.WPerFt2 < shown.WPerFt2) {
				*shown = SpaceLimit{l, true}
			}
		}
		if !known {
			all.Unknown = append(all.Unknown, s.Name)
		}
	}
	for _, e := range editions {
		all.Sums = append(all.Sums, r.sum(e, own))
	}
	return all
}

// addArea adds a limit of a building as a whole, once.
func (all *Limits) addArea(r *Result, l codes.Limit) {
	if !slices.ContainsFunc(all.Areas, func(a AreaLimit) bool { return a.ID == l.ID }) {
		all.Areas = append(all.Areas, AreaLimit{l, metBy(r, l.Met)})
	}
}

// metBy tells of each side whether its power density meets a limit.
func metBy(r *Result, met func(density float64) bool) []bool {
	var all []bool
	for _, side := range r.Totals.Sides {
		all = append(all, met(side.Density))
	}
	return all
}

// sum adds up what an edition allows. Where it has several limits that may be about a space the least counts.
func (r *Result) sum(edition codes.Limit, own [][]codes.Limit) LimitSum {
	sum := LimitSum{Code: edition.Code, Year: edition.Year, Edition: edition.Edition(), Connected: make([]float64, len(r.Totals.Sides))}
	for i, s := range r.Spaces {
		var least *codes.Limit
		for k := range own[i] {
			if l := &own[i][k]; l.Edition() == sum.Edition && l.Method == codes.SpaceBySpace && (least == nil || l.WPerFt2 < least.WPerFt2) {
				least = l
			}
		}
		if least == nil {
			sum.Left = append(sum.Left, s.Name)
			continue
		}
		copies := float64(s.Copies)
		sum.Covered = append(sum.Covered, s.Name)
		sum.Area += copies * s.Area()
		sum.Allowed += copies * s.Area() * least.WattsPerSquareMetre()
		for side := range sum.Connected {
			sum.Connected[side] += copies * connected(s.Sides[s.Counted(side)].From)
		}
		sum.FromMemory = sum.FromMemory || least.FromMemory()
	}
	return sum
}
