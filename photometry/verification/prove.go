package verification

import (
	"fmt"
	"math"

	"lampswap/photometry"
	"lampswap/photometry/levels"
	"lampswap/photometry/metrology"
	"lampswap/photometry/survey"
)

// Word is the answer in a word or two.
func (v *Verification) Word() string {
	asked, missed, open := v.count()
	switch {
	case len(v.Unresolved) > 0 || open > 0 && missed == 0:
		return "Not proven"
	case missed > 0:
		return "Missed"
	case asked == 0:
		return "Nothing tested"
	}
	return "Met"
}

// WouldProve tells, a sentence each, what would prove the criteria that are not: what must be read, and how certain it must be.
func (v *Verification) WouldProve() []string {
	var all []string
	for _, u := range v.Unresolved {
		all = append(all, u.Text+".")
	}
	for _, a := range v.Areas {
		open, sampled := len(a.Undecided) > 0, false
		for _, d := range a.Decisions {
			if d.Found.Outcome != metrology.NotProven {
				continue
			}
			open = true
			sampled = sampled || !a.Plan.EveryPoint() && d.Statistic != levels.Average
			if s := v.certain(a, d); s != "" && len(v.Unresolved) == 0 {
				all = append(all, s)
			}
		}
		if open && len(a.Missing) > 0 {
			all = append(all, fmt.Sprintf("Read the %s of the %s that %s not read.", stations(len(a.Missing)), a.Grid, map[bool]string{true: "was", false: "were"}[len(a.Missing) == 1]))
		}
		if sampled {
			all = append(all, fmt.Sprintf("Read the grid of the %s point by point: a sample proves no minimum, maximum or evenness.", a.Grid))
		}
	}
	if _, _, open := v.count(); open > 0 && v.daylight == survey.DaylightPresent {
		all = append(all, "Read after dark, or read daylight alone and take it off.")
	}
	return all
}

// certain tells how much light, or how small an uncertainty, would prove a criterion that is open for nothing but its uncertainty.
func (v *Verification) certain(a VerifiedArea, d Decided) string {
	f := d.Found
	if d.Doubt != "" || !(f.Standard > 0) {
		return ""
	}
	scale, unit := v.unit()
	if d.Unit == levels.Ratio {
		scale, unit = 1, ""
	}
	show := func(x float64) string {
		text := photometry.Digits(x / scale)
		if unit != "" {
			text += " " + unit
		}
		return text
	}
	k := f.CoverageFactor(twoSided)
	name := d.Name + ": "
	margin := f.Measured - f.Limit
	least := "at least"
	if !f.AtLeast {
		margin, least = -margin, "at most"
	}
	if !(margin > 0) {
		return fmt.Sprintf("%s%s %s would prove it with these readings; %s was measured.", name, least, show(f.AcceptanceLimit), show(f.Measured))
	}
	need := margin / (f.Guard / f.Standard) // of the standard uncertainty
	budget := v.Budget
	if d.Statistic == levels.Average {
		budget = a.Budget
	}
	words := fmt.Sprintf("%s%s proves it once what it may be off by is %s or less (%.1f percent of it, k = %.2f); it is %s (%.1f percent)", name, show(f.Measured),
		show(k*need), 100*k*need/f.Measured, k, show(k*f.Standard), 100*k*f.Standard/f.Measured)
	if most := largest(budget); most != "" {
		words += ", most of it from the " + most
	}
	return words + "."
}

// largest names the largest contribution of a budget.
func largest(b metrology.Budget) string {
	name, most := "", math.Inf(-1)
	for _, c := range b {
		if c.Standard() > most {
			name, most = c.Name, c.Standard()
		}
	}
	return name
}
