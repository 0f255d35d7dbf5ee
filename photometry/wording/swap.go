package wording

import (
	"fmt"
	"math"
	"strings"

	"lampswap/photometry/number"
	"lampswap/photometry/study"
)

// Alterations are the facts that an energy code's rule of alterations asks for.
func Alterations(r *study.Result) []string {
	var all []string
	for _, a := range r.Alterations() {
		all = append(all, alteration(a))
	}
	return append(all, "whether that is an alteration that has to meet an energy code, and what else it then asks for, the adopted code says")
}

// alteration say what is touched.
func alteration(a study.Alteration) string {
	var parts []string
	say := func(n int, what string) {
		if n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n, what))
		}
	}
	say(a.Changed, "changed")
	say(a.TakenDown, "taken down")
	say(a.Repaired, "that failed lit again")
	say(a.Controlled, "left as they are but controlled or dimmed")
	say(a.Stays, "left as they are")
	say(a.Added, "added besides")
	kw := func(x float64) string { return number.Fixed(x, 2) }
	load := "the connected load does not rise"
	if a.LoadKW > a.LoadBefore {
		load = "the connected load rises"
	}
	return fmt.Sprintf("%s: touches %d of the room's %d luminaires, %.0f percent (%s); %s, %s to %s kW", a.System, a.Touched(), a.Existing, 100*a.Share(),
		strings.Join(parts, ", "), load, kw(a.LoadBefore), kw(a.LoadKW))
}

// Failed say what luminaires that failed make of load and saving.
func Failed(r *study.Result) []string {
	failed := r.Failed()
	if failed == 0 {
		return nil
	}
	var where []string
	for _, kind := range r.Sides[0].Kinds() {
		if n := len(kind.From.Use.Failed); n > 0 {
			where = append(where, fmt.Sprintf("%d of %d in %q", n, len(kind.From.Layout.Placements), kind.From.Group))
		}
	}
	e := r.Energy
	kw := func(x float64) string { return number.Fixed(x, 2) }
	return []string{fmt.Sprintf("%s give no light: as found the existing lighting maintains %s at %s kW, with every luminaire lit %s at %s kW", strings.Join(where, ", "),
		r.Job.Light(r.Existing().Grids[0].Statistics.Average), kw(e.ExistingKW), r.Job.Light(r.Existing().AllLit), kw(e.AllLitKW)),
		fmt.Sprintf("the saving is against what is drawn as found: %s kW and %s kWh a year; against every luminaire lit it would be %s kW and %s kWh", kw(e.SavedKW),
			number.Thousands(e.LightsSavedKWhPerYear), kw(e.AllLitKW-e.ProposedKW), number.Thousands(e.AllLitKWhPerYear-e.ProposedKWhPerYear))}
}

// Outages say beside the saving what is assumed of the watts of lamps that are out, and what it is if they draw nothing.
func Outages(r *study.Result) []string {
	outages := r.Outages()
	if len(outages) == 0 {
		return nil
	}
	var all []string
	least := map[string]float64{"existing": r.Energy.ExistingKW, "proposed": r.Energy.ProposedKW}
	for _, o := range outages {
		all = append(all, fmt.Sprintf("%s: lamp_burnout = %.3g dims the light to %s from %s with every lamp lit, but the load of %.2f kW counts every lamp as lit; "+
			"if lamps that are out draw nothing it is %.2f kW", o.Name, o.Factor, r.Job.Light(o.AllLit*o.Factor), r.Job.Light(o.AllLit), o.KW, o.LeastKW))
		least[o.Name] = o.LeastKW
	}
	saved := least["existing"] - least["proposed"]
	share := saved / math.Max(least["existing"], math.SmallestNonzeroFloat64)
	return append(all, fmt.Sprintf("the saving of %s kW, %s percent, is then %s kW, %s percent of what is drawn", number.Fixed(r.Energy.SavedKW, 2),
		number.Fixed(100*r.Energy.SavedShare, 0), number.Fixed(saved, 2), number.Fixed(100*share, 0)))
}

// Ratio say what the measures take for what, where that can be taken otherwise.
func Ratio(r *study.Result) []string {
	if r.LifeCycle == nil || !r.LifeCycle.Upkeep {
		return nil
	}
	cited := " (10 CFR 436)"
	if !r.Job.InUnitedStates() {
		cited = ""
	}
	return []string{"savings to investment: lamps that are replaced together count as investment in their years, as what does not last the study does" + cited + ", " +
		"lamps that are replaced as they fail as maintenance; so the ratio moves with how lamps are replaced, and net savings tell more"}
}
