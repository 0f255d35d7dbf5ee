package photometry

import (
	"math"

	"lampswap/photometry/number"
)

// Conversions between the units of the trade and SI. Inside the library every length is in m and every illuminance in lx.
const (
	Foot       = 0.3048            // m; exact, international foot of 1959
	Inch       = Foot / 12         // m
	Footcandle = 1 / (Foot * Foot) // lx; one lumen a square foot
)

// CelsiusFromFahrenheit returns a temperature in degrees Celsius, given in degrees Fahrenheit; exact, (f - 32) / 1.8.
func CelsiusFromFahrenheit(f float64) float64 { return (f - 32) / 1.8 }

// FahrenheitFromCelsius returns a temperature in degrees Fahrenheit, given in degrees Celsius; exact, 1.8 c + 32.
func FahrenheitFromCelsius(c float64) float64 { return c*1.8 + 32 }

// Degrees writes a temperature, in degrees Celsius, on both scales in whole degrees: "16 °C (60 °F)".
func Degrees(celsius float64) string {
	return number.Fixed(celsius, 0) + " °C (" + number.Fixed(FahrenheitFromCelsius(celsius), 0) + " °F)"
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
