package job_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry/job"
	"lampswap/photometry/room"
)

func TestLampsAlongTheWidth(t *testing.T) {
	l := read(t, replaced(t, sound, `lamps_along = "length"`, `lamps_along = "width"`)).Existing.Layout
	assert.True(t, l.LampsAlongY)
	require.Len(t, l.Placements, 8)
	assert.Equal(t, room.Vec{X: 2.5, Y: 2.5, Z: 5}, l.Placements[0].Position, "half a spacing from the walls")
	for _, p := range l.Placements {
		assert.Equal(t, radians(90), p.Rotation)
	}
}

// A position without a rotation takes the one that lamps_along gives.
func TestPositions(t *testing.T) {
	for along, rotation := range map[string]float64{"length": 0, "width": radians(90)} {
		l := read(t, replaced(t, sound, "rows = 2\ncolumns = 4\n", "positions = [[1.0, 2.0], [3, 4, 30], [20.0, 10.0, -90.0]]\n",
			`lamps_along = "length"`, `lamps_along = "`+along+`"`)).Existing.Layout
		assert.Equal(t, []room.Placement{
			{Position: room.Vec{X: 1, Y: 2, Z: 5}, Rotation: rotation},
			{Position: room.Vec{X: 3, Y: 4, Z: 5}, Rotation: radians(30)},
			{Position: room.Vec{X: 20, Y: 10, Z: 5}, Rotation: radians(-90)},
		}, l.Placements, along)
		assert.Zero(t, l.Rows)
		assert.Zero(t, l.Columns)
	}
}

// A fourth number is the height of that luminaire; the others hang at the mounting height, which need not be there for nothing.
func TestHeightsOfTheirOwn(t *testing.T) {
	with := func(pairs ...string) *job.Job {
		return read(t, replaced(t, sound, append([]string{"rows = 2\ncolumns = 4\n"}, pairs...)...))
	}
	j := with("positions = [[1, 2], [3, 4, 30], [5, 6, 90, 4], [5, 7, 0, 5.5]]\n")
	l := j.Existing.Layout
	for i, z := range []float64{5, 5, 4, 5.5} {
		assert.Equal(t, z, l.Placements[i].Position.Z)
	}
	assert.Equal(t, radians(90), l.Placements[2].Rotation)
	assert.Equal(t, 4.875, l.MountingHeight, "the mean")
	low, high := l.Heights()
	assert.Equal(t, []float64{4, 5.5}, []float64{low, high})
	assert.Equal(t, []string{"layout: the luminaires hang at heights from 4 to 5.5 m: the lumen method takes their mean, 4.875, " +
		"and a pitched ceiling counts as flat, at the room's height of 6"}, j.Warnings)

	j = with("positions = [[1, 2, 0, 3.5]]\n", "mounting_height = 5.0\n", "")
	assert.Equal(t, 3.5, j.Existing.Layout.MountingHeight)
	assert.Empty(t, j.Warnings)
	assert.Equal(t, []string{"layout: mounting_height counts for nothing: each position has a height of its own"}, with("positions = [[1, 2, 0, 3.5]]\n").Warnings)
}

// A [proposed.layout] replaces the layout whole: nothing of the shared one is left in it.
func TestOwnLayout(t *testing.T) {
	j := read(t, replaced(t, sound, `lamps_along = "length"`, `lamps_along = "width"`, "[upkeep]\n", "[proposed.layout]\nmounting_height = 5.5\nrows = 1\ncolumns = 3\n[upkeep]\n"))
	assert.Equal(t, 8, len(j.Existing.Layout.Placements))
	assert.True(t, j.Existing.Layout.LampsAlongY)
	own := j.Proposed.Layout
	assert.Len(t, own.Placements, 3)
	assert.Equal(t, 5.5, own.MountingHeight)
	assert.False(t, own.LampsAlongY, "a default, not the shared layout's")
	var keys []string
	for _, d := range j.Defaults {
		keys = append(keys, d.Key)
	}
	assert.Contains(t, keys, "proposed.layout.lamps_along")
	assert.NotContains(t, keys, "layout.lamps_along", "given there")
}

// With a layout of its own in each system the shared one may be left out.
func TestNoSharedLayout(t *testing.T) {
	const own = "layout = { mounting_height = 4.0, rows = 1, columns = 1, lamps_along = \"width\" }\n"
	text := replaced(t, sound, "[layout]\nmounting_height = 5.0\nrows = 2\ncolumns = 4\nlamps_along = \"length\"\n", "", "[existing]\n", "[existing]\n"+own, "[proposed]\n", "[proposed]\n"+own)
	j := read(t, text)
	assert.Equal(t, j.Existing.Layout, j.Proposed.Layout)
	assert.Equal(t, []room.Placement{{Position: room.Vec{X: 10, Y: 5, Z: 4}, Rotation: radians(90)}}, j.Existing.Layout.Placements)
}

