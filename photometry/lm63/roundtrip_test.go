package lm63

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lampswap/photometry/diag"
)

// samples are the files of testdata; none is a fault of the test.
func samples(tb testing.TB) []string {
	tb.Helper()
	paths, err := filepath.Glob(filepath.Join("testdata", "*.ies"))
	if err != nil || len(paths) == 0 {
		tb.Fatalf("no samples in testdata: %v", err)
	}
	return paths
}

// reread writes a file and reads it again. What it wrote keeps to the line limits and ends every line in CR LF.
func reread(t interface{ Fatalf(string, ...any) }, f *File) *File {
	var b bytes.Buffer
	if err := Write(&b, f); err != nil {
		t.Fatalf("Write: %v", err)
	}
	lines := strings.Split(b.String(), "\r\n")
	for i, line := range lines {
		if strings.ContainsAny(line, "\r\n") || utf8.RuneCountInString(line) > f.Edition.lineLimit() {
			t.Fatalf("line %d: %q is no line of %v", i+1, line, f.Edition)
		}
	}
	tilt := func(name string) ([]byte, error) {
		if name != f.Tilt.FileName {
			return nil, fs.ErrNotExist
		}
		var b bytes.Buffer
		err := WriteTilt(&b, f.Tilt)
		return b.Bytes(), err
	}
	again, err := Reader{Tilt: tilt}.Read("again.ies", &b)
	if err != nil {
		t.Fatalf("%v\nin\n%s", err, strings.Join(lines, "\n"))
	}
	return again
}

// content is the file without its warnings, wherever it stood.
func content(f *File) File {
	c := *f
	c.Warnings, c.places = nil, [scalars]diag.Pos{}
	return c
}

func TestSamplesSurviveWriteAndRead(t *testing.T) {
	for _, path := range samples(t) {
		f, err := ReadFile(path)
		require.NoError(t, err)
		assert.Equal(t, content(f), content(reread(t, f)), path)
	}
}

func drawText(t *rapid.T, label string, most int) string {
	return trimmed(rapid.StringOfN(rapid.RuneFrom([]rune(`ab Z9,.;:/\"'=-_()[]éØ°µ`)), 0, most, -1).Draw(t, label))
}

func drawAngles(t *rapid.T, label string, ranges [][2]float64) []float64 {
	r := rapid.SampledFrom(ranges).Draw(t, label)
	n := rapid.IntRange(0, 6).Draw(t, label+" between")
	angles := []float64{r[0]}
	for i := range n {
		step := (r[1] - r[0]) / float64(n+1)
		angles = append(angles, r[0]+step*(float64(i)+rapid.Float64Range(0.6, 1.4).Draw(t, label)))
	}
	return append(angles, r[1])
}

func drawFile(t *rapid.T) *File {
	number := rapid.OneOf(rapid.Float64Range(1e-9, largestNumber), rapid.Float64Range(1e-300, 1), rapid.SampledFrom([]float64{1, 0.875, 1e12, 5e-324}))
	f := &File{
		Edition:           rapid.SampledFrom([]Edition{Edition1986, Edition1991, Edition1995, Edition2002, Edition2019}).Draw(t, "edition"),
		Lamps:             rapid.IntRange(1, 20).Draw(t, "lamps"),
		LumensPerLamp:     rapid.OneOf(number, rapid.Just(-1.0)).Draw(t, "lumens"),
		Multiplier:        number.Draw(t, "multiplier"),
		Type:              rapid.SampledFrom([]PhotometricType{TypeC, TypeB, TypeA}).Draw(t, "type"),
		Units:             rapid.SampledFrom([]Units{Feet, Metres}).Draw(t, "units"),
		Width:             rapid.Float64Range(-9, 9).Draw(t, "width"),
		Length:            rapid.Float64Range(-9, 9).Draw(t, "length"),
		Height:            rapid.SampledFrom([]float64{0, 0.1, -0.4}).Draw(t, "height"),
		BallastFactor:     number.Draw(t, "ballast factor"),
		BallastLampFactor: number.Draw(t, "ballast-lamp factor"),
		InputWatts:        number.Draw(t, "watts"),
	}
	for range rapid.IntRange(0, 4).Draw(t, "keywords") {
		name := rapid.SampledFrom([]string{"TEST", "MANUFAC", "_OWN KEY", "MORE", "BLOCK"}).Draw(t, "name")
		f.AddKeyword(name, drawText(t, "text", 400))
	}
	if f.Edition == Edition1986 {
		f.Keywords = append(f.Keywords, Keyword{Text: trimmed("label " + drawText(t, "label", 70))})
	}
	f.Tilt.Kind = rapid.SampledFrom([]TiltKind{TiltNone, TiltInclude, TiltFile}).Draw(t, "tilt")
	if f.Tilt.Kind != TiltNone {
		f.Tilt.Geometry = rapid.IntRange(1, 3).Draw(t, "geometry")
		f.Tilt.AnglesDeg = drawAngles(t, "tilt angles", [][2]float64{{0, 90}, {0, 180}})
		f.Tilt.Factors = rapid.SliceOfN(rapid.Float64Range(0, 2), len(f.Tilt.AnglesDeg), len(f.Tilt.AnglesDeg)).Draw(t, "factors")
	}
	if f.Tilt.Kind == TiltFile {
		f.Tilt.FileName = "synthetic 1.tlt"
	}
	if f.Type == TypeC {
		f.VerticalDeg = drawAngles(t, "vertical", [][2]float64{{0, 90}, {90, 180}, {0, 180}, {10, 80}})
		f.HorizontalDeg = []float64{0}
		if rapid.Bool().Draw(t, "planes") {
			f.HorizontalDeg = drawAngles(t, "horizontal", [][2]float64{{0, 90}, {0, 180}, {90, 270}, {0, 360}})
		}
	} else {
		f.VerticalDeg = drawAngles(t, "vertical", [][2]float64{{0, 90}, {-90, 90}})
		f.HorizontalDeg = drawAngles(t, "horizontal", [][2]float64{{0, 90}, {-90, 90}})
	}
	for range f.HorizontalDeg {
		n := len(f.VerticalDeg)
		f.Candela = append(f.Candela, rapid.SliceOfN(rapid.Float64Range(0, 1e6), n, n).Draw(t, "candela"))
	}
	return f
}

