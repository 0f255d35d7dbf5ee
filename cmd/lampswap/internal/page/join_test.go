package page

import (
	"io"
	"net/http"
	"net/netip"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// openShared is a page that is open to others by a code.
func openShared(t *testing.T, begin *start, demands bool) (*site, func() *client) {
	t.Helper()
	s, server, _ := openSite(t, begin)
	s.door.code, s.door.demands = "12345678", demands
	return s, func() *client { return newClient(t, server) }
}

// Desk and phone share one job and its readings by the code; who has not given it has a job of his own.
func TestServeSharesAJobByItsCode(t *testing.T) {
	_, visitor := openShared(t, quickStart(), false)
	desk, phone, other := visitor(), visitor(), visitor()
	desk.post(t, "/job", url.Values{"title": {"Shared hall"}})
	_, body := desk.post(t, "/join", url.Values{"code": {"1234 5678"}})
	says(t, body, "Shared hall", "the first brings the job")
	_, body = phone.get(t, "/join")
	says(t, body, `name="code"`)
	_, body = phone.post(t, "/join", url.Values{"code": {"12345678"}})
	says(t, body, "Shared hall")
	_, body = phone.get(t, "/stations")
	form := readAll(body)
	phone.post(t, "/stations", form)
	_, body = desk.get(t, "/stations")
	says(t, body, `value="21.5"`, "what the phone types is at the desk")
	desk.post(t, "/job", url.Values{"title": {"By the desk"}})
	_, body = phone.get(t, "/")
	says(t, body, "By the desk")
	_, body = other.get(t, "/")
	says(t, body, "Quick room")
	_, body = other.get(t, "/stations")
	saysNot(t, body, `value="21.5"`)
	_, body = phone.get(t, "/join")
	says(t, body, "This job is shared")
}

// With --save nobody sees the job, and nobody writes, without the code.
func TestServeDemandsTheCodeWhereItSaves(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "quick.toml")
	require.NoError(t, os.WriteFile(path, []byte(quickJob), 0o600))
	begin, err := startOf(Options{Save: true}, []string{path})
	require.NoError(t, err)
	t.Cleanup(begin.close)
	s, visitor := openShared(t, begin, true)
	c := visitor()
	for _, path := range []string{"/", "/options", "/stations", "/take/job.toml", "/map/0/existing-wide.svg"} {
		_, body := c.get(t, path)
		says(t, body, "Give the code", path)
		saysNot(t, body, "Quick room", path)
	}
	for _, path := range []string{"/job", "/text", "/save", "/stations", "/option", "/begin", "/undo", "/try", "/keep", "/drop-file"} {
		_, body := c.post(t, path, url.Values{"text": {"x"}, "title": {"x"}, "r:p1": {"3"}})
		says(t, body, "Give the code", path)
	}
	assert.Empty(t, s.sessions.all, "nobody is kept in mind")
	_, body := c.post(t, "/join", url.Values{"code": {"12345678"}})
	says(t, body, "Quick room")
	c.post(t, "/job", url.Values{"title": {"Written"}})
	_, body = c.post(t, "/save", url.Values{})
	says(t, body, "Saved to quick.toml")
	written, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Contains(t, string(written), "Written")

	s.door.demands = false // even so
	other := visitor()
	answer, _ := other.post(t, "/save", url.Values{})
	assert.Equal(t, http.StatusBadRequest, answer.StatusCode)
	_, body = other.get(t, "/stations")
	other.post(t, "/stations", readAll(body))
	assert.NoFileExists(t, filepath.Join(folder, "quick.readings.json"))
}

