package whole

import (
	"fmt"
	"slices"
	"strings"

	"lampswap/photometry"
	"lampswap/photometry/job"
)

// A Said is a sentence that one or more spaces have in common.
type Said struct {
	Text   string
	Spaces []string // empty where it is of the building, or of all its spaces
}

// Shown is the sentence with the spaces that it is of.
func (s Said) Shown() string {
	if len(s.Spaces) == 0 {
		return s.Text
	}
	return s.Text + " [" + strings.Join(s.Spaces, ", ") + "]"
}

// together puts sentences of spaces together that are the same, in the order in which they come up; all are of the spaces that has.
func (r *Result) together(of func(s Space) []string) []Said {
	var all []Said
	for _, s := range r.Spaces {
		for _, text := range of(s) {
			at := slices.IndexFunc(all, func(a Said) bool { return a.Text == text })
			if at < 0 {
				all = append(all, Said{Text: text})
				at = len(all) - 1
			}
			if !slices.Contains(all[at].Spaces, s.Name) {
				all[at].Spaces = append(all[at].Spaces, s.Name)
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

// Warnings are the building's, then those of its spaces.
func (r *Result) Warnings() []Said {
	var all []Said
	for _, text := range append(slices.Clone(r.Building.Warnings), r.Whole.Warnings...) {
		all = append(all, Said{Text: text})
	}
	if text := r.upkeepWarning(); text != "" {
		all = append(all, Said{Text: text})
	}
	spaces := r.together(func(s Space) []string { return s.Warnings })
	money := func(s Said) bool { return slices.Contains(r.Whole.Warnings, s.Text) }
	return append(all, slices.DeleteFunc(spaces, money)...)
}

// upkeepWarning tells that upkeep is left out as it is known of some luminaires alone.
func (r *Result) upkeepWarning() string {
	if r.Whole.Energy.UpkeepSavingPerYear != nil {
		return ""
	}
	var unknown []string
	some := false
	for _, s := range r.Building.Whole.Systems()[:2] {
		for _, kind := range s.Kinds() {
			if kind.Costs.Upkeep() {
				some = true
			} else if name := kind.KindName(); !slices.Contains(unknown, name) {
				unknown = append(unknown, name)
			}
		}
	}
	if !some {
		return ""
	}
	return "what upkeep costs is not given for " + strings.Join(unknown, ", ") + " ([kinds.NAME.costs]): it is left out of the building's saving and of its life-cycle costs"
}

// Cautions are those of the whole work.
func (r *Result) Cautions() []string { return r.Whole.Cautions }

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
	const apart = "\x00"
	for _, said := range r.together(func(s Space) []string {
		var texts []string
		for _, d := range s.Space.Job.Defaults {
			texts = append(texts, d.Key+apart+d.Value+apart+d.Reason)
		}
		return texts
	}) {
		p := strings.Split(said.Text, apart)
		all = append(all, Default{job.Default{Key: p[0], Value: p[1], Reason: p[2]}, said.Spaces})
	}
	return all
}

// TakeOffWords say what the schedule counts, and what is to be done with what goes out.
func (r *Result) TakeOffWords() []string {
	var lamps, mercury, ballasts, pcb, dismounted int
	for _, k := range r.Schedule {
		lamps, ballasts, dismounted = lamps+k.LampsOut, ballasts+k.BallastsOut, dismounted+k.Dismounted
		if k.Mercury() {
			mercury += k.LampsOut
		}
		if k.MayHoldPCB() {
			pcb += k.BallastsOut
		}
	}
	in := func(unitedStates string) string {
		if r.Building.Whole.InUnitedStates() {
			return unitedStates
		}
		return ""
	}
	all := []string{"sockets are two a lamp that comes in; where the lamps are as long as before, those that are sound and suit may stay. Lamps, ballasts and sockets for spares and breakage are not counted."}
	if mercury > 0 {
		all = append(all, fmt.Sprintf("%s lamps to dispose of hold mercury: unbroken, in closed marked containers, to a recycler%s; the rules of the place decide.",
			photometry.Thousands(float64(mercury)), in(", as universal waste (40 CFR 273)")))
	}
	if pcb > 0 {
		all = append(all, fmt.Sprintf("%s ballasts to dispose of may hold PCB unless their label says \"No PCBs\": not opened, leaking ones apart%s; the rules of the place decide.",
			photometry.Thousands(float64(pcb)), in(", by 40 CFR 761")))
	}
	if rest := ballasts - pcb; rest > 0 {
		all = append(all, fmt.Sprintf("%s electronic ballasts to dispose of, as electronic scrap by the rules of the place.", photometry.Thousands(float64(rest))))
	}
	if dismounted > 0 {
		all = append(all, fmt.Sprintf("%s luminaires to take down whole, with the lamps and ballasts in them counted above.", photometry.Thousands(float64(dismounted))))
	}
	if r.Priced() {
		all = append(all, "prices are of lamps and of their disposal, lamp_price and lamp_disposal of the kinds' [costs], where these are told; ballasts, sockets and work have none here. "+
			"They are not added to what the swap costs: that is [costs] lines or installed_cost.")
	}
	for _, k := range r.Schedule {
		if k.Ballasts+k.BallastsOut > 0 && k.System.Ballast == nil {
			all = append(all, k.Name+": the job names no ballast of the list: one a luminaire is counted, assumed.")
		}
	}
	return all
}

// Priced tells that a line of the take-off has a price.
func (r *Result) Priced() bool {
	return slices.ContainsFunc(r.Schedule, func(k Kind) bool { return k.LampsCost != nil || k.DisposalCost != nil })
}
