package page

import (
	"bytes"
	"context"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"lampswap/cmd/lampswap/internal/jobs"
	"lampswap/cmd/lampswap/internal/page/workshop"
)

// secret is in files that no request may come to see.
const secret = "secret-outside-the-folder"

// fuzzTime is what a job may take while fuzzing: the small room is worked out in less, and any other is given up.
const fuzzTime = 50 * time.Millisecond

// A fuzzedRequest is what may come over the line. Sound values are in the seeds, so that the fuzzer has something to start from.
type fuzzedRequest struct {
	method, path, host, origin, fetchSite, contentType string
	body                                               []byte
}

func (q fuzzedRequest) add(f *testing.F) {
	f.Helper()
	f.Add(q.method, q.path, q.host, q.origin, q.fetchSite, q.contentType, q.body)
}

const (
	fuzzHost   = "127.0.0.1:8490"
	formType   = "application/x-www-form-urlencoded"
	uploadType = "multipart/form-data; boundary=b"
)

// seedRequests are one or more to every address, and each guard's refusal.
func seedRequests(f *testing.F) {
	f.Helper()
	light, err := jobs.Demo.ReadFile("demo/strip-4x4ft-t8.ies")
	require.NoError(f, err)
	for _, path := range []string{"/", "/?view=text", "/stations", "/stations?prove=1", "/options?every=1&lamp=led", "/join", "/take/stations.pdf", "/map/0/existing-wide.svg?k=1", "/map/0/change-narrow.svg", "/map/7/x", "/light/0/change.png?k=1", "/light/0/values.json", "/light/-1/existing.png", "/light/0/x", "/web/page.js",
		"/web/..%2fsite.go", "/take/job.toml", "/take/job.zip", "/take/result.json", "/take/ledger.csv", "/take/readings.csv", "/take/passwd", "//evil.example/..", "/nothing"} {
		fuzzedRequest{http.MethodGet, path, fuzzHost, "", "none", "", nil}.add(f)
	}
	text := func(old, with string) []byte {
		return []byte(url.Values{"text": {strings.Replace(quickJob, old, with, 1)}, "view": {"text"}}.Encode())
	}
	upload := func(name, content string) []byte {
		return []byte("--b\r\nContent-Disposition: form-data; name=\"use\"\r\n\r\nproposed\r\n--b\r\nContent-Disposition: form-data; name=\"file\"; filename=\"" + name + "\"\r\n\r\n" + content + "\r\n--b--\r\n")
	}
	for _, post := range []struct {
		path, kind string
		body       []byte
	}{
		{"/job", formType, []byte("room.length=36&room.width=wide&racks%5B0%5D.corner%3A0=2&do=add-rack")},
		{"/job", formType, []byte("do=remove-racks-0&proposed.source=photometry%3Ahere.ies")},
		{"/job", formType, []byte("do=add-face&units=metric&title=%3Cscript%3Ealert(1)%3C/script%3E")},
		{"/plan", formType, []byte("do=move&thing=room&x=31&y=1e9&tab=a&revision=0&gesture=pull+1")},
		{"/plan", formType, []byte("do=copy&thing=room")},
		{"/plan", formType, []byte("do=place&thing=layout.spacing")},
		{"/plan", formType, []byte("do=delete&thing=room.outline%5B0%5D&x=NaN")},
		{"/undo", formType, []byte("do=redo&tab=a&revision=7")},
		{"/text", formType, text("30.0", "-1")},
		{"/text", formType, text(`"Quick room"`, `"</title><script>alert(1)</script>"`)},
		{"/text", formType, text("strip-4x4ft-t8.ies", "../secret.ies")},
		{"/text", formType, text("strip-4x4ft-t8.ies", "link.ies")},
		{"/text", formType, []byte("text=%5B%5B%5B%5B&view=text")},
		{"/try", formType, []byte("factor=0.66&months=12&lamp=1")},
		{"/keep", formType, []byte("factor=0.66&months=12&lamp=1")},
		{"/space", formType, []byte("open=1")},
		{"/begin", formType, []byte("with=empty")},
		{"/begin", formType, []byte("with=file")},
		{"/save", formType, []byte("x=1")},
		{"/drop-file", formType, []byte("name=here.ies")},
		{"/stations", formType, []byte("meter=B&system=existing&r%3Aa=21%2C5&at%3Aa=mm1%3A2%3A3&here%3Aa=1")},
		{"/stations", formType, []byte("prove=1&places=all&meter=own&meter-error=x&failed-percent=101&do=drop%3Aa")},
		{"/option", formType, []byte("lamp=F32T8/700&lamps=4&ballast=is-normal&host=proposed")},
		{"/option", formType, []byte("lamp=LED-T8-4FT-18.5W-B&lamps=4&ballast=none&host=existing&group=a&end_to_end=2")},
		{"/files", uploadType, upload("my.ies", string(light))},
		{"/files", uploadType, upload("../../my.ies", "IESNA:LM-63-2002\r\nTILT=NONE\r\nmany")},
		{"/files", uploadType, upload("other.toml", quickJob)},
		{"/files", formType, []byte("x")},
		{"/join", formType, []byte("code=12345678")},
		{"/alive", formType, []byte("page=a&closed=1")},
	} {
		fuzzedRequest{http.MethodPost, post.path, fuzzHost, "http://" + fuzzHost, "same-origin", post.kind, post.body}.add(f)
	}
	fuzzedRequest{http.MethodPost, "/begin", fuzzHost, "http://evil.example", "cross-site", formType, []byte("with=empty")}.add(f)
	fuzzedRequest{http.MethodPost, "/job", fuzzHost, "", "same-origin", " ", []byte("0")}.add(f)                                              // a kind that is none
	fuzzedRequest{http.MethodPost, "/files", fuzzHost, "", "same-origin", uploadType, []byte("--b\r\nContent-Disposition: form-data")}.add(f) // broken off
	fuzzedRequest{http.MethodPost, "/begin", fuzzHost, "null", "", formType, []byte("with=empty")}.add(f)
	fuzzedRequest{http.MethodGet, "/", "rebound.example:8490", "", "", "", nil}.add(f)
	fuzzedRequest{http.MethodGet, "/web/page.css", fuzzHost, "", "same-site", "", nil}.add(f)
	fuzzedRequest{http.MethodOptions, "*", fuzzHost, "", "", "", nil}.add(f)
	fuzzedRequest{"BREW", "/job", fuzzHost, "", "", "text/plain", []byte("tea")}.add(f)
}

