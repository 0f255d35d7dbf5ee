package photometry

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Thousands writes a whole number as the texts of every package show it, with a comma between each three digits; a dash for NaN.
func Thousands(x float64) string {
	if math.IsNaN(x) {
		return "-"
	}
	digits := Grouped(fmt.Sprintf("%.0f", math.Abs(x)), ",")
	if x <= -0.5 {
		return "-" + digits
	}
	return digits
}

// Grouped sets each three of a whole number's digits apart; what is no number stays.
func Grouped(digits, by string) string {
	for i := len(digits) - 3; i > 0 && '0' <= digits[0] && digits[0] <= '9'; i -= 3 {
		digits = digits[:i] + by + digits[i:]
	}
	return digits
}

// Digits writes an illuminance, or a ratio of two, with the digits that it deserves: three figures, none after the point from 100 on; a
// dash for NaN.
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

// Fixed writes a number with so many digits after the point, a zero without a sign; a dash for NaN.
func Fixed(x float64, digits int) string {
	if math.IsNaN(x) {
		return "-"
	}
	text := strconv.FormatFloat(x, 'f', digits, 64)
	if strings.Trim(text, "-0.") == "" {
		return strings.TrimPrefix(text, "-")
	}
	return text
}

// Signed writes a number as Fixed does, with its sign: "+5", "-5", "0".
func Signed(x float64, digits int) string {
	text := Fixed(x, digits)
	if !(x > 0) || strings.Trim(text, "0.") == "" {
		return text
	}
	return "+" + text
}

// Degrees writes a temperature, in degrees Celsius, on both scales in whole degrees: "16 °C (60 °F)".
func Degrees(celsius float64) string {
	return fmt.Sprintf("%s °C (%s °F)", Fixed(celsius, 0), Fixed(FahrenheitFromCelsius(celsius), 0))
}

// Finite tells that values are numbers all, neither NaN nor infinite.
func Finite(values ...float64) bool {
	for _, v := range values {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return false
		}
	}
	return true
}

// PlusMinus writes an illuminance, or a ratio, with what it may be off by, to as many digits after the point.
func PlusMinus(value, off float64) string {
	shown := Digits(value)
	_, decimals, _ := strings.Cut(shown, ".")
	return shown + " ± " + Fixed(off, len(decimals))
}
