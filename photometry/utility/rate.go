package utility

import (
	_ "embed"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"

	"lampswap/photometry/internal/table"
)

//go:embed rates.csv
var ratesCSV string

// Pound is the avoirdupois pound in kg; exact, international pound of 1959.
const Pound = 0.45359237

// A Kind is what a rate of CO2 is an average over.
type Kind int

// The kinds. Which goes with what: EPA greenhouse gas equivalencies page, as it stands since 2024 (seen).
const (
	// TotalOutput is over all the electricity generated: the rate for electricity used.
	TotalOutput Kind = iota
	// NonBaseload is over the plants that follow the demand: the rate for electricity saved. Before 2024 EPA took marginal rates of
	// another of its models.
	NonBaseload
)

// String is the trade's word: "total output" or "non-baseload".
func (k Kind) String() string {
	switch k {
	case TotalOutput:
		return "total output"
	case NonBaseload:
		return "non-baseload"
	}
	return "unknown kind " + strconv.Itoa(int(k))
}

// A Rate is how much CO2 goes with a kWh.
type Rate struct {
	ID         string // "us-2022", "ca-2023", "aznm-2022-non-baseload"
	Place      string
	States     []string // codes of the states that it touches; empty for the whole country
	Year       int      // of the data
	Kind       Kind
	Delivered  bool    // over the energy that arrives at the customers; else over the generation
	KgPerKWh   float64 // the rate in kg/kWh
	Published  float64 // the rate as published, in Unit
	Unit       string  // "kg/kWh", "lb/kWh", "lb/MWh"
	Source     string
	Confidence string
	Notes      string
}

var units = map[string]float64{"kg/kWh": 1, "lb/kWh": Pound, "lb/MWh": Pound / 1000} // in kg/kWh

var rates = sync.OnceValue(func() []Rate {
	rows := table.Load("rates", ratesCSV, "id", "place", "states", "year", "kind", "published", "unit", "source", "confidence", "notes")
	all := make([]Rate, len(rows))
	for i, r := range rows {
		unit, ok := units[r.Text("unit")]
		if !ok {
			r.Fail("unit", "is not known")
		}
		kind, ok := map[string]Kind{"total-output": TotalOutput, "non-baseload": NonBaseload}[r.Text("kind")]
		if !ok {
			r.Fail("kind", "is not known")
		}
		all[i] = Rate{
			ID: r.Required("id"), Place: r.Required("place"), States: strings.Fields(r.Text("states")), Year: r.Count("year"), Kind: kind,
			Published: r.Number("published"), Unit: r.Text("unit"), KgPerKWh: r.Number("published") * unit,
			Source: r.Text("source"), Confidence: r.Confidence("confidence"), Notes: r.Text("notes"),
		}
	}
	for _, s := range states() {
		all = append(all, s.rates...)
	}
	return all
})

// Rates returns all the rates: those of the country and of grid regions in the order of the table, then those of states in the order of
// their codes.
func Rates() []Rate { return slices.Clone(rates()) }

// FindRate returns a rate by its id. That of a state is "ca-2023" over the generation inside it, and "ca-2023-delivered" over the energy
// that arrives at its customers, which is right for energy metered there; Alaska and Hawaii have none. Letter case does not count. ok is
// false for an id that is not known.
func FindRate(id string) (rate Rate, ok bool) {
	for _, r := range rates() {
		if strings.EqualFold(r.ID, id) {
			return r, true
		}
	}
	return Rate{}, false
}

// RatesFor returns what is known of a kind for a state, by its two letters: of grid regions that touch it, then the state's own over
// its generation. It is empty where nothing is known; a rate of the country is not among them.
func RatesFor(code string, kind Kind) []Rate {
	var all []Rate
	for _, r := range rates() {
		if r.Kind == kind && !r.Delivered && slices.ContainsFunc(r.States, func(s string) bool { return strings.EqualFold(s, code) }) {
			all = append(all, r)
		}
	}
	return all
}

// FromMemory tells that the rate is from memory, unverified, and must not be shown as published.
func (r Rate) FromMemory() bool { return table.FromMemory(r.Confidence) }

// Label names the rate for a result: place, kind, year, value as published.
func (r Rate) Label() string {
	over := ""
	if r.Delivered {
		over = ", delivered"
	}
	return fmt.Sprintf("%s, %s%s, %d: %g %s", r.Place, r.Kind, over, r.Year, r.Published, r.Unit)
}

// Caveat returns what a reader must know beside the rate, in one line; it is empty where there is nothing. For a total-output rate
// it says that savings are to be counted otherwise.
func (r Rate) Caveat() string {
	var parts []string
	if words := table.ConfidenceWords(r.Confidence); words != "" {
		parts = append(parts, words)
	}
	if r.Kind == TotalOutput {
		parts = append(parts, "an average rate: EPA takes the non-baseload rate for electricity saved, and the two can differ threefold")
	}
	if r.Notes != "" {
		parts = append(parts, r.Notes)
	}
	return strings.Join(parts, "; ")
}
