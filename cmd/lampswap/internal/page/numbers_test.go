package page

import (
	"io"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lampswap/cmd/lampswap/internal/drawn"
)

// A guest is a visitor of a site without a network, with a cookie.
type guest struct {
	*rapid.T
	site   *site
	job    drawn.Job
	cookie string
}

// ask sends a request and looks at what comes: a page, or a file, without a number that is none.
func (g *guest) ask(method, path string, form url.Values) (body string) {
	r := httptest.NewRequest(method, path, strings.NewReader(form.Encode()))
	r.Host = fuzzHost
	r.Header.Set("Content-Type", formType)
	if g.cookie != "" {
		r.Header.Set("Cookie", g.cookie)
	}
	w := roundTrip(g.site, r)
	for _, c := range w.Result().Cookies() {
		g.cookie = c.Name + "=" + c.Value
	}
	body = w.Body.String()
	if w.Code == http.StatusServiceUnavailable {
		g.SkipNow() // it takes longer than is worth to wait for
	}
	if w.Code != http.StatusOK && w.Code != http.StatusSeeOther {
		g.Fatalf("%s %s: %d\n%.2000s\n%s", method, path, w.Code, body, g.job.Text)
	}
	odd := g.job.Odd
	if strings.Contains(w.Header().Get("Content-Type"), "html") || strings.Contains(w.Header().Get("Content-Type"), "svg") {
		odd = g.job.OddMarkup
	}
	if lines := odd(body); len(lines) > 0 {
		g.Fatalf("%s %s shows\n%.2000s\n%s", method, path, strings.Join(lines, "\n"), g.job.Text)
	}
	return body
}

var (
	mapImage     = regexp.MustCompile(`src="(/map/[^"]+)"`)
	readingField = regexp.MustCompile(`name="(r:[^"]+)"`)
)

// Whatever the job, no page and no file to take shows a number that is none.
func TestThePageShowsNumbers(t *testing.T) {
	folder := t.TempDir()
	for _, name := range drawn.Names() {
		content, err := drawn.Open(name)
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(filepath.Join(folder, name), content, 0o600))
	}
	path := filepath.Join(folder, "drawn.toml")
	require.NoError(t, os.WriteFile(path, []byte(quickJob), 0o600))
	begin, err := startOf(Options{}, []string{path})
	require.NoError(t, err)
	defer begin.close()
	answered := 0
	drawn.Check(t, func(t *rapid.T, d drawn.Job) {
		begin.text = d.Text
		g := &guest{T: t, site: newSite(begin, allowedHosts(Options{}, 8490), io.Discard), job: d}
		g.site.work.Limit = drawn.Patience
		body := g.ask(http.MethodGet, "/", nil)
		g.ask(http.MethodGet, "/?view=text", nil)
		if !mapImage.MatchString(body) {
			return // the job has faults, or is more than the page takes on
		}
		answered++
		for _, image := range mapImage.FindAllStringSubmatch(body, -1) {
			g.ask(http.MethodGet, strings.ReplaceAll(image[1], "&amp;", "&"), nil)
		}
		g.ask(http.MethodPost, "/try", url.Values{"factor": {"0.66"}, "months": {"12"}, "lamp": {"1"}})
		g.ask(http.MethodGet, "/take/result.json", nil)
		g.ask(http.MethodGet, "/take/ledger.csv", nil)
		typed := url.Values{"meter": {"B"}, "system": {rapid.SampledFrom([]string{"existing", "proposed"}).Draw(t, "system")}, "places": {"all"}}
		value := rapid.SampledFrom([]string{"0", "0.1", "215", "18000", "much", ""})
		for _, field := range readingField.FindAllStringSubmatch(g.ask(http.MethodGet, "/stations", nil), 40) {
			typed.Set(field[1], value.Draw(t, field[1]))
		}
		g.ask(http.MethodPost, "/stations", typed)
		g.ask(http.MethodGet, "/stations?prove=1", nil)
		g.ask(http.MethodGet, "/take/readings.csv", nil)
	})
	require.NotZero(t, answered)
}
