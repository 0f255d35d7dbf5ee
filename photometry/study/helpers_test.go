package study_test

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"lampswap/photometry/job"
	"lampswap/photometry/study"
)

// Tolerance of two ways to the same number: rounding only, relative.
const rounding = 1e-12

// single is the rounding of the candela that the point method keeps in single precision for speed, 2^-24, relative.
const single = 6e-8

// diffuse is a synthetic luminaire, 1,000 cd straight down and cosine from there, with two lamps of 2,000 lm; of no extent.
var diffuse = cosine(1, "2 2000", "0.9 1 60")

func cosine(power float64, lamps, electric string) string {
	var angles, candela strings.Builder
	for deg := 0.0; deg <= 90; deg += 2.5 {
		fmt.Fprintf(&angles, "%g ", deg)
		fmt.Fprintf(&candela, "%.6f ", 1000*math.Pow(math.Max(0, math.Cos(deg*math.Pi/180)), power))
	}
	return fmt.Sprintf("IESNA:LM-63-2002\n[TEST] synthetic\nTILT=NONE\n%s 1 37 1 1 2 0 0 0\n%s\n%s\n0\n%s\n", lamps, electric, angles.String(), candela.String())
}

// uplight sends all its light to the ceiling.
const uplight = `IESNA:LM-63-2002
TILT=NONE
2 2000 1 3 1 1 2 0 0 0
0.9 1 60
90 135 180
0
0 700 1000
`

// An empty room with the same luminaires before and after.
const bay = `title = "bay"
units = "metric"
[room]
length = 24.0
width = 12.0
height = 5.0
work_plane = 0.8
reflectance = { ceiling = 0.7, walls = 0.5, floor = 0.2 }
[layout]
mounting_height = 4.0
rows = 4
columns = 6
lamps_along = "length"
[existing]
photometry = "diffuse.ies"
lamps = 2
lamp_lumens = 2000.0
ballast_factor = 0.9
input_watts = 60.0
[proposed]
photometry = "diffuse.ies"
lamps = 2
lamp_lumens = 2000.0
ballast_factor = 0.9
input_watts = 60.0
[upkeep]
hours_per_year = 3000.0
atmosphere = "clean"
clean_months = 12.0
ambient_temperature = 25.0
[calculation]
spacing = 0.5
interreflection = false
`

// run works out the bay with pairs of old and new replaced, the last of each if there are several, as the proposed system stands last.
func run(tb testing.TB, pairs ...string) *study.Result {
	tb.Helper()
	text := bay
	for i := 0; i < len(pairs); i += 2 {
		at := strings.LastIndex(text, pairs[i])
		require.GreaterOrEqual(tb, at, 0, "%q", pairs[i])
		text = text[:at] + pairs[i+1] + text[at+len(pairs[i]):]
	}
	files := map[string]string{"diffuse.ies": diffuse, "narrow.ies": cosine(4, "2 2000", "0.9 1 60"), "absolute.ies": cosine(1, "1 -1", "1 1 60"), "uplight.ies": uplight,
		"strip.ies": strings.Replace(diffuse, "1 1 2 0 0 0", "1 1 2 0.1 2.4 0", 1)}
	j, err := job.Read("bay.toml", []byte(text), func(name string) ([]byte, error) { return []byte(files[name]), nil })
	require.NoError(tb, err)
	result, err := study.Run(tb.Context(), j, nil)
	require.NoError(tb, err)
	return result
}

const upkeep = "[upkeep]\n" // where keys of the proposed system can still be added

// sprintf puts a number into a text that has one %s, with all its digits.
func sprintf(text string, x float64) string {
	return fmt.Sprintf(text, strconv.FormatFloat(x, 'f', -1, 64))
}
