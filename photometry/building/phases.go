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

// A Phase is spaces, or groups of them, that are done at one time.
type Phase struct {
	Name  string
	Date  time.Time // its day in UTC
	Parts []Done
}

// Done is what is done of a space in a phase, in all its copies.
type Done struct {
	Space  int      // its number among the spaces
	Groups []string // in the job's order
	Whole  bool     // all groups that the space has
}

// phases reads which spaces are done when; none is all at once.
func (r *reader) phases(top *tomlfile.Table) {
	tables := top.Tables("phases", mostPhases)
	in := map[string]string{} // the phase of a group, by its name among all
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
		if p.Date, ok = t.Day("date"); !ok && !t.Has("date") {
			t.Missing("date", `when it is done, as "2026-09-01"`)
		}
		r.phased(t, &p, in)
		t.Done()
		r.b.Phases = append(r.b.Phases, p)
	}
	if left := r.left(in); len(tables) > 0 && len(left) > 0 && len(r.file.Faults) == 0 {
		top.Fault("phases", "leave out "+strings.Join(left, ", "), "every space in one phase, or each of its groups that the swap changes")
	}
	slices.SortStableFunc(r.b.Phases, func(a, b Phase) int { return a.Date.Compare(b.Date) })
}

// left are the spaces, and of those that are in a phase in part the groups, that are changed in none. What hangs there before and after as the same kind
// need not be named.
func (r *reader) left(in map[string]string) []string {
	var all []string
	for _, s := range r.b.Spaces {
		var groups []string
		for _, g := range s.Job.Groups {
			before, after := s.Job.Existing.Find(g), s.Job.Proposed.Find(g)
			if stays := before != nil && after != nil && before.Kind != "" && before.Kind == after.Kind; in[groupOf(s.Name, g)] == "" && !stays {
				groups = append(groups, groupOf(s.Name, g))
			}
		}
		if whole := !slices.ContainsFunc(s.Job.Groups, func(g string) bool { return in[groupOf(s.Name, g)] != "" }); whole && len(groups) > 0 {
			groups = []string{s.Name}
		}
		all = append(all, groups...)
	}
	return all
}

// phased reads the spaces and the groups of a phase.
func (r *reader) phased(t *tomlfile.Table, p *Phase, in map[string]string) {
	spaces, ok := t.TextOrTexts("spaces", mostSpaces, "the name of a space, or a list of them")
	if !ok && !t.Has("spaces") && !t.Has("groups") {
		t.Missing("spaces", "the names of its spaces, or groups = [\"hall: dock\", ...], space and group with a colon between")
	}
	for k, name := range spaces {
		key := place("spaces", k, len(spaces))
		at := slices.IndexFunc(r.b.Spaces, func(s Space) bool { return strings.EqualFold(s.Name, name) })
		switch {
		case at >= 0:
			r.done(t, key, p, in, at, r.b.Spaces[at].Job.Groups)
		case !r.named[strings.ToLower(name)]: // else a fault tells what is wrong with that space
			t.Fault(key, strconv.Quote(name)+" is no space of the building", perhaps("the name of a space", name, r.b.Names()))
		}
	}
	groups, _ := t.TextOrTexts("groups", mostSpaces, "a space and its group, as \"hall: dock\", or a list of such")
	for k, name := range groups {
		key := place("groups", k, len(groups))
		at, group := r.findGroup(name)
		if at < 0 {
			if space, _, _ := strings.Cut(name, ":"); r.named[strings.ToLower(space)] && r.b.Find(space) == nil {
				continue // a fault tells what is wrong with that space
			}
			t.Fault(key, strconv.Quote(name)+" is no group of a space", perhaps("a space and its group with a colon between, as \"hall: dock\"", name, r.groupNames()))
			continue
		}
		r.done(t, key, p, in, at, []string{group})
	}
}

// done notes groups of a space that are done in a phase, each in one.
func (r *reader) done(t *tomlfile.Table, key string, p *Phase, in map[string]string, space int, groups []string) {
	s := r.b.Spaces[space]
	for _, g := range groups {
		name := groupOf(s.Name, g)
		if phase := in[name]; phase != "" {
			said, want := name, "each group in one phase"
			if len(groups) == len(s.Job.Groups) && !strings.HasPrefix(key, "groups") {
				said, want = s.Name, "each space in one phase, or its groups one by one"
			}
			t.Fault(key, fmt.Sprintf("%q is in %s already", said, phase), want)
			return
		}
	}
	at := slices.IndexFunc(p.Parts, func(d Done) bool { return d.Space == space })
	if at < 0 {
		at, p.Parts = len(p.Parts), append(p.Parts, Done{Space: space})
	}
	for _, g := range groups {
		in[groupOf(s.Name, g)] = p.Name
		p.Parts[at].Groups = append(p.Parts[at].Groups, g)
	}
	p.Parts[at].Whole = len(p.Parts[at].Groups) == len(s.Job.Groups)
}

// place is the key of a text, or of one in a list.
func place(key string, k, number int) string {
	if number > 1 {
		return fmt.Sprintf("%s[%d]", key, k)
	}
	return key
}

// perhaps is what is wanted: the name that is nearest, or else in words.
func perhaps(want, name string, names []string) string {
	if near := diag.Nearest(name, names); near != "" {
		return near + ", perhaps"
	}
	return want
}

// groupNames are those of all groups of all spaces.
func (r *reader) groupNames() []string {
	var all []string
	for _, s := range r.b.Spaces {
		for _, g := range s.Job.Groups {
			all = append(all, groupOf(s.Name, g))
		}
	}
	return all
}

// findGroup is the space and the group of a name such as "hall: dock"; the space is -1 where there is none.
func (r *reader) findGroup(name string) (space int, group string) {
	for i, s := range r.b.Spaces {
		for _, g := range s.Job.Groups {
			if strings.EqualFold(groupOf(s.Name, g), name) {
				return i, g
			}
		}
	}
	return -1, ""
}
