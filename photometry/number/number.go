// Package number writes numbers for people: with the digits that they deserve, thousands set apart, a zero without a sign and a dash where
// there is none. Texts have a hyphen for a minus; what is written on figures, in paper.go, has the sign.
package number

import (
	"math"
	"strconv"
	"strings"
)

// none stands for NaN.
const none = "-"

// Fixed writes a number with so many digits after the point, all that it has if they are below 0.
func Fixed(x float64, digits int) string {
	if math.IsNaN(x) {
		return none
	}
	text := strconv.FormatFloat(x, 'f', digits, 64)
	if isZero(text) {
		return strings.TrimPrefix(text, "-")
	}
	return text
}

func isZero(text string) bool { return strings.Trim(text, "-0.") == "" }

// Decimals is Fixed with so many digits.
func Decimals(digits int) func(float64) string {
	return func(x float64) string { return Fixed(x, digits) }
}

// Digits writes an illuminance, or a ratio of two, with the digits that it deserves: three figures, none after the point from 100 on.
func Digits(x float64) string { return Finer(x, 0) }

// Finer writes a value as Digits does, with more digits after the point.
func Finer(x float64, more int) string {
	switch {
	case math.Abs(x) >= 99.95:
		return Fixed(x, more)
	case math.Abs(x) >= 9.995:
		return Fixed(x, 1+more)
	}
	return Fixed(x, 2+more)
}

// PlusMinus writes an illuminance, or a ratio, with what it may be off by, to as many digits after the point.
func PlusMinus(value, off float64) string {
	shown := Digits(value)
	_, decimals, _ := strings.Cut(shown, ".")
	return shown + " ± " + Fixed(off, len(decimals))
}

// Signed writes a number as Fixed does, with its sign: "+5", "-5", "0".
func Signed(x float64, digits int) string { return signed(x, Fixed(x, digits)) }

// signed puts the sign of a gain to a number that is written already.
func signed(x float64, text string) string {
	if x > 0 && !isZero(text) {
		return "+" + text
	}
	return text
}

// Percent is a change in whole percent with its sign; "" where there is nothing to compare.
func Percent(before, after float64) string {
	change := 100 * (after/before - 1)
	if math.IsNaN(change) || math.IsInf(change, 0) { // of nothing, or of next to nothing
		return ""
	}
	return Signed(change, 0) + " %"
}

// Thousands writes a whole number with a comma between each three digits.
func Thousands(x float64) string { return Grouped(Fixed(x, 0), ",") }

// Grouped sets each three digits of a number apart, but for those behind its point; what is no number stays.
func Grouped(text, by string) string {
	begin := len(text) - len(strings.TrimLeft(text, "-"))
	end := len(text) - len(strings.TrimLeft(text[begin:], "0123456789"))
	for i := end - 3; i > begin; i -= 3 {
		text = text[:i] + by + text[i:]
	}
	return text
}

// Significant rounds a number to so many figures.
func Significant(x float64, figures int) float64 {
	rounded, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', figures, 64), 64)
	if err != nil { // beyond the largest
		return x
	}
	return rounded
}

// Round returns the nearest multiple of the step, free of the noise of binary fractions.
func Round(x, step float64) float64 {
	perUnit := math.Round(1 / step)
	return math.Round(x*perUnit) / perUnit
}
