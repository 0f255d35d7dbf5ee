package lm63

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path/filepath"
	"strings"
	"unicode/utf8"

	"lampswap/photometry/diag"
)

const (
	wantTiltName    = "the name of a file beside this one, without a folder"
	longestTiltName = 75 // bytes, so that its line keeps within the limit of every edition
)

// readTilt reads the TILT= line and what belongs to it. It returns false if the numbers after it cannot be told apart.
func (r *reading) readTilt(line int, tiltFile func(string) ([]byte, error)) bool {
	raw, offset := r.src.line(line)
	value := trimmed(r.src.decode(raw))
	value = trimmed(value[strings.IndexByte(value, '=')+1:])
	r.at = offset + len(raw)
	t := &r.file.Tilt
	switch {
	case strings.EqualFold(value, TiltNone.String()):
		t.Kind = TiltNone
		return true
	case strings.EqualFold(value, TiltInclude.String()):
		t.Kind = TiltInclude
		return r.readTiltNumbers(t)
	}
	t.Kind, t.FileName = TiltFile, value
	at := r.src.pos(offset)
	if wrong := tiltNameFault(value); wrong != "" {
		r.found.add(at, "TILT", wrong, wantTilt)
		return true
	}
	if tiltFile == nil {
		r.found.add(at, "TILT", fmt.Sprintf("%q names a file, and there is no folder to look for it", value), "TILT=NONE or TILT=INCLUDE")
		return true
	}
	content, err := tiltFile(value)
	if err != nil {
		if path := new(fs.PathError); errors.As(err, &path) {
			err = path.Err // what remains names the operation, and the file once more
		}
		r.found.add(at, "TILT", fmt.Sprintf("%q cannot be read", value), wantTiltName)
		r.found.list[len(r.found.list)-1].Err = err
		return true
	}
	if len(content) > MaxBytes {
		r.found.add(at, "TILT", fmt.Sprintf("%q is too long", value), fmt.Sprintf("at most %d bytes", MaxBytes))
		return true
	}
	beside := &reading{src: newSource(filepath.Join(filepath.Dir(r.src.name), value), content), found: r.found, file: r.file}
	before := len(r.found.list)
	if beside.src.refuseBinary(r.found); len(r.found.list) > before {
		return true
	}
	if beside.readTiltNumbers(t) {
		if word, _, _ := beside.src.word(beside.at); len(word) > 0 {
			r.warn("what follows the tilt factors in %s (%s) is left out", value, shown(word))
		}
	}
	return true
}

// tiltNameFault says why a name cannot be that of a file beside the photometric file, "" if it can.
func tiltNameFault(name string) string {
	switch {
	case name == "":
		return "nothing stands after TILT="
	case !utf8.ValidString(name) || strings.ContainsFunc(name, control):
		return fmt.Sprintf("%q is no file name", name)
	case len(name) > longestTiltName:
		return fmt.Sprintf("a name of %d bytes stands after TILT=", len(name))
	case strings.ContainsAny(name, `/\:`) || !filepath.IsLocal(name) || name == ".":
		return fmt.Sprintf("%q leads out of the folder", name)
	}
	return ""
}

// readTiltNumbers reads the lamp-to-luminaire geometry, the number of angles, the angles and the factors.
func (r *reading) readTiltNumbers(t *Tilt) bool {
	m := marks{src: r.src}
	geometry, at, bad := r.integer("lamp-to-luminaire geometry", "1, 2 or 3")
	if r.ended {
		return false
	}
	t.Geometry, m.geometry, m.badGeometry = int(geometry), at, bad
	const key = "number of tilt angles"
	n, at, bad := r.integer(key, "a whole number")
	if bad {
		return false
	}
	left := r.src.words(r.at)
	if n < 1 || 2*n > float64(left) {
		r.found.add(r.src.pos(at), key, formatted(n), fmt.Sprintf("at least 1, with as many angles and factors after it (%d numbers follow)", left))
		return false
	}
	badAngles, badFactors := false, false
	t.AnglesDeg, m.tiltAngles = r.numbers("tilt angle", int(n), &badAngles)
	t.Factors, m.tiltFactors = r.numbers("tilt factor", int(n), &badFactors)
	m.badTiltAngles, m.badTiltFactors = badAngles, badFactors
	t.check(&m, r.found)
	if !badAngles && !badFactors && t.AnglesDeg[0] == 0 && t.Factors[0] != 1 {
		r.warn("the tilt factor %v at tilt 0 is not applied: the candela are taken as tested", t.Factors[0])
	}
	return true
}

// check notes what is wrong with the numbers of a tilt.
func (t *Tilt) check(m *marks, found *faults) {
	if !m.badGeometry && (t.Geometry < 1 || t.Geometry > 3) {
		found.add(m.at(m.geometry), "lamp-to-luminaire geometry", fmt.Sprint(t.Geometry), "1, 2 or 3")
	}
	if len(t.AnglesDeg) == 0 || len(t.AnglesDeg) != len(t.Factors) {
		found.add(m.at(0), "tilt", fmt.Sprintf("%d angles and %d factors", len(t.AnglesDeg), len(t.Factors)), "as many of both, at least one")
		return
	}
	if !m.badTiltAngles {
		checkAscending("tilt angle", t.AnglesDeg, 0, 180, m, m.tiltAngles, found)
	}
	for i, factor := range t.Factors {
		if !m.badTiltFactors && !(factor >= 0 && factor <= largestNumber) {
			found.add(m.at(nth(m.tiltFactors, i)), "tilt factor", formatted(factor), "at least 0")
		}
	}
}

// checkName notes what is wrong with a tilt besides its numbers.
func (t *Tilt) checkName(found *faults) {
	wrong, want := "", wantTiltName
	switch t.Kind {
	case TiltNone:
		if t.FileName != "" || t.Geometry != 0 || len(t.AnglesDeg)+len(t.Factors) > 0 {
			wrong, want = "NONE with other fields set", "no name, no geometry, no angles"
		}
	case TiltInclude:
		if t.FileName != "" {
			wrong, want = "INCLUDE with a file name", "no name"
		}
	case TiltFile:
		wrong = tiltNameFault(t.FileName)
		if wrong == "" && (trimmed(t.FileName) != t.FileName || strings.EqualFold(t.FileName, TiltNone.String()) || strings.EqualFold(t.FileName, TiltInclude.String())) {
			wrong = fmt.Sprintf("%q reads back as another tilt", t.FileName)
		}
	default:
		wrong, want = t.Kind.String(), "NONE, INCLUDE or a file"
	}
	if wrong != "" {
		found.add(diag.Pos{}, "TILT", wrong, want)
	}
}

// WriteTilt writes the tilt file that TILT=<file> names: what stands after TILT=INCLUDE in a file that has it inside. It errs with a diag.List,
// without places, for numbers that Read would refuse.
func WriteTilt(w io.Writer, t Tilt) error {
	var found faults
	t.check(&marks{}, &found)
	if err := found.err(); err != nil {
		return err
	}
	var b bytes.Buffer
	t.write(&b)
	_, err := w.Write(b.Bytes())
	return err
}

func (t *Tilt) write(b *bytes.Buffer) {
	writeNumbers(b, []float64{float64(t.Geometry)})
	writeNumbers(b, []float64{float64(len(t.AnglesDeg))})
	writeNumbers(b, t.AnglesDeg)
	writeNumbers(b, t.Factors)
}
