package files

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What a killed process left is taken away by the next that writes there; what another still writes is not, nor what is none of ours.
func TestLeftStagings(t *testing.T) {
	folder := t.TempDir()
	left := filepath.Join(folder, stagingPrefix+"left")
	require.NoError(t, os.Mkdir(left, 0o700))
	require.NoError(t, os.WriteFile(filepath.Join(left, "a.txt"), []byte("half"), 0o600))
	require.NoError(t, os.WriteFile(filepath.Join(folder, stagingPrefix+"file"), nil, 0o600))
	require.NoError(t, os.Mkdir(filepath.Join(folder, ".lampswap"), 0o700))
	alive, err := stage(folder)
	require.NoError(t, err)
	require.NoError(t, alive.write("b.txt", File{Content: []byte("b")}.write))
	require.NoError(t, Write(filepath.Join(folder, "a.txt"), []byte("a")))
	if _, err := os.Stat(left); runtime.GOOS == "windows" { // which has no locks: time tells
		require.NoError(t, err)
		require.NoError(t, os.RemoveAll(left))
	}
	assert.Equal(t, []string{".lampswap", filepath.Base(alive.path), stagingPrefix + "file", "a.txt"}, namesIn(t, folder))
	require.NoError(t, os.Rename(alive.at("b.txt"), filepath.Join(folder, "b.txt")))
	alive.discard()
	assert.Equal(t, []string{".lampswap", stagingPrefix + "file", "a.txt", "b.txt"}, namesIn(t, folder))
}

// Where the file system knows no locks, a staging is left alone for a day.
func TestLeftWithoutLocks(t *testing.T) {
	f, err := os.Open(t.TempDir())
	require.NoError(t, err)
	defer func() { require.NoError(t, f.Close()) }()
	assert.False(t, left(f, os.ErrInvalid))
	long := time.Now().Add(-2 * longAgo)
	require.NoError(t, os.Chtimes(f.Name(), long, long))
	assert.True(t, left(f, os.ErrInvalid))
	assert.False(t, left(f, errHeld))
}

// Many that write into one folder at once do not take away each other's stagings.
func TestManyWriteAtOnce(t *testing.T) {
	folder := t.TempDir()
	var all sync.WaitGroup
	for i := range 8 {
		all.Go(func() {
			for k := range 50 {
				path := filepath.Join(folder, fmt.Sprintf("%d.txt", i))
				text := fmt.Sprintf("%d of %d", k, i)
				if !assert.NoError(t, WriteWhole(path, func(w io.Writer) error { _, err := io.WriteString(w, text); return err })) {
					return
				}
				assert.Equal(t, text, textOfFile(t, path))
			}
		})
	}
	all.Wait()
	assert.Len(t, namesIn(t, folder), 8)
}
