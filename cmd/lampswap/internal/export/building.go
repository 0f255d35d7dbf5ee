package export

import (
	"encoding/csv"
	"io"
	"math"

	"github.com/xuri/excelize/v2"

	"lampswap/cmd/lampswap/internal/ledger"
	"lampswap/cmd/lampswap/internal/origin"
	"lampswap/photometry/whole"
)

// BuildingCSV writes the tables of a building below each other, a line a value: table, section, row, quantity, value.
func BuildingCSV(w io.Writer, r *whole.Result) error {
	lines := [][]string{{"table", "section", "row", "quantity", "value"}}
	for _, l := range ledger.BuildingTables(r) {
		for _, s := range l.Sections {
			for _, row := range s.Rows {
				for k, column := range l.Columns {
					if value := plainCell(row, k); value != "" {
						lines = append(lines, []string{l.Name, s.Name, row.Label, column, value})
					}
				}
			}
		}
	}
	return csv.NewWriter(w).WriteAll(signedBy(lines, origin.Of(r.Building.InputsDigest)))
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
		{"schedule", ledger.Schedule(r)}, {"take-off", ledger.TakeOff(r)}, {"by payback", ledger.ByPayback(r)}}
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
