package page

import (
	"context"
	"io"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/cmd/lampswap/internal/exit"
	"lampswap/cmd/lampswap/internal/jobs"
	"lampswap/cmd/lampswap/internal/page/tomltext"
	"lampswap/cmd/lampswap/internal/page/workshop"
)

// request is one as a browser on this machine makes it, to a page at port 8490.
func request(method, path string) *http.Request {
	r := httptest.NewRequestWithContext(context.Background(), method, path, nil)
	r.Host = "127.0.0.1:8490"
	return r
}

func guardedSite(t *testing.T, opts Options) *site {
	t.Helper()
	return newSite(quickStart(), allowedHosts(opts, 8490), io.Discard)
}

func TestServeAnswersUnderItsOwnNamesOnly(t *testing.T) {
	for _, c := range []struct {
		opts Options
		host string
		code int
	}{
		{Options{}, "127.0.0.1:8490", http.StatusOK},
		{Options{}, "localhost:8490", http.StatusOK},
		{Options{}, "LOCALHOST:8490", http.StatusOK},
		{Options{}, "[::1]:8490", http.StatusOK},
		{Options{}, "rebound.example:8490", http.StatusMisdirectedRequest},
		{Options{}, "127.0.0.1:9999", http.StatusMisdirectedRequest},
		{Options{}, "127.0.0.1", http.StatusMisdirectedRequest},
		{Options{}, "192.0.2.7:8490", http.StatusMisdirectedRequest},
		{Options{}, "", http.StatusMisdirectedRequest},
		{Options{Listen: "192.0.2.7", Names: []string{"Dock.example"}}, "192.0.2.7:8490", http.StatusOK},
		{Options{Listen: "192.0.2.7", Names: []string{"Dock.example"}}, "dock.example:8490", http.StatusOK},
		{Options{Listen: "192.0.2.7"}, "rebound.example:8490", http.StatusMisdirectedRequest},
		{Options{Listen: "0.0.0.0"}, "192.0.2.99:8490", http.StatusOK},
		{Options{Listen: "0.0.0.0"}, "rebound.example:8490", http.StatusMisdirectedRequest},
	} {
		r := request(http.MethodGet, "/web/page.css")
		r.Host = c.host
		assert.Equal(t, c.code, roundTrip(guardedSite(t, c.opts), r).Code, "%q with %+v", c.host, c.opts)
	}
}

