package photometry_test

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Each row of the README's table of trust has a source, a measured number, and tests that exist and print one: of the words in code one without
// a capital is a package, any other a part of the name of a test in it.
func TestTableOfTrustNamesItsTests(t *testing.T) {
	readme, err := os.ReadFile("../README.md")
	require.NoError(t, err)
	_, rest, found := strings.Cut(string(readme), "\n| method | held against | source | deviation measured | test |\n| --- | --- | --- | --- | --- |\n")
	require.True(t, found)
	table, _, _ := strings.Cut(rest, "\n\n")
	rows := strings.Split(table, "\n")
	require.Greater(t, len(rows), 10)
	for _, row := range rows {
		cells := strings.Split(row, "|") // nothing before the first bar, nothing behind the last
		require.Len(t, cells, 7, row)
		assert.NotEmpty(t, strings.TrimSpace(cells[3]), row)
		assert.Regexp(t, `\d`, cells[4], row)
		var tests []string
		for _, word := range regexp.MustCompile("`[^`]+`").FindAllString(cells[5], -1) {
			if word = strings.Trim(word, "`"); word == strings.ToLower(word) {
				tests = testsOf(t, word)
				continue
			}
			printed := false
			for _, test := range tests {
				name, body, _ := strings.Cut(test, "(")
				printed = printed || strings.Contains(name, word) && regexp.MustCompile(`Logf\(\s*.*deviation`).MatchString(body)
			}
			assert.True(t, printed, "%s: no test of that name prints a deviation", word)
		}
	}
}

// testsOf are the tests of a package, each from its name on.
func testsOf(t *testing.T, name string) []string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(name, "*_test.go"))
	require.NoError(t, err)
	require.NotEmpty(t, files, name)
	var all []string
	for _, file := range files {
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		all = append(all, strings.Split(string(text), "\nfunc Test")[1:]...)
	}
	return all
}
