package main

import (
	"bufio"
	"bytes"
	"errors"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/cmd/lampswap/internal/exit"
	"lampswap/photometry/longtest"
)

// examplesOf are the examples in a help as they are printed, a command line each with the lines that go on with it.
func examplesOf(help string) []string {
	_, rest, _ := strings.Cut(help, "\nExamples:\n")
	block, _, _ := strings.Cut(rest, "\n\n")
	var all []string
	goesOn := false
	for line := range strings.SplitSeq(block, "\n") {
		if goesOn {
			all[len(all)-1] += "\n" + line
		} else if line != "" {
			all = append(all, line)
		}
		goesOn = strings.HasSuffix(line, `\`)
	}
	return all
}

// soon are the commands whose examples take next to no time.
var soon = []string{"completion", "fixture", "help", "lamps", "levels", "man", "new", "stations"}

// Every example of every help works as it is printed, one after the other in an empty folder. Only a help that tells of exit code 1 may have
// examples that end with it. Where there is little time, those that work jobs out are only looked at: their flags and words are known.
func TestExamplesWorkAsPrinted(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("the examples are for a shell")
	}
	for _, words := range everyCommand(newRoot(), nil) {
		var help, errs bytes.Buffer
		require.Equal(t, exit.Done, run(append(words, "--help"), strings.NewReader(""), &help, &errs), errs.String())
		t.Run(strings.Join(append([]string{"lampswap"}, words...), " "), func(t *testing.T) {
			t.Parallel()
			examples := examplesOf(help.String())
			assert.NotEmpty(t, examples)
			if !longtest.On() && (len(words) == 0 || !slices.Contains(soon, words[0])) {
				understood(t, examples)
				return
			}
			folder := t.TempDir()
			for _, line := range examples {
				switch {
				case strings.Contains(line, "# on site, write"):
					fillIn(t, filepath.Join(folder, "survey", "stations.csv"))
				case strings.Contains(line, "lampswap serve"):
					serves(t, folder, line)
				default:
					got := inShell(t, folder, line)
					assert.True(t, got == exit.Done || got == exit.NotMet && strings.Contains(help.String(), " 1: "), "%s: exit code %d", line, got)
				}
			}
		})
	}
}

// understood wants every example that calls lampswap to name a command, and flags that it has with values that they take.
func understood(t *testing.T, examples []string) {
	t.Helper()
	for _, line := range examples {
		line, _, _ = strings.Cut(strings.ReplaceAll(line, "\\\n", " "), "#")
		for _, part := range strings.FieldsFunc(line, func(r rune) bool { return strings.ContainsRune("|;&<>", r) }) {
			words := strings.Fields(strings.ReplaceAll(part, `"`, ""))
			if len(words) == 0 || words[0] != "lampswap" {
				continue
			}
			c, rest, err := newRoot().Find(words[1:])
			require.NoError(t, err, line)
			require.True(t, c.HasParent(), "%s: no command", line)
			assert.NoError(t, c.ParseFlags(rest), line)
		}
	}
}

// inShell runs a line and returns its exit code.
func inShell(t *testing.T, folder, line string) int {
	t.Helper()
	c := exec.CommandContext(t.Context(), "sh", "-c", line)
	var stderr bytes.Buffer
	c.Dir, c.Stderr = folder, &stderr
	err := c.Run()
	if _, ended := errors.AsType[*exec.ExitError](err); !ended {
		require.NoError(t, err, line)
	}
	assert.Empty(t, stderr.String(), line)
	return c.ProcessState.ExitCode()
}

// serves starts a page, waits until it says where it is, and ends it. It takes any port that is free: the usual one may be taken here.
func serves(t *testing.T, folder, line string) {
	t.Helper()
	c := exec.CommandContext(t.Context(), "sh", "-c", "exec "+strings.TrimSpace(line)+" --port 0")
	c.Dir = folder
	said, err := c.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, c.Start())
	address, err := bufio.NewReader(said).ReadString('\n')
	require.NoError(t, err, line)
	assert.Contains(t, address, "http://", line)
	require.NoError(t, c.Process.Signal(syscall.SIGINT))
	_, err = io.Copy(io.Discard, said)
	require.NoError(t, err)
	require.NoError(t, c.Wait(), line)
}

// fillIn writes invented readings into the form of a survey, as somebody on site would: 30 at every station.
func fillIn(t *testing.T, path string) {
	t.Helper()
	form, err := os.ReadFile(path)
	require.NoError(t, err)
	column := -1
	var out []string
	for line := range strings.Lines(string(form)) {
		cells := strings.Split(strings.TrimRight(line, "\r\n"), ",")
		switch {
		case strings.HasPrefix(line, "#"):
		case column < 0:
			for i, name := range cells {
				if strings.HasPrefix(name, "reading_") {
					column = i
				}
			}
			require.GreaterOrEqual(t, column, 0, line)
		default:
			cells[column] = "30"
		}
		out = append(out, strings.Join(cells, ","))
	}
	require.NoError(t, os.WriteFile(path, []byte(strings.Join(out, "\n")+"\n"), 0o600))
}
