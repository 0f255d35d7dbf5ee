package files

import (
	"bytes"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"lampswap/cmd/lampswap/internal/exit"
	"lampswap/photometry/diag"
)

// A Target is a file to write an answer to, or a folder for several: to write there loses none of the files that the command reads. The zero
// Target is none.
type Target struct {
	path   string
	inputs []string
}

// ToFile is the target of a file that the option names, "" for none. It is refused, before any work, where it is an input, by whatever
// spelling or link, where it is what somebody made for lampswap to read, where it is a folder, and where its own folder is not there. What is no file, such as /dev/stdout, loses nothing.
func ToFile(option, path string, inputs []string) (Target, error) {
	t := Target{path, inputs}
	if path == "" {
		return t, nil
	}
	if info, err := os.Stat(path); err == nil && info.IsDir() {
		return t, exit.Usagef("%s is %s, which is a folder, want a file", option, path)
	}
	if err := folderAt(option, path, filepath.Dir(path), false); err != nil {
		return t, err
	}
	if err := t.spares(option, path); err != nil {
		return t, err
	}
	if what := made(path); what != "" {
		return t, exit.Usagef("%s is %s, which is there and is %s: no answer replaces one, want another name", option, path, what)
	}
	return t, nil
}

// headBytes is as much of a file as tells what it is.
const headBytes = 64 << 10

// made says what a file is that somebody made for lampswap to read, whichever command this is: a job or a cross-section, photometry that lampswap
// did not write itself, a form for readings. It is "" of all else, answers of an earlier time among them.
func made(path string) string {
	info, err := os.Stat(path)
	if err != nil || !info.Mode().IsRegular() {
		return ""
	}
	f, err := os.Open(path)
	if err != nil {
		return ""
	}
	head, err := io.ReadAll(io.LimitReader(f, headBytes))
	if closing := f.Close(); err != nil || closing != nil || len(bytes.TrimSpace(head)) == 0 {
		return ""
	}
	switch strings.ToLower(filepath.Ext(path)) {
	case ".toml":
		return "a job or a cross-section"
	case ".tlt":
		return "a tilt file"
	case ".ies":
		if bytes.Contains(head, []byte("TILT=")) && !bytes.Contains(head, []byte("[_PROGRAM] lampswap ")) {
			return "a photometric file that lampswap did not write"
		}
	case ".csv":
		for line := range bytes.Lines(head) {
			if line = bytes.ToLower(bytes.TrimLeft(line, "\ufeff\" \t")); len(bytes.TrimSpace(line)) > 0 && line[0] != '#' {
				if bytes.HasPrefix(line, []byte("station")) {
					return "a form for readings"
				}
				break
			}
		}
	}
	return ""
}

// ToFolder is the target of a folder that the option names, "" for none, which is made if it is not there. It is refused where a file is in
// its place, and where one of the files that are known to be written there is an input.
func ToFolder(option, path string, inputs []string, names ...string) (Target, error) {
	t := Target{path, inputs}
	if path == "" {
		return t, nil
	}
	if err := folderAt(option, path, path, true); err != nil {
		return t, err
	}
	for _, name := range names {
		if err := t.spares(option, filepath.Join(path, name)); err != nil {
			return t, err
		}
	}
	return t, nil
}

// folderAt refuses a folder that cannot be one: it, or a folder that it would be made in, is a file; or it is not there and is not to be made.
func folderAt(option, asked, folder string, made bool) error {
	for at := filepath.Clean(folder); ; at = filepath.Dir(at) {
		info, err := os.Stat(at)
		switch {
		case err == nil && !info.IsDir():
			return exit.Usagef("%s is %s, and %s is a file, want a folder", option, asked, at)
		case err == nil:
			return nil
		case errors.Is(err, fs.ErrNotExist) && !made:
			return exit.Usagef("%s is %s, and there is no folder %s, want one that is there", option, asked, at)
		}
		if at == filepath.Dir(at) {
			return nil // whoever writes there will say what is wrong
		}
	}
}

// Asked tells that something is to be written.
func (t Target) Asked() bool { return t.path != "" }

// Path is the file or the folder, as it was named.
func (t Target) Path() string { return t.path }

// String is the path as it can be shown.
func (t Target) String() string { return diag.Visible(t.path) }

// Write writes the file, as the function Write does.
func (t Target) Write(content []byte) error { return Write(t.path, content) }

// WriteWhole writes the file, as the function WriteWhole does.
func (t Target) WriteWhole(write func(io.Writer) error) error { return WriteWhole(t.path, write) }

// WriteAll writes files into the folder, none of them if one would replace an input, and names them on stdout.
func (t Target) WriteAll(all []File, stdout io.Writer) error {
	for _, f := range all {
		if err := t.spares("the output", filepath.Join(t.path, f.Name)); err != nil {
			return err
		}
	}
	return writeAll(t.path, all, stdout)
}

// spares errs if a file is one of the inputs.
func (t Target) spares(option, path string) error {
	for _, input := range t.inputs {
		if same(path, input) {
			if input == "/dev/stdin" {
				input = "standard input"
			}
			return exit.Usagef("%s is %s, which this command reads (%s): want another name, nothing was written", option, path, input)
		}
	}
	return nil
}

// same tells whether two paths lead to one file, be it by links or by spelling. Names that differ by letter case alone count as one, as they are
// on many file systems.
func same(path, input string) bool {
	a, errA := os.Stat(path)
	b, errB := os.Stat(input)
	if errA == nil && !a.Mode().IsRegular() {
		return false // a device is written to, not replaced
	}
	if errA == nil && errB == nil && os.SameFile(a, b) {
		return true
	}
	return strings.EqualFold(whole(path), whole(input))
}

// whole is a path from the root without links, as far as it is there.
func whole(path string) string {
	path, err := filepath.Abs(path)
	if err != nil {
		return path
	}
	rest := ""
	for at := path; ; at = filepath.Dir(at) {
		if real, err := filepath.EvalSymlinks(at); err == nil {
			return filepath.Join(real, rest)
		}
		if at == filepath.Dir(at) {
			return path
		}
		rest = filepath.Join(filepath.Base(at), rest)
	}
}
