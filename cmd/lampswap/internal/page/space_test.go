package page

import (
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// quickWorks is a small building, with a space in place and one that is a job of its own. Invented.
const quickWorks = `title = "Works"   # invented
[kinds.strip]
fixture = "strip-4in"
lamp = "F96T12"
lamps = 2
ballast = "magnetic"
[kinds.tube]
fixture = "strip-4in"
lamp = "LED-T8-4FT-18.5W-B"
lamps = 4
[[spaces]]
name = "office"
[spaces.room]
length = 30.0   # by the drawing
width = 20.0
height = 9.0
[[spaces.groups]]
existing = "strip"
proposed = "tube"
count = 8
mounting_height = 8.0
[[spaces.criteria]]
name = "desks"
at_least = 30.0
[[spaces]]
job = "quick.toml"
`

// A building shows its spaces; a space opens as a job does, and what is changed there is changed in the building.
func TestServeOpensABuilding(t *testing.T) {
	folder := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(folder, "quick.toml"), []byte(quickJob), 0o600))
	path := filepath.Join(folder, "works.toml")
	require.NoError(t, os.WriteFile(path, []byte(quickWorks), 0o600))
	begin, err := startOf(Options{Save: true}, []string{path})
	require.NoError(t, err)
	defer begin.close()
	_, server, _ := openSite(t, begin)
	c := newClient(t, server)

	_, body := c.get(t, "/")
	says(t, body, ">office<", "Open <span", "Spaces: light on the work plane", "Luminaires, lamps", "open a space above")
	_, body = c.get(t, "/stations")
	says(t, body, "open a space of the building first")
	_, body = c.get(t, "/options")
	says(t, body, "open a space of the building first")
	answer, _ := c.get(t, "/take/proposal.pdf")
	assert.Equal(t, http.StatusOK, answer.StatusCode)
	answer, _ = c.get(t, "/take/maps.zip")
	assert.Equal(t, http.StatusBadRequest, answer.StatusCode)
	answer, body = c.get(t, "/take/result.json")
	assert.Equal(t, http.StatusOK, answer.StatusCode)
	says(t, body, `"spaces_met"`)

	_, body = c.post(t, "/space", url.Values{"open": {"1"}})
	says(t, body, "A space of Works", "Back to the building", `name="room.length"`, "Light maps")
	c.post(t, "/job", url.Values{"room.length": {"31"}})
	_, body = c.get(t, "/?view=text")
	says(t, body, "length = 31")
	_, body = c.post(t, "/space", url.Values{"open": {"0"}})
	says(t, body, "620")
	assert.Equal(t, strings.Replace(quickWorks, "length = 30.0 ", "length = 31 ", 1), c.text(t), "one value, and remarks stay")
	c.post(t, "/undo", url.Values{"do": {"undo"}})
	assert.Equal(t, quickWorks, c.text(t))

	c.post(t, "/space", url.Values{"open": {"1"}})
	_, body = c.post(t, "/job", url.Values{"room.length": {"x"}})
	says(t, body, `aria-invalid="true"`)
	c.post(t, "/undo", url.Values{"do": {"undo"}})

	_, body = c.post(t, "/space", url.Values{"open": {"2"}})
	says(t, body, "A space of Works")
	c.post(t, "/job", url.Values{"room.width": {"21"}})
	c.post(t, "/space", url.Values{"open": {"0"}})
	assert.NotContains(t, c.text(t), "quick.toml", "it stands in the building now")
	c.post(t, "/save", url.Values{})
	saved, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, c.text(t), string(saved))

	for _, wrong := range []string{"", "-1", "x"} {
		answer, _ = c.post(t, "/space", url.Values{"open": {wrong}})
		assert.Equal(t, http.StatusBadRequest, answer.StatusCode)
	}
	_, body = c.post(t, "/space", url.Values{"open": {"9"}})
	says(t, body, "That space cannot be opened", "Open <span")
}

// The sheet of a walk-through is dropped on the page and is a building then; what is wrong in it is told by row and column.
func TestServeTakesASheet(t *testing.T) {
	_, server, _ := openSite(t, quickStart())
	c := newClient(t, server)
	const head = "space,type,length,width,height,existing,proposed,count,mounting_height\n"
	_, body := c.upload(t, "walk.csv", []byte(head+"hall,,40,30,16,2 F96T12 strip-4in magnetic,4 F32T8/800 strip-4in is-normal,x,14\n"), "")
	says(t, body, "Not taken", "walk.csv:2:8")
	assert.Equal(t, quickJob, c.text(t))
	_, body = c.upload(t, "walk.csv", []byte(head+"hall,,40,30,16,2 F96T12 strip-4in magnetic,4 F32T8/800 strip-4in is-normal,12,14\noffice,,30,20,9,2 F96T12 strip-4in magnetic,4 F32T8/800 strip-4in is-normal,8,8\n"), "")
	says(t, body, "walk.csv is a building of 2 spaces now", ">hall<", ">office<")
	c.post(t, "/undo", url.Values{"do": {"undo"}})
	assert.Equal(t, quickJob, c.text(t))
}

// The page shows who looks where, and how much that glares.
func TestServeShowsGlare(t *testing.T) {
	_, server, _ := openSite(t, quickStart())
	c := newClient(t, server)
	_, body := c.get(t, "/")
	says(t, body, "Unified glare rating", "/map/glare/plan-wide.svg?k=")
	at := strings.Index(body, "/map/glare/plan-wide.svg?k=")
	answer, drawn := c.get(t, body[at:at+len("/map/glare/plan-wide.svg?k=")+20])
	assert.Equal(t, http.StatusOK, answer.StatusCode)
	assert.Contains(t, answer.Header.Get("Cache-Control"), "immutable")
	assert.Contains(t, drawn, "<svg")
	answer, _ = c.get(t, "/map/glare/existing-wide.svg")
	assert.Equal(t, http.StatusBadRequest, answer.StatusCode)
}
