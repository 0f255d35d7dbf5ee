package export

import (
	"fmt"
	"io"
	"math"
	"sort"
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
	sheet   string
	row     int            // next to be written, from 1
	columns int            // that are written
	heads   int            // the row of heads that stays in sight, 0 if there is none
	styles  map[string]int // by what they are made of
	err     error
}

// newWorkbook is an empty one in a type that every program has, or one as wide.
func newWorkbook() *workbook {
	w := &workbook{File: excelize.NewFile(), styles: map[string]int{}}
	w.note(w.SetDefaultFont("Arial"))
	return w
}

// notesSheet has what the answer rests on, in words.
const notesSheet = "Assumptions and warnings"

// XLSX writes a result as a spreadsheet: the verdict with charts, ledger, ways, criteria, a sheet a grid, what it rests on. Numbers are numbers, with formats. The
// job's grids must fit: see Fits.
func XLSX(out io.Writer, r *study.Result) error {
	w := newWorkbook()
	w.properties(r)
	w.open("Verdict", true)
	w.front(r)
	w.open("Before and after", false)
	w.ledger(r.Job.Title, ledger.BeforeAfter(r))
	if l := ledger.Groups(r); len(l.Sections) > 0 {
		w.open("Groups of luminaires", false)
		w.ledger(r.Job.Title, l)
	}
	if l := ledger.Ways(r); len(l.Sections) > 0 {
		w.open("Systems compared", false)
		w.ledger(r.Job.Title, l)
	}
	w.open("Criteria", false)
	w.criteria(r)
	for i, g := range r.Existing().Grids {
		w.open(sheetName(i, g.Name), false)
		w.grid(r, i)
	}
	w.open(notesSheet, false)
	w.notes(r)
	return w.writeTo(out)
}

// writeTo ends the workbook: the same content gives the same bytes. The library names kinds of pictures in the order of a map.
func (w *workbook) writeTo(out io.Writer) error {
	if types := w.ContentTypes; types != nil {
		sort.Slice(types.Defaults, func(i, k int) bool { return types.Defaults[i].Extension < types.Defaults[k].Extension })
	}
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
	w.sheet, w.row, w.columns, w.heads = name, 1, 1, 0
}

// sheetName is a grid's name as a sheet may have it, numbered so that two never meet.
func sheetName(i int, name string) string { return allowedName(fmt.Sprintf("Light %d %s", i+1, name)) }

// allowedName is a name as a sheet may have it.
func allowedName(name string) string {
	const longest = 31
	name = strings.Map(func(r rune) rune {
		if strings.ContainsRune(`[]:*?/\'`, r) || r < ' ' {
			return ' '
		}
		return r
	}, name)
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
	left   bool // of a head, over texts
	right  bool // of a word in a column of numbers
	wrap   bool
	top    bool    // beside texts that wrap
	size   float64 // pt; 0 is as usual
	ink    string  // as style sheets have it; "" is as usual
	paper  string
}

func (w *workbook) style(l looks) int {
	key := fmt.Sprintf("%+v", l)
	if id, ok := w.styles[key]; ok {
		return id
	}
	s := excelize.Style{Font: &excelize.Font{Family: "Arial", Size: 10, Bold: l.bold || l.head || l.alarm}, Alignment: &excelize.Alignment{Vertical: "center", WrapText: l.wrap}}
	if l.wrap || l.top {
		s.Alignment.Vertical = "top"
	}
	if l.format != "" {
		s.CustomNumFmt = &l.format
	}
	if l.alarm {
		s.Font.Color = strings.TrimPrefix(document.Light.Bad.String(), "#")
	}
	if l.size > 0 {
		s.Font.Size = l.size
	}
	if l.ink != "" {
		s.Font.Color = strings.TrimPrefix(l.ink, "#")
	}
	if l.paper != "" {
		s.Fill = excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{strings.TrimPrefix(l.paper, "#")}}
	}
	if l.head && !l.left || l.right {
		s.Alignment.Horizontal = "right"
	}
	if l.head {
		s.Alignment.WrapText = true
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
	w.columns = max(w.columns, column)
	switch v := value.(type) {
	case string:
		w.note(w.SetCellStr(w.sheet, cell, v)) // never a formula
	case float64:
		if !math.IsNaN(v) && !math.IsInf(v, 0) {
			w.note(w.SetCellFloat(w.sheet, cell, v+0, -1, 64)) // + 0: nothing has no sign
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

// freeze keeps rows and columns in sight.
func (w *workbook) freeze(columns, rows int) {
	corner, err := excelize.CoordinatesToCellName(columns+1, rows+1)
	w.note(err)
	pane := "bottomRight"
	if columns == 0 {
		pane = "bottomLeft"
	}
	w.note(w.SetPanes(w.sheet, &excelize.Panes{Freeze: true, XSplit: columns, YSplit: rows, TopLeftCell: corner, ActivePane: pane}))
	w.heads = rows
}

// paper prints the sheet one page wide, on its side or not, and one page tall or as many as it takes, with its heads on each; no more than is
// written.
func (w *workbook) paper(sideways, onePage bool) {
	fit, wide, tall, orientation := true, 1, 0, "portrait"
	if sideways {
		orientation = "landscape"
	}
	if onePage {
		tall = 1
	}
	w.note(w.SetSheetProps(w.sheet, &excelize.SheetPropsOptions{FitToPage: &fit}))
	w.note(w.SetPageLayout(w.sheet, &excelize.PageLayoutOptions{FitToWidth: &wide, FitToHeight: &tall, Orientation: &orientation}))
	last, err := excelize.CoordinatesToCellName(w.columns, max(w.row-1, 1), true)
	w.note(err)
	quoted := "'" + strings.ReplaceAll(w.sheet, "'", "''") + "'!"
	w.note(w.SetDefinedName(&excelize.DefinedName{Name: "_xlnm.Print_Area", RefersTo: quoted + "$A$1:" + last, Scope: w.sheet}))
	if w.heads > 0 {
		w.note(w.SetDefinedName(&excelize.DefinedName{Name: "_xlnm.Print_Titles", RefersTo: fmt.Sprintf("%s$%d:$%d", quoted, max(w.heads, 1), w.heads), Scope: w.sheet}))
	}
}
