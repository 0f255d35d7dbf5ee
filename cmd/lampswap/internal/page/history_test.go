package page

import (
	"fmt"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/cmd/lampswap/internal/page/display"
)

// Everything that changes the job is undone and done again, step by step.
func TestServeUndoes(t *testing.T) {
	_, server, _ := openSite(t, quickStart())
	c := newClient(t, server)
	undo, redo := url.Values{"do": {"undo"}}, url.Values{"do": {"redo"}}
	texts := []string{c.text(t)}
	for _, change := range []struct {
		path string
		form url.Values
	}{
		{"/job", url.Values{"room.length": {"36"}}},
		{"/job", url.Values{"units": {"metric"}}},
		{"/job", url.Values{"do": {"add-rack"}}},
		{"/text", url.Values{"text": {"x = 1\n"}}},
		{"/begin", url.Values{"with": {"demonstration"}}},
		{"/keep", url.Values{"factor": {"0.66"}}},
		{"/begin", url.Values{"with": {"empty"}}},
	} {
		c.post(t, change.path, change.form)
		texts = append(texts, c.text(t))
	}
	for i := len(texts) - 2; i >= 0; i-- {
		c.post(t, "/undo", undo)
		assert.Equal(t, texts[i], c.text(t), "step %d back", i)
	}
	_, body := c.post(t, "/undo", undo)
	says(t, body, "There is nothing to undo.")
	for i := 1; i < len(texts); i++ {
		c.post(t, "/undo", redo)
		assert.Equal(t, texts[i], c.text(t), "step %d forth", i)
	}
	_, body = c.post(t, "/undo", redo)
	says(t, body, "There is nothing to do again.")
	c.post(t, "/undo", undo)
	c.post(t, "/job", url.Values{"title": {"Another way"}})
	_, body = c.get(t, "/")
	assert.Regexp(t, regexp.MustCompile(`aria-label="Redo"[^>]* disabled`), body, "whoever goes another way cannot do it again")
}

// What is typed into a field in one go is one step.
func TestServeUndoesByGestures(t *testing.T) {
	_, server, _ := openSite(t, quickStart())
	c := newClient(t, server)
	for _, length := range []string{"3", "36", "36.5"} {
		c.post(t, "/job", url.Values{"room.length": {length}, "gesture": {"7 f-room-length"}, "tab": {"a"}, "revision": {"0"}})
	}
	c.post(t, "/job", url.Values{"room.width": {"21"}, "gesture": {"8 f-room-width"}})
	c.post(t, "/undo", url.Values{"do": {"undo"}})
	assert.Equal(t, strings.Replace(quickJob, "length = 30.0", "length = 36.5", 1), c.text(t))
	c.post(t, "/undo", url.Values{"do": {"undo"}})
	assert.Equal(t, quickJob, c.text(t))
}

func TestHistoryIsBounded(t *testing.T) {
	v := &session{text: strings.Repeat("x", mostText), files: map[string][]byte{}, readings: display.Readings{}}
	do := func(i int, change func()) {
		before := v.moment()
		change()
		v.record(before, v.moment(), sender{tab: "a", revision: i})
	}
	for i := range mostSteps + 50 {
		do(i, func() { v.text = fmt.Sprintf("%06d", i) + v.text[6:] })
	}
	assert.Len(t, v.past, mostSteps, "small steps of a large job are small")
	assert.Len(t, v.changes, mostChanges)
	for i := range 20 {
		do(i, func() { v.text = strings.Repeat(string(rune('a'+i)), mostText) })
	}
	size := 0
	for _, c := range v.past {
		size += c.size()
	}
	assert.LessOrEqual(t, size, mostHistory)
	assert.NotEmpty(t, v.past)
	require.True(t, v.undo(false, "a"))
	assert.Equal(t, strings.Repeat("s", mostText), v.text)
}

