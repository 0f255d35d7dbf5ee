package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lampswap/cmd/lampswap/internal/answer"
	"lampswap/cmd/lampswap/internal/jobs"
	"lampswap/cmd/lampswap/internal/ledger"
	"lampswap/photometry/interreflect"
	"lampswap/photometry/job"
	"lampswap/photometry/study"
)

// mayBeNull are the numbers of a result that can have no value; the rule stands beside each.
var mayBeNull = regexp.MustCompile(strings.Join([]string{
	`^(existing|proposed|replacement)\.lumen_method\.spacing_to_height_(along|across)$`,                    // of explicit positions
	`^(existing|proposed|replacement)\.lumen_method\.spacing_criterion_(along|across)$`,                    // no light straight down
	`^(existing|proposed|replacement)\.grids\[\d+\]\.(average_to_minimum|maximum_to_minimum)$`,             // the minimum is 0
	`^(existing|proposed|replacement)\.grids\[\d+\]\.(initial_direct|initial_interreflected|maintained)\[`, // in a rack
	`^(existing|proposed|replacement)\.grids\[\d+\]\.(average|minimum|maximum|coefficient_of_variation)$`,  // all of the grid is in a rack, or dark
	`^(existing|proposed|replacement)\.interreflection$`,                                                   // not asked for
	`^criteria\[\d+\]\.(existing|proposed|replacement)(_margin)?$`,                                         // of a statistic without value, or nothing is required
	`^effects\.`, // of light that is none
	`^energy\.(\w*saving_per_year|net_cost|simple_payback_years)$`,                                             // not priced, or nothing is saved
	`^energy\.accounts\[\d+\]\.`,                                                                               // not priced
	`^energy\.saved_share$`,                                                                                    // nothing is drawn
	`^life_cycle$|^life_cycle\.`,                                                                               // not priced
	`^power_density_limits`,                                                                                    // none is known
	`^light_through_years\[\d+\]\.first_below\[\d+\]\.years$`,                                                  // never
	`^light_through_years`, `^energy\.emissions`, `^methods_compared$`, `^warnings$`, `^cautions$`, `^binding`, // lists
}, "|"))

var noNumber = regexp.MustCompile(`\bNaN\b|\bInf\b`)

// nulls are the paths of all that has no value.
func nulls(path string, v any, found map[string]bool) {
	switch v := v.(type) {
	case nil:
		found[path] = true
	case map[string]any:
		for key, x := range v {
			nulls(strings.TrimPrefix(path+"."+key, "."), x, found)
		}
	case []any:
		for i, x := range v {
			nulls(fmt.Sprintf("%s[%d]", path, i), x, found)
		}
	}
}

