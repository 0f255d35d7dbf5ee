package utility

import (
	_ "embed"
	"slices"
	"strconv"
	"strings"
	"sync"

	"lampswap/photometry/internal/table"
)

//go:embed states.csv
var statesCSV string

// A State is one of the United States, or the District of Columbia.
type State struct {
	Code        string // two letters
	Name        string
	Year        int     // of price and rates
	CentsPerKWh float64 // US cents, as published: the average over commercial customers, demand and fixed charges included
	Source      string
	Confidence  string

	rates []Rate // over generation, then over delivered energy; nil where they are not known
}

var states = sync.OnceValue(func() []State {
	rows := table.Load("states", statesCSV, "state", "name", "year", "commercial_cents_per_kwh", "co2_kg_per_kwh_generated",
		"co2_kg_per_kwh_delivered", "co2_lb_per_mwh_generated", "source", "confidence")
	all := make([]State, len(rows))
	for i, r := range rows {
		s := State{
			Code: r.Required("state"), Name: r.Required("name"), Year: r.Count("year"), CentsPerKWh: r.Number("commercial_cents_per_kwh"),
			Source: r.Text("source"), Confidence: r.Confidence("confidence"),
		}
		if generated, ok := r.Optional("co2_kg_per_kwh_generated"); ok {
			delivered := s.rate(r.Number("co2_kg_per_kwh_delivered"))
			delivered.ID += "-delivered"
			delivered.Delivered = true
			delivered.Notes = "losses of transmission and distribution included; " + delivered.Notes
			s.rates = []Rate{s.rate(generated), delivered}
		}
		all[i] = s
	}
	return all
})

// rate is the state's own, of the generation inside it.
func (s State) rate(kgPerKWh float64) Rate {
	return Rate{
		ID: strings.ToLower(s.Code) + "-" + strconv.Itoa(s.Year), Place: s.Name, States: []string{s.Code}, Year: s.Year, Kind: TotalOutput,
		KgPerKWh: kgPerKWh, Published: kgPerKWh, Unit: "kg/kWh",
		Source:     "EIA 2023 state generation and CO2 as compiled in a US DOE building-stock data set",
		Confidence: s.Confidence, Notes: "generation inside the state, imports left out",
	}
}

// States returns the fifty states and the District of Columbia, in the order of their codes.
func States() []State { return slices.Clone(states()) }

// FindState returns a state by its two letters or its full name; letter case and spaces around do not count. ok is false for
// anything else.
func FindState(word string) (state State, ok bool) {
	asked := strings.Join(strings.Fields(word), " ")
	for _, s := range states() {
		if strings.EqualFold(s.Code, asked) || strings.EqualFold(s.Name, asked) {
			return s, true
		}
	}
	return State{}, false
}

// PricePerKWh returns the average price, US dollars per kWh.
func (s State) PricePerKWh() float64 { return s.CentsPerKWh / 100 }
