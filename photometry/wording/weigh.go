package wording

import (
	"cmp"
	"slices"
	"strings"

	"lampswap/photometry/study"
)

// A said is a warning in words, with its code and the system or the kind in it that it is about; "" of what is about all.
type said struct {
	code study.Code
	of   string
	text string
}

func texts(all []said) []string {
	var out []string
	for _, s := range all {
		if s.of != "" {
			s.text = s.of + ": " + s.text
		}
		out = append(out, s.text)
	}
	return out
}

// Weighed are the warnings of a result with those first that could mislead the verdict most, of these those that are not about the existing lighting.
// What several systems or groups are warned of alike is said once, with all their names before it.
func Weighed(r *study.Result) []string { return weighed(warnings(r)) }

func weighed(warnings []said) []string {
	type alike struct {
		said
		sides []string            // in the order in which they came
		names map[string][]string // groups of a side
	}
	var all []*alike
	about := map[string]*alike{}
	for _, w := range warnings {
		side, group, _ := strings.Cut(w.of, ", ")
		s := about[w.text]
		if s == nil {
			s = &alike{said: w, names: map[string][]string{}}
			about[w.text] = s
			all = append(all, s)
		}
		if !slices.Contains(s.sides, side) {
			s.sides = append(s.sides, side)
		}
		if group != "" && !slices.Contains(s.names[side], group) {
			s.names[side] = append(s.names[side], group)
		}
	}
	slices.SortStableFunc(all, func(a, b *alike) int {
		old := func(s *alike) int {
			if len(s.sides) == 1 && s.sides[0] == "existing" {
				return 1
			}
			return 0
		}
		return cmp.Or(cmp.Compare(a.code.Gravity(), b.code.Gravity()), cmp.Compare(old(a), old(b)))
	})
	var out []string
	for _, s := range all {
		var heads []string
		for _, side := range s.sides {
			if side != "" {
				heads = append(heads, strings.Join(append([]string{side}, s.names[side]...), ", "))
			}
		}
		s.of = strings.Join(heads, "; ")
		out = append(out, texts([]said{s.said})...)
	}
	return out
}
