package chart

import "math"

// Multiple returns n steps without the rounding error of a step such as 0.1.
func Multiple(n, step float64) float64 {
	if step < 1 {
		return n / math.Round(1/step)
	}
	return n * step
}

// RoundUp returns the least of 1, 2 or 5 times a power of ten that is not below x, x > 0.
func RoundUp(x float64) float64 {
	exponent := math.Floor(math.Log10(x))
	for e := exponent; ; e++ {
		for _, m := range []float64{1, 2, 5} {
			step := m * math.Pow(10, e)
			if e < 0 {
				step = m / math.Pow(10, -e)
			}
			if step >= x*(1-1e-12) {
				return step
			}
		}
	}
}

// RoundDown returns the greatest of 1, 2 or 5 times a power of ten that is not above x, x > 0.
func RoundDown(x float64) float64 {
	return 1 / RoundUp(1/x)
}

// Ticks returns round positions between two ends, ends included where they are round, with at most n intervals.
func Ticks(from, to float64, n int) []float64 {
	step := RoundUp((to - from) / float64(max(n, 1)))
	var at []float64
	for k := math.Ceil(from/step - 1e-9); k <= to/step+1e-9; k++ {
		at = append(at, Multiple(k, step))
	}
	return at
}
