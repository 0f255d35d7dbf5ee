package files

import (
	"bufio"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"
)

// A staging is a folder beside the files that are to be written, in which each is made whole before it gets its name. It is locked as long as
// its process lives, so that whoever writes there next can tell what a killed one left behind, and take it away.
type staging struct {
	path string
	lock *os.File
}

// stagingPrefix begins the name of every staging.
const stagingPrefix = ".lampswap-"

// mostTries is how often a staging is made anew that another process took for one that was left behind, in the moment before it was locked.
const mostTries = 100

// stage makes a staging in a folder, and takes away those that were left there.
func stage(folder string) (*staging, error) {
	sweep(folder)
	for range mostTries {
		path, err := os.MkdirTemp(folder, stagingPrefix+"*")
		if err != nil {
			return nil, err
		}
		s, err := hold(path)
		if !errors.Is(err, errSwept) {
			return s, err
		}
	}
	return nil, errSwept
}

var errSwept = errors.New("other runs take away what is being written")

// hold locks a staging that was just made. It is errSwept if that is not there any more, or will not be.
func hold(path string) (*staging, error) {
	f, err := os.Open(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, errSwept
	}
	if err != nil {
		return nil, errors.Join(err, os.Remove(path))
	}
	s := &staging{path, f}
	made, err := f.Stat()
	if held := errors.Is(tryLock(f), errHeld); held || err != nil || !sameFile(path, made) {
		s.discard()
		return nil, errSwept
	}
	return s, nil
}

func sameFile(path string, as fs.FileInfo) bool {
	now, err := os.Stat(path)
	return err == nil && os.SameFile(now, as)
}

// longAgo is after how long a staging was left for certain, where the file system knows no locks.
const longAgo = 24 * time.Hour

// sweep takes away the stagings in a folder that nobody holds. What it cannot take away it leaves.
func sweep(folder string) {
	entries, err := os.ReadDir(folder)
	if err != nil {
		return // whoever writes there will say so
	}
	for _, e := range entries {
		if !e.IsDir() || !strings.HasPrefix(e.Name(), stagingPrefix) {
			continue
		}
		path := filepath.Join(folder, e.Name())
		f, err := os.Open(path)
		if err != nil {
			continue
		}
		if left(f, tryLock(f)) {
			_ = os.RemoveAll(path)
		}
		_ = f.Close() // and its lock goes
	}
}

// left tells whether the process that made a staging has ended, by what came of trying its lock.
func left(f *os.File, lock error) bool {
	if lock == nil || errors.Is(lock, errHeld) {
		return lock == nil
	}
	info, err := f.Stat()
	return err == nil && time.Since(info.ModTime()) > longAgo
}

// write makes a file whole in the staging.
func (s *staging) write(name string, write func(io.Writer) error) error {
	f, err := os.OpenFile(s.at(name), os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return err
	}
	buffer := bufio.NewWriterSize(f, 1<<16)
	return errors.Join(write(buffer), buffer.Flush(), f.Chmod(0o644), f.Sync(), f.Close())
}

// at is where a file of the staging lies until it gets its own place.
func (s *staging) at(name string) string { return filepath.Join(s.path, name) }

// discard takes the staging away with all that is in it still.
func (s *staging) discard() {
	_ = s.lock.Close()
	_ = os.RemoveAll(s.path) // else the next to write there takes it away
}
