package tomltext_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/cmd/lampswap/internal/page/tomltext"
	"lampswap/photometry/building"
	"lampswap/photometry/job"
)

const works = `# invented
title = "Works"
[kinds.strip]
fixture = "strip-4in"
lamp = "F96T12"
lamps = 2
ballast = "magnetic"
[kinds.tube]
fixture = "strip-4in"
lamp = "LED-T8-4FT-18.5W-B"
lamps = 4
[upkeep]
hours_per_year = 4000.0
[energy]
price_per_kwh = 0.12

[[spaces]]
name = "office"   # on the second floor
copies = 2
room = { length = 30.0, width = 20.0, height = 9.0 }
[[spaces.groups]]
existing = "strip"
proposed = "tube"
count = 8   # by the drawing
mounting_height = 8.0

# the store, as it is
[[spaces]]
name = "store"
[spaces.room]
length = 40.0
width = 20.0
height = 12.0
[[spaces.groups]]
existing = "strip"
proposed = "strip"
count = 6
mounting_height = 11.0

[[spaces]]
job = "dock.toml"
`

const dock = `title = "dock"
[room]
length = 20.0
width = 20.0
height = 12.0
[layout]
rows = 1
columns = 2
mounting_height = 11.0
[existing]
fixture = "strip-4in"
lamp = "F96T12"
lamps = 2
ballast = "magnetic"
[proposed]
fixture = "strip-4in"
lamp = "LED-8FT-36W-B"
lamps = 2
[costs]
lines = [["all", 100.0]]
`

// A space is a job that reads as the building reads the space; a value that is changed in it is changed in the building, and no other byte.
func TestSpaceIsAJob(t *testing.T) {
	text, err := tomltext.Read(works)
	require.NoError(t, err)
	names, paths := text.Spaces()
	assert.Equal(t, []string{"office", "store", "dock"}, names)
	assert.Equal(t, []string{"", "", "dock.toml"}, paths)
	b, err := building.Read("works.toml", []byte(works), func(string) ([]byte, error) { return []byte(dock), nil }, nil)
	require.NoError(t, err)
	for i := range names {
		alone, err := text.Space(i, dock)
		require.NoError(t, err)
		j, err := job.Read("space.toml", []byte(alone), nil)
		require.NoError(t, err, alone)
		assert.Equal(t, b.Spaces[i].Job.Room, j.Room)
		assert.Equal(t, b.Spaces[i].Job.Proposed.Watts(), j.Proposed.Watts())
		assert.Equal(t, b.Spaces[i].Job.Upkeep.HoursPerYear, j.Upkeep.HoursPerYear)
		require.NoError(t, text.PutSpace(i, dock, alone))
		assert.Equal(t, works, text.String(), "nothing was changed")
	}
	changed := func(i int, old, with string) string {
		t.Helper()
		text, err := tomltext.Read(works)
		require.NoError(t, err)
		alone, err := text.Space(i, dock)
		require.NoError(t, err)
		require.Contains(t, alone, old)
		require.NoError(t, text.PutSpace(i, dock, strings.Replace(alone, old, with, 1)))
		_, err = building.Read("works.toml", []byte(text.String()), func(string) ([]byte, error) { return []byte(dock), nil }, nil)
		require.NoError(t, err, text.String())
		return text.String()
	}
	assert.Equal(t, strings.Replace(works, "count = 8 ", "count = 9 ", 1), changed(0, "count = 8", "count = 9"))
	assert.Equal(t, strings.Replace(works, "length = 30.0", "length = 31.5", 1), changed(0, "length = 30.0", "length = 31.5"))
	assert.Equal(t, strings.Replace(works, `name = "store"`, `name = "shed"`, 1), changed(1, "title = 'store'", "title = 'shed'"))
	own := changed(1, "hours_per_year = 4000.0", "hours_per_year = 2000.0")
	assert.Contains(t, own, "[upkeep]\nhours_per_year = 4000.0")
	assert.Contains(t, own, "\nupkeep = { hours_per_year = 2000.0 }")

	// What comes or goes writes the space anew, and that alone.
	more := changed(1, "[room]", "[[criteria]]\nname = 'lease'\nat_least = 10.0\n[room]")
	assert.Contains(t, more, "[[spaces.criteria]]")
	assert.Contains(t, more, "# on the second floor")
	assert.NotContains(t, more, "[spaces.kinds", "the building has them")
	kind := changed(0, "lamp = 'F96T12'", "lamp = 'F96T12/ES'")
	assert.Contains(t, kind, "[spaces.kinds.strip]")
	assert.Contains(t, kind, "[kinds.strip]\nfixture = \"strip-4in\"\nlamp = \"F96T12\"")
	here := changed(2, "columns = 2", "columns = 3")
	assert.NotContains(t, here, "dock.toml", "it stands in the building now")
	assert.NotContains(t, here, "costs")
}

// What is the building's is not changed in a space.
func TestSpaceLeavesTheBuilding(t *testing.T) {
	text, err := tomltext.Read(works)
	require.NoError(t, err)
	alone, err := text.Space(0, "")
	require.NoError(t, err)
	require.ErrorIs(t, text.PutSpace(0, "", strings.Replace(alone, "price_per_kwh = 0.12", "price_per_kwh = 0.13", 1)), tomltext.ErrOfBuilding)
	require.ErrorIs(t, text.PutSpace(0, "", strings.Replace(alone, "hours_per_year = 4000.0\n", "", 1)), tomltext.ErrOfBuilding)
	require.Error(t, text.PutSpace(0, "", "room = ["))
	assert.Equal(t, works, text.String())
	_, err = text.Space(3, "")
	require.Error(t, err)
	_, err = text.Space(2, "units = \"metric\"\n")
	require.ErrorContains(t, err, "other units")
	line, err := tomltext.Read("spaces = [{ name = \"a\", room = { length = 3.0 } }]\n")
	require.NoError(t, err)
	alone, err = line.Space(0, "")
	require.NoError(t, err)
	require.NoError(t, line.PutSpace(0, "", strings.Replace(alone, "length = 3.0", "length = 4.0", 1)))
	assert.Equal(t, "spaces = [{ name = \"a\", room = { length = 4.0 } }]\n", line.String())
}
