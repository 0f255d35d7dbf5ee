package page

import (
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var (
	stationName  = regexp.MustCompile(`name="r:([^"]+)"`)
	stationPlace = regexp.MustCompile(`name="at:([^"]+)" value="([^"]+)"`)
)

// readAll is a form with a reading at every station that a page shows, with their places as the page has them.
func readAll(body string) url.Values {
	form := url.Values{}
	for i, s := range stationName.FindAllStringSubmatch(body, -1) {
		form.Set("r:"+s[1], []string{"20.5", "21.5", "22.5"}[i%3])
	}
	for _, s := range stationPlace.FindAllStringSubmatch(body, -1) {
		form.Set("at:"+s[1], s[2])
	}
	return form
}

// Readings belong to their places: in a room that has changed they are flagged, and count no more until they are typed anew or said to be from there.
func TestServeReadingsKeepTheirPlaces(t *testing.T) {
	_, server, _ := openSite(t, quickStart())
	c := newClient(t, server)
	_, body := c.get(t, "/stations")
	form := readAll(body)
	form.Set("meter", "A")
	_, body = c.post(t, "/stations", form)
	saysNot(t, body, "another place")
	says(t, body, `class="mark done"`)
	saysNot(t, body, "mark next", "all are read")
	c.post(t, "/job", url.Values{"room.length": {"40"}})
	_, body = c.get(t, "/stations")
	n := len(stationName.FindAllString(body, -1))
	moved := strings.Count(body, "was typed for another place")
	require.Positive(t, moved)
	assert.Contains(t, body, "mark moved next", "the next to be read is one of them")
	again := readAll(body) // the same numbers, with the new places
	_, body = c.post(t, "/stations", again)
	assert.Equal(t, moved, strings.Count(body, "was typed for another place"), "sent back as they were, they stay where they were read")
	_, csv := c.get(t, "/take/readings.csv")
	assert.Equal(t, n-moved, strings.Count(csv, ",20.5,")+strings.Count(csv, ",21.5,")+strings.Count(csv, ",22.5,"), csv)
	first := regexp.MustCompile(`name="here:([^"]+)"`).FindStringSubmatch(body)[1]
	again.Set("here:"+first, "1")
	_, body = c.post(t, "/stations", again)
	assert.Equal(t, moved-1, strings.Count(body, "was typed for another place"))
	second := regexp.MustCompile(`name="here:([^"]+)"`).FindStringSubmatch(body)[1]
	again.Del("here:" + first)
	again.Set("r:"+second, "19")
	_, body = c.post(t, "/stations", again)
	assert.Equal(t, moved-2, strings.Count(body, "was typed for another place"), "typed anew")
}

// What verify takes is on the page too, and what is wrong with it keeps the readings from proving anything.
func TestServeTakesTheMeterAndTheDay(t *testing.T) {
	_, server, _ := openSite(t, quickStart())
	c := newClient(t, server)
	_, body := c.get(t, "/stations")
	form := readAll(body)
	prove := func(pairs ...string) string {
		for i := 0; i < len(pairs); i += 2 {
			form.Set(pairs[i], pairs[i+1])
		}
		form.Set("prove", "1")
		_, body := c.post(t, "/stations", form)
		return body
	}
	says(t, prove(), "Say which class the meter is of")
	says(t, prove("meter", "own"), "Give the meter&#39;s error as a whole")
	says(t, prove("meter-error", "3", "meter-digits", "2"), "measured ")
	wide := prove("meter-error", "20")
	says(t, wide, "measured ")
	says(t, prove("meter-error", "x"), "Mend what is marked first: Error as a whole")
	says(t, prove("meter", "B", "meter-error", "3"), "stands beside the meter&#39;s class")
	plain := prove("meter-error", "")
	doubled := prove("calibration-factor", "2")
	assert.NotEqual(t, regexp.MustCompile(`measured [0-9.]+`).FindString(plain), regexp.MustCompile(`measured [0-9.]+`).FindString(doubled), "readings are multiplied")
	says(t, prove("calibration-factor", "5"), "want 0.5 to 2")
	lit := prove("calibration-factor", "", "daylight", "dark", "hours-burnt", "100", "failed-percent", "0")
	out := prove("failed-percent", "25", "supply-volts", "110", "rated-volts", "120")
	predicted := regexp.MustCompile(`predicted [0-9.]+`)
	assert.NotEqual(t, predicted.FindString(lit), predicted.FindString(out), "lamps out and a low voltage are in the prediction")
	_, sheet := c.get(t, "/take/stations.pdf")
	assert.True(t, strings.HasPrefix(sheet, "%PDF"))
}

// Whatever grids are chosen, others can be chosen again.
func TestServeGridsNeverTrap(t *testing.T) {
	text := strings.Replace(quickJob, "[[criteria]]", "[[grids]]\nname = \"fine\"\narea = [0.0, 0.0, 30.0, 20.0]\nheight = 0.0\nspacing = 0.5\n[[grids]]\nname = \"strip\"\narea = [0.0, 0.0, 30.0, 2.0]\nheight = 0.0\nspacing = 2.0\n[[criteria]]", 1)
	_, server, _ := openSite(t, &start{name: "quick.toml", text: text})
	c := newClient(t, server)
	for _, places := range []string{"all", "fine", "strip", "no such grid", "work plane"} {
		_, body := c.post(t, "/stations", url.Values{"places": {places}})
		says(t, body, `<select id="places"`, places)
		says(t, body, `and strip</option>`, places)
	}
	_, body := c.get(t, "/stations")
	assert.NotEmpty(t, readAll(body))
}

// With --save readings are in the job's folder as they are typed, and there after a restart; a file that somebody else changed is left alone.
func TestServeKeepsReadingsInTheFolder(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "quick.toml")
	require.NoError(t, os.WriteFile(path, []byte(strings.ReplaceAll(strings.ReplaceAll(quickJob, `photometry = "strip-2x8ft-t12.ies"`, `fixture = "strip-4in"`), `photometry = "strip-4x4ft-t8.ies"`, `fixture = "strip-4in"`)), 0o600))
	open := func(save bool) *client {
		begin, err := startOf(Options{Save: save}, []string{path})
		require.NoError(t, err)
		t.Cleanup(begin.close)
		_, server, _ := openSite(t, begin)
		return newClient(t, server)
	}
	kept := filepath.Join(folder, "quick.readings.json")
	c := open(false)
	_, body := c.get(t, "/stations")
	says(t, body, "kept here while lampswap runs")
	c.post(t, "/stations", readAll(body))
	assert.NoFileExists(t, kept, "nothing is written without --save")
	c = open(true)
	_, body = c.get(t, "/stations")
	says(t, body, "kept in quick.readings.json")
	form := readAll(body)
	form.Set("meter", "A")
	_, body = c.post(t, "/stations", form)
	saysNot(t, body, "not saved")
	assert.FileExists(t, kept)
	_, body = open(true).get(t, "/stations")
	says(t, body, `value="21.5"`, "after a restart")
	says(t, body, `<option value="A" selected>`)
	require.NoError(t, os.WriteFile(kept, []byte(`{"readings": {"r:x": "1", "evil": "2"}}`), 0o600))
	_, body = c.post(t, "/stations", form)
	says(t, body, "was changed by somebody else")
	require.NoError(t, os.WriteFile(kept, []byte(`no readings`), 0o600))
	_, body = open(true).get(t, "/stations")
	says(t, body, "cannot be read: holds no readings")
}
