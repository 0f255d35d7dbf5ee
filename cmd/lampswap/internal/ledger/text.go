package ledger

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/jedib0t/go-pretty/v6/table"
	"github.com/jedib0t/go-pretty/v6/text"

	"lampswap/cmd/lampswap/internal/origin"
	"lampswap/cmd/lampswap/internal/terminal"
	"lampswap/photometry/study"
)

// Write writes the whole answer for a terminal; the verdict comes first, and at the end, where a terminal shows it.
func Write(w io.Writer, r *study.Result) {
	fmt.Fprintf(w, "%s\n\n", text.Bold.Sprint(r.Job.Title))
	word, sentence := Answer(r)
	WriteVerdict(w, word, sentence)
	fmt.Fprintln(w)
	if l := Groups(r); len(l.Sections) > 0 {
		fmt.Fprintf(w, "%s\n\n%s\n\n", text.Bold.Sprint(l.Name), renderLedger(l))
	}
	fmt.Fprintln(w, renderLedger(BeforeAfter(r)))
	if l := Ways(r); len(l.Sections) > 0 {
		fmt.Fprintf(w, "\n%s\n\n%s\n", text.Bold.Sprint(l.Name), renderLedger(l))
	}
	for _, n := range Notes(r) {
		terminal.List(w, n.Heading, n.Items)
	}
	fmt.Fprintln(w)
	WriteVerdict(w, word, sentence)
	terminal.Quiet(w, origin.Of(r.Job.InputsDigest).Line())
}

// The most that the columns of a ledger are wide, so that all five keep within terminal.Width: the labels, the values, what is required.
const (
	labelWidth    = 33
	valueWidth    = 13
	requiredWidth = 8
	leastLabel    = 16 // of the labels, where the values leave no more
	leastWidth    = 10 // of any, however many there are
	indentWidth   = 2  // of labels below the name of their section
	columnGap     = 2
)

// sectionNames are the names in a table that stand across all its columns.
type sectionNames []string

// begin adds the name of a section to a table.
func (names *sectionNames) begin(t table.Writer, name string, columns int) {
	row, shown := make(table.Row, columns), text.Bold.Sprint(text.WrapSoft(name, terminal.Width-2))
	for i := range row {
		row[i] = shown
	}
	*names = append(*names, shown)
	t.AppendRow(row, table.RowConfig{AutoMerge: true, AutoMergeAlign: text.AlignLeft})
}

// wrapped breaks a cell to the width of its column, and leaves the name of a section whole.
func (names *sectionNames) wrapped(cell string, width int) string {
	if slices.Contains(*names, cell) {
		return cell
	}
	words := strings.TrimLeft(cell, " ")
	indent := cell[:len(cell)-len(words)]
	width -= len(indent)
	return indent + strings.ReplaceAll(terminal.Flushed(text.WrapSoft(hyphened(words, width), width)), "\n", "\n"+indent)
}

// widths are those of a ledger's columns, the labels' first: as wide as their cells, up to a most. Where all together are wider than a terminal
// the widest of the values is narrowed, the last of those that are alike, and the labels only where none can be. No name of a column is broken.
func widths(l Ledger) []int {
	all, least := []int{0}, []int{leastLabel}
	for _, name := range l.Columns {
		all, least = append(all, utf8.RuneCountInString(name)), append(least, max(leastWidth, utf8.RuneCountInString(name)))
	}
	for _, s := range l.Sections {
		for _, r := range s.Rows {
			all[0] = min(max(all[0], indentWidth+utf8.RuneCountInString(r.Label)), labelWidth)
			for i, c := range r.Cells {
				most := valueWidth
				if l.Columns[i] == required {
					most = requiredWidth
				}
				all[i+1] = max(all[i+1], min(utf8.RuneCountInString(c.Text), most))
			}
		}
	}
	for {
		sum, widest := all[0], 0
		for i, width := range all[1:] {
			sum += columnGap + width
			if width > least[i+1] && (widest == 0 || width >= all[widest]) {
				widest = i + 1
			}
		}
		if sum <= terminal.Width || widest == 0 {
			all[0] -= min(max(0, sum-terminal.Width), max(0, all[0]-least[0]))
			return all
		}
		all[widest]--
	}
}

// hyphened breaks words that are too long for a width behind a hyphen, as that of LED-T8-4FT-18.5W-B.
func hyphened(cell string, width int) string {
	words := strings.Split(cell, " ")
	for i, w := range words {
		for start := 0; len(w)-start > width; {
			at := strings.LastIndex(w[start:start+width], "-")
			if at <= 0 {
				break
			}
			w = w[:start+at+1] + "\n" + w[start+at+1:]
			start += at + 2
		}
		words[i] = w
	}
	return strings.Join(words, " ")
}

// Render is a table for a terminal.
func Render(l Ledger) string { return renderLedger(l) }

func renderLedger(l Ledger) string {
	t := table.NewWriter()
	style := table.StyleLight
	style.Options = table.OptionsNoBordersAndSeparators
	style.Format.Header = text.FormatDefault
	t.SetStyle(style)
	var names sectionNames
	width := widths(l)
	columns := []table.ColumnConfig{{Number: 1, WidthMax: width[0], WidthMaxEnforcer: names.wrapped}}
	header := table.Row{""}
	for i, name := range l.Columns {
		columns = append(columns, table.ColumnConfig{Number: i + 2, Align: text.AlignRight, AlignHeader: text.AlignRight, WidthMax: width[i+1], WidthMaxEnforcer: names.wrapped})
		header = append(header, name)
	}
	t.SetColumnConfigs(columns)
	t.AppendHeader(header)
	for i, s := range l.Sections {
		if i > 0 {
			t.AppendRow(table.Row{""})
		}
		names.begin(t, s.Name, len(l.Columns)+1)
		for _, r := range s.Rows {
			cells := table.Row{strings.Repeat(" ", indentWidth) + r.Label}
			for _, c := range r.Cells {
				cells = append(cells, c.Text)
			}
			t.AppendRow(cells)
		}
	}
	return terminal.Trimmed(t.Render())
}
