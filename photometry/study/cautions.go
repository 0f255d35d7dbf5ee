package study

// cautions are the usual ones for the work behind a swap. They remind; the adopted code, the authority having jurisdiction and a licensed
// electrician decide. Sources stand with each.
func cautions(r *Result) []string {
	all := []string{
		"Work by a licensed electrician, with a permit where required; local codes, utility rules and the authority having jurisdiction decide.",
		"De-energize, lock out and tag the branch circuit and test that it is dead before opening a luminaire (29 CFR 1910.333(b)(2); 1910.147 as it applies). Only qualified persons work on or near live parts (1910.333(c)).",
		"A replaced ballast may call for a disconnecting means in the luminaire (NEC 410.130(G)(1)); retrofit kits must be listed (NEC 410.6); follow the wiring diagram of the actual ballast and lampholder.",
		"Ballasts made before July 1979, or not marked \"No PCBs\", are to be taken as containing PCB: do not open them, keep leaking ones apart, dispose of them as 40 CFR 761 and the state say.",
		"Fluorescent lamps hold mercury: do not break them, keep them in closed marked containers as universal waste (40 CFR 273).",
		"Ladders and lifts have rules of their own (29 CFR 1910 Subparts D and F; from memory, unverified).",
		"Recheck exit and emergency lighting after any swap: levels, battery packs that suit the new lamps, luminaires still on the right circuit.",
	}
	if lamp := r.Job.Proposed.Lamp; lamp != nil && lamp.LED {
		all = append(all, "LED tubes: match tube type, sockets and wiring; a luminaire wired for line voltage at its sockets must be marked so that "+
			"nobody puts a fluorescent lamp in it (from memory, unverified); equal lumens do not mean equal light at the task.")
	}
	return append(all, supplyCautions(r)...)
}
