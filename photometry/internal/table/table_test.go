package table

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const lamps = `name,watts,lamps,source
F32T8, 32 ,2,"a book, page 3"
"two
lines",,1,measured by us
`

func TestLoadReadsEveryRow(t *testing.T) {
	rows := Load("lamps", lamps, "name", "watts", "lamps", "source")
	require.Len(t, rows, 2)
	assert.Equal(t, "F32T8", rows[0].Text("name"))
	assert.Equal(t, 32.0, rows[0].Number("watts"), "the spaces around a field do not count")
	assert.Equal(t, 2, rows[0].Count("lamps"))
	assert.Equal(t, "a book, page 3", rows[0].Required("source"))
	assert.PanicsWithValue(t, "table lamps: line 2: watts is too few", func() { rows[0].Fail("watts", "is too few") })
	assert.PanicsWithValue(t, "table lamps: line 3: watts is too few", func() { rows[1].Fail("watts", "is too few") }, "where the row starts")

	watts, ok := rows[0].Optional("watts")
	assert.True(t, ok)
	assert.Equal(t, 32.0, watts)
	_, ok = rows[1].Optional("watts")
	assert.False(t, ok)
	assert.Equal(t, 32.0, rows[0].NumberOr("watts", 7))
	assert.True(t, math.IsNaN(rows[1].NumberOr("watts", math.NaN())))
}

func TestLoadPanicsOnABadTable(t *testing.T) {
	for name, c := range map[string]struct{ text, says string }{
		"no header":     {"", "table x: EOF"},
		"wrong columns": {"a,source\n1,book\n", "table x: columns are a,source, want name,source"},
		"no rows":       {"name,source\n", "table x: no rows"},
		"field missing": {"name,source\nF32T8\n", "table x: record on line 2: wrong number of fields"},
		"no source":     {"name,source\nF32T8,book\nF40T12, \n", "table x: line 3: source is empty"},
	} {
		t.Run(name, func(t *testing.T) {
			assert.PanicsWithValue(t, c.says, func() { Load("x", c.text, "name", "source") })
		})
	}
}

func TestLoadPanicsOnBadCSV(t *testing.T) { // the words after the name are encoding/csv's
	defer func() { assert.Contains(t, recover(), "table x: ") }()
	Load("x", "name,source\n\"F32T8,book\n", "name", "source")
	t.Fatal("a quote left open was accepted")
}

func TestRowPanicsOnABadField(t *testing.T) {
	row := Load("x", "name,n,source\n,NaN,book\n", "name", "n", "source")[0]
	for name, c := range map[string]struct {
		ask  func()
		says string
	}{
		"no such column": {func() { row.Text("watts") }, "table x: line 2: watts is no column"},
		"empty":          {func() { row.Required("name") }, "table x: line 2: name is empty"},
		"not finite":     {func() { row.Number("n") }, `table x: line 2: n is "NaN", not a finite number`},
		"no number":      {func() { row.Number("source") }, `table x: line 2: source is "book", not a finite number`},
		"no count":       {func() { row.Count("n") }, `table x: line 2: n is "NaN", not a whole number of at least 1`},
		"own check":      {func() { row.Fail("n", "is above 1") }, "table x: line 2: n is above 1"},
	} {
		t.Run(name, func(t *testing.T) { assert.PanicsWithValue(t, c.says, c.ask) })
	}
	zero := Load("x", "n,source\n0,book\n", "n", "source")[0]
	assert.Panics(t, func() { zero.Count("n") })
}
