package tomlfile_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry/diag"
	"lampswap/photometry/internal/tomlfile"
	"lampswap/photometry/longtest"
)

// Each row is a text, what is asked of it, and the fault in full, without the file's name.
func TestFaults(t *testing.T) {
	number := func(rule tomlfile.Rule) func(*tomlfile.Table) {
		return func(t *tomlfile.Table) { t.Number("a", rule) }
	}
	for _, c := range []struct {
		text string
		ask  func(*tomlfile.Table)
		want string
	}{
		{`a = "12"`, number(tomlfile.Positive), `1:5: a: is the text "12", want a number above 0`},
		{`a = true`, number(tomlfile.Any), `1:5: a: is true, want any number`},
		{`a = true`, number(tomlfile.Rule{Want: "a length", Holds: tomlfile.Any.Holds}), `1:5: a: is true, want a number: a length`},
		{`a = 1979-05-27`, number(tomlfile.Any), `1:5: a: is 1979-05-27, want any number`},
		{`a = inf`, number(tomlfile.Any), `1:5: a: is +Inf, want any number`},
		{`a = nan`, number(tomlfile.NotNegative), `1:5: a: is NaN, want a number of at least 0`},
		{`a = 0`, number(tomlfile.Positive), `1:5: a: is 0, want a number above 0`},
		{`a = -0.5`, number(tomlfile.NotNegative), `1:5: a: is -0.5, want a number of at least 0`},
		{`a = 1.5`, number(tomlfile.Fraction), `1:5: a: is 1.5, want a number from 0 to 1`},
		{`a = 2`, number(tomlfile.Between(3, 7)), `1:5: a: is 2, want a number from 3 to 7`},
		{`a = { b = 1 }`, number(tomlfile.Any), `1:5: a: is a table, want any number`},

		{`a = "x"`, func(t *tomlfile.Table) { t.Count("a", 1, 9) }, `1:5: a: is the text "x", want a whole number from 1 to 9`},
		{`a = 2.5`, func(t *tomlfile.Table) { t.Count("a", 1, 9) }, `1:5: a: is 2.5, want a whole number from 1 to 9`},
		{`a = 2.0`, func(t *tomlfile.Table) { t.Count("a", 1, 9) }, `1:5: a: is 2 with a decimal point, want a whole number from 1 to 9`},
		{`a = 10`, func(t *tomlfile.Table) { t.Count("a", 1, 9) }, `1:5: a: is 10, want a whole number from 1 to 9`},

		{`a = 1`, func(t *tomlfile.Table) { t.Text("a") }, `1:5: a: is 1, want a text in quotes`},
		{`a = " "`, func(t *tomlfile.Table) { t.Text("a") }, `1:5: a: is blank, want a text`},
		{`a = "metrc"`, func(t *tomlfile.Table) { t.Word("a", "metric", "imperial") }, `1:5: a: "metrc" is not known, want one of metric, imperial (metric?)`},
		{`a = "parsecs"`, func(t *tomlfile.Table) { t.Word("a", "metric", "imperial") }, `1:5: a: "parsecs" is not known, want one of metric, imperial`},
		{`a = "yes"`, func(t *tomlfile.Table) { t.Bool("a") }, `1:5: a: is the text "yes", want true or false`},

		{`a = 1`, func(t *tomlfile.Table) { t.Table("a") }, `1:5: a: is 1, want a table, [a]`},
		{`a = 1`, func(t *tomlfile.Table) { t.Tables("a", 2) }, `1:5: a: is 1, want one or more tables, [[a]]`},
		{"[a]\nx = 1", func(t *tomlfile.Table) { t.Tables("a", 2) }, `1:2: a: is a table, want one or more tables, [[a]]`},
		{`a = [{ b = 1 }, 2]`, func(t *tomlfile.Table) { t.Tables("a", 2) }, `1:17: a[1]: is 2, want a table, [[a]]`},
		{"[[a]]\n[[a]]\n[[a]]", func(t *tomlfile.Table) { t.Tables("a", 2) }, `1:3: a: has 3 tables, want at most 2`},

		{`a = 1`, func(t *tomlfile.Table) { t.Numbers("a", 1, tomlfile.Any) }, `1:5: a: is 1, want a list of 1 numbers`},
		{`a = [1, 2, 3, 4]`, func(t *tomlfile.Table) { t.Numbers("a", 2, tomlfile.Any, tomlfile.Any, tomlfile.Any) }, `1:1: a: is a list of 4, want a list of 2 to 3 numbers`},
		{`a = [1, "2"]`, func(t *tomlfile.Table) { t.Numbers("a", 2, tomlfile.Any, tomlfile.Any) }, `1:9: a[1]: is the text "2", want any number`},
		{`a = [1, -2]`, func(t *tomlfile.Table) { t.Numbers("a", 2, tomlfile.Any, tomlfile.Positive) }, `1:9: a[1]: is -2, want a number above 0`},
		{`a = []`, func(t *tomlfile.Table) { t.NumberLists("a", 5, 1, tomlfile.Any) }, `1:1: a: is a list of 0, want a list of 1 to 5 lists of numbers`},
		{`a = [1]`, func(t *tomlfile.Table) { t.NumberLists("a", 5, 1, tomlfile.Any) }, `1:6: a[0]: is 1, want a list of 1 numbers`},
		{`a = [[1], [true]]`, func(t *tomlfile.Table) { t.NumberLists("a", 5, 1, tomlfile.Any) }, `1:12: a[1][0]: is true, want any number`},

		{``, func(t *tomlfile.Table) { t.Missing("a", "a length") }, `1:1: a: is missing, want a length`},
		{"\n[b]", func(t *tomlfile.Table) { t.Table("b").Missing("a", "a length") }, `2:2: b.a: is missing, want a length`},
		{`a = 1`, func(t *tomlfile.Table) {
			t.Text("b")
			t.Fault("a", "is odd", "an even one")
			t.Number("a", tomlfile.Any)
		}, `1:5: a: is odd, want an even one`},
		{`lengh = 1`, func(t *tomlfile.Table) { t.Number("length", tomlfile.Any) }, `1:9: lengh: is not a known key, want length, perhaps`},
		{`postions = 1`, func(t *tomlfile.Table) { t.Has("positions") }, `1:12: postions: is not a known key, want positions, perhaps`},
		{`colour = 1`, func(t *tomlfile.Table) { t.Number("x", tomlfile.Any); t.Text("name") }, `1:10: colour: is not a known key, want one of name, x`},
		{`positions = 1`, func(t *tomlfile.Table) { t.Has("positions"); t.Text("name") }, `1:13: positions: is not a known key, want one of name`},
	} {
		file := tomlfile.Read("a.toml", []byte(c.text))
		c.ask(file.Root())
		file.Root().Done()
		assert.EqualError(t, file.Err(), "a.toml:"+c.want, c.text)
	}
}

