package plan

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lampswap/cmd/lampswap/internal/jobs"
	"lampswap/cmd/lampswap/internal/page/tomltext"
	"lampswap/photometry/job"
	"lampswap/photometry/room"
)

func textOf(t require.TestingT, content string) *tomltext.Text {
	text, err := tomltext.Read(content)
	require.NoError(t, err)
	return text
}

func demo(t *testing.T, name string) string {
	t.Helper()
	content, err := jobs.Demo.ReadFile("demo/" + name)
	require.NoError(t, err)
	return string(content)
}

func demoFile(name string) ([]byte, error) { return jobs.Demo.ReadFile("demo/" + name) }

// What is moved changes its own numbers in the text, and no other byte.
func TestMoves(t *testing.T) {
	found := demo(t, "as-found.toml")
	for _, c := range []struct {
		what, id string
		x, y     float64
		old, now string
	}{
		{"a row of racks", "racks[0]", 61, 23.5, "corner = [62.0, 22.0]", "corner = [61.0, 23.5]"},
		{"no further than the walls", "racks[0]", 400, 22, "corner = [62.0, 22.0]", "corner = [94.0, 22.0]"},
		{"the way from one to the next", "racks[0].repeat.step", 62, 35, "step = [0.0, 12.0]", "step = [0.0, 13.0]"},
		{"its far corner", "racks[0].size", 90, 26, "size = [26.0, 4.0, 9.0]", "size = [28.0, 4.0, 9.0]"},
		{"a hanging box", "racks[1]", 91, 0, "corner = [92.0, 0.0]", "corner = [91.0, 0.0]"},
		{"a luminaire", "groups[2].positions[1]", 75, 30 + 1./12, "[75.0, 30.0]", "[75.0, 30.0833]"},
		{"a group in rows", "groups[0]", 0, 38, "area = [0.0, 40.0, 60.0, 80.0]", "area = [0.0, 38.0, 60.0, 78.0]"},
		{"the far corner of its area", "groups[0].area.far", 58, 80, "area = [0.0, 40.0, 60.0, 80.0]", "area = [0.0, 40.0, 58.0, 80.0]"},
		{"all of a group", "groups[2]", 67, 29, "[[66.0, 30.0], [75.0, 30.0], [84.0, 30.0]]", "[[67.0, 29.0], [76.0, 29.0], [85.0, 29.0]]"},
		{"a grid", "grids[0]", 60, 27, "area = [60.0, 28.0, 120.0, 32.0]", "area = [60.0, 27.0, 120.0, 31.0]"},
		{"an observer", "observers[0].at", 31, 75, "at = [30.0, 76.0]", "at = [31.0, 75.0]"},
		{"a wall with its corners", "room.outline[2].wall", 90, 42, "[120, 40], [60, 40]", "[120, 42.0], [60, 42.0]"},
		{"a corner with its walls", "room.outline[3]", 62, 41, "[120, 40], [60, 40], [60, 80]", "[120, 41.0], [62.0, 41.0], [62.0, 80]"},
		{"closer rows and columns", "groups[0].spacing", 20, 53, "rows = 4\ncolumns = 4\narea = [0.0, 40.0", "rows = 5\ncolumns = 5\narea = [0.0, 40.0"},
	} {
		text := textOf(t, found)
		require.Equal(t, 1, strings.Count(found, c.old), c.old)
		require.NoError(t, Of(text).Move(c.id, c.x, c.y), c.what)
		assert.Equal(t, strings.Replace(found, c.old, c.now, 1), text.String(), c.what)
	}
	plain := demo(t, "parts-store.toml")
	text := textOf(t, plain)
	require.NoError(t, Of(text).Move("room", 119.5, 61))
	assert.Equal(t, strings.NewReplacer("length = 120.0", "length = 119.5", "width = 60.0", "width = 61.0").Replace(plain), text.String())
	for _, id := range []string{"racks[9]", "nothing", "layout", "groups[2].positions[99]"} {
		require.ErrorIs(t, Of(text).Move(id, 1, 1), ErrNothing, id)
	}
	require.ErrorIs(t, Of(text).Move("room", math.NaN(), 1), ErrNothing)
}

// Whatever is moved, copied or taken out of a room as it is found, the text stays TOML, and what moved is where it was put.
func TestAnyMove(t *testing.T) {
	found := demo(t, "as-found.toml")
	rapid.Check(t, func(t *rapid.T) {
		text := textOf(t, found)
		for range rapid.IntRange(1, 6).Draw(t, "edits") {
			p := Of(text)
			thing := p.Things[rapid.IntRange(0, len(p.Things)-1).Draw(t, "thing")]
			switch rapid.SampledFrom([]string{"move", "copy", "delete"}).Draw(t, "edit") {
			case "move":
				x, y := float64(rapid.IntRange(0, 1440).Draw(t, "x"))/12, float64(rapid.IntRange(0, 960).Draw(t, "y"))/12
				require.NoError(t, p.Move(thing.ID, x, y))
				if again, ok := Of(text).Find(thing.ID); ok && thing.Kind == Single {
					require.InDelta(t, min(x, p.Length), again.X, 1e-4)
					require.InDelta(t, min(y, p.Width), again.Y, 1e-4)
				}
			case "copy":
				n := len(p.Things)
				if made, err := p.Copy(thing.ID); err == nil {
					require.NotEmpty(t, made)
					require.GreaterOrEqual(t, len(Of(text).Things), n)
				}
			case "delete":
				_ = p.Delete(thing.ID) // not all can go
			}
			_, err := tomltext.Read(text.String())
			require.NoError(t, err)
		}
	})
}

