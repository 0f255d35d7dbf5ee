// Package table reads the embedded CSV tables: a header row, then rows of which each names its source.
//
//	rows := table.Load("lamps", lampsCSV, "name", "watts", "source", "confidence")
//	watts := rows[0].Number("watts")
//
// A fault in an embedded table is a fault of this program, not of its user: every function panics, with the table's name
// and line. A table's package loads it in a test.
package table

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
)

// A Row is one row of a table. Asked for a column that the table has not, or for what the field does not hold, it panics.
type Row struct {
	table  string
	line   int
	fields map[string]string
}

// Load reads a CSV text whose columns are exactly those named, "source" among them, and whose every row has a source.
// Fields lose the spaces around them. It panics on any other text, and on a table without rows.
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
			if len(rows) == 0 {
				panic(fmt.Sprintf("table %s: no rows", name))
			}
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
			row.Fail("source", "is empty")
		}
		rows = append(rows, row)
	}
}

// Fail panics with the table, the line, the column and what is wrong with it: for the checks that a package makes of its own table.
func (r Row) Fail(column, wrong string) {
	panic(fmt.Sprintf("table %s: line %d: %s %s", r.table, r.line, column, wrong))
}

// Text returns a field as it stands.
func (r Row) Text(column string) string {
	text, ok := r.fields[column]
	if !ok {
		r.Fail(column, "is no column")
	}
	return text
}

// Required returns a field that must not be empty.
func (r Row) Required(column string) string {
	text := r.Text(column)
	if text == "" {
		r.Fail(column, "is empty")
	}
	return text
}

// Number returns a field that must hold a finite number.
func (r Row) Number(column string) float64 {
	number, err := strconv.ParseFloat(r.Text(column), 64)
	if err != nil || math.IsNaN(number) || math.IsInf(number, 0) {
		r.Fail(column, fmt.Sprintf("is %q, not a finite number", r.Text(column)))
	}
	return number
}

// Count returns a field that must hold a whole number of at least 1.
func (r Row) Count(column string) int {
	count, err := strconv.Atoi(r.Text(column))
	if err != nil || count < 1 {
		r.Fail(column, fmt.Sprintf("is %q, not a whole number of at least 1", r.Text(column)))
	}
	return count
}

// Optional returns a field that holds a number or nothing; an empty one is ok false.
func (r Row) Optional(column string) (number float64, ok bool) {
	if r.Text(column) == "" {
		return 0, false
	}
	return r.Number(column), true
}

// NumberOr returns a field that holds a number, or the given one if it is empty.
func (r Row) NumberOr(column string, empty float64) float64 {
	if number, ok := r.Optional(column); ok {
		return number
	}
	return empty
}
