package export

import (
	"fmt"
	"io"
	"math"
	"strings"

	"github.com/xuri/excelize/v2"

	"lampswap/cmd/lampswap/internal/document"
	"lampswap/cmd/lampswap/internal/ledger"
	"lampswap/cmd/lampswap/internal/origin"
	"lampswap/photometry/job"
	"lampswap/photometry/study"
)

// A workbook is a spreadsheet in the making. Its first error ends it; the calls after that do nothing.
type workbook struct {
	*excelize.File
	sheet  string
	row    int            // next to be written, from 1
	styles map[string]int // by what they are made of
	err    error
}

// XLSX writes a result as a spreadsheet: ledger, ways, criteria, a sheet a grid, what it rests on. Numbers are numbers, with formats. The
// job's grids must fit: see Fits.
func XLSX(out io.Writer, r *study.Result) error {
	w := workbook{File: excelize.NewFile(), styles: map[string]int{}}
	w.properties(r)
	w.open("ledger", true)
	w.ledger(r.Job.Title, ledger.BeforeAfter(r))
	w.row++
	w.line(looks{}, origin.Of(r.Job.InputsDigest).Full())
	if l := ledger.Groups(r); len(l.Sections) > 0 {
		w.open("groups", false)
		w.ledger(r.Job.Title, l)
	}
	if l := ledger.Ways(r); len(l.Sections) > 0 {
		w.open("ways", false)
		w.ledger(r.Job.Title, l)
	}
	w.open("criteria", false)
	w.criteria(r)
	for i, g := range r.Existing.Grids {
		w.open(sheetName(i, g.Name), false)
		w.grid(r, i)
	}
	w.open("defaults and warnings", false)
	w.notes(r)
	w.note(w.Write(out))
	return w.err
}

func (w *workbook) note(err error) {
	if w.err == nil && err != nil {
		w.err = fmt.Errorf("write the spreadsheet: %w", err)
	}
}

// properties say whose it is and what made it; a workbook without a date of the job has none.
func (w *workbook) properties(r *study.Result) {
	w.signProperties(r.Job.Title, r.Job.Facts, origin.Of(r.Job.InputsDigest))
}

func (w *workbook) signProperties(title string, facts job.Facts, from origin.Origin) {
	p := excelize.DocProperties{Title: title, Creator: facts.PreparedBy, Version: from.Program(), Identifier: from.Inputs()}
	w.Pkg.Delete("docProps/core.xml")
	if day := facts.Date; !day.IsZero() {
		p.Created = day.Format("2006-01-02T15:04:05Z")
		p.Modified = p.Created
	}
	w.note(w.SetDocProps(&p))
}

// open begins a sheet; the first takes the place of the one that a new file has.
func (w *workbook) open(name string, first bool) {
	if first {
		w.note(w.SetSheetName(w.GetSheetName(0), name))
	} else {
		_, err := w.NewSheet(name)
		w.note(err)
	}
	w.sheet, w.row = name, 1
}

// sheetName is a grid's name as a sheet may have it, numbered so that two never meet.
func sheetName(i int, name string) string {
	const longest = 31
	name = strings.Map(func(r rune) rune {
		if strings.ContainsRune(`[]:*?/\'`, r) || r < ' ' {
			return ' '
		}
		return r
	}, fmt.Sprintf("grid %d %s", i+1, name))
	if runes := []rune(name); len(runes) > longest {
		name = string(runes[:longest])
	}
	return strings.TrimSpace(name)
}

// A looks is how a cell looks; the zero value is plain.
type looks struct {
	format string // of a number; "" is general
	bold   bool
	alarm  bool
	head   bool // of a column: bold, at the right, a line below
	wrap   bool
}

func (w *workbook) style(l looks) int {
	key := fmt.Sprintf("%+v", l)
	if id, ok := w.styles[key]; ok {
		return id
	}
	s := excelize.Style{Font: &excelize.Font{Bold: l.bold || l.head || l.alarm}, Alignment: &excelize.Alignment{Vertical: "top", WrapText: l.wrap}}
	if l.format != "" {
		s.CustomNumFmt = &l.format
	}
	if l.alarm {
		s.Font.Color = strings.TrimPrefix(document.Light.Bad.String(), "#")
	}
	if l.head {
		s.Alignment.Horizontal = "right"
		s.Border = []excelize.Border{{Type: "bottom", Color: "000000", Style: 1}}
	}
	id, err := w.NewStyle(&s)
	w.note(err)
	w.styles[key] = id
	return id
}

// put writes a value into a column, from 1, of the current row; NaN is left out.
func (w *workbook) put(column int, value any, l looks) {
	cell, err := excelize.CoordinatesToCellName(column, w.row)
	w.note(err)
	switch v := value.(type) {
	case string:
		w.note(w.SetCellStr(w.sheet, cell, v)) // never a formula
	case float64:
		if !math.IsNaN(v) && !math.IsInf(v, 0) {
			w.note(w.SetCellFloat(w.sheet, cell, v, -1, 64))
		}
	}
	w.note(w.SetCellStyle(w.sheet, cell, cell, w.style(l)))
}

func (w *workbook) line(l looks, values ...any) {
	for i, v := range values {
		w.put(i+1, v, l)
	}
	w.row++
}

// widths sets the width of columns, in letters, the last for all that follow up to the count.
func (w *workbook) widths(count int, letters ...float64) {
	for k := 1; k <= count; k++ {
		name, err := excelize.ColumnNumberToName(k)
		w.note(err)
		w.note(w.SetColWidth(w.sheet, name, name, letters[min(k, len(letters))-1]))
	}
}

// freeze keeps rows and columns in sight, and prints the sheet one page wide.
func (w *workbook) freeze(columns, rows int) {
	corner, err := excelize.CoordinatesToCellName(columns+1, rows+1)
	w.note(err)
	pane := "bottomRight"
	if columns == 0 {
		pane = "bottomLeft"
	}
	w.note(w.SetPanes(w.sheet, &excelize.Panes{Freeze: true, XSplit: columns, YSplit: rows, TopLeftCell: corner, ActivePane: pane}))
	fit, wide, tall := true, 1, 0
	w.note(w.SetSheetProps(w.sheet, &excelize.SheetPropsOptions{FitToPage: &fit}))
	w.note(w.SetPageLayout(w.sheet, &excelize.PageLayoutOptions{FitToWidth: &wide, FitToHeight: &tall}))
}
