// Package typeset turns what is written for a terminal into what is read on paper: signs and capitals.
package typeset

import (
	"fmt"
	"regexp"
	"strings"
)

// paperSigns are the signs of a terminal as paper has them.
var paperSigns = strings.NewReplacer(">=", "≥ ", "<=", "≤ ", "W/ft2", "W/ft²", "W/m2", "W/m²", "cd/m2", "cd/m²", "lm/ft2", "lm/ft²", " ft2", " ft²", " m2", " m²", " CO2 ", " CO₂ ")

// times is the sign between a number of lamps and their name.
var times = regexp.MustCompile(`\b(\d+) x `)

// minus is the sign of a number below zero; a hyphen between letters or digits is none.
var minus = regexp.MustCompile(`(^|[ (])-(\d)`)

// Text writes a text of the terminal with the signs that paper has; a dash alone stands for nothing.
func Text(s string) string {
	if s == "-" {
		return "–"
	}
	return minus.ReplaceAllString(times.ReplaceAllString(paperSigns.Replace(s), "$1 × "), "$1−$2")
}

// Count writes a number of things: 1 row, 5 rows.
func Count(n int, one string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %ss", n, one)
}

// All is Text of each, with a capital first.
func All(texts []string) []string {
	all := make([]string, len(texts))
	for i, t := range texts {
		all[i] = Capital(Text(t))
	}
	return all
}

// Capital writes the first letter as a capital, unless it is that of a unit: KW is none.
func Capital(s string) string {
	if first, _, _ := strings.Cut(s, " "); first == "kW" || first == "kWh" || first == "h" {
		return s
	}
	for i, r := range s {
		return strings.ToUpper(string(r)) + s[i+len(string(r)):]
	}
	return s
}
