package tomlfile

import (
	"maps"
	"strings"

	"lampswap/photometry/diag"
)

// A loan is a key of one file that stands, with all below it, in another or elsewhere in the same.
type loan struct {
	path string // as it is asked for
	file *File  // in which it stands
	from string // its path there
}

// stands returns in which file, and by which path, what is asked for by a path is written.
func (f *File) stands(path string) (*File, string) {
	for _, l := range f.loans {
		if rest, ok := strings.CutPrefix(path, l.path); ok && (rest == "" || rest[0] == '.' || rest[0] == '[') {
			return l.file, l.from + rest
		}
	}
	return f, path
}

// Lent tells that the table was lent to its file.
func (t *Table) Lent() bool {
	file, path := t.file.stands(t.path)
	return file != t.file || path != t.path
}

// LentKey tells that a key of the table was lent to its file.
func (t *Table) LentKey(key string) bool {
	file, path := t.file.stands(join(t.path, key))
	return file != t.file || path != join(t.path, key)
}

// Apart makes a file of its own of a table: what is lent to it, left out of it or found wrong in it does not touch the file in which it stands.
// Places and paths stay what they are.
func (t *Table) Apart() *File {
	f := &File{Name: t.file.Name, broken: t.file.broken, slipped: t.file.slipped, places: t.file.places, keys: t.file.keys, lines: t.file.lines}
	f.root = &Table{file: f, path: t.path, at: t.at, values: maps.Clone(t.values), exists: true, asked: map[string]bool{}}
	return f
}

// Omit leaves keys out, each by its path from the root; what is not there is left out already. It tells whether one was there.
func (f *File) Omit(keys ...string) bool {
	some := false
	for _, key := range keys {
		values, path := f.root.values, strings.Split(key, ".")
		for i, name := range path {
			if i == len(path)-1 {
				_, is := values[name]
				some = some || is
				delete(values, name)
				break
			}
			below, ok := values[name].(map[string]any)
			if !ok {
				break
			}
			below = maps.Clone(below)
			values[name] = below
			values = below
		}
	}
	return some
}

// Put gives a key of the root a value that stands nowhere; one that is there stays.
func (f *File) Put(key string, value any) {
	if _, is := f.root.values[key]; !is {
		f.root.values[key] = value
	}
}

// Lend gives the root a key of another table. Where both have a table there it is lent key by key: the file's own count. Each value that is no
// table passes through convert with its key, unless that is nil.
func (f *File) Lend(key string, from *Table, convert func(key string, value any) any) {
	from.asked[key] = true
	value, is := from.values[key]
	if !is {
		return
	}
	if convert != nil {
		value = converted(key, value, convert)
	}
	own, has := f.root.values[key]
	if !has {
		f.root.values[key] = value
		f.loans = append(f.loans, loan{join(f.root.path, key), from.file, join(from.path, key)})
		return
	}
	mine, ok := own.(map[string]any)
	others, both := value.(map[string]any)
	if !ok || !both {
		return // the file's own counts, and a fault tells of what is no table
	}
	mine = maps.Clone(mine)
	for name, v := range others {
		if _, has := mine[name]; !has {
			mine[name] = v
			f.loans = append(f.loans, loan{join(join(f.root.path, key), name), from.file, join(join(from.path, key), name)})
		}
	}
	f.root.values[key] = mine
}

// converted is a value with all that is below it passed through convert.
func converted(key string, value any, convert func(string, any) any) any {
	table, is := value.(map[string]any)
	if !is {
		return convert(key, value)
	}
	out := make(map[string]any, len(table))
	for name, v := range table {
		out[name] = converted(name, v, convert)
	}
	return out
}

// All returns the faults of several files, sorted by place, each once: what is lent to many is wrong once. It returns nil if there are none.
func All(files ...*File) error {
	var all diag.List
	known := map[string]bool{}
	unsaid := 0
	for _, f := range files {
		unsaid += f.unsaid
		for _, fault := range f.Faults {
			if text := fault.Error(); !known[text] {
				known[text] = true
				all = append(all, fault)
			}
		}
	}
	whole := &File{Faults: all, unsaid: unsaid}
	if more := len(all) - mostFaults; more > 0 {
		whole.Faults, whole.unsaid = all[:mostFaults], unsaid+more
	}
	return whole.Err()
}
