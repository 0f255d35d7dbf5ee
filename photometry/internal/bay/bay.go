// Package bay is the room of the tests of all rooms that work jobs out: 24 by 12 by 5 m, empty, with the same 24 luminaires before and
// after. All of it is invented.
package bay

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"lampswap/photometry/job"
	"lampswap/photometry/lighting"
	"lampswap/photometry/study"
)

// Tolerances of two ways to the same number, relative: rounding only, and that of the candela which the point method keeps in single
// precision for speed, 2^-24.
const (
	Rounding = 1e-12
	Single   = 6e-8
)

// Text is the job, and Upkeep the place in it where keys of the proposed system can still be added.
const (
	Text = `title = "bay"
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
	Upkeep = "[upkeep]\n"
)

// Halves are the halves of the bay as groups, west and east, of one kind before the swap and of two after it; they stand in place of its layout and its
// systems, see InHalves.
const Halves = `[kinds.a]
photometry = "diffuse.ies"
lamps = 2
lamp_lumens = 2000.0
ballast_factor = 0.9
input_watts = 60.0
[kinds.b]
photometry = "narrow.ies"
lamps = 1
lamp_lumens = 4000.0
ballast_factor = 1.0
input_watts = 45.0
[kinds.c]
photometry = "diffuse.ies"
lamps = 2
lamp_lumens = 2600.0
ballast_factor = 0.8
input_watts = 50.0
[[groups]]
name = "west"
existing = "a"
proposed = "b"
mounting_height = 4.0
rows = 4
columns = 3
area = [0.0, 0.0, 12.0, 12.0]
[[groups]]
name = "east"
existing = "a"
proposed = "c"
mounting_height = 4.0
rows = 4
columns = 3
area = [12.0, 0.0, 24.0, 12.0]
`

// InHalves are the replacements that make of the bay one in two groups, and more of them after these.
func InHalves(pairs ...string) []string {
	systems := Text[strings.Index(Text, "[layout]"):strings.Index(Text, Upkeep)]
	return append([]string{systems, Halves}, pairs...)
}

// Diffuse is a synthetic luminaire, 1,000 cd straight down and cosine from there, with two lamps of 2,000 lm; of no extent.
var Diffuse = Cosine(1, "2 2000", "0.9 1 60")

// uplight sends all its light to the ceiling.
const uplight = `IESNA:LM-63-2002
TILT=NONE
2 2000 1 3 1 1 2 0 0 0
0.9 1 60
90 135 180
0
0 700 1000
`

// Cosine is a photometric file of a power of the cosine, with its lamps and its electric line.
func Cosine(power float64, lamps, electric string) string {
	var angles, candela strings.Builder
	for deg := 0.0; deg <= 90; deg += 2.5 {
		fmt.Fprintf(&angles, "%g ", deg)
		fmt.Fprintf(&candela, "%.6f ", 1000*math.Pow(math.Max(0, math.Cos(deg*math.Pi/180)), power))
	}
	return fmt.Sprintf("IESNA:LM-63-2002\n[TEST] synthetic\nTILT=NONE\n%s 1 37 1 1 2 0 0 0\n%s\n%s\n0\n%s\n", lamps, electric, angles.String(), candela.String())
}

// Job reads the bay with pairs of old and new replaced: see Replaced. Its files are diffuse, narrow, absolute, uplight and strip.ies.
func Job(tb testing.TB, pairs ...string) *job.Job {
	tb.Helper()
	files := map[string]string{"diffuse.ies": Diffuse, "narrow.ies": Cosine(4, "2 2000", "0.9 1 60"), "absolute.ies": Cosine(1, "1 -1", "1 1 60"), "uplight.ies": uplight,
		"strip.ies": strings.Replace(Diffuse, "1 1 2 0 0 0", "1 1 2 0.1 2.4 0", 1)}
	j, err := job.Read("bay.toml", []byte(Replaced(tb, Text, pairs...)), func(name string) ([]byte, error) { return []byte(files[name]), nil })
	if err != nil {
		tb.Fatal(err)
	}
	return j
}

// known is the light of bays that were worked out before, to the bit what it is without: lighting's own tests, which see to that, do not come here.
var known = lighting.NewCache(64 << 20)

// Run works out the bay with pairs of old and new replaced.
func Run(tb testing.TB, pairs ...string) *study.Result {
	tb.Helper()
	result, err := study.RunWith(tb.Context(), Job(tb, pairs...), known)
	if err != nil {
		tb.Fatal(err)
	}
	return result
}

// Replaced is a text with pairs of old and new replaced, the last of each if there are several, as the proposed system stands last.
func Replaced(tb testing.TB, text string, pairs ...string) string {
	tb.Helper()
	for i := 0; i < len(pairs); i += 2 {
		at := strings.LastIndex(text, pairs[i])
		if at < 0 {
			tb.Fatalf("there is no %q", pairs[i])
		}
		text = text[:at] + pairs[i+1] + text[at+len(pairs[i]):]
	}
	return text
}

// With puts a number into a text that has one %s, with all its digits.
func With(text string, x float64) string {
	return fmt.Sprintf(text, strconv.FormatFloat(x, 'f', -1, 64))
}
