package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/cmd/lampswap/internal/drawn"
	"lampswap/cmd/lampswap/internal/exit"
	"lampswap/cmd/lampswap/internal/terminal"
	"lampswap/photometry/number"
)

// surveyFiles writes a job with criteria of every kind and readings of it, and returns the arguments that name them.
func surveyFiles(t *testing.T, units, readings string) []string {
	t.Helper()
	folder := t.TempDir()
	criteria := ""
	for i, c := range []string{"statistic = \"average\"\nat_least = 10.0", "statistic = \"minimum\"\nat_least = 1.0",
		"statistic = \"maximum\"\nat_most = 99000.0", "statistic = \"average_to_minimum\"\nat_most = 1.1",
		"statistic = \"maximum_to_minimum\"\nat_most = 1.2", "grid = \"a face with a long name, to the north\"\nat_least = 5"} {
		criteria += fmt.Sprintf("[[criteria]]\nname = \"%d: a rule of the owner's with a long name\"\n", i) + c + "\n"
	}
	face := "[[grids]]\nname = \"a face with a long name, to the north\"\nfrom = [1.0, 5.0]\nto = [9.0, 5.0]\nheights = [0.5, 3.0]\nfacing = 90.0\nspacing = 1.0\n"
	room, _, _ := strings.Cut(longNames, "[[criteria]]")
	text := "units = \"" + units + "\"\n" + strings.ReplaceAll(room, "rows = 30\ncolumns = 40", "rows = 4\ncolumns = 6")
	if units == "metric" {
		text = strings.NewReplacer("ambient_temperature = 65.0", "ambient_temperature = 18.0", "height = 14.0", "height = 5.0", "mounting_height = 12.0",
			"mounting_height = 4.5").Replace(text)
	}
	require.NoError(t, os.WriteFile(filepath.Join(folder, "job.toml"), []byte(text+face+criteria), 0o600))
	require.NoError(t, os.WriteFile(filepath.Join(folder, "read.csv"), []byte(readings), 0o600))
	return []string{"verify", filepath.Join(folder, "job.toml"), filepath.Join(folder, "read.csv"), "--meter-class", "B"}
}

func runVerify(t *testing.T, want int, args ...string) string {
	t.Helper()
	var stdout, stderr bytes.Buffer
	require.Equal(t, want, run(args, strings.NewReader(""), &stdout, &stderr), stderr.String())
	assert.Empty(t, stderr.String())
	return stdout.String()
}

// stationNames are those of a survey of four rows of six.
var stationNames = strings.Fields("r1 r2 r3 r4 r5 r6 r7 r8 q1 q2 q3 q4 t1 t2 t3 t4 p1 p2")

func readingsOf4x6(unit string, values map[string]string) string {
	text := "station,reading_" + unit + "\n"
	for _, name := range stationNames {
		if x := values[name[:1]]; x != "" {
			text += name + "," + x + "\n"
		}
	}
	return text
}

// Every line keeps within 80 columns, whatever became of the criteria, in either unit.
func TestVerifyFitsTheTerminal(t *testing.T) {
	all, some := map[string]string{"r": "1234", "q": "987.5", "t": "1000", "p": "876"}, map[string]string{"r": "1234"}
	for _, units := range []struct{ system, light string }{{"imperial", "fc"}, {"metric", "lx"}} {
		for _, values := range []map[string]string{all, some} {
			args := surveyFiles(t, units.system, readingsOf4x6(units.light, values))
			for _, more := range [][]string{nil, {"--daylight", "present", "--grid", "all"}, {"--system", "existing", "--warm-up-minutes", "2", "--hours-burnt", "3"}} {
				out := runVerify(t, exit.NotMet, append(args, more...)...)
				for line := range strings.Lines(out) {
					assert.LessOrEqual(t, utf8.RuneCountInString(strings.TrimSuffix(line, "\n")), terminal.Width, line)
				}
				assert.Empty(t, drawn.Job{}.Odd(out))
				assert.NotContains(t, out, " 100 % likely")
			}
		}
	}
	help := runVerify(t, exit.Done, "verify", "--help") + runVerify(t, exit.Done, "stations", "--help")
	for line := range strings.Lines(help) {
		assert.LessOrEqual(t, utf8.RuneCountInString(strings.TrimSuffix(line, "\n")), terminal.Width, line)
	}
	assert.NotContains(t, help, "(default )")
	assert.NotContains(t, help, "NaN")
}

// The sentence, the area and the correction have one ratio: the average by the survey's weights, 15, 5, 3 and 1 of 24, over its prediction.
func TestVerifyCorrectsByTheAverage(t *testing.T) {
	args := append(surveyFiles(t, "imperial", readingsOf4x6("fc", map[string]string{"r": "60", "q": "30", "t": "20", "p": "10"})), "--system", "existing", "--format", "json")
	var out struct {
		Verdict string
		Mean    float64 `json:"mean_ratio"`
		Areas   []struct {
			Measured  float64  `json:"measured_average"`
			Predicted float64  `json:"predicted_average"`
			Ratio     float64  `json:"measured_over_predicted"`
			Missing   []string `json:"stations_not_read"`
		}
		Correction struct {
			Factor    float64
			Predicted float64 `json:"predicted_average"`
			Corrected float64 `json:"corrected_average"`
		}
	}
	require.NoError(t, json.Unmarshal([]byte(runVerify(t, exit.NotMet, args...)), &out))
	require.Len(t, out.Areas, 1)
	a, c := out.Areas[0], out.Correction
	const measured = (15*60 + 5*30 + 3*20 + 10) / 24.0
	assert.InEpsilon(t, measured, a.Measured, 1e-12)
	assert.InEpsilon(t, measured/a.Predicted, c.Factor, 1e-12)
	assert.Equal(t, c.Factor, a.Ratio)
	assert.Empty(t, a.Missing)
	assert.InEpsilon(t, c.Predicted*measured/a.Predicted, c.Corrected, 1e-12)
	assert.Greater(t, math.Abs(c.Factor-out.Mean), 0.02, "the mean of the ratios is another number")
	assert.Contains(t, out.Verdict, " fc (26 percent of it, k = 2.01), "+number.Decimals(0)(100*c.Factor)+" percent of what is predicted for the day")
}
