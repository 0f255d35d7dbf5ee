package export

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"

	"lampswap/cmd/lampswap/internal/ledger"
	"lampswap/cmd/lampswap/internal/units"
	"lampswap/photometry/lighting"
	"lampswap/photometry/number"
	"lampswap/photometry/room"
	"lampswap/photometry/study"
	"lampswap/photometry/wording"
	"lampswap/plots"
)

// ledger writes a ledger as it is read elsewhere, its numbers as numbers.
func (w *workbook) ledger(title string, l ledger.Ledger) {
	w.line(looks{bold: true}, title)
	w.line(looks{}, l.Name)
	w.row++
	head := w.row
	w.table(l)
	w.freeze(1, head)
	w.widths(len(l.Columns)+1, 44, 18)
	w.paper(len(l.Columns) > 5, false)
}

// table writes the rows of a ledger below the names of its columns, words in columns of numbers at the right as these.
func (w *workbook) table(l ledger.Ledger) {
	w.put(1, "", looks{head: true, left: true})
	for k, name := range l.Columns {
		w.put(k+2, name, looks{head: true})
	}
	w.row++
	for _, s := range l.Sections {
		if s.Name != "" {
			w.line(looks{bold: true}, s.Name)
		}
		for _, r := range s.Rows {
			w.put(1, "  "+r.Label, looks{})
			for k, c := range r.Cells {
				if text := strings.TrimSpace(c.Text); !math.IsNaN(c.Value) && utf8.RuneCountInString(text) > mostOfNumber { // words and all, which a column cuts off
					w.put(k+2, text, looks{right: true, wrap: true})
					w.high(text, mostOfNumber)
					continue
				}
				if math.IsNaN(c.Value) {
					w.put(k+2, strings.TrimSpace(c.Text), looks{right: true, alarm: strings.HasSuffix(c.Text, ledger.MissedMark)})
					continue
				}
				w.put(k+2, c.Value, looks{format: numberFormat(c.Text)})
			}
			w.row++
		}
	}
}

// mostOfNumber is how many letters a number may have with the words behind it.
const mostOfNumber = 18

// numberFormat is the number format that shows a number as the text has it: digits, groups of them, percent, letters or the sign of a currency before
// or behind.
func numberFormat(text string) string {
	text = strings.TrimRight(text, " ")
	begin := max(strings.IndexAny(text, "0123456789"), 0)
	number := text[begin:]
	if end := strings.IndexFunc(number, func(r rune) bool { return !strings.ContainsRune("0123456789.,\u00a0’", r) }); end >= 0 {
		number = number[:end]
	}
	number = strings.TrimRight(number, ".,\u00a0’") // of the words behind it
	sign, rest := strings.TrimLeft(text[:begin], " +-"), text[begin+len(number):]
	format := "0"
	if sign != "" || strings.ContainsAny(number, ",\u00a0’") {
		format = "#,##0"
	}
	if _, decimals, ok := strings.Cut(number, "."); ok {
		format += "." + strings.Repeat("0", len(decimals))
	}
	if strings.TrimSpace(rest) == "%" {
		return fmt.Sprintf("+%[1]s%%;-%[1]s%%;%[1]s%%", format)
	}
	if rest != "" {
		format += `"` + strings.ReplaceAll(rest, `"`, "") + `"`
	}
	if sign != "" {
		format = `"` + strings.ReplaceAll(sign, `"`, "") + `"` + format
	}
	return format
}

// criteria sets what is required against what is reached.
func (w *workbook) criteria(r *study.Result) {
	v := units.Of(r.Job)
	w.line(looks{bold: true}, r.Job.Title)
	w.line(looks{}, "The criteria, and what is reached")
	w.row++
	for k, name := range []string{"criterion", "grid", "statistic", "direction", "required", "unit"} {
		w.put(k+1, name, looks{head: true, left: k != 4})
	}
	for k, side := range r.Sides {
		w.put(7+2*k, side.Name, looks{head: true})
		w.put(8+2*k, "", looks{head: true, left: true})
	}
	for k, name := range []string{"source", "rests on", "mind"} {
		w.put(7+2*len(r.Sides)+k, name, looks{head: true, left: true})
	}
	w.row++
	w.freeze(1, w.row-1)
	for _, c := range r.Verdicts {
		number := looks{format: lightFormat(c.RequiredIn(r.Job.Imperial)), top: true}
		for k, text := range []string{c.Name, c.Grid, c.Statistic.Words(), strings.ReplaceAll(c.Direction(), "_", " ")} {
			w.put(k+1, text, looks{wrap: k < 3, top: true})
		}
		w.put(5, c.RequiredIn(r.Job.Imperial), number)
		w.put(6, v.OfStatistic(c.Statistic), looks{top: true})
		column := 7
		for i := range r.Sides {
			w.put(column, v.Statistic(c.Statistic, c.By[i].Value), number)
			w.put(column+1, map[bool]string{true: "met", false: ledger.MissedMark}[c.By[i].Met], looks{alarm: !c.By[i].Met, top: true})
			column += 2
		}
		for k, text := range []string{c.Source, c.Confidence, c.Caveat} {
			w.put(column+k, text, looks{wrap: true})
		}
		w.high(longest(c.Name+" ", strings.Repeat(c.Grid+" ", 2), c.Source, c.Confidence, c.Caveat), sourceWidth)
		w.row++
	}
	w.widths(6+2*len(r.Sides)+3, 30, 16, 18, 9, 9, 6, 12.5)
	for k := range 3 {
		last, err := excelize.ColumnNumberToName(6 + 2*len(r.Sides) + 1 + k)
		w.note(err)
		w.note(w.SetColWidth(w.sheet, last, last, sourceWidth))
	}
	w.paper(true, false)
}

