package export

import (
	"fmt"
	"math"
	"strings"

	"github.com/xuri/excelize/v2"

	"lampswap/cmd/lampswap/internal/document"
	"lampswap/cmd/lampswap/internal/figures"
	"lampswap/cmd/lampswap/internal/ledger"
	"lampswap/cmd/lampswap/internal/origin"
	"lampswap/cmd/lampswap/internal/units"
	"lampswap/photometry/room"
	"lampswap/photometry/study"
	"lampswap/photometry/whole"
	"lampswap/photometry/wording"
)

// frontWidth is how many columns the first sheet has, and their width in letters; the first has labels.
const (
	frontLabel   = 40
	frontColumn  = 15
	frontColumns = 5
	chartRows    = 17 // that a chart lies over
)

// verdict begins the first sheet: whose job it is, the word, and the sentence below it.
func (w *workbook) verdict(title, word, sentence string, mark document.Mark) {
	ink, paper := document.Light.Of(mark)
	w.widths(frontColumns+2, frontLabel, frontColumn) // before charts, which lie over columns
	w.sized(20, looks{bold: true, size: 14}, title)
	w.row++
	w.sized(26, looks{bold: true, size: 16, ink: ink.String(), paper: paper.String()}, word)
	w.note(w.MergeCell(w.sheet, w.cell(1, w.row-1), w.cell(frontColumns, w.row-1)))
	w.across(looks{wrap: true, paper: paper.String()}, sentence)
	w.row++
}

var markOf = map[study.Standing]document.Mark{study.Unjudged: document.None, study.AllMet: document.Good, study.OneMissed: document.Bad, study.Qualified: document.Open}

// front is the first sheet: the verdict, light and load and money of every system, and these as charts.
func (w *workbook) front(r *study.Result) {
	word, sentence := ledger.Answer(r)
	w.verdict(r.Job.Title, word, sentence, markOf[r.Standing()])
	light := w.lightTable(r)
	w.row++
	w.table(ledger.AtAGlance(r))
	w.row++
	if warnings := wording.Weighed(r); len(warnings) > 0 {
		w.across(looks{wrap: true}, fmt.Sprintf("%d of \"%s\" say what to know before trusting this; the gravest: %s", len(warnings), notesSheet, warnings[0]))
		w.row++
	}
	w.chart("Maintained light on the work plane, "+units.Of(r.Job).Illuminance, excelize.Col, light, len(r.Sides))
	if money, ok := w.costTable(r); ok {
		w.chart("Life-cycle cost, present value", excelize.BarStacked, money, 0)
	}
	w.across(looks{}, origin.Of(r.Job.InputsDigest).Full())
	w.paper(false, true)
}

// buildingFront is the first sheet of a building: the verdict, what its lighting draws and costs, and these as a chart.
func (w *workbook) buildingFront(r *whole.Result) {
	word, sentence := ledger.BuildingAnswer(r)
	w.verdict(r.Building.Title, word, sentence, markOf[r.Standing()])
	w.table(ledger.SpacesLight(r))
	w.row++
	if money, ok := w.costTable(r.Whole); ok {
		w.chart("Life-cycle cost, present value", excelize.BarStacked, money, 0)
	}
	w.across(looks{}, origin.Of(r.Building.InputsDigest).Full())
	w.paper(false, true)
}

// A block is numbers on a sheet: a row of heads, labels in the first column.
type block struct {
	head, first, last int // rows
	columns           int // of numbers
	format            string
}

// lightTable sets the light of every system beside what is required of it.
func (w *workbook) lightTable(r *study.Result) block {
	u := units.Of(r.Job)
	b := block{head: w.row, columns: len(r.Sides) + 1}
	w.put(1, "Maintained light on the work plane, "+u.Illuminance, looks{head: true, left: true})
	for k, side := range r.Sides {
		w.put(k+2, side.Name, looks{head: true})
	}
	w.put(len(r.Sides)+2, "required", looks{head: true})
	w.row++
	b.first = w.row
	b.format = lightFormat(r.Existing().Grids[0].Statistics.Average / u.Lux)
	for _, row := range []struct {
		name string
		of   func(room.Statistics) float64
	}{{"average", func(s room.Statistics) float64 { return s.Average }}, {"minimum", func(s room.Statistics) float64 { return s.Minimum }}} {
		w.put(1, row.name, looks{})
		for k, side := range r.Sides {
			x := row.of(side.Grids[0].Statistics) / u.Lux
			if side.Outside != nil {
				w.put(k+2, "not known", looks{right: true, alarm: true})
				continue
			}
			w.put(k+2, x, looks{format: lightFormat(x)})
		}
		if least := requiredOf(r, row.name); least > 0 {
			w.put(len(r.Sides)+2, least, looks{format: lightFormat(least)})
		}
		w.row++
	}
	b.last = w.row - 1
	return b
}

