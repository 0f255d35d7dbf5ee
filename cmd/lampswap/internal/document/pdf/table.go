package pdf

import (
	"lampswap/cmd/lampswap/internal/document"
)

// Room in a table, pt.
const (
	leastText    = 0.25 // of the width, left to labels and texts
	leastNumber  = 20.0 // width of a column of numbers, whatever they are
	cellGap      = 12.0 // between columns
	cellPad      = 2.2  // above and below the text of a row
	labelIndent  = 8.0  // of labels below the name of their group
	wholeGroup   = 12   // rows; a longer group may be parted between pages
	fewRows      = 3    // that no page begins or ends a table, or a group of its rows, with fewer of
	linesOfAPage = 24   // of a row or of the verdict, that are not parted
	roomyNumber  = 74.0 // width of a column of numbers where there is room
	writingRow   = 21.0 // height of what a hand writes into
	hair         = 0.1  // by which labels have more room than they take, so that rounding breaks none
)

// A pdfTable is a table on paper with the places of its columns; column 0 has the labels.
type pdfTable struct {
	*writer
	document.Table
	x, widths []float64
	indent    float64
	number    int // of the table in its document
}

// table lays a table out: its caption, the head, and a box a row.
func (w *writer) table(d document.Table) {
	w.tables++
	t := pdfTable{writer: w, Table: d, number: w.tables}
	t.measure()
	head := t.head()
	caption := w.wrapMost(cellBoldType, d.Caption, w.width(), mostCaption)
	w.add(box{before: 9, height: float64(len(caption))*cellBoldType.leading + 3, keep: true, draw: func(y, _ float64) {
		w.lines(cellBoldType, document.Light.Ink, sideMargin, y, caption)
	}})
	first := *head
	first.keep = true
	w.add(first)
	seen, rows := 0, t.rows()
	for _, g := range d.Groups {
		if g.Name != "" {
			name := w.wrapMost(cellBoldType, g.Name, w.width(), mostCaption)
			w.add(box{before: 4, height: float64(len(name))*cellBoldType.leading + 2*cellPad, keep: true, head: head, draw: func(y, height float64) {
				w.fill(sideMargin, y, w.width(), height, document.Light.Tint)
				w.lines(cellBoldType, document.Light.Ink, sideMargin+3, y+cellPad, name)
			}})
		}
		for i, r := range g.Rows {
			seen++
			last := len(g.Rows) - 1
			inGroup := i < last && (len(g.Rows) <= wholeGroup && g.Name != "" || i < fewRows-1 || i > last-fewRows)
			inTable := seen < rows && (seen < fewRows || seen > rows-fewRows)
			t.row(r, inGroup || inTable, head)
		}
	}
}

// rows is how many rows a table has.
func (t *pdfTable) rows() int {
	n := 0
	for _, g := range t.Groups {
		n += len(g.Rows)
	}
	return n
}

// measure settles the widths of the columns: numbers take what they need, labels and texts share the rest.
func (t *pdfTable) measure() {
	n := len(t.Columns) + 1
	t.widths, t.x = make([]float64, n), make([]float64, n)
	labels := t.wide(cellBoldType, t.Label)
	for _, g := range t.Groups {
		if g.Name != "" {
			t.indent = labelIndent
		}
		for _, r := range g.Rows {
			labels = max(labels, t.wide(cellType, r.Label)+t.indent)
		}
	}
	labels += hair
	free, shares := t.width()-cellGap*float64(n-1), 0.0
	for k, c := range t.Columns {
		if c.Share > 0 {
			shares += c.Share
			continue
		}
		t.widths[k+1] = t.widestWord(c.Name)
		for _, g := range t.Groups {
			for _, r := range g.Rows {
				t.widths[k+1] = max(t.widths[k+1], t.wide(t.cellStyle(r.Cells[k]), r.Cells[k].Text))
			}
		}
	}
	free = t.narrowed(free)
	t.widths[0] = min(labels, free)
	if shares > 0 {
		t.widths[0] = min(labels, free/(1+shares))
		for k, c := range t.Columns {
			if c.Share > 0 {
				t.widths[k+1] = (free - t.widths[0]) * c.Share / shares
			}
		}
	} else { // numbers stand at the right edge, evenly where there is room
		for k := 1; k < n; k++ {
			wider := min(max(roomyNumber-t.widths[k], 0), max(free-labels, 0)/float64(n-k))
			t.widths[k] += wider
			free -= wider
		}
		t.widths[0] = free
	}
	t.x[0] = sideMargin
	for k := 1; k < n; k++ {
		t.x[k] = t.x[k-1] + t.widths[k-1] + cellGap
	}
}

