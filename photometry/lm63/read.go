package lm63

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"lampswap/photometry/diag"
)

// A Reader reads photometric files. The zero value reads those that name no tilt file.
type Reader struct {
	// Tilt returns the content of the file that a TILT=<file> line names, at most MaxBytes of it. The name has no folder in it;
	// to look for it beside the photometric file only is the function's own duty. nil refuses such files.
	Tilt func(name string) ([]byte, error)
}

// Read reads a photometric file that names no tilt file, and errs as Reader.Read does.
func Read(name string, r io.Reader) (*File, error) { return Reader{}.Read(name, r) }

// ReadFile reads the photometric file at a path, and the tilt file beside it if it names one. It errs as Reader.Read does, and if the
// file cannot be opened.
func ReadFile(path string) (file *File, err error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() { // to open a pipe may wait for ever
		return nil, &fs.PathError{Op: "read", Path: path, Err: errNotRegular}
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, f.Close()) }()
	return Reader{Tilt: Beside(path)}.Read(path, f)
}

// Beside opens the tilt files of the photometric file at a path, for a Reader. One outside the folder of the photometric file, even by a
// symbolic link, is not opened.
func Beside(path string) func(name string) ([]byte, error) {
	return func(name string) ([]byte, error) { return readBeside(filepath.Dir(path), name) }
}

var errNotRegular = errors.New("not a regular file")

// readBeside reads a file of a folder. Where no file has that name, one that differs by letter case only will do: such names
// come from systems that tell no difference.
func readBeside(folder, name string) (content []byte, err error) {
	root, err := os.OpenRoot(folder)
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, root.Close()) }()
	info, err := root.Stat(name)
	if errors.Is(err, fs.ErrNotExist) {
		entries, listErr := fs.ReadDir(root.FS(), ".")
		if listErr != nil {
			return nil, listErr
		}
		for _, e := range entries {
			if strings.EqualFold(e.Name(), name) {
				name = e.Name()
				info, err = root.Stat(name)
				break
			}
		}
	}
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, errNotRegular
	}
	f, err := root.Open(name)
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, f.Close()) }()
	return io.ReadAll(io.LimitReader(f, MaxBytes+1))
}

// Read reads a photometric file; the name is used in messages. Faults of the file are a diag.List of all that were found, each
// with its line; what r itself fails with is returned wrapped. It never panics, whatever the bytes, and allocates in
// proportion to them, not to the counts they claim. What it accepts, File.Luminaire accepts.
func (reader Reader) Read(name string, r io.Reader) (*File, error) {
	text, err := io.ReadAll(io.LimitReader(r, MaxBytes+1))
	if err != nil {
		return nil, fmt.Errorf("read %s: %w", name, err)
	}
	rd := &reading{src: newSource(name, text), found: &faults{}, file: &File{}}
	if len(text) > MaxBytes {
		rd.found.add(rd.src.pos(0), "", "the file is too long", fmt.Sprintf("at most %d bytes", MaxBytes))
		return nil, rd.found.err()
	}
	rd.read(reader.Tilt)
	if err := rd.found.err(); err != nil {
		return nil, err
	}
	if err := rd.judge(); err != nil {
		return nil, err
	}
	return rd.file, nil
}

// A reading is one file while it is read. ended notes that its end was met too early, so that this is said once.
type reading struct {
	src   *source
	found *faults
	file  *File
	at    int
	ended bool
}

func (r *reading) warn(format string, args ...any) {
	r.file.Warnings = append(r.file.Warnings, fmt.Sprintf(format, args...))
}

func (r *reading) read(tiltFile func(string) ([]byte, error)) {
	if len(r.src.text) == 0 {
		r.found.add(r.src.pos(0), "", "the file is empty", "an LM-63 photometric file")
		return
	}
	r.src.refuseBinary(r.found)
	if r.found.any() {
		return
	}
	tilt, ok := r.readText()
	if !ok {
		return
	}
	if !r.readTilt(tilt, tiltFile) {
		return
	}
	m := &marks{src: r.src}
	if !r.readScalars(m) {
		return
	}
	counts, ok := r.counts(m)
	r.file.checkScalars(m, r.found)
	if !ok {
		return
	}
	r.readTable(counts, m)
	if !r.ended {
		r.file.checkTable(m, r.found)
		r.readRest()
	}
}

// A Field is one of the single numbers of a file whose place is asked for.
type Field = scalar

// The fields whose meaning others judge.
const (
	FieldLamps         Field = lamps
	FieldLumensPerLamp Field = lumensPerLamp
	FieldMultiplier    Field = multiplier
	FieldWidth         Field = width
	FieldLength        Field = length
	FieldHeight        Field = height
	FieldBallastFactor Field = ballastFactor
	FieldInputWatts    Field = inputWatts
)

