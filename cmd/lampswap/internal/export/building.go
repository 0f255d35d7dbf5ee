package export

import (
	"encoding/csv"
	"fmt"
	"io"
	"math"

	"github.com/xuri/excelize/v2"

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
	w := workbook{File: excelize.NewFile(), styles: map[string]int{}}
	w.signProperties(title, job.Facts{}, from)
	for i, l := range tables {
		w.open(fmt.Sprintf("table %d", i+1), i == 0)
		w.ledger(title, l)
		w.row++
		w.line(looks{}, from.Full())
	}
	w.note(w.Write(out))
	return w.err
}

// BuildingXLSX writes a building as a workbook: a sheet of spaces, of their power, of the whole, of groups, of the schedule and the take-off, of the
// criteria, and what it all rests on.
func BuildingXLSX(out io.Writer, r *whole.Result) error {
	w := workbook{File: excelize.NewFile(), styles: map[string]int{}}
	title, facts := r.Building.Title, r.Building.Whole.Facts
	from := origin.Of(r.Building.InputsDigest)
	w.signProperties(title, facts, from)
	tables := []struct {
		sheet string
		l     ledger.Ledger
	}{{"spaces", ledger.SpacesLight(r)}, {"power", ledger.SpacesPower(r)}, {"building", ledger.WholeBuilding(r)}, {"ways", ledger.WholeWays(r)}, {"groups", ledger.BuildingGroups(r)},
		{"schedule", ledger.Schedule(r)}, {"take-off", ledger.TakeOff(r)}, {"by payback", ledger.ByPayback(r)}, {"phases", ledger.Phases(r)}}
	for i, t := range tables {
		if len(t.l.Sections) == 0 {
			continue
		}
		w.open(t.sheet, i == 0)
		w.ledger(title, t.l)
		if i == 0 {
			w.row++
			w.line(looks{}, from.Full())
		}
	}
	w.open("notes", false)
	w.buildingNotes(r)
	w.note(w.Write(out))
	return w.err
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
			w.put(1, item, looks{wrap: true})
			w.note(w.SetRowHeight(w.sheet, w.row, 15*math.Ceil(float64(len(item))/110)))
			w.row++
		}
	}
	w.widths(1, 120)
	w.freeze(0, 1)
}
