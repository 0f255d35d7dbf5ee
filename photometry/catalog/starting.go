package catalog

import (
	_ "embed"
	"math"
	"strings"
	"sync"

	"lampswap/photometry"
	"lampswap/photometry/internal/table"
)

//go:embed ballast_starting.csv
var ballastStartingCSV string

// A Starting is the least ambient from which ballasts of one technology start their lamps. The figure printed on the ballast at hand always counts.
type Starting struct {
	Technology      string  // electronic or magnetic
	FromCelsiusLow  float64 // some start from here; NaN where no figure was found
	FromCelsiusHigh float64 // others only from here; NaN likewise
	Source          string
	Confidence      string
}

var startings = sync.OnceValue(func() []Starting {
	rows := table.Load("ballast_starting", ballastStartingCSV, "technology", "starts_from_fahrenheit_low", "starts_from_fahrenheit_high", "source", "confidence")
	all := make([]Starting, len(rows))
	for i, r := range rows {
		all[i] = Starting{
			Technology:      r.Required("technology"),
			FromCelsiusLow:  photometry.CelsiusFromFahrenheit(r.NumberOr("starts_from_fahrenheit_low", math.NaN())),
			FromCelsiusHigh: photometry.CelsiusFromFahrenheit(r.NumberOr("starts_from_fahrenheit_high", math.NaN())),
			Source:          r.Text("source"), Confidence: r.Required("confidence"),
		}
	}
	return all
})

// Starting returns from which ambient ballasts of this one's technology start; ok is false where there is no ballast (kind "none").
func (b Ballast) Starting() (starting Starting, ok bool) {
	if b.Kind == KindNone {
		return Starting{}, false
	}
	for _, s := range startings() {
		if strings.Contains(b.Description, s.Technology) {
			return s, true
		}
	}
	return Starting{}, false
}
