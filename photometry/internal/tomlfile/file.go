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
	"errors"
	"fmt"
	"strings"

	"github.com/pelletier/go-toml/v2"
	"github.com/pelletier/go-toml/v2/unstable"

	"lampswap/photometry/diag"
)

// A File is a TOML file with the faults found in it so far.
type File struct {
	Name   string
	Faults diag.List
	places map[string]diag.Pos // of values, and of tables, by dotted path
	root   *Table
}

// Read parses the text. A fault of syntax is noted, and the file is then empty.
func Read(name string, data []byte) *File {
	f := &File{Name: name, places: map[string]diag.Pos{}}
	values := map[string]any{}
	if err := toml.Unmarshal(data, &values); err != nil {
		f.syntax(err)
		values = map[string]any{}
	} else {
		f.place(data)
	}
	f.root = &Table{file: f, values: values, at: diag.Pos{File: name, Line: 1, Column: 1}, exists: true, asked: map[string]bool{}}
	return f
}

// Broken tells that the syntax is wrong, so that missing keys mean nothing.
func (f *File) Broken() bool { return len(f.places) == 0 && len(f.Faults) > 0 }

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

// place notes where each key's value stands.
func (f *File) place(data []byte) {
	p := unstable.Parser{}
	p.Reset(data)
	prefix, tables := "", map[string]int{}
	for p.NextExpression() {
		e := p.Expression()
		switch e.Kind {
		case unstable.Table:
			prefix = f.header(&p, e, tables)
		case unstable.ArrayTable:
			prefix = f.header(&p, e, tables)
		case unstable.KeyValue:
			f.keyValue(&p, prefix, e)
		}
	}
}

// header places a [table] or [[table]] and returns its path; elements of an array of tables are numbered from 0.
func (f *File) header(p *unstable.Parser, e *unstable.Node, tables map[string]int) string {
	path, at := "", diag.Pos{}
	for it := e.Key(); it.Next(); {
		node := it.Node()
		path = join(path, string(node.Data))
		if at.Line == 0 {
			at = f.at(p, node.Raw)
		}
		last := it.IsLast()
		if last && e.Kind == unstable.ArrayTable {
			f.places[path] = at // the array: where its last element starts
			tables[path]++
		}
		if n := tables[path]; n > 0 {
			path = fmt.Sprintf("%s[%d]", path, n-1)
		}
	}
	f.places[path] = at
	return path
}

func (f *File) keyValue(p *unstable.Parser, prefix string, e *unstable.Node) {
	path, at := prefix, diag.Pos{}
	for it := e.Key(); it.Next(); {
		path = join(path, string(it.Node().Data))
		at = f.at(p, it.Node().Raw)
		if _, known := f.places[path]; !known {
			f.places[path] = at
		}
	}
	f.value(p, path, e.Value(), at)
}

// value places a value; an array or a table that has no place of its own takes that of its key.
func (f *File) value(p *unstable.Parser, path string, v *unstable.Node, at diag.Pos) {
	if v.Raw.Length > 0 {
		at = f.at(p, v.Raw)
	}
	f.places[path] = at
	switch v.Kind {
	case unstable.Array:
		i := 0
		for it := v.Children(); it.Next(); {
			if it.Node().Kind != unstable.Comment {
				f.value(p, fmt.Sprintf("%s[%d]", path, i), it.Node(), at)
				i++
			}
		}
	case unstable.InlineTable:
		for it := v.Children(); it.Next(); {
			if it.Node().Kind == unstable.KeyValue {
				f.keyValue(p, path, it.Node())
			}
		}
	}
}

func (f *File) at(p *unstable.Parser, r unstable.Range) diag.Pos {
	start := p.Shape(r).Start
	return diag.Pos{File: f.Name, Line: start.Line, Column: start.Column}
}

func join(path, key string) string {
	if path == "" {
		return key
	}
	return path + "." + key
}