// A corner that is cut in makes an L of a rectangle, and one that is taken out a rectangle of an L; both are sound jobs.
func TestCorners(t *testing.T) {
	text := textOf(t, demo(t, "parts-store.toml"))
	made, err := Of(text).Copy("room")
	require.NoError(t, err)
	assert.Equal(t, "room.outline[3]", made)
	p := Of(text)
	assert.Equal(t, room.Outline{{}, {X: 120}, {X: 120, Y: 45}, {X: 105, Y: 45}, {X: 105, Y: 60}, {Y: 60}}, p.Outline)
	assert.False(t, text.Has("room.length"))
	require.NoError(t, p.Delete("room.outline[3]"))
	assert.Equal(t, room.Outline{{}, {X: 120}, {X: 120, Y: 60}, {Y: 60}}, Of(text).Outline, "the wall after it goes, that before it comes into line")
	require.ErrorIs(t, Of(text).Delete("room.outline[0]"), ErrNothing)

	text = textOf(t, demo(t, "as-found.toml"))
	require.NoError(t, Of(text).Delete("room.outline[3]"))
	assert.Len(t, Of(text).Outline, 4)
}

// Who takes a luminaire down counts the others anew where they are named by number.
func TestLuminairesAreCountedAnew(t *testing.T) {
	text := textOf(t, strings.Replace(demo(t, "as-found.toml"), "positions = [[66.0", "failed = [1, 2]\npositions = [[66.0", 1))
	require.NoError(t, Of(text).Delete("groups[2].positions[1]"))
	assert.Equal(t, "[1]", text.Raw("groups[2].failed"))
	assert.Equal(t, "[1, 2]", text.Raw("groups[2].egress.luminaires"))
	assert.Equal(t, "[[66.0, 30.0], [84.0, 30.0]]", text.Raw("groups[2].positions"))
	made, err := Of(text).Copy("groups[2].positions[1]")
	require.NoError(t, err)
	assert.Equal(t, "groups[2].positions[2]", made)
	assert.Equal(t, "[[66.0, 30.0], [84.0, 30.0], [84.0, 34.0]]", text.Raw("groups[2].positions"))
}

// Luminaires in rows that get places of their own give the same light: they hang where they hung.
func TestPlacesAreThoseOfRows(t *testing.T) {
	before, err := job.Read("a.toml", []byte(demo(t, "parts-store.toml")), demoFile)
	require.NoError(t, err)
	text := textOf(t, demo(t, "parts-store.toml"))
	require.NoError(t, Of(text).Place("layout"))
	after, err := job.Read("a.toml", []byte(text.String()), demoFile)
	require.NoError(t, err)
	require.Len(t, after.Existing.Layout.Placements, len(before.Existing.Layout.Placements))
	for i, p := range after.Existing.Layout.Placements {
		assert.InDelta(t, 0, p.Position.Sub(before.Existing.Layout.Placements[i].Position).Length(), 3e-5)
	}
	require.ErrorIs(t, Of(text).Place("layout"), ErrNothing)
}

// What the job alone knows is taken from it.
func TestResolves(t *testing.T) {
	content := demo(t, "as-found.toml")
	j, err := job.Read("a.toml", []byte(content), demoFile)
	require.NoError(t, err)
	p := Of(textOf(t, content))
	p.Resolve(j, true)
	failed := 0
	for _, l := range p.Luminaires {
		if l.Failed {
			failed++
		}
	}
	assert.Equal(t, 6, failed)
	assert.Len(t, p.Luminaires, 44)
	assert.InDelta(t, 8, p.Luminaires[0].Long, 0.1)
	assert.Equal(t, "groups[0]", p.Luminaires[0].Thing)
}

func BenchmarkMove(b *testing.B) {
	content, err := demoFile("as-found.toml")
	require.NoError(b, err)
	text, err := tomltext.Read(string(content))
	require.NoError(b, err)
	b.Run("read", func(b *testing.B) {
		for b.Loop() {
			Of(text)
		}
	})
	b.Run("move", func(b *testing.B) {
		for i := 0; b.Loop(); i++ {
			_ = Of(text).Move("racks[0]", float64(10+i%10), 5)
		}
	})
}
