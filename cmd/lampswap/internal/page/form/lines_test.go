package form

import (
	"net/url"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What is typed in boxes of several lines, and in boxes of lengths.
func TestLinesAreWritten(t *testing.T) {
	const text = "units = \"imperial\"\n[room] # mine\nlength = 30\n[[shifts]] # three\ndays = \"mon\"\nfrom = \"06:00\"\nto = \"14:00\"\n[layout]\nrows = 2\n[firm]\nname = \"L\"\n"
	for _, c := range []struct {
		path, typed, has string
	}{
		{"room.outline", "0, 0\r\n10'6\", 0\n10' 6\", 20\n0, 20", "outline = [[0, 0], [10.5, 0], [10.5, 20], [0, 20]]\n"},
		{"layout.positions", "1 2\n3, 4, 90, 12 ft 3 in", "positions = [[1, 2], [3, 4, 90, 12.25]]\n"},
		{"layout.positions", "1\n2\n3\n4\n5\n6\n7\n8\n9 far", "positions = [\n  [1],\n  [2],\n"},
		{"shifts", "mon-fri, 06:00 to 14:00, 50 weeks\nsat sun 08:00 12:00", `shifts = [{ days = "mon-fri", from = "06:00", to = "14:00", weeks = 50 }, { days = ["sat", "sun"], from = "08:00", to = "12:00" }]` + "\n[room] # mine"},
		{"costs.lines", "material, 9200\nlabor, with a lift: 6400.50", `lines = [["material", 9200], ["labor, with a lift", 6400.50]]`},
		{"offer.work", "Lift, fixtures | Monday\nClean", `work = [["Lift, fixtures", "Monday"], ["Clean", ""]]`},
		{"offer.warranty", "Lamps: three years.", `warranty = "Lamps: three years."`},
		{"firm.address", "1 Mill St\n\nTown", "name = \"L\"\naddress = [\"1 Mill St\", \"Town\"]\n"},
		{"notes", "A \"word\".\r\n\r\nC:\\ here", "notes = \"\"\"\nA \\\"word\\\".\n\nC:\\\\ here\"\"\"\n"},
		{"energy.peak_days", "mon-fri", `peak_days = "mon-fri"`},
		{"room.length", `18'6"`, "length = 18.5\n"}, {"room.width", "5.5 m", "width = 18.044619\n"}, {"room.height", "18 1/2", "height = 18.5\n"}, {"room.height", "5' 14\"", `height = "5' 14\""`},
		{"existing.lamp_diameter", "26 mm", `lamp_diameter = "26 mm"`}, {"existing.lamp_diameter", "0.1", `lamp_diameter = 0.1`},
		{"firm.name", "", "[layout]\nrows = 2\n"},
	} {
		got, err := Apply(text, url.Values{c.path: {c.typed}}, nil, nil)
		require.NoError(t, err)
		assert.Contains(t, got, c.has, "%s: %s", c.path, c.typed)
		field, ok := fieldsOf(t, got)[c.path]
		require.True(t, ok)
		read := textOf(t, got)
		if field.isLines() {
			again, err := Apply(got, url.Values{c.path: {field.lines(read)}}, nil, nil)
			require.NoError(t, err)
			assert.Equal(t, got, again, "shown and sent back")
		}
	}
	got, err := Apply(text, url.Values{"firm.name": {""}}, nil, nil)
	require.NoError(t, err)
	assert.NotContains(t, got, "firm", "a table that asks for keys goes with the last of them")
	view := fieldsOf(t, "[room]\nlength = 18.5\nwidth = 20")["room.length"].view(Context{Text: textOf(t, "[room]\nlength = 18.5\nwidth = 20"), Imperial: true})
	assert.Equal(t, "18 ft 6 in", view.Read)
}

// Kinds of luminaire get other names, in the groups too, however they are written.
func TestKindsAreRenamed(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"[kinds.a] # old\nlamps = 2\n[kinds.a.costs]\ncleaning = 1\n[kinds.b]\n[[groups]]\nexisting = \"a\" # they\nproposed = \"b\"\n",
			"[kinds.\"dock strip\"] # old\nlamps = 2\n[kinds.\"dock strip\".costs]\ncleaning = 1\n[kinds.b]\n[[groups]]\nexisting = \"dock strip\" # they\nproposed = \"b\"\n"},
		{"kinds.a.lamps = 2\nkinds.a.ballast = \"x\"\n", "kinds.\"dock strip\".lamps = 2\nkinds.\"dock strip\".ballast = \"x\"\n"},
		{"[kinds]\na = { lamps = 2 }\n", "[kinds]\n\"dock strip\" = { lamps = 2 }\n"},
		{"kinds = { a = { lamps = 2 }, b = {} }\n", "kinds = { \"dock strip\" = { lamps = 2 }, b = {} }\n"},
	} {
		got, err := Apply(c.text, url.Values{"kinds.a": {"dock strip"}}, nil, nil)
		require.NoError(t, err)
		assert.Equal(t, c.want, got)
		got, err = Apply(got, url.Values{"kinds.dock strip.lamp_watts": {"7"}}, nil, nil)
		require.NoError(t, err)
		assert.Contains(t, got, "lamp_watts = 7", "a name with a blank has fields")
		for _, name := range []string{"a", "b", "x.y", "x[1]", "none", ""} {
			again, err := Apply(c.text, url.Values{"kinds.a": {name}}, nil, nil)
			require.NoError(t, err)
			if name != "b" || textOf(t, c.text).Has("kinds.b") {
				assert.Equal(t, c.text, again, "%q is no name that can be taken", name)
			}
		}
	}
}
