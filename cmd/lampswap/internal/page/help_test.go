package page

import (
	"bytes"
	_ "embed" // the quick job
	"fmt"
	"io"
	"mime/multipart"
	"net"
	"net/http"
	"net/http/cookiejar"
	"net/http/httptest"
	"net/url"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// quickJob is a small room that is worked out in a few milliseconds.
//
//go:embed testdata/quick.toml
var quickJob string

// A syncBuffer is a terminal that several may write to.
type syncBuffer struct {
	mutex sync.Mutex
	text  bytes.Buffer
}

func (b *syncBuffer) Write(p []byte) (int, error) {
	b.mutex.Lock()
	defer b.mutex.Unlock()
	return b.text.Write(p)
}

func (b *syncBuffer) String() string {
	b.mutex.Lock()
	defer b.mutex.Unlock()
	return b.text.String()
}

// openSite opens a page on the job for the time of a test.
func openSite(tb testing.TB, begin *start) (*site, *httptest.Server, *syncBuffer) {
	tb.Helper()
	terminal := &syncBuffer{}
	server := httptest.NewUnstartedServer(nil)
	s := newSite(begin, allowedHosts(Options{}, server.Listener.Addr().(*net.TCPAddr).Port), terminal)
	server.Config.Handler = s.handler()
	server.Start()
	tb.Cleanup(server.Close)
	return s, server, terminal
}

func quickStart() *start { return &start{name: "quick.toml", text: quickJob} }

// A client is a browser without a window: it keeps its cookie.
type client struct {
	http *http.Client
	base string
}

func newClient(tb testing.TB, server *httptest.Server) *client {
	tb.Helper()
	jar, err := cookiejar.New(nil)
	require.NoError(tb, err)
	return &client{&http.Client{Jar: jar, Timeout: 2 * time.Minute}, server.URL}
}

// do sends a request and returns the answer with its whole body.
func (c *client) do(tb testing.TB, r *http.Request) (*http.Response, string) {
	tb.Helper()
	answer, err := c.http.Do(r)
	require.NoError(tb, err)
	body, err := io.ReadAll(answer.Body)
	require.NoError(tb, err)
	require.NoError(tb, answer.Body.Close())
	return answer, string(body)
}

func (c *client) get(tb testing.TB, path string) (*http.Response, string) {
	tb.Helper()
	r, err := http.NewRequestWithContext(tb.Context(), http.MethodGet, c.base+path, nil)
	require.NoError(tb, err)
	return c.do(tb, r)
}

func (c *client) post(tb testing.TB, path string, form url.Values) (*http.Response, string) {
	tb.Helper()
	r, err := http.NewRequestWithContext(tb.Context(), http.MethodPost, c.base+path, bytes.NewReader([]byte(form.Encode())))
	require.NoError(tb, err)
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	return c.do(tb, r)
}

// upload sends one file, for the system that is to use it.
func (c *client) upload(tb testing.TB, name string, content []byte, use string) (*http.Response, string) {
	tb.Helper()
	var body bytes.Buffer
	w := multipart.NewWriter(&body)
	require.NoError(tb, w.WriteField("use", use))
	f, err := w.CreateFormFile("file", name)
	require.NoError(tb, err)
	_, err = f.Write(content)
	require.NoError(tb, err)
	require.NoError(tb, w.Close())
	r, err := http.NewRequestWithContext(tb.Context(), http.MethodPost, c.base+"/files", &body)
	require.NoError(tb, err)
	r.Header.Set("Content-Type", w.FormDataContentType())
	return c.do(tb, r)
}

// text is the text of the client's job.
func (c *client) text(tb testing.TB) string {
	tb.Helper()
	answer, text := c.get(tb, "/take/job.toml")
	require.Equal(tb, http.StatusOK, answer.StatusCode)
	return text
}

// A roundTrip is a request that is answered without a network.
func roundTrip(s *site, r *http.Request) *httptest.ResponseRecorder {
	w := httptest.NewRecorder()
	s.handler().ServeHTTP(w, r)
	return w
}

// says tells whether a page has some words; a page is too long to be printed where it has not.
func says(tb testing.TB, page, words string, why ...any) {
	tb.Helper()
	assert.True(tb, strings.Contains(page, words), fmt.Sprint("the page does not say ", words, " ", fmt.Sprint(why...)))
}

func saysNot(tb testing.TB, page, words string, why ...any) {
	tb.Helper()
	assert.False(tb, strings.Contains(page, words), fmt.Sprint("the page says ", words, " ", fmt.Sprint(why...)))
}
