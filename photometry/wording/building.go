package wording

import (
	"fmt"
	"slices"
	"strings"

	"lampswap/photometry/currency"
	"lampswap/photometry/levels"
	"lampswap/photometry/number"
	"lampswap/photometry/study"
	"lampswap/photometry/whole"
)

// Building is the verdict of the building in plain sentences: which spaces are enough, which not and why, and what the whole draws and saves.
func Building(r *whole.Result) string { return strings.Join(BuildingSentences(r), " ") }

// BuildingSentences are those of it, one by one: how many spaces are enough, the spaces by what becomes of them, what the whole draws.
func BuildingSentences(r *whole.Result) []string {
	if len(r.Spaces) == 1 && r.Spaces[0].Copies == 1 {
		return []string{Verdict(r.Spaces[0].Result)}
	}
	var enough, minded, dim, greedy, unjudged, missing []string
	for _, s := range r.Spaces {
		switch {
		case s.Standing() == study.OneMissed:
			dim = append(dim, called(s.Name, s.Copies)+misses(s))
		case !s.Met() && !s.LightJudged():
			missing = append(missing, called(s.Name, s.Copies)+misses(s))
		case !s.Met():
			greedy = append(greedy, called(s.Name, s.Copies)+misses(s))
		case !s.LightJudged():
			unjudged = append(unjudged, called(s.Name, s.Copies))
		case s.Standing() == study.Qualified:
			minded = append(minded, called(s.Name, s.Copies))
		default:
			enough = append(enough, called(s.Name, s.Copies))
		}
	}
	var all []string
	say := func(format string, names []string, sep string) {
		if len(names) > 0 {
			all = append(all, fmt.Sprintf(format, strings.Join(names, sep)))
		}
	}
	all = append(all, counted(r))
	say("Enough: %s.", enough, ", ")
	say("Enough, but with something to mind: %s.", minded, ", ")
	say("Enough light, but another criterion is missed: %s.", greedy, "; ")
	say("NOT enough: %s.", dim, "; ")
	say("Light not judged, as no criterion is about it, and another is missed: %s.", missing, "; ")
	say("Light not judged, as no criterion is about it: %s.", unjudged, ", ")
	return append(all, saves(r))
}

// counted says in how many spaces the proposed lighting is enough, of those that have criteria.
func counted(r *whole.Result) string {
	all, judged := r.Totals.Spaces, r.LightJudged()
	switch judged {
	case 0:
		return fmt.Sprintf("None of %d spaces has a criterion of light.", all)
	case all:
		return fmt.Sprintf("Of %d spaces the proposed lighting is enough in %d.", all, r.Enough())
	case 1:
		return fmt.Sprintf("Of 1 space with criteria of light, %d in all, the proposed lighting is enough in %d.", all, r.Enough())
	}
	return fmt.Sprintf("Of %d spaces with criteria of light, %d in all, the proposed lighting is enough in %d.", judged, all, r.Enough())
}

// called is the name of a space, with its number of copies.
func called(name string, copies int) string {
	if copies > 1 {
		return fmt.Sprintf("%s (%d alike)", name, copies)
	}
	return name
}

// misses says what a space misses.
func misses(s whole.Space) string {
	if s.Proposed().Outside != nil {
		return ": its light is NOT known: " + Outside(s.Proposed().Outside)
	}
	var all []string
	for _, v := range s.Verdicts {
		if v.Met(v.Proposed().Value) {
			continue
		}
		words := Missed(s.Space.Job, v.Criterion, v.Proposed().Value)
		if v.Statistic == levels.PowerDensity {
			words = "draws more than " + words
		} else {
			words = "misses " + words
		}
		all = append(all, words)
	}
	return " " + strings.Join(all, " and ")
}