// Luminaires may hang at the ceiling, between the racks and lower than they are high.
func TestMounting(t *testing.T) {
	assert.Equal(t, 6.0, read(t, replaced(t, sound, "mounting_height = 5.0", "mounting_height = 6.0")).Existing.Layout.MountingHeight)
	l := read(t, replaced(t, sound, "mounting_height = 5.0\nrows = 2", "mounting_height = 2.5\nrows = 1")).Existing.Layout
	assert.Equal(t, 5.0, l.Placements[0].Position.Y, "in the aisle")
}

func TestRacks(t *testing.T) {
	j := read(t, replaced(t, sound, "repeat = { count = 2, step = [0.0, 3.0] }", "transmittance = 0.25", "[existing]\n", "[[racks]]\ncorner = [13, 0]\nsize = [7, 1, 6]\nrepeat = { count = 3, step = [-1.0, 4.5] }\n[existing]\n"))
	require.Len(t, j.Racks, 4)
	assert.Equal(t, room.Rack{Corner: room.Vec{X: 2, Y: 3}, Size: room.Vec{X: 10, Y: 1, Z: 3}, Reflectance: 0.3, Transmittance: 0.25}, j.Racks[0])
	for i, corner := range []room.Vec{{X: 13}, {X: 12, Y: 4.5}, {X: 11, Y: 9}} {
		assert.Equal(t, room.Rack{Corner: corner, Size: room.Vec{X: 7, Y: 1, Z: 6}, Reflectance: 0.3}, j.Racks[i+1], "as wide and as high as the room lets it")
	}
	assert.Equal(t, "racks[1].reflectance", j.Defaults[0].Key)
}

// The same line seen from either side, and whichever way it is drawn.
func TestVerticalGrids(t *testing.T) {
	for _, c := range []struct {
		facing, spacing string
		normal          room.Vec
		nx, ny          int
	}{
		{"90.0", "spacing = 0.5", room.Vec{Y: 1}, 20, 6},
		{"-90.0", "spacing = 0.5", room.Vec{Y: -1}, 20, 6},
		{"270", "", room.Vec{Y: -1}, 20, 6}, // the spacing of the work plane
		{"90.4", "spacing = 3.0", room.Vec{Y: 1}, 4, 1},
	} {
		j := read(t, replaced(t, sound, "facing = 90.0\nspacing = 0.5", "facing = "+c.facing+"\n"+c.spacing))
		g := j.Grids[0]
		assert.Equal(t, "north face", g.Name)
		assert.InDelta(t, 0, g.Normal.Sub(c.normal).Length(), rounding, c.facing)
		assert.Equal(t, []int{c.nx, c.ny}, []int{g.NX, g.NY}, c.facing)
		assert.InDelta(t, 0.2, g.Origin.Z, rounding)
		assert.InDelta(t, 2.7, g.StepY*float64(g.NY), rounding)
		if c.spacing == "" {
			assert.Equal(t, "grids[0].spacing", j.Defaults[4].Key)
			assert.Equal(t, "0.5", j.Defaults[4].Value)
		}
	}
}

// The two corners may come in any order; without a height the grid lies at the work plane.
func TestAreaGrids(t *testing.T) {
	for _, area := range []string{"[14.0, 2.0, 18.0, 8.0]", "[18.0, 8.0, 14.0, 2.0]", "[14.0, 8.0, 18.0, 2.0]"} {
		g := read(t, replaced(t, sound, "[14.0, 2.0, 18.0, 8.0]", area)).Grids[1]
		assert.Equal(t, room.Horizontal, g.Plane)
		assert.Equal(t, []int{4, 6}, []int{g.NX, g.NY})
		assert.Equal(t, room.Vec{X: 14.5, Y: 2.5, Z: 1}, g.Point(0, 0))
	}
	j := read(t, replaced(t, sound, "height = 1.0\n", "", "name = \"dock\"\n", "", `grid = "dock"`, `grid = "grid 2"`))
	assert.Equal(t, 0.8, j.Grids[1].Origin.Z)
	assert.Equal(t, "grid 2", j.Grids[1].Name)
	assert.Equal(t, `"grid 2"`, j.Defaults[4].Value, "as the file would have it")
	floor := read(t, replaced(t, sound, "height = 1.0\n", "height = 0\n"))
	assert.Zero(t, floor.Grids[1].Origin.Z)
}

// A work plane on the floor is allowed, at the ceiling nothing hangs above it.
func TestWorkPlaneOnTheFloor(t *testing.T) {
	assert.Zero(t, read(t, replaced(t, sound, "work_plane = 0.8", "work_plane = 0.0")).Room.WorkPlane)
}
