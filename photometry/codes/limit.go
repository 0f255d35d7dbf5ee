package codes

import (
	_ "embed"
	"fmt"
	"slices"
	"strings"
	"sync"

	"lampswap/photometry"
	"lampswap/photometry/internal/table"
)

//go:embed limits.csv
var limitsCSV string

// A Limit is the most lighting power that an edition of an energy code allows over the floor of a building or of a kind of space.
type Limit struct {
	ID         string
	Code       string  // "ASHRAE 90.1", "IECC", "Washington local energy code"
	Year       string  // of the edition; "unknown" where it could not be read
	Method     string  // BuildingArea or SpaceBySpace
	Space      string  // kind of building or of space
	WPerFt2    float64 // W/ft2 of gross lit floor, as printed
	Table      string  // number of the code's table; empty where not known
	Source     string
	Confidence string // of the limit
	Notes      string

	tableConfidence string
}

// The methods by which a code limits power: over a building as a whole, or over each space of a kind.
const (
	BuildingArea = "building area"
	SpaceBySpace = "space by space"
)

var limits = sync.OnceValue(func() []Limit {
	rows := table.Load("limits", limitsCSV, "id", "code", "edition", "method", "space", "w_per_ft2", "table", "table_confidence",
		"confidence", "source", "notes")
	all := make([]Limit, len(rows))
	for i, r := range rows {
		all[i] = Limit{
			ID: r.Required("id"), Code: r.Required("code"), Year: r.Required("edition"), Method: r.Required("method"), Space: r.Required("space"),
			WPerFt2: r.Number("w_per_ft2"), Table: r.Text("table"), Source: r.Text("source"), Confidence: r.Confidence("confidence"),
			Notes: r.Text("notes"),
		}
		if all[i].Table != "" {
			all[i].tableConfidence = r.Confidence("table_confidence")
		}
	}
	return all
})

// Limits returns all the limits, in the order of the table.
func Limits() []Limit { return slices.Clone(limits()) }

// LimitsAbout returns the limits of all editions for any of the named buildings and spaces, in the order of the table.
func LimitsAbout(spaces []string) []Limit {
	var all []Limit
	for _, l := range limits() {
		if slices.Contains(spaces, l.Space) {
			all = append(all, l)
		}
	}
	return all
}

// Find returns the limit of that id, such as "iecc-2021-area-warehouse". Letter case does not count.
func Find(id string) (limit Limit, ok bool) {
	for _, l := range limits() {
		if strings.EqualFold(l.ID, strings.TrimSpace(id)) {
			return l, true
		}
	}
	return Limit{}, false
}

// Edition returns the id of the edition that the limit belongs to: "ashrae-90.1-2019", "iecc-2021".
func (l Limit) Edition() string { return editionID(l.Code + "-" + l.Year) }

func editionID(words string) string {
	return strings.ToLower(strings.Join(strings.Fields(strings.ReplaceAll(words, "-", " ")), "-"))
}

// Editions returns the ids of all editions, in the order of the table.
func Editions() []string {
	var all []string
	for _, l := range limits() {
		if id := l.Edition(); !slices.Contains(all, id) {
			all = append(all, id)
		}
	}
	return all
}

// FindEdition returns the id of an edition named in any of the usual ways: "ashrae-90.1-2019", "ASHRAE 90.1-2019", "90.1-2019",
// "IECC 2021".
func FindEdition(words string) (id string, ok bool) {
	asked := editionID(words)
	for _, id := range Editions() {
		if asked == id || asked != "" && "ashrae-"+asked == id {
			return id, true
		}
	}
	return "", false
}

// LimitsFor returns the limits of an edition, named as FindEdition takes it, in the order of the table; none where the edition is
// not known.
func LimitsFor(edition string) []Limit {
	id, ok := FindEdition(edition)
	if !ok {
		return nil
	}
	var all []Limit
	for _, l := range limits() {
		if l.Edition() == id {
			all = append(all, l)
		}
	}
	return all
}

// WattsPerSquareMetre returns the limit in W/m2, converted exactly; the SI edition prints it rounded.
func (l Limit) WattsPerSquareMetre() float64 { return l.WPerFt2 / (photometry.Foot * photometry.Foot) }

// WPerFt2FromSI returns a density, given in W/m2, in W/ft2, the unit of the limits; exact.
func WPerFt2FromSI(density float64) float64 { return density * photometry.Foot * photometry.Foot }

// Met tells whether a density, W/m2, stays within the limit, in the unit in which it is printed.
func (l Limit) Met(density float64) bool {
	const rounding = 1e-9 // relative
	return WPerFt2FromSI(density) <= l.WPerFt2*(1+rounding)
}

// FromMemory tells that the limit is from memory, unverified, and must not be shown as published.
func (l Limit) FromMemory() bool { return table.FromMemory(l.Confidence) }

// Label names the limit for a list: code, edition, method, space.
func (l Limit) Label() string {
	return fmt.Sprintf("%s, %s method: %s", l.name(), l.Method, l.Space)
}

func (l Limit) name() string {
	switch {
	case l.Year == "unknown":
		return l.Code + ", edition unknown"
	case l.Code == "ASHRAE 90.1":
		return l.Code + "-" + l.Year
	}
	return l.Code + " " + l.Year
}

// Citation returns the code, its table and where the number was read, in one line.
func (l Limit) Citation() string {
	at := l.name()
	if l.Table != "" {
		at += ", table " + l.Table
		if table.FromMemory(l.tableConfidence) && !l.FromMemory() {
			at += " (table number from memory, unverified)"
		}
	}
	return at + "; " + l.Source
}

// Caveat returns what a reader must know beside the number, in one line.
func (l Limit) Caveat() string {
	parts := []string{"binds where this edition is adopted"}
	if words := table.ConfidenceWords(l.Confidence); words != "" {
		parts = append(parts, words)
	} else if strings.Contains(l.Source, "data set") {
		parts = append(parts, "from a public data set that copies the code: check the adopted code itself")
	}
	if l.Notes != "" {
		parts = append(parts, l.Notes)
	}
	return strings.Join(parts, "; ")
}