// sourceWidth is the width of what is told of a criterion, in letters: as that of its name, or less.
const sourceWidth = 30

// longest is the longest of texts.
func longest(texts ...string) string {
	return slices.MaxFunc(texts, func(a, b string) int { return len(a) - len(b) })
}

// lightFormat is the number format for light of a size.
func lightFormat(x float64) string {
	return numberFormat(number.Digits(x))
}

// grid writes the light of each system on a grid and the change, laid out as the plan or the face is: the last row is nearest to the
// reader.
func (w *workbook) grid(r *study.Result, i int) {
	v := units.Of(r.Job)
	e, p := r.Existing().Grids[i], r.Proposed().Grids[i]
	w.line(looks{bold: true}, r.Job.Title)
	w.line(looks{}, fmt.Sprintf("Maintained light, %s, on %q; positions in %s", v.Illuminance, e.Label(), v.Length))
	w.freeze(1, 2)
	low, high := math.Inf(1), math.Inf(-1)
	for _, g := range []lighting.Grid{e, p} {
		low, high = min(low, g.Statistics.Minimum/v.Lux), max(high, g.Statistics.Maximum/v.Lux)
	}
	light := &excelize.ConditionalFormatOptions{Type: "2_color_scale", Criteria: "=", MinType: "num", MaxType: "num",
		MinValue: exact(low), MaxValue: exact(high), MinColor: "#C9D8E6", MaxColor: "#FFF6D8"}
	change := &excelize.ConditionalFormatOptions{Type: "3_color_scale", Criteria: "=", MinType: "min", MidType: "num", MaxType: "max",
		MidValue: "0", MinColor: "#CFE0F5", MidColor: "#FFFFFF", MaxColor: "#FBE3C4"}
	for _, side := range r.Sides {
		w.points(side.Name, e, side.Grids[i].Maintained, v, lightFormat(high), light)
	}
	digits := lightFormat(high)
	w.points("change, proposed less existing", e, plots.Difference(e.Maintained, p.Maintained), v, fmt.Sprintf("+%[1]s;-%[1]s;%[1]s",
		digits), change)
	w.widths(e.NX+1, 14, 7)
	w.heads = 0
	w.paper(e.NX > e.NY, e.NX <= onePage && e.NY <= onePage)
}

// onePage is how many points in a row of a grid, or rows, are read on one page.
const onePage = 40

// points writes the values of a grid, lx, under a name.
func (w *workbook) points(name string, g lighting.Grid, lux []float64, v units.Units, format string, colors *excelize.ConditionalFormatOptions) {
	w.row++
	w.line(looks{bold: true}, name)
	x, y := g.Coordinates()
	corner := "y \\ x"
	if g.Plane == room.Vertical {
		corner = "height \\ along"
	}
	w.put(1, corner, looks{head: true})
	for ix := range x {
		w.put(ix+2, x[ix]/v.Meter, looks{head: true, format: "0.##"})
	}
	w.row++
	first := w.row
	for iy := g.NY - 1; iy >= 0; iy-- {
		w.put(1, y[iy]/v.Meter, looks{bold: true, format: "0.##"})
		for ix := range g.NX {
			w.put(ix+2, lux[iy*g.NX+ix]/v.Lux, looks{format: format})
		}
		w.row++
	}
	from, err := excelize.CoordinatesToCellName(2, first)
	w.note(err)
	to, err := excelize.CoordinatesToCellName(g.NX+1, w.row-1)
	w.note(err)
	w.note(w.SetConditionalFormat(w.sheet, from+":"+to, []excelize.ConditionalFormatOptions{*colors}))
}

// notes writes the defaults, key by key, and all that goes with the result in words.
func (w *workbook) notes(r *study.Result) {
	w.line(looks{bold: true}, r.Job.Title)
	word, sentence := ledger.Answer(r)
	w.told(word + ". " + sentence)
	w.row++
	w.line(looks{bold: true}, "Defaults that were used")
	w.line(looks{head: true, left: true}, "key", "value", "why")
	for _, d := range r.Job.Defaults {
		w.high(longest(strings.Repeat(" ", len(d.Key)*2), strings.Repeat(" ", len(d.Value)*3), d.Reason), 70)
		w.line(looks{wrap: true}, d.Key, d.Value, d.Reason)
	}
	for _, part := range []ledger.Note{{Heading: "Warnings, the gravest first", Items: wording.Weighed(r)}, {Heading: "Cautions", Items: wording.Cautions(r)}} {
		if len(part.Items) == 0 {
			continue
		}
		w.row++
		w.line(looks{bold: true}, part.Heading)
		for _, item := range part.Items {
			w.told(item)
		}
	}
	w.widths(3, notesWidths...)
	w.freeze(0, 1)
	w.paper(true, false)
}

// notesWidths are those of the columns of notes: key, value, why.
var notesWidths = []float64{36, 22, 70}

// told writes a text over the three columns of the notes.
func (w *workbook) told(text string) {
	w.put(1, text, looks{wrap: true})
	w.columns = max(w.columns, 3)
	w.note(w.MergeCell(w.sheet, w.cell(1, w.row), w.cell(3, w.row)))
	w.high(text, notesWidths[0]+notesWidths[1]+notesWidths[2])
	w.row++
}