func TestGoodValues(t *testing.T) {
	file := tomlfile.Read("a.toml", []byte(`
n = 2
x = 2.5
s = " dock "
w = "metric"
no = false
pair = [1, 2.5]
list = [[1, 2], [3, 4, 5]]
[sub]
[[many]]
k = 1
[[many]]
k = 2
`))
	root := file.Root()
	count, ok := root.Count("n", 1, 9)
	assert.True(t, ok)
	assert.Equal(t, 2, count)
	whole, ok := root.Number("n", tomlfile.Any)
	assert.True(t, ok, "a whole number is a number")
	assert.Equal(t, 2.0, whole)
	x, ok := root.Number("x", tomlfile.Between(2.5, 2.5))
	assert.True(t, ok)
	assert.Equal(t, 2.5, x)
	s, ok := root.Text("s")
	assert.True(t, ok)
	assert.Equal(t, " dock ", s)
	w, ok := root.Word("w", "imperial", "metric")
	assert.True(t, ok)
	assert.Equal(t, "metric", w)
	no, ok := root.Bool("no")
	assert.True(t, ok)
	assert.False(t, no)
	pair, ok := root.Numbers("pair", 1, tomlfile.Any, tomlfile.Positive, tomlfile.Any)
	assert.True(t, ok)
	assert.Equal(t, []float64{1, 2.5}, pair)
	lists, ok := root.NumberLists("list", 2, 2, tomlfile.Any, tomlfile.Any, tomlfile.Any)
	assert.True(t, ok)
	assert.Equal(t, [][]float64{{1, 2}, {3, 4, 5}}, lists)
	assert.True(t, root.Table("sub").Exists())
	many := root.Tables("many", 2)
	require.Len(t, many, 2)
	k, ok := many[1].Count("k", 0, 9)
	assert.True(t, ok)
	assert.Equal(t, 2, k)
	many[0].Count("k", 0, 9)
	for _, table := range append(many, root, root.Table("sub")) {
		table.Done()
	}
	require.NoError(t, file.Err())
}

