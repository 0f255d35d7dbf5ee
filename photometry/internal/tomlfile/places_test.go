package tomlfile_test

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry/diag"
	"lampswap/photometry/internal/tomlfile"
)

const text = `title = "dock" # a note
  "work plane" = 0.76

[room]
length =	36.5
reflectance = { ceiling = 0.5, walls=0.3 }
size.x = 1
size . y = 2
list = [
  1.0, # first
  [2, 3],
]

[proposed.losses]
total = 0.7

[[racks]]
corner = [1.0, 2.0]
repeat = { count = 4 }

  [[racks]]
corner = [3.0]
[racks.repeat]
count = 5
[[racks.bays]]
n = 1
[[racks.bays]]
n = 2
`

// A path ends in the key that is asked for its place; all before it are tables, or numbered elements of arrays of tables.
func TestPlaces(t *testing.T) {
	root := tomlfile.Read("dock.toml", []byte(text)).Root()
	room, racks := root.Table("room"), root.Tables("racks", 9)
	require.Len(t, racks, 2)
	bays := racks[1].Tables("bays", 9)
	require.Len(t, bays, 2)
	for _, c := range []struct {
		table        *tomlfile.Table
		key          string
		path         string
		line, column int
	}{
		{root, "title", "title", 1, 9},
		{root, "work plane", "work plane", 2, 18},
		{root, "room", "room", 4, 2},
		{room, "length", "room.length", 5, 10}, // a tab is one byte
		{room, "nothing", "room.nothing", 4, 2},
		{room, "reflectance", "room.reflectance", 6, 15},
		{room.Table("reflectance"), "ceiling", "room.reflectance.ceiling", 6, 27},
		{room.Table("reflectance"), "walls", "room.reflectance.walls", 6, 38},
		{room.Table("reflectance"), "floor", "room.reflectance.floor", 6, 15},
		{room, "size", "room.size", 7, 1},
		{room.Table("size"), "x", "room.size.x", 7, 10},
		{room.Table("size"), "y", "room.size.y", 8, 12},
		{room, "list", "room.list", 9, 1},
		{room, "list[0]", "room.list[0]", 10, 3},
		{room, "list[1][1]", "room.list[1][1]", 11, 7},
		{root, "proposed", "proposed", 14, 2}, // has no header of its own
		{root.Table("proposed"), "losses", "proposed.losses", 14, 2},
		{root.Table("proposed").Table("losses"), "total", "proposed.losses.total", 15, 9},
		{root, "racks", "racks", 17, 3}, // where the first starts
		{racks[0], "corner[1]", "racks[0].corner[1]", 18, 16},
		{racks[0].Table("repeat"), "count", "racks[0].repeat.count", 19, 20},
		{racks[0], "size", "racks[0].size", 17, 3},
		{racks[1], "size", "racks[1].size", 21, 5},
		{racks[1], "corner[0]", "racks[1].corner[0]", 22, 11},
		{racks[1], "repeat", "racks[1].repeat", 23, 2},
		{racks[1].Table("repeat"), "count", "racks[1].repeat.count", 24, 9},
		{bays[0], "n", "racks[1].bays[0].n", 26, 5},
		{bays[1], "n", "racks[1].bays[1].n", 28, 5},
		{bays[1], "m", "racks[1].bays[1].m", 27, 3},
		{racks[1].Table("nowhere"), "n", "racks[1].nowhere.n", 21, 5}, // an absent table: where the one around it starts
	} {
		assert.Equal(t, c.path, c.table.Path(c.key))
		assert.Equal(t, diag.Pos{File: "dock.toml", Line: c.line, Column: c.column}, c.table.Pos(c.key), c.path)
	}
}

// A table's own header counts, wherever that of one of its tables stands.
func TestPlaceOfATableDeclaredLate(t *testing.T) {
	root := tomlfile.Read("a.toml", []byte("[a.b]\nx = 1\n[a]\ny = 2\n")).Root()
	assert.Equal(t, "a.toml:3:2", root.Pos("a").String())
	assert.Equal(t, "a.toml:1:2", root.Table("a").Pos("b").String())
}

// Columns count bytes; a mark before the text and Windows line ends are borne.
func TestPlacesInOddText(t *testing.T) {
	for name, c := range map[string]struct{ text, want string }{
		"byte order mark": {"\xef\xbb\xbfa = 1", "a.toml:1:8"},
		"line ends":       {"x = 1\r\n\r\na = 1\r\n", "a.toml:3:5"},
		"letters":         {`"é" = { a = 1 }`, "a.toml:1:14"},
	} {
		file := tomlfile.Read("a.toml", []byte(c.text))
		require.NoError(t, file.Err(), name)
		table := file.Root()
		if name == "letters" {
			table = table.Table("é")
		}
		assert.Equal(t, c.want, table.Pos("a").String(), name)
	}
}

func TestSyntax(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"a = \n", `a.toml:1:5: unexpected character U+000A at start of value, want TOML, one key = value a line`},
		{"a = 1\nb = [1, 2\n", `a.toml:2:10: array is incomplete, want TOML, one key = value a line`},
		{"[room\nlength = 1\n", `a.toml:1:6: expected ']' to close table name, want TOML, one key = value a line`},
		{"a = 1\nroom] = 2\n", `a.toml:2:5: expected '=' after key, want TOML, one key = value a line`},
		{"a = 1\na = 2\n", `a.toml:2:1: key a is already defined, want TOML, one key = value a line`},
		{"x = \"\xff\"\n", `a.toml:1:6: invalid UTF-8 character in basic string, want TOML, one key = value a line`},
	} {
		file := tomlfile.Read("a.toml", []byte(c.text))
		assert.True(t, file.Broken(), c.text)
		file.Root().Missing("units", "feet or metres") // says nothing now
		file.Root().Done()
		assert.EqualError(t, file.Err(), c.want, c.text)
	}
}

// The place of every value is found without counting the lines from the start: this took minutes.
func TestLongFile(t *testing.T) {
	long := "positions = [\n" + strings.Repeat("[10.0, 5.0],\n", 100_000) + "]\n"
	start := time.Now()
	file := tomlfile.Read("a.toml", []byte(long))
	require.NoError(t, file.Err())
	assert.Equal(t, "a.toml:100001:8", file.Root().Pos("positions[99999][1]").String())
	assert.Less(t, time.Since(start), 20*time.Second)
}
