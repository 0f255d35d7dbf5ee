package stations

import (
	"fmt"
	"io"

	"github.com/jedib0t/go-pretty/v6/table"
	"github.com/jedib0t/go-pretty/v6/text"

	"lampswap/cmd/lampswap/internal/ledger"
	"lampswap/cmd/lampswap/internal/origin"
	"lampswap/cmd/lampswap/internal/terminal"
	"lampswap/photometry/building"
	"lampswap/photometry/survey"
	"lampswap/photometry/wording"
)

// A Space is where to measure in a space of a building, and what the names of its files begin with.
type Space struct {
	building.Space
	Measurement
	Prefix string
}

// WriteWalk lists the spaces of a building in the order of its file, with how many stations each has, for a terminal.
func WriteWalk(w io.Writer, spaces []Space, from origin.Origin) {
	fmt.Fprintf(w, "\n%s\n\n", text.Bold.Sprint("Light, with the "+spaces[0].System+" luminaires burning: spaces in the order of the file"))
	t := terminal.Table("space", "stations", "plan", "rooms alike", "to measure")
	t.SetColumnConfigs([]table.ColumnConfig{{Number: 1, WidthMax: 30, WidthMaxEnforcer: text.WrapSoft}, {Number: 2, Align: text.AlignRight}, {Number: 4, Align: text.AlignRight}, {Number: 5, Align: text.AlignRight}})
	stations := 0
	var notes []string
	for _, s := range spaces {
		measured := 1
		if a := s.Acceptance; a != nil {
			if measured = a.Read; measured < s.Copies { // else there is nothing to draw
				notes = append(notes, s.Name+": "+acceptanceWords(*a))
			}
		}
		n := len(s.Stations())
		stations += measured * n
		t.AppendRow(table.Row{s.Name, n, s.Kind, s.Copies, measured})
	}
	fmt.Fprintln(w, terminal.Trimmed(t.Render()))
	terminal.List(w, "What to know of the stations", append([]string{
		fmt.Sprintf("%d readings of light in all. Put the spaces into the building's file in the order in which you walk: forms are numbered so.", stations),
		"--output writes a form and a marked plan of each space, numbered in this order; --space NAME shows where its stations are. " +
			"The readings of a space go to lampswap verify --light SPACE=FILE, with the same --plan."}, notes...))
	terminal.List(w, "Before and while reading", append(wording.Preparation(), survey.Instructions(Unit(spaces[0].Job))...))
	terminal.List(w, "Cautions", ledger.OnSite)
	terminal.Quiet(w, from.Line())
}
