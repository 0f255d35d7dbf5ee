package lifecycle

import "math"

// Figures of the federal programme, for callers that want a default to name.
const (
	// FederalDiscountRate is the least real discount rate of the US Department of Energy's yearly factors: from memory, unverified.
	FederalDiscountRate = 0.03
	// FederalMostYears is the longest study period of the federal programme; the life of the system counts if it is shorter.
	// Source: 42 USC 8254(a).
	FederalMostYears = 40
)

const badFactor = "lifecycle: a rate must be above -1 and years must not be negative"

// SPV returns the present value, a pure factor, of 1 paid at the end of the given year: (1 + rate)^-years.
// It panics if rate is not above -1 or years is negative.
func SPV(rate float64, years int) float64 {
	checkFactor(rate, years)
	return math.Pow(1+rate, -float64(years))
}

// UPV returns the present value of 1 paid at the end of each year: (1 - (1 + rate)^-years) / rate, which is years at rate 0.
// It panics if rate is not above -1 or years is negative.
func UPV(rate float64, years int) float64 {
	checkFactor(rate, years)
	n := float64(years)
	if rate == 0 {
		return n
	}
	return -math.Expm1(-n*math.Log1p(rate)) / rate // the same without the digits lost at small rates
}

// EscalatedUPV returns the present value of a yearly payment that is 1 at today's price and rises by escalation a year, first
// for year 1: the sum of ((1 + escalation) / (1 + rate))^t over the years. At escalation = rate it is years.
// It panics if rate or escalation is not above -1 or years is negative.
func EscalatedUPV(rate, escalation float64, years int) float64 {
	checkFactor(rate, years)
	checkFactor(escalation, years)
	return UPV((rate-escalation)/(1+escalation), years) // discounting by (1+d)/(1+e) is discounting at (d-e)/(1+e)
}

func checkFactor(rate float64, years int) {
	if !(rate > -1) || years < 0 {
		panic(badFactor)
	}
}
