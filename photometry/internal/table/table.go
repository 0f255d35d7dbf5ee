// Package table reads the embedded CSV tables: a header row, then rows of which each names its source.
//
// A fault in an embedded table is a fault of this program, not of its user: every function panics, with the table's name
// and line. A table's package loads it in a test.
package table

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
)

// A Row is one line of a table.
type Row struct {
	table  string
	line   int
	fields map[string]string
}

// Load reads a CSV text whose columns are exactly those named, "source" among them, and whose every row has a source.
func Load(name, text string, columns ...string) []Row {
	reader := csv.NewReader(strings.NewReader(text))
	header, err := reader.Read()
	if err != nil {
		panic(fmt.Sprintf("table %s: %v", name, err))
	}
	if got, want := strings.Join(header, ","), strings.Join(columns, ","); got != want {
		panic(fmt.Sprintf("table %s: columns are %s, want %s", name, got, want))
	}
	var rows []Row
	for {
		fields, err := reader.Read()
		if errors.Is(err, io.EOF) {
			return rows
		}
		if err != nil {
			panic(fmt.Sprintf("table %s: %v", name, err))
		}
		line, _ := reader.FieldPos(0)
		row := Row{table: name, line: line, fields: make(map[string]string, len(header))}
		for i, column := range header {
			row.fields[column] = strings.TrimSpace(fields[i])
		}
		if row.Text("source") == "" {
			row.fail("source", "is empty")
		}
		rows = append(rows, row)
	}
}

func (r Row) fail(column, wrong string) {
	panic(fmt.Sprintf("table %s: line %d: %s %s", r.table, r.line, column, wrong))
}

// Text returns a field as it stands.
func (r Row) Text(column string) string {
	text, ok := r.fields[column]
	if !ok {
		r.fail(column, "is no column")
	}
	return text
}

// Number returns a field that must hold a number.
func (r Row) Number(column string) float64 {
	number, err := strconv.ParseFloat(r.Text(column), 64)
	if err != nil {
		r.fail(column, fmt.Sprintf("is %q, not a number", r.Text(column)))
	}
	return number
}

// Optional returns a field that holds a number or nothing; an empty one is ok false.
func (r Row) Optional(column string) (number float64, ok bool) {
	if r.Text(column) == "" {
		return 0, false
	}
	return r.Number(column), true
}
