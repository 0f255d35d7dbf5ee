package job_test

import (
	"image"
	"image/png"
	"io/fs"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"lampswap/photometry/job"
)

// Tolerance of two ways to the same number: rounding only.
const rounding = 1e-12

const foot = 0.3048

// A synthetic strip with four lamps of 2,900 lm, ballast factor 0.88, 112 W.
const stripIES = `IESNA:LM-63-2002
[TEST] synthetic
TILT=NONE
4 2900 1 3 2 1 1 0.35 8 0
0.88 1 112
0 45 90
0 90
2400 1700 0
2400 1800 100
`

// The same light as absolute photometry.
var absoluteIES = strings.NewReplacer("4 2900", "1 -1", "0.88 1", "1 1").Replace(stripIES)

// files are what stands beside the job files of the tests.
var files = map[string]string{
	"photo.png":     aPicture(),
	"strip.ies":     stripIES,
	"tandem-t8.ies": stripIES,
	"absolute.ies":  absoluteIES,
	"watts.ies":     strings.Replace(stripIES, "1 112", "1 0", 1),
	"dark.ies":      strings.NewReplacer("2400 1700 0", "0 0 0", "2400 1800 100", "0 0 0").Replace(stripIES),
	"broken.ies":    strings.Replace(stripIES, "1700", "17OO", 1),
	"shop.toml":     shopSection,
	"bad.toml":      strings.Replace(shopSection, "0.85", "1.85", 1),
}

const shopSection = `name = "two-lamp shop strip"
units = "in"
luminous_length = 46.0
[lamps]
reflectance = 0.80
largest_diameter = 1.5
[[arrangements]]
lamps = [[-1.4, -1.15], [1.4, -1.15]]
[[surfaces]]
points = [[-2.1, 0.0], [2.1, 0.0]]
reflectance = 0.85
back_reflectance = 0.30
`

// aPicture is one of a pixel.
func aPicture() string {
	var b strings.Builder
	if err := png.Encode(&b, image.NewGray(image.Rect(0, 0, 1, 1))); err != nil {
		panic(err)
	}
	return b.String()
}

func open(name string) ([]byte, error) {
	text, ok := files[name]
	if !ok {
		return nil, &fs.PathError{Op: "open", Path: "/somewhere/" + name, Err: fs.ErrNotExist}
	}
	return []byte(text), nil
}

// shelf keeps what the tests compute of cross-sections.
var shelf = job.NewShelf(64 << 20)

func read(tb testing.TB, text string) *job.Job {
	tb.Helper()
	j, err := shelf.Read("dock.toml", []byte(text), open)
	require.NoError(tb, err)
	return j
}

// replaced is the text with pairs of old and new replaced; an old that is not there exactly once is a wrong test.
func replaced(tb testing.TB, text string, pairs ...string) string {
	tb.Helper()
	for i := 0; i < len(pairs); i += 2 {
		require.Equal(tb, 1, strings.Count(text, pairs[i]), "%q", pairs[i])
		text = strings.Replace(text, pairs[i], pairs[i+1], 1)
	}
	return text
}

func radians(degrees float64) float64 { return degrees * math.Pi / 180 }

// A sound job on which the tests of faults are built.
const sound = `title = "bay"
units = "metric"
[room]
length = 20.0
width = 10.0
height = 6.0
work_plane = 0.8
reflectance = { ceiling = 0.7, walls = 0.5, floor = 0.2 }
[layout]
mounting_height = 5.0
rows = 2
columns = 4
lamps_along = "length"
[[racks]]
corner = [2.0, 3.0]
size = [10.0, 1.0, 3.0]
reflectance = 0.3
repeat = { count = 2, step = [0.0, 3.0] }
[existing]
photometry = "strip.ies"
lamp = "F32T8/700"
lamps = 4
ballast = "is-normal"
maintenance_category = "III"
[proposed]
photometry = "strip.ies"
lamps = 4
lamp_lumens = 2800.0
ballast_factor = 0.88
input_watts = 112.0
maintenance_category = "III"
losses = { lamp_lumen_depreciation = 0.9 }
[upkeep]
hours_per_year = 4000.0
relamp_hours = 16000.0
clean_months = 24.0
atmosphere = "clean"
ambient_temperature = 20.0
[calculation]
spacing = 0.5
interreflection = false
[[grids]]
name = "north face"
from = [2.0, 4.0]
to = [12.0, 4.0]
heights = [0.2, 2.9]
facing = 90.0
spacing = 0.5
[[grids]]
name = "dock"
area = [14.0, 2.0, 18.0, 8.0]
height = 1.0
spacing = 1.0
[[criteria]]
level = "warehouse-active-bulky"
grid = "work plane"
[[criteria]]
name = "lease"
grid = "dock"
statistic = "average"
at_least = 200.0
[energy]
price_per_kwh = 0.11
`
