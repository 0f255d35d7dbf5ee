package metrology

import "math"

// Drawn returns the probability that of so many drawn without putting back, from a population of which some are marked, at most a number are
// marked:
//
//	P(X ≤ most) = Σ C(marked, x) C(population - marked, drawn - x) / C(population, drawn)
//
// Source: the hypergeometric law; it is what plans of acceptance sampling for isolated lots rest on (ISO 2859-2, from memory, unverified).
// It panics unless all are 0 or more, and neither marked nor drawn are more than the population.
func Drawn(population, marked, drawn, most int) float64 {
	if population < 0 || marked < 0 || drawn < 0 || marked > population || drawn > population {
		panic(errDrawn)
	}
	sum := 0.0
	for x := max(0, drawn-(population-marked)); x <= min(most, marked, drawn); x++ {
		sum += math.Exp(choose(marked, x) + choose(population-marked, drawn-x) - choose(population, drawn))
	}
	return min(sum, 1)
}

const errDrawn = "metrology: no more can be marked or drawn than there are"

// choose is the logarithm of the number of ways to choose k of n.
func choose(n, k int) float64 {
	all, _ := math.Lgamma(float64(n) + 1)
	some, _ := math.Lgamma(float64(k) + 1)
	rest, _ := math.Lgamma(float64(n-k) + 1)
	return all - some - rest
}

// Seen returns the chance that at least one that is marked is among those drawn.
func Seen(population, marked, drawn int) float64 { return 1 - Drawn(population, marked, drawn, 0) }

// DrawnToSee returns the least number to draw for a chance of at least so much to see one that is marked; all where that takes all.
func DrawnToSee(population, marked int, chance float64) int {
	for n := range population {
		if Seen(population, marked, n) >= chance {
			return n
		}
	}
	return population
}

// An Acceptance is how many of many like things to draw at random and test, and how many of those may miss, for all to be accepted.
type Acceptance struct {
	Population, Read, May int
	Good, Bad             int     // how many may miss in what should be accepted, and how many miss in what should not be
	Refused               float64 // the risk that all are refused though no more than Good miss: the contractor's
	Accepted              float64 // the risk that all are accepted though Bad miss: the owner's
}

// The shares that may and that may not miss, and the risks of a wrong answer about either: our choice. Plans of acceptance sampling by
// limiting quality work likewise (ISO 2859-2, from memory, unverified).
const (
	goodShare, badShare       = 0.01, 0.10
	mostRefused, mostAccepted = 0.05, 0.10
	fewestBad                 = 1
	errAcceptance             = "metrology: acceptance is of two things or more"
)

// AcceptanceOf returns the plan with the fewest to read whose risks are both within bounds, by the hypergeometric law:
//
//	P(X ≤ may | Bad) ≤ 0.10        1 - P(X ≤ may | Good) ≤ 0.05
//
// Bad is a tenth of all, one at least, and Good a hundredth, rounded down. It panics of fewer than two.
func AcceptanceOf(population int) Acceptance {
	if population < 2 {
		panic(errAcceptance)
	}
	a := Acceptance{Population: population, Good: int(goodShare * float64(population)), Bad: max(fewestBad, int(math.Round(badShare*float64(population))))}
	for ; a.May <= a.Bad; a.May++ {
		for a.Read = a.May + 1; a.Read < population && Drawn(population, a.Bad, a.Read, a.May) > mostAccepted; {
			a.Read++
		}
		a.Accepted, a.Refused = Drawn(population, a.Bad, a.Read, a.May), 1-Drawn(population, a.Good, a.Read, a.May)
		if a.Refused <= mostRefused {
			break
		}
	}
	return a
}