// What is absent is not a fault, and has no keys.
func TestAbsent(t *testing.T) {
	file := tomlfile.Read("a.toml", nil)
	root := file.Root()
	sub := root.Table("a").Table("b")
	assert.False(t, sub.Exists())
	assert.False(t, sub.Has("x"))
	assert.Empty(t, sub.Tables("t", 1))
	_, isText := sub.Text("s")
	_, isWord := sub.Word("w", "x")
	_, isBool := sub.Bool("b")
	_, isNumber := sub.Number("x", tomlfile.Any)
	_, isCount := sub.Count("n", 0, 1)
	_, areNumbers := sub.Numbers("l", 1, tomlfile.Any)
	_, areLists := sub.NumberLists("ll", 1, 1, tomlfile.Any)
	assert.Equal(t, make([]bool, 7), []bool{isText, isWord, isBool, isNumber, isCount, areNumbers, areLists})
	sub.Missing("x", "no fault: the table is missing, and that is said once")
	sub.Done()
	require.NoError(t, file.Err())
}

// An empty file is not a broken one: all that is missing is told, not only the first.
func TestAllThatIsMissing(t *testing.T) {
	file := tomlfile.Read("a.toml", []byte("# nothing\n"))
	file.Root().Missing("room", "a room")
	file.Root().Missing("layout", "a layout")
	assert.False(t, file.Broken())
	require.EqualError(t, file.Err(), "a.toml:1:1: room: is missing, want a room\na.toml:1:1: layout: is missing, want a layout")
}

// Whatever is asked of whatever text, nothing panics and every fault has a place in the file.
func FuzzRead(f *testing.F) {
	for _, seed := range []string{text, "", "a = ", "[a]\n[a.b]\n[[a.c]]\n", "a = [[1, 2], [3]]\n", "\xef\xbb\xbfa = 1", "a.\"b.c\" = {d = [{e = 1}, 2]}\n",
		"a = \"\"\"\nx\n\"\"\"\nb = '''\n'''\n", "a = 1e400\nb = 99999999999999999999\n", "a = [\n# c\n1,\n]\n", "[[a]]\n[[a.b]]\n[a.b.c]\nx = 07:32:00\n", "a = 1\r\n[a b]",
		"[room]\nlength = 36.\n,", "\xff\xfea\x00"} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		file := tomlfile.Read("a.toml", data)
		lines := strings.Count(string(data), "\n") + 1
		for _, key := range []string{"title", "a", "room", "racks", "x"} {
			ask(file.Root(), key, 2)
		}
		file.Root().Done()
		for _, fault := range file.Faults {
			if fault.Pos.File != "a.toml" || fault.Pos.Line < 1 || fault.Pos.Line > lines || fault.Pos.Column < 1 {
				t.Fatalf("%s is not in a file of %d lines", fault, lines)
			}
		}
		// What breaks a file is noted last, behind the slips that were read over, and nothing is asked of it any more.
		last := ""
		if n := len(file.Faults); n > 0 {
			last = file.Faults[n-1].Want
		}
		if file.Broken() != (strings.HasPrefix(last, "TOML") || last == "fewer" || last == diag.WantUTF8) {
			t.Fatalf("broken %v: %s", file.Broken(), file.Faults)
		}
	})
}

// ask asks for a key in every way, and so for the keys of the tables under it.
func ask(t *tomlfile.Table, key string, depth int) {
	t.Number(key, tomlfile.Fraction)
	t.Count(key, 0, 1)
	t.Text(key)
	t.Word(key, "a", "b")
	t.Bool(key)
	t.Numbers(key, 1, tomlfile.Any, tomlfile.Positive)
	t.NumberLists(key, 3, 1, tomlfile.Any, tomlfile.NotNegative)
	if !t.Has(key) {
		t.Missing(key, "something")
	}
	if depth == 0 {
		return
	}
	for _, sub := range append(t.Tables(key, 3), t.Table(key)) {
		for _, k := range []string{"a", "b", "c", "length", "repeat"} {
			ask(sub, k, depth-1)
		}
		sub.Done()
	}
}

func TestFaultsAreDiagnostics(t *testing.T) {
	file := tomlfile.Read("a.toml", []byte("b = 1\na = 0\n"))
	file.Root().Number("a", tomlfile.Positive)
	file.Root().Number("b", tomlfile.Between(2, 3))
	var faults diag.List
	require.ErrorAs(t, file.Err(), &faults)
	require.Len(t, faults, 2)
	assert.Equal(t, &diag.Error{Pos: diag.Pos{File: "a.toml", Line: 1, Column: 5}, Key: "b", Wrong: "is 1", Want: "a number from 2 to 3"}, faults[0], "in file order")
}

