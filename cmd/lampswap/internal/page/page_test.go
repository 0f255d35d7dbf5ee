package page

import (
	"archive/zip"
	"context"
	"encoding/json"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.uber.org/goleak"

	"lampswap/cmd/lampswap/internal/jobs"
)

func TestServeFormEditsTheText(t *testing.T) {
	_, server, _ := openSite(t, quickStart())
	c := newClient(t, server)
	_, body := c.post(t, "/job", url.Values{"room.length": {"36"}, "title": {"Quick room"}, "room.width": {"20.0"}, "upkeep.clean_months": {""}})
	want := strings.NewReplacer("length = 30.0", "length = 36", "clean_months = 24.0\n", "").Replace(quickJob)
	assert.Equal(t, want, c.text(t), "what is typed changes, what is blank goes, the rest and its comments stay")
	says(t, body, `value="36"`)

	_, body = c.post(t, "/job", url.Values{"room.length": {"a lot"}})
	assert.Contains(t, c.text(t), `length = "a lot"`)
	says(t, body, "quick.toml:3:10", "a fault has its place in the text")
	assert.True(t, regexp.MustCompile(`(?s)id="f-room-length"[^>]*aria-invalid="true"`).MatchString(body), "and at its field")
	says(t, body, `id="e-f-room-length"`)
	says(t, body, `<div class="last stale">`, "the last answer stays, and is marked")

	_, body = c.get(t, "/?view=text")
	assert.True(t, regexp.MustCompile(`<li class="bad">3<span>room.length: `).MatchString(body), "and at its line")
}

func TestServeRacksAndPlaces(t *testing.T) {
	_, server, _ := openSite(t, quickStart())
	c := newClient(t, server)
	for _, button := range []string{"add-rack", "add-face", "add-area", "add-observer", "add-level", "add-rule", "add-code", "add-rebate", "add-egress", "add-replacement", "add-uncertainty", "drop-uncertainty", "drop-replacement"} {
		_, body := c.post(t, "/job", url.Values{"do": {button}})
		saysNot(t, body, "to mend</h2>", button, " makes something sound: ", c.text(t))
		says(t, body, `id="ledgers"`, button)
	}
	text := c.text(t)
	assert.Contains(t, text, "[[racks]]\ncorner = [3.0, 3.0]\nsize = [18.0, 4.0, 8.4]\n")
	_, body := c.post(t, "/job", url.Values{"racks[0].repeat.count": {"2"}, "racks[0].repeat.step:0": {"0"}, "racks[0].repeat.step:1": {"8"}, "racks[0].corner:0": {"2"}, "racks[0].corner:1": {"3.0"}})
	assert.Contains(t, c.text(t), "corner = [2, 3.0]\n")
	assert.Contains(t, c.text(t), "repeat = { count = 2, step = [0, 8] }")
	says(t, body, "2 racks")
	assert.Equal(t, 2, strings.Count(body, `class="thing rack"`), "the plan shows both")
	for range 2 {
		c.post(t, "/job", url.Values{"do": {"remove-grids-0"}})
	}
	_, body = c.post(t, "/job", url.Values{"do": {"remove-racks-0"}})
	assert.NotContains(t, c.text(t), "[[racks]]")
	says(t, body, `id="ledgers"`)
	c.post(t, "/job", url.Values{"do": {"remove-room-0"}})
	assert.Contains(t, c.text(t), "[room]", "only what has a button can be taken out")
}

func TestServeTextWithFaults(t *testing.T) {
	_, server, _ := openSite(t, quickStart())
	c := newClient(t, server)
	_, body := c.post(t, "/text", url.Values{"text": {"[room]\r\nlength = \r\n"}, "view": {"text"}})
	says(t, body, "quick.toml:2:")
	says(t, body, "cannot be shown as a form")
	assert.Equal(t, "[room]\nlength = \n", c.text(t), "line ends as before")
	_, body = c.post(t, "/job", url.Values{"room.length": {"3"}})
	says(t, body, "Nothing was changed")
	_, body = c.post(t, "/begin", url.Values{"with": {"empty"}})
	says(t, body, "My warehouse")
	_, body = c.post(t, "/begin", url.Values{"with": {"file"}})
	says(t, body, `id="ledgers"`)
}

