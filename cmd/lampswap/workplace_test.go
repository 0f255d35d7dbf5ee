package main

import (
	"bytes"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/cmd/lampswap/internal/exit"
	"lampswap/cmd/lampswap/internal/jobs"
)

// writers are command lines that write files, one a kind of file, in a workplace. The last word is the file or the folder that they write, and
// nothing in a workplace has that name.
var writers = []string{
	"check site.toml --format text --output check.txt",
	"check site.toml --format json --points --output check.json",
	"check site.toml --format csv --output check.csv",
	"check site.toml --format csv --grid work~plane --output plane.csv",
	"check site.toml --format xlsx --output check.xlsx",
	"options site.toml --lamp F32T8 --plot front.png",
	"options site.toml --lamp F32T8 --plot front.svg",
	"options site.toml --lamp F32T8 --plot front.pdf",
	"plot site.toml --width 3 --output maps",
	"proposal site.toml --output proposal.pdf",
	"proposal site.toml --output proposal.html",
	"stations site.toml --output survey",
	"verify site.toml readings.csv --meter-class A --output found",
	"fixture tilted.ies --output tilted.png",
	"fixture tilted.ies --output tilted.svg",
	"fixture tilted.ies --output tilted.pdf",
	"fixture --section shop.toml --output shop.ies",
	"batch site.toml --output sites.jsonl",
	"man pages",
	"new begun.toml",
}

// wordsOf are the words of a command line: blanks part them, and a ~ is a blank within one.
func wordsOf(line string) []string {
	words := strings.Fields(line)
	for i := range words {
		words[i] = strings.ReplaceAll(words[i], "~", " ")
	}
	return words
}

// target is the file or the folder that one of the writers writes.
func target(line string) string {
	words := wordsOf(line)
	return words[len(words)-1]
}

// workplace is a folder with inputs of every kind, invented and quickly worked out: a job with the photometric file that it names, readings of
// it, a photometric file with its tilt file, and a cross-section.
func workplace(t *testing.T) string {
	t.Helper()
	folder := t.TempDir()
	write := func(name, text string) {
		require.NoError(t, os.WriteFile(filepath.Join(folder, name), []byte(text), 0o644))
	}
	strip, err := jobs.Demo.ReadFile("demo/strip-4x4ft-t8.ies")
	require.NoError(t, err)
	write("site.toml", quickSite(12, 4, false))
	write("strip.ies", string(strip))
	write("tilted.ies", strings.Replace(string(strip), "TILT=NONE", "TILT=lamp.tlt", 1))
	write("lamp.tlt", "1\n1\n0\n0.5\n")
	write("shop.toml", "name = \"shop\"\nunits = \"in\"\nluminous_length = 46.0\n[[arrangements]]\nlamps = [[0.0, 0.0]]\n")
	readings := "station,reading_lx\n"
	for name := range strings.FieldsSeq("r1 r2 r3 r4 r5 r6 r7 r8 q1 q2 q3 q4 t1 t2 t3 t4 p1 p2") {
		readings += name + ",300\n"
	}
	write("readings.csv", readings)
	return folder
}

// inputsOf are the names of all that is in a workplace that nobody has worked in.
func inputsOf(t *testing.T) []string {
	t.Helper()
	return names(t, workplace(t))
}

// work runs a command line in the folder that the test is in, and returns what it answers. It must be done, whatever its verdict.
func work(t *testing.T, line string) (stdout string) {
	t.Helper()
	var out, stderr bytes.Buffer
	code := run(wordsOf(line), strings.NewReader(""), &out, &stderr)
	require.LessOrEqual(t, code, exit.NotMet, "%s: %s", line, stderr.String())
	assert.Empty(t, stderr.String(), line)
	return out.String()
}

// filesAt are the files at a path, those of a folder too, by their names from the folder that the path is in.
func filesAt(t *testing.T, folder, path string) map[string][]byte {
	t.Helper()
	found := map[string][]byte{}
	err := filepath.WalkDir(filepath.Join(folder, path), func(at string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		name, err := filepath.Rel(folder, at)
		if err != nil {
			return err
		}
		found[filepath.ToSlash(name)], err = os.ReadFile(at)
		return err
	})
	if !os.IsNotExist(err) {
		require.NoError(t, err)
	}
	return found
}

// The writers are of every command that can write a file, and of every kind of file.
func TestWritersAreAll(t *testing.T) {
	var seen []string
	for _, line := range writers {
		seen = append(seen, strings.Fields(line)[0])
	}
	flags := []string{"output", "plot"}
	for _, c := range newRoot().Commands() {
		writes := slices.ContainsFunc(flags, func(name string) bool { return c.Flags().Lookup(name) != nil }) ||
			slices.Contains([]string{"man", "new"}, c.Name())
		assert.Equal(t, writes, slices.Contains(seen, c.Name()), c.Name())
	}
	assert.Empty(t, slices.DeleteFunc(inputsOf(t), func(name string) bool {
		return !slices.ContainsFunc(writers, func(line string) bool { return target(line) == name })
	}))
}
