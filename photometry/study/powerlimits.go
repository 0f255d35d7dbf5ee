package study

import (
	"fmt"
	"math"
	"strings"

	"lampswap/photometry"
	"lampswap/photometry/codes"
)

// A PowerLimit is one edition's limit of lighting power density with what the two systems make of it.
type PowerLimit struct {
	codes.Limit
	ExistingMet, ProposedMet bool
}

// PowerLimits sets the power density against every edition's limit for a warehouse as a whole building. Which one binds, and whether the
// swap is an alteration that has to meet it, the adopted code says; a job that must meet one asks for it as a criterion.
func (r *Result) PowerLimits() []PowerLimit {
	var all []PowerLimit
	for _, l := range codes.Limits() {
		if l.Method == "building area" && l.Space == "Warehouse" {
			all = append(all, PowerLimit{l, l.Met(r.Existing.PowerDensity), l.Met(r.Proposed.PowerDensity)})
		}
	}
	return all
}

// PowerWords says which editions the proposed power density keeps, a sentence a code.
func (r *Result) PowerWords() []string {
	var order []string
	kept, passed := map[string][]string{}, map[string][]string{}
	for _, l := range r.PowerLimits() {
		if kept[l.Code] == nil && passed[l.Code] == nil {
			order = append(order, l.Code)
		}
		year := l.Year
		if year == "unknown" {
			year = "an edition unknown"
		}
		edition := fmt.Sprintf("%s (%g", year, l.WPerFt2)
		if l.FromMemory() {
			edition += ", from memory, unverified"
		}
		if edition += ")"; l.ProposedMet {
			kept[l.Code] = append(kept[l.Code], edition)
		} else {
			passed[l.Code] = append(passed[l.Code], edition)
		}
	}
	density := fmt.Sprintf("%.2f W/ft2", r.Proposed.PowerDensity/photometry.Footcandle)
	var all []string
	for _, code := range order {
		var parts []string
		if k := kept[code]; k != nil {
			parts = append(parts, "meets "+strings.Join(k, ", "))
		}
		if p := passed[code]; p != nil {
			parts = append(parts, "exceeds "+strings.Join(p, ", "))
		}
		all = append(all, fmt.Sprintf("%s, warehouse as a whole building, W/ft2: the proposed %s %s", code, density, strings.Join(parts, "; ")))
	}
	return all
}

// alterationWords says when a swap has to meet the codes that the job's criteria name.
func (r *Result) alterationWords() []string {
	var all []string
	for _, v := range r.Verdicts {
		limit, ok := codes.Find(v.Level)
		if !ok || math.IsNaN(v.Proposed) {
			continue
		}
		for _, a := range codes.WhenAltered(limit.Edition()) {
			all = append(all, v.Name+": "+a.Words())
		}
	}
	return all
}