func TestServeTakesFiles(t *testing.T) {
	_, server, _ := openSite(t, quickStart())
	c := newClient(t, server)
	light, err := jobs.Demo.ReadFile("demo/strip-2x8ft-t12.ies")
	require.NoError(t, err)
	_, body := c.upload(t, `C:\light\my.ies`, light, "proposed")
	says(t, body, "my.ies is the proposed luminaire now.")
	assert.Contains(t, c.text(t), `photometry = "my.ies"`)
	says(t, body, `id="ledgers"`)

	bad := strings.Replace(string(light), "TILT=NONE", "TILT=NONE\n2 nonsense", 1)
	_, body = c.upload(t, "bad.ies", []byte(bad), "proposed")
	assert.True(t, regexp.MustCompile(`bad\.ies:\d+(:\d+)?: `).MatchString(body), "its fault has a line")
	assert.NotContains(t, c.text(t), "bad.ies")
	_, again := c.get(t, "/")
	assert.NotContains(t, again, "bad.ies", "it is shown once")

	_, body = c.upload(t, "notes.txt", []byte("x"), "")
	says(t, body, "is not taken")
	_, body = c.upload(t, "other.toml", []byte(strings.Replace(quickJob, "Quick room", "Other room", 1)), "")
	says(t, body, "other.toml is open.")
	says(t, body, "Other room")
	_, body = c.post(t, "/drop-file", url.Values{"name": {"my.ies"}})
	says(t, body, "my.ies is taken out.")
	v := &session{files: map[string][]byte{}}
	for i := range mostFiles {
		require.NoError(t, v.keep(strings.Repeat("a", i+1)+".ies", light))
	}
	require.EqualError(t, v.keep("more.ies", light), `"more.ies" is not taken: there are 16 files already; take some out first`)
	require.EqualError(t, v.keep("a.ies", make([]byte, mostKept+1)), `"a.ies" is not taken: the files of this visit would have more than 4 MB; take some out first`)
}

func TestServeTriesWithoutChanging(t *testing.T) {
	_, server, _ := openSite(t, quickStart())
	c := newClient(t, server)
	now := regexp.MustCompile(`<p class="trial on"><span class="was">([0-9.]+)</span> → <b>([0-9.]+)</b>`)
	_, body := c.post(t, "/try", url.Values{"factor": {"0.44"}})
	assert.False(t, now.MatchString(body), "out of the slider's range")
	_, body = c.post(t, "/try", url.Values{"factor": {"0.66"}})
	found := now.FindStringSubmatch(body)
	require.NotNil(t, found)
	assert.Equal(t, quickJob, c.text(t), "the job is as it was")

	_, body = c.post(t, "/keep", url.Values{"factor": {"0.66"}, "months": {"12"}})
	assert.Contains(t, c.text(t), "ballast_factor = 0.66\n")
	assert.Contains(t, c.text(t), "clean_months = 12.0\n")
	says(t, body, "is in the job now")
}

