package stations

import (
	"fmt"
	"io"

	"github.com/jedib0t/go-pretty/v6/table"
	"github.com/jedib0t/go-pretty/v6/text"

	"lampswap/cmd/lampswap/internal/ledger"
	"lampswap/cmd/lampswap/internal/origin"
	"lampswap/cmd/lampswap/internal/terminal"
	"lampswap/cmd/lampswap/internal/units"
	"lampswap/photometry/job"
	"lampswap/photometry/survey"
	"lampswap/photometry/wording"
)

// Write writes the plan for a terminal.
func Write(w io.Writer, j *job.Job, m Measurement) {
	v := units.Of(j)
	fmt.Fprintf(w, "%s\n%s\n", text.Bold.Sprint(j.Title), fmt.Sprintf("Where to measure, with the %s luminaires burning", m.System))
	for _, p := range m.Plans {
		fmt.Fprintf(w, "\n%s: %s, %d stations\n\n", text.Bold.Sprint(p.Grid), p.Words(), len(p.Stations))
		if g := p.Points; len(p.Stations) > mostListed && g.NX > 0 {
			fmt.Fprintf(w, "%d columns %s %s apart by %d rows %s %s apart; --output writes the list\n", g.NX, v.At(g.StepX), v.Length, g.NY, v.At(g.StepY), v.Length)
			continue
		}
		fmt.Fprintln(w, terminal.Trimmed(stationTable(v, p).Render()))
	}
	notes := m.Notes
	for _, p := range m.Plans {
		for _, n := range wording.PlanNotes(p.Plan) {
			notes = append(notes, p.Grid+": "+n)
		}
	}
	terminal.List(w, "What to know", notes)
	terminal.List(w, "Before and while reading", append(wording.Preparation(), survey.Instructions(Unit(j))...))
	terminal.List(w, "Cautions", ledger.OnSite)
	terminal.Quiet(w, origin.Of(j.InputsDigest).Line())
}

// mostListed is how many stations of a grid a terminal lists.
const mostListed = 40

func stationTable(v units.Units, p Plan) table.Writer {
	t := terminal.Table("station", "x, "+v.Length, "y, "+v.Length, "z, "+v.Length, "place")
	t.SetColumnConfigs([]table.ColumnConfig{{Number: 5, WidthMax: 42, WidthMaxEnforcer: text.WrapSoft}})
	for _, s := range p.Stations {
		t.AppendRow(table.Row{s.Name, v.At(s.Position.X), v.At(s.Position.Y), v.At(s.Position.Z), s.Place})
	}
	return t
}
