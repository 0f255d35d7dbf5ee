package photometry

import (
	"fmt"
	"math"
)

// Thousands writes a whole number as the texts of every package show it, with a comma between each three digits; a dash for NaN.
func Thousands(x float64) string {
	if math.IsNaN(x) {
		return "-"
	}
	digits := fmt.Sprintf("%.0f", math.Abs(x))
	for i := len(digits) - 3; i > 0; i -= 3 {
		digits = digits[:i] + "," + digits[i:]
	}
	if x <= -0.5 {
		return "-" + digits
	}
	return digits
}

// Digits writes an illuminance, or a ratio of two, with the digits that it deserves: three figures, none after the point from 100 on; a
// dash for NaN.
func Digits(x float64) string {
	switch {
	case math.IsNaN(x):
		return "-"
	case math.Abs(x) >= 99.95:
		return fmt.Sprintf("%.0f", x)
	case math.Abs(x) >= 9.995:
		return fmt.Sprintf("%.1f", x)
	}
	return fmt.Sprintf("%.2f", x)
}

// Degrees writes a temperature, in degrees Celsius, on both scales in whole degrees: "16 °C (60 °F)".
func Degrees(celsius float64) string {
	return fmt.Sprintf("%.0f °C (%.0f °F)", celsius, FahrenheitFromCelsius(celsius))
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
