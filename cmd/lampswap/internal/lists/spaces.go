package lists

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/jedib0t/go-pretty/v6/table"
	"github.com/jedib0t/go-pretty/v6/text"

	"lampswap/cmd/lampswap/internal/exit"
	"lampswap/cmd/lampswap/internal/terminal"
	"lampswap/photometry/codes"
	"lampswap/photometry/levels"
	"lampswap/photometry/spaces"
)

// fewSpaces are shown with their sources, and not so many with their names: ids tell a reader of the whole list enough.
const (
	fewSpaces = 6
	fewNames  = 30
)

// spaceNameWidth is that of the column of names.
const spaceNameWidth = 17

// Spaces lists the kinds of space that have all the words, a few of them with what is known of each.
func Spaces(w io.Writer, words []string) error {
	found := spaces.Search(words...)
	if len(found) == 0 {
		want := "a word of an id of `lampswap levels --spaces`"
		if near := spaces.Near(strings.Join(words, "-")); near != nil {
			want = strings.Join(near, ", ") + ", perhaps; " + want
		}
		return exit.Usagef("no kind of space has %q, want %s", strings.Join(words, " "), want)
	}
	head := []any{"space", "what it is", "lm/ft2", "sensor", "levels", "codes"}
	if len(found) > fewNames {
		head[1] = ""
	}
	t := terminal.Table(head...)
	for _, s := range found {
		sensor := "-"
		if share, _, ok := s.SensorSaving(); ok {
			sensor = fmt.Sprintf("%.0f %%", 100*share)
		}
		name := text.WrapSoft(s.Label(), spaceNameWidth)
		if len(found) > fewNames {
			name = ""
		}
		t.AppendRow(table.Row{s.ID, name, fmt.Sprintf("%g", s.Target), sensor, listedCount(len(s.Levels)), listedCount(len(codes.LimitsAbout(s.CodeSpaces)))})
	}
	fmt.Fprintln(w, terminal.Trimmed(t.Render()))
	terminal.Paragraph(w, "lm/ft2: at which a model of power limits aims, a model's target and no level that binds. sensor: by how much less power the same "+
		"model counts an occupancy sensor. levels, codes: how many published levels and limits of energy codes here are about such a space; - is none "+
		"listed, which does not show that none binds. In a job: [room] space = \""+found[0].ID+"\".")
	if len(found) > fewSpaces {
		fmt.Fprintf(w, "To read the sources, name a space or add a word:\n  lampswap levels --spaces %s\n", found[0].ID)
		return nil
	}
	for _, s := range found {
		describeSpace(w, s)
	}
	return nil
}

func listedCount(n int) string {
	if n == 0 {
		return "-"
	}
	return fmt.Sprint(n)
}

func describeSpace(w io.Writer, s spaces.Space) {
	more := []string{fmt.Sprintf("A model's target: %g lm/ft2. Source: %s.", s.Target, s.Source())}
	if s.Notes != "" {
		more = append(more, "Note: "+s.Notes+".")
	}
	if share, source, ok := s.SensorSaving(); ok {
		more = append(more, fmt.Sprintf("An occupancy sensor: %.0f percent less power. Source: %s, said there to rest on ASHRAE 90.1, table G3.7, which was not read.", 100*share, source))
	}
	if len(s.Levels) > 0 {
		more = append(more, "Published levels: "+strings.Join(s.Levels, ", ")+".")
	}
	if len(s.CodeSpaces) > 0 {
		more = append(more, "In energy codes: "+strings.Join(s.CodeSpaces, "; ")+".")
	}
	terminal.Paragraph(w, text.Bold.Sprint(s.ID)+": "+s.Label(), more...)
}

// about are the levels of a list and those about the kind of space that the one word names, and that space if there is one.
func about(found []levels.Level, words []string) ([]levels.Level, *spaces.Space) {
	if len(words) != 1 {
		return found, nil
	}
	s, ok := spaces.Find(strings.ToLower(words[0]))
	if !ok {
		return found, nil
	}
	for _, l := range levels.Levels() {
		has := func(m levels.Level) bool { return m.ID == l.ID }
		if (slices.Contains(s.Levels, l.ID) || slices.Contains(s.Levels, l.Group)) && !slices.ContainsFunc(found, has) {
			found = append(found, l)
		}
	}
	return found, &s
}
