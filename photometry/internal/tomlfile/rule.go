package tomlfile

import "strconv"

// A Rule tells which numbers a key may have, and says so in words.
type Rule struct {
	Want  string
	Holds func(float64) bool
}

// Any takes every finite number.
var Any = Rule{"any number", func(float64) bool { return true }}

// Positive takes numbers above 0.
var Positive = Rule{"a number above 0", func(x float64) bool { return x > 0 }}

// NotNegative takes 0 and numbers above.
var NotNegative = Rule{"a number of at least 0", func(x float64) bool { return x >= 0 }}

// Fraction takes 0 to 1.
var Fraction = Between(0, 1)

// Between takes the numbers from least to most.
func Between(least, most float64) Rule {
	return Rule{"a number from " + plain(least) + " to " + plain(most), func(x float64) bool { return x >= least && x <= most }}
}

// plain writes a number without an exponent.
func plain(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }
