// Package tomlfile reads a TOML file that a person wrote by asking for the keys one by one, so that every fault is noted with
// its place and reading goes on: a wrong type, a number out of range, a key that is missing or that nobody asked for.
//
//	file := tomlfile.Read("dock.toml", data)
//	r := file.Root().Table("room")
//	length, ok := r.Number("length", tomlfile.Positive)
//	r.Done()
//	err := file.Err()
//
// The syntax is checked by go-toml; its parser also gives each key and value its place.
package tomlfile

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/pelletier/go-toml/v2"
	"github.com/pelletier/go-toml/v2/unstable"

	"lampswap/photometry/diag"
)

// A File is a TOML file with the faults found in it so far.
type File struct {
	Name    string
	Faults  diag.List
	broken  bool
	unsaid  int                 // faults beyond those that are listed
	lines   []int               // offset of the first byte of each line
	prefix  string              // of the table that was being read where the syntax is wrong
	slipped map[diag.Pos]bool   // values that are no numbers of TOML, of which a fault tells
	places  map[string]diag.Pos // of values, and of tables, by dotted path
	keys    map[string]int      // how many a table has, by its path
	loans   []loan              // keys that stand elsewhere
	root    *Table
}

// Read parses the text. A fault of syntax is noted, and the file is then empty; numbers that are only written wrongly are noted each.
func Read(name string, data []byte) *File {
	f := &File{Name: name, slipped: map[diag.Pos]bool{}}
	data = blankMark(data)
	f.findLines(data)
	f.encoded(data)
	values := map[string]any{}
	for !f.broken {
		f.places, f.keys, values = map[string]diag.Pos{}, map[string]int{}, map[string]any{}
		if f.place(data); f.broken {
			break
		}
		err := toml.Unmarshal(data, &values)
		if err == nil {
			break
		}
		if len(f.slipped) == 0 {
			data = slices.Clone(data) // which is mended from here on
		}
		if line, column := f.placeOfSyntax(err); len(f.slipped) >= mostSlips || !f.mend(data, line, column) {
			f.syntax(err)
			f.broken = true
		}
	}
	if f.broken {
		values, f.places = map[string]any{}, map[string]diag.Pos{}
	}
	f.root = &Table{file: f, values: values, at: diag.Pos{File: name, Line: 1, Column: 1}, exists: true, asked: map[string]bool{}}
	return f
}

// blankMark blanks the byte order mark that some editors put before the text, so that places still count bytes of the file.
func blankMark(data []byte) []byte {
	rest, marked := bytes.CutPrefix(data, []byte("\xef\xbb\xbf"))
	if !marked {
		return data
	}
	return append([]byte("   "), rest...)
}

// Broken tells that the syntax is wrong, so that missing keys mean nothing.
func (f *File) Broken() bool { return f.broken }

// Root returns the top of the file.
func (f *File) Root() *Table { return f.root }

// mostFaults bounds how many faults are listed: more are not read by a person.
const mostFaults = 200

// full tells that as many faults are noted as will be listed. It counts one more, which is then not worth wording.
func (f *File) full() bool {
	if len(f.Faults) < mostFaults {
		return false
	}
	f.unsaid++
	return true
}

// Err returns the faults in the order of the file, or nil. Of very many it says how many are not listed.
func (f *File) Err() error {
	err := f.Faults.Err()
	if sorted, ok := errors.AsType[diag.List](err); ok && f.unsaid > 0 {
		sorted.Add(sorted[len(sorted)-1].Pos, "", fmt.Sprintf("%d more faults are not listed", f.unsaid), "")
		return sorted
	}
	return err
}

func (f *File) placeOfSyntax(err error) (line, column int) {
	if decode := new(toml.DecodeError); errors.As(err, &decode) {
		return decode.Position()
	}
	return 1, 1
}

func (f *File) syntax(err error) {
	pos := diag.Pos{File: f.Name}
	pos.Line, pos.Column = f.placeOfSyntax(err)
	f.Faults.Add(pos, "", strings.TrimPrefix(err.Error(), "toml: "), "TOML, one key = value a line")
}

// Bounds of a file that a person wrote, so that none takes time or memory out of proportion.
const (
	mostDepth  = 50        // of tables and lists in each other: what names of keys take grows with its square
	mostKeys   = 1000      // of a table: the parser looks through all of them for each
	mostValues = 1_000_000 // of the file, the elements of lists among them
)

// much notes, once, that there is more of something than a file may have.
func (f *File) much(is bool, most int, what string, at diag.Pos) bool {
	if is && !f.broken {
		f.Faults.Add(at, "", fmt.Sprintf("more than %d %s", most, what), "fewer")
		f.broken = true
	}
	return f.broken
}

