package files

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
)

// A File is one file to be written, whole in memory before any is.
type File struct {
	Name    string
	Content []byte
}

// WriteAll writes every file under a temporary name before it gives any its own, so that a failure leaves no half of a file.
func WriteAll(folder string, all []File, stdout io.Writer) (err error) {
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return Plainly(folder, err)
	}
	var temporary []string
	defer func() {
		for _, name := range temporary {
			_ = os.Remove(name) // gone already where it was renamed
		}
	}()
	for _, f := range all {
		name, err := writeTemporary(folder, f.Content)
		if err != nil {
			return Plainly(filepath.Join(folder, f.Name), err)
		}
		temporary = append(temporary, name)
	}
	for i, f := range all {
		path := filepath.Join(folder, f.Name)
		if err := os.Rename(temporary[i], path); err != nil {
			return Plainly(path, err)
		}
		fmt.Fprintln(stdout, path)
	}
	return SyncFolder(folder)
}
