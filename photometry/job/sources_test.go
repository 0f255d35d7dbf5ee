package job_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry/job"
)

// The digest changes with the job's text and with the content of every file that it names, and with nothing else.
func TestInputsDigest(t *testing.T) {
	digest := func(text string, files job.Files) string {
		j, err := job.Read("dock.toml", []byte(text), files)
		require.NoError(t, err)
		return j.InputsDigest
	}
	changed := func(name string) ([]byte, error) {
		text, err := open(name)
		return append(text, '\n'), err
	}
	plain := digest(sound, open)
	assert.Len(t, plain, 64)
	assert.Equal(t, plain, digest(sound, open))
	assert.NotEqual(t, plain, digest(sound+"\n", open))
	assert.NotEqual(t, plain, digest(sound, changed))
	other, err := job.Read("elsewhere/bay.toml", []byte(sound), open)
	require.NoError(t, err)
	assert.Equal(t, plain, other.InputsDigest, "the job file's own name does not count")
}

// What a job asks for is noted also where it is not there, and asked for once.
func TestSources(t *testing.T) {
	asked := 0
	s := job.NewSources([]byte(sound), func(name string) ([]byte, error) { asked++; return open(name) })
	text := strings.Replace(sound, "strip.ies", "none.ies", 1)
	_, err := job.Read("dock.toml", []byte(text), s.Open)
	require.Error(t, err)
	assert.Equal(t, []string{"none.ies", "strip.ies"}, s.Names())
	before := s.Digest()
	again := job.NewSources([]byte(sound), func(string) ([]byte, error) { return []byte(stripIES), nil })
	for _, name := range s.Names() {
		_, err := again.Open(name)
		require.NoError(t, err)
	}
	assert.NotEqual(t, before, again.Digest(), "it is there now")
	assert.Equal(t, 2, asked)
}

// A file that the job names must be a file, of a size that makes sense; so must the job.
func TestFilesOfNoEnd(t *testing.T) {
	folder := t.TempDir()
	large := filepath.Join(folder, "large.ies")
	require.NoError(t, os.WriteFile(large, nil, 0o600))
	require.NoError(t, os.Truncate(large, job.MaxBytes+1))
	require.NoError(t, os.Mkdir(filepath.Join(folder, "folder.ies"), 0o700))
	require.NoError(t, os.WriteFile(filepath.Join(folder, "strip.ies"), []byte(stripIES), 0o600))
	path := filepath.Join(folder, "dock.toml")
	for name, want := range map[string]string{
		"large.ies":  `dock.toml:20:14: existing.photometry: "large.ies" cannot be read (larger than 16 MiB), want an LM-63 file beside the job file`,
		"folder.ies": `dock.toml:20:14: existing.photometry: "folder.ies" cannot be read (is a folder), want an LM-63 file beside the job file`,
		"/dev/zero":  `dock.toml:20:14: existing.photometry: "/dev/zero" cannot be read (is a pipe or a device, not a file), want an LM-63 file beside the job file`,
	} {
		if _, err := os.Stat(name); filepath.IsAbs(name) && err != nil {
			continue // this system has no such thing
		}
		text := strings.Replace(sound, "strip.ies", name, 1)
		require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
		_, err := job.ReadFile(path)
		assert.EqualError(t, err, folder+string(filepath.Separator)+want)
	}
	_, err := job.ReadFile(large)
	assert.EqualError(t, err, "read "+large+": larger than 16 MiB")
	_, err = job.Read("dock.toml", make([]byte, job.MaxBytes+1), open)
	assert.EqualError(t, err, "dock.toml:1:1: the file is too long, want at most 16777216 bytes")
}

// A shelf gives what reading without it gives, and works each luminaire out once.
func TestLibrary(t *testing.T) {
	shelf := job.NewShelf(1 << 20)
	computed := replaced(t, sound, "[existing]\nphotometry = \"strip.ies\"\n", "[existing]\nfixture = \"strip-4in\"\n")
	tilted := func(name string) ([]byte, error) {
		if name == "strip.ies" {
			return []byte(strings.Replace(stripIES, "TILT=NONE", "TILT=INCLUDE\n1\n1\n0\n0.5", 1)), nil
		}
		return open(name)
	}
	for _, text := range []string{computed, computed, replaced(t, computed, `"strip-4in"`, `"shop.toml"`, "lamps = 4\nballast", "lamps = 2\nballast")} {
		want := read(t, text)
		got, err := shelf.Read("dock.toml", []byte(text), open)
		require.NoError(t, err)
		assert.Equal(t, want.Existing.Luminaire, got.Existing.Luminaire)
		assert.Equal(t, want.Proposed.Luminaire, got.Proposed.Luminaire)
		assert.Equal(t, want.Defaults, got.Defaults)
		assert.Equal(t, want.Warnings, got.Warnings)
		assert.Equal(t, want.InputsDigest, got.InputsDigest)
	}
	asked, found := shelf.Counts()
	assert.Equal(t, []int{6, 3}, []int{asked, found})
	for range 2 {
		_, err := shelf.Read("dock.toml", []byte(sound), tilted)
		require.NoError(t, err)
	}
	again, _ := shelf.Counts()
	assert.Equal(t, asked, again, "a file with a tilt is read each time")
	_, err := shelf.Read("dock.toml", []byte(strings.ReplaceAll(sound, "strip.ies", "broken.ies")), open)
	assert.EqualError(t, err, `broken.ies:8:6: candela: "17OO" is not a number, want a number`)
}
