package levels

import (
	"strings"

	"lampswap/photometry/internal/table"
)

// FromMemory tells that the value is from memory, unverified, and must not be shown as published.
func (l Level) FromMemory() bool { return table.FromMemory(l.Confidence) }

// Superseded tells that a later edition has replaced the level.
func (l Level) Superseded() bool { return l.Currency == "superseded" }

// Citation returns source, section and year in one line.
func (l Level) Citation() string {
	parts := []string{l.Source}
	if l.Section != "" && !strings.Contains(l.Source, l.Section) {
		parts = append(parts, l.Section)
	}
	if l.Year != "" && !strings.Contains(l.Source, l.Year) {
		parts = append(parts, l.Year)
	}
	return strings.Join(parts, ", ")
}

// Caveat returns what a reader must know beside the number, in one line: where it applies, that it is superseded, second-hand or from memory, what else the rule asks
// that is not tested. It is empty where there is nothing of the kind.
func (l Level) Caveat() string { return l.caveat(l.Confidence) }

func (l Level) caveat(confidence string) string {
	var parts []string
	if l.AppliesTo != "" {
		parts = append(parts, "applies to: "+l.AppliesTo)
	}
	if l.Reading != "" {
		parts = append(parts, l.Reading)
	}
	if l.Currency != "current" {
		parts = append(parts, l.Currency)
	}
	if words := table.ConfidenceWords(confidence); words != "" {
		parts = append(parts, words)
	}
	if strings.HasPrefix(l.Uniformity, "task ") {
		parts = append(parts, "uniformity not tested: "+l.Uniformity)
	}
	return strings.Join(parts, "; ")
}
