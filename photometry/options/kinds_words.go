package options

import (
	"fmt"
	"strings"

	"lampswap/photometry"
	"lampswap/photometry/study"
)

// Met tells whether every space meets every criterion that it has.
func (k *Kinds) Met() bool {
	for _, s := range k.Rooms {
		if !s.Met {
			return false
		}
	}
	return true
}

// Called is the name of a space, with its number of copies.
func (s *Served) Called() string {
	if s.Copies > 1 {
		return fmt.Sprintf("%s (%d alike)", s.Name, s.Copies)
	}
	return s.Name
}

// Sentences say what to choose, and what the choice does not do.
func (k *Kinds) Sentences() []string {
	all := []string{k.choice()}
	if k.Chosen > 0 {
		all = append(all, k.load())
	}
	all = append(all, k.others()...)
	for i := range k.Rooms {
		s := &k.Rooms[i]
		if len(s.Why) > 0 {
			all = append(all, s.Called()+": "+strings.Join(s.Why, " "))
		}
	}
	return all
}

// choice names the kinds and where they go.
func (k *Kinds) choice() string {
	served, varied := 0, 0
	for i := range k.Rooms {
		if s := &k.Rooms[i]; len(s.Varied) > 0 {
			varied++
			if s.Way != nil {
				served++
			}
		}
	}
	of := "every space whose luminaires are changed"
	switch {
	case k.Chosen == 0:
		return "No kind of lamps and ballast of the list serves any space."
	case served == len(k.Rooms):
		of = "every space"
	case served < varied:
		of = fmt.Sprintf("each space that any serves (%d of %d)", served, varied)
	}
	if k.Chosen == 1 {
		return fmt.Sprintf("One kind of lamps and ballast serves %s, and of those that do it takes the least energy: %s.%s", of, k.List[0].Name(), k.List[0].caveats())
	}
	var names []string
	caveats := ""
	for n := range k.List[:k.Chosen] {
		names = append(names, fmt.Sprintf("%s (%s)", k.List[n].Name(), strings.Join(k.where(n), ", ")))
		if c := k.List[n].caveats(); !strings.Contains(caveats, c) {
			caveats += c
		}
	}
	return fmt.Sprintf("No one kind of lamps and ballast serves %s. The fewest are %d, of those the least energy: %s.%s", of, k.Chosen, strings.Join(names, "; "), caveats)
}

// where are the spaces that get a kind.
func (k *Kinds) where(kind int) []string {
	var all []string
	for i := range k.Rooms {
		for _, p := range k.Rooms[i].Parts {
			if p.Kind == kind {
				all = append(all, k.Rooms[i].Called())
			}
		}
	}
	return all
}

// load says what the choice draws, beside what is there and what more kinds would save.
func (k *Kinds) load() string {
	all := []string{fmt.Sprintf("With that the building's lighting draws %s kW and %s kWh a year, in place of %s kW and %s kWh as found.", photometry.Fixed(k.Choice.KW, 2),
		photometry.Thousands(k.Choice.KWhPerYear), photometry.Fixed(k.AsFound.KW, 2), photometry.Thousands(k.AsFound.KWhPerYear))}
	less := k.Choice.KWhPerYear - k.Alone.KWhPerYear
	if less < 0.5 {
		return all[0] + " No greater number of kinds takes less energy."
	}
	for _, m := range k.More {
		all = append(all, fmt.Sprintf("With %d kinds it would be %s kWh a year less.", m.Kinds, photometry.Thousands(k.Choice.KWhPerYear-m.KWhPerYear)))
	}
	if n := len(k.More); n == 0 || k.More[n-1].Kinds < k.Alone.Kinds {
		all = append(all, fmt.Sprintf("With each space at its own least energy, in %d kinds, it would be %s kWh a year less.", k.Alone.Kinds, photometry.Thousands(less)))
	}
	return strings.Join(all, " ")
}

// others tell of spaces that get none of the kinds, and of those that are judged by what they were.
func (k *Kinds) others() []string {
	var stay, held, darker, unjudged, fixtures []string
	for i := range k.Rooms {
		s := &k.Rooms[i]
		switch {
		case s.Stays:
			stay = append(stay, s.Called())
		case len(s.Varied) == 0:
			held = append(held, s.Called())
		case len(s.Held) > 0:
			fixtures = append(fixtures, fmt.Sprintf("%s: %s", s.Called(), strings.Join(s.Held, ", ")))
		}
		if p := s.Gets(); p.Darker && s.Met {
			darker = append(darker, fmt.Sprintf("%s (%s, %s the %s of now)", s.Called(), s.Job.Light(p.Average()), study.Compared(s.Existing().Average(), p.Average()), s.Job.Light(s.Existing().Average())))
		}
		if len(s.Job.Criteria) == 0 && len(s.Varied) > 0 {
			unjudged = append(unjudged, s.Called())
		}
	}
	var all []string
	say := func(names []string, sep, format string) {
		if len(names) > 0 {
			all = append(all, fmt.Sprintf(format, strings.Join(names, sep)))
		}
	}
	say(darker, ", ", "Darker than the existing lighting, though every criterion is met: %s.")
	say(unjudged, ", ", "Without criteria, so that no way is taken that is darker than the existing lighting: %s.")
	say(stay, ", ", "Nothing of the list meets every criterion, and the existing lighting does, as it is: %s.")
	say(held, ", ", "As proposed, as nothing is varied there: %s.")
	say(fixtures, "; ", "Groups that stay as proposed: %s.")
	return all
}
