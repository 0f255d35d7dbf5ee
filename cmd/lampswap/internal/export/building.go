package export

import (
	"encoding/csv"
	"fmt"
	"io"

	"lampswap/cmd/lampswap/internal/ledger"
	"lampswap/cmd/lampswap/internal/origin"
	"lampswap/photometry/job"
	"lampswap/photometry/whole"
)

// BuildingCSV writes the tables of a building.
func BuildingCSV(w io.Writer, r *whole.Result) error {
	return TablesCSV(w, ledger.BuildingTables(r), origin.Of(r.Building.InputsDigest))
}

// TablesCSV writes tables below each other, a line a value: table, section, row, quantity, value, and the currency of an amount.
func TablesCSV(w io.Writer, tables []ledger.Ledger, from origin.Origin) error {
	lines := [][]string{{"table", "section", "row", "quantity", "value", "unit"}}
	for _, l := range tables {
		for _, s := range l.Sections {
			for _, row := range s.Rows {
				for k, column := range l.Columns {
					value, unit := plainCell(row, k), ""
					if k < len(row.Cells) && l.IsMoney(row.Cells[k]) {
						unit = l.Currency
					}
					if value != "" {
						lines = append(lines, []string{l.Name, s.Name, row.Label, column, value, unit})
					}
				}
			}
		}
	}
	return csv.NewWriter(w).WriteAll(signedBy(lines, from))
}

// TablesXLSX writes tables as a workbook, a sheet each.
func TablesXLSX(out io.Writer, title string, tables []ledger.Ledger, from origin.Origin) error {
	w := newWorkbook()
	w.signProperties(title, job.Facts{}, from)
	for i, l := range tables {
		w.open(allowedName(fmt.Sprintf("%d %s", i+1, l.Name)), i == 0)
		w.ledger(title, l)
		w.row++
		w.line(looks{}, from.Full())
	}
	return w.writeTo(out)
}

// BuildingXLSX writes a building as a workbook: a sheet of spaces, of their power, of the whole, of groups, of the schedule and the take-off, of the
// criteria, and what it all rests on.
func BuildingXLSX(out io.Writer, r *whole.Result) error {
	w := newWorkbook()
	title, facts := r.Building.Title, r.Building.Whole.Facts
	from := origin.Of(r.Building.InputsDigest)
	w.signProperties(title, facts, from)
	tables := []struct {
		sheet string
		l     ledger.Ledger
	}{{"Light in the spaces", ledger.SpacesLight(r)}, {"Power of the spaces", ledger.SpacesPower(r)}, {"The whole building", ledger.WholeBuilding(r)},
		{"Systems compared", ledger.WholeWays(r)}, {"Groups of luminaires", ledger.BuildingGroups(r)}, {"Schedule of luminaires", ledger.Schedule(r)}, {"Take-off", ledger.TakeOff(r)},
		{"Spaces by payback", ledger.ByPayback(r)}, {"Phases", ledger.Phases(r)}}
	w.open("Verdict", true)
	w.buildingFront(r)
	for _, t := range tables {
		if len(t.l.Sections) == 0 {
			continue
		}
		w.open(t.sheet, false)
		w.ledger(title, t.l)
	}
	w.open(notesSheet, false)
	w.buildingNotes(r)
	return w.writeTo(out)
}

// buildingNotes writes the answer and all that goes with it in words.
func (w *workbook) buildingNotes(r *whole.Result) {
	w.line(looks{bold: true}, r.Building.Title)
	word, sentence := ledger.BuildingAnswer(r)
	notes := append([]ledger.Note{{Heading: "The answer", Items: []string{word + ". " + sentence}}}, ledger.BuildingNotes(r)...)
	for _, n := range notes {
		w.row++
		w.line(looks{bold: true}, n.Heading)
		for _, item := range n.Items {
			w.told(item)
		}
	}
	w.widths(3, notesWidths...)
	w.freeze(0, 1)
	w.paper(true, false)
}
