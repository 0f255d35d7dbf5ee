// Package number finds round steps and writes numbers as they are read on paper: thousands set apart, the minus a minus.
package number

import (
	"math"
	"strconv"
	"strings"

	"lampswap/photometry"
	"lampswap/photometry/currency"
)

const minus = '−' // U+2212

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

// Numbers this large or small are written with an exponent: in full they would not fit.
const large, small = 1e10, 1e-5

// Exact formats a round number in full.
func Exact(x float64) string {
	if s, ok := withExponent(x); ok {
		return s
	}
	return group(strconv.FormatFloat(x, 'f', -1, 64))
}

// Signed formats a round number with its sign.
func Signed(x float64) string {
	if x > 0 {
		return "+" + Exact(x)
	}
	return Exact(x)
}

// Short formats a number to three digits, and to the unit from a thousand, without trailing zeros.
func Short(x float64) string {
	if s, ok := withExponent(x); ok {
		return s
	}
	if math.Abs(x) >= 999.5 {
		return Exact(math.Round(x))
	}
	rounded, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 3, 64), 64)
	if err != nil {
		return Exact(x)
	}
	return Exact(rounded)
}

// Reading formats a measured or computed number as it would be read: about three digits.
func Reading(x float64) string {
	decimals := 1
	switch a := math.Abs(x); {
	case a >= large:
		s, _ := withExponent(x)
		return s
	case a >= 99.95:
		decimals = 0
	case a < 0.995 && a > 0:
		decimals = 2
	}
	return group(strconv.FormatFloat(x, 'f', decimals, 64))
}

// Money formats an amount by the habits of its currency, to the unit, and with all its decimals where the whole figure is small.
func Money(code string, x float64, fine bool) string {
	amount := currency.Amount(code, x)
	if fine {
		amount = currency.Fine(code, x)
	}
	if short, ok := withExponent(x); ok && math.Abs(x) >= 1 {
		amount = currency.Around(code, strings.ReplaceAll(short, string(minus), "-"))
	}
	return strings.ReplaceAll(amount, "-", string(minus))
}

func withExponent(x float64) (string, bool) {
	if a := math.Abs(x); a == 0 || a >= small && a < large || math.IsNaN(x) {
		return "", false
	}
	mantissa, exponent, _ := strings.Cut(strconv.FormatFloat(x, 'e', 2, 64), "e")
	if strings.Contains(mantissa, ".") {
		mantissa = strings.TrimRight(strings.TrimRight(mantissa, "0"), ".")
	}
	n, err := strconv.Atoi(exponent)
	if err != nil { // an infinity
		return mantissa, true
	}
	return group(mantissa) + "e" + group(strconv.Itoa(n)), true
}

// SignedReading is Reading with the sign of a gain too.
func SignedReading(x float64) string {
	s := Reading(x)
	if x > 0 && strings.Trim(s, "0.") != "" {
		return "+" + s
	}
	return s
}

// group sets thousands apart and the sign in type.
func group(s string) string {
	sign := ""
	if rest, negative := strings.CutPrefix(s, "-"); negative {
		s = rest
		if strings.Trim(s, "0.") != "" {
			sign = string(minus)
		}
	}
	whole, fraction, decimal := strings.Cut(s, ".")
	whole = photometry.Grouped(whole, ",")
	if decimal {
		whole += "." + fraction
	}
	return sign + whole
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

// RoundDown returns the greatest of 1, 2 or 5 times a power of ten that is not above x, x > 0.
func RoundDown(x float64) float64 {
	return 1 / RoundUp(1/x)
}
