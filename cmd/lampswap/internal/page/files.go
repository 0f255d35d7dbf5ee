package page

import (
	"crypto/sha256"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"syscall"

	"lampswap/cmd/lampswap/internal/jobs"
)

// mostBeside is how many files of the job's folder are looked at.
const mostBeside = 400

// readWithin reads a file of at most so many bytes through the root, out of which no path and no link leads.
func readWithin(root *os.Root, name string, most int64) ([]byte, error) {
	switch info, err := root.Stat(filepath.FromSlash(name)); { // before it is opened: to open a pipe may wait for ever
	case err != nil:
		return nil, err
	case info.IsDir():
		return nil, errors.New("is a folder")
	case !info.Mode().IsRegular():
		return nil, errors.New("is a pipe or a device, not a file")
	}
	f, err := root.OpenFile(filepath.FromSlash(name), os.O_RDONLY|syscall.O_NONBLOCK, 0) // it may have become a pipe meanwhile
	if err != nil {
		return nil, err
	}
	defer func() { _ = f.Close() }() // read only
	if info, err := f.Stat(); err != nil || !info.Mode().IsRegular() {
		return nil, errors.New("is a pipe or a device, not a file")
	}
	content, err := io.ReadAll(io.LimitReader(f, most+1))
	if err == nil && int64(len(content)) > most {
		return nil, fmt.Errorf("over %d KB", most>>10)
	}
	return content, err
}

// opener opens the files that a visitor's job names: what was uploaded, else what lies beside the job file, else what belongs to the
// demonstration job. Only files that tell of light, and pictures, are opened at all. It works on what the session held when it was made.
func (s *site) opener(files map[string][]byte) func(name string) ([]byte, error) {
	pictures := 0 // bytes
	return func(name string) ([]byte, error) {
		most := int64(mostFile)
		switch {
		case isPicture(name):
			most = max(0, min(mostPicture, int64(mostPictures-pictures)))
		case !isLightFile(name) || name == s.start.name:
			return nil, errors.New("not an .ies, .tlt or cross-section file, and no picture")
		}
		if content, ok := files[name]; ok {
			return content, nil
		}
		if s.start.folder != nil {
			content, err := readWithin(s.start.folder, name, most)
			if isPicture(name) {
				pictures += len(content)
			}
			if !errors.Is(err, fs.ErrNotExist) {
				return content, err
			}
		}
		if name != path.Base(name) {
			return nil, fs.ErrNotExist
		}
		return jobs.Demo.ReadFile("demo/" + name)
	}
}

// namedFiles are the names of all the LM-63 files and pictures that a visitor's job may name.
func (s *site) namedFiles(v *session) (uploaded, beside []string) {
	isNamed := func(name string) bool { return strings.EqualFold(path.Ext(name), ".ies") || isPicture(name) }
	for _, name := range slices.Sorted(maps.Keys(v.files)) {
		if isNamed(name) {
			uploaded = append(uploaded, name)
		}
	}
	add := func(entries []fs.DirEntry) {
		for _, e := range entries[:min(len(entries), mostBeside)] {
			name := e.Name()
			if isNamed(name) && !slices.Contains(uploaded, name) && !slices.Contains(beside, name) {
				beside = append(beside, name)
			}
		}
	}
	add(s.besides())
	if entries, err := jobs.Demo.ReadDir("demo"); err == nil {
		add(entries)
	}
	return uploaded, beside
}

// besides lists the job's folder.
func (s *site) besides() []fs.DirEntry {
	if s.start.folder == nil {
		return nil
	}
	entries, err := fs.ReadDir(s.start.folder.FS(), ".")
	if err != nil {
		return nil // no list is no fault: a name that cannot be opened is
	}
	return entries
}

// fingerprint is of all that a visitor's answer depends on.
func (s *site) fingerprint(text string, files map[string][]byte) [sha256.Size]byte {
	h := sha256.New()
	put := func(parts ...[]byte) {
		for _, p := range parts {
			var size [8]byte
			binary.LittleEndian.PutUint64(size[:], uint64(len(p)))
			h.Write(size[:])
			h.Write(p)
		}
	}
	put([]byte(text))
	for _, name := range slices.Sorted(maps.Keys(files)) {
		put([]byte(name), files[name])
	}
	entries := s.besides()
	for _, e := range entries[:min(len(entries), mostBeside)] {
		if info, err := e.Info(); err == nil && (isLightFile(e.Name()) || isPicture(e.Name())) {
			put([]byte(e.Name()), fmt.Appendf(nil, "%d %d", info.Size(), info.ModTime().UnixNano()))
		}
	}
	return [sha256.Size]byte(h.Sum(nil))
}