// What a file may hold is bounded, so that none takes time or memory out of proportion: the most that is read, and the first that is not.
func TestBounds(t *testing.T) {
	keys := func(n int) string {
		var b strings.Builder
		for i := range n {
			fmt.Fprintf(&b, "a%d = 1\n", i)
		}
		return b.String()
	}
	tables := func(n int) string {
		var b strings.Builder
		for i := range n {
			fmt.Fprintf(&b, "[a%d]\n", i)
		}
		return b.String()
	}
	for name, c := range map[string]struct{ text, want string }{
		"keys":                  {keys(1000), ""},
		"a key more":            {keys(1001), "a.toml:1001:1: more than 1000 keys in one table, want fewer"},
		"keys without number":   {keys(1_000_000), "a.toml:1001:1: more than 1000 keys in one table, want fewer"},
		"tables":                {tables(1000), ""},
		"a table more":          {tables(1001), "a.toml:1001:2: more than 1000 keys in one table, want fewer"},
		"keys of a table":       {"[b]\n" + keys(1000) + "[c]\n" + keys(1000), ""},
		"keys in a line":        {"b = {" + strings.ReplaceAll(keys(1001), "\n", ", ") + "z = 1}", "a.toml:1:9896: more than 1000 keys in one table, want fewer"},
		"dotted keys":           {strings.ReplaceAll(keys(1001), "a", "b.a"), "a.toml:1001:3: more than 1000 keys in one table, want fewer"},
		"elements":              {strings.Repeat("[[b]]\nc = 1\n", 20_000), ""},
		"values":                {"a = [" + strings.Repeat("1,", 999_999) + "]", ""},
		"a value more":          {"a = [" + strings.Repeat("1,", 1_000_000) + "]", "a.toml:1:2000004: more than 1000000 values, want fewer"},
		"values without number": {"a = [" + strings.Repeat("1,", 5_000_000) + "]", "a.toml:1:2000007: more than 1000000 values, want fewer"},
	} {
		if strings.Contains(name, "value") && !longtest.On() {
			continue // seconds
		}
		err := tomlfile.Read("a.toml", []byte(c.text)).Err() // where a bound is missing, this takes hours
		if c.want == "" {
			assert.NoError(t, err, name)
			continue
		}
		assert.EqualError(t, err, c.want, name)
	}
}

// Of faults without number, and of words, a person is told some.
func TestListsEnd(t *testing.T) {
	file := tomlfile.Read("a.toml", []byte("x = ["+strings.Repeat("-1, ", 1000)+"]\ny = \"z\"\n"))
	rules := slices.Repeat([]tomlfile.Rule{tomlfile.Positive}, 1000)
	file.Root().Numbers("x", 1, rules...)
	file.Root().Word("y", "a")
	file.Root().Done()
	var faults diag.List
	require.ErrorAs(t, file.Err(), &faults)
	require.Len(t, faults, 201)
	assert.EqualError(t, faults[199], "a.toml:1:802: x[199]: is -1, want a number above 0")
	assert.EqualError(t, faults[200], "a.toml:1:802: 801 more faults are not listed")

	var words []string
	for i := range 52 {
		words = append(words, fmt.Sprintf("w%d", i))
	}
	file = tomlfile.Read("a.toml", []byte(`y = "zzz"`))
	file.Root().Word("y", words...)
	assert.EqualError(t, file.Err(), `a.toml:1:5: y: "zzz" is not known, want one of `+strings.Join(words[:50], ", ")+" and 2 more")
}

// However deep a file is nested, reading it takes little time, and says where.
func TestDeepNesting(t *testing.T) {
	for text, want := range map[string]string{
		"a = 1\nx = " + strings.Repeat("[", 200_000) + strings.Repeat("]", 200_000):        "a.toml:2:10005: arrays and inline tables are nested more than the maximum of 10000 levels deep, want TOML, one key = value a line",
		"x = " + strings.Repeat("{a = ", 9_000) + "1" + strings.Repeat("}", 9_000):         "a.toml:1:251: more than 50 tables or lists in each other, want fewer",
		strings.Repeat("a.", 500_000) + "a = 1":                                            "a.toml:1:101: more than 50 tables or lists in each other, want fewer",
		"\n[" + strings.Repeat("a.", 500_000) + "a]":                                       "a.toml:2:102: more than 50 tables or lists in each other, want fewer",
		"x = " + strings.Repeat("[", 51) + strings.Repeat("]", 51):                         "a.toml:1:1: more than 50 tables or lists in each other, want fewer",
		strings.Repeat("[["+strings.Repeat("a.", 49)+"a]]\n", 1) + "x.y = " + "[[{z=[]}]]": "",
	} {
		started := time.Now()
		err := tomlfile.Read("a.toml", []byte(text)).Err()
		assert.Less(t, time.Since(started), 5*time.Second)
		if want == "" {
			assert.NoError(t, err)
			continue
		}
		assert.EqualError(t, err, want)
	}
}
