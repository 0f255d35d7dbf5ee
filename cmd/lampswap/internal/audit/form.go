package audit

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"slices"
	"strings"

	"github.com/xuri/excelize/v2"
)

// formRows are the rows of the empty workbook that have lists to choose from.
const formRows = 300

// Form is the empty sheet by the ending of its name; kinds may be nil.
func Form(name string, metric bool, kinds Kinds) ([]byte, error) {
	return write(name, formColumns(), nil, metric, kinds)
}

// write writes a sheet with its rows, of cells by the names of columns.
func write(name string, head []string, rows []map[string]string, metric bool, kinds Kinds) ([]byte, error) {
	lines := [][]string{head}
	for _, r := range rows {
		line := make([]string, len(head))
		for i, column := range head {
			line[i] = r[column]
		}
		lines = append(lines, line)
	}
	var out bytes.Buffer
	if !strings.HasSuffix(strings.ToLower(name), ".xlsx") {
		w := csv.NewWriter(&out)
		err := w.WriteAll(lines)
		return out.Bytes(), err
	}
	b := book{File: excelize.NewFile(), metric: metric, kinds: kinds}
	b.sheet(lines)
	b.explained()
	b.listed(head)
	b.note(b.Write(&out))
	return out.Bytes(), b.err
}

// A book is a workbook in the making. Its first error ends it.
type book struct {
	*excelize.File
	metric bool
	kinds  Kinds
	err    error
}

func (b *book) note(err error) {
	if b.err == nil && err != nil {
		b.err = fmt.Errorf("write the audit sheet: %w", err)
	}
}

// at is the name of a cell.
func (b *book) at(column, row int) string {
	name, err := excelize.CoordinatesToCellName(column, row)
	b.note(err)
	return name
}

// names of the sheets.
const (
	auditSheet   = "audit"
	columnsSheet = "columns"
	listsSheet   = "lists"
)

// put writes a cell: a number as a number, anything else as text, never as a formula.
func (b *book) put(sheet string, column, row int, text string) {
	if text == "" {
		return
	}
	if v := value(text); !strings.HasPrefix(v, `"`) {
		b.note(b.SetCellDefault(sheet, b.at(column, row), v))
		return
	}
	b.note(b.SetCellStr(sheet, b.at(column, row), text))
}

// sheet writes the sheet itself: the head stays in sight and is printed on every page.
func (b *book) sheet(lines [][]string) {
	b.note(b.SetSheetName(b.GetSheetName(0), auditSheet))
	for row, line := range lines {
		for column, cell := range line {
			b.put(auditSheet, column+1, row+1, cell)
		}
	}
	border := []excelize.Border{{Type: "bottom", Color: "000000", Style: 1}}
	head, err := b.NewStyle(&excelize.Style{Font: &excelize.Font{Bold: true}, Border: border, Alignment: &excelize.Alignment{WrapText: true, Vertical: "bottom"}})
	b.note(err)
	b.note(b.SetCellStyle(auditSheet, "A1", b.at(len(lines[0]), 1), head))
	for i, name := range lines[0] {
		letter, err := excelize.ColumnNumberToName(i + 1)
		b.note(err)
		width := map[string]float64{"space": 20, "type": 18, "existing": 30, "proposed": 30, "note": 34, "reflectances": 13, "mounting_height": 11, "level": 16}[name]
		b.note(b.SetColWidth(auditSheet, letter, letter, max(9, width)))
	}
	b.note(b.SetPanes(auditSheet, &excelize.Panes{Freeze: true, XSplit: 1, YSplit: 1, TopLeftCell: "B2", ActivePane: "bottomRight"}))
	fit, wide, tall, lying := true, 1, 0, "landscape"
	b.note(b.SetSheetProps(auditSheet, &excelize.SheetPropsOptions{FitToPage: &fit}))
	b.note(b.SetPageLayout(auditSheet, &excelize.PageLayoutOptions{FitToWidth: &wide, FitToHeight: &tall, Orientation: &lying}))
	b.note(b.SetDefinedName(&excelize.DefinedName{Name: "_xlnm.Print_Titles", RefersTo: auditSheet + "!$1:$1", Scope: auditSheet}))
}

// explained writes the second sheet: what each column is.
func (b *book) explained() {
	_, err := b.NewSheet(columnsSheet)
	b.note(err)
	unit := map[bool]string{true: "meters and lux: lampswap new --audit SHEET --units metric", false: "feet and footcandles; a sheet in meters takes --units metric"}[b.metric]
	for i, line := range [][2]string{{"column", "what stands there"}, {"(units)", unit}} {
		b.put(columnsSheet, 1, i+1, line[0])
		b.put(columnsSheet, 2, i+1, line[1])
	}
	for i, c := range columns {
		b.put(columnsSheet, 1, i+3, c.name)
		b.put(columnsSheet, 2, i+3, c.about)
	}
	wrap, err := b.NewStyle(&excelize.Style{Alignment: &excelize.Alignment{WrapText: true, Vertical: "top"}})
	b.note(err)
	b.note(b.SetCellStyle(columnsSheet, "A1", b.at(2, len(columns)+2), wrap))
	b.note(b.SetColWidth(columnsSheet, "A", "A", 18))
	b.note(b.SetColWidth(columnsSheet, "B", "B", 96))
}

// listed writes what there is to choose from, and lets the cells of the sheet offer it; other words may be typed.
func (b *book) listed(head []string) {
	_, err := b.NewSheet(listsSheet)
	b.note(err)
	column := 0
	for _, c := range columns {
		at := slices.Index(head, c.name)
		if c.words == nil || at < 0 {
			continue
		}
		words := c.words()
		if kinds := b.kinds.names(); len(kinds) > 0 && (c.name == "existing" || c.name == "proposed") {
			words = slices.Concat(kinds, []string{none})
		}
		column++
		b.put(listsSheet, column, 1, c.name)
		for i, word := range words {
			b.put(listsSheet, column, i+2, word)
		}
		letter, err := excelize.ColumnNumberToName(column)
		b.note(err)
		cells := excelize.NewDataValidation(true)
		cells.SetSqref(b.at(at+1, 2) + ":" + b.at(at+1, formRows+1))
		cells.SetSqrefDropList(fmt.Sprintf("%s!$%s$2:$%s$%d", listsSheet, letter, letter, len(words)+1))
		cells.ShowErrorMessage = false
		b.note(b.AddDataValidation(auditSheet, cells))
		b.note(b.SetColWidth(listsSheet, letter, letter, 32))
	}
}
