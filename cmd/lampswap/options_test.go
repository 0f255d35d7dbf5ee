package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/cmd/lampswap/internal/exit"
	"lampswap/cmd/lampswap/internal/terminal"
)

// longNames is a job whose rows have the longest names, many notes and dear energy.
const longNames = `title = "long names"
[room]
length = 60.0
width = 40.0
height = 14.0
[layout]
mounting_height = 12.0
rows = 30
columns = 40
[existing]
fixture = "strip-5in"
lamp = "F96T12/HO/ES"
lamps = 2
ballast = "magnetic-standard"
[proposed]
fixture = "strip-5in"
lamp = "F32T8/HL"
lamps = 4
ballast = "premium-normal"
[upkeep]
ambient_temperature = 65.0
[calculation]
spacing = 10.0
interreflection = false
[[criteria]]
name = "a rule with a long name that is not met by anything at all in the list of lamps and ballasts of this program"
at_least = 100000.0
[[criteria]]
name = "even"
statistic = "maximum_to_minimum"
at_most = 1.0
[energy]
price_per_kwh = 0.18
`

func runOptions(t *testing.T, want int, args ...string) string {
	t.Helper()
	var stdout, stderr bytes.Buffer
	require.Equal(t, want, run(append([]string{"options"}, args...), strings.NewReader(""), &stdout, &stderr), stderr.String())
	assert.Empty(t, stderr.String())
	return stdout.String()
}

// Every line of the table keeps within 80 columns, and none ends in a blank.
func TestOptionsFitTheTerminal(t *testing.T) {
	path := filepath.Join(t.TempDir(), "long.toml")
	require.NoError(t, os.WriteFile(path, []byte(longNames), 0o600))
	for _, text := range []string{runOptions(t, exit.Done, "--all"), runOptions(t, exit.Done), runOptions(t, exit.NotMet, "--all", path)} {
		for line := range strings.Lines(text) {
			line = strings.TrimSuffix(line, "\n")
			assert.LessOrEqual(t, utf8.RuneCountInString(line), terminal.Width, line)
			assert.Equal(t, strings.TrimRight(line, " "), line)
		}
	}
}

// The proposed row of options and the proposed system of check are one lighting; the candela of the point method are kept in single
// precision, 6e-8.
func TestOptionsAgreeWithCheck(t *testing.T) {
	var checked, found struct {
		Proposed struct {
			Power float64 `json:"power_density"`
			Grids []struct{ Average, Minimum float64 }
		}
		Energy struct {
			KWh float64 `json:"proposed_kwh_per_year"`
		}
		Rows []struct {
			Proposed bool
			Verdict  string
			Average  float64
			Minimum  float64
			Power    float64 `json:"power_density"`
			KWh      float64 `json:"energy_kwh_per_year"`
			Percent  float64 `json:"percent_of_existing"`
			Darker   bool    `json:"darker_than_existing"`
		}
		Solves int `json:"photometric_solves"`
	}
	var stdout bytes.Buffer
	require.Equal(t, exit.Done, run([]string{"check", "--format", "json"}, strings.NewReader(""), &stdout, &stdout))
	require.NoError(t, json.Unmarshal(stdout.Bytes(), &checked))
	require.NoError(t, json.Unmarshal([]byte(runOptions(t, exit.Done, "--format", "json")), &found))
	assert.Equal(t, 2, found.Solves, "two photometric files")
	own := 0
	for _, row := range found.Rows {
		assert.Equal(t, row.Percent < 99.5, row.Darker)
		if !row.Proposed {
			continue
		}
		own++
		assert.Equal(t, "met", row.Verdict)
		assert.InEpsilon(t, checked.Proposed.Grids[0].Average, row.Average, 6e-8)
		assert.InEpsilon(t, checked.Proposed.Grids[0].Minimum, row.Minimum, 6e-8)
		assert.InEpsilon(t, checked.Proposed.Power, row.Power, 1e-12)
		assert.InEpsilon(t, checked.Energy.KWh, row.KWh, 1e-12)
	}
	assert.Equal(t, 1, own)
}

// The help tells every key of the document.
func TestOptionsHelpTellsTheKeys(t *testing.T) {
	help := newOptions().Long
	var document map[string]any
	require.NoError(t, json.Unmarshal([]byte(runOptions(t, exit.Done, "--format", "json", "--led")), &document))
	keys := make([]string, 0, 64)
	for key := range document {
		keys = append(keys, key)
	}
	for _, row := range document["rows"].([]any) {
		for key := range row.(map[string]any) {
			if !slices.Contains(keys, key) {
				keys = append(keys, key)
			}
		}
	}
	require.Greater(t, len(keys), 30)
	for _, key := range keys {
		assert.Contains(t, help, key)
	}
}
