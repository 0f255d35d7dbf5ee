package job_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry/job"
	"lampswap/photometry/room"
)

// outlined is the sound job's room with an outline.
func outlined(corners string) string {
	return "length = 20.0\nwidth = 10.0\noutline = [" + corners + "]\n"
}

const (
	square = "length = 20.0\nwidth = 10.0\n"
	ell    = "[0, 0], [20, 0], [20, 10], [14, 10], [14, 9], [0, 9]" // what is in the sound job is inside
)

// wrongShapes are mistakes in outlines, and in boxes that hang.
var wrongShapes = []wrong{
	{square, outlined("[0, 0], [20, 0], [20, 10]"), `dock.toml:6:1: room.outline: has 3 corners, want at least 4, in order along the walls: [[x, y], ...]`},
	{square, "length = 20.0\nwidth = 10.0\noutline = []\n", `dock.toml:6:1: room.outline: is a list of 0, want a list of 1 to 200 lists of numbers`},
	{square, "length = 20.0\nwidth = 10.0\noutline = \"L\"\n", `dock.toml:6:11: room.outline: is the text "L", want a list of 1 to 200 lists of numbers`},
	{square, outlined("[0, 0], [20, 0, 3], [20, 10], [0, 10]"), `dock.toml:6:21: room.outline[1]: is a list of 3, want a list of 2 numbers`},
	{square, outlined("0, 0, 20, 0, 20, 10"), `dock.toml:6:12: room.outline[0]: is 0, want a list of 2 numbers
dock.toml:6:15: room.outline[1]: is 0, want a list of 2 numbers
dock.toml:6:18: room.outline[2]: is 20, want a list of 2 numbers
dock.toml:6:22: room.outline[3]: is 0, want a list of 2 numbers
dock.toml:6:25: room.outline[4]: is 20, want a list of 2 numbers
dock.toml:6:29: room.outline[5]: is 10, want a list of 2 numbers`},
	{square, outlined("[0, 0], [20, 0], [21, 10], [0, -1]"), `dock.toml:6:30: room.outline[2][0]: is 21, want a place in the room, from 0 to 20
dock.toml:6:43: room.outline[3][1]: is -1, want a place in the room, from 0 to 10`},
	{square, "outline = [[0, 0], [4000, 0], [4000, 10], [0, 10]]\n", `dock.toml:4:21: room.outline[1][0]: is 4000, want a place in the room, from 0 to 3000
dock.toml:4:32: room.outline[2][0]: is 4000, want a place in the room, from 0 to 3000`},
	{square, outlined("[0, 0], [20, 0], [20, 10], [0, 10], [0, 0]"), `dock.toml:6:49: room.outline[4]: repeats the first corner, want each corner once: the outline closes by itself`},
	{square, outlined("[0, 0], [20, 0], [20, 0], [20, 10], [0, 10]"), `dock.toml:6:30: room.outline[2]: is the same corner as outline[1], want each corner once`},
	{square, outlined("[0, 0], [20, 0], [20, 5], [10, 5], [10, 0], [10, 5], [10, 10], [0, 10]"), `dock.toml:6:57: room.outline[5]: is the same corner as outline[3], want each corner once`},
	{square, outlined("[0, 0], [20, 0], [20, 8], [14, 10], [0, 10]"), `dock.toml:6:39: room.outline[3]: lies askew of the corner before it, want a wall along x or y: x = 20 or y = 8`},
	{square, outlined("[1, 0], [20, 0], [20, 10], [0, 10]"), `dock.toml:6:40: room.outline[3]: lies askew of the first corner, to which the last wall goes, want a wall along x or y: x = 1 or y = 0`},
	{square, outlined("[0, 0], [20, 0], [20, 10], [10, 10], [10, -0.0], [0, 0]"), `dock.toml:6:62: room.outline[5]: repeats the first corner, want each corner once: the outline closes by itself`},
	{square, outlined("[0, 0], [20, 0], [20, 6], [8, 6], [8, 2], [14, 2], [14, 10], [0, 10]"), `dock.toml:6:55: room.outline[5]: begins a wall that meets the one from outline[2], want walls that meet at their corners alone`},
	{square, outlined("[0, 0], [20, 0], [20, 10], [12, 10], [12, 0], [11, 0], [11, 10], [0, 10]"), `dock.toml:6:40: room.outline[3]: begins a wall that meets the one from outline[0], want walls that meet at their corners alone`},
	{square, outlined("[0, 0], [20, 0], [12, 0], [12, 10], [0, 10]"), `dock.toml:6:21: room.outline[1]: begins a wall that meets the one from outline[0], want walls that meet at their corners alone`},
	{square, outlined("[0, 0], [20, 0], [20, 10], [14, 10], [14, 9.9999], [0, 9.9999]"), `dock.toml:6:64: room.outline[5]: has all but the same y as outline[2], want the same, or at least 0.001 m (1 mm) from it`},
	{square, "outline = [[0, 0], [20, 0], [20, 0.05], [0, 0.05]]\n", `dock.toml:4:1: room.outline: holds too little for a room, want at least 0.1 along x and along y`},
	{square, "outline = [" + repeated(201, "[0, 0],") + "]\n", `dock.toml:4:1: room.outline: is a list of 201, want a list of 1 to 200 lists of numbers`},
	{square, "width = 10.0\noutline = 3\n", `dock.toml:5:11: room.outline: is 3, want a list of 1 to 200 lists of numbers`},
	{square, "width = 4\noutline = [[0, 0], [20, 0], [20, 10], [0, 10]]\n", `dock.toml:5:34: room.outline[2][1]: is 10, want a place in the room, from 0 to 4
dock.toml:5:43: room.outline[3][1]: is 10, want a place in the room, from 0 to 4`},

	// what is in the room
	{square, outlined("[0, 0], [16, 0], [16, 5], [20, 5], [20, 10], [0, 10]"), `dock.toml:12:8: layout.rows: put luminaire 4, at [17.5, 2.5], outside the room's outline, want positions = [[x, y], ...] of those that hang there, or [[groups]] with an area each`},
	{square, outlined("[0, 0], [13, 0], [13, 8], [0, 8]"), `dock.toml:12:8: layout.rows: put luminaire 4, at [17.5, 2.5], and 1 more outside the room's outline, want positions = [[x, y], ...] of those that hang there, or [[groups]] with an area each
dock.toml:52:1: grids[1].area: puts the whole grid outside the room's outline, want a grid inside it, or on one of its walls`},
	{"length = 20.0\nwidth = 10.0\nheight = 6.0\nwork_plane = 0.8\nreflectance = { ceiling = 0.7, walls = 0.5, floor = 0.2 }\n[layout]\nmounting_height = 5.0\nrows = 2\ncolumns = 4",
		"outline = [" + ell + "]\nheight = 6.0\n[layout]\nmounting_height = 5.0\npositions = [[3, 9.5], [3, 9], [19, 9.9], [1, 9.2]]",
		`dock.toml:8:15: layout.positions[0]: is outside the room's outline, want a place inside it
dock.toml:8:44: layout.positions[3]: is outside the room's outline, want a place inside it`},
	{square, outlined("[0, 0], [20, 0], [20, 10], [13, 10], [13, 5], [0, 5]"), `dock.toml:12:8: layout.rows: put luminaire 5, at [2.5, 7.5], and 2 more outside the room's outline, want positions = [[x, y], ...] of those that hang there, or [[groups]] with an area each
dock.toml:16:1: racks[0].corner: puts rack 2 of 2 outside the room, want racks that stand inside it`},
	{`size = [10.0, 1.0, 3.0]`, "size = [10.0, 1.0, 3.0]\nbottom = -1", `dock.toml:17:10: racks[0].bottom: is -1, want a number of at least 0`},
	{`size = [10.0, 1.0, 3.0]`, "size = [10.0, 1.0, 3.0]\nbottom = true", `dock.toml:17:10: racks[0].bottom: is true, want a number of at least 0`},
	{`size = [10.0, 1.0, 3.0]`, "size = [10.0, 1.0, 3.0]\nbottom = 0.0005", `dock.toml:17:10: racks[0].bottom: is next to nothing, want 0 for a box on the floor, or at least 0.001 m (1 mm)`},
	{`size = [10.0, 1.0, 3.0]`, "size = [10.0, 1.0, 3.0]\nbottom = 3.5", `dock.toml:17:10: racks[0].bottom: puts the top of the box at 6.5, through the ceiling, want at most 3: size has the box's own height`},
	{`size = [10.0, 1.0, 3.0]`, "size = [10.0, 1.0, 7.0]\nbottom = 1.0", `dock.toml:16:1: racks[0].size: is higher than the room, want a height of at most 6`},
	{`size = [10.0, 1.0, 3.0]`, "size = [10.0, 1.0, 3.0]\nbotom = 2.0", `dock.toml:17:9: racks[0].botom: is not a known key, want bottom, perhaps`},
	{"size = [10.0, 1.0, 3.0]\nreflectance = 0.3\nrepeat = { count = 2, step = [0.0, 3.0] }", "size = [10.0, 6.0, 1.0]\nbottom = 4.5",
		`dock.toml:10:19: layout.mounting_height: puts luminaire 5 inside a box that hangs from 4.5 to 5.5, want luminaires above, below or beside it`},
}