func TestServeTakeaways(t *testing.T) {
	_, server, _ := openSite(t, quickStart())
	c := newClient(t, server)
	for what, starts := range map[string]string{"job.toml": "title", "job.zip": "PK", "result.json": "{", "maps.zip": "PK", "proposal.pdf": "%PDF", "proposal.html": "<!",
		"proposal-es.pdf": "%PDF", "proposal-es.html": "<!doctype html>\n<html lang=\"es\">", "ledger.csv": "", "ledger.xlsx": "PK", "readings.csv": "#"} {
		answer, body := c.get(t, "/take/"+what)
		assert.Equal(t, http.StatusOK, answer.StatusCode, what)
		assert.True(t, strings.HasPrefix(strings.ToLower(body), strings.ToLower(starts)), what)
		assert.Contains(t, answer.Header.Get("Content-Disposition"), "attachment; filename=quick", what)
		assert.NotEmpty(t, body)
	}
	_, body := c.get(t, "/take/result.json")
	var result map[string]any
	require.NoError(t, json.Unmarshal([]byte(body), &result))
	_, body = c.get(t, "/take/job.zip")
	archive, err := zip.NewReader(strings.NewReader(body), int64(len(body)))
	require.NoError(t, err)
	var names []string
	for _, f := range archive.File {
		names = append(names, f.Name)
	}
	assert.Equal(t, []string{"quick.toml", "strip-2x8ft-t12.ies", "strip-4x4ft-t8.ies"}, names)
	for _, path := range []string{"/take/passwd", "/web/page.html", "/web/..%2fserve.go", "/nothing"} {
		answer, _ := c.get(t, path)
		assert.Equal(t, http.StatusNotFound, answer.StatusCode, path)
	}
	for _, path := range []string{"/map/9/existing-wide.svg", "/map/-1/existing-wide.svg", "/map/x/existing-wide.svg", "/map/0/nothing-wide.svg", "/map/0/existing-vast.svg"} {
		answer, _ := c.get(t, path)
		assert.Equal(t, http.StatusBadRequest, answer.StatusCode, path)
	}
}

// A map's address names what it shows: a browser keeps it until that is another, and never under the address of another.
func TestServeKeepsMapsByWhatTheyShow(t *testing.T) {
	_, server, _ := openSite(t, quickStart())
	c := newClient(t, server)
	_, body := c.get(t, "/")
	addresses := mapAddress.FindAllStringSubmatch(body, -1)
	require.Len(t, addresses, 3)
	kept := func(address string) string {
		answer, drawing := c.get(t, address)
		require.Equal(t, http.StatusOK, answer.StatusCode)
		assert.Contains(t, drawing, "<svg")
		return answer.Header.Get("Cache-Control")
	}
	for _, a := range addresses {
		assert.Contains(t, kept(a[1]), "immutable")
	}
	_, body = c.post(t, "/job", url.Values{"title": {"Another"}, "energy.price_per_kwh": {"0.3"}})
	assert.Equal(t, addresses, mapAddress.FindAllStringSubmatch(body, -1), "neither a name nor a price is light")
	_, body = c.post(t, "/job", url.Values{"room.length": {"36"}})
	for i, a := range mapAddress.FindAllStringSubmatch(body, -1) {
		assert.NotEqual(t, addresses[i], a)
		assert.Equal(t, "no-store", kept(addresses[i][1]), "the map of now, asked for under the address of before")
	}
}

// What is no form is refused as such.
func TestServeRefusesWhatIsNoForm(t *testing.T) {
	s := guardedSite(t, Options{})
	for path, kind := range map[string]string{"/job": " ", "/try": "a/b; c", "/files": uploadType} {
		r := httptest.NewRequestWithContext(t.Context(), http.MethodPost, path, strings.NewReader("--b\r\nContent"))
		r.Host = fuzzHost
		r.Header.Set("Content-Type", kind)
		w := roundTrip(s, r)
		assert.Equal(t, http.StatusBadRequest, w.Code, path)
		says(t, w.Body.String(), "The form could not be read.", path)
	}
}

func TestServeSaves(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "quick.toml")
	require.NoError(t, os.WriteFile(path, []byte(quickJob), 0o600))
	begin, err := startOf(Options{}, []string{path})
	require.NoError(t, err)
	defer begin.close()
	_, server, _ := openSite(t, begin)
	answer, _ := newClient(t, server).post(t, "/save", nil)
	assert.Equal(t, http.StatusBadRequest, answer.StatusCode, "only with --save")

	begin.save = true
	c := newClient(t, server)
	c.post(t, "/job", url.Values{"title": {"Saved"}})
	_, body := c.post(t, "/save", nil)
	says(t, body, "Saved to quick.toml.")
	written, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, strings.Replace(quickJob, "Quick room", "Saved", 1), string(written))

	require.NoError(t, os.WriteFile(path, []byte("title = \"by another\"\n"), 0o600))
	_, body = c.post(t, "/save", nil)
	says(t, body, "Not saved: the file was changed by somebody else")
	written, err = os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, "title = \"by another\"\n", string(written))
	entries, err := os.ReadDir(folder)
	require.NoError(t, err)
	assert.Len(t, entries, 1, "nothing is left behind")
}

