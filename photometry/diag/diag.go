// Package diag says what is wrong with a file that a person wrote, and where.
//
// A fault names the file, the line and the column (both from 1, columns in bytes), the key or field, what was
// found, and what would be right:
//
//	dock.toml:8:27: room.reflectance.ceiling: 1.5 is above 1, want a fraction from 0 to 1
//
// A reader notes every fault it meets in a List and goes on, so that one run shows them all.
package diag

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// A Pos is a place in a file. Line and Column count from 1; 0 means not known.
type Pos struct {
	File         string
	Line, Column int
}

// String is "file:line:column", as far as the parts are known.
func (p Pos) String() string {
	switch {
	case p.Line == 0:
		return p.File
	case p.Column == 0:
		return fmt.Sprintf("%s:%d", p.File, p.Line)
	}
	return fmt.Sprintf("%s:%d:%d", p.File, p.Line, p.Column)
}

// An Error is one fault at one place.
type Error struct {
	Pos   Pos
	Key   string // the key or the field concerned; may be empty
	Wrong string // what was found
	Want  string // what would be right; may be empty
	Err   error  // the cause, if it is an error of its own
}

// Error is one line that can be shown as it is: place, key, what was found, what would be right.
func (e *Error) Error() string {
	var b strings.Builder
	if at := e.Pos.String(); at != "" {
		b.WriteString(at + ": ")
	}
	if e.Key != "" {
		b.WriteString(e.Key + ": ")
	}
	b.WriteString(e.Wrong)
	if e.Want != "" {
		b.WriteString(", want " + e.Want)
	}
	if e.Err != nil {
		b.WriteString(": " + e.Err.Error())
	}
	return Visible(b.String())
}

// Unwrap returns the cause, for errors.Is and errors.As; nil if there is none.
func (e *Error) Unwrap() error { return e.Err }

// A List holds all the faults of a reading. The zero value is ready to use.
type List []*Error

// Add notes one fault.
func (l *List) Add(pos Pos, key, wrong, want string) {
	*l = append(*l, &Error{Pos: pos, Key: key, Wrong: wrong, Want: want})
}

// Err returns the faults sorted by place, or nil if there are none.
func (l List) Err() error {
	if len(l) == 0 {
		return nil
	}
	sorted := slices.Clone(l)
	slices.SortStableFunc(sorted, func(a, b *Error) int {
		return cmp.Or(cmp.Compare(a.Pos.File, b.Pos.File), cmp.Compare(a.Pos.Line, b.Pos.Line),
			cmp.Compare(a.Pos.Column, b.Pos.Column))
	})
	return sorted
}

// Error is one fault a line.
func (l List) Error() string {
	lines := make([]string, len(l))
	for i, e := range l {
		lines[i] = e.Error()
	}
	return strings.Join(lines, "\n")
}

// Unwrap makes each fault visible to errors.Is and errors.As.
func (l List) Unwrap() []error {
	all := make([]error, len(l))
	for i, e := range l {
		all[i] = e
	}
	return all
}
