package lm63

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/iotest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry/diag"
)

// sound is a file without a fault, a line an element.
var sound = []string{
	"IESNA:LM-63-2002",         // 1
	"[TEST] synthetic",         // 2
	"TILT=NONE",                // 3
	"1 1000 1 3 2 1 1 0.5 4 0", // 4
	"0.9 1 40",                 // 5
	"0 45 90",                  // 6
	"0 90",                     // 7
	"100 70 0",                 // 8
	"100 60 0",                 // 9
}

// with is the sound file with some lines replaced: line number, text, line number, text...
func with(t *testing.T, edits ...any) string {
	t.Helper()
	lines := append([]string(nil), sound...)
	for i := 0; i < len(edits); i += 2 {
		lines[edits[i].(int)-1] = edits[i+1].(string)
	}
	return strings.Join(lines, "\n") + "\n"
}

func TestSoundFileIsAccepted(t *testing.T) {
	f, err := Read("a.ies", strings.NewReader(with(t)))
	require.NoError(t, err)
	assert.Empty(t, f.Warnings)
}

func TestWrongFilesAreRefusedWithTheirPlace(t *testing.T) {
	const numberOf = "a.ies:4:7: candela multiplier: "
	const ranges = ", want 0 alone, 0 to 90, 0 to 180, 90 to 270 or 0 to 360 for type C"
	tried := map[string]string{}
	for name, c := range map[string]struct {
		text string
		want string // the whole message, line by line
	}{
		"empty":            {"", "a.ies:1:1: the file is empty, want an LM-63 photometric file"},
		"blank":            {" \n\n", "a.ies:1:1: TILT: the file ends without a TILT= line, want " + wantTilt},
		"UTF-16":           {"\xff\xfeT\x00I\x00", "a.ies:1:1: the file is UTF-16 text, want UTF-8: choose it as the encoding where the editor saves the file"},
		"binary":           {with(t, 2, "[TEST] \x00"), "a.ies:2:8: byte 0x00 is no text, want a text file"},
		"delete character": {with(t, 8, "100 \x7f 0"), "a.ies:8:5: byte 0x7f is no text, want a text file"},
		"two format lines": {with(t, 2, "IESNA91"),
			`a.ies:2:1: "IESNA91" is a format line, want a keyword or a line of text of at most 254 characters`},
		"overlong keyword": {with(t, 2, "["+strings.Repeat("K", 41)+"] text"),
			"a.ies:2:1: the keyword has 41 letters, want a keyword or a line of text of at most 254 characters"},
		"overlong line": {with(t, 2, "[TEST] "+strings.Repeat("x", 2000)), "a.ies:2:1: the line has 2007 bytes, want at most 2000"},
		"no tilt":       {with(t, 3, ""), "a.ies:9:9: TILT: the file ends without a TILT= line, want " + wantTilt},
		"tilt without =": {with(t, 3, "TILT NONE"),
			`a.ies:3:1: TILT: "TILT NONE", want ` + wantTilt},
		"tilt of nothing":   {with(t, 3, "TILT="), "a.ies:3:1: TILT: nothing stands after TILT=, want " + wantTilt},
		"tilt above":        {with(t, 3, "TILT=../secret.tlt"), `a.ies:3:1: TILT: "../secret.tlt" leads out of the folder, want ` + wantTilt},
		"tilt at the root":  {with(t, 3, "TILT=/etc/passwd"), `a.ies:3:1: TILT: "/etc/passwd" leads out of the folder, want ` + wantTilt},
		"tilt of a drive":   {with(t, 3, `TILT=C:\a.tlt`), `a.ies:3:1: TILT: "C:\\a.tlt" leads out of the folder, want ` + wantTilt},
		"tilt of dots":      {with(t, 3, "TILT=.."), `a.ies:3:1: TILT: ".." leads out of the folder, want ` + wantTilt},
		"tilt without end":  {with(t, 3, "TILT="+strings.Repeat("a", 76)), "a.ies:3:1: TILT: a name of 76 bytes stands after TILT=, want " + wantTilt},
		"tilt, no resolver": {with(t, 3, "TILT=a.tlt"), `a.ies:3:1: TILT: "a.tlt" names a file, and there is no folder to look for it, want TILT=NONE or TILT=INCLUDE`},
		"tilt geometry": {with(t, 3, "TILT=INCLUDE\n4\n2\n0 90\n1 1"),
			"a.ies:4:1: lamp-to-luminaire geometry: 4, want 1, 2 or 3"},
		"tilt geometry a word": {with(t, 3, "TILT=INCLUDE\nup\n2\n0 90\n1 1"),
			`a.ies:4:1: lamp-to-luminaire geometry: "up" is not a number, want 1, 2 or 3`},
		"tilt count of 0": {with(t, 3, "TILT=INCLUDE\n1\n0"),
			"a.ies:5:1: number of tilt angles: 0, want at least 1, with as many angles and factors after it (24 numbers follow)"},
		"tilt count beyond the file": {with(t, 3, "TILT=INCLUDE\n1\n1e9\n0 90\n1 1"),
			"a.ies:5:1: number of tilt angles: 1000000000, want at least 1, with as many angles and factors after it (28 numbers follow)"},
		"tilt count a fraction": {with(t, 3, "TILT=INCLUDE\n1\n1.5"), "a.ies:5:1: number of tilt angles: 1.5, want a whole number"},
		"tilt angles fall": {with(t, 3, "TILT=INCLUDE\n1\n2\n90 0\n1 1"),
			"a.ies:6:4: tilt angle: 0 after 90, want angles that ascend, by at least 0.001 degrees"},
		"tilt angle beyond 180": {with(t, 3, "TILT=INCLUDE\n1\n2\n0 181\n1 1"), "a.ies:6:3: tilt angle: 181, want 0 to 180 degrees"},
		"tilt factor negative":  {with(t, 3, "TILT=INCLUDE\n1\n2\n0 90\n1 -1"), "a.ies:7:3: tilt factor: -1, want at least 0"},
		"ends in the tilt":      {"IESNA91\nTILT=INCLUDE\n1\n", "a.ies:3:2: number of tilt angles: the file ends, want a whole number"},

		"lamps 0":             {with(t, 4, "0 1000 1 3 2 1 1 0.5 4 0"), "a.ies:4:1: number of lamps: 0, want at least 1"},
		"lamps a fraction":    {with(t, 4, "1.5 1000 1 3 2 1 1 0.5 4 0"), "a.ies:4:1: number of lamps: 1.5, want a whole number"},
		"lumens 0":            {with(t, 4, "1 0 1 3 2 1 1 0.5 4 0"), "a.ies:4:3: lumens per lamp: 0, want above 0, or -1 for absolute photometry"},
		"lumens -2":           {with(t, 4, "1 -2 1 3 2 1 1 0.5 4 0"), "a.ies:4:3: lumens per lamp: -2, want above 0, or -1 for absolute photometry"},
		"multiplier 0":        {with(t, 4, "1 100 0 3 2 1 1 0.5 4 0"), numberOf + "0, want above 0"},
		"multiplier a word":   {with(t, 4, "1 100 one 3 2 1 1 0.5 4 0"), numberOf + `"one" is not a number, want a number`},
		"multiplier NaN":      {with(t, 4, "1 100 NaN 3 2 1 1 0.5 4 0"), numberOf + `"NaN" is not a number, want a number`},
		"multiplier infinite": {with(t, 4, "1 100 +Inf 3 2 1 1 0.5 4 0"), numberOf + `"+Inf" is not a number, want a number`},
		"multiplier beyond all": {with(t, 4, "1 100 1e999 3 2 1 1 0.5 4 0"),
			numberOf + `"1e999" is beyond 1e+12, want a number`},
		"multiplier hexadecimal": {with(t, 4, "1 100 0x1p4 3 2 1 1 0.5 4 0"), numberOf + `"0x1p4" is not a number, want a number`},
		"multiplier of two dots": {with(t, 4, "1 100 1.0.0 3 2 1 1 0.5 4 0"), numberOf + `"1.0.0" is not a number, want a number`},
		"multiplier overlong": {with(t, 4, "1 100 1."+strings.Repeat("0", 39)+" 3 2 1 1 0.5 4 0"),
			numberOf + `"1.00000000000000000000000000000000000000"... has 41 characters, want a number`},
		"vertical count 1": {with(t, 4, "1 1000 1 1 2 1 1 0.5 4 0"), "a.ies:4:10: number of vertical angles: 1, want at least 2"},
		"vertical count beyond the file": {with(t, 4, "1 1000 1 4e9 2 1 1 0.5 4 0"),
			"a.ies:4:10: number of vertical angles: 4000000000, but only 11 numbers follow"},
		"horizontal count 0": {with(t, 4, "1 1000 1 3 0 1 1 0.5 4 0"), "a.ies:4:12: number of horizontal angles: 0, want at least 1"},
		"horizontal count negative": {with(t, 4, "1 1000 1 3 -2 1 1 0.5 4 0"),
			"a.ies:4:12: number of horizontal angles: -2, want at least 1"},
		"counts beyond the file": {with(t, 4, "1 1000 1 11 11 1 1 0.5 4 0"),
			"a.ies:9:9: candela: the file ends after 11 numbers of angles and candela, want 143: 11 vertical and 11 horizontal angles and the candela of each pair"},
		"type 4":                   {with(t, 4, "1 1000 1 3 2 4 1 0.5 4 0"), "a.ies:4:14: photometric type: 4, want 1 (type C), 2 (type B) or 3 (type A)"},
		"units 3":                  {with(t, 4, "1 1000 1 3 2 1 3 0.5 4 0"), "a.ies:4:16: units type: 3, want 1 (feet) or 2 (metres)"},
		"width a word":             {with(t, 4, "1 1000 1 3 2 1 1 6in 4 0"), `a.ies:4:18: width: "6in" is not a number, want a number`},
		"ballast factor 0":         {with(t, 5, "0 1 40"), "a.ies:5:1: ballast factor: 0, want above 0"},
		"old ballast-lamp factor":  {with(t, 1, "IESNA91", 5, "0.9 0 40"), "a.ies:5:5: ballast-lamp photometric factor: 0, want above 0"},
		"future use a word":        {with(t, 5, "0.9 x 40"), `a.ies:5:5: future use: "x" is not a number, want a number`},
		"generation type a word":   {with(t, 1, "IES:LM-63-2019", 5, "0.9 x 40"), `a.ies:5:5: file generation type: "x" is not a number, want a number`},
		"watts negative":           {with(t, 5, "0.9 1 -40"), "a.ies:5:7: input watts: -40, want at least 0"},
		"ends before the watts":    {strings.Join(sound[:4], "\n") + "\n0.9 1\n", "a.ies:5:6: input watts: the file ends, want a number"},
		"vertical angles fall":     {with(t, 6, "0 45 40"), "a.ies:6:6: vertical angle: 40 after 45, want angles that ascend, by at least 0.001 degrees"},
		"vertical angles stay":     {with(t, 6, "0 45 45"), "a.ies:6:6: vertical angle: 45 after 45, want angles that ascend, by at least 0.001 degrees"},
		"vertical beyond 180":      {with(t, 6, "0 90 185"), "a.ies:6:6: vertical angle: 185, want 0 to 180 degrees"},
		"vertical negative":        {with(t, 6, "-10 0 90"), "a.ies:6:1: vertical angle: -10, want 0 to 180 degrees"},
		"vertical a word":          {with(t, 6, "0 4S 90"), `a.ies:6:3: vertical angle: "4S" is not a number, want a number`},
		"horizontal beyond 360":    {with(t, 7, "0 361"), "a.ies:7:3: horizontal angle: 361, want 0 to 360 degrees"},
		"horizontal to 100":        {with(t, 7, "0 100"), "a.ies:7:3: horizontal angles: 0 to 100" + ranges},
		"horizontal from 10":       {with(t, 7, "10 90"), "a.ies:7:1: horizontal angles: 10 to 90" + ranges},
		"horizontal 90 to 180":     {with(t, 7, "90 180"), "a.ies:7:4: horizontal angles: 90 to 180" + ranges},
		"one plane at 45":          {with(t, 4, "1 1000 1 3 1 1 1 0.5 4 0", 7, "45", 9, ""), "a.ies:7:1: horizontal angles: 45 alone" + ranges},
		"circle with a wide gap":   {with(t, 4, "1 1000 1 3 3 1 1 0.5 4 0", 7, "0 100 200", 9, "1 2 3 4 5 6"), "a.ies:7:7: horizontal angles: 0 to 200" + ranges},
		"type B vertical":          {with(t, 4, "1 1000 1 3 2 2 1 0.5 4 0", 6, "0 45 80"), "a.ies:6:6: vertical angles: 0 to 80, want -90 to 90 or 0 to 90 for type B"},
		"type A horizontal":        {with(t, 4, "1 1000 1 3 2 3 1 0.5 4 0", 7, "-45 90"), "a.ies:7:1: horizontal angles: -45 to 90, want -90 to 90 or 0 to 90 for type A"},
		"type A beyond 90":         {with(t, 4, "1 1000 1 3 2 3 1 0.5 4 0", 7, "0 180"), "a.ies:7:3: horizontal angle: 180, want -90 to 90 degrees"},
		"candela negative":         {with(t, 9, "100 -60 0"), "a.ies:9:5: candela at horizontal 90, vertical 45: -60, want at least 0"},
		"candela a word":           {with(t, 9, "100 60 none"), `a.ies:9:8: candela: "none" is not a number, want a number`},
		"candela with a unit sign": {with(t, 9, "100 60 5\xb0"), `a.ies:9:8: candela: "5\xb0" is not a number, want a number`},
		"candela missing": {with(t, 9, "100 60"),
			"a.ies:9:7: candela: the file ends after 10 numbers of angles and candela, want 11: 3 vertical and 2 horizontal angles and the candela of each pair"},
		"candela left over": {with(t, 9, "100 60 0 0"), `a.ies:9:10: candela: "0" follows the last candela, want no more than 3 vertical x 2 horizontal candela`},
		"several at once": {with(t, 4, "0 1000 x 3 2 1 9 0.5 4 0", 5, "0 1 -4", 6, "0 90 45", 9, "-1 0 NaN"),
			`a.ies:4:1: number of lamps: 0, want at least 1
a.ies:4:8: candela multiplier: "x" is not a number, want a number
a.ies:4:16: units type: 9, want 1 (feet) or 2 (metres)
a.ies:5:1: ballast factor: 0, want above 0
a.ies:5:5: input watts: -4, want at least 0
a.ies:6:6: vertical angle: 45 after 90, want angles that ascend, by at least 0.001 degrees
a.ies:9:1: candela at horizontal 90, vertical 0: -1, want at least 0
a.ies:9:6: candela: "NaN" is not a number, want a number`},
	} {
		assert.Empty(t, tried[c.text], "%s is tried twice", name)
		tried[c.text] = name
		t.Run(name, func(t *testing.T) {
			_, err := Read("a.ies", strings.NewReader(c.text))
			require.Error(t, err)
			assert.Equal(t, c.want, err.Error())
			for _, e := range faultsOf(t, err) {
				assert.Positive(t, e.Pos.Line)
			}
		})
	}
}

