package units

import (
	"fmt"
	"math"

	"lampswap/photometry"
)

// Percent is a change in whole percent with its sign; "" where there is nothing to compare.
func Percent(before, after float64) string {
	if before == 0 || math.IsNaN(before) || math.IsNaN(after) {
		return ""
	}
	change := 100 * (after/before - 1)
	switch {
	case math.IsInf(change, 0): // from next to nothing
		return ""
	case math.Abs(change) < 0.5:
		return "0 %"
	}
	return fmt.Sprintf("%+.0f %%", change)
}

// Decimals writes numbers with so many digits behind the point, and a dash where there is none.
func Decimals(n int) func(float64) string {
	return func(x float64) string {
		return photometry.Fixed(x, n)
	}
}

// Thousands writes a whole number as the texts of the library do, with commas.
func Thousands(x float64) string { return photometry.Thousands(x) }

// Round returns the nearest multiple of the step, free of the noise of binary fractions.
func Round(x, step float64) float64 {
	perUnit := math.Round(1 / step)
	return math.Round(x*perUnit) / perUnit
}
