package main

import (
	"bytes"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"strings"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/cmd/lampswap/internal/exit"
	"lampswap/cmd/lampswap/internal/files"
)

// names are those of all that is in a folder.
func names(t *testing.T, folder string) []string {
	t.Helper()
	entries, err := os.ReadDir(folder)
	require.NoError(t, err)
	all := []string{}
	for _, e := range entries {
		all = append(all, e.Name())
	}
	return all
}

// mount puts a file system of its own, in memory, at a folder; the test is skipped where that is not allowed. TestNothingIsLostOnAFullDisk
// does without, and so runs everywhere.
func mount(t *testing.T, folder, options string) {
	t.Helper()
	if runtime.GOOS != "linux" || os.Geteuid() != 0 {
		t.Skip("needs Linux and its root to mount a small file system")
	}
	if text, err := exec.Command("mount", "-t", "tmpfs", "-o", options, "tmpfs", folder).CombinedOutput(); err != nil {
		t.Skipf("cannot mount a small file system: %s", text)
	}
	t.Cleanup(func() { require.NoError(t, exec.Command("umount", folder).Run()) })
}

// A disk that fills up: no half of a file, what was there stays, and the batch goes on once there is space.
func TestFullDisk(t *testing.T) {
	folder, disk := sites(t, 6), t.TempDir()
	mount(t, disk, "size=64k")
	output := filepath.Join(disk, "out.jsonl")
	_, stderr := command(t, exit.Failed, "batch", folder, "-o", output)
	assert.Contains(t, stderr, "\nlampswap: "+output+".part: no space left on device; what is done is kept in "+output+".part: the same command goes on from there\n")
	assert.Equal(t, []string{"out.jsonl.part"}, names(t, disk))

	maps := filepath.Join(disk, "maps")
	require.NoError(t, os.Mkdir(maps, 0o755))
	_, stderr = command(t, exit.Failed, "plot", "-o", maps)
	assert.Regexp(t, "^lampswap: "+regexp.QuoteMeta(maps)+"/[a-z0-9-]+\\.(png|svg|pdf): no space left on device\n$", stderr)
	assert.Empty(t, names(t, maps))
	large := filepath.Join(disk, "large")
	err := files.Write(large, make([]byte, 1<<20))
	assert.EqualError(t, err, large+": no space left on device")
	assert.NoFileExists(t, large)

	require.NoError(t, exec.Command("mount", "-o", "remount,size=16m", disk).Run())
	_, stderr = command(t, exit.WrongInput, "batch", folder, "-o", output)
	assert.Contains(t, stderr, "going on after ")
	whole := filepath.Join(t.TempDir(), "whole.jsonl")
	command(t, exit.WrongInput, "batch", folder, "-o", whole)
	assert.Equal(t, fileText(t, whole), fileText(t, output))
}

type fullDisk struct{}

func (fullDisk) Write([]byte) (int, error) { return 0, syscall.ENOSPC }

// An answer that cannot be written is a failure, whatever the command, and said once.
func TestAnAnswerIsNotLostInSilence(t *testing.T) {
	for _, args := range [][]string{{}, {"--help"}, {"--version"}, {"check", "--help"}, {"help", "options"}, {"lamps"}, {"lamps", "F96T12"}, {"levels"}, {"check"},
		{"check", "--format", "json"}, {"options"}, {"stations"}, {"fixture", "strip-4in", "--lamp", "F96T12"}, {"completion", "bash"}, {"completion", "zsh"}, {"completion", "fish"}, {"completion", "powershell"}} {
		var stderr bytes.Buffer
		assert.Equal(t, exit.Failed, run(args, nil, fullDisk{}, &stderr), "%v", args)
		assert.Equal(t, 1, strings.Count(stderr.String(), "no space left on device"), "%v: %s", args, stderr.String())
	}
}

// Files are written by the room of files alone, so that none is ever half written; the journal of a batch is appended to.
func TestOnlyOneWayToWrite(t *testing.T) {
	seen := 0
	err := filepath.WalkDir(".", func(path string, _ fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		own := strings.HasPrefix(filepath.ToSlash(path), "internal/files/") || filepath.ToSlash(path) == "internal/batch/journal.go"
		if filepath.Ext(path) != ".go" || strings.HasSuffix(path, "_test.go") || own {
			return nil
		}
		seen++
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		ast.Inspect(file, func(n ast.Node) bool {
			if s, ok := n.(*ast.SelectorExpr); ok {
				if x, ok := s.X.(*ast.Ident); ok && x.Name == "os" {
					assert.NotContains(t, []string{"Create", "CreateTemp", "WriteFile", "OpenFile"}, s.Sel.Name, "%s: os.%s", path, s.Sel.Name)
				}
			}
			return true
		})
		return nil
	})
	require.NoError(t, err)
	require.NotZero(t, seen)
}