func TestServeRefusesOtherSites(t *testing.T) {
	s := guardedSite(t, Options{})
	for _, c := range []struct {
		method, path string
		headers      map[string]string
		code         int
	}{
		{http.MethodPost, "/begin", map[string]string{"Sec-Fetch-Site": "same-origin"}, http.StatusSeeOther},
		{http.MethodPost, "/begin", map[string]string{"Sec-Fetch-Site": "cross-site"}, http.StatusForbidden},
		{http.MethodPost, "/begin", map[string]string{"Sec-Fetch-Site": "same-site"}, http.StatusForbidden},
		{http.MethodPost, "/begin", map[string]string{"Origin": "http://evil.example"}, http.StatusForbidden},
		{http.MethodPost, "/begin", map[string]string{"Origin": "http://127.0.0.1:8490"}, http.StatusSeeOther},
		{http.MethodPost, "/begin", map[string]string{"Origin": "null"}, http.StatusForbidden},
		{http.MethodGet, "/map/0/existing-wide.svg", map[string]string{"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "no-cors", "Sec-Fetch-Dest": "image"}, http.StatusForbidden},
		{http.MethodGet, "/web/page.js", map[string]string{"Sec-Fetch-Site": "same-site", "Sec-Fetch-Mode": "cors", "Sec-Fetch-Dest": "script"}, http.StatusForbidden},
		{http.MethodGet, "/web/page.css", map[string]string{"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "navigate", "Sec-Fetch-Dest": "iframe"}, http.StatusForbidden},
		{http.MethodGet, "/web/page.css", map[string]string{"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "navigate", "Sec-Fetch-Dest": "document"}, http.StatusOK},
		{http.MethodPost, "/begin", map[string]string{"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "navigate", "Sec-Fetch-Dest": "document"}, http.StatusForbidden},
	} {
		r := request(c.method, c.path)
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		for name, value := range c.headers {
			r.Header.Set(name, value)
		}
		w := roundTrip(s, r)
		assert.Equal(t, c.code, w.Code, "%s %s %v", c.method, c.path, c.headers)
	}
}

func TestServeSendsItsPolicy(t *testing.T) {
	w := roundTrip(guardedSite(t, Options{}), request(http.MethodGet, "/"))
	require.Equal(t, http.StatusOK, w.Code)
	policy := w.Header().Get("Content-Security-Policy")
	for _, part := range []string{"default-src 'self'", "style-src 'self'", "object-src 'none'", "base-uri 'none'", "form-action 'self'", "frame-ancestors 'none'"} {
		assert.Contains(t, policy, part)
	}
	assert.NotContains(t, policy, "unsafe")
	assert.Equal(t, "nosniff", w.Header().Get("X-Content-Type-Options"))
	assert.Equal(t, "no-store", w.Header().Get("Cache-Control"))
	body := w.Body.String()
	for _, banned := range []string{" style=", "<style", "javascript:", " onclick=", " oninput=", "http://", "https://"} {
		saysNot(t, body, banned, "the policy would stop it, or something foreign would be loaded")
	}
	assert.Equal(t, 2, strings.Count(body, "<script"))
	assert.Equal(t, 2, strings.Count(body, `<script src="/web/p`), "from files of the page's own")
	cookie := w.Header().Get("Set-Cookie")
	assert.Contains(t, cookie, "HttpOnly")
	assert.Contains(t, cookie, "SameSite=Lax")
}

func TestServeEscapesWhatAJobSays(t *testing.T) {
	hostile := strings.Replace(quickJob, `"Quick room"`, `"</title><script>alert(1)</script><img src=x onerror=alert(1)>"`, 1)
	_, server, _ := openSite(t, &start{name: "quick.toml", text: hostile})
	c := newClient(t, server)
	_, body := c.get(t, "/")
	saysNot(t, body, "<script>alert")
	saysNot(t, body, "<img src=x")
	_, drawing := c.get(t, "/map/0/existing-wide.svg")
	assert.NotContains(t, drawing, "<script")
	answer, _ := c.get(t, "/map/0/existing-wide.svg")
	assert.Equal(t, drawingPolicy, answer.Header.Get("Content-Security-Policy"))
	_, body = c.get(t, "/stations")
	saysNot(t, body, "<script>alert")
}

func TestServeLimitsWhatIsSent(t *testing.T) {
	_, server, _ := openSite(t, quickStart())
	c := newClient(t, server)
	answer, _ := c.post(t, "/text", url.Values{"text": {strings.Repeat("#", formBytes)}})
	assert.Equal(t, http.StatusRequestEntityTooLarge, answer.StatusCode)
	answer, body := c.post(t, "/text", url.Values{"text": {"#" + strings.Repeat("x", mostText)}})
	assert.Equal(t, http.StatusBadRequest, answer.StatusCode)
	says(t, body, "256 KB")
	answer, _ = c.upload(t, "big.ies", make([]byte, mostFile+1), "")
	assert.Equal(t, http.StatusRequestEntityTooLarge, answer.StatusCode)
	answer, _ = c.upload(t, "huge.ies", make([]byte, mostKept+mostText+1<<20), "")
	assert.Equal(t, http.StatusRequestEntityTooLarge, answer.StatusCode)
	assert.Equal(t, quickJob, c.text(t), "the job is as it was")
}

func TestServeRefusesLargeJobs(t *testing.T) {
	_, server, _ := openSite(t, quickStart())
	c := newClient(t, server)
	rack := "[[racks]]\ncorner = [0.0, 0.0]\nsize = [0.1, 0.1, 1.0]\nrepeat = { count = 501, step = [0.0, 0.03] }\n"
	for what, text := range map[string]string{
		"luminaires":    strings.Replace(quickJob, "rows = 2\ncolumns = 2", "rows = 100\ncolumns = 51", 1),
		"racks":         quickJob + rack,
		"points":        strings.Replace(quickJob, "spacing = 5.0", "spacing = 0.05", 1),
		"square meters": strings.NewReplacer("length = 30.0", "length = 900.0", "width = 20.0", "width = 900.0", "spacing = 5.0", "spacing = 50.0").Replace(quickJob),
	} {
		_, body := c.post(t, "/text", url.Values{"text": {text}})
		says(t, body, "This job is too large for the page", what)
		says(t, body, what)
		answer, _ := c.get(t, "/take/result.json")
		assert.Equal(t, http.StatusBadRequest, answer.StatusCode, what)
	}
}

func TestServeRefusesDeepJobs(t *testing.T) {
	_, server, _ := openSite(t, quickStart())
	c := newClient(t, server)
	_, body := c.post(t, "/text", url.Values{"text": {"title = \"x\"\na = " + strings.Repeat("[", 60_000) + strings.Repeat("]", 60_000)}})
	says(t, body, "at line 2, tables, lists or dotted keys go more than 40 deep")
	saysNot(t, body, `id="job-form"`)
	_, body = c.post(t, "/text", url.Values{"text": {strings.Repeat("a = 1\n", 30_000)}})
	says(t, body, "at line 10001, there are more than 10000 keys")
	saysNot(t, body, `id="job-form"`)
}

// A text that is nothing but faults makes no page without end.
func TestServeShowsTheFirstFaults(t *testing.T) {
	_, server, _ := openSite(t, quickStart())
	c := newClient(t, server)
	_, body := c.post(t, "/text", url.Values{"text": {"racks = [" + strings.Repeat("{}, ", 5000) + "]\n" + quickJob}})
	says(t, body, "things to mend")
	says(t, body, " more</p>")
	assert.Less(t, len(body), 1<<20)
}

func TestServeLimitsTheTimeOfAJob(t *testing.T) {
	s, server, _ := openSite(t, quickStart())
	s.work.Limit = time.Nanosecond
	c := newClient(t, server)
	answer, body := c.get(t, "/")
	assert.Equal(t, http.StatusOK, answer.StatusCode)
	says(t, body, "takes longer than the 30 seconds")
	s.work.Limit = workshop.SolveTime
	_, body = c.get(t, "/")
	says(t, body, `id="ledgers"`, "what took too long once may be tried again")
}

func TestServeShowsNoPanic(t *testing.T) {
	terminal := &syncBuffer{}
	s := newSite(quickStart(), allowedHosts(Options{}, 8490), terminal)
	w := httptest.NewRecorder()
	s.guarded(http.HandlerFunc(func(http.ResponseWriter, *http.Request) { panic("secret detail") })).ServeHTTP(w, request(http.MethodGet, "/"))
	assert.Equal(t, http.StatusInternalServerError, w.Code)
	assert.NotContains(t, w.Body.String(), "secret detail")
	assert.Contains(t, w.Body.String(), "That was not done")
	assert.Contains(t, terminal.String(), "secret detail", "the terminal has it")
}

func TestServeOpensNothingOutsideTheFolder(t *testing.T) {
	outside, folder := t.TempDir(), t.TempDir()
	light, err := jobs.Demo.ReadFile("demo/strip-4x4ft-t8.ies")
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(outside, "secret.ies"), light, 0o600))
	require.NoError(t, os.WriteFile(filepath.Join(folder, "here.ies"), light, 0o600))
	require.NoError(t, os.WriteFile(filepath.Join(folder, "key.txt"), []byte("secret"), 0o600))
	require.NoError(t, os.Mkdir(filepath.Join(folder, "folder.ies"), 0o700))
	require.NoError(t, os.WriteFile(filepath.Join(folder, "long.ies"), make([]byte, mostFile+1), 0o600))
	require.NoError(t, os.Symlink(filepath.Join(outside, "secret.ies"), filepath.Join(folder, "link.ies")))
	require.NoError(t, os.WriteFile(filepath.Join(folder, "quick.toml"), []byte(quickJob), 0o600))
	begin, err := startOf(Options{}, []string{filepath.Join(folder, "quick.toml")})
	require.NoError(t, err)
	defer begin.close()
	_, server, _ := openSite(t, begin)
	c := newClient(t, server)
	use := func(name string) string {
		_, body := c.post(t, "/text", url.Values{"text": {strings.Replace(quickJob, `"strip-4x4ft-t8.ies"`, tomltext.Quote(name), 1)}})
		return body
	}
	assert.Contains(t, use("here.ies"), `id="maps"`, "a file beside the job is read")
	for name, why := range map[string]string{
		filepath.Join(outside, "secret.ies"):           "cannot be read",
		"../" + filepath.Base(outside) + "/secret.ies": "cannot be read",
		"link.ies":   "cannot be read",
		"key.txt":    "not an .ies",
		"quick.toml": "not an .ies",
		"folder.ies": "is a folder",
		"long.ies":   "over 1024 KB",
	} {
		body := use(name)
		says(t, body, `<div class="last stale">`, name)
		says(t, body, why, name)
		saysNot(t, body, "secret</", name)
	}
}

func TestServeIsolatesVisitors(t *testing.T) {
	_, server, _ := openSite(t, quickStart())
	a, b := newClient(t, server), newClient(t, server)
	light, err := jobs.Demo.ReadFile("demo/strip-4x4ft-t8.ies")
	require.NoError(t, err)
	a.upload(t, "mine.ies", light, "proposed")
	a.post(t, "/job", url.Values{"title": {"Of a alone"}})
	assert.Contains(t, a.text(t), "Of a alone")
	assert.Equal(t, quickJob, b.text(t))
	_, body := b.get(t, "/")
	saysNot(t, body, "mine.ies")
	_, body = b.post(t, "/text", url.Values{"text": {strings.Replace(quickJob, "strip-4x4ft-t8", "mine", 1)}})
	says(t, body, "cannot be read", "another's file is not there")
	forged := newClient(t, server)
	r, err := http.NewRequestWithContext(t.Context(), http.MethodGet, server.URL+"/", nil)
	require.NoError(t, err)
	r.AddCookie(&http.Cookie{Name: "lampswap", Value: "guess"})
	_, body = forged.do(t, r)
	saysNot(t, body, "Of a alone")
}

func TestSessionsAreBounded(t *testing.T) {
	now := time.Unix(0, 0)
	s := &sessions{all: map[string]*session{}, now: func() time.Time { return now }}
	begin := func() *session { return &session{} }
	_, first, err := s.of("", begin)
	require.NoError(t, err)
	for range mostSessions - 1 {
		_, _, err := s.of("guess", begin)
		require.NoError(t, err)
	}
	_, _, err = s.of("", begin)
	require.ErrorIs(t, err, errFull, "all are busy")
	now = now.Add(restLimit)
	found, fresh, err := s.of(first, begin)
	require.NoError(t, err)
	assert.Empty(t, fresh, "who is known stays")
	_, _, err = s.of("", begin)
	require.NoError(t, err, "who rested longest makes room")
	assert.Len(t, s.all, mostSessions)
	assert.Same(t, found, s.all[first])
	now = now.Add(idleLimit)
	_, fresh, err = s.of(first, begin)
	require.NoError(t, err)
	assert.NotEmpty(t, fresh, "after so long it is forgotten")
	assert.Len(t, s.all, 1)
	assert.GreaterOrEqual(t, len(fresh), 26, "128 random bits")
}

func TestServeOptionsAreChecked(t *testing.T) {
	for _, c := range []struct {
		opts Options
		args []string
		want string
	}{
		{Options{Port: -1}, nil, "--port is -1, want 0 to 65535"},
		{Options{Port: 70000}, nil, "--port is 70000, want 0 to 65535"},
		{Options{Names: []string{"x"}}, nil, "--host goes with --listen"},
		{Options{Save: true}, nil, "--save goes with a job file"},
		{Options{}, []string{"/nowhere/at/all.toml"}, "no such file"},
		{Options{Listen: "192.0.2.7"}, nil, "cannot listen"},
	} {
		err := Serve(t.Context(), c.opts, c.args, io.Discard, io.Discard)
		require.ErrorContains(t, err, c.want) // the system words the last two
		assert.ErrorAs(t, err, new(exit.UsageError))
	}
	address, err := addressOf(Options{Port: 1234})
	require.NoError(t, err)
	assert.Equal(t, "127.0.0.1:1234", address, "this machine only, unless told otherwise")
}

func TestServeHasTimeLimits(t *testing.T) {
	for name, limit := range map[string]time.Duration{"header": headerTime, "read": readTime, "write": writeTime, "idle": idleTime} {
		assert.Positive(t, limit, name)
	}
	assert.Greater(t, writeTime, workshop.SolveTime, "an answer can still be sent when its work took all the time it may")
}
