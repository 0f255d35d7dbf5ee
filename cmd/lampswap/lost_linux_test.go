package main

import (
	"errors"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync/atomic"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/cmd/lampswap/internal/exit"
)

// What is written is there whole or not at all, whatever happens meanwhile: every one of the writers is a process of its own here, to which it
// happens.

// A disk that is full, at the first byte or at the last: what was there stays as it was, and nothing else is there.
func TestNothingIsLostOnAFullDisk(t *testing.T) {
	for _, u := range undertakings() {
		t.Run(u.line, func(t *testing.T) {
			u.begins(t)
			largest := 0
			for _, text := range u.made {
				largest = max(largest, len(text))
			}
			for _, most := range []int{0, largest - 1} {
				folder := u.withOld(t)
				before := treeOf(t, folder)
				c := childIn(t, folder, "lampswap-short-of-space", u.line).with(fileBytes, most)
				c.run(t)
				u.failed(t, c, "file too large")
				before.same(t, treeOf(t, folder).withoutPart())
				if strings.HasPrefix(u.line, "batch ") {
					u.finishes(t, folder)
				}
			}
		})
	}
}

// A device takes what it can.
func TestNothingIsLostOnAFullDevice(t *testing.T) {
	folder := workplace(t)
	for _, format := range formats {
		c := childIn(t, folder, "lampswap", "check site.toml --format "+format+" --output /dev/full")
		assert.Equal(t, exit.Failed, c.run(t))
		assert.Equal(t, "lampswap: /dev/full: no space left on device\n", c.err.String())
		assert.Empty(t, c.out.String())
	}
}

// A folder that may not be written to, with the files there already and without: all stays as it was.
func TestNothingIsLostInAReadOnlyFolder(t *testing.T) {
	for _, u := range undertakings() {
		t.Run(u.line, func(t *testing.T) {
			u.begins(t)
			for _, folder := range []string{u.withOld(t), workplace(t)} {
				lock(t, folder)
				before := treeOf(t, folder)
				c := childIn(t, folder, "lampswap", u.line).unprivileged(t)
				c.starts(t)
				c.end(t)
				u.failed(t, c, "permission denied")
				before.same(t, treeOf(t, folder))
			}
		})
	}
}

// A kill or Ctrl-C while files are being written: each is the old one whole or the new one whole, and the next run leaves nothing else behind.
func TestNothingIsLostByAKill(t *testing.T) {
	var caught atomic.Int64 // in the act
	t.Cleanup(func() {
		t.Logf("%d kills came while something was being written", caught.Load())
		assert.NotZero(t, caught.Load())
	})
	for _, u := range undertakings() {
		t.Run(u.line, func(t *testing.T) {
			u.begins(t)
			folder := u.withOld(t)
			before := treeOf(t, folder)
			for i, signal := range []os.Signal{syscall.SIGKILL, syscall.SIGKILL, syscall.SIGINT} {
				if !u.overwrites() {
					require.NoError(t, os.RemoveAll(filepath.Join(folder, target(u.line))))
				}
				begun, known := treeOf(t, folder), u.stagings(folder)
				c := childIn(t, folder, "lampswap", u.line)
				require.NoError(t, c.Start())
				ended := make(chan struct{})
				go func() {
					_ = c.Wait() // with the kill
					close(ended)
				}()
				if u.whenWriting(folder, known, time.Duration(i)*300*time.Microsecond, ended) {
					_ = c.Process.Signal(signal) // it may have ended
				}
				<-ended
				if len(u.stagings(folder)) > 0 {
					caught.Add(1)
				}
				switch after := treeOf(t, folder); {
				case signal == syscall.SIGKILL:
					u.wholeOrOld(t, before, after)
				case c.ProcessState.ExitCode() == exit.Failed:
					assert.Contains(t, c.err.String(), "interrupted")
					begun.withoutPart().withoutStagings().same(t, after.withoutPart())
				default: // all was done, or all but the end of the process itself
					assert.NotContains(t, c.err.String(), "interrupted")
					u.whole(t).same(t, after)
				}
			}
			if !u.overwrites() {
				require.NoError(t, os.RemoveAll(filepath.Join(folder, target(u.line))))
			}
			u.finishes(t, folder)
		})
	}
}

// wholeOrOld wants every name to be that of the old file or of the new one.
func (u *undertaking) wholeOrOld(t *testing.T, before, after tree) {
	t.Helper()
	for name, text := range after.withoutPart().withoutStagings() {
		was, there := before[name]
		made, known := u.made[name]
		assert.True(t, there && text == was || known && text == made, "%s is neither the old one nor the new one", name)
	}
	for name := range before {
		assert.Contains(t, slices.Collect(maps.Keys(after)), name)
	}
}

// A kill between the names of two files that go together: the first is new, the others are old, and the next run makes all new. The child
// cannot go on after the first since nobody reads that it is written, and nothing more goes into the pipe.
func TestKilledBetweenTwoNames(t *testing.T) {
	for _, u := range undertakings() {
		if !strings.HasPrefix(u.line, "man ") && !strings.HasPrefix(u.line, "plot ") { // which tell of each file at once
			continue
		}
		t.Run(u.line, func(t *testing.T) {
			folder := workplace(t)
			first := childIn(t, folder, "lampswap", u.line)
			require.LessOrEqual(t, first.run(t), exit.NotMet, first.err.String())
			paths := strings.Fields(first.out.String())
			require.Greater(t, len(paths), 3)
			whole := treeOf(t, folder)
			for _, path := range paths {
				require.NoError(t, os.WriteFile(filepath.Join(folder, path), []byte("old"), 0o644))
			}
			r, w, err := os.Pipe()
			require.NoError(t, err)
			fill(t, w)
			c := childIn(t, folder, "lampswap", u.line)
			c.Stdout = w
			require.NoError(t, c.Start())
			for begun := time.Now(); fileText(t, filepath.Join(folder, paths[0])) == "old"; time.Sleep(time.Millisecond) {
				require.Less(t, time.Since(begun), time.Minute)
			}
			time.Sleep(20 * time.Millisecond) // in which it would go on if it could
			require.NoError(t, c.Process.Kill())
			assert.Equal(t, -1, c.end(t))
			require.NoError(t, errors.Join(r.Close(), w.Close()))
			for i, path := range paths {
				want := "old"
				if i == 0 {
					want = whole[path]
				}
				assert.True(t, fileText(t, filepath.Join(folder, path)) == want, path)
			}
			again := childIn(t, folder, "lampswap", u.line)
			require.LessOrEqual(t, again.run(t), exit.NotMet, again.err.String())
			whole.same(t, treeOf(t, folder))
		})
	}
}

// fill puts into a pipe what it can hold.
func fill(t *testing.T, w *os.File) {
	t.Helper()
	require.NoError(t, w.SetWriteDeadline(time.Now().Add(50*time.Millisecond)))
	for err := error(nil); !errors.Is(err, os.ErrDeadlineExceeded); _, err = w.Write(make([]byte, 4096)) {
		require.NoError(t, err)
	}
}
