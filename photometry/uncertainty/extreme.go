package uncertainty

import (
	"math"
)

// extreme finds the least or the greatest sum of the light of several kinds of luminaire at a point of a grid, each kind's light times its value of a
// sample. Only points that may be the one in some sample are looked at: what all kinds have in common moves no point before another, and what is
// left of their differences is small.
func extreme(parts, light [][]float64, which gridStatistic) func(sample int) float64 {
	sign := 1.0
	if which == maximum {
		sign = -1
	}
	low, high := apart(light)
	// a point is one if its best is not worse than what every point can be sure of
	best, bound := make([]float64, len(parts[0])), math.Inf(1)
	for p := range best {
		sure := 0.0
		for i, values := range parts {
			a, b := sign*values[p]*low[i], sign*values[p]*high[i]
			best[p], sure = best[p]+min(a, b), sure+max(a, b)
		}
		if !math.IsNaN(sure) { // inside a rack
			bound = min(bound, sure)
		}
	}
	var points []int
	for p, x := range best {
		if x <= bound {
			points = append(points, p)
		}
	}
	return func(k int) float64 {
		least := math.Inf(1)
		for _, p := range points {
			sum := 0.0
			for i, values := range parts {
				sum += values[p] * light[i][k]
			}
			least = min(least, sign*sum)
		}
		return sign * least
	}
}

// apart is between what values the light of each kind lies over that of all in the same sample.
func apart(light [][]float64) (low, high []float64) {
	low, high = make([]float64, len(light)), make([]float64, len(light))
	for i := range low {
		low[i], high[i] = math.Inf(1), 0
	}
	for k := range light[0] {
		sum := 0.0
		for _, of := range light {
			sum += of[k]
		}
		if !(sum > 0) {
			continue // no light at all: every point is as dark
		}
		for i, of := range light {
			low[i], high[i] = min(low[i], of[k]/sum), max(high[i], of[k]/sum)
		}
	}
	return low, high
}
