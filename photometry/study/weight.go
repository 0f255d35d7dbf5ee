package study

import (
	"cmp"
	"slices"
	"strings"
)

// weights are words of warnings, those first that could mislead the verdict most: light that stands on nothing, light that lamps may not
// give, luminaires that hang otherwise, methods that disagree, dark places, lamps that cannot be had, an age that is none, money. What is not
// named weighs less than these.
var weights = []string{
	"is not trusted",
	"no change of light is counted", "points of light over temperature", "that at which the lumens of", "may not start", "are told to start",
	"reach into one another", "through a wall", "into a box that hangs",
	"the two methods differ",
	"exceeds the spacing criterion", "and are left out",
	"impossible to replace there",
	"judged with",
	"more than the",
}

// light are words of warnings that say what is known of nearly every job.
var light = []string{"are from memory", "computer simulation", "does not see racks", "where the rating is not tried"}

// weight is the place of a warning among others: the less, the more it could mislead the verdict.
func weight(warning string) int {
	has := func(words string) bool { return strings.Contains(warning, words) }
	if i := slices.IndexFunc(weights, has); i >= 0 {
		return i
	}
	if slices.ContainsFunc(light, has) {
		return len(weights) + 1
	}
	return len(weights)
}

// Weighed are warnings with those first that could mislead the verdict most, of these those that are not about the existing lighting. What
// several systems or groups are warned of alike is said once, with all their names before it.
func Weighed(warnings []string) []string {
	type said struct {
		sides []string            // in the order in which they came
		names map[string][]string // groups of a side
		text  string
	}
	var all []*said
	about := map[string]*said{}
	for _, w := range warnings {
		side, group, text := sideOf(w)
		s := about[text]
		if s == nil {
			s = &said{names: map[string][]string{}, text: text}
			about[text] = s
			all = append(all, s)
		}
		if !slices.Contains(s.sides, side) {
			s.sides = append(s.sides, side)
		}
		if group != "" && !slices.Contains(s.names[side], group) {
			s.names[side] = append(s.names[side], group)
		}
	}
	slices.SortStableFunc(all, func(a, b *said) int {
		old := func(s *said) int {
			if len(s.sides) == 1 && s.sides[0] == "existing" {
				return 1
			}
			return 0
		}
		return cmp.Or(cmp.Compare(weight(a.text), weight(b.text)), cmp.Compare(old(a), old(b)))
	})
	var out []string
	for _, s := range all {
		var heads []string
		for _, side := range s.sides {
			if side != "" {
				heads = append(heads, strings.Join(append([]string{side}, s.names[side]...), ", "))
			}
		}
		if len(heads) > 0 {
			s.text = strings.Join(heads, "; ") + ": " + s.text
		}
		out = append(out, s.text)
	}
	return out
}

// sideOf takes the system and the group that a warning begins with off it.
func sideOf(warning string) (side, group, text string) {
	head, text, found := strings.Cut(warning, ": ")
	side, group, _ = strings.Cut(head, ", ")
	if !found || !slices.Contains([]string{"existing", "proposed", "replacement"}, side) {
		return "", "", warning
	}
	return side, group, text
}
