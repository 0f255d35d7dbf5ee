package wording

import (
	"slices"

	"lampswap/photometry/catalog"
	"lampswap/photometry/study"
)

// Cautions are the usual ones for the work behind a swap. They remind; the adopted code, the authority having jurisdiction and a licensed
// electrician decide. In the United States its rules stand with each; elsewhere there are others, which are not known here.
func Cautions(r *study.Result) []string {
	in := func(unitedStates, elsewhere string) string {
		if r.Job.InUnitedStates() {
			return unitedStates
		}
		return elsewhere
	}
	all := []string{
		"Work by a licensed electrician, with a permit where required; local codes, utility rules and the authority having jurisdiction decide.",
		"De-energize, lock out and tag the branch circuit and test that it is dead before opening a luminaire" + in(" (29 CFR 1910.333(b)(2); 1910.147 as it applies)", "") +
			". Only qualified persons work on or near live parts" + in(" (1910.333(c))", "") + ".",
		in("A replaced ballast may call for a disconnecting means in the luminaire (NEC 410.130(G)(1)); retrofit kits must be listed (NEC 410.6); follow",
			"A luminaire that is altered may have to be assessed and marked anew by the rules of the place; follow") + " the wiring diagram of the actual ballast and lampholder.",
		in("Ballasts made before July 1979, or not marked \"No PCBs\", are to be taken as containing PCB", "Old ballasts that are not marked as free of PCB are to be taken as containing it") +
			": do not open them, keep leaking ones apart, dispose of them as " + in("40 CFR 761 and the state say", "the rules of the place say") + ".",
		"Fluorescent lamps hold mercury: do not break them, keep them in closed marked containers" + in(" as universal waste (40 CFR 273)", ", and dispose of them as the rules of the place say") + ".",
		"Ladders and lifts have rules of their own" + in(" (29 CFR 1910 Subparts D and F; from memory, unverified)", "") + ".",
		"Recheck exit and emergency lighting after any swap: levels, battery packs that suit the new lamps, luminaires still on the right circuit.",
	}
	for _, side := range r.NewKinds() {
		if lamp := side.From.Lamp; lamp != nil && lamp.LED {
			if text := tubeCautions[lamp.LEDType]; !slices.Contains(all, text) {
				all = append(all, text)
			}
		}
	}
	for _, n := range r.Notices() {
		all = append(all, Notice(n, r.Job.Facts.Date))
	}
	return all
}

// tubeCautions are those of LED tubes by their type. Trade knowledge, from memory, unverified.
var tubeCautions = map[catalog.LEDType]string{
	catalog.OnBallast: "LED tubes of type A run on the fluorescent ballast that stays: only on one that the tube maker's list of compatible ballasts names, in good order; " +
		"the list, the listing of the luminaire and licensed practice decide (trade knowledge, from memory, unverified). Equal lumens do not mean equal light at the task.",
	catalog.OnLine: "LED tubes of type B have line voltage at their sockets: ballast out, sockets rewired by the tube maker's diagram (one end or both; shunted sockets may have to go), " +
		"and the luminaire labeled so that nobody puts a fluorescent lamp in it; that diagram, the listing and licensed practice decide (trade knowledge, from memory, unverified). " +
		"Equal lumens do not mean equal light at the task.",
	catalog.OnDriver: "LED tubes of type C run on an external driver in place of the ballast: only on one that their maker lists for them, wired by its diagram, and the luminaire labeled; " +
		"the listing and licensed practice decide (trade knowledge, from memory, unverified). Equal lumens do not mean equal light at the task.",
}