// Codes are tried a few at a time, from one address and from all together; the right one is refused too, then.
func TestServeLimitsTriesAtTheCode(t *testing.T) {
	now := time.Unix(1000, 0)
	fresh := func() *door {
		return &door{code: "12345678", now: func() time.Time { return now }, by: map[netip.Addr]*tries{}}
	}
	d := fresh()
	for range triesAtOnce {
		require.ErrorIs(t, d.knock("192.0.2.7:1000", "00000000"), errWrongCode)
	}
	require.ErrorIs(t, d.knock("192.0.2.7:2000", "12345678"), errTooOften)
	require.NoError(t, d.knock("192.0.2.8:1000", "1234-5678"), "another address")
	now = now.Add(tryEvery)
	require.NoError(t, d.knock("192.0.2.7:3000", " 1234 5678 "))
	require.ErrorIs(t, d.knock("192.0.2.7:3000", "12345678"), errTooOften)

	d = fresh()
	let := 0
	for i := range 3000 { // each from an address of its own
		if address := (netip.AddrFrom4([4]byte{10, 0, byte(i >> 8), byte(i)})); d.knock(netip.AddrPortFrom(address, 1).String(), "1") != errTooOften { //nolint:errorlint // of our own, unwrapped
			let++
		}
	}
	assert.Equal(t, allAtOnce, let)
	assert.LessOrEqual(t, len(d.by), mostTriers)
	now = now.Add(time.Hour)
	assert.ErrorIs(t, d.knock("strange", ""), errWrongCode)

	_, visitor := openShared(t, quickStart(), false)
	c := visitor()
	for range triesAtOnce {
		answer, body := c.post(t, "/join", url.Values{"code": {"x"}})
		assert.Equal(t, http.StatusForbidden, answer.StatusCode)
		says(t, body, "That is not the code")
	}
	answer, _ := c.post(t, "/join", url.Values{"code": {"12345678"}})
	assert.Equal(t, http.StatusTooManyRequests, answer.StatusCode)
	assert.NotEmpty(t, answer.Header.Get("Retry-After"))

	_, server, _ := openSite(t, quickStart())
	answer, body := newClient(t, server).post(t, "/join", url.Values{"code": {""}})
	assert.Equal(t, http.StatusBadRequest, answer.StatusCode, "a page for this machine has no code, not an empty one")
	says(t, body, "--listen")
}

func TestCodes(t *testing.T) {
	seen := map[string]bool{}
	for range 50 {
		code, err := newCode()
		require.NoError(t, err)
		assert.Regexp(t, `^[0-9]{8}$`, code)
		seen[code] = true
	}
	assert.Greater(t, len(seen), 45)
	assert.Equal(t, "1234 5678", spaced("12345678"))
	assert.Equal(t, []string{"192.0.2.7"}, reachable("192.0.2.7"))
	for _, host := range reachable("0.0.0.0") {
		assert.False(t, netip.MustParseAddr(host).IsLoopback())
	}
}

// What is printed for a phone: its address, and the code.
func TestServeTellsThePhone(t *testing.T) {
	terminal := &syncBuffer{}
	s := newSite(quickStart(), hosts{}, terminal)
	require.NoError(t, s.tellCode(Options{Listen: "192.0.2.7"}, 8490))
	assert.Contains(t, terminal.String(), "on a phone open http://192.0.2.7:8490/join\n")
	assert.Regexp(t, regexp.MustCompile(`the code is [0-9]{4} [0-9]{4}; who gives it`), terminal.String())
	assert.False(t, s.door.demands)
	require.NoError(t, s.tellCode(Options{Listen: "192.0.2.7", Save: true}, 8490))
	assert.True(t, s.door.demands)
	err := Serve(t.Context(), Options{Open: true, Listen: "192.0.2.7"}, nil, io.Discard, io.Discard)
	require.ErrorContains(t, err, "--open stands beside --listen")
}

// A page that was opened by the program ends it when the last is closed; one asleep does not, nor does it end before any was there.
func TestWatchEndsWhenTheLastPageIsClosed(t *testing.T) {
	now := time.Unix(1000, 0)
	w := &watch{on: true, now: func() time.Time { return now }, pages: map[string]time.Time{}}
	later := func(d time.Duration) bool { now = now.Add(d); return w.over() }
	assert.False(t, later(time.Hour), "nobody has come yet")
	w.hear("a", false)
	w.hear("b", false)
	w.hear("a", true)
	assert.False(t, later(time.Hour), "b sleeps")
	w.hear("b", true)
	assert.False(t, later(closedTime/2))
	w.hear("c", false) // loaded anew
	assert.False(t, later(closedTime))
	w.hear("c", true)
	assert.True(t, later(closedTime))
	w.hear("d", false)
	assert.False(t, later(silentTime-time.Second))
	assert.False(t, later(closedTime), "lost with its browser")
	assert.True(t, later(closedTime))
	for i := range 2 * mostPages {
		w.hear(strings.Repeat("x", i%40)+string(rune('a'+i%26)), false)
	}
	assert.LessOrEqual(t, len(w.pages), mostPages)
	s, server, _ := openSite(t, quickStart())
	c := newClient(t, server)
	answer, _ := c.post(t, "/alive", url.Values{"page": {"x"}})
	assert.Equal(t, http.StatusNoContent, answer.StatusCode, "only where the program opened the browser")
	assert.Empty(t, s.watch.pages)
	s.watch.on = true
	_, body := c.post(t, "/alive", url.Values{"page": {"x"}})
	assert.Equal(t, ends, body)
	assert.Len(t, s.watch.pages, 1)
}
