package building

import (
	"fmt"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"

	"lampswap/photometry/diag"
	"lampswap/photometry/internal/tomlfile"
	"lampswap/photometry/job"
)

// Bounds of a building, so that a slip of the pen is refused before it is worked out.
const (
	mostSpaces     = 1000
	mostCopies     = 10_000
	mostLuminaires = 1_000_000 // with all copies
)

// Is tells whether the text of a TOML file is that of a building: whether it has [[spaces]].
func Is(text []byte) bool {
	p := unstable.Parser{} // which takes no time for what is no building
	p.Reset(text)
	inTable := false
	for p.NextExpression() {
		e := p.Expression()
		header := e.Kind == unstable.Table || e.Kind == unstable.ArrayTable
		if !header && (inTable || e.Kind != unstable.KeyValue) {
			continue
		}
		inTable = header
		if key := e.Key(); key.Next() && string(key.Node().Data) == "spaces" {
			return true
		}
	}
	return false
}

// Read reads a building from the text of its file; the files that it names are opened by the given function, luminaires come from the shelf,
// which may be nil. The error is a diag.List with every fault found, in the building and in the jobs that it names.
func Read(name string, text []byte, files job.Files, shelf *job.Shelf) (*Building, error) {
	if len(text) > job.MaxBytes {
		return nil, diag.List{{Pos: diag.Pos{File: name, Line: 1, Column: 1}, Wrong: "the file is too long", Want: fmt.Sprintf("at most %d bytes", job.MaxBytes)}}
	}
	if shelf == nil {
		shelf = job.NewShelf(64 << 20) // rooms of one building share their luminaires
	}
	sources := job.NewSources(text, files)
	r := &reader{file: tomlfile.Read(name, text), sources: sources, shelf: shelf, b: &Building{}, named: map[string]bool{}}
	r.files = []*tomlfile.File{r.file}
	r.read()
	if err := tomlfile.All(r.files...); err != nil {
		return nil, err
	}
	r.b.InputsDigest, r.b.InputNames = sources.Digest(), sources.Names()
	for i := range r.b.Spaces {
		r.b.Spaces[i].Job.InputsDigest, r.b.Spaces[i].Job.InputNames = r.b.InputsDigest, r.b.InputNames
	}
	return r.b, nil
}

// A reader carries what the parts of a reading share.
type reader struct {
	file    *tomlfile.File
	sources *job.Sources
	shelf   *job.Shelf
	b       *Building
	head    *job.Job
	files   []*tomlfile.File // in which faults may be noted
	named   map[string]bool  // names of spaces, in lower case

	luminaires int // so far, with all copies
}

func (r *reader) read() {
	top := r.file.Root()
	r.head = job.ReadHead(r.file, r.sources.Open)
	r.b.Title, r.b.Imperial = r.head.Title, r.head.Imperial
	r.b.Firm = r.head.Facts.Offer.Firm
	r.misplaced(top)
	tables := top.Tables("spaces", mostSpaces)
	if len(tables) == 0 && len(r.file.Faults) == 0 {
		top.Missing("spaces", "tables [[spaces]], one a room: in place, or by job = \"room.toml\"")
	}
	for i, t := range tables {
		r.space(i, t)
	}
	top.Take("upkeep") // asked for by every space
	top.Take("shifts")
	r.money()
	r.unused(top)
	r.phases(top)
	top.Done()
}

// ofSpaces are tables of a job that a building has in its spaces.
var ofSpaces = []string{"room", "racks", "layout", "existing", "proposed", "replacement", "groups", "calculation", "grids", "criteria", "egress", "uncertainty", "observers"}

// misplaced refuses what a space has, at the top of the building.
func (r *reader) misplaced(top *tomlfile.Table) {
	for _, key := range ofSpaces {
		if top.Has(key) {
			top.Fault(key, "stands beside [[spaces]]", "[spaces."+key+"] below the space that it is of: a building has no room of its own")
			r.file.Omit(key)
		}
	}
}

