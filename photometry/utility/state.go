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

	generated, delivered Rate
	emits                bool // the rates are known
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
			s.emits = true
			s.generated = s.rate(generated)
			s.delivered = s.rate(r.Number("co2_kg_per_kwh_delivered"))
			s.delivered.ID += "-delivered"
			s.delivered.Delivered = true
			s.delivered.Notes = "losses of transmission and distribution included; " + s.delivered.Notes
		}
		all[i] = s
	}
	return all
})

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

// FindState returns a state by its two letters or its full name; letter case and spaces around do not count.
func FindState(word string) (state State, ok bool) {
	asked := strings.Join(strings.Fields(word), " ")
	for _, s := range states() {
		if strings.EqualFold(s.Code, asked) || strings.EqualFold(s.Name, asked) {
			return s, true
		}
	}
	return State{}, false
}

// PricePerKWh returns the average price in US dollars.
func (s State) PricePerKWh() float64 { return s.CentsPerKWh / 100 }

// Generated returns CO2 of the generation inside the state over that generation; ok is false where it is not known (Alaska, Hawaii).
func (s State) Generated() (rate Rate, ok bool) { return s.generated, s.emits }

// Delivered returns CO2 of the generation inside the state over the energy that arrives at the customers, which is right for
// energy metered there; ok is false where it is not known (Alaska, Hawaii).
func (s State) Delivered() (rate Rate, ok bool) { return s.delivered, s.emits }

// PriceCaveat says in a sentence what a reader must know beside an average price of this table.
func PriceCaveat() string {
	return "An average price is revenue over kWh and holds demand and fixed charges already: adding a demand charge counts demand twice; " +
		"with a demand charge take the energy part of the customer's tariff."
}
