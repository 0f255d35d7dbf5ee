package tomlfile

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A number as a person writes it: what is said of it as the value of a key, and of the same as a text in quotes.
func TestNumbersAsPeopleWriteThem(t *testing.T) {
	for text, want := range map[string]string{
		"13,950":    "13950, no thousands separators; or 13.950, if that is a decimal comma",
		"1,234,567": "1234567, no thousands separators",
		"13,950.50": "13950.50, no thousands separators",
		"1.234,56":  "1234.56, no thousands separators",
		"1.234.567": "1234567, no thousands separators",
		"13 950":    "13950, no thousands separators",
		"13'950":    "13950, no thousands separators",
		"0,88":      "0.88, with a decimal point",
		"-2,5":      "-2.5, with a decimal point",
		"0,500":     "0.500, with a decimal point",
		"−5":        "-5, with the minus of the keyboard",
		".5":        "0.5, with digits on both sides of the point",
		"-.5":       "-0.5, with digits on both sides of the point",
		"5.":        "5.0, with digits on both sides of the point",
		"007":       "7, without zeros before it",
		"18 ft":     "the number alone, such as 18, in the unit that the key has",
		"18ft":      "the number alone, such as 18, in the unit that the key has",
		"18'":       "the number alone, such as 18, in the unit that the key has",
		"5,5 m":     "the number alone, such as 5.5, in the unit that the key has",
		"$13,950":   "the number alone, such as 13950, in the unit that the key has",
		"13950 USD": "the number alone, such as 13950, in the unit that the key has",
		"60%":       "60 without the sign; where a share is asked for, a fraction such as 0.6",
		"1/2":       "a decimal number, without a fraction",
		"–":         "a number, or no such line if there is none",
		"-":         "a number, or no such line if there is none",
	} {
		f := Read("a.toml", []byte("a = 1\n[room]\nx = "+text+" # noted\n"))
		f.Root().Table("room").Number("x", Any)
		is := "is " + text
		if strings.Trim(text, "-–") == "" {
			is = "is a dash"
		}
		assert.EqualError(t, f.Err(), "a.toml:3:5: room.x: "+is+", want "+want, text)

		if strings.ContainsAny(text, "'") {
			continue
		}
		f = Read("a.toml", []byte(`x = "`+text+`"`))
		f.Root().Number("x", Any)
		f.Root().Count("x", 1, 2)
		said := `a.toml:1:5: x: is the text "` + text + `", want ` + want + ", without quotes"
		assert.EqualError(t, f.Err(), said+"\n"+said, text)
	}
}

// What is no number at all is told as before.
func TestWhatIsNoSlip(t *testing.T) {
	for _, value := range []string{"abc", "", "1-2-3", "2026-13-45", "+-3", "ca. 5", "12:75", "1,2,3,4", "1,23,456"} {
		f := Read("a.toml", []byte("x = "+value+"\n"))
		assert.ErrorContains(t, f.Err(), "want TOML", value)
		assert.Empty(t, quoted(value), value)
	}
	for _, value := range []string{"1_000", "1e3", "0x10", "2026-04-30", "-5", "+5.5"} {
		assert.NoError(t, Read("a.toml", []byte("x = "+value+"\n")).Err(), value)
	}
}

// Several slips are told at once, with what else is wrong, and their keys count as there.
func TestSlipsAreToldWithTheRest(t *testing.T) {
	f := Read("a.toml", []byte("[room]\r\nlength = 120 ft\r\nrho = { ceiling = 0,50, walls = 0,30 }\r\nodd = 1\r\nwidth = \"wide\"\r\n"))
	r := f.Root().Table("room")
	_, ok := r.Number("length", Positive)
	assert.False(t, ok)
	assert.True(t, r.Has("length"), "it is not missing")
	r.Number("width", Positive)
	rho := r.Table("rho")
	rho.Number("ceiling", Fraction)
	rho.Number("walls", Fraction)
	rho.Done()
	r.Done()
	assert.EqualError(t, f.Err(), strings.Join([]string{
		"a.toml:2:10: room.length: is 120 ft, want the number alone, such as 120, in the unit that the key has",
		"a.toml:3:19: room.rho.ceiling: is 0,50, want 0.50, with a decimal point",
		"a.toml:3:33: room.rho.walls: is 0,30, want 0.30, with a decimal point",
		"a.toml:4:7: room.odd: is not a known key, want one of length, rho, width",
		`a.toml:5:9: room.width: is the text "wide", want a number above 0`,
	}, "\n"))
}

// Another fault of syntax after slips is told too, and then nothing else; the text that was given is left as it was.
func TestSlipsBeforeABreak(t *testing.T) {
	text := []byte("a = 1,5\nb = [1\n")
	before := string(text)
	f := Read("a.toml", text)
	f.Root().Number("a", Any)
	f.Root().Done()
	err := f.Err()
	require.ErrorContains(t, err, "a.toml:1:5: a: is 1,5, want 1.5, with a decimal point\na.toml:")
	assert.Equal(t, before, string(text))
	many := Read("a.toml", []byte(strings.Repeat("[[a]]\nx = 1,5\n", 30)))
	assert.Len(t, many.Faults, mostSlips+1, "then the file is given up")
}

func TestUTF16IsNamed(t *testing.T) {
	const want = "a.toml:1:1: the file is UTF-16 text, want UTF-8: choose it as the encoding where the editor saves the file"
	for _, text := range []string{"\xff\xfea\x00=\x001\x00", "\xfe\xff\x00a\x00=\x001", "a\x00=\x001\x00", "\x00a\x00=\x001"} {
		assert.EqualError(t, Read("a.toml", []byte(text)).Err(), want)
	}
	f := Read("a.toml", []byte("\xef\xbb\xbfa = 1\r\n"))
	_, ok := f.Root().Number("a", Any)
	assert.True(t, ok, "a byte order mark of UTF-8, and lines as Windows ends them")
	assert.NoError(t, f.Err())
}
