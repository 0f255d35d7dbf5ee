package lm63

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lampswap/photometry"
)

func TestSamples(t *testing.T) {
	const ft = photometry.Foot
	simulated := "the file says that it is a computer simulation"
	typeB := "type B: the luminaire is taken to hang with its (0, 0) axis straight down, and the table is resampled to type C"
	for name, c := range map[string]struct {
		edition                   Edition
		kind                      PhotometricType
		tilt                      TiltKind
		shape                     string
		opening                   photometry.Opening
		lampLumens                float64
		planes, angles            int
		firstCandela, lastCandela float64 // as tabulated
		nadir                     float64 // cd, of the luminaire
		warnings                  []string
	}{
		"1986-quadrant.ies": {Edition1986, TypeC, TiltNone, "rectangular", photometry.Opening{Length: 8 * ft, Width: 0.35 * ft}, 5800, 5, 10, 1050, 120, 1050 * 0.95,
			[]string{"the candela are multiplied by the ballast-lamp photometric factor 0.95"}},
		"1991-tilt-include.ies": {Edition1991, TypeC, TiltInclude, "circular", photometry.Opening{Shape: photometry.Elliptic, Length: 1.5 * ft, Width: 1.5 * ft}, 3200, 1, 10, 1000, 0, 1000,
			[]string{"the tilt factor 0.98 at tilt 0 is not applied: the candela are taken as tested"}},
		"1991-latin1.ies": {Edition1991, TypeC, TiltNone, "sphere", photometry.Opening{Shape: photometry.Elliptic, Length: 0.4, Width: 0.4, Height: 0.4}, 1200, 1, 3, 80, 80, 80, nil},
		"1995-bilateral.ies": {Edition1995, TypeC, TiltNone, "rectangular with luminous sides", photometry.Opening{Length: 4 * ft, Width: 0.95 * ft, Height: 0.25 * ft},
			5800, 5, 13, 1120, 0, 1120, nil},
		"1995-type-b.ies": {Edition1995, TypeB, TiltNone, "rectangular", photometry.Opening{Length: 0.8 * ft, Width: 1.2 * ft}, 20000, 13, 13, 0, 0, 4000, []string{typeB}},
		"2002-absolute-full.ies": {Edition2002, TypeC, TiltNone, "circular", photometry.Opening{Shape: photometry.Elliptic, Length: 0.4, Width: 0.4}, -1, 9, 13,
			2771.58, 0, 2771.58, nil},
		"2002-front-back.ies": {Edition2002, TypeC, TiltNone, "horizontal cylinder along the 0-degree plane", photometry.Opening{Length: 1.2, Width: 0.04, Height: 0.04},
			2900, 7, 13, 0, 38.203, 0, nil},
		"2002-tilt-file.ies": {Edition2002, TypeC, TiltFile, "upright cylinder", photometry.Opening{Shape: photometry.Elliptic, Length: ft, Width: ft, Height: 1.25 * ft},
			9000, 1, 10, 1000, 0, 2500, nil},
		"2002-uplight.ies": {Edition2002, TypeC, TiltNone, "rectangular", photometry.Opening{Length: 4 * ft, Width: 0.5 * ft}, 5800, 5, 10, 120, 1500, 0, nil},
		"2002-bom-loose.ies": {Edition2002, TypeC, TiltNone, "rectangular", photometry.Opening{Length: 4 * ft, Width: 0.5 * ft}, 3000, 1, 3, 900, 10, 900,
			[]string{`the format line "iesna:lm-63-2002" is read as IESNA:LM-63-2002`, `what follows the last candela ("end" on line 22) is left out`}},
		"2002-type-b-mirrored.ies": {Edition2002, TypeB, TiltNone, "rectangular", photometry.Opening{Length: 0.8 * ft, Width: 1.2 * ft}, 20000, 10, 10, 4000, 0, 4000,
			[]string{typeB, "type B with vertical angles from 0: the table is taken as mirrored in the horizontal plane"}},
		"2019-open-circle.ies": {Edition2019, TypeC, TiltNone, "point", photometry.Opening{}, -1, 8, 13, 2771.58, 0, 2771.58,
			[]string{simulated, "the closing plane at 360 is left out: it is taken to be that at 0"}},
		"2019-type-a.ies": {Edition2019, TypeA, TiltNone, "rectangular", photometry.Opening{Length: 0.1, Width: 0.1}, -1, 7, 13, 0, 0, 4000,
			[]string{strings.Replace(typeB, "type B", "type A", 1)}},
	} {
		t.Run(name, func(t *testing.T) {
			f, err := ReadFile(filepath.Join("testdata", name))
			require.NoError(t, err)
			assert.Equal(t, c.edition, f.Edition)
			assert.Equal(t, c.kind, f.Type)
			assert.Equal(t, c.tilt, f.Tilt.Kind)
			assert.Equal(t, c.shape, f.Shape())
			require.Len(t, f.HorizontalDeg, c.planes)
			require.Len(t, f.VerticalDeg, c.angles)
			assert.Equal(t, c.firstCandela, f.Candela[0][0])
			assert.Equal(t, c.lastCandela, f.Candela[c.planes-1][c.angles-1])
			assert.Equal(t, c.warnings, f.Warnings)
			l := luminaireOf(t, f)
			assert.InDelta(t, c.opening.Length, l.Opening.Length, rounding)
			assert.InDelta(t, c.opening.Width, l.Opening.Width, rounding)
			assert.InDelta(t, c.opening.Height, l.Opening.Height, rounding)
			assert.Equal(t, c.opening.Shape, l.Opening.Shape)
			assert.InDelta(t, c.nadir, l.Distribution.Intensity(0, 0), rounding*4000)
			assert.Equal(t, c.lampLumens == -1, l.Absolute)
			if l.Absolute {
				c.lampLumens = l.Distribution.Flux()
			}
			assert.InEpsilon(t, c.lampLumens, l.LampLumens, rounding)
			assert.LessOrEqual(t, l.Efficiency(), 1.0)
		})
	}
	assert.Len(t, samples(t), 13, "a row for every sample")
}

