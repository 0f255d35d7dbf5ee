// Package cover finds the fewest kinds that serve every need, exactly. A need has ways to be served; a way takes one kind, or two
// together, at a price. Of all choices with the fewest kinds it takes the one of the least price:
//
//	price of a choice = sum over needs of the least price of a way all of whose kinds are chosen
//
// The search goes deeper kind by kind: a need that the chosen kinds do not serve yet is served in each way that it has. The smallest
// choice has no kind to spare, so it is met on that walk whichever need comes first; what cannot become cheaper than the best is cut.
package cover

import (
	"cmp"
	"fmt"
	"slices"
)

// A Price is energy, then money: the second counts where the first is equal. Whole numbers, so that sums have no rounding.
type Price [2]int64

// Less tells whether a price is below another.
func (p Price) Less(q Price) bool { return p.compare(q) < 0 }

func (p Price) compare(q Price) int { return cmp.Or(cmp.Compare(p[0], q[0]), cmp.Compare(p[1], q[1])) }

func (p Price) plus(q Price) Price { return Price{p[0] + q[0], p[1] + q[1]} }

// A Way serves a need with one kind (twice the same number), or with two.
type Way struct {
	Kinds [2]int // from 0
	Price Price
}

func (w Way) in(chosen []bool) bool { return chosen[w.Kinds[0]] && chosen[w.Kinds[1]] }

// missing are the kinds that a way takes besides those chosen.
func (w Way) missing(chosen []bool) []int {
	var all []int
	for i, k := range w.Kinds {
		if !chosen[k] && (i == 0 || k != w.Kinds[0]) {
			all = append(all, k)
		}
	}
	return all
}

// Fewest returns the kinds of the best choice, ascending, and the way of each need in it. Every need must have a way. Of choices that are equal
// in all the one with the lower numbers is taken; so is the earlier of equal ways.
func Fewest(needs [][]Way) (kinds, ways []int) {
	s := newSearch(needs)
	if len(needs) == 0 {
		return nil, nil
	}
	for s.most = 1; s.best == nil; s.most++ {
		s.seen = map[string]bool{}
		s.deepen(make([]bool, s.kinds), nil)
	}
	return s.best, s.ways(needs)
}

// AtMost returns the kinds of the choice of the least price with up to a number of kinds, and the way of each need in it, as Fewest does; none where
// so few do not serve all. Every set of kinds is looked at but for those that cannot be the best.
func AtMost(needs [][]Way, number int) (kinds, ways []int) {
	s := newSearch(needs)
	s.most = number
	s.fill(make([]bool, s.kinds), nil, 0)
	if s.best == nil {
		return nil, nil
	}
	return s.best, s.ways(needs)
}

// ways are those that needs have in the best choice.
func (s *search) ways(needs [][]Way) []int {
	chosen := make([]bool, s.kinds)
	for _, k := range s.best {
		chosen[k] = true
	}
	var ways []int
	for _, need := range needs {
		ways = append(ways, Cheapest(need, func(w Way) bool { return w.in(chosen) }))
	}
	return ways
}

// fill adds kinds from a number on.
func (s *search) fill(chosen []bool, list []int, from int) {
	least, served := Price{}, true
	for _, need := range s.needs {
		still := func(k int) bool { return chosen[k] || len(list) < s.most && k >= from }
		at := Cheapest(need, func(w Way) bool { return still(w.Kinds[0]) && still(w.Kinds[1]) })
		if at < 0 {
			return
		}
		least = least.plus(need[at].Price)
		served = served && slices.ContainsFunc(need, func(w Way) bool { return w.in(chosen) })
	}
	if s.best != nil && !least.Less(s.price) {
		return
	}
	if served {
		s.take(chosen, slices.Clone(list))
	}
	if len(list) == s.most {
		return
	}
	for k := from; k < s.kinds; k++ {
		if s.gone[k] {
			continue
		}
		chosen[k] = true
		s.fill(chosen, append(slices.Clone(list), k), k+1)
		chosen[k] = false
	}
}