// wrongShapesOfGroups are those of where groups hang in an outline.
var wrongShapesOfGroups = []wrong{
	{square, outlined("[0, 0], [20, 0], [20, 4], [8, 4], [8, 10], [0, 10]"), `dock.toml:30:8: groups[0].rows: put luminaire 8, at [8.75, 7.5], outside the room's outline, want an area that the outline holds, a group for each, or positions = [[x, y], ...] of those that hang there
dock.toml:52:15: groups[2].positions[0]: is outside the room's outline, want a place inside it
dock.toml:52:39: groups[2].positions[1]: is outside the room's outline, want a place inside it`},
}

// A number of luminaires alone is spread over what the outline holds, and that is listed.
func TestCountInAnOutline(t *testing.T) {
	text := replaced(t, grouped, square, "outline = [[0, 0], [20, 0], [20, 6], [11, 6], [11, 10], [0, 10]]\n")
	j := read(t, text)
	for _, p := range j.Existing.Parts[1].Layout.Placements {
		assert.True(t, j.Room.Holds(p.Position), "%v", p.Position)
	}
	assert.Len(t, j.Existing.Parts[1].Layout.Placements, 7)
	var rows []string
	for _, d := range j.Defaults {
		if strings.HasSuffix(d.Key, ".rows") {
			rows = append(rows, d.Value+" "+d.Reason)
		}
	}
	assert.Equal(t, []string{"2 a count alone is spread evenly over the room, in rows of as many as the outline leaves room for, assumed: give positions, where they hang"}, rows)
	_, err := job.Read("dock.toml", []byte(replaced(t, text, "count = 7\n", "count = 7\narea = [12, 7, 20, 10]\n")), open)
	assert.EqualError(t, err, "dock.toml:45:1: groups[1].area: has nothing of the room's outline, want an area in the room")
}

