package lm63

import (
	"fmt"
	"math"

	"lampswap/photometry/diag"
)

// marks are the places of what was read, as offsets in its source, and which of it was no number and has been reported.
// The zero value is that of a File that was not read: nothing has a place.
type marks struct {
	src                                                    *source
	scalar                                                 [scalars]int
	bad                                                    [scalars]bool
	count                                                  [2]float64
	geometry                                               int
	vertical, horizontal, candela, tiltAngles, tiltFactors []int
	badVertical, badHorizontal                             bool
	badGeometry, badTiltAngles, badTiltFactors             bool
}

func (m *marks) at(offset int) diag.Pos {
	if m.src == nil {
		return diag.Pos{}
	}
	return m.src.pos(offset)
}

// nth is the i-th offset, 0 if nothing was read.
func nth(offsets []int, i int) int {
	if i >= len(offsets) {
		return 0
	}
	return offsets[i]
}

const (
	angleTolerance = 5e-4 // degrees by which the ends of a range may miss their round value
	angleStep      = 1e-3 // degrees by which angles must rise at least
)

func near(a, b float64) bool { return math.Abs(a-b) <= angleTolerance }

// check notes everything that is wrong with a file as a whole.
func (f *File) check(found *faults) {
	m := &marks{}
	f.checkText(found)
	if f.Tilt.Kind == TiltInclude || f.Tilt.Kind == TiltFile {
		f.Tilt.check(m, found)
	}
	f.checkScalars(m, found)
	f.checkTable(m, found)
}

func (f *File) checkText(found *faults) {
	if _, ok := headers[f.Edition]; !ok && f.Edition != Edition1986 {
		found.add(diag.Pos{}, "edition", fmt.Sprint(int(f.Edition)), "1986, 1991, 1995, 2002 or 2019")
	}
	limit := f.Edition.lineLimit()
	for _, k := range f.Keywords {
		if wrong := k.fault(limit); wrong != "" {
			found.add(diag.Pos{}, "keywords", wrong, fmt.Sprintf("a keyword or a line of text of at most %d characters", limit))
		}
	}
	f.Tilt.checkName(found)
}

// checkScalars notes which of the single numbers have no meaning.
func (f *File) checkScalars(m *marks, found *faults) {
	demand := func(s scalar, value float64, good bool, want string) {
		if !m.bad[s] && !(good && math.Abs(value) <= largestNumber) {
			found.add(m.at(m.scalar[s]), s.name(f.Edition), formatted(value), want)
		}
	}
	demand(lamps, float64(f.Lamps), f.Lamps >= 1, "at least 1")
	demand(lumensPerLamp, f.LumensPerLamp, f.LumensPerLamp > 0 || f.Absolute(), "above 0, or -1 for absolute photometry")
	demand(multiplier, f.Multiplier, f.Multiplier > 0, "above 0")
	demand(photometricType, float64(f.Type), f.Type >= TypeC && f.Type <= TypeA, "1 (type C), 2 (type B) or 3 (type A)")
	demand(units, float64(f.Units), f.Units == Feet || f.Units == Metres, "1 (feet) or 2 (metres)")
	demand(width, f.Width, true, "a length")
	demand(length, f.Length, true, "a length")
	demand(height, f.Height, true, "a length")
	demand(ballastFactor, f.BallastFactor, f.BallastFactor > 0, "above 0")
	if f.Edition <= Edition1991 {
		demand(ballastLampFactor, f.BallastLampFactor, f.BallastLampFactor > 0, "above 0")
	} else {
		demand(ballastLampFactor, f.BallastLampFactor, true, "a number")
	}
	demand(inputWatts, f.InputWatts, f.InputWatts >= 0, "at least 0")
}