// space reads one space, in place or by the path of a job.
func (r *reader) space(i int, t *tomlfile.Table) {
	s := Space{Copies: 1}
	if n, ok := t.Count("copies", 1, mostCopies); ok {
		s.Copies = n
	}
	if t.Has("job") {
		r.byPath(i, t, &s)
	} else {
		r.inPlace(i, t, &s)
	}
	if s.Job == nil {
		return
	}
	s.Job.Title = s.Name
	r.luminaires += s.Copies * max(s.Job.Existing.Number(), s.Job.Proposed.Number())
	if r.luminaires > mostLuminaires {
		t.Fault("copies", fmt.Sprintf("makes %d luminaires in all", r.luminaires), fmt.Sprintf("at most %d in a building", mostLuminaires))
		return
	}
	r.b.Spaces = append(r.b.Spaces, s)
}

// name settles what a space is called. Two of one name would be mistaken for each other.
func (r *reader) name(t *tomlfile.Table, otherwise, why string) string {
	name, ok := t.Text("name")
	if !ok {
		name = otherwise
		if !t.Has("name") {
			r.b.Defaults = append(r.b.Defaults, job.Default{Key: t.Path("name"), Value: strconv.Quote(name), Reason: why})
		}
	}
	key := strings.ToLower(strings.TrimSpace(name))
	switch {
	case r.named[key] && ok:
		t.Fault("name", strconv.Quote(name)+" is the name of another space too", "a name of its own for each space; rooms alike are copies = 2 of one")
	case r.named[key]:
		t.Missing("name", "a name of its own for each space: "+strconv.Quote(name)+", "+why+", is the name of another")
	}
	r.named[key] = true
	return name
}

// ofBuilding are keys that a space may not have: what they are about is one for the whole building.
var ofBuilding = []struct{ key, want string }{
	{"units", "the building's: all spaces in place are in one"}, {"energy", "[energy] of the building"}, {"costs", "[costs] of the building"},
	{"rebates", "[[rebates]] of the building"}, {"life_cycle", "[life_cycle] of the building"}, {"currency", "the building's"},
	{"firm", "[firm] of the building"}, {"phases", "[[phases]] of the building"}, {"spaces", "[[spaces]] of the building alone: a space has no spaces"},
}

// ofSwap are what a swap costs, and brings in, with a system.
var ofSwap = []string{"installed_cost", "rebate"}

// inPlace reads a space that stands in the building's file.
func (r *reader) inPlace(i int, t *tomlfile.Table, s *Space) {
	s.Name = r.name(t, fmt.Sprintf("space %d", i+1), "spaces are numbered")
	room := t.Apart()
	for _, no := range ofBuilding {
		if t.Has(no.key) {
			t.Fault(no.key, "stands in a space", no.want)
			room.Omit(no.key)
		}
	}
	for _, system := range job.SystemNames {
		costs := t.Table(system).Table("costs")
		for _, key := range ofSwap {
			if costs.Has(key) {
				costs.Fault(key, "stands in a space", "[costs] lines and [[rebates]], or [energy] installed_cost and rebate, of the building")
				room.Omit(system + ".costs." + key)
			}
		}
	}
	room.Root().Has("name") // known, though not the room's
	room.Root().Has("copies")
	room.Omit("name", "copies")
	r.lend(room, nil, t.Has("groups") || t.Has("kinds"))
	room.Lend("units", r.file.Root(), nil)
	room.Put("title", s.Name)
	s.Job = r.room(room, r.sources.Open, fmt.Sprintf("spaces[%d].", i))
}

// lend gives a room what the building has for all: its own key counts where it has one.
func (r *reader) lend(room *tomlfile.File, convert func(string, any) any, kinds bool) {
	top := r.file.Root()
	for _, key := range []string{"state", "date", "prepared_by", "prepared_for", "life_cycle"} {
		room.Lend(key, top, nil)
	}
	room.Lend("upkeep", top, convert)
	switch hours := room.Root().Table("upkeep"); {
	case room.Root().Has("shifts") && !hours.LentKey("hours_per_year"):
	case room.Root().Has("shifts"):
		room.Omit("upkeep.hours_per_year") // the room's shifts are its hours
	case !hours.Has("hours_per_year") || hours.LentKey("hours_per_year"):
		room.Lend("shifts", top, nil)
	}
	if kinds {
		room.Lend("kinds", top, convert)
	}
}