func TestWriteThenReadIsTheIdentity(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := drawFile(t)
		if again := reread(t, f); !assert.ObjectsAreEqual(content(f), content(again)) {
			t.Fatalf("wrote\n%#v\nread\n%#v", content(f), content(again))
		}
	})
}

func TestOverlongTextIsContinued(t *testing.T) {
	for _, edition := range []Edition{Edition1991, Edition2002} {
		f := File{Edition: edition}
		text := strings.TrimSpace(strings.Repeat("light loss ", 60))
		f.AddKeyword("OTHER", text)
		assert.Greater(t, len(f.Keywords), 2)
		assert.Equal(t, text, f.Keyword("other"), "nothing is lost")
		for i, k := range f.Keywords {
			assert.LessOrEqual(t, len(k.String()), edition.lineLimit())
			assert.Equal(t, i > 0, k.Name == "MORE")
		}
	}
	long := strings.TrimSpace(strings.Repeat("strip TILT=NONE ", 20))
	f, err := Read("a.ies", strings.NewReader(long+"\n"+strings.Join(sound[2:], "\n")))
	require.NoError(t, err)
	var joined []string
	for _, k := range f.Keywords {
		assert.Empty(t, k.Name)
		joined = append(joined, k.Text)
	}
	assert.Equal(t, long, strings.Join(joined, " "))
	assert.Equal(t, []string{"line 1 has 319 characters, LM-63-1986 allows 80: it is continued on the next line"}, f.Warnings)
}