func TestServeReadings(t *testing.T) {
	_, server, _ := openSite(t, quickStart())
	c := newClient(t, server)
	_, body := c.get(t, "/stations")
	stations := regexp.MustCompile(`name="(r:[^"]+)"`).FindAllStringSubmatch(body, -1)
	require.Greater(t, len(stations), 3)
	form := url.Values{"meter": {"B"}, "warm-up-minutes": {"x"}}
	for _, s := range stations {
		form.Set(s[1], "21,5")
	}
	form.Set(stations[0][1], "bright")
	_, body = c.post(t, "/stations", form)
	says(t, body, "is no reading, want a number of fc")
	says(t, body, "want a number, or nothing")
	form.Set(stations[0][1], "21.5")
	form.Set("warm-up-minutes", "40")
	_, body = c.post(t, "/stations", form)
	says(t, body, "<b>21.5</b> fc", "the average of equal readings is theirs")
	_, body = c.get(t, "/stations?prove=1")
	says(t, body, "What the readings prove")
	says(t, body, "NOTHING IS PROVEN: all "+strconv.Itoa(len(stations))+" stations have the same reading, 21.5 fc")
	says(t, body, " fc (18 percent of it, k = 1.97)")
	form.Set("meter-shows", "lx")
	form.Set(stations[0][1], "2000 out: wrong range; 215; 216")
	_, body = c.post(t, "/stations", form)
	says(t, body, `lx</span></span><input type="hidden" name="at:`)
	_, body = c.get(t, "/stations?prove=1")
	says(t, body, "186 fc: wrong range")
	says(t, body, "What would prove it")
	_, csv := c.get(t, "/take/readings.csv")
	says(t, csv, ",2000,lx,wrong range,")
	form.Set(stations[0][1], "2000 out: x")
	_, body = c.post(t, "/stations", form)
	says(t, body, "is no reading, want a number of lx")
	form.Del("meter-shows")
	form.Set("meter-shows", "")
	form.Set(stations[0][1], "21.5")
	c.post(t, "/stations", form)
	_, csv = c.get(t, "/take/readings.csv")
	assert.Equal(t, len(stations), strings.Count(csv, ",21.5"), csv)
	other := newClient(t, server)
	_, body = other.get(t, "/stations")
	saysNot(t, body, `value="21,5"`)
	_, body = c.post(t, "/stations", url.Values{"do": {"clear"}})
	saysNot(t, body, `value="21.5"`)
	c.post(t, "/text", url.Values{"text": {"x = 1"}})
	_, body = c.get(t, "/stations")
	says(t, body, "must be mended before")
}

// Everything that is started ends with the command.
func TestServeShutsDown(t *testing.T) {
	defer goleak.VerifyNone(t, goleak.IgnoreCurrent())
	ctx, cancel := context.WithCancel(t.Context())
	terminal := &syncBuffer{}
	done := make(chan error, 1)
	go func() { done <- Serve(ctx, Options{}, nil, terminal, &syncBuffer{}) }()
	require.Eventually(t, func() bool { return strings.HasSuffix(terminal.String(), "/\n") }, 10*time.Second, 5*time.Millisecond)
	address := strings.TrimSpace(terminal.String())
	c := &client{&http.Client{Transport: &http.Transport{DisableKeepAlives: true}}, strings.TrimSuffix(address, "/")}
	answer, body := c.get(t, "/")
	assert.Equal(t, http.StatusOK, answer.StatusCode)
	says(t, body, "Harbour Lane")
	cancel()
	require.NoError(t, <-done)
}
