package ledger

import (
	"fmt"
	"io"

	"github.com/jedib0t/go-pretty/v6/table"
	"github.com/jedib0t/go-pretty/v6/text"

	"lampswap/cmd/lampswap/internal/terminal"
	"lampswap/photometry/study"
)

// Write writes the whole answer for a terminal; the verdict comes last, where a terminal shows it.
func Write(w io.Writer, r *study.Result) {
	fmt.Fprintf(w, "%s\n\n%s\n", text.Bold.Sprint(r.Job.Title), renderLedger(BeforeAfter(r)))
	if l := Ways(r); len(l.Sections) > 0 {
		fmt.Fprintf(w, "\n%s\n\n%s\n", text.Bold.Sprint(l.Name), renderLedger(l))
	}
	for _, n := range Notes(r) {
		terminal.List(w, n.Heading, n.Items)
	}
	word, sentence := Answer(r)
	fmt.Fprintf(w, "\n%s\n", terminal.Trimmed(text.WrapSoft(word+". "+sentence, terminal.Width)))
}

// labelWidth is the width of the first column of a ledger.
const labelWidth = 33

func renderLedger(l Ledger) string {
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
	return terminal.Trimmed(t.Render())
}
