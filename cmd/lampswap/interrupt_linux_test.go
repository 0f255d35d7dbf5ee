package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/cmd/lampswap/internal/exit"
)

// slowSite is an invented site that takes minutes: the light of many luminaires goes through many racks to many points.
const slowSite = `title = "slow site"
units = "metric"
[room]
length = 120.0
width = 80.0
height = 8.0
[layout]
mounting_height = 7.5
rows = 12
columns = 20
[existing]
photometry = "strip.ies"
input_watts = 60.0
[proposed]
photometry = "strip.ies"
input_watts = 50.0
[calculation]
spacing = 0.5
[[racks]]
corner = [5.0, 5.0]
size = [100.0, 2.0, 5.0]
transmittance = 0.3
repeat = { count = 12, step = [0.0, 6.0] }
`

// Ctrl-C at work: every command that can take long ends soon, with code 3 and a word that nothing is written, and so it is.
func TestCtrlCAtWork(t *testing.T) {
	done := map[string]bool{"fixture": true, "man": true, "new": true, "stations": true} // which take no time
	for _, line := range writers {
		command := wordsOf(line)[0]
		if done[command] {
			continue
		}
		done[command] = true
		t.Run(command, func(t *testing.T) {
			t.Parallel()
			line := strings.Replace(line, "verify ", "verify --plan survey ", 1) // racks would ask for another
			made := tree{target(line): ""}
			if command == "plot" || command == "verify" { // a file in the place of their folder is refused before the work
				made = tree{}
			}
			u := undertaking{line: line, made: made}
			folder := u.withOld(t)
			require.NoError(t, os.WriteFile(filepath.Join(folder, "site.toml"), []byte(slowSite), 0o644))
			before := treeOf(t, folder)
			c := childIn(t, folder, "lampswap", line)
			require.NoError(t, c.Start())
			const busy = 300 * time.Millisecond // to start takes less
			for begun := time.Now(); workOf(t, c.Process.Pid) < busy && time.Since(begun) < time.Minute; {
				time.Sleep(5 * time.Millisecond)
			}
			require.NoError(t, c.Process.Signal(syscall.SIGINT))
			assert.Equal(t, exit.Failed, c.end(t))
			said := "lampswap: interrupted, nothing written\n"
			if command == "batch" {
				said = "lampswap: interrupted; what is done is kept in sites.jsonl.part: the same command goes on from there\n"
			}
			assert.Equal(t, said, c.err.String())
			assert.Empty(t, c.out.String())
			before.same(t, treeOf(t, folder).withoutPart())
		})
	}
}

// workOf is the processor time that a process took so far.
func workOf(t *testing.T, pid int) time.Duration {
	t.Helper()
	text, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", pid))
	require.NoError(t, err)
	fields := strings.Fields(string(text[strings.LastIndexByte(string(text), ')')+1:])) // the first is field 3 of proc(5)
	var ticks int
	for _, field := range fields[14-3 : 14-3+2] { // user and system time
		n, err := strconv.Atoi(field)
		require.NoError(t, err)
		ticks += n
	}
	const perSecond = 100 // what the kernel tells user space
	return time.Duration(ticks) * time.Second / perSecond
}
