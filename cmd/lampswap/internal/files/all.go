package files

import (
	"fmt"
	"io"
	"os"
	"path/filepath"

	"lampswap/photometry/diag"
)

// A File is one file to be written, whole in memory before any is.
type File struct {
	Name    string
	Content []byte
}

// writeAll writes every file whole in a staging before it gives any its own name, so that a failure leaves no half of a file.
func writeAll(folder string, all []File, stdout io.Writer) error {
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return Plainly(folder, err)
	}
	s, err := stage(folder)
	if err != nil {
		return Plainly(folder, err)
	}
	defer s.discard()
	for _, f := range all {
		if err := s.write(f.Name, f.write); err != nil {
			return Plainly(filepath.Join(folder, f.Name), err)
		}
	}
	for _, f := range all {
		path := filepath.Join(folder, f.Name)
		if err := os.Rename(s.at(f.Name), path); err != nil {
			return Plainly(path, err)
		}
		fmt.Fprintln(stdout, diag.Visible(path))
	}
	return Plainly(folder, SyncFolder(folder))
}

func (f File) write(w io.Writer) error {
	_, err := w.Write(f.Content)
	return err
}
