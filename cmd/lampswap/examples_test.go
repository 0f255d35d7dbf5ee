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
	"strings"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/cmd/lampswap/internal/exit"
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

// Every example of every help works as it is printed, one after the other in an empty folder. Only a help that tells of exit code 1 may have
// examples that end with it.
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
