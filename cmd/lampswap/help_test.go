package main

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/cmd/lampswap/internal/exit"
	"lampswap/cmd/lampswap/internal/terminal"
	"lampswap/photometry/catalog"
	"lampswap/photometry/fixture"
	"lampswap/photometry/levels"
	"lampswap/photometry/spaces"
)

// fitsTerminal runs a command and holds every line that it writes to the width of a terminal.
func fitsTerminal(t *testing.T, want int, args ...string) string {
	t.Helper()
	var stdout, stderr bytes.Buffer
	require.Equal(t, want, run(args, strings.NewReader(""), &stdout, &stderr), "%v: %s", args, stderr.String())
	require.NotEmpty(t, stdout.String(), args)
	for line := range strings.Lines(stdout.String()) {
		line = strings.TrimSuffix(line, "\n")
		assert.LessOrEqual(t, utf8.RuneCountInString(line), terminal.Width, "%v: %s", args, line)
	}
	return stdout.String()
}

// everyCommand lists the command and all below it by their words.
func everyCommand(c *cobra.Command, words []string) [][]string {
	all := [][]string{words}
	for _, below := range c.Commands() {
		all = append(all, everyCommand(below, append(slices.Clone(words), below.Name()))...)
	}
	return all
}

func TestHelpFitsTheTerminal(t *testing.T) {
	commands := everyCommand(newRoot(), nil)
	require.Greater(t, len(commands), 12)
	for _, words := range commands {
		help := fitsTerminal(t, exit.Done, append(words, "--help")...)
		assert.Contains(t, help, "\nUsage:\n  lampswap ", words)
		assert.Contains(t, help, "\nFlags:\n", words)
		assert.NotContains(t, help, "(default )", words)
		assert.NotContains(t, help, "true|false", words)
		assert.Regexp(t, `(?m)^  -h, --help +\w`, help, words)
		assert.NotContains(t, help, "NaN", words)
		assert.NotContains(t, help, " \n", words)
	}
}

// Alone, the command says on one screen what it does for whom, and the first three commands to try.
func TestAloneItFitsOneScreen(t *testing.T) {
	screen := fitsTerminal(t, exit.Done)
	assert.LessOrEqual(t, strings.Count(screen, "\n"), 23, "a terminal of 24 lines shows the prompt too")
	_, tries, found := strings.Cut(screen, "\nTry first:\n")
	require.True(t, found)
	assert.Equal(t, 3, strings.Count(tries, "\n  lampswap ")+1)
	for _, who := range []string{"designer", "contractor", "inspector"} {
		assert.Contains(t, screen, who)
	}
}

// A flag that is written wrong by one letter brings up the right one, in every command.
func TestMisspeltFlagsBringUpTheRight(t *testing.T) {
	for _, c := range newRoot().Commands() {
		c.Flags().VisitAll(func(f *pflag.Flag) {
			middle := len(f.Name) / 2
			wrong := "--" + f.Name[:middle] + "q" + f.Name[middle:]
			var stdout, stderr bytes.Buffer
			assert.Equal(t, exit.WrongInput, run([]string{c.Name(), wrong}, strings.NewReader(""), &stdout, &stderr))
			assert.Contains(t, stderr.String(), "(--"+f.Name+"?)", c.Name())
		})
	}
}

// What a command does is told whole, however it is wrapped.
func TestHelpLosesNoWord(t *testing.T) {
	words := func(s string) string { return strings.Join(strings.Fields(strings.ReplaceAll(s, " \\\n", "\n")), " ") }
	for _, c := range newRoot().Commands() {
		help := words(fitsTerminal(t, exit.Done, c.Name(), "--help"))
		about := c.Long
		if about == "" {
			about = c.Short
		}
		assert.Contains(t, help, words(about), c.Name())
		assert.Contains(t, help, words(c.Example), c.Name())
	}
}

func TestReflowed(t *testing.T) {
	long := strings.Repeat("word ", 17) + "end" // 88 letters
	assert.Equal(t, "as it\nwas set\n\n  name   value\n  other  value", reflowed("as it\nwas set\n\n  name   value\n  other  value\n"))
	assert.Equal(t, strings.TrimSpace(strings.Repeat("word ", 16))+"\nword end next\n  kept", reflowed(long+"\nnext\n  kept"))
	assert.Equal(t, "  "+strings.TrimSpace(strings.Repeat("word ", 15))+"\n  word word end", reflowed("  "+long))
}