// A box may be at the ceiling, above and below luminaires, and through others; one that reaches through a wall of an outline is cut, and that is
// said, which of several too.
func TestShapes(t *testing.T) {
	j := read(t, replaced(t, sound, square, "outline = ["+ell+"]\n", "size = [10.0, 1.0, 3.0]\n", "size = [10.0, 1.0, 1.0]\nbottom = 5.0\n"))
	assert.Empty(t, j.Warnings)
	assert.Equal(t, []float64{20, 10}, []float64{j.Room.Length, j.Room.Width})
	assert.Equal(t, "room.length room.width", j.Defaults[0].Key+" "+j.Defaults[1].Key)
	assert.Equal(t, job.Default{Key: "room.width", Value: "10", Reason: "the largest y of the outline"}, j.Defaults[1])
	assert.InDelta(t, 20*9+6*1, j.Room.Area(), 1e-12)
	assert.InDelta(t, 60, j.Room.Perimeter(), 1e-12)
	assert.Equal(t, room.Vec{X: 2, Y: 3, Z: 5}, j.Racks[0].Corner)
	assert.Equal(t, room.Vec{X: 12, Y: 4, Z: 6}, j.Racks[0].Far())
	require.Len(t, j.Boxes(), 3)
	assert.True(t, j.Boxes()[2].Outside)

	for _, c := range []struct{ corner, repeat, want string }{
		{"[2.0, 8.5]", "", "racks[0]: the box reaches through a wall of the room's outline: it is cut there"},
		{"[2.0, 3.0]", "repeat = { count = 3, step = [0.0, 2.7] }\n", "racks[0]: 1 of 3 boxes reach through a wall of the room's outline: they are cut there"},
		{"[-3.0, 3.0]", "", "racks[0]: the box reaches through a wall of the room's outline: it is cut there"},
		{"[2.0, 8.0]", "", ""},
	} {
		j := read(t, replaced(t, sound, square, "outline = ["+ell+"]\n", "corner = [2.0, 3.0]\n", "corner = "+c.corner+"\n", "repeat = { count = 2, step = [0.0, 3.0] }\n", c.repeat, `from = [2.0, 4.0]`, `from = [2.0, 2.0]`, `to = [12.0, 4.0]`, `to = [12.0, 2.0]`))
		assert.Equal(t, c.want, strings.Join(j.Warnings, "\n"), "%s %s", c.corner, c.repeat)
		for _, k := range j.Racks {
			assert.GreaterOrEqual(t, k.Corner.X, 0.0)
		}
	}
	core := read(t, replaced(t, sound, square, "outline = ["+ell+"]\n", "size = [10.0, 1.0, 3.0]\n", "size = [10.0, 1.0, 6.0]\n"))
	assert.InDelta(t, 186, core.Room.Area(), 1e-12, "the outline's, blocks or none")
	assert.Equal(t, []string{"racks[0]: reaches from the floor to the ceiling: its footprint, 11 percent of the floor, counts as floor all the same, in power density and in the lumen " +
		"method, which then come out too low; a block at a wall can be left out of [room] outline"}, core.Warnings)
	j = read(t, replaced(t, sound, square, "length = 20.4\nwidth = 10.0\noutline = ["+ell+"]\n"))
	assert.Equal(t, []string{"room: length is 20.4, and the outline ends at x = 20: what lies beyond is outside"}, j.Warnings)
}