// deep tells that a key or a value is nested too deep, and notes it.
func (f *File) deep(depth int, at diag.Pos) bool {
	return f.much(depth > mostDepth, mostDepth, "tables or lists in each other", at)
}

// findLines notes where each line starts. A list of very many elements is refused here, as the parser takes it as one piece of a hundred
// times its length; each of them but one has a comma behind it.
func (f *File) findLines(data []byte) {
	f.lines = []int{0}
	commas := 0
	for i, b := range data {
		switch b {
		case '\n':
			f.lines = append(f.lines, i+1)
		case ',':
			if commas++; commas > mostValues {
				f.much(true, mostValues, "values", f.placeOf(i))
				return
			}
		}
	}
}

// place notes where each key's value stands, as far as the syntax is right.
func (f *File) place(data []byte) {
	p := unstable.Parser{}
	p.Reset(data)
	prefix, tables := "", map[string]int{}
	f.prefix = prefix
	for !f.broken && p.NextExpression() {
		e := p.Expression()
		switch header := e.Kind == unstable.Table || e.Kind == unstable.ArrayTable; {
		case header:
			prefix = f.header(e, tables)
			f.prefix = prefix
		case e.Kind == unstable.KeyValue:
			f.keyValue(prefix, e, 0)
		}
	}
}

// header places a [table] or [[table]] and returns its path; elements of an array of tables are numbered from 0. A table that only
// stands in the header of another, as a does in [a.b], is placed there too.
func (f *File) header(e *unstable.Node, tables map[string]int) string {
	path, at, depth := "", diag.Pos{}, 0
	for it := e.Key(); it.Next(); {
		node := it.Node()
		if depth++; f.deep(depth, f.at(node)) {
			return path
		}
		table := path
		path = join(path, string(node.Data))
		if at.Line == 0 {
			at = f.at(node)
		}
		if it.IsLast() && e.Kind == unstable.ArrayTable {
			tables[path]++
		}
		f.placeKey(table, path, at)
		if n := tables[path]; n > 0 {
			path = fmt.Sprintf("%s[%d]", path, n-1)
			f.placeOnce(path, at)
		}
	}
	f.places[path] = at // its own header counts, even after that of one of its tables
	return path
}

// placeOnce places what has no place yet, and tells whether it was so.
func (f *File) placeOnce(path string, at diag.Pos) bool {
	if _, known := f.places[path]; known {
		return false
	}
	f.places[path] = at
	f.much(len(f.places) > mostValues, mostValues, "values", at)
	return true
}

// placeKey places a key of a table.
func (f *File) placeKey(table, path string, at diag.Pos) {
	if f.placeOnce(path, at) {
		f.keys[table]++
		f.much(f.keys[table] > mostKeys, mostKeys, "keys in one table", at)
	}
}

func (f *File) keyValue(prefix string, e *unstable.Node, depth int) {
	path, at := prefix, diag.Pos{}
	for it := e.Key(); it.Next(); {
		if depth++; f.deep(depth, f.at(it.Node())) {
			return
		}
		table := path
		path = join(path, string(it.Node().Data))
		at = f.at(it.Node())
		f.placeKey(table, path, at)
	}
	f.value(path, e.Value(), at, depth)
}

// value places a value; an array or a table that has no place of its own takes that of its key.
func (f *File) value(path string, v *unstable.Node, at diag.Pos, depth int) {
	if v.Raw.Length > 0 {
		at = f.at(v)
	}
	if f.deep(depth, at) {
		return
	}
	f.placeOnce(path, at)
	f.places[path] = at // not that of its key
	i := 0
	for it := v.Children(); !f.broken && it.Next(); {
		switch element := it.Node(); {
		case element.Kind == unstable.Comment:
		case v.Kind == unstable.InlineTable:
			f.keyValue(path, element, depth)
		default:
			f.value(fmt.Sprintf("%s[%d]", path, i), element, at, depth+1)
			i++
		}
	}
	if first, ok := f.places[path+"[0]"]; ok && strings.HasSuffix(path, "]") { // the parser places no list; one in a list is where its first value is
		f.places[path] = first
	}
}

// at returns the place of a node. The parser's own way counts the lines from the start each time, which is slow for long files.
func (f *File) at(n *unstable.Node) diag.Pos { return f.placeOf(int(n.Raw.Offset)) }

func (f *File) placeOf(offset int) diag.Pos {
	line, exact := slices.BinarySearch(f.lines, offset)
	if !exact {
		line-- // the last line that starts before it
	}
	return diag.Pos{File: f.Name, Line: line + 1, Column: offset - f.lines[line] + 1}
}

func join(path, key string) string {
	if path == "" {
		return key
	}
	return path + "." + key
}