func TestWriteRefusesWhatReadWould(t *testing.T) {
	good := func() *File {
		f, err := Read("a.ies", strings.NewReader(with(t)))
		require.NoError(t, err)
		return f
	}
	nan := func() float64 { zero := 0.0; return zero / zero }()
	for want, spoil := range map[string]func(f *File){
		"edition: 1999, want 1986, 1991, 1995, 2002 or 2019":                     func(f *File) { f.Edition = 1999 },
		"candela multiplier: NaN, want above 0":                                  func(f *File) { f.Multiplier = nan },
		"candela multiplier: 10000000000000, want above 0":                       func(f *File) { f.Multiplier = 1e13 },
		"width: NaN, want a length":                                              func(f *File) { f.Width = nan },
		"vertical angle: NaN, want 0 to 180 degrees":                             func(f *File) { f.VerticalDeg[1] = nan },
		"candela at horizontal 90, vertical 0: NaN, want at least 0":             func(f *File) { f.Candela[1][0] = nan },
		"candela: 2 values in row 1, want 3":                                     func(f *File) { f.Candela[1] = f.Candela[1][:2] },
		"TILT: TiltKind(7), want NONE, INCLUDE or a file":                        func(f *File) { f.Tilt.Kind = 7 },
		"TILT: nothing stands after TILT=, want " + wantTiltName:                 func(f *File) { f.Tilt = Tilt{TiltFile, "", 1, []float64{0}, []float64{1}} },
		`TILT: "include" reads back as another tilt, want ` + wantTiltName:       func(f *File) { f.Tilt = Tilt{TiltFile, "include", 1, []float64{0}, []float64{1}} },
		"tilt: 1 angles and 0 factors, want as many of both, at least one":       func(f *File) { f.Tilt = Tilt{TiltInclude, "", 1, []float64{0}, nil} },
		"TILT: NONE with other fields set, want no name, no geometry, no angles": func(f *File) { f.Tilt.Geometry = 1 },
		"TILT: INCLUDE with a file name, want no name":                           func(f *File) { f.Tilt = Tilt{TiltInclude, "a.tlt", 1, []float64{0}, []float64{1}} },
		"photometric type: 0, want 1 (type C), 2 (type B) or 3 (type A)":         func(f *File) { f.Type, f.VerticalDeg = 0, []float64{-90, 0, 90} },
		"candela: 1 rows for 2 horizontal and 3 vertical angles, want a row for each horizontal angle, at least one, with at least two vertical angles": func(f *File) { f.Candela = f.Candela[:1] },
		`keywords: "IESNA91" is a format line` + wantText:                     func(f *File) { f.Keywords[0] = Keyword{Text: "IESNA91"} },
		`keywords: "TILT=NONE" ends the text` + wantText:                      func(f *File) { f.Keywords[0] = Keyword{Text: "TILT=NONE"} },
		`keywords: "a\nb" has characters that are no line of text` + wantText: func(f *File) { f.Keywords[0] = Keyword{Text: "a\nb"} },
		`keywords: "[A]B] c" reads back as another keyword` + wantText:        func(f *File) { f.Keywords[0] = Keyword{"A]B", "c"} },
		"keywords: the line has 255 characters" + wantText:                    func(f *File) { f.Keywords[0] = Keyword{Text: strings.Repeat("x", 255)} },
	} {
		f := good()
		spoil(f)
		var b bytes.Buffer
		assert.EqualError(t, Write(&b, f), want)
		assert.Zero(t, b.Len(), "nothing is written")
		_, err := f.Luminaire()
		assert.EqualError(t, err, want, "Luminaire refuses it too")
	}
	require.ErrorIs(t, Write(brokenWriter{}, good()), os.ErrClosed)
	require.EqualError(t, WriteTilt(brokenWriter{}, Tilt{Geometry: 1}), "tilt: 0 angles and 0 factors, want as many of both, at least one")
	require.ErrorIs(t, WriteTilt(brokenWriter{}, Tilt{Geometry: 1, AnglesDeg: []float64{0}, Factors: []float64{1}}), os.ErrClosed)
}

const wantText = ", want a keyword or a line of text of at most 254 characters"

type brokenWriter struct{}

func (brokenWriter) Write([]byte) (int, error) { return 0, os.ErrClosed }

// FuzzRead: never panics, every fault has its line, and what is accepted gives a luminaire and survives write and read.
func FuzzRead(f *testing.F) {
	tilt, err := os.ReadFile(filepath.Join("testdata", "synthetic.tlt"))
	if err != nil {
		f.Fatal(err)
	}
	for _, path := range samples(f) {
		text, err := os.ReadFile(path)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(text, tilt)
	}
	for i := range sound { // short texts, which mutations change more of
		f.Add([]byte(strings.Join(sound[i:], "\n")), []byte("1 1 0 1"))
	}
	f.Add([]byte("IES\nTILT=a\n1 -1 1 2 1 2 1 0 0 0 1 1 1 0 90 0 90 1 1 1 1"), []byte("1 1 0 1"))
	f.Add([]byte("TILT=INCLUDE 1 1 0 1\n"), []byte("3 2 0 90 1 .5"))
	f.Fuzz(func(t *testing.T, text, tilt []byte) {
		beside := func(name string) ([]byte, error) {
			if strings.ContainsAny(name, `/\`) || name == ".." {
				return nil, fmt.Errorf("%q was asked for: %w", name, errors.ErrUnsupported)
			}
			return tilt, nil
		}
		file, err := Reader{Tilt: beside}.Read("fuzz.ies", bytes.NewReader(text))
		if err != nil {
			for _, e := range faultsOf(t, err) {
				if e.Pos.Line < 1 || e.Pos.Column < 1 || errors.Is(e, errors.ErrUnsupported) {
					t.Fatalf("%v", e)
				}
			}
			return
		}
		l, err := file.Luminaire()
		if err != nil {
			t.Fatalf("Luminaire: %v", err)
		}
		if flux := l.Distribution.Flux(); !(flux >= -1e-9*l.Distribution.Peak()) || flux > 1e40 {
			t.Fatalf("%v lm", flux)
		}
		if again := reread(t, file); !assert.ObjectsAreEqual(content(file), content(again)) {
			t.Fatalf("accepted\n%#v\nread back\n%#v", content(file), content(again))
		}
	})
}