// narrowed limits the columns of numbers where they would leave the others less than leastText of the width, so that their cells are broken
// into lines, and returns what they leave.
func (t *pdfTable) narrowed(width float64) float64 {
	left := func(limit float64) float64 {
		rest := width
		for k, c := range t.Columns {
			if c.Share == 0 {
				rest -= min(t.widths[k+1], limit)
			}
		}
		return rest
	}
	limit := width
	for left(limit) < leastText*width && limit > leastNumber {
		limit--
	}
	for k := range t.Columns {
		t.widths[k+1] = min(t.widths[k+1], limit)
	}
	return left(limit)
}

func (t *pdfTable) widestWord(s string) float64 {
	widest := 0.0
	for _, word := range wordsOf(s) {
		widest = max(widest, t.wide(cellBoldType, word))
	}
	return widest
}

func (t *pdfTable) cellStyle(d document.Cell) typeStyle {
	if d.Alarm {
		return cellBoldType
	}
	return cellType
}

// head is the row of the names of the columns.
func (t *pdfTable) head() *box {
	columns := [][]string{t.wrapMost(cellBoldType, t.Label, t.widths[0], mostCaption)}
	most := len(columns[0])
	for k, c := range t.Columns {
		columns = append(columns, t.wrap(cellBoldType, c.Name, t.widths[k+1]))
		most = max(most, len(columns[k+1]))
	}
	height := float64(most)*cellBoldType.leading + 2*cellPad
	return &box{height: height + 1, draw: func(y, _ float64) {
		for k, lines := range columns {
			t.cell(cellBoldType, document.Light.Ink, k, y+cellPad+float64(most-len(lines))*cellBoldType.leading, lines)
		}
		t.rule(y+height, document.Light.Ink)
	}}
}

// row adds a row: one box, or several where it is longer than a page holds.
func (t *pdfTable) row(r document.Row, keep bool, head *box) {
	columns := [][]string{t.wrap(cellType, r.Label, t.widths[0]-t.indent)}
	most := len(columns[0])
	for k, d := range r.Cells {
		columns = append(columns, t.wrap(t.cellStyle(d), d.Text, t.widths[k+1]))
		most = max(most, len(columns[k+1]))
	}
	for from := 0; from < max(most, 1); from += linesOfAPage {
		lines := func(column int) []string {
			all := columns[column]
			return all[min(from, len(all)):min(from+linesOfAPage, len(all))]
		}
		height := float64(min(max(most, 1)-from, linesOfAPage))*cellType.leading + 2*cellPad
		if t.Write {
			height = max(height, writingRow)
		}
		of := t.number
		if from > 0 { // the rest of a row
			of = 0
		}
		t.add(box{height: height, keep: keep, table: of, head: head, draw: func(y, _ float64) {
			t.lines(cellType, document.Light.Ink, t.x[0]+t.indent, y+cellPad, lines(0))
			for k, d := range r.Cells {
				ink := document.Light.Ink
				if d.Alarm {
					ink = document.Light.Bad
				}
				t.cell(t.cellStyle(d), ink, k+1, y+cellPad, lines(k+1))
			}
			t.rule(y+height, document.Light.Rule)
			for k := range r.Cells {
				if t.Write && t.Columns[k].Share > 0 && r.Cells[k].Text == "" { // a box to write into
					t.fill(t.x[k+1]-cellGap/2, y, 0.5, height, document.Light.Rule)
				}
			}
		}})
	}
}

// cell writes the lines of one cell: texts from the left, numbers to the right.
func (t *pdfTable) cell(style typeStyle, ink document.RGB, column int, top float64, lines []string) {
	for i, line := range lines {
		x := t.x[column]
		if column > 0 && t.Columns[column-1].Share == 0 {
			x += t.widths[column] - t.wide(style, line)
		}
		t.lines(style, ink, x, top+float64(i)*style.leading, []string{line})
	}
}
