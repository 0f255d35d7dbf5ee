package catalog

import (
	_ "embed"
	"fmt"
	"strings"
	"sync"

	"lampswap/photometry/internal/table"
)

//go:embed ceilings.csv
var ceilingsCSV string

// A ceiling is a federal floor under the ballast efficacy factor, and so a ceiling over input watts, of a ballast for one lamp and number of lamps.
type ceiling struct {
	Lamp                string // family
	Lamps               int
	Supply              string  // "120 V", "277 V", "120 or 277 V", "any"
	LeastEfficacyFactor float64 // 1/W, 100 BF / W
	MadeFrom            string  // ballasts made from that day, 1990-01-01
	Source, Confidence  string
	Notes               string
}

// watts returns the most input watts, W, that the law allows at a ballast factor: 100 BF / least efficacy factor.
func (c ceiling) watts(ballastFactor float64) float64 {
	return 100 * ballastFactor / c.LeastEfficacyFactor
}

// fromMemory tells that the floor's value is from memory, unverified.
func (c ceiling) fromMemory() bool { return strings.Contains(c.Confidence, "memory") }

var ceilings = sync.OnceValue(func() []ceiling {
	rows := table.Load("ceilings", ceilingsCSV, "lamp", "lamps", "supply", "least_ballast_efficacy_factor", "made_from", "source", "confidence", "notes")
	all := make([]ceiling, len(rows))
	for i, r := range rows {
		all[i] = ceiling{
			Lamp: r.Required("lamp"), Lamps: r.Count("lamps"), Supply: r.Required("supply"),
			LeastEfficacyFactor: r.Number("least_ballast_efficacy_factor"), MadeFrom: r.Required("made_from"),
			Source: r.Text("source"), Confidence: r.Required("confidence"), Notes: r.Text("notes"),
		}
	}
	return all
})

// LegalCeiling returns the most input watts that the floors seen in the law allow one ballast for that number of lamps, and where they stand, with their
// date. Where the floor depends on the supply the milder one counts, so that nobody is accused wrongly. ok is false where the law has no row. More watts mean
// a ballast older than the rule or exempt from it (dimming; for 0 F or colder). For a set of several ballasts ask for the lamps of one.
func LegalCeiling(lamp Lamp, lamps int, ballastFactor float64) (watts float64, source string, ok bool) {
	for _, c := range ceilings() {
		if c.Lamp != lamp.Family || c.Lamps != lamps || c.fromMemory() {
			continue
		}
		if w := c.watts(ballastFactor); !ok || w > watts {
			watts, ok = w, true
			source = fmt.Sprintf("%s (ballast efficacy factor at least %g, made from %s)", c.Source, c.LeastEfficacyFactor, c.MadeFrom)
		}
	}
	return watts, source, ok
}