// Two tabs of one job: the second is told, sees what the first made of it, and can put its own in its place.
func TestServeTellsTabsOfEachOther(t *testing.T) {
	_, server, _ := openSite(t, quickStart())
	c := newClient(t, server)
	of := func(tab string, revision int, key, value string) url.Values {
		return url.Values{key: {value}, "tab": {tab}, "revision": {fmt.Sprint(revision)}}
	}
	_, body := c.post(t, "/job", of("first", 0, "room.length", "36"))
	saysNot(t, body, `class="clash"`)
	c.post(t, "/job", of("first", 0, "room.length", "37")) // its answer was still on the way
	first := c.text(t)
	assert.Contains(t, first, "length = 37")

	_, body = c.post(t, "/job", of("second", 0, "room.width", "21"))
	says(t, body, "changed in another tab")
	assert.Equal(t, first, c.text(t), "nothing is overwritten")
	mine := regexp.MustCompile(`(?s)<textarea hidden name="text"[^>]*>\n(.*?)</textarea>`).FindStringSubmatch(body)
	require.NotNil(t, mine)
	kept := strings.NewReplacer("&#34;", `"`).Replace(mine[1])
	assert.Equal(t, strings.Replace(quickJob, "width = 20.0", "width = 21", 1), kept)

	form := of("second", 2, "text", kept)
	form.Set("name", "quick.toml")
	c.post(t, "/text", form)
	assert.Equal(t, kept, c.text(t))
	_, body = c.post(t, "/undo", of("first", 2, "do", "undo"))
	says(t, body, "changed in another tab")
	assert.Equal(t, kept, c.text(t), "nor is another's step undone")
	c.post(t, "/undo", of("first", 3, "do", "undo"))
	assert.Equal(t, first, c.text(t))
	_, body = c.post(t, "/text", of("third", 99, "text", quickJob))
	saysNot(t, body, `class="clash"`)
}

// A job that names no lamp has nothing to say of what feeds it, and is tried all the same.
func TestServeTriesALampOfFiguresAlone(t *testing.T) {
	text := strings.Replace(quickJob, "lamp = \"F32T8/800\"\nlamps = 4\nballast = \"is-normal\"", "lamps = 4\nlamp_lumens = 2900.0\nballast_factor = 0.88\ninput_watts = 112.0", 1)
	require.NotEqual(t, quickJob, text)
	_, server, _ := openSite(t, &start{name: "quick.toml", text: text})
	_, body := newClient(t, server).post(t, "/try", url.Values{"factor": {"0.66"}})
	says(t, body, `<p class="trial on">`)
}

// A request that a later one of the same tab overtook changes nothing.
func TestServeKeepsTheOrderOfATab(t *testing.T) {
	_, server, _ := openSite(t, quickStart())
	c := newClient(t, server)
	for _, length := range [][2]string{{"35", "1"}, {"37", "3"}, {"36", "2"}} {
		c.post(t, "/job", url.Values{"room.length": {length[0]}, "order": {length[1]}, "tab": {"a"}, "revision": {"0"}})
	}
	assert.Contains(t, c.text(t), "length = 37")
}

// A job that is nowhere but here is marked, until it is taken home or saved.
func TestServeMarksWhatIsNotSaved(t *testing.T) {
	_, server, _ := openSite(t, quickStart())
	c := newClient(t, server)
	_, body := c.get(t, "/")
	saysNot(t, body, "not saved</b>")
	_, body = c.post(t, "/job", url.Values{"title": {"Mine"}})
	says(t, body, "<b>not saved</b>")
	says(t, body, "which is not saved", "and said before another takes its place")
	c.get(t, "/take/job.toml")
	_, body = c.get(t, "/")
	saysNot(t, body, "not saved</b>")
	_, body = c.post(t, "/begin", url.Values{"with": {"empty"}})
	saysNot(t, body, "<b>not saved</b>", "it holds nothing of one's own yet")
}

// While a number is half typed the last answer stays, marked as such; its maps are there too.
func TestServeKeepsTheLastAnswer(t *testing.T) {
	_, server, _ := openSite(t, quickStart())
	c := newClient(t, server)
	_, body := c.get(t, "/")
	sentence := regexp.MustCompile(`<p class="sentence">[^<]*</p>`).FindString(body)
	require.NotEmpty(t, sentence)
	_, body = c.post(t, "/job", url.Values{"room.length": {"3o"}})
	says(t, body, sentence)
	says(t, body, "the last answer, of the job as it was before")
	says(t, body, `<div class="last stale">`)
	says(t, body, "for example 18.5, or 18", "the field says what would be right")
	says(t, body, "1 to mend</b>", "the strip does not say a verdict")
	saysNot(t, body, `href="/take/proposal.pdf"`, "nor is it a paper to take")
	for _, a := range mapAddress.FindAllStringSubmatch(body, -1) {
		answer, drawing := c.get(t, a[1])
		assert.Equal(t, 200, answer.StatusCode)
		assert.Contains(t, drawing, "<svg")
	}
	answer, _ := c.get(t, "/take/result.json")
	assert.Equal(t, 400, answer.StatusCode)
	_, body = c.post(t, "/job", url.Values{"room.length": {"31"}})
	saysNot(t, body, "stale")
}