// room reads a room of what has been put together for it; nil where something is wrong with it.
func (r *reader) room(room *tomlfile.File, open job.Files, prefix string) *job.Job {
	r.files = append(r.files, room)
	j := r.shelf.ReadRoom(room, open)
	if len(room.Faults) > 0 || room.Broken() {
		return nil
	}
	for i := range j.Defaults {
		j.Defaults[i].Key = strings.TrimPrefix(j.Defaults[i].Key, prefix)
	}
	for i := range j.Warnings {
		j.Warnings[i] = strings.TrimPrefix(j.Warnings[i], prefix)
	}
	return j
}

// ofMoney are the keys of a job that a building does not take from it.
var ofMoney = []string{"energy", "costs", "rebates", "currency", "life_cycle", "proposed.costs.installed_cost", "proposed.costs.rebate",
	"existing.costs.installed_cost", "existing.costs.rebate", "replacement.costs.installed_cost", "replacement.costs.rebate"}

// byPath reads a space that is a job of its own.
func (r *reader) byPath(i int, t *tomlfile.Table, s *Space) {
	defer t.Done()
	file, ok := t.Text("job")
	if !ok {
		r.name(t, fmt.Sprintf("space %d", i+1), "spaces are numbered")
		return
	}
	for _, key := range t.Keys() {
		if !slices.Contains([]string{"job", "name", "copies"}, key) {
			t.Take(key)
			t.Fault(key, "stands beside job", "all that a room has in "+strconv.Quote(file)+", or the whole space in place")
		}
	}
	s.Path = file
	text, err := r.sources.Open(file)
	if err != nil {
		t.Fault("job", strconv.Quote(file)+" cannot be read ("+job.Reason(err)+")", "a job of one room, beside this file")
		r.name(t, plainName(file), "the name of its file")
		return
	}
	read := tomlfile.Read(job.PathBeside(r.file.Name, file), text)
	r.files = append(r.files, read)
	top := read.Root()
	title, titled := top.Text("title")
	if titled {
		s.Name = r.name(t, title, "the title of its job")
	} else {
		s.Name = r.name(t, plainName(file), "the name of its file")
	}
	if top.Has("spaces") {
		t.Fault("job", strconv.Quote(file)+" is a building", "a job of one room: a building has no buildings in it")
		return
	}
	room := top.Apart()
	if room.Omit(ofMoney...) {
		r.b.Warnings = append(r.b.Warnings, fmt.Sprintf("%s: the money in %s (prices, costs, rebates, life cycle) counts for nothing here: that of the building counts", s.Name, file))
	}
	metric := false
	if word, _ := top.Text("units"); word == "metric" {
		metric = true
	}
	var convert func(string, any) any
	if metric == r.b.Imperial {
		convert = converter(metric)
		unit := map[bool]string{true: "meters and lux", false: "feet and footcandles"}
		r.b.Warnings = append(r.b.Warnings, fmt.Sprintf("%s: %s is in %s; its answers are shown here in %s", s.Name, file, unit[metric], unit[!metric]))
	}
	r.lend(room, convert, top.Has("groups") || top.Has("kinds"))
	room.Put("title", s.Name)
	beside := path.Dir(filepath.ToSlash(file))
	s.Job = r.room(room, func(name string) ([]byte, error) {
		if !filepath.IsAbs(name) {
			name = path.Join(beside, filepath.ToSlash(name))
		}
		return r.sources.Open(name)
	}, "")
}

// plainName is that of a file without its folder and its ending.
func plainName(file string) string {
	base := path.Base(filepath.ToSlash(file))
	return strings.TrimSuffix(base, path.Ext(base))
}

// unused warns of kinds that no space has.
func (r *reader) unused(top *tomlfile.Table) {
	kinds := top.Table("kinds")
	for _, name := range kinds.Keys() {
		used := slices.ContainsFunc(r.b.Spaces, func(s Space) bool {
			return slices.ContainsFunc(s.Job.Kinds(), func(k *job.System) bool { return k.Kind == name })
		})
		if !used {
			r.b.Warnings = append(r.b.Warnings, "kinds."+name+": counts for nothing: no space has a group of this kind")
		}
	}
}