// checkTable notes what is wrong with the angles and the candela.
func (f *File) checkTable(m *marks, found *faults) {
	if len(f.VerticalDeg) < 2 || len(f.HorizontalDeg) < 1 || len(f.Candela) != len(f.HorizontalDeg) {
		found.add(m.at(0), "candela", fmt.Sprintf("%d rows for %d horizontal and %d vertical angles", len(f.Candela), len(f.HorizontalDeg),
			len(f.VerticalDeg)), "a row for each horizontal angle, at least one, with at least two vertical angles")
		return
	}
	least, most := -90.0, 90.0
	if f.Type == TypeC {
		least, most = 0, 180
	}
	if !m.badVertical && checkAscending("vertical angle", f.VerticalDeg, least, most, m, m.vertical, found) {
		f.checkVerticalRange(m, found)
	}
	if f.Type == TypeC {
		most = 360
	}
	if !m.badHorizontal && checkAscending("horizontal angle", f.HorizontalDeg, least, most, m, m.horizontal, found) {
		f.checkHorizontalRange(m, found)
	}
	for h, row := range f.Candela {
		if len(row) != len(f.VerticalDeg) {
			found.add(m.at(0), "candela", fmt.Sprintf("%d values in row %d", len(row), h), fmt.Sprint(len(f.VerticalDeg)))
			return
		}
		for v, c := range row {
			if !(c >= 0 && c <= largestNumber) {
				key := fmt.Sprintf("candela at horizontal %v, vertical %v", f.HorizontalDeg[h], f.VerticalDeg[v])
				found.add(m.at(nth(m.candela, h*len(row)+v)), key, formatted(c), "at least 0")
			}
		}
	}
}

// checkAscending notes the first angle that is out of bounds or does not follow the one before. It returns false if there is one.
func checkAscending(key string, values []float64, least, most float64, m *marks, offsets []int, found *faults) bool {
	for i, a := range values {
		switch {
		case !(a >= least-angleTolerance && a <= most+angleTolerance):
			found.add(m.at(nth(offsets, i)), key, formatted(a), fmt.Sprintf("%v to %v degrees", least, most))
			return false
		case i > 0 && a-values[i-1] < angleStep*0.99: // the step itself, give or take rounding, is wide enough
			found.add(m.at(nth(offsets, i)), key, fmt.Sprintf("%s after %s", formatted(a), formatted(values[i-1])),
				fmt.Sprintf("angles that ascend, by at least %v degrees", angleStep))
			return false
		}
	}
	return true
}

// checkVerticalRange holds the vertical angles of types B and A to the ranges of the standard; for type C any range will do, with
// a warning (File.vertical).
func (f *File) checkVerticalRange(m *marks, found *faults) {
	first, last := f.VerticalDeg[0], f.VerticalDeg[len(f.VerticalDeg)-1]
	if f.Type == TypeC || (near(first, -90) || near(first, 0)) && near(last, 90) {
		return
	}
	f.rangeFault("vertical angles", f.VerticalDeg, near(first, -90) || near(first, 0), m, m.vertical, "-90 to 90 or 0 to 90 for type "+f.Type.String(), found)
}

func (f *File) checkHorizontalRange(m *marks, found *faults) {
	n := len(f.HorizontalDeg)
	first, last := f.HorizontalDeg[0], f.HorizontalDeg[n-1]
	if f.Type != TypeC {
		firstGood := near(first, -90) || near(first, 0)
		if !firstGood || !near(last, 90) {
			f.rangeFault("horizontal angles", f.HorizontalDeg, firstGood, m, m.horizontal, "-90 to 90 or 0 to 90 for type "+f.Type.String(), found)
		}
		return
	}
	switch {
	case near(first, 0) && (n == 1 || near(last, 90) || near(last, 180) || near(last, 360) || f.openCircle()):
	case near(first, 90) && near(last, 270):
	default:
		f.rangeFault("horizontal angles", f.HorizontalDeg, near(first, 0) || near(first, 90) && n > 1, m, m.horizontal,
			"0 alone, 0 to 90, 0 to 180, 90 to 270 or 0 to 360 for type C", found)
	}
}

func (f *File) rangeFault(key string, anglesDeg []float64, firstGood bool, m *marks, offsets []int, want string, found *faults) {
	at, n := 0, len(anglesDeg)
	if firstGood {
		at = n - 1
	}
	wrong := fmt.Sprintf("%s to %s", formatted(anglesDeg[0]), formatted(anglesDeg[n-1]))
	if n == 1 {
		wrong = formatted(anglesDeg[0]) + " alone"
	}
	found.add(m.at(nth(offsets, at)), key, wrong, want)
}

// openCircle tells whether the planes of a type C table go all round without the closing one at 360: the gap that is left is no wider than
// the others.
func (f *File) openCircle() bool {
	n := len(f.HorizontalDeg)
	last := f.HorizontalDeg[n-1]
	if n < 2 || !near(f.HorizontalDeg[0], 0) || last <= 180+angleTolerance || last >= 360-angleTolerance {
		return false
	}
	widest := 0.0
	for i := range n - 1 {
		widest = math.Max(widest, f.HorizontalDeg[i+1]-f.HorizontalDeg[i])
	}
	return 360-last <= widest+angleTolerance
}