func TestContinued(t *testing.T) {
	assert.Equal(t, "  lampswap check", continued("  lampswap check"))
	line := "  lampswap verify dock.toml stations.csv --meter-class B --hours-burnt 120 --warm-up-minutes 40"
	broken := continued(line)
	assert.Equal(t, "  lampswap verify dock.toml stations.csv --meter-class B --hours-burnt 120 \\\n      --warm-up-minutes 40", broken)
	word := "  " + strings.Repeat("x", 90)
	assert.Equal(t, word, continued(word), "a word is not broken")
}

// A job with a replacement, whose legend is the longest, and a level that nothing meets.
const replaced = `title = "replaced"
[room]
length = 40.0
width = 30.0
height = 12.0
[layout]
mounting_height = 10.0
rows = 3
columns = 3
[existing]
fixture = "strip-4in"
lamp = "F40T12"
lamps = 2
ballast = "magnetic"
[proposed]
fixture = "strip-4in"
lamp = "F32T8/800"
lamps = 2
ballast = "is-low"
[replacement]
fixture = "strip-4in"
lamp = "F32T8/HL"
lamps = 2
ballast = "is-normal"
[calculation]
spacing = 5.0
interreflection = false
[energy]
price_per_kwh = 0.12
[[criteria]]
name = "enough"
at_least = 10.0
[[criteria]]
name = "out of reach"
at_least = 300.0
`

func TestListsFitTheTerminal(t *testing.T) {
	tag := func(text string) {
		for _, raw := range []string{"memory-moderate", "memory-low", "seen-secondhand"} {
			assert.NotContains(t, text, raw)
		}
	}
	tag(fitsTerminal(t, exit.Done, "lamps"))
	for _, lamp := range catalog.LampNames() {
		tag(fitsTerminal(t, exit.Done, "lamps", lamp))
	}
	tag(fitsTerminal(t, exit.Done, "levels"))
	for _, level := range levels.Names() {
		tag(fitsTerminal(t, exit.Done, "levels", level))
	}
	fitsTerminal(t, exit.Done, "levels", "--spaces")
	for _, space := range spaces.IDs() {
		tag(fitsTerminal(t, exit.Done, "levels", "--spaces", space))
		tag(fitsTerminal(t, exit.Done, "levels", space))
	}
	for _, section := range fixture.Builtin() {
		fitsTerminal(t, exit.Done, "fixture", section, "--lamp", "F96T12")
	}
	path := filepath.Join(t.TempDir(), "replaced.toml")
	require.NoError(t, os.WriteFile(path, []byte(replaced), 0o600))
	tag(fitsTerminal(t, exit.NotMet, "options", "--all", path))
	assert.Contains(t, fitsTerminal(t, exit.NotMet, "check", "--full", path), "missed", "the widest cell of the column of what is required")
}

// Where nothing meets every criterion, the row that the sentence calls the nearest is in the table, and the legend tells what a digit means and
// what the cost holds.
func TestOptionsShowTheNearest(t *testing.T) {
	path := filepath.Join(t.TempDir(), "replaced.toml")
	require.NoError(t, os.WriteFile(path, []byte(replaced), 0o600))
	out := fitsTerminal(t, exit.NotMet, "options", path)
	sentence, table, found := strings.Cut(out, "\n\n")
	require.True(t, found)
	nearest, _, found := strings.Cut(strings.Join(strings.Fields(strings.TrimPrefix(sentence, "Nothing meets every criterion. The nearest: ")), " "), " (")
	require.True(t, found)
	lamps, ballast, found := strings.Cut(nearest, " on ")
	require.True(t, found)
	assert.Regexp(t, `(?m)^\*? *`+lamps+` +`+ballast+` .* 2\w*$`, table)
	assert.Contains(t, out, "- a digit: the criterion of that number is missed\n")
	assert.Contains(t, out, "\nPower, cost a year: energy and demand, as far as priced; upkeep not counted.\n")
	assert.NotContains(t, runOptions(t, exit.Done), "a digit:", "no row there misses anything")
}
