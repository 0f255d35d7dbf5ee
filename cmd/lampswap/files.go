package main

import (
	"errors"
	"os"
	"path/filepath"
)

// writeFile writes a file whole or not at all: under a temporary name beside it, synced, then renamed.
func writeFile(path string, content []byte) (err error) {
	name, err := writeTemporary(filepath.Dir(path), content)
	if err != nil {
		return err
	}
	if err := os.Rename(name, path); err != nil {
		return errors.Join(err, os.Remove(name))
	}
	return nil
}

// writeTemporary writes and syncs a file under a name of its own in the folder; what it could not finish it removes.
func writeTemporary(folder string, content []byte) (name string, err error) {
	f, err := os.CreateTemp(folder, ".lampswap-*")
	if err != nil {
		return "", err
	}
	_, err = f.Write(content)
	if err := errors.Join(err, f.Chmod(0o644), f.Sync(), f.Close()); err != nil {
		return "", errors.Join(err, os.Remove(f.Name()))
	}
	return f.Name(), nil
}
