package whole

import (
	"fmt"
	"strings"

	"lampswap/photometry"
	"lampswap/photometry/currency"
	"lampswap/photometry/levels"
	"lampswap/photometry/study"
)

// Sentence is the verdict of the building in plain sentences: which spaces are enough, which not and why, and what the whole draws and saves.
func (r *Result) Sentence() string {
	if len(r.Spaces) == 1 && r.Spaces[0].Copies == 1 {
		return r.Spaces[0].Sentence()
	}
	var enough, minded, dim, greedy, unjudged []string
	for _, s := range r.Spaces {
		switch {
		case s.Standing() == study.OneMissed:
			dim = append(dim, s.called()+s.misses())
		case !s.Met():
			greedy = append(greedy, s.called()+s.misses())
		case !s.Judged():
			unjudged = append(unjudged, s.called())
		case s.Standing() == study.Qualified:
			minded = append(minded, s.called())
		default:
			enough = append(enough, s.called())
		}
	}
	var all []string
	say := func(format string, names []string, sep string) {
		if len(names) > 0 {
			all = append(all, fmt.Sprintf(format, strings.Join(names, sep)))
		}
	}
	all = append(all, r.counted())
	say("Enough: %s.", enough, ", ")
	say("Enough, but with something to mind: %s.", minded, ", ")
	say("Enough light, but more power than is allowed: %s.", greedy, "; ")
	say("NOT enough: %s.", dim, "; ")
	say("Not judged, as there are no criteria: %s.", unjudged, ", ")
	return strings.Join(append(all, r.saves()), " ")
}

// counted says in how many spaces the proposed lighting is enough, of those that have criteria.
func (r *Result) counted() string {
	all, judged := r.Totals.Spaces, r.Totals.Spaces-r.Totals.Unjudged
	switch judged {
	case 0:
		return fmt.Sprintf("None of %d spaces has criteria.", all)
	case all:
		return fmt.Sprintf("Of %d spaces the proposed lighting is enough in %d.", all, r.enough())
	case 1:
		return fmt.Sprintf("Of 1 space with criteria, %d in all, the proposed lighting is enough in %d.", all, r.enough())
	}
	return fmt.Sprintf("Of %d spaces with criteria, %d in all, the proposed lighting is enough in %d.", judged, all, r.enough())
}

// enough counts the spaces that have enough light by criteria of their own, with copies.
func (r *Result) enough() int {
	n := 0
	for _, s := range r.Spaces {
		if s.Judged() && s.BrightEnough() && s.Proposed.Outside == "" {
			n += s.Copies
		}
	}
	return n
}

// called is the name of a space, with its number of copies.
func (s Space) called() string {
	if s.Copies > 1 {
		return fmt.Sprintf("%s (%d alike)", s.Name, s.Copies)
	}
	return s.Name
}

// misses says what a space misses.
func (s Space) misses() string {
	if s.Proposed.Outside != "" {
		return ": its light is NOT known: " + s.Proposed.Outside
	}
	var all []string
	for _, v := range s.Verdicts {
		if v.Met(v.Proposed) {
			continue
		}
		words := study.Missed(s.Space.Job, v.Criterion, v.Proposed)
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
func (r *Result) saves() string {
	e := r.Whole.Energy
	text := fmt.Sprintf("The building's lighting draws %s kW in place of %s and saves %s kWh a year", photometry.Fixed(e.ProposedKW, 2), photometry.Fixed(e.ExistingKW, 2),
		photometry.Thousands(e.SavedKWhPerYear))
	if e.SavedKWhPerYear < 0 {
		text = fmt.Sprintf("The building's lighting draws %s kW in place of %s and takes %s kWh a year MORE", photometry.Fixed(e.ProposedKW, 2), photometry.Fixed(e.ExistingKW, 2),
			photometry.Thousands(-e.SavedKWhPerYear))
	}
	money := ""
	if e.SavingPerYear != nil {
		money = ", " + currency.Amount(r.Building.Whole.Currency, *e.SavingPerYear) + " a year of what is priced"
	}
	if e.SimplePaybackYears != nil {
		money += fmt.Sprintf(", which repays the cost in %s years", photometry.Fixed(*e.SimplePaybackYears, 1))
	}
	return text + money + "."
}

// Standing is how the building stands: as its worst space. Spaces without criteria count where no other has some.
func (r *Result) Standing() study.Standing {
	standing := study.Unjudged
	for _, s := range r.Spaces {
		switch now := s.Standing(); {
		case !s.Met() && now == study.Unjudged:
			return study.OneMissed
		case now == study.OneMissed:
			return now
		case now == study.Qualified, standing == study.Unjudged && now != study.Unjudged:
			standing = now
		}
	}
	return standing
}
