package job_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry/diag"
	"lampswap/photometry/job"
	"lampswap/photometry/lm63"
)

// The candela of the strip make 2π (577.3 + 603.5) = 7,419 lm by hand. What a photometric file says itself is held to the ranges of the job's own keys, with the file's line; a key of the job stands in for it.
func TestAFilesOwnValuesAreHeldToTheRanges(t *testing.T) {
	bare := replaced(t, sound, "lamps = 4\nlamp_lumens = 2800.0\nballast_factor = 0.88\ninput_watts = 112.0\n", "", `[proposed]
photometry = "strip.ies"`, `[proposed]
photometry = "odd.ies"`)
	const given = "photometry = \"odd.ies\"\nballast_factor = 0.9\ninput_watts = 100.0"
	for _, c := range []struct {
		from, to string // of the file
		want     string // "" if it is taken
		given    bool   // the fault goes with ballast factor and watts of the job
	}{
		{"0.88 1 112", "0.88 1 112", "", true},
		{"0.88 1 112", "10 1 112", "odd.ies:5:1: ballast factor: is 10, want a number from 0.1 to 2, or ballast_factor in the job", true},
		{"0.88 1 112", "0.05 1 112", "odd.ies:5:1: ballast factor: is 0.05, want a number from 0.1 to 2, or ballast_factor in the job", true},
		{"0.88 1 112", "0.88 1 200000", "odd.ies:5:8: input watts: is 200000, want a number from 0.001 to 100000, or input_watts in the job", true},
		{"0.88 1 112", "0.88 1 3", "odd.ies:5:8: input watts: 6529 lm come of 3 W, 2176 lm/W, want at most 683 lm/W, which no light exceeds, or input_watts in the job", true},
		{"4 2900 1", "400 29 1", "odd.ies:4:1: number of lamps: is 400, want a number from 1 to 100", false},
		{"4 2900 1", "1 2000000 1", "odd.ies:4:3: lumens per lamp: is 2e+06, want a number from 0.001 to 1000000", false},
		{"4 2900 1", "4 250 1", "odd.ies:4:3: lumens per lamp: the candela add up to 7419 lm and the lamps to 1000 lm, an efficiency of 7.42, want 0.001 to 1.1: candela, multiplier or lamp lumens are wrong", false},
		{"4 2900 1", "4 2900 10", "odd.ies:4:8: candela multiplier: the candela add up to 74193 lm and the lamps to 11600 lm, an efficiency of 6.4, want 0.001 to 1.1: candela, multiplier or lamp lumens are wrong", false},
		{"4 2900 1", "4 2900 0.0001", "odd.ies:4:8: candela multiplier: the candela add up to 0.742 lm and the lamps to 11600 lm, an efficiency of 0.000064, want 0.001 to 1.1: candela, multiplier or lamp lumens are wrong", false},
		{"4 2900 1", "1 -1 1000", "odd.ies:4:6: candela multiplier: the candela add up to 7419342 lm, want 0.001 to 1000000 lm of one luminaire", false},
		{"1 1 0.35 8 0", "1 2 0.35 48 0", "odd.ies:4:18: width, length and height: the luminous opening is larger than the room: 48 x 0.35 m, want one that fits, in the units that the file names", false},
		{"1 1 0.35 8 0", "1 2 0.35 8 9", "odd.ies:4:18: width, length and height: the luminous opening is larger than the room: 8 x 0.35 x 9 high m, want one that fits, in the units that the file names", false},
		{"1 1 0.35 8 0", "1 2 11 12 0", "odd.ies:4:18: width, length and height: the luminous opening is larger than the room: 12 x 11 m, want one that fits, in the units that the file names", false},
		{"4 2900 1", "4 1740 1", "", true}, // 1.066: relative photometry of a warm lamp, perhaps; a warning of the reader tells of it
	} {
		odd := strings.Replace(stripIES, c.from, c.to, 1)
		require.True(t, c.from == c.to || odd != stripIES, c.to)
		beside := func(name string) ([]byte, error) {
			if name == "odd.ies" {
				return []byte(odd), nil
			}
			return open(name)
		}
		j, err := job.Read("dock.toml", []byte(bare), beside)
		if c.want == "" {
			require.NoError(t, err, c.to)
			assert.Equal(t, strings.HasPrefix(c.to, "4 1740"), strings.Contains(strings.Join(j.Warnings, "\n"), "more than the 6960 lm of the lamps"), c.to)
			continue
		}
		faults := diag.List{}
		require.ErrorAs(t, err, &faults, c.to)
		assert.Contains(t, strings.Split(faults.Error(), "\n"), c.want)
		_, err = job.Read("dock.toml", []byte(replaced(t, bare, `photometry = "odd.ies"`, given)), beside)
		if c.given {
			assert.NoError(t, err, "%s: the job's own values count", c.to)
		} else {
			assert.ErrorContains(t, err, c.want)
		}
		f, err := lm63.Read("odd.ies", strings.NewReader(odd))
		require.NoError(t, err)
		l, err := f.Luminaire()
		require.NoError(t, err)
		told := job.Beyond("odd.ies", f, l).Error()
		assert.Equal(t, !strings.Contains(c.want, "larger than the room"), strings.Contains(told, c.want), "a file alone has no room: %s", told)
	}
}
