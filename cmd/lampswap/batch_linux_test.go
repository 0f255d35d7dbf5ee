package main

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/cmd/lampswap/internal/build"
	"lampswap/cmd/lampswap/internal/exit"
)

// A batch whose disk is full after some jobs goes on after them once there is space, and ends with the bytes of an undisturbed one.
func TestBatchGoesOnAfterAFullDisk(t *testing.T) {
	folder, out := sites(t, 6), t.TempDir()
	whole, output := filepath.Join(out, "whole.jsonl"), filepath.Join(out, "out.jsonl")
	command(t, exit.WrongInput, "batch", folder, "-o", whole)
	line := "batch " + folder + " --output " + output
	c := childIn(t, out, "lampswap-short-of-space", line).with(fileBytes, len(fileText(t, whole))/2)
	assert.Equal(t, exit.Failed, c.run(t))
	assert.Contains(t, c.err.String(), "\nlampswap: "+output+".part: file too large; what is done is kept in "+output+".part: the same command goes on from there\n")
	assert.Equal(t, []string{"out.jsonl.part", "whole.jsonl"}, names(t, out))
	kept := strings.Count(fileText(t, output+".part"), "\n")
	require.NotZero(t, kept)
	_, stderr := command(t, exit.WrongInput, wordsOf(line)...)
	assert.Contains(t, stderr, fmt.Sprintf("going on after %d of 8 jobs", kept))
	assert.Equal(t, fileText(t, whole), fileText(t, output))
	assert.Equal(t, []string{"out.jsonl", "whole.jsonl"}, names(t, out))
}

// Lines of another build do not hold, though neither has a version of its own: the file of this program with a byte more is another.
func TestBatchKeepsNoLinesOfAnotherBuild(t *testing.T) {
	folder, out := sites(t, 2), t.TempDir()
	first, output := filepath.Join(out, "first.jsonl"), filepath.Join(out, "out.jsonl")
	command(t, exit.WrongInput, "batch", folder, "-o", first)
	part := func() { require.NoError(t, os.WriteFile(output+".part", []byte(fileText(t, first)), 0o644)) }
	line := "batch " + folder + " --output " + output

	part()
	_, stderr := command(t, exit.WrongInput, wordsOf(line)...)
	assert.Contains(t, stderr, "going on after 4 of 4 jobs")
	assert.Equal(t, fileText(t, first), fileText(t, output))

	part()
	c := childIn(t, out, "lampswap", line)
	other := filepath.Join(t.TempDir(), "lampswap")
	require.NoError(t, os.WriteFile(other, []byte(fileText(t, c.Path)+"\x00"), 0o755))
	c.Path = other
	assert.Equal(t, exit.WrongInput, c.run(t))
	assert.NotContains(t, c.err.String(), "going on")
	again := fileText(t, output)
	assert.NotContains(t, again, build.Version())
	assert.Equal(t, fileText(t, first), regexp.MustCompile(`"version":"[^"]*"`).ReplaceAllString(again, `"version":"`+build.Version()+`"`))
}
