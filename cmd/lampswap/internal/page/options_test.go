package page

import (
	"html"
	"maps"
	"net/http"
	"net/url"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry/catalog"
)

// A tappedRow is a row of the options that can be put into the job.
type tappedRow struct {
	average string
	form    url.Values
}

var (
	tableRow  = regexp.MustCompile(`(?s)<tr><th scope="row">.*?</tr>`)
	tableCell = regexp.MustCompile(`<t[hd][^>]*>([^<]*)</t[hd]>`)
	hidden    = regexp.MustCompile(`<input type="hidden" name="([a-z_]+)" value="([^"]*)">`)
)

func tappedRows(body string) []tappedRow {
	var all []tappedRow
	for _, row := range tableRow.FindAllString(body, -1) {
		if !strings.Contains(row, `action="/option"`) {
			continue
		}
		one := tappedRow{average: tableCell.FindAllStringSubmatch(row, -1)[4][1], form: url.Values{}}
		for _, f := range hidden.FindAllStringSubmatch(row, -1) {
			one.form.Set(f[1], html.UnescapeString(f[2]))
		}
		all = append(all, one)
	}
	return all
}

// Whichever row is tapped, the job then has the light that the row tells, LED tubes too; undo brings the job back as it was.
func TestServeTakesOptions(t *testing.T) {
	computed := strings.Replace(quickJob, `photometry = "strip-4x4ft-t8.ies"`, `fixture = "strip-4in"`, 1)
	groups := "[room]\nlength = 30\nwidth = 20\nheight = 12\n[kinds.old]\nfixture = \"strip-4in\"\nlamp = \"F96T12\"\nlamps = 2\nballast = \"magnetic\"\n" +
		"[kinds.new] # shared\nfixture = \"strip-4in\"\nlamp = \"F32T8/800\"\nlamps = 4\nballast = \"is-normal\"\nlamp_lumens = 2700\n[kinds.new.losses]\nlamp_burnout = 0.97\n" +
		"[[groups]]\nname = \"a\"\nexisting = \"old\"\nproposed = \"new\"\nmounting_height = 10\ncount = 4\narea = [0, 0, 15, 20]\n" +
		"[[groups]]\nname = \"b\"\nexisting = \"old\"\nproposed = \"new\"\nmounting_height = 10\ncount = 4\narea = [15, 0, 30, 20]\n[calculation]\nspacing = 10\ninterreflection = false\n"
	for name, text := range map[string]string{"a photometric file": quickJob, "a cross-section": computed, "groups": groups} {
		_, server, _ := openSite(t, &start{name: "quick.toml", text: text})
		c := newClient(t, server)
		_, body := c.get(t, "/options?every=1")
		rows := tappedRows(body)
		require.Greater(t, len(rows), 3, name+": "+body)
		tubes := map[string]tappedRow{}
		for _, row := range rows {
			lamp, ok := catalog.FindLamp(row.form.Get("lamp"))
			require.True(t, ok)
			if _, known := tubes[lamp.Name]; !known {
				tubes[lamp.Name] = row
			}
		}
		tried, led := 0, 0
		for _, lamp := range slices.Sorted(maps.Keys(tubes)) {
			found, _ := catalog.FindLamp(lamp)
			if name == "groups" && tried > 3 {
				break
			}
			if tried++; found.LED {
				led++
			}
			_, body = c.post(t, "/option", tubes[lamp].form)
			says(t, body, "The option is in the job now", lamp)
			says(t, body, "→ "+tubes[lamp].average+" ", name, lamp, c.text(t))
			c.post(t, "/undo", url.Values{"do": {"undo"}})
			require.Equal(t, text, c.text(t))
		}
		if name != "groups" {
			assert.Greater(t, led, 2, name)
		}
		if name == "groups" {
			c.post(t, "/option", rows[0].form)
			assert.Contains(t, c.text(t), "[kinds.new] # shared\nfixture = \"strip-4in\"\nlamp = \"F32T8/800\"\n", "the other group keeps its kind")
			assert.Contains(t, c.text(t), "proposed = \"new-2\"\nmounting_height = 10\ncount = 4\narea = [0, 0, 15, 20]\n")
			assert.Contains(t, c.text(t), "[kinds.new-2.losses]\nlamp_burnout = 0.97\n")
		}
	}
}

// The rows are filtered by what is in the lamp's name and by its sort; what no row has is refused.
func TestServeFiltersOptions(t *testing.T) {
	_, server, _ := openSite(t, quickStart())
	c := newClient(t, server)
	of := func(query string) map[string]bool {
		_, body := c.get(t, "/options?every=1&"+query)
		lamps := map[string]bool{}
		for _, row := range tappedRows(body) {
			lamps[row.form.Get("lamp")] = true
		}
		return lamps
	}
	all, led, fluorescent := of(""), of("sort=led"), of("sort=fluorescent")
	assert.Len(t, all, len(led)+len(fluorescent))
	assert.NotEmpty(t, led)
	for lamp := range led {
		assert.True(t, strings.HasPrefix(lamp, "LED"), lamp)
	}
	for lamp := range of("lamp=f32t8%2F8") {
		assert.Contains(t, lamp, "F32T8/8")
	}
	assert.Empty(t, of("lamp=no-such-lamp"))
	for _, wrong := range []url.Values{{}, {"lamp": {"none such"}, "lamps": {"2"}, "ballast": {"is-normal"}}, {"lamp": {"F32T8/800"}, "lamps": {"2"}, "ballast": {"none such"}}, {"lamp": {"F32T8/800"}, "lamps": {"-1"}, "ballast": {"is-normal"}}} {
		answer, _ := c.post(t, "/option", wrong)
		assert.Equal(t, http.StatusBadRequest, answer.StatusCode)
	}
	assert.Equal(t, quickJob, c.text(t))
	c.post(t, "/text", url.Values{"text": {"[room"}})
	_, body := c.get(t, "/options")
	says(t, body, "The job has faults")
}
