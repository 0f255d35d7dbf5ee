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