func TestKeywordsAndTiltAreMirrored(t *testing.T) {
	f, err := ReadFile(filepath.Join("testdata", "1995-bilateral.ies"))
	require.NoError(t, err)
	assert.Equal(t, []Keyword{{"TEST", "synthetic: computed from a formula, measured on nothing"}, {"MANUFAC", "synthetic"}, {"BLOCK", ""},
		{"LUMCAT", "wraparound"}, {"MORE", "with luminous sides"}, {"ENDBLOCK", ""}}, f.Keywords)
	assert.Equal(t, "wraparound with luminous sides", f.Keyword("lumcat"))
	assert.Empty(t, f.Keyword("LAMP"))
	assert.Equal(t, "LM-63-1995, type C, 2 x 2900 lm, 5 x 13 candela, rectangular with luminous sides, 59 W", f.String())

	f, err = ReadFile(filepath.Join("testdata", "1991-latin1.ies"))
	require.NoError(t, err)
	assert.Equal(t, "Müller & Søn, synthétique", f.Keyword("MANUFAC"))

	f, err = ReadFile(filepath.Join("testdata", "1986-quadrant.ies"))
	require.NoError(t, err)
	assert.Equal(t, []Keyword{{"", "SYNTHETIC STRIP, TWO LAMPS"}, {"", "COMPUTED FROM A FORMULA, MEASURED ON NOTHING"}, {}}, f.Keywords)

	f, err = ReadFile(filepath.Join("testdata", "2002-tilt-file.ies"))
	require.NoError(t, err)
	assert.Equal(t, Tilt{TiltFile, "synthetic.tlt", 3, []float64{0, 15, 30, 45, 60, 75, 90}, []float64{1, 0.99, 0.96, 0.92, 0.87, 0.83, 0.8}}, f.Tilt)
}

// Whatever stands between the numbers and at the ends of lines, and whichever encoding, the file is the same.
func TestSeparatorsDoNotMatter(t *testing.T) {
	want, err := Read("a.ies", strings.NewReader(with(t, 2, "[TEST] Ø µ")))
	require.NoError(t, err)
	rapid.Check(t, func(t *rapid.T) {
		separator := rapid.SampledFrom([]string{" ", "\t", ",", " , ", "\r", "\n", "\r\n\r\n", ",\t\n "})
		var b strings.Builder
		latin := rapid.Bool().Draw(t, "Latin-1")
		if !latin && rapid.Bool().Draw(t, "byte-order mark") {
			b.WriteString("\ufeff")
		}
		end := rapid.SampledFrom([]string{"\n", "\r", "\r\n"}).Draw(t, "line end")
		test := "[TEST]  Ø µ\t"
		if latin {
			test = "[TEST] \xd8 \xb5"
		}
		b.WriteString(strings.Join([]string{sound[0], test, "  TILT = NONE", ""}, end))
		for number := range strings.FieldsSeq(strings.Join(sound[3:], " ")) {
			b.WriteString(number + separator.Draw(t, "separator"))
		}
		b.WriteString(rapid.SampledFrom([]string{"", "\x1a", "\n\n\x1a\x1a"}).Draw(t, "end of file"))
		got, err := Read("a.ies", strings.NewReader(b.String()))
		if err != nil || !assert.ObjectsAreEqual(content(want), content(got)) || len(got.Warnings) > 0 {
			t.Fatalf("%v\n%#v\nwant\n%#v", err, got, want)
		}
	})
}

