package page

import (
	"encoding/json"
	"net/http"
	"regexp"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry/longtest"
)

// replacedStart is a job that compares a replacement, with observers and a second grid.
func replacedStart() *start {
	return &start{name: "three.toml", text: quickJob + `
[replacement]
fixture = "strip-4in"
lamp = "LED-8FT-40W-B"
lamps = 1
lamp_diameter = "1.5 in"
[[observers]]
at = [2.0, 2.0]
looking = 0.0
[[criteria]]
name = "dim enough"
statistic = "maximum"
at_most = 60.0
`}
}

var heads = regexp.MustCompile(`(?s)<thead>.*?</thead>`)

// Where the page shows the existing and the proposed system it shows the replacement: tables, tubes, maps, what is pointed at on the plan.
func TestTheReplacementStandsOnThePage(t *testing.T) {
	_, server, _ := openSite(t, replacedStart())
	c := newClient(t, server)
	_, body := c.get(t, "/")
	require.True(t, strings.Contains(body, `id="img-0-proposed"`), "it is worked out")
	tables := 0
	for _, head := range heads.FindAllString(body, -1) {
		if strings.Contains(head, ">existing<") && strings.Contains(head, ">proposed<") {
			tables++
			assert.Contains(t, head, ">replacement<")
		}
	}
	assert.GreaterOrEqual(t, tables, 5, "criteria, map, glare, ledger, systems compared")
	for _, shown := range []string{`class="tube instead"`, `id="layer-replacement"`, `id="light-0-replacement"`, `id="img-0-replacement"`, `polyline class="instead"`,
		`data-label="replacement"`, `, replacement `} {
		assert.True(t, strings.Contains(body, shown), shown)
	}
	for _, path := range []string{"/map/0/replacement-wide.svg", "/light/0/replacement.png"} {
		answer, _ := c.get(t, path)
		assert.Equal(t, http.StatusOK, answer.StatusCode, path)
	}
	_, text := c.get(t, "/light/0/values.json")
	var values struct {
		Systems []struct{ Name, Light string }
		Rules   []struct{ Held []string }
	}
	require.NoError(t, json.Unmarshal([]byte(text), &values))
	require.Len(t, values.Systems, 3)
	assert.Equal(t, "replacement", values.Systems[2].Name)
	assert.NotEqual(t, values.Systems[1].Light, values.Systems[2].Light)
	require.NotEmpty(t, values.Rules)
	assert.Len(t, values.Rules[0].Held, 3)

	_, server, _ = openSite(t, quickStart())
	c = newClient(t, server)
	for _, path := range []string{"/map/0/replacement-wide.svg", "/light/0/replacement.png"} {
		answer, _ := c.get(t, path)
		assert.Equal(t, http.StatusBadRequest, answer.StatusCode, "%s: a job without one", path)
	}
}

// Its light lies on the plan when it is asked for, alone, and what is pointed at tells of all three.
func TestBrowserShowsTheReplacement(t *testing.T) {
	longtest.Only(t, aWhile)
	_, server, _ := openSite(t, replacedStart())
	p := openTab(t, server)
	p.open("/")
	p.settled()
	p.run(chromedp.Click(chromedp.CSS("#layer-replacement")), chromedp.WaitVisible(chromedp.CSS("#light-0-replacement")))
	p.settled()
	assert.Equal(t, "light-0-replacement", p.is(`[...document.querySelectorAll("image.layer")].filter(i => getComputedStyle(i).display !== "none").map(i => i.id).join(" ")`))
	assert.Equal(t, "band of-0 replacement", p.is(`[...document.querySelectorAll(".band")].filter(i => getComputedStyle(i).display !== "none").map(i => i.className).join(" ")`))
	p.run(chromedp.Click(chromedp.CSS("#plan-svg")))
	p.until(`/existing [\d.]+, proposed [\d.]+ .*replacement [\d.]+/.test(document.getElementById("plan-value").textContent)`)
	p.run(chromedp.Click(chromedp.CSS("#layer-none")))
	assert.Equal(t, "", p.is(`[...document.querySelectorAll("image.layer")].filter(i => getComputedStyle(i).display !== "none").map(i => i.id).join(" ")`))
}