// Cheapest is the number of the way of the least price of those that may be taken; -1 where none may.
func Cheapest(need []Way, may func(Way) bool) int {
	best := -1
	for i, w := range need {
		if may(w) && (best < 0 || w.Price.Less(need[best].Price)) {
			best = i
		}
	}
	return best
}

// A search is for the best choice of a number of kinds.
type search struct {
	needs [][]Way // without those of kinds that another can stand for
	kinds int
	gone  []bool // kinds that another can stand for
	most  int    // kinds in a choice
	best  []int
	price Price
	seen  map[string]bool
}

func newSearch(needs [][]Way) *search {
	s := &search{}
	for _, need := range needs {
		for _, w := range need {
			s.kinds = max(s.kinds, w.Kinds[0]+1, w.Kinds[1]+1)
		}
	}
	s.gone = dominated(needs, s.kinds)
	for _, need := range needs {
		s.needs = append(s.needs, slices.DeleteFunc(slices.Clone(need), func(w Way) bool { return s.gone[w.Kinds[0]] || s.gone[w.Kinds[1]] }))
	}
	return s
}

// dominated are the kinds for which another can stand in every way of every need, for no more.
func dominated(needs [][]Way, kinds int) []bool {
	prices := make([]map[[2]int]Price, len(needs))
	for n, need := range needs {
		prices[n] = map[[2]int]Price{}
		for _, w := range need {
			key := pair(w.Kinds)
			if known, is := prices[n][key]; !is || w.Price.Less(known) {
				prices[n][key] = w.Price
			}
		}
	}
	stands := func(a, b int) bool { // a for b
		for n := range needs {
			for key, price := range prices[n] {
				if key[0] != b && key[1] != b {
					continue
				}
				other := key
				for i := range other {
					if other[i] == b {
						other[i] = a
					}
				}
				if instead, is := prices[n][pair(other)]; !is || price.Less(instead) {
					return false
				}
			}
		}
		return true
	}
	gone := make([]bool, kinds)
	for b := kinds - 1; b >= 0; b-- { // of equals the first stays
		for a := range kinds {
			if a != b && !gone[a] && stands(a, b) {
				gone[b] = true
				break
			}
		}
	}
	return gone
}

func pair(kinds [2]int) [2]int { return [2]int{min(kinds[0], kinds[1]), max(kinds[0], kinds[1])} }

// deepen serves one need more, in every way that the number of kinds leaves room for.
func (s *search) deepen(chosen []bool, list []int) {
	key := fmt.Sprint(list)
	if s.seen[key] || !s.may(chosen, len(list)) {
		return
	}
	s.seen[key] = true
	open, fewest := -1, 0
	for n, need := range s.needs {
		ways, served := 0, false
		for _, w := range need {
			switch more := len(w.missing(chosen)); {
			case more == 0:
				served = true
			case len(list)+more <= s.most:
				ways++
			}
		}
		if !served && (open < 0 || ways < fewest) {
			open, fewest = n, ways
		}
	}
	if open < 0 {
		s.take(chosen, list)
		return
	}
	for _, w := range s.needs[open] {
		more := w.missing(chosen)
		if len(list)+len(more) > s.most {
			continue
		}
		for _, k := range more {
			chosen[k] = true
		}
		with := append(slices.Clone(list), more...)
		slices.Sort(with)
		s.deepen(chosen, with)
		for _, k := range more {
			chosen[k] = false
		}
	}
}

// may tells whether a choice that grows from this one can serve all, and be as cheap as the best.
func (s *search) may(chosen []bool, number int) bool {
	least := Price{}
	for _, need := range s.needs {
		at := Cheapest(need, func(w Way) bool { return number+len(w.missing(chosen)) <= s.most })
		if at < 0 {
			return false
		}
		least = least.plus(need[at].Price)
	}
	return s.best == nil || !s.price.Less(least)
}

// take keeps a choice that serves all if it is better than the best.
func (s *search) take(chosen []bool, list []int) {
	price := Price{}
	for _, need := range s.needs {
		price = price.plus(need[Cheapest(need, func(w Way) bool { return w.in(chosen) })].Price)
	}
	if s.best == nil || cmp.Or(price.compare(s.price), slices.Compare(list, s.best)) < 0 {
		s.best, s.price = list, price
	}
}
