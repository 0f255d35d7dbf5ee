package main

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry/lm63"
)

// fixture --output writes every sample of LM-63 in plain form: each number to its last digit, each keyword, in its edition, the tilt inside; and
// what it wrote in the same way once more.
func TestFilesAreWrittenInPlainForm(t *testing.T) {
	samples, err := filepath.Glob("../../photometry/lm63/testdata/*.ies")
	require.NoError(t, err)
	require.Greater(t, len(samples), 10)
	folder := t.TempDir()
	for _, path := range samples {
		first, second := filepath.Join(folder, filepath.Base(path)), filepath.Join(folder, "again-"+filepath.Base(path))
		_, _ = fixtureTo(t, path, first), fixtureTo(t, first, second)
		was, err := lm63.ReadFile(path)
		require.NoError(t, err)
		for _, written := range []string{first, second} {
			now, err := lm63.ReadFile(written)
			require.NoError(t, err, path)
			made := slices.IndexFunc(now.Keywords, func(k lm63.Keyword) bool { return k.Name == "_PROGRAM" })
			require.Positive(t, made, path)
			assert.Equal(t, was.Keywords, now.Keywords[:made], path)
			assert.Equal(t, 1, strings.Count(fileText(t, written), "[_PROGRAM]"), path)
			assert.Equal(t, was.Tilt.AnglesDeg, now.Tilt.AnglesDeg, path)
			assert.Equal(t, was.Tilt.Factors, now.Tilt.Factors, path)
			assert.Empty(t, now.Tilt.FileName, path)
			assert.Equal(t, numbersOf(was), numbersOf(now), path)
		}
	}
}

// numbersOf are the edition and all numbers of a file but its tilt.
func numbersOf(f *lm63.File) []any {
	return []any{f.Edition, f.Lamps, f.LumensPerLamp, f.Multiplier, f.Type, f.Units, f.Width, f.Length, f.Height, f.BallastFactor, f.BallastLampFactor,
		f.InputWatts, f.VerticalDeg, f.HorizontalDeg, f.Candela}
}

func fixtureTo(t *testing.T, from, to string) string {
	t.Helper()
	var out, stderr bytes.Buffer
	require.Zero(t, run([]string{"fixture", from, "--output", to}, os.Stdin, &out, &stderr), stderr.String())
	return out.String()
}
