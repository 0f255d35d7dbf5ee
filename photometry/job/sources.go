package job

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
)

// MaxBytes is the size above which a job file, or a file that it names, is refused.
const MaxBytes = 16 << 20

// Sources note which files a job asks for, so that a result can say what it was made from.
type Sources struct {
	files  Files
	text   []byte
	names  []string
	opened map[string]opened
}

type opened struct {
	content []byte
	err     error
}

// NewSources notes the job file's own text, and then what is asked of files through Open.
func NewSources(text []byte, files Files) *Sources {
	return &Sources{files: files, text: text, opened: map[string]opened{}}
}

// Open is a Files: it opens a file at the first asking and hands out the same content, or the same error, at each one after.
func (s *Sources) Open(name string) ([]byte, error) {
	known, ok := s.opened[name]
	if !ok {
		known.content, known.err = s.files(name)
		s.opened[name] = known
		s.names = append(s.names, name)
	}
	return known.content, known.err
}

// Names are the files that were asked for, sorted, those too that could not be read.
func (s *Sources) Names() []string { return slices.Sorted(slices.Values(s.names)) }

// Digest is the SHA-256, in hexadecimal, of the job file's text and of each named file: of its name, whether it could be read, and
// its content. It depends on neither the place nor the name of the job file.
func (s *Sources) Digest() string {
	sum := sha256.New()
	part := func(kind, name string, content []byte) {
		fmt.Fprintf(sum, "%s %q %d\n", kind, name, len(content))
		sum.Write(content)
	}
	part("job", "", s.text)
	for _, name := range s.Names() {
		if f := s.opened[name]; f.err != nil {
			part("missing", name, nil)
		} else {
			part("file", name, f.content)
		}
	}
	return hex.EncodeToString(sum.Sum(nil))
}

// Beside opens the files that a job file at the path names: relative to its folder, regular ones of at most MaxBytes.
func Beside(path string) Files {
	return func(name string) ([]byte, error) { return readBounded(PathBeside(path, name)) }
}

// PathBeside is where a file lies that the job file at a path names.
func PathBeside(path, name string) string {
	if filepath.IsAbs(name) {
		return name
	}
	return filepath.Join(filepath.Dir(path), name)
}

var (
	errFolder  = errors.New("is a folder")
	errNoFile  = errors.New("is a pipe or a device, not a file")
	errTooLong = fmt.Errorf("larger than %d MiB", MaxBytes>>20)
)

// readBounded reads a plain file of at most MaxBytes. What is none is refused before it is opened: to open a pipe may wait for ever.
func readBounded(path string) (content []byte, err error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, err
	}
	if info.IsDir() {
		return nil, &os.PathError{Op: "read", Path: path, Err: errFolder}
	}
	if !info.Mode().IsRegular() {
		return nil, &os.PathError{Op: "read", Path: path, Err: errNoFile}
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer func() {
		if closing := f.Close(); err == nil {
			err = closing
		}
	}()
	content, err = io.ReadAll(io.LimitReader(f, MaxBytes+1))
	if err == nil && len(content) > MaxBytes {
		return nil, &os.PathError{Op: "read", Path: path, Err: errTooLong}
	}
	return content, err
}

// ReadText returns the text of the job file at a path, to be given to Read. It errs if the file cannot be read or has more than MaxBytes.
func ReadText(path string) ([]byte, error) { return readBounded(path) }
