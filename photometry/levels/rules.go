package levels

import (
	_ "embed"
	"slices"
	"sync"

	"lampswap/photometry/internal/table"
)

//go:embed rules.csv
var rulesCSV string

// A Rule says in a sentence which light level binds where, or that none does.
type Rule struct {
	Place      string
	Says       string
	Level      string // a name that Find knows
	Source     string
	Confidence string
}

var rules = sync.OnceValue(func() []Rule {
	rows := table.Load("rules", rulesCSV, "place", "says", "level", "source", "confidence")
	all := make([]Rule, len(rows))
	for i, r := range rows {
		all[i] = Rule{
			Place: r.Required("place"), Says: r.Required("says"), Level: r.Required("level"),
			Source: r.Text("source"), Confidence: r.Required("confidence"),
		}
	}
	return all
})

// Rules returns which level binds where; the first says that no US federal rule sets one for a working warehouse.
func Rules() []Rule { return slices.Clone(rules()) }
