package levels

import (
	_ "embed"
	"slices"
	"strings"
	"sync"

	"lampswap/photometry/internal/table"
)

//go:embed rules.csv
var rulesCSV string

// A Rule says in a sentence which light level binds where, or that none does.
type Rule struct {
	Place      string
	Of         string   // "US", or a state of it as "US-CA"
	About      []string // ids of package spaces; none where it is about every workplace, or about special work alone
	Special    bool     // it is about special work, as construction, whatever the space
	Says       string
	Level      string // a name that Find knows
	Source     string
	Confidence string
}

var rules = sync.OnceValue(func() []Rule {
	rows := table.Load("rules", rulesCSV, "place", "of", "about", "says", "level", "source", "confidence")
	all := make([]Rule, len(rows))
	for i, r := range rows {
		all[i] = Rule{
			Place: r.Required("place"), Of: r.Required("of"), Says: r.Required("says"), Level: r.Required("level"),
			Source: r.Text("source"), Confidence: r.Required("confidence"),
		}
		switch about := r.Required("about"); about {
		case "any":
		case "special work":
			all[i].Special = true
		default:
			all[i].About = strings.Split(about, ";")
		}
	}
	return all
})

// Rules returns which level binds where; the first says that no US federal rule sets one for a working warehouse.
func Rules() []Rule { return slices.Clone(rules()) }

// Concerns tells that a rule is about a kind of space, by its id; "" is a space of which nothing is known.
func (r Rule) Concerns(space string) bool {
	return !r.Special && (r.About == nil || slices.Contains(r.About, space))
}
