package lm63

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry/diag"
)

// A format line of an edition that is not known here is read as the one before it, which is said.
func TestUnknownEditionsAreRead(t *testing.T) {
	for line, want := range map[string]Edition{
		"IESNA:LM-63-2010": Edition2002, "IES:LM-63-2025": Edition2019, "IES:LM-63-2020A": Edition2019, "IESNA:LM-63-1999": Edition1995,
		"IESNA93": Edition1991, "IESNA77": Edition2019, "IES:LM-63-1972": Edition1986, "IESNA:LM-63": Edition2002, "IESNA:LM-63-XX": Edition2002,
		"IESNA:LM-63-99": Edition1995, "iesna: lm63-2005": Edition2002,
	} {
		f, err := Read("a.ies", strings.NewReader(with(t, 1, line)))
		require.NoError(t, err, line)
		assert.Equal(t, want, f.Edition, line)
		assert.Contains(t, strings.Join(f.Warnings, "\n"), line+`" names no edition that is known here: the file is read as `+want.String(), line)
		assert.Equal(t, []Keyword{{"TEST", "synthetic"}}, f.Keywords, line)
	}
}

// What fills the last block of a file, or ends it on old systems, is passed over; what stands within is not.
func TestFilledEndsArePassedOver(t *testing.T) {
	plain, err := Read("a.ies", strings.NewReader(with(t)))
	require.NoError(t, err)
	for _, end := range []string{"\x00", strings.Repeat("\x00", 300), "\x1a", "\r\n\x1a", "\x1a\x00\x00", "\x00\r\n\x00\n", "\x1a\r\n"} {
		f, err := Read("a.ies", strings.NewReader(with(t)+end))
		require.NoError(t, err, "%q", end)
		assert.Equal(t, content(plain), content(f), "%q", end)
		assert.Empty(t, f.Warnings, "%q", end)
	}
	_, err = Read("a.ies", strings.NewReader(with(t)+"\x00 more\x00"))
	assert.ErrorContains(t, err, "byte 0x00 is no text")
	_, err = Read("a.ies", strings.NewReader("\x00\x00"))
	assert.Error(t, err)
}

// Text that other systems write.
func TestEncodings(t *testing.T) {
	plain := with(t)
	f, err := Read("a.ies", strings.NewReader("\ufeff"+strings.ReplaceAll(plain, "\n", "\r\n")))
	require.NoError(t, err)
	assert.Equal(t, Edition2002, f.Edition)
	for _, mark := range []string{"\xff\xfe", "\xfe\xff"} {
		wide := mark
		for _, c := range plain {
			if mark == "\xff\xfe" {
				wide += string(c) + "\x00"
			} else {
				wide += "\x00" + string(c)
			}
		}
		_, err := Read("a.ies", strings.NewReader(wide))
		assert.EqualError(t, err, "a.ies:1:1: "+diag.WrongUTF16+", want "+diag.WantUTF8)
	}
}

func TestSizes(t *testing.T) {
	for want, f := range map[string]File{
		"diameter 0.5 ft":       {Edition: Edition2002, Units: Feet, Width: -0.5, Length: -0.5},
		"diameter 0.6 m":        {Edition: Edition1991, Units: Metres, Width: -0.6},
		"diameter 2 x 3 high m": {Edition: Edition2019, Units: Metres, Width: -2, Length: -2, Height: 3},
		"2 x 1 m":               {Edition: Edition2019, Units: Metres, Width: -1, Length: -2},
		"4 x 0.5 ft":            {Edition: Edition2019, Units: Feet, Width: 0.5, Length: 4},
		"4 x 0.5 x 0.2 high ft": {Edition: Edition2019, Units: Feet, Width: 0.5, Length: 4, Height: 0.2},
		"4 x 0.1 x 0.1 high ft": {Edition: Edition2019, Units: Feet, Width: -0.1, Length: 4, Height: -0.1},
	} {
		assert.Equal(t, want, f.Size())
	}
}

// A field knows its place, line by line, and its name.
func TestPlacesOfFields(t *testing.T) {
	f, err := Read("a.ies", strings.NewReader(with(t)))
	require.NoError(t, err)
	for field, want := range map[Field]diag.Pos{FieldLamps: {Line: 4, Column: 1}, FieldMultiplier: {Line: 4, Column: 8}, FieldLength: {Line: 4, Column: 22},
		FieldBallastFactor: {Line: 5, Column: 1}, FieldInputWatts: {Line: 5, Column: 7}} {
		at, name := f.Place(field)
		assert.Equal(t, want, at, name)
	}
}
