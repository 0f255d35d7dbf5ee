package page

import (
	"fmt"
	"net/http"
	"net/url"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"lampswap/cmd/lampswap/internal/jobs"
)

// racked puts four rows of racks into the demonstration's hall, with aisles between them.
const racked = `
[[racks]]
corner = [12.0, 6.0]
size = [96.0, 4.0, 12.0]
repeat = { count = 4, step = [0.0, 14.0] }
`

// An edit is of one number, which goes up a little each time so that no answer is there already.
type edit struct {
	name, field string
	from, step  float64
}

// What a visitor waits for: the form is posted, the page comes back, and then each open map. Only another room asks for other light.
func BenchmarkEdit(b *testing.B) {
	demonstration, err := jobs.Demo.ReadFile(jobs.DemoJob)
	require.NoError(b, err)
	for _, e := range []edit{{"price", "energy.price_per_kwh", 0.1, 0.0001}, {"cleaning", "upkeep.clean_months", 12, 0.1}, {"ballast", "proposed.ballast_factor", 0.7, 0.001},
		{"room", "room.length", 118, 0.1}} {
		b.Run("demonstration/"+e.name, func(b *testing.B) { benchmarkEdit(b, string(demonstration), e) })
		b.Run("racks/"+e.name, func(b *testing.B) { benchmarkEdit(b, string(demonstration)+racked, e) })
	}
}

var mapAddress = regexp.MustCompile(`src="(/map/0/[^"]+)"`)

func benchmarkEdit(b *testing.B, text string, e edit) {
	b.Helper()
	_, server, _ := openSite(b, &start{name: "parts-store.toml", text: text})
	c := newClient(b, server)
	_, body := c.get(b, "/")
	says(b, body, `id="ledgers"`)
	var page, maps time.Duration
	n := 0
	for b.Loop() {
		n++
		started := time.Now()
		answer, body := c.post(b, "/job", url.Values{e.field: {fmt.Sprintf("%.4f", e.from+float64(n)*e.step)}})
		require.Equal(b, http.StatusOK, answer.StatusCode)
		says(b, body, `id="ledgers"`)
		page += time.Since(started)
		started = time.Now()
		for _, m := range mapAddress.FindAllStringSubmatch(body, -1) {
			c.get(b, strings.ReplaceAll(m[1], "&amp;", "&"))
		}
		maps += time.Since(started)
	}
	b.ReportMetric(float64(page.Milliseconds())/float64(n), "page-ms")
	b.ReportMetric(float64(maps.Milliseconds())/float64(n), "maps-ms")
}
