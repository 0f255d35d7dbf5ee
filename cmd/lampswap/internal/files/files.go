// Package files answers how a file is written so that nobody ever finds half of one.
package files

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"syscall"
)

// Write writes a file whole or not at all: in a staging beside it, synced, then renamed. What is no file, such as
// /dev/stdout, is written to as it is.
func Write(path string, content []byte) error {
	return WriteWhole(path, File{Content: content}.write)
}

// WriteWhole is Write for content that is written bit by bit.
func WriteWhole(path string, write func(io.Writer) error) error {
	if target, err := filepath.EvalSymlinks(path); err == nil {
		path = target // the file that a link names is replaced, not the link
	}
	if info, err := os.Stat(path); err == nil && !info.Mode().IsRegular() {
		if info.IsDir() {
			return fmt.Errorf("%s: is a folder", path)
		}
		return Plainly(path, writeThrough(path, write))
	}
	folder, name := filepath.Dir(path), filepath.Base(path)
	s, err := stage(folder)
	if err != nil {
		return Plainly(path, err)
	}
	defer s.discard()
	if err := s.write(name, write); err != nil {
		return Plainly(path, err)
	}
	if err := os.Rename(s.at(name), path); err != nil {
		return Plainly(path, err)
	}
	return Plainly(path, SyncFolder(folder))
}

// writeThrough writes to what is there, a pipe or a device.
func writeThrough(path string, write func(io.Writer) error) error {
	f, err := os.OpenFile(path, os.O_WRONLY, 0)
	if err != nil {
		return err
	}
	return errors.Join(write(f), f.Close())
}

// WriteNew is Write for a file that must not be there yet; else the error is fs.ErrExist.
func WriteNew(path string, content []byte) error {
	folder, name := filepath.Dir(path), filepath.Base(path)
	s, err := stage(folder)
	if err != nil {
		return Plainly(path, err)
	}
	defer s.discard()
	if err := s.write(name, File{Content: content}.write); err != nil {
		return Plainly(path, err)
	}
	err = os.Link(s.at(name), path) // errs if the name is taken, where a rename would not
	if _, missing := os.Lstat(path); err != nil && errors.Is(missing, fs.ErrNotExist) {
		err = os.Rename(s.at(name), path) // a file system without links
	}
	return Plainly(path, errors.Join(err, SyncFolder(folder)))
}

// errHeld says that another process has the lock.
var errHeld = errors.New("another run writes it")

// Lock keeps two runs from writing one journal. The lock goes with the process, however it ends; where the file system knows none, nobody is
// kept from it.
func Lock(f *os.File) error {
	if err := tryLock(f); errors.Is(err, errHeld) {
		return err
	}
	return nil
}

// SyncFolder makes sure that a name given in the folder outlives a crash of the machine, where the system can.
func SyncFolder(folder string) error {
	if runtime.GOOS == "windows" {
		return nil // has no such thing
	}
	f, err := os.Open(folder)
	if err != nil {
		return err
	}
	err = f.Sync()
	if errors.Is(err, syscall.EINVAL) || errors.Is(err, errors.ErrUnsupported) {
		err = nil // a file system that has no such thing
	}
	return errors.Join(err, f.Close())
}

// Plainly tells what went wrong with a file under the name that the user gave it, not a temporary one.
func Plainly(path string, err error) error {
	if err == nil {
		return nil
	}
	if cause, ok := errors.AsType[*fs.PathError](err); ok {
		return fmt.Errorf("%s: %w", path, cause.Err)
	}
	if cause, ok := errors.AsType[*os.LinkError](err); ok {
		return fmt.Errorf("%s: %w", path, cause.Err)
	}
	return fmt.Errorf("%s: %w", path, err)
}