// drawnJob is any job that a file may ask for, the odd ones more often than in life.
func drawnJob(t *rapid.T) string {
	var b strings.Builder
	number := func(name string, least, most float64) float64 {
		return rapid.OneOf(rapid.Float64Range(least, most), rapid.Just(least), rapid.Just(most)).Draw(t, name)
	}
	bounces := rapid.IntRange(0, 9).Draw(t, "bounces") == 5
	least, most, low, high := 0.2, 40.0, 0.01, 1.0
	if bounces { // light close to the surfaces, and flat rooms, take patches without number: minutes
		least, most, low, high = 3.0, 12.0, 0.2, 0.8
	}
	length, width, height := number("length", least, most), number("width", least, most), number("height", least, most)
	plane := number("work plane", 0, 0.9) * height
	fmt.Fprintf(&b, "units = \"metric\"\n[room]\nlength = %v\nwidth = %v\nheight = %v\nwork_plane = %v\n", dot(length), dot(width), dot(height), dot(plane))
	fmt.Fprintf(&b, "reflectance = { ceiling = %v, walls = %v, floor = %v }\n", dot(number("ceiling", 0, 0.99)), dot(number("walls", 0, 0.99)), dot(number("floor", 0, 0.99)))
	mounting := plane + (height-plane)*number("mounting", low, high)
	fmt.Fprintf(&b, "[layout]\nmounting_height = %v\n", dot(mounting))
	if rapid.Bool().Draw(t, "positions") {
		fmt.Fprintf(&b, "positions = [[%v, %v]]\n", dot(length*number("x", 0, 1)), dot(width*number("y", 0, 1)))
	} else {
		fmt.Fprintf(&b, "rows = %d\ncolumns = %d\n", rapid.IntRange(1, 5).Draw(t, "rows"), rapid.IntRange(1, 5).Draw(t, "columns"))
	}
	if rapid.IntRange(0, 3).Draw(t, "rack") == 0 {
		fmt.Fprintf(&b, "[[racks]]\ncorner = [0.0, 0.0]\nsize = [%v, %v, %v]\ntransmittance = %v\n", dot(length*number("rack length", 0.1, 1)),
			dot(width*number("rack width", 0.1, 1)), dot(mounting*number("rack height", 0.1, 0.99)), dot(number("transmittance", 0, 1)))
	}
	for _, side := range []string{"existing", "proposed"} {
		fmt.Fprintf(&b, "[%s]\nphotometry = %q\nlamps = %d\nlamp_lumens = %v\nballast_factor = %v\ninput_watts = %v\n", side,
			rapid.SampledFrom([]string{"strip.ies", "up.ies", "spot.ies"}).Draw(t, side), rapid.IntRange(1, 100).Draw(t, "lamps"),
			dot(number("lumens", 1e-3, 1e6)), dot(number("ballast factor", 0.1, 2)), dot(number("watts", 1e-3, 1e5)))
	}
	fmt.Fprintf(&b, "[upkeep]\nhours_per_year = %v\nclean_months = %v\natmosphere = %q\nambient_temperature = %v\n", dot(number("hours", 0, 8784)), dot(number("months", 0, 240)),
		rapid.SampledFrom([]string{"very-clean", "medium", "very-dirty"}).Draw(t, "atmosphere"), dot(number("ambient", -50, 80)))
	fmt.Fprintf(&b, "[calculation]\nspacing = %v\ninterreflection = %v\n", dot(max(length, width)/float64(rapid.IntRange(1, 6).Draw(t, "points"))), bounces)
	for _, statistic := range []string{"average", "minimum", "maximum_to_minimum", "power_density"} {
		fmt.Fprintf(&b, "[[criteria]]\nstatistic = %q\n%s = %v\n", statistic, rapid.SampledFrom([]string{"at_least", "at_most"}).Draw(t, "direction"), dot(number("required", 0, 1e4)))
	}
	if rapid.Bool().Draw(t, "priced") {
		fmt.Fprintf(&b, "[energy]\nprice_per_kwh = %v\ninstalled_cost = %v\nrebate = %v\n", dot(number("price", 0, 1e3)), dot(number("cost", 0, 1e9)), dot(number("rebate", 0, 1e9)))
	}
	return b.String()
}

// dot writes a number so that TOML reads a float.
func dot(x float64) string {
	text := fmt.Sprint(x)
	if !strings.ContainsAny(text, ".e") {
		text += ".0"
	}
	return text
}

// spotIES sends all its light into a narrow beam, and none straight down; upIES all of it up.
const (
	spotIES = "IESNA:LM-63-2002\nTILT=NONE\n1 1000 1 4 1 1 2 0 0 0\n1 1 10\n0 10 20 30\n0\n0 0 5000 0\n"
	upIES   = "IESNA:LM-63-2002\nTILT=NONE\n1 1000 1 3 1 1 2 0.1 1 0\n1 1 10\n90 135 180\n0\n0 200 300\n"
)

// Whatever the job, every number of its result is finite, or has no value by a rule.
func TestNumbersAreFinite(t *testing.T) {
	strip, err := jobs.Demo.ReadFile("demo/strip-4x4ft-t8.ies")
	require.NoError(t, err)
	files := map[string][]byte{"strip.ies": strip, "spot.ies": []byte(spotIES), "up.ies": []byte(upIES)}
	results := 0
	rapid.Check(t, func(t *rapid.T) {
		text := drawnJob(t)
		j, err := job.Read("drawn.toml", []byte(text), func(name string) ([]byte, error) { return files[name], nil })
		if err != nil {
			if strings.Contains(err.Error(), "NaN") || !strings.HasPrefix(err.Error(), "drawn.toml:") {
				t.Fatalf("%v\n%s", err, text)
			}
			return
		}
		r, err := study.Run(context.Background(), j, nil)
		if errors.As(err, new(*interreflect.MemoryError)) || errors.Is(err, interreflect.ErrEndless) {
			return
		}
		require.NoError(t, err, text)
		var b bytes.Buffer
		require.NoError(t, answer.Write(&b, r, true), text)
		var view any
		require.NoError(t, json.Unmarshal(b.Bytes(), &view))
		found := map[string]bool{}
		nulls("", view, found)
		for path := range found {
			if !mayBeNull.MatchString(path) {
				t.Fatalf("%s has no value\n%s", path, text)
			}
		}
		var shown bytes.Buffer
		ledger.Write(&shown, r)
		for line := range strings.Lines(shown.String()) {
			if noNumber.MatchString(line) {
				t.Fatalf("the ledger shows a number that is none: %s\n%s", line, text)
			}
		}
		if r.Met() && math.IsNaN(r.Proposed.Grids[0].Statistics.Average) && len(j.Criteria) > 0 {
			t.Fatalf("no light, and enough: %s", text)
		}
		results++
	})
	require.NotZero(t, results)
}
