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

const (
	// TotalOutput is over all the electricity generated: the rate for electricity used.
	TotalOutput Kind = iota
	// NonBaseload is over the plants that follow the demand: the rate for electricity saved.
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
	return all
})

// Rates returns the rates of the country and of grid regions, in the order of the table; those of states come with the states.
func Rates() []Rate { return slices.Clone(rates()) }

// FindRate returns a rate by its id, those of states included: "ca-2023" over generation, "ca-2023-delivered" over delivered energy.
// Letter case does not count.
func FindRate(id string) (rate Rate, ok bool) {
	for _, r := range rates() {
		if strings.EqualFold(r.ID, id) {
			return r, true
		}
	}
	for _, s := range states() {
		for _, r := range []Rate{s.generated, s.delivered} {
			if s.emits && strings.EqualFold(r.ID, id) {
				return r, true
			}
		}
	}
	return Rate{}, false
}

// RateIDs returns every id that FindRate knows: country and regions first, then the states.
func RateIDs() []string {
	var ids []string
	for _, r := range rates() {
		ids = append(ids, r.ID)
	}
	for _, s := range states() {
		if s.emits {
			ids = append(ids, s.generated.ID, s.delivered.ID)
		}
	}
	return ids
}

// RatesFor returns what is known of a kind for a state, by its two letters: of grid regions that touch it, then the state's own over
// generation. It is empty where nothing is known; a rate of the country is not among them.
func RatesFor(code string, kind Kind) []Rate {
	var all []Rate
	for _, r := range rates() {
		if r.Kind == kind && slices.ContainsFunc(r.States, func(s string) bool { return strings.EqualFold(s, code) }) {
			all = append(all, r)
		}
	}
	for _, s := range states() {
		if s.emits && kind == TotalOutput && strings.EqualFold(s.Code, code) {
			all = append(all, s.generated)
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

// An Application says which kind of rate goes with electricity used or saved.
type Application struct {
	Electricity string // "used", "saved"
	Kind        Kind
	Says        string
	Source      string
	Confidence  string
}

// Applications returns which kind of rate goes with electricity used and which with electricity saved.
func Applications() []Application {
	const source = "EPA greenhouse gas equivalencies page, as it stands since 2024"
	return []Application{
		{"used", TotalOutput, "Electricity used is counted at the total-output rate: the average over all plants.", source, "seen"},
		{"saved", NonBaseload, "Electricity saved is counted at the non-baseload rate, that of the plants which follow the demand; " +
			"before 2024 EPA took marginal rates of another of its models.", source, "seen"},
	}
}