// Whatever comes over the line, no handler panics or fails for a reason of its own; every answer has its headers and no script but the
// page's; nothing outside the job's folder is read or written; and whoever is refused changes nothing.
func FuzzServe(f *testing.F) {
	seedRequests(f)
	outside := f.TempDir()
	folder := filepath.Join(outside, "folder")
	require.NoError(f, os.Mkdir(folder, 0o700))
	light, err := jobs.Demo.ReadFile("demo/strip-4x4ft-t8.ies")
	require.NoError(f, err)
	jobPath := filepath.Join(folder, "quick.toml")
	for path, content := range map[string]string{filepath.Join(outside, "secret.ies"): secret, filepath.Join(outside, "secret.toml"): secret,
		filepath.Join(folder, "here.ies"): string(light), filepath.Join(folder, "key.txt"): secret, jobPath: quickJob} {
		require.NoError(f, os.WriteFile(path, []byte(content), 0o600))
	}
	require.NoError(f, os.Symlink(filepath.Join(outside, "secret.ies"), filepath.Join(folder, "link.ies")))
	begin, err := startOf(Options{Save: true}, []string{jobPath})
	require.NoError(f, err)
	f.Cleanup(begin.close)
	work := workshop.New() // of all requests, so that the same job is worked out once
	work.Limit = fuzzTime
	f.Fuzz(func(t *testing.T, method, path, host, origin, fetchSite, contentType string, body []byte) {
		r := fuzzedRequest{method, path, host, origin, fetchSite, contentType, body}.request()
		if r == nil {
			t.Skip("no request that a server reads")
		}
		terminal := &syncBuffer{}
		s := newSite(begin, allowedHosts(Options{}, 8490), terminal)
		s.work = work
		answer := fuzzOne(t, s, r)
		checkRefusals(t, s, r, answer)
		if answer.Code == http.StatusSeeOther { // what the browser does next
			next, err := http.NewRequestWithContext(context.Background(), http.MethodGet, "http://"+fuzzHost+answer.Header().Get("Location"), nil)
			require.NoError(t, err)
			for _, c := range answer.Result().Cookies() {
				next.AddCookie(c)
			}
			fuzzOne(t, s, next)
			checkSaved(t, begin, folder)
		}
		require.Empty(t, terminal.String(), "a fault of our own")
		checkKept(t, s)
	})
}

// request is as the server's own reader hands it on; nil if it would not.
func (q fuzzedRequest) request() *http.Request {
	if !strings.HasPrefix(q.path, "/") && q.path != "*" || strings.ContainsAny(q.host+q.origin+q.fetchSite+q.contentType, "\r\n\x00") {
		return nil
	}
	address, err := url.ParseRequestURI(q.path)
	if err != nil {
		return nil
	}
	r, err := http.NewRequestWithContext(context.Background(), q.method, "http://"+fuzzHost+"/", bytes.NewReader(q.body))
	if err != nil {
		return nil
	}
	r.URL, r.RequestURI, r.Host = address, q.path, q.host
	for name, value := range map[string]string{"Origin": q.origin, "Sec-Fetch-Site": q.fetchSite, "Content-Type": q.contentType} {
		if value != "" {
			r.Header.Set(name, value)
		}
	}
	return r
}