func faultsOf(tb testing.TB, err error) diag.List {
	tb.Helper()
	var list diag.List
	if !errors.As(err, &list) {
		tb.Fatalf("%v (%T) is no diag.List", err, err)
	}
	return list
}

func TestFaultsAreNotListedWithoutEnd(t *testing.T) {
	text := strings.Join(sound[:3], "\n") + "\n1 1000 1 100 1 1 1 0.5 4 0\n0.9 1 40\n"
	for i := range 100 {
		text += formatted(float64(i)) + " "
	}
	text += "\n0\n" + strings.Repeat("-1\n", 100)
	_, err := Read("a.ies", strings.NewReader(text))
	list := faultsOf(t, err)
	require.Len(t, list, mostFaults+1)
	assert.Equal(t, "a.ies:47:1: 60 more faults are not listed", list[mostFaults].Error())
}

func TestSizeIsBounded(t *testing.T) {
	_, err := Read("a.ies", io.MultiReader(strings.NewReader("IESNA91\n"), iotest.DataErrReader(endless{})))
	require.EqualError(t, err, "a.ies:1:1: the file is too long, want at most 16777216 bytes")
	_, err = Read("a.ies", strings.NewReader(strings.Repeat("\n", mostLabels+1)+"TILT=NONE\n"))
	require.EqualError(t, err, "a.ies:10001:1: 10001 lines stand above TILT=, want at most 10000")
}

