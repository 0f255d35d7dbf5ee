// Package files answers how a file is written so that nobody ever finds half of one.
package files

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"syscall"
)

// Write writes a file whole or not at all: under a temporary name beside it, synced, then renamed. What is no file, such as
// /dev/stdout, is written to as it is.
func Write(path string, content []byte) error {
	return WriteWhole(path, func(w io.Writer) error {
		_, err := w.Write(content)
		return err
	})
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
	folder := filepath.Dir(path)
	name, err := temporary(folder, write)
	if err != nil {
		return Plainly(path, err)
	}
	if err := os.Rename(name, path); err != nil {
		return Plainly(path, errors.Join(err, os.Remove(name)))
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
	folder := filepath.Dir(path)
	name, err := writeTemporary(folder, content)
	if err != nil {
		return Plainly(path, err)
	}
	err = os.Link(name, path) // errs if the name is taken, where a rename would not
	if _, missing := os.Lstat(path); err != nil && errors.Is(missing, fs.ErrNotExist) {
		if err = os.Rename(name, path); err == nil { // a file system without links
			return Plainly(path, SyncFolder(folder))
		}
	}
	return Plainly(path, errors.Join(err, os.Remove(name), SyncFolder(folder)))
}

// writeTemporary writes and syncs a file under a name of its own in the folder; what it could not finish it removes.
func writeTemporary(folder string, content []byte) (name string, err error) {
	return temporary(folder, func(w io.Writer) error {
		_, err := w.Write(content)
		return err
	})
}

func temporary(folder string, write func(io.Writer) error) (name string, err error) {
	f, err := os.CreateTemp(folder, ".lampswap-*")
	if err != nil {
		return "", err
	}
	defer func() {
		if name == "" {
			err = errors.Join(err, os.Remove(f.Name()))
		}
	}()
	buffer := bufio.NewWriterSize(f, 1<<16)
	if err := errors.Join(write(buffer), buffer.Flush(), f.Chmod(0o644), f.Sync(), f.Close()); err != nil {
		return "", err
	}
	return f.Name(), nil
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