// In feet lengths that are equal on paper are equal: walls, racks and luminaires meet without a hair between them.
func TestShapesInFeet(t *testing.T) {
	text := replaced(t, sound, `"metric"`, `"imperial"`, square, "outline = [[0.1, 0.7], [20.3, 0.7], [20.3, 10.1], [14.6, 10.1], [14.6, 9.1], [0.1, 9.1]]\n",
		"corner = [2.0, 3.0]", "corner = [4.6, 7.9]", "size = [10.0, 1.0, 3.0]", "size = [10.0, 1.2, 3.0]", "repeat = { count = 2, step = [0.0, 3.0] }\n", "")
	j := read(t, text)
	assert.Empty(t, j.Warnings)
	assert.InDelta(t, (20.2*8.4+5.7*1)*0.3048*0.3048, j.Room.Area(), 1e-6)
	far := j.Racks[0].Far()
	assert.Equal(t, j.Room.Outline[3].X, far.X)
	assert.Equal(t, j.Room.Outline[4].Y, far.Y)
	_, err := job.Read("dock.toml", []byte(replaced(t, text, "[14.6, 9.1]", "[14.61, 9.1]")), open)
	assert.EqualError(t, err, "dock.toml:4:66: room.outline[4]: lies askew of the corner before it, want a wall along x or y: x = 14.6 or y = 10.1")
}