type endless struct{}

func (endless) Read(p []byte) (int, error) {
	for i := range p {
		p[i] = '\n'
	}
	return len(p), nil
}

func TestFailureOfTheSourceIsWrapped(t *testing.T) {
	_, err := Read("a.ies", iotest.ErrReader(io.ErrClosedPipe))
	require.ErrorIs(t, err, io.ErrClosedPipe)
	require.EqualError(t, err, "read a.ies: io: read/write on closed pipe")
}

func TestTiltFilesStayInTheirFolder(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "outside.tlt"), []byte("1 1 0 1"), 0o600))
	folder := filepath.Join(dir, "folder")
	require.NoError(t, os.Mkdir(folder, 0o700))
	require.NoError(t, os.Symlink(filepath.Join("..", "outside.tlt"), filepath.Join(folder, "link.tlt")))
	require.NoError(t, os.Mkdir(filepath.Join(folder, "sub.tlt"), 0o700))
	require.NoError(t, os.WriteFile(filepath.Join(folder, "bad.tlt"), []byte("9\n1\n0\n-1\n"), 0o600))
	require.NoError(t, os.WriteFile(filepath.Join(folder, "short.tlt"), []byte("1\n"), 0o600))
	require.NoError(t, os.WriteFile(filepath.Join(folder, "good.tlt"), []byte("1 1 0 1"), 0o600))
	path := filepath.Join(folder, "a.ies")
	read := func(tilt string) (*File, error) {
		require.NoError(t, os.WriteFile(path, []byte(with(t, 3, "TILT="+tilt)), 0o600))
		return ReadFile(path)
	}
	f, err := read("GOOD.TLT")
	require.NoError(t, err)
	assert.Equal(t, Tilt{Kind: TiltFile, FileName: "GOOD.TLT", Geometry: 1, AnglesDeg: []float64{0}, Factors: []float64{1}}, f.Tilt)
	for name, want := range map[string]string{
		"link.tlt": `a.ies:3:1: TILT: "link.tlt" cannot be read, want ` + wantTiltName + ": path escapes from parent",
		"sub.tlt":  `a.ies:3:1: TILT: "sub.tlt" cannot be read, want ` + wantTiltName + ": not a regular file",
		"none.tlt": `a.ies:3:1: TILT: "none.tlt" cannot be read, want ` + wantTiltName + ": no such file or directory",
		"bad.tlt": "bad.tlt:1:1: lamp-to-luminaire geometry: 9, want 1, 2 or 3\n" +
			"bad.tlt:4:1: tilt factor: -1, want at least 0",
		"short.tlt": "short.tlt:1:2: number of tilt angles: the file ends, want a whole number",
	} {
		_, err := read(name)
		require.Error(t, err, name)
		assert.Equal(t, want, strings.ReplaceAll(err.Error(), folder+string(filepath.Separator), ""), name)
	}
	_, err = read("none.tlt")
	require.ErrorIs(t, err, os.ErrNotExist, "the cause can be told")
	_, err = ReadFile(filepath.Join(folder, "missing.ies"))
	require.ErrorIs(t, err, os.ErrNotExist)
}
