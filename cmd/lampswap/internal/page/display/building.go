package display

import (
	"fmt"
	"time"

	"lampswap/cmd/lampswap/internal/ledger"
	"lampswap/cmd/lampswap/internal/typeset"
	"lampswap/photometry/whole"
)

// A Building is what the page shows of a building: the answer, its spaces, which can be opened, and all its tables.
type Building struct {
	Word, Sentence, Good string
	Name                 string   // of the table of spaces
	Columns              []string // of it
	Spaces               []SpaceRow
	Ledgers              []ledgerView
	Notes                []ledger.Note
	Took                 string
}

// A SpaceRow is a space in the table of spaces, by its number from 1.
type SpaceRow struct {
	Number int
	Name   string
	Cells  []ledger.Cell
}

// BuildingOf is what the page shows of a building.
func BuildingOf(r *whole.Result, took time.Duration) *Building {
	word, sentence := ledger.BuildingAnswer(r)
	b := &Building{Word: word, Sentence: typeset.Text(sentence), Good: goodOf(r.Standing()), Took: fmt.Sprintf("%.2f s", took.Seconds())}
	for i, l := range ledger.BuildingTables(r) {
		v := ledgerViewOf(l)
		if i > 0 {
			b.Ledgers = append(b.Ledgers, v)
			continue
		}
		b.Name, b.Columns = typeset.Text(v.Name), v.Columns
		for k, row := range v.Sections[0].Rows {
			b.Spaces = append(b.Spaces, SpaceRow{k + 1, row.Label, row.Cells})
		}
	}
	for _, n := range ledger.BuildingNotes(r) {
		for k := range n.Items {
			n.Items[k] = typeset.Text(n.Items[k])
		}
		b.Notes = append(b.Notes, n)
	}
	return b
}