// requiredOf is the highest level that a criterion requires at least of a statistic of the work plane, in the job's unit; 0 for none.
func requiredOf(r *study.Result, statistic string) float64 {
	most := 0.0
	for _, v := range r.Verdicts {
		if v.AtLeast && v.Statistic.Words() == statistic && v.Grid == r.Existing().Grids[0].Name {
			most = max(most, v.RequiredIn(r.Job.Imperial))
		}
	}
	return most
}

// costTable is the parts of the life-cycle cost, a column a system; ok is false where it is not priced.
func (w *workbook) costTable(r *study.Result) (b block, ok bool) {
	cash, ok := figures.Cash(r)
	if !ok {
		return b, false
	}
	b = block{head: w.row, columns: len(cash.Ways), format: numberFormat(units.Of(r.Job).Money(1000))}
	w.put(1, fmt.Sprintf("Cost over %d years, present value", r.LifeCycle.Terms.Years), looks{head: true, left: true})
	for k, way := range cash.Ways {
		w.put(k+2, way.Name, looks{head: true})
	}
	w.row++
	b.first = w.row
	for i, part := range cash.Parts {
		w.put(1, part, looks{})
		for k, way := range cash.Ways {
			w.put(k+2, way.Costs[i], looks{format: b.format})
		}
		w.row++
	}
	b.last = w.row - 1
	return b, true
}

// Ink of what is drawn of a system, and of parts of a cost: as in the figures.
var (
	inkOfSides = []string{"D5DADF", "1F4677", "8298AA", "8F4700"}
	inkOfParts = []string{"1F4677", "EBC177", "8298AA", "A9660F"}
)

// chart draws a block below where the sheet is filled: a column a system beside what is required, or, stacked, a bar a system of the rows.
func (w *workbook) chart(title string, kind excelize.ChartType, b block, sides int) {
	w.row++
	at := func(column, row int) string {
		name, err := excelize.CoordinatesToCellName(column, row, true)
		w.note(err)
		return "'" + w.sheet + "'!" + name
	}
	span := func(c0, r0, c1, r1 int) string {
		return at(c0, r0) + ":" + strings.TrimPrefix(at(c1, r1), "'"+w.sheet+"'!")
	}
	font := excelize.Font{Family: "Arial", Size: 9, Color: "1C2733"}
	c := excelize.Chart{Type: kind, Title: excelize.ChartTitle{Paragraph: []excelize.RichTextRun{{Text: title, Font: &excelize.Font{Bold: true, Size: 11}}}},
		Legend: excelize.ChartLegend{Position: "bottom", Font: &font}, XAxis: excelize.ChartAxis{Font: font}, Dimension: excelize.ChartDimension{Width: 700, Height: 300}, ShowBlanksAs: "gap",
		YAxis: excelize.ChartAxis{NumFmt: excelize.ChartNumFmt{CustomNumFmt: b.format}, MajorGridLines: true, Font: font}}
	if sides > 0 {
		for k := range b.columns {
			ink := inkOfSides[k]
			if k == sides {
				ink = inkOfSides[len(inkOfSides)-1]
			}
			c.Series = append(c.Series, excelize.ChartSeries{Name: at(k+2, b.head), Categories: span(1, b.first, 1, b.last), Values: span(k+2, b.first, k+2, b.last),
				Fill: excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{ink}}})
		}
	} else {
		for row := b.first; row <= b.last; row++ {
			c.Series = append(c.Series, excelize.ChartSeries{Name: at(1, row), Categories: span(2, b.head, b.columns+1, b.head), Values: span(2, row, b.columns+1, row),
				Fill: excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{inkOfParts[(row-b.first)%len(inkOfParts)]}}})
		}
		c.XAxis.ReverseOrder = true
	}
	w.note(w.AddChart(w.sheet, w.cell(1, w.row), &c))
	w.row += chartRows
}

// sized is a line of a height, pt.
func (w *workbook) sized(height float64, l looks, values ...any) {
	w.note(w.SetRowHeight(w.sheet, w.row, height))
	w.line(l, values...)
}

// across writes a text over the columns of the first sheet, as high as it needs.
func (w *workbook) across(l looks, text string) {
	l.wrap = true
	w.put(1, text, l)
	w.columns = max(w.columns, frontColumns)
	w.note(w.MergeCell(w.sheet, w.cell(1, w.row), w.cell(frontColumns, w.row)))
	w.high(text, frontLabel+frontColumn*(frontColumns-1))
	w.row++
}

// high makes the row as high as texts need in columns of so many letters.
func (w *workbook) high(text string, letters float64) {
	const line = 13.5 // pt
	lines := 0.0
	for part := range strings.SplitSeq(text, "\n") {
		lines += max(math.Ceil(float64(len([]rune(part)))/(1.08*letters)), 1)
	}
	w.note(w.SetRowHeight(w.sheet, w.row, line*lines))
}

func (w *workbook) cell(column, row int) string {
	name, err := excelize.CoordinatesToCellName(column, row)
	w.note(err)
	return name
}