// saves says what the whole draws and saves.
func saves(r *whole.Result) string {
	e := r.Whole.Energy
	text := fmt.Sprintf("The building's lighting draws %s kW in place of %s and saves %s kWh a year", number.Fixed(e.ProposedKW, 2), number.Fixed(e.ExistingKW, 2),
		number.Thousands(e.SavedKWhPerYear))
	if e.SavedKWhPerYear < 0 {
		text = fmt.Sprintf("The building's lighting draws %s kW in place of %s and takes %s kWh a year MORE", number.Fixed(e.ProposedKW, 2), number.Fixed(e.ExistingKW, 2),
			number.Thousands(-e.SavedKWhPerYear))
	}
	money := ""
	if e.SavingPerYear != nil {
		money = ", " + currency.Amount(r.Building.Whole.Currency, *e.SavingPerYear) + " a year of what is priced"
	}
	if e.SimplePaybackYears != nil {
		money += fmt.Sprintf(", which repays the cost in %s years", number.Fixed(*e.SimplePaybackYears, 1))
	}
	return text + money + "."
}

// A Said is a warning that one or more spaces have in common.
type Said struct {
	said
	Spaces []string // empty where it is of the building, or of all its spaces
}

// Shown is the warning with the spaces that it is of.
func (s Said) Shown() string { return Of(texts([]said{s.said})[0], s.Spaces) }

// WeighedShared are warnings of a building with those first that could mislead a verdict most, as Weighed are.
func WeighedShared(all []Said) []string {
	var shown []said
	for _, s := range all {
		shown = append(shown, said{s.code, s.of, Of(s.text, s.Spaces)})
	}
	return weighed(shown)
}

// Of is a text with the spaces that it is of.
func Of(text string, spaces []string) string {
	if len(spaces) == 0 {
		return text
	}
	return text + " [" + strings.Join(spaces, ", ") + "]"
}

// BuildingWarnings are the building's, then those of its spaces: what several are warned of alike is said once. All are of the spaces that has.
func BuildingWarnings(r *whole.Result) []Said {
	var all []Said
	for _, text := range r.Building.Warnings {
		all = append(all, Said{said: said{text: text, code: study.OfJob}})
	}
	for _, w := range warnings(r.Whole) {
		all = append(all, Said{said: w})
	}
	if text := upkeepWarning(r); text != "" {
		all = append(all, Said{said: said{text: text, code: study.UpkeepUnknown}})
	}
	own := len(all)
	for _, s := range r.Spaces {
		for _, w := range warnings(s.Result) {
			at := slices.IndexFunc(all, func(a Said) bool { return a.said == w })
			if at < 0 {
				all = append(all, Said{said: w})
				at = len(all) - 1
			}
			if at >= own && !slices.Contains(all[at].Spaces, s.Name) {
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

// upkeepWarning tells that upkeep is left out as it is known of some luminaires alone.
func upkeepWarning(r *whole.Result) string {
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

// TakeOff say what the schedule counts, and what is to be done with what goes out.
func TakeOff(r *whole.Result) []string {
	out := r.Outgoing()
	in := func(unitedStates string) string {
		if r.Building.Whole.InUnitedStates() {
			return unitedStates
		}
		return ""
	}
	all := []string{"sockets are two a lamp that comes in; where the lamps are as long as before, those that are sound and suit may stay. Lamps, ballasts and sockets for spares and breakage are not counted."}
	if out.Mercury > 0 {
		all = append(all, fmt.Sprintf("%s lamps to dispose of hold mercury: unbroken, in closed marked containers, to a recycler%s; the rules of the place decide.",
			number.Thousands(float64(out.Mercury)), in(", as universal waste (40 CFR 273)")))
	}
	if out.PCB > 0 {
		all = append(all, fmt.Sprintf("%s ballasts to dispose of may hold PCB unless their label says \"No PCBs\": not opened, leaking ones apart%s; the rules of the place decide.",
			number.Thousands(float64(out.PCB)), in(", by 40 CFR 761")))
	}
	if out.Electronic > 0 {
		all = append(all, fmt.Sprintf("%s electronic ballasts to dispose of, as electronic scrap by the rules of the place.", number.Thousands(float64(out.Electronic))))
	}
	if out.Dismounted > 0 {
		all = append(all, fmt.Sprintf("%s luminaires to take down whole, with the lamps and ballasts in them counted above.", number.Thousands(float64(out.Dismounted))))
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
