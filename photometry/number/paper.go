package number

import (
	"math"
	"strconv"
	"strings"
)

// Numbers this large or small are written with an exponent: in full they would not fit on a figure.
const large, small = 1e10, 1e-5

// Exact writes a round number in full, as it is read on figures.
func Exact(x float64) string {
	if text, ok := WithExponent(x); ok {
		return OnFigure(text)
	}
	return OnFigure(Grouped(Fixed(x, -1), ","))
}

// SignedExact is Exact with the sign of a gain too.
func SignedExact(x float64) string { return signed(x, Exact(x)) }

// Short writes a number to three figures, and to the unit from a thousand, without trailing zeros.
func Short(x float64) string {
	switch a := math.Abs(x); {
	case a < small || a >= large:
		return Exact(x)
	case a >= 999.5:
		return Exact(math.Round(x))
	}
	return Exact(Significant(x, 3))
}

// Reading writes a measured or computed number as it would be read: about three figures.
func Reading(x float64) string {
	decimals := 1
	switch a := math.Abs(x); {
	case a >= large:
		return Exact(x)
	case a >= 99.95:
		decimals = 0
	case a < 0.995 && a > 0:
		decimals = 2
	}
	return OnFigure(Grouped(Fixed(x, decimals), ","))
}

// SignedReading is Reading with the sign of a gain too.
func SignedReading(x float64) string { return signed(x, Reading(x)) }

// OnFigure gives a number that is written already the sign of paper for its minus, U+2212.
func OnFigure(text string) string { return strings.ReplaceAll(text, "-", "−") }

// WithExponent writes a number that is too large or too small for anything else.
func WithExponent(x float64) (text string, ok bool) {
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
	return mantissa + "e" + strconv.Itoa(n), true
}
