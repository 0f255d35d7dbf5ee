package main

import (
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/cmd/lampswap/internal/exit"
	"lampswap/cmd/lampswap/internal/stations"
	"lampswap/photometry/longtest"
)

// A tree is all that is in a folder, by its path from there: the content of files; folders end with a slash.
type tree map[string]string

func treeOf(t *testing.T, folder string) tree {
	t.Helper()
	all := tree{}
	require.NoError(t, filepath.WalkDir(folder, func(path string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		name, err := filepath.Rel(folder, path)
		switch {
		case err != nil || name == ".":
		case entry.IsDir():
			all[name+"/"] = ""
		default:
			var text []byte
			text, err = os.ReadFile(path)
			all[name] = string(text)
		}
		return err
	}))
	return all
}

// same wants a tree to be another, and tells what differs by name alone: much of it is no text.
func (a tree) same(t *testing.T, b tree) {
	t.Helper()
	for name, text := range a {
		got, there := b[name]
		assert.True(t, there, "%s is not there", name)
		assert.True(t, !there || got == text, "%s is other than it should be, %d bytes in place of %d", name, len(got), len(text))
	}
	for name := range b {
		assert.Contains(t, slices.Collect(maps.Keys(a)), name)
	}
}

// withoutPart is a tree less the lines that a batch keeps to go on with.
func (a tree) withoutPart() tree {
	a = maps.Clone(a)
	delete(a, "sites.jsonl.part")
	return a
}

// withoutStagings is a tree less what processes were writing when they were killed.
func (a tree) withoutStagings() tree {
	a = maps.Clone(a)
	maps.DeleteFunc(a, func(name, _ string) bool { return strings.Contains(name, ".lampswap-") })
	return a
}

// An undertaking is one of the writers with all that it makes, by the paths from its folder.
type undertaking struct {
	line string
	made tree
	once sync.Once
}

// undertakings are all of the writers; where there is little time, a file, a folder, lines that are kept, and what overwrites nothing.
var undertakings = sync.OnceValue(func() []*undertaking {
	var all []*undertaking
	for _, line := range writers {
		if !longtest.On() && !slices.Contains([]string{"check.csv", "pages", "sites.jsonl", "begun.toml"}, target(line)) {
			continue
		}
		all = append(all, &undertaking{line: line})
	}
	return all
})

// begins begins a test of an undertaking, beside those of others, with what it makes when nothing happens.
func (u *undertaking) begins(t *testing.T) {
	t.Helper()
	t.Parallel()
	u.once.Do(func() {
		folder := workplace(t)
		before := treeOf(t, folder)
		c := childIn(t, folder, "lampswap", u.line)
		require.LessOrEqual(t, c.run(t), exit.NotMet, c.err.String())
		u.made = treeOf(t, folder)
		maps.DeleteFunc(u.made, func(name, _ string) bool { _, was := before[name]; return was })
	})
	require.NotEmpty(t, u.made)
}

// overwrites tells whether there may be something before that it writes.
func (u *undertaking) overwrites() bool { return !strings.HasPrefix(u.line, "new ") }

// withOld is a workplace where something else has every name that is to be written.
func (u *undertaking) withOld(t *testing.T) string {
	t.Helper()
	folder := workplace(t)
	for _, name := range slices.Sorted(maps.Keys(u.made)) {
		path := filepath.Join(folder, name)
		if strings.HasSuffix(name, "/") {
			require.NoError(t, os.Mkdir(path, 0o755))
		} else if u.overwrites() {
			text := "the old " + name
			if filepath.Base(name) == stations.FormName {
				text = "station,reading_fc\nold,\n" // what has readings, or is no form, is not replaced
			}
			require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
		}
	}
	return folder
}

// failed wants a failure that names the file, or the folder, and why; nothing is said to be written.
func (u *undertaking) failed(t *testing.T, c *child, why string) {
	t.Helper()
	assert.Equal(t, exit.Failed, c.ProcessState.ExitCode())
	assert.Regexp(t, `^lampswap: `+regexp.QuoteMeta(target(u.line))+`(\.part|/[^:/]+)?: `+why, c.err.String())
	assert.Equal(t, 1, strings.Count(c.err.String(), "\n"), c.err.String())
	assert.Empty(t, c.out.String())
}

// finishes wants a command line to come to the end where another was stopped, with nothing left over.
func (u *undertaking) finishes(t *testing.T, folder string) {
	t.Helper()
	c := childIn(t, folder, "lampswap", u.line)
	require.LessOrEqual(t, c.run(t), exit.NotMet, c.err.String())
	u.whole(t).same(t, treeOf(t, folder))
}

// whole is a workplace where all is made.
func (u *undertaking) whole(t *testing.T) tree {
	t.Helper()
	all := treeOf(t, workplace(t))
	maps.Copy(all, u.made)
	return all
}

// stagings are the folders in a workplace in which files are being written, or were when a process was killed.
func (u *undertaking) stagings(folder string) []string {
	var found []string
	for _, pattern := range []string{".lampswap-*", target(u.line) + "/.lampswap-*"} {
		all, _ := filepath.Glob(filepath.Join(folder, pattern)) // the pattern is sound
		found = append(found, all...)
	}
	return found
}

// whenWriting waits until a child has begun to write, and a little longer; false if it has ended by then. Known are the stagings of others.
func (u *undertaking) whenWriting(folder string, known []string, more time.Duration, ended <-chan struct{}) bool {
	isNew := func(name string) bool { return !slices.Contains(known, name) }
	for !slices.ContainsFunc(u.stagings(folder), isNew) {
		select {
		case <-ended:
			return false
		case <-time.After(20 * time.Microsecond):
		}
	}
	time.Sleep(more)
	return true
}