// fuzzOne sends a request and checks what holds for every answer.
func fuzzOne(t *testing.T, s *site, r *http.Request) *httptest.ResponseRecorder {
	t.Helper()
	w := roundTrip(s, r)
	if w.Code >= 500 {
		require.Equal(t, http.StatusServiceUnavailable, w.Code, "the one fault of a server that is no fault of ours: too much to do")
		require.NotEmpty(t, w.Header().Get("Retry-After"))
	}
	h := w.Header()
	policy := contentPolicy
	if h.Get("Content-Type") == "image/svg+xml" && strings.HasPrefix(r.URL.Path, "/map/") {
		policy = drawingPolicy
	}
	require.Equal(t, policy, h.Get("Content-Security-Policy"))
	for name, want := range map[string]string{"X-Content-Type-Options": "nosniff", "X-Frame-Options": "DENY", "Cross-Origin-Resource-Policy": "same-origin",
		"Cross-Origin-Opener-Policy": "same-origin", "Referrer-Policy": "same-origin"} {
		require.Equal(t, want, h.Get(name), name)
	}
	require.NotEmpty(t, h.Get("Permissions-Policy"))
	require.Contains(t, []string{"no-store", "no-cache", "private, max-age=86400, immutable"}, h.Get("Cache-Control"))
	require.Empty(t, h.Get("Access-Control-Allow-Origin"))
	if to := h.Get("Location"); to != "" {
		require.True(t, strings.HasPrefix(to, "/") && !strings.HasPrefix(to, "//") && !strings.HasPrefix(to, `/\`), "leads elsewhere: %q", to)
	}
	body := w.Body.String()
	require.NotContains(t, body, secret)
	if strings.HasPrefix(h.Get("Content-Type"), "text/html") && h.Get("Content-Disposition") == "" {
		require.LessOrEqual(t, strings.Count(strings.ToLower(body), "<script"), 2, "the page's own")
		own := strings.Count(body, `<script src="/web/page.js" defer></script>`) + strings.Count(body, `<script src="/web/plan.js" defer></script>`)
		require.Equal(t, strings.Count(strings.ToLower(body), "<script"), own)
	}
	return w
}

// checkRefusals holds an answer against the guards, told anew: who asks under a foreign name, and who changes something from another site.
func checkRefusals(t *testing.T, s *site, r *http.Request, w *httptest.ResponseRecorder) {
	t.Helper()
	switch strings.ToLower(r.Host) {
	case "127.0.0.1:8490", "localhost:8490", "[::1]:8490":
	default:
		require.Equal(t, http.StatusMisdirectedRequest, w.Code, "a foreign name: %q", r.Host)
		require.Empty(t, s.sessions.all, "it begins nothing")
		return
	}
	site, origin := r.Header.Get("Sec-Fetch-Site"), r.Header.Get("Origin")
	foreign := site != "" && site != "same-origin" && site != "none" || site == "" && origin != "" && origin != "http://"+r.Host && origin != "https://"+r.Host
	if safe := r.Method == http.MethodGet || r.Method == http.MethodHead || r.Method == http.MethodOptions; foreign && !safe {
		require.Equal(t, http.StatusForbidden, w.Code, "from another site: %q, %q", site, origin)
		require.Empty(t, s.sessions.all, "it begins nothing")
	}
}

// checkSaved tells that nothing was written but the job file and its readings, and puts both back.
func checkSaved(t *testing.T, begin *start, folder string) {
	t.Helper()
	entries, err := os.ReadDir(folder)
	require.NoError(t, err)
	kept := filepath.Join(folder, readingsName(begin.name))
	if _, err := os.Stat(kept); err == nil { // what was read on site
		entries = entries[:len(entries)-1]
		require.NoError(t, os.Remove(kept))
	}
	require.Len(t, entries, 4, "here.ies, key.txt, link.ies, quick.toml")
	entries, err = os.ReadDir(filepath.Dir(folder))
	require.NoError(t, err)
	require.Len(t, entries, 3, "the folder, secret.ies, secret.toml")
	if now, err := os.ReadFile(begin.path); err != nil || string(now) != quickJob {
		require.NoError(t, os.WriteFile(begin.path, []byte(quickJob), 0o600))
	}
}

// checkKept tells that no visitor keeps more than he may.
func checkKept(t *testing.T, s *site) {
	t.Helper()
	require.LessOrEqual(t, len(s.sessions.all), 2)
	for _, v := range s.sessions.all {
		kept := 0
		for name, content := range v.files {
			require.True(t, (isLightFile(name) || isPicture(name)) && name == filepath.Base(name), name)
			kept += len(content)
		}
		require.LessOrEqual(t, len(v.text), mostText)
		require.LessOrEqual(t, len(v.files), mostFiles)
		require.LessOrEqual(t, kept, mostKept)
	}
}
