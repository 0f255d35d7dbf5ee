package tomltext_test

import (
	"reflect"
	"strings"
	"testing"

	"github.com/pelletier/go-toml/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/cmd/lampswap/internal/jobs"
	"lampswap/cmd/lampswap/internal/page/tomltext"
)

const commentedJob = `# opening remark

title = "a # in a text"   # not a comment's end
units = 'imperial'

[room]                    # the hall
length = 120.0            # long
reflectance = { ceiling = 0.50, walls = 0.30, floor = 0.20 } # painted

# the racks
[[racks]]
corner = [10.0, # x
          8.0]
repeat = { count = 4, step = [0.0, 14.0] }

[[racks]]
corner = [1, 2]
[racks.repeat]
count = 2

# what is asked
[[criteria]]
level = "x"
`

func editTOML(t *testing.T, text string, edit func(*tomltext.Text) error) string {
	t.Helper()
	parsed, err := tomltext.Read(text)
	require.NoError(t, err)
	require.NoError(t, edit(parsed))
	return parsed.String()
}

func TestTOMLSetKeepsTheRest(t *testing.T) {
	for _, c := range []struct{ path, raw, old, changed string }{
		{"title", `"b"`, `"a # in a text"`, `"b"`},
		{"units", `"metric"`, "'imperial'", `"metric"`},
		{"room.length", "99", "length = 120.0 ", "length = 99 "},
		{"room.reflectance.walls", "0.4", "walls = 0.30", "walls = 0.4"},
		{"racks[0].corner[1]", "9.0", "8.0]", "9.0]"},
		{"racks[0].corner", "[3, 4]", "[10.0, # x\n          8.0]", "[3, 4]"},
		{"racks[0].repeat.count", "5", "count = 4", "count = 5"},
		{"racks[1].repeat.count", "3", "count = 2", "count = 3"},
		{"room.width", "60.0", "floor = 0.20 } # painted\n", "floor = 0.20 } # painted\nwidth = 60.0\n"},
		{"racks[1].reflectance", "0.2", "corner = [1, 2]\n", "corner = [1, 2]\nreflectance = 0.2\n"},
		{"racks[0].repeat.more", "1", "14.0] }", "14.0], more = 1 }"},
		{"upkeep.clean_months", "12.0", "level = \"x\"\n", "level = \"x\"\n\n[upkeep]\nclean_months = 12.0\n"},
		{"proposed.losses.total", "0.7", "level = \"x\"\n", "level = \"x\"\n\n[proposed.losses]\ntotal = 0.7\n"},
	} {
		got := editTOML(t, commentedJob, func(p *tomltext.Text) error { return p.Set(c.path, c.raw) })
		assert.Equal(t, strings.Replace(commentedJob, c.old, c.changed, 1), got, c.path)
	}
}

func TestTOMLDelete(t *testing.T) {
	for _, c := range []struct{ path, old, changed string }{
		{"room.length", "length = 120.0            # long\n", ""},
		{"room.reflectance.ceiling", "ceiling = 0.50, ", ""},
		{"room.reflectance.floor", ", floor = 0.20", ""},
		{"room.absent", "", ""},
		{"nowhere.absent", "", ""},
	} {
		got := editTOML(t, commentedJob, func(p *tomltext.Text) error { return p.Delete(c.path) })
		assert.Equal(t, strings.Replace(commentedJob, c.old, c.changed, 1), got, c.path)
	}
	got := editTOML(t, "a = { b = 1 }\nc = 2\n", func(p *tomltext.Text) error { return p.Delete("a.b") })
	assert.Equal(t, "c = 2\n", got, "an inline table that is empty goes")
}

func TestTOMLElements(t *testing.T) {
	first := editTOML(t, commentedJob, func(p *tomltext.Text) error { return p.RemoveElement("racks", 0) })
	assert.Contains(t, first, "# the racks\n[[racks]]\ncorner = [1, 2]\n[racks.repeat]\ncount = 2\n\n# what is asked\n")
	second := editTOML(t, commentedJob, func(p *tomltext.Text) error { return p.RemoveElement("racks", 1) })
	assert.Contains(t, second, "14.0] }\n\n# what is asked\n", "its own table goes with it")
	added := editTOML(t, commentedJob, func(p *tomltext.Text) error { return p.AddElement("racks", "corner = [5, 6]") })
	assert.Contains(t, added, "count = 2\n\n[[racks]]\ncorner = [5, 6]\n\n# what is asked\n")
	assert.Equal(t, "x = 1\n\n[[racks]]\na = 2\n", editTOML(t, "x = 1", func(p *tomltext.Text) error { return p.AddElement("racks", "a = 2") }))

	inline := "racks = [{a = 1}, {a = 2}]\n"
	assert.Equal(t, "racks = [{a = 1}, {a = 2}, { a = 3 }]\n", editTOML(t, inline, func(p *tomltext.Text) error { return p.AddElement("racks", "a = 3") }))
	assert.Equal(t, "racks = [{a = 2}]\n", editTOML(t, inline, func(p *tomltext.Text) error { return p.RemoveElement("racks", 0) }))
}

