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
	Name   string
	Faults diag.List
	broken bool
	lines  []int               // offset of the first byte of each line
	places map[string]diag.Pos // of values, and of tables, by dotted path
	root   *Table
}

// Read parses the text. A fault of syntax is noted, and the file is then empty.
func Read(name string, data []byte) *File {
	f := &File{Name: name, places: map[string]diag.Pos{}}
	data = blankMark(data)
	values := map[string]any{}
	if f.place(data); !f.broken {
		if err := toml.Unmarshal(data, &values); err != nil {
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

// Err returns all the faults, or nil.
func (f *File) Err() error { return f.Faults.Err() }

func (f *File) syntax(err error) {
	pos := diag.Pos{File: f.Name, Line: 1, Column: 1}
	if decode := new(toml.DecodeError); errors.As(err, &decode) {
		pos.Line, pos.Column = decode.Position()
	}
	f.Faults.Add(pos, "", strings.TrimPrefix(err.Error(), "toml: "), "TOML, one key = value a line")
}

// mostDepth bounds how deep tables and lists may be nested; the time and the space that names of keys take grow with its square.
const mostDepth = 50

// deep notes, once, that a key or a value is nested too deep.
func (f *File) deep(depth int, at diag.Pos) bool {
	if depth > mostDepth && !f.broken {
		f.Faults.Add(at, "", fmt.Sprintf("more than %d tables or lists in each other", mostDepth), "fewer")
		f.broken = true
	}
	return f.broken
}

// place notes where each key's value stands, as far as the syntax is right.
func (f *File) place(data []byte) {
	f.lines = []int{0}
	for i, b := range data {
		if b == '\n' {
			f.lines = append(f.lines, i+1)
		}
	}
	p := unstable.Parser{}
	p.Reset(data)
	prefix, tables := "", map[string]int{}
	for !f.broken && p.NextExpression() {
		e := p.Expression()
		switch header := e.Kind == unstable.Table || e.Kind == unstable.ArrayTable; {
		case header:
			prefix = f.header(e, tables)
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
		path = join(path, string(node.Data))
		if at.Line == 0 {
			at = f.at(node)
		}
		if it.IsLast() && e.Kind == unstable.ArrayTable {
			tables[path]++
		}
		f.placeOnce(path, at)
		if n := tables[path]; n > 0 {
			path = fmt.Sprintf("%s[%d]", path, n-1)
			f.placeOnce(path, at)
		}
	}
	f.places[path] = at // its own header counts, even after that of one of its tables
	return path
}

func (f *File) placeOnce(path string, at diag.Pos) {
	if _, known := f.places[path]; !known {
		f.places[path] = at
	}
}

func (f *File) keyValue(prefix string, e *unstable.Node, depth int) {
	path, at := prefix, diag.Pos{}
	for it := e.Key(); it.Next(); {
		if depth++; f.deep(depth, f.at(it.Node())) {
			return
		}
		path = join(path, string(it.Node().Data))
		at = f.at(it.Node())
		f.placeOnce(path, at)
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
	f.places[path] = at
	i := 0
	for it := v.Children(); it.Next(); {
		switch element := it.Node(); {
		case element.Kind == unstable.Comment:
		case v.Kind == unstable.InlineTable:
			f.keyValue(path, element, depth)
		default:
			f.value(fmt.Sprintf("%s[%d]", path, i), element, at, depth+1)
			i++
		}
	}
}

// at returns the place of a node. The parser's own way counts the lines from the start each time, which is slow for long files.
func (f *File) at(n *unstable.Node) diag.Pos {
	offset := int(n.Raw.Offset)
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
