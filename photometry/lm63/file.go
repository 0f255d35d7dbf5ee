package lm63

import (
	"fmt"
	"strings"

	"lampswap/photometry/diag"
)

// MaxBytes is the size above which a photometric or a tilt file is refused. A whole sphere at half a degree takes about 2 MB.
const MaxBytes = 16 << 20

// An Edition of the standard is named by its year.
type Edition int

// The editions. 1986 has no format line; the others begin with theirs.
const (
	Edition1986 Edition = 1986
	Edition1991 Edition = 1991
	Edition1995 Edition = 1995
	Edition2002 Edition = 2002
	Edition2019 Edition = 2019
)

// String is the name of the edition, as LM-63-2002.
func (e Edition) String() string { return fmt.Sprintf("LM-63-%d", int(e)) }

// A PhotometricType is the kind of angles of a table, by the number that stands for it in the file.
type PhotometricType int

// The photometric types.
const (
	TypeC PhotometricType = 1
	TypeB PhotometricType = 2
	TypeA PhotometricType = 3
)

// String is the letter of the type.
func (t PhotometricType) String() string {
	switch t {
	case TypeC:
		return "C"
	case TypeB:
		return "B"
	case TypeA:
		return "A"
	}
	return fmt.Sprintf("PhotometricType(%d)", int(t))
}

// Units are those of the luminous dimensions, by the number that stands for them in the file.
type Units int

// The units of length.
const (
	Feet   Units = 1
	Metres Units = 2
)

// String is the unit's name.
func (u Units) String() string {
	switch u {
	case Feet:
		return "feet"
	case Metres:
		return "metres"
	}
	return fmt.Sprintf("Units(%d)", int(u))
}

// A Keyword is one line of the text above TILT=, in the file's order: "[Name] Text", or Text alone where Name is empty (the label
// lines of LM-63-1986). [MORE], which continues the line before it, [BLOCK] and [ENDBLOCK] are keywords like the others.
type Keyword struct{ Name, Text string }

// A TiltKind is what TILT= says.
type TiltKind int

// The kinds of tilt.
const (
	TiltNone TiltKind = iota
	TiltInclude
	TiltFile
)

// String is what stands after TILT=.
func (k TiltKind) String() string {
	switch k {
	case TiltNone:
		return "NONE"
	case TiltInclude:
		return "INCLUDE"
	case TiltFile:
		return "<file>"
	}
	return fmt.Sprintf("TiltKind(%d)", int(k))
}

// A Tilt tells how the lamps' light changes when the luminaire is tilted.
type Tilt struct {
	Kind      TiltKind
	FileName  string    // of TiltFile: a file beside the photometric file, without any folder
	Geometry  int       // 1 lamp vertical, 2 horizontal and stays so, 3 horizontal and tilts along; 0 for TiltNone
	AnglesDeg []float64 // tilt from the tested position, ascending, 0 to 180
	Factors   []float64 // by which the candela are to be multiplied at each angle
}

// A File mirrors an LM-63 file: every number as it stands there, in the file's units.
type File struct {
	Edition  Edition
	Keywords []Keyword
	Tilt     Tilt

	Lamps                 int
	LumensPerLamp         float64 // lm; -1 for absolute photometry
	Multiplier            float64
	Type                  PhotometricType
	Units                 Units
	Width, Length, Height float64 // of the luminous opening, in Units; negative for round shapes, see Shape
	BallastFactor         float64
	// BallastLampFactor is the field after the ballast factor: the ballast-lamp photometric factor up to 1991, "future use"
	// in 1995 and 2002, the file generation type in 2019.
	BallastLampFactor float64
	InputWatts        float64 // W; 0 where the file does not tell

	VerticalDeg, HorizontalDeg []float64
	Candela                    [][]float64 // as tabulated, [horizontal][vertical]

	// Warnings tell, a sentence each, what Read tolerated or left out of account. Write ignores them.
	Warnings []string

	places [scalars]diag.Pos // of the single numbers, as Read found them
}

// Absolute tells whether the candela are the luminaire's own, whatever its lamps: lumens per lamp of -1.
func (f *File) Absolute() bool { return f.LumensPerLamp == -1 }

// Keyword returns the text of the first keyword of that name, letter case ignored, with its [MORE] lines joined by spaces;
// "" if there is none.
func (f *File) Keyword(name string) string {
	for i, k := range f.Keywords {
		if k.Name == "" || !strings.EqualFold(k.Name, name) {
			continue
		}
		text := []string{k.Text}
		for _, more := range f.Keywords[i+1:] {
			if !strings.EqualFold(more.Name, "MORE") {
				break
			}
			text = append(text, more.Text)
		}
		return strings.Join(text, " ")
	}
	return ""
}

// AddKeyword appends a keyword line, and [MORE] lines for what its edition's line limit leaves over.
func (f *File) AddKeyword(name, text string) {
	f.Keywords = append(f.Keywords, fitted(Keyword{name, trimmed(text)}, f.Edition.lineLimit())...)
}

// generations are the file generation types of LM-63-2019; from memory, unverified.
var generations = map[float64]string{
	1.00001: "undefined or of an older file",
	1.00010: "computer simulation",
	1.00000: "test at an unaccredited laboratory",
	1.00100: "test at an unaccredited laboratory, lumens scaled",
	1.01000: "test at an unaccredited laboratory, angles interpolated",
	1.01100: "test at an unaccredited laboratory, angles interpolated, lumens scaled",
	1.10000: "test at an accredited laboratory",
	1.10100: "test at an accredited laboratory, lumens scaled",
	1.11000: "test at an accredited laboratory, angles interpolated",
	1.11100: "test at an accredited laboratory, angles interpolated, lumens scaled",
}

// Simulated is the BallastLampFactor that marks an LM-63-2019 file as a computer simulation.
const Simulated = 1.00010

// Simulation is the warning of such a file.
const Simulation = "the file says that it is a computer simulation"

// Generation says in words how the file came about, by its LM-63-2019 file generation type; "" for older editions and
// for codes that are not known. The codes are from memory, unverified.
func (f *File) Generation() string {
	if f.Edition != Edition2019 {
		return ""
	}
	return generations[f.BallastLampFactor]
}