// Place is where a field stands in the file that was read, with its name; not known of a File that was made otherwise.
func (f *File) Place(field Field) (at diag.Pos, name string) {
	return f.places[field], field.name(f.Edition)
}

// A scalar is one of the single numbers that follow TILT=, in the file's order.
type scalar int

const (
	lamps scalar = iota
	lumensPerLamp
	multiplier
	verticalCount
	horizontalCount
	photometricType
	units
	width
	length
	height
	ballastFactor
	ballastLampFactor
	inputWatts
	scalars // how many there are
)

var scalarNames = [scalars]string{"number of lamps", "lumens per lamp", "candela multiplier", "number of vertical angles",
	"number of horizontal angles", "photometric type", "units type", "width", "length", "height", "ballast factor",
	"ballast-lamp factor", "input watts"}

// name is the field's name in that edition.
func (s scalar) name(e Edition) string {
	switch {
	case s != ballastLampFactor:
		return scalarNames[s]
	case e <= Edition1991:
		return "ballast-lamp photometric factor"
	case e < Edition2019:
		return "future use"
	}
	return "file generation type"
}

// readScalars reads the thirteen numbers between the tilt and the angles. It returns false where the file ends.
func (r *reading) readScalars(m *marks) bool {
	var values [scalars]float64
	for s := range scalars {
		read, want := r.number, "a number"
		if s == lamps || s >= verticalCount && s <= units {
			read, want = r.integer, "a whole number"
		}
		values[s], m.scalar[s], m.bad[s] = read(s.name(r.file.Edition), want)
		if r.ended {
			return false
		}
	}
	f := r.file
	f.Lamps, f.LumensPerLamp, f.Multiplier = int(values[lamps]), values[lumensPerLamp], values[multiplier]
	f.Type, f.Units = PhotometricType(values[photometricType]), Units(values[units])
	f.Width, f.Length, f.Height = values[width], values[length], values[height]
	f.BallastFactor, f.BallastLampFactor, f.InputWatts = values[ballastFactor], values[ballastLampFactor], values[inputWatts]
	for s := range scalars {
		f.places[s] = m.at(m.scalar[s])
		f.places[s].File = "" // the same content has many names
	}
	m.count = [2]float64{values[verticalCount], values[horizontalCount]}
	return true
}

// counts checks what the file claims of the size of its table against the numbers that follow, before anything is made that large.
func (r *reading) counts(m *marks) (counts [2]int, ok bool) {
	if m.bad[verticalCount] || m.bad[horizontalCount] {
		return counts, false
	}
	left := float64(r.src.words(r.at))
	ok = true
	for i, s := range []scalar{verticalCount, horizontalCount} {
		least := float64(2 - i)
		switch {
		case m.count[i] < least:
			r.found.add(m.at(m.scalar[s]), scalarNames[s], fmt.Sprintf("%v", m.count[i]), fmt.Sprintf("at least %v", least))
			ok = false
		case m.count[i] > left:
			r.found.add(m.at(m.scalar[s]), scalarNames[s], fmt.Sprintf("%s, but only %v numbers follow", formatted(m.count[i]), left), "")
			ok = false
		}
		counts[i] = int(min(m.count[i], left))
	}
	if need := float64(counts[0]) + float64(counts[1]) + float64(counts[0])*float64(counts[1]); ok && need > left {
		r.found.add(r.src.end(), "candela", fmt.Sprintf("the file ends after %v numbers of angles and candela", left),
			fmt.Sprintf("%v: %d vertical and %d horizontal angles and the candela of each pair", need, counts[0], counts[1]))
		ok = false
	}
	return counts, ok
}

// readTable reads the angles and the candela.
func (r *reading) readTable(counts [2]int, m *marks) {
	f := r.file
	f.VerticalDeg, m.vertical = r.numbers("vertical angle", counts[0], &m.badVertical)
	f.HorizontalDeg, m.horizontal = r.numbers("horizontal angle", counts[1], &m.badHorizontal)
	for range f.HorizontalDeg {
		row, offsets := r.numbers("candela", counts[0], nil)
		f.Candela = append(f.Candela, row)
		m.candela = append(m.candela, offsets...)
	}
}

// readRest looks at what follows the last candela.
func (r *reading) readRest() {
	word, start, _ := r.src.word(r.at)
	if len(word) == 0 {
		return
	}
	f := r.file
	if _, wrong := parseNumber(word); wrong != "" {
		r.warn("what follows the last candela (%s on line %d) is left out", shown(word), r.src.pos(start).Line)
		return
	}
	r.found.add(r.src.pos(start), "candela", fmt.Sprintf("%s follows the last candela", shown(word)),
		fmt.Sprintf("no more than %d vertical x %d horizontal candela", len(f.VerticalDeg), len(f.HorizontalDeg)))
}