func TestTOMLOddTexts(t *testing.T) {
	assert.Equal(t, "# remark\ntitle = \"x\"\n\n[room]\n", editTOML(t, "# remark\n\n[room]\n", func(p *tomltext.Text) error { return p.Set("title", `"x"`) }))
	assert.Equal(t, "title = \"x\"\r\n[room]\r\nlength = 1\r\n", editTOML(t, "title = \"x\"\r\n[room]\r\n", func(p *tomltext.Text) error { return p.Set("room.length", "1") }))
	assert.Equal(t, "[room]\nreflectance.floor = 0.2\nreflectance.walls = 0.3\n",
		editTOML(t, "[room]\nreflectance.floor = 0.2\n", func(p *tomltext.Text) error { return p.Set("room.reflectance.walls", "0.3") }))
	assert.Equal(t, "[room]\nlength = 1\nreflectance = { walls = 0.3 }\n",
		editTOML(t, "[room]\nlength = 1\n", func(p *tomltext.Text) error { return p.Set("room.reflectance.walls", "0.3") }))
	many := "a = \"\"\"x\"\"\"\"\"\nb = '''it's # [no] table'''\nc = \"q\\\"\"\nd = 1\n"
	assert.Equal(t, strings.Replace(many, "d = 1", "d = 2", 1), editTOML(t, many, func(p *tomltext.Text) error { return p.Set("d", "2") }))
	for _, deep := range []string{"a = " + strings.Repeat("[", 100_000) + strings.Repeat("]", 100_000), strings.Repeat("a.", 100_000) + "a = 1", "[" + strings.Repeat("a.", 100_000) + "a]", "x = {" + strings.Repeat("a={", 100_000)} {
		_, err := tomltext.Read(deep)
		require.EqualError(t, err, "at line 1, tables, lists or dotted keys go more than 40 deep")
	}
	require.NoError(t, tomltext.Bounded(jobs.Starter+commentedJob+"p = ["+strings.Repeat("[1.0, 2.0], ", 1000)+"]\nq = \"....................................................[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[\""))
	for _, text := range []string{"a = 1\n", "[a]\n", "[[a]]\n"} {
		require.NoError(t, tomltext.Bounded("# = = =\n"+strings.Repeat(text, 10_000)))
		require.EqualError(t, tomltext.Bounded("# = = =\n"+strings.Repeat(text, 10_001)), "at line 10002, there are more than 10000 keys")
	}
	_, err := tomltext.Read("a = ")
	require.Error(t, err)
	assert.Equal(t, `"a\"\\\u000A\u007F"`, tomltext.Quote("a\"\\\n\x7f"))
}

// Keys may be quoted and hold what else has a meaning; what stands around them stays.
func TestTOMLQuotedKeys(t *testing.T) {
	odd := "[ kinds . \"a ] b\" ] # it's [odd]\nx = [ [1, 2,], # ] }\n  [ [3] ,], ]\ny = { \"q = 1\" . z = [{}], }\n[kinds.\"a ] b\".care]\nz = 1\n"
	assert.Equal(t, strings.ReplaceAll(strings.Replace(odd, `kinds . "a ] b"`, "kinds.c", 1), `"a ] b"`, "c"),
		editTOML(t, odd, func(p *tomltext.Text) error { return p.RenameTable("kinds.a ] b", "c") }))
	assert.Equal(t, odd+"\n[kinds.d ] # it's [odd]\n"+strings.Split(odd, "\n")[1]+"\n"+strings.Split(odd, "\n")[2]+"\n"+
		strings.Split(odd, "\n")[3]+"\n\n[kinds.d.care]\nz = 1\n",
		editTOML(t, odd, func(p *tomltext.Text) error { return p.CopyTable("kinds.a ] b", "d") }))
	for _, c := range []struct{ path, old, changed string }{
		{"kinds.a ] b.x[0]", "[1, 2,]", "7"}, {"kinds.a ] b.x[0][1]", "2,]", "7,]"}, {"kinds.a ] b.x[1]", "[ [3] ,]", "7"},
		{"kinds.a ] b.x[1][0][0]", "3", "7"}, {"kinds.a ] b.y.q = 1.z[0]", "{}", "7"}, {"kinds.a ] b.care.z", "z = 1\n", "z = 7\n"},
	} {
		assert.Equal(t, strings.Replace(odd, c.old, c.changed, 1), editTOML(t, odd, func(p *tomltext.Text) error { return p.Set(c.path, "7") }), c.path)
	}
}

// FuzzTOMLSet: in any TOML text a key can be set and taken out again, and nothing else that the text says changes.
func FuzzTOMLSet(f *testing.F) {
	f.Add(commentedJob)
	f.Add(jobs.Starter)
	f.Add("a = { b = [1, { c = 2 }] }\n[x.\"y z\"]\n[[q]]\n[[q.r]]\n[[q]]\n")
	f.Fuzz(func(t *testing.T, text string) {
		parsed, err := tomltext.Read(text)
		if err != nil {
			t.Skip()
		}
		before := map[string]any{}
		require.NoError(t, toml.Unmarshal([]byte(text), &before))
		if _, there := before["fuzzed"]; there {
			t.Skip()
		}
		require.NoError(t, parsed.Set("fuzzed", "12.5"), "%q", text)
		assert.InDelta(t, 12.5, parsed.Value("fuzzed"), 0)
		require.NoError(t, parsed.Set("fuzzed", `"x"`), "%q", text)
		require.NoError(t, parsed.Delete("fuzzed"))
		after := map[string]any{}
		require.NoError(t, toml.Unmarshal([]byte(parsed.String()), &after))
		assert.True(t, reflect.DeepEqual(before, after) || strings.Contains(text, "nan"), "%q became %q", text, parsed.String())
	})
}
