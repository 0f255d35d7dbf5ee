package files

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestWriteFile(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "a.txt")
	for _, text := range []string{"one", "and another, longer", ""} {
		require.NoError(t, Write(path, []byte(text)))
		assert.Equal(t, text, textOfFile(t, path))
	}
	assert.Equal(t, []string{"a.txt"}, namesIn(t, folder))
	require.NoError(t, os.Symlink("a.txt", filepath.Join(folder, "link")))
	require.NoError(t, Write(filepath.Join(folder, "link"), []byte("through the link")))
	assert.Equal(t, "through the link", textOfFile(t, path))
	assert.EqualError(t, Write(folder, nil), folder+": is a folder")
	err := Write(filepath.Join(folder, "none", "a.txt"), nil)
	assert.EqualError(t, err, filepath.Join(folder, "none", "a.txt")+": no such file or directory")
	require.ErrorIs(t, err, fs.ErrNotExist)
	err = Write(filepath.Join(path, "a.txt"), nil)
	assert.ErrorContains(t, err, "not a directory", "a file where the folder should be")
	require.NoError(t, Write(os.DevNull, []byte("nothing")), "a device is written to, not replaced")
	info, err := os.Stat(os.DevNull)
	require.NoError(t, err)
	assert.NotZero(t, info.Mode()&os.ModeDevice)
}

// What fails half way leaves the file as it was, and nothing beside it.
func TestWriteThatFails(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "a.txt")
	require.NoError(t, Write(path, []byte("before")))
	broken := errors.New("broken")
	err := WriteWhole(path, func(w io.Writer) error {
		_, err := w.Write(make([]byte, 1<<20))
		require.NoError(t, err)
		return broken
	})
	require.ErrorIs(t, err, broken)
	assert.Equal(t, "before", textOfFile(t, path))
	assert.Equal(t, []string{"a.txt"}, namesIn(t, folder))
}

func TestWriteUnlessThere(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "a.txt")
	require.NoError(t, WriteNew(path, []byte("first")))
	require.ErrorIs(t, WriteNew(path, []byte("second")), fs.ErrExist)
	assert.Equal(t, "first", textOfFile(t, path))
	require.ErrorIs(t, WriteNew(filepath.Join(folder, "none", "a"), nil), fs.ErrNotExist)
	assert.Equal(t, []string{"a.txt"}, namesIn(t, folder))
}

// What went wrong is told under the name that was asked for.
func TestPlainly(t *testing.T) {
	broken := errors.New("broken")
	assert.ErrorIs(t, Plainly("a", &os.PathError{Op: "open", Path: "b", Err: broken}), broken)
	assert.EqualError(t, Plainly("a", &os.LinkError{Op: "rename", Old: "b", New: "c", Err: errors.New("no")}), "a: no")
}

func textOfFile(t *testing.T, path string) string {
	t.Helper()
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	return string(text)
}

// namesIn are those of all that is in a folder.
func namesIn(t *testing.T, folder string) []string {
	t.Helper()
	entries, err := os.ReadDir(folder)
	require.NoError(t, err)
	all := []string{}
	for _, e := range entries {
		all = append(all, e.Name())
	}
	return all
}
