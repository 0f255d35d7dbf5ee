package codes

import (
	_ "embed"
	"slices"
	"strconv"
	"strings"
	"sync"

	"lampswap/photometry/internal/table"
)

//go:embed alterations.csv
var alterationsCSV string

// An Alteration says when a change to an existing building has to meet the limits of an edition, or what comes with it.
type Alteration struct {
	ID         string
	Says       string
	Source     string
	Confidence string

	codes    []string // none: every code
	from, to int      // years of editions, both included; 0 is open
}

var alterations = sync.OnceValue(func() []Alteration {
	rows := table.Load("alterations", alterationsCSV, "id", "codes", "from", "to", "says", "source", "confidence")
	all := make([]Alteration, len(rows))
	for i, r := range rows {
		all[i] = Alteration{
			ID: r.Required("id"), Says: r.Required("says"), Source: r.Text("source"), Confidence: r.Confidence("confidence"),
			from: int(r.NumberOr("from", 0)), to: int(r.NumberOr("to", 0)),
		}
		if codes := r.Text("codes"); codes != "" {
			all[i].codes = strings.Split(codes, ",")
		}
	}
	return all
})

// WhenAltered returns when an alteration has to meet an edition, named as FindEdition takes it: what holds everywhere and what was
// found for that edition. It is empty where the edition is not known.
func WhenAltered(edition string) []Alteration {
	all := LimitsFor(edition)
	if len(all) == 0 {
		return nil
	}
	code := all[0].Code
	year, err := strconv.Atoi(all[0].Year)
	dated := err == nil
	return slices.DeleteFunc(slices.Clone(alterations()), func(a Alteration) bool {
		if a.codes == nil {
			return false
		}
		return !dated || !slices.Contains(a.codes, code) || year < a.from || a.to != 0 && year > a.to
	})
}

// FromMemory tells that the rule is from memory, unverified, and must not be shown as published.
func (a Alteration) FromMemory() bool { return table.FromMemory(a.Confidence) }
