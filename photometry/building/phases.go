package building

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"lampswap/photometry/diag"
	"lampswap/photometry/internal/tomlfile"
	"lampswap/photometry/job"
)

// mostPhases is how many a building may have.
const mostPhases = 100

// A Phase is spaces that are done at one time.
type Phase struct {
	Name   string
	Date   time.Time // its day in UTC
	Spaces []int     // their numbers among the spaces
}

// phases reads which spaces are done when; none is all at once.
func (r *reader) phases(top *tomlfile.Table) {
	tables := top.Tables("phases", mostPhases)
	in := map[int]string{} // the phase of a space
	names := map[string]bool{}
	for i, t := range tables {
		p := Phase{}
		var ok bool
		if p.Name, ok = t.Text("name"); !ok && !t.Has("name") {
			p.Name = fmt.Sprintf("phase %d", i+1)
			r.b.Defaults = append(r.b.Defaults, job.Default{Key: t.Path("name"), Value: strconv.Quote(p.Name), Reason: "phases are numbered"})
		}
		if names[strings.ToLower(p.Name)] {
			t.Fault("name", strconv.Quote(p.Name)+" is the name of another phase too", "a name of its own for each phase")
		}
		names[strings.ToLower(p.Name)] = true
		if t.Has("groups") {
			t.Take("groups")
			t.Fault("groups", "stand in a phase", "spaces = [\"hall\", ...]: a phase is of whole spaces")
		}
		if p.Date, ok = t.Day("date"); !ok && !t.Has("date") {
			t.Missing("date", `when it is done, as "2026-09-01"`)
		}
		r.phased(t, &p, in)
		t.Done()
		r.b.Phases = append(r.b.Phases, p)
	}
	var left []string
	for i, s := range r.b.Spaces {
		if in[i] == "" {
			left = append(left, s.Name)
		}
	}
	if len(tables) > 0 && len(left) > 0 && len(r.file.Faults) == 0 {
		top.Fault("phases", "leave out "+strings.Join(left, ", "), "every space in one phase")
	}
	slices.SortStableFunc(r.b.Phases, func(a, b Phase) int { return a.Date.Compare(b.Date) })
}

// phased reads the spaces of a phase.
func (r *reader) phased(t *tomlfile.Table, p *Phase, in map[int]string) {
	spaces, ok := t.TextOrTexts("spaces", mostSpaces, "the name of a space, or a list of them")
	if !ok && !t.Has("spaces") {
		t.Missing("spaces", "the names of its spaces")
	}
	for k, name := range spaces {
		key := "spaces"
		if len(spaces) > 1 {
			key = fmt.Sprintf("spaces[%d]", k)
		}
		at := slices.IndexFunc(r.b.Spaces, func(s Space) bool { return strings.EqualFold(s.Name, name) })
		switch {
		case at < 0 && r.named[strings.ToLower(name)]: // a fault tells what is wrong with that space
		case at < 0:
			want := "the name of a space"
			if near := diag.Nearest(name, r.b.Names()); near != "" {
				want = near + ", perhaps"
			}
			t.Fault(key, strconv.Quote(name)+" is no space of the building", want)
		case in[at] != "":
			t.Fault(key, fmt.Sprintf("%q is in %s already", name, in[at]), "each space in one phase")
		default:
			in[at] = p.Name
			p.Spaces = append(p.Spaces, at)
		}
	}
}
