package batch

import (
	"bufio"
	"encoding/json"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"lampswap/cmd/lampswap/internal/build"
	"lampswap/cmd/lampswap/internal/exit"
	"lampswap/cmd/lampswap/internal/files"
	"lampswap/photometry/job"
)

// A journal is the file in which a batch keeps its lines until it is done, each appended whole, in the order in which they are done.
// Nothing in it is ever written over, so that a kill at any moment costs at most the line that was being written.
type journal struct {
	path  string
	file  *os.File
	end   int64
	dirty bool
	known map[string]keptLine // by job file, the last
}

// A span is where a line stands in the journal.
type span struct{ at, length int64 }

// A keptLine is what of a line tells whether it still holds.
type keptLine struct {
	span    span
	File    string   `json:"file"`
	Exit    int      `json:"exit"`
	Digest  string   `json:"digest"`
	Inputs  []string `json:"inputs"`
	Version string   `json:"version"`
}

// openJournal opens the journal at the path, or begins one, and reads what it holds. A last line that is not whole is cut off.
func openJournal(path string) (*journal, error) {
	if info, err := os.Stat(path); err == nil && !info.Mode().IsRegular() {
		return nil, exit.Usagef("%s is no file", path)
	}
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o644)
	if err != nil {
		return nil, files.Plainly(path, err)
	}
	j := &journal{path: path, file: f, known: map[string]keptLine{}}
	if err := files.Lock(f); err != nil {
		return nil, errors.Join(exit.Usagef("%s: %w", path, err), f.Close())
	}
	if err := errors.Join(j.read(), files.SyncFolder(filepath.Dir(path))); err != nil {
		return nil, errors.Join(files.Plainly(path, err), f.Close())
	}
	return j, nil
}

func (j *journal) read() error {
	r := bufio.NewReaderSize(j.file, 1<<20)
	for {
		line, err := r.ReadBytes('\n')
		if errors.Is(err, io.EOF) {
			break // what is left has no end
		}
		if err != nil {
			return err
		}
		kept := keptLine{span: span{j.end, int64(len(line))}}
		j.end += int64(len(line))
		if json.Unmarshal(line, &kept) == nil { // else a crash of the machine left it so
			j.known[kept.File] = kept
		}
	}
	if err := j.file.Truncate(j.end); err != nil {
		return err
	}
	_, err := j.file.Seek(j.end, io.SeekStart)
	return err
}

// resume returns where the line of each job stands, as far as there is one that holds, and the numbers of the others.
func (j *journal) resume(paths []string) (spans []span, missing []int) {
	spans = make([]span, len(paths))
	for i, path := range paths {
		if kept, ok := j.known[path]; ok && kept.holds() {
			spans[i] = kept.span
		} else {
			missing = append(missing, i)
		}
	}
	return spans, missing
}

// holds tells whether a line is what the job would give now. A job that failed for another reason than its input is tried again.
func (k keptLine) holds() bool {
	if !build.Is(k.Version) || k.Exit >= exit.Failed || k.Digest == "" {
		return false
	}
	text, err := job.ReadText(k.File)
	if err != nil {
		return false
	}
	sources := job.NewSources(text, job.Beside(k.File))
	for _, name := range k.Inputs {
		_, _ = sources.Open(name) // that it cannot be opened is part of the digest
	}
	return sources.Digest() == k.Digest
}

// append writes a line at the end.
func (j *journal) append(line []byte) (span, error) {
	at := span{j.end, int64(len(line))}
	if _, err := j.file.Write(line); err != nil {
		return span{}, files.Plainly(j.path, err)
	}
	j.end += at.length
	j.dirty = true
	return at, nil
}

// sync makes what was written outlive a crash of the machine.
func (j *journal) sync() error {
	if !j.dirty {
		return nil
	}
	j.dirty = false
	return files.Plainly(j.path, j.file.Sync())
}

// line reads a line.
func (j *journal) line(at span) ([]byte, error) {
	line := make([]byte, at.length)
	_, err := j.file.ReadAt(line, at.at)
	return line, files.Plainly(j.path, err)
}

// remove deletes the journal, whose lines are in the output now.
func (j *journal) remove() error {
	if err := os.Remove(j.path); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return files.Plainly(j.path, err)
	}
	return nil
}

func (j *journal) close() error { return j.file.Close() }
