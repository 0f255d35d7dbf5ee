package wording

import (
	"fmt"
	"strings"

	"lampswap/photometry/number"
	"lampswap/photometry/options"
)

// Kinds say what to choose, and what the choice does not do.
func Kinds(k *options.Kinds) []string {
	all := []string{kindsChoice(k)}
	if k.Chosen > 0 {
		all = append(all, kindsLoad(k))
	}
	all = append(all, kindsOthers(k)...)
	for i := range k.Rooms {
		s := &k.Rooms[i]
		if words := Lacks(s); words != nil {
			all = append(all, called(s.Name, s.Copies)+": "+strings.Join(words, " "))
		}
	}
	return all
}

// kindsChoice names the kinds and where they go.
func kindsChoice(k *options.Kinds) string {
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
		return fmt.Sprintf("One kind of lamps and ballast serves %s, and of those that do it takes the least energy: %s.%s", of, Option(&k.List[0].Option), caveats(&k.List[0].Option))
	}
	var names []string
	minds := ""
	for n := range k.List[:k.Chosen] {
		names = append(names, fmt.Sprintf("%s (%s)", Option(&k.List[n].Option), strings.Join(kindsWhere(k, n), ", ")))
		if c := caveats(&k.List[n].Option); !strings.Contains(minds, c) {
			minds += c
		}
	}
	return fmt.Sprintf("No one kind of lamps and ballast serves %s. The fewest are %d, of those the least energy: %s.%s", of, k.Chosen, strings.Join(names, "; "), minds)
}

// kindsWhere are the spaces that get a kind.
func kindsWhere(k *options.Kinds, kind int) []string {
	var all []string
	for i := range k.Rooms {
		for _, p := range k.Rooms[i].Parts {
			if p.Kind == kind {
				all = append(all, called(k.Rooms[i].Name, k.Rooms[i].Copies))
			}
		}
	}
	return all
}

// kindsLoad says what the choice draws, beside what is there and what more kinds would save.
func kindsLoad(k *options.Kinds) string {
	all := []string{fmt.Sprintf("With that the building's lighting draws %s kW and %s kWh a year, in place of %s kW and %s kWh as found.", number.Fixed(k.Choice.KW, 2),
		number.Thousands(k.Choice.KWhPerYear), number.Fixed(k.AsFound.KW, 2), number.Thousands(k.AsFound.KWhPerYear))}
	less := k.Choice.KWhPerYear - k.Alone.KWhPerYear
	if less < 0.5 {
		return all[0] + " No greater number of kinds takes less energy."
	}
	for _, m := range k.More {
		all = append(all, fmt.Sprintf("With %d kinds it would be %s kWh a year less.", m.Kinds, number.Thousands(k.Choice.KWhPerYear-m.KWhPerYear)))
	}
	if n := len(k.More); n == 0 || k.More[n-1].Kinds < k.Alone.Kinds {
		all = append(all, fmt.Sprintf("With each space at its own least energy, in %d kinds, it would be %s kWh a year less.", k.Alone.Kinds, number.Thousands(less)))
	}
	return strings.Join(all, " ")
}

// kindsOthers tell of spaces that get none of the kinds, and of those that are judged by what they were.
func kindsOthers(k *options.Kinds) []string {
	var stay, held, darker, unjudged, fixtures []string
	for i := range k.Rooms {
		s := &k.Rooms[i]
		switch {
		case s.Stays:
			stay = append(stay, called(s.Name, s.Copies))
		case len(s.Varied) == 0:
			held = append(held, called(s.Name, s.Copies))
		case len(s.Held) > 0:
			fixtures = append(fixtures, fmt.Sprintf("%s: %s", called(s.Name, s.Copies), strings.Join(s.Held, ", ")))
		}
		if p := s.Gets(); p.Darker && s.Met {
			darker = append(darker, fmt.Sprintf("%s (%s, %s the %s of now)", called(s.Name, s.Copies), s.Job.Light(p.Average()), Compared(s.Existing().Average(), p.Average()), s.Job.Light(s.Existing().Average())))
		}
		if len(s.Job.Criteria) == 0 && len(s.Varied) > 0 {
			unjudged = append(unjudged, called(s.Name, s.Copies))
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

// Lacks says what a space lacks where no way meets every criterion.
func Lacks(s *options.Served) []string {
	switch o := s.All; s.Lacks {
	case options.LacksChange:
		return []string{"Nothing is varied there, and " + describe(o, s.Gets()) + "; it misses " + missedBy(o, s.Gets()) + "."}
	case options.LacksRatios:
		return append([]string{"Nothing meets every criterion."}, beyondAnySwap(o)...)
	case options.LacksAll:
		return append([]string{nothing(o)}, beyondAnySwap(o)...)
	case options.LacksNothing:
	}
	return nil
}
