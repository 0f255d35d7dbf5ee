package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/jedib0t/go-pretty/v6/table"
	"github.com/jedib0t/go-pretty/v6/text"

	"lampswap/photometry/study"
)

// ledgerWidth is the width that every line of the ledger keeps within.
const ledgerWidth = 80

// writeLedger writes the whole answer for a terminal; the verdict comes last, where a terminal shows it.
func writeLedger(w io.Writer, r *study.Result) {
	fmt.Fprintf(w, "%s\n\n%s\n", text.Bold.Sprint(r.Job.Title), renderLedger(beforeAfter(r)))
	if l := ways(r); len(l.Sections) > 0 {
		fmt.Fprintf(w, "\n%s\n\n%s\n", text.Bold.Sprint(l.Name), renderLedger(l))
	}
	for _, n := range notesOf(r) {
		list(w, n.Heading, n.Items)
	}
	word, sentence := answerOf(r)
	fmt.Fprintf(w, "\n%s\n", trimmed(text.WrapSoft(word+". "+sentence, ledgerWidth)))
}

// list writes a heading and wrapped items, or nothing at all.
func list(w io.Writer, heading string, items []string) {
	if len(items) == 0 {
		return
	}
	fmt.Fprintf(w, "\n%s\n", text.Bold.Sprint(heading))
	for _, item := range items {
		wrapped := text.WrapSoft(item, ledgerWidth-4)
		fmt.Fprintf(w, "  - %s\n", strings.ReplaceAll(trimmed(wrapped), "\n", "\n    "))
	}
}

// labelWidth is the width of the first column of a ledger.
const labelWidth = 33

func renderLedger(l ledger) string {
	t := table.NewWriter()
	style := table.StyleLight
	style.Options = table.OptionsNoBordersAndSeparators
	style.Format.Header = text.FormatDefault
	t.SetStyle(style)
	columns := []table.ColumnConfig{{Number: 1, WidthMax: labelWidth, WidthMaxEnforcer: text.WrapSoft}}
	header := table.Row{""}
	for i, name := range l.Columns {
		columns = append(columns, table.ColumnConfig{Number: i + 2, Align: text.AlignRight, AlignHeader: text.AlignRight})
		header = append(header, name)
	}
	t.SetColumnConfigs(columns)
	t.AppendHeader(header)
	for i, s := range l.Sections {
		if i > 0 {
			t.AppendRow(table.Row{""})
		}
		name := make(table.Row, len(l.Columns)+1)
		for k := range name {
			name[k] = text.Bold.Sprint(s.Name)
		}
		t.AppendRow(name, table.RowConfig{AutoMerge: true, AutoMergeAlign: text.AlignLeft})
		for _, r := range s.Rows {
			cells := table.Row{"  " + r.Label}
			for _, c := range r.Cells {
				cells = append(cells, c.Text)
			}
			t.AppendRow(cells)
		}
	}
	return trimmed(t.Render())
}

// trimmed takes the blanks off the ends of lines, and the blank before each that the table style puts there.
func trimmed(rendered string) string {
	lines := strings.Split(rendered, "\n")
	for i, line := range lines {
		lines[i] = strings.TrimRight(strings.TrimPrefix(line, " "), " ")
	}
	return strings.Join(lines, "\n")
}