func TestEditions(t *testing.T) {
	for _, c := range []struct {
		header  string
		edition Edition
		warning string
	}{
		{"IESNA91", Edition1991, ""},
		{"IESNA:LM-63-1995", Edition1995, ""},
		{"IESNA:LM-63-2002", Edition2002, ""},
		{"IES:LM-63-2019", Edition2019, ""},
		{"SYNTHETIC", Edition1986, ""},
		{"IES report on a synthetic luminaire", Edition1986, ""},
		{"IESNA:LM-63-1986", Edition1986, `the format line "IESNA:LM-63-1986" is read as LM-63-1986, which has none`},
		{"ies: lm-63-91", Edition1991, `the format line "ies: lm-63-91" is read as IESNA91`},
		{"IESNA:LM-63-2019", Edition2019, `the format line "IESNA:LM-63-2019" is read as IES:LM-63-2019`},
		{"\n\nIESNA91", Edition1991, "blank lines before the format line are left out"},
	} {
		f, err := Read("a.ies", strings.NewReader(with(t, 1, c.header)))
		require.NoError(t, err, c.header)
		assert.Equal(t, c.edition, f.Edition)
		assert.Equal(t, c.warning, strings.Join(f.Warnings, "\n"))
		assert.Equal(t, fmt.Sprintf("LM-63-%d", int(c.edition)), f.Edition.String())
	}
}

// Each thing that is tolerated is told.
func TestWarnings(t *testing.T) {
	for want, text := range map[string]string{
		"the ballast-lamp photometric factor 0.9 is not applied: the photometry is absolute":                                                                        with(t, 1, "IESNA91", 4, "1 -1 1 3 2 1 1 0.5 4 0", 5, "1 0.9 40"),
		"the candela are multiplied by the ballast-lamp photometric factor 0.9":                                                                                     with(t, 1, "IESNA91", 5, "1 0.9 40"),
		"0.9 after the ballast factor is not applied: LM-63-2002 keeps that field for future use":                                                                   with(t, 5, "1 0.9 40"),
		"the file generation type 1.5 is not known":                                                                                                                 with(t, 1, "IES:LM-63-2019", 5, "1 1.5 40"),
		"the file says that it is a computer simulation":                                                                                                            with(t, 1, "IES:LM-63-2019", 5, "1 1.00010 40"),
		"the ballast factor 0.9 is not applied: the photometry is absolute":                                                                                         with(t, 4, "1 -1 1 3 2 1 1 0.5 4 0"),
		"the input watts are 0: the file does not tell them":                                                                                                        with(t, 5, "0.9 1 0"),
		"vertical angles from 5 to 85 are none of 0-90, 90-180, 0-180: beyond them there is taken to be no light":                                                   with(t, 6, "5 45 85"),
		"the planes at 0 and 360 differ: that at 0 is used for both":                                                                                                with(t, 7, "0 360"),
		"the candela add up to 3940 lm, more than the 1000 lm of the lamps":                                                                                         with(t, 8, "1000 1000 0", 9, "1000 1000 0"),
		"all candela are 0: the luminaire gives no light":                                                                                                           with(t, 8, "0 0 0", 9, "0 0 0"),
		"width 0.5, length 4, height -1 are read as rectangular with luminous sides, 4 x 0.5 x 1 high ft: no form of the standard: the height is taken as positive": with(t, 4, "1 1000 1 3 2 1 1 0.5 4 -1"),
		"the tilt factor 0.9 at tilt 0 is not applied: the candela are taken as tested":                                                                             with(t, 3, "TILT=INCLUDE 1", 3, "TILT=INCLUDE\n1\n2\n0 90\n0.9 0.8"),
		"a [MORE] line has no keyword before it":                                                                                                                    with(t, 2, "[MORE] synthetic"),
		"a [BLOCK] is not closed by [ENDBLOCK]":                                                                                                                     with(t, 2, "[BLOCK]"),
		"an [ENDBLOCK] has no [BLOCK] before it":                                                                                                                    with(t, 2, "[ENDBLOCK]"),
		`what follows the last candela ("END" on line 10) is left out`:                                                                                              with(t) + "END",
	} {
		f, err := Read("a.ies", strings.NewReader(text))
		require.NoError(t, err, want)
		assert.Equal(t, []string{want}, f.Warnings)
	}
	tilt := func(string) ([]byte, error) { return []byte("1 1 0 1 # more"), nil }
	f, err := Reader{Tilt: tilt}.Read("a.ies", strings.NewReader(with(t, 3, "TILT=a.tlt")))
	require.NoError(t, err)
	assert.Equal(t, []string{`what follows the tilt factors in a.tlt ("#") is left out`}, f.Warnings)
}

