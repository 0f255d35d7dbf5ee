package main

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A building of many spaces fits a terminal as one of few does: what is missed first, and lists cut off.
func TestManySpacesFitATerminal(t *testing.T) {
	t.Chdir(t.TempDir())
	var b strings.Builder
	b.WriteString("title = \"Row of sheds\"\nunits = \"imperial\"\n[kinds.strip]\nfixture = \"strip-4in\"\nlamp = \"F96T12\"\nlamps = 2\nballast = \"magnetic\"\n")
	for i := range 25 {
		fmt.Fprintf(&b, "[[spaces]]\nname = \"shed number %d, by the canal\"\n[spaces.room]\nlength = %d.0\nwidth = 20.0\nheight = 12.0\n[spaces.calculation]\nspacing = 5.0\ninterreflection = false\n", i+1, 30+i)
		fmt.Fprintf(&b, "[[spaces.groups]]\nname = \"all\"\nexisting = \"strip\"\nproposed = \"strip\"\ncount = 6\nmounting_height = 11.0\n"+
			"[[spaces.criteria]]\nname = \"owner\"\nstatistic = \"average\"\nat_least = %d.0\n", 5+2*i)
	}
	require.NoError(t, os.WriteFile("sheds.toml", []byte(b.String()), 0o644))
	said := work(t, "check sheds.toml")
	lines := strings.Split(strings.TrimRight(said, "\n"), "\n")
	assert.LessOrEqual(t, len(lines), 25)
	for _, line := range lines {
		assert.LessOrEqual(t, len([]rune(line)), 80, line)
	}
	assert.Regexp(t, `(?s)NOT ENOUGH.*NOT enough: shed.*….*missed\nand \d+ spaces more\n`, said)
	assert.Greater(t, strings.Count(work(t, "check sheds.toml -q"), "misses"), 8, "the verdict alone is whole")
}