func TestGeneration(t *testing.T) {
	for code, want := range map[string]string{"1.00001": "undefined or of an older file", "1.0001": "computer simulation", "1": "test at an unaccredited laboratory",
		"1.111": "test at an accredited laboratory, angles interpolated, lumens scaled", "3": ""} {
		f, err := Read("a.ies", strings.NewReader(with(t, 1, "IES:LM-63-2019", 5, "1 "+code+" 40")))
		require.NoError(t, err)
		assert.Equal(t, want, f.Generation())
	}
	assert.Empty(t, (&File{Edition: Edition2002, BallastLampFactor: 1}).Generation())
}

// The factors: only the multiplier and, in relative photometry up to 1991, the ballast-lamp photometric factor scale the candela.
func TestScale(t *testing.T) {
	for _, c := range []struct {
		header, lumens string
		scale          float64
	}{{"IESNA91", "1000", 2 * 0.9}, {"IESNA91", "-1", 2}, {"SYNTHETIC", "1000", 2 * 0.9}, {"IESNA:LM-63-1995", "1000", 2}, {"IES:LM-63-2019", "-1", 2}} {
		f, err := Read("a.ies", strings.NewReader(with(t, 1, c.header, 4, "3 "+c.lumens+" 2 3 2 1 1 0.5 4 0", 5, "0.5 0.9 40")))
		require.NoError(t, err)
		l := luminaireOf(t, f)
		assert.InEpsilon(t, 100*c.scale, l.Distribution.Intensity(0, 0), rounding)
		assert.Equal(t, 0.5, f.BallastFactor, "kept beside")
		if !l.Absolute {
			assert.Equal(t, 3000.0, l.LampLumens)
		}
	}
}

// The symmetric kinds of type C that tell the same light give the same light.
func TestSymmetricKindsAgree(t *testing.T) {
	intensity := func(h float64) string { // the same in every quadrant, and a straight line between 0 and 90
		for h > 180 {
			h -= 180
		}
		return fmt.Sprintf("%v %v 0", 200+min(h, 180-h), 100+min(h, 180-h))
	}
	var want *photometry.Distribution
	for _, planes := range [][]float64{{0, 45, 90}, {0, 45, 90, 135, 180}, {90, 135, 180, 225, 270}, {0, 45, 90, 135, 180, 225, 270, 315, 360},
		{0, 45, 90, 135, 180, 225, 270, 315}, {0.0004, 45, 90.0004}} {
		var angles, candela []string
		for _, h := range planes {
			angles, candela = append(angles, fmt.Sprint(h)), append(candela, intensity(float64(int(h))))
		}
		text := with(t, 4, fmt.Sprintf("1 1000 1 3 %d 1 1 0.5 4 0", len(planes)), 7, strings.Join(angles, " "), 8, strings.Join(candela, "\n"), 9, "")
		f, err := Read("a.ies", strings.NewReader(text))
		require.NoError(t, err)
		d := luminaireOf(t, f).Distribution
		if want == nil {
			want = d
		}
		assert.InEpsilon(t, want.Flux(), d.Flux(), rounding)
		for c := range 63 {
			assert.InEpsilon(t, want.Intensity(float64(c)/10, 0.5), d.Intensity(float64(c)/10, 0.5), rounding)
		}
	}
}

func BenchmarkRead(b *testing.B) {
	text, err := os.ReadFile(filepath.Join("testdata", "2002-absolute-full.ies"))
	require.NoError(b, err)
	b.SetBytes(int64(len(text)))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Read("a.ies", strings.NewReader(string(text))); err != nil {
			b.Fatal(err)
		}
	}
}
