package page

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/cmd/lampswap/internal/jobs"
	"lampswap/photometry/longtest"
)

// aWhile is what tests of the page in a browser do that not everybody should wait for: typing, undo, a pull on the plan, the accessible page and
// life without script are tried each time.
const aWhile = "more of the page in a browser"

// Whoever types sees the numbers change, and faults at their fields.
func TestBrowserShowsNumbersWhileTyping(t *testing.T) {
	_, server, _ := openSite(t, quickStart())
	p := openTab(t, server)
	p.open("/")
	p.run(script(`window.stayed = true`))
	before, ledger := p.is(`document.getElementById("digest").innerText`), p.is(`document.getElementById("ledgers").innerText`)
	assert.Contains(t, before, "fc")
	p.fill("f-room-length", "60")
	assert.NotEqual(t, before, p.is(`document.getElementById("digest").innerText`))
	assert.NotEqual(t, ledger, p.is(`document.getElementById("ledgers").innerText`))
	assert.Equal(t, "true", p.is(`window.stayed`), "without loading the page anew")
	assert.Equal(t, "f-room-length", p.focused(), "and whoever types goes on typing")
	assert.Contains(t, p.is(`document.getElementById("ledgers").innerText`), "Point by point")
	assert.Equal(t, "ft", p.is(`document.getElementById("u-f-room-length").innerText`), "the unit stands beside")

	p.fill("f-room-width", "wide")
	assert.Contains(t, p.is(`document.getElementById("e-f-room-width").innerText`), "a length above 0")
	assert.Equal(t, "true", p.is(`document.getElementById("f-room-width").getAttribute("aria-invalid")`))
	assert.Contains(t, p.is(`document.getElementById("answer").innerText`), "quick.toml:4:9")
	assert.Contains(t, p.is(`document.getElementById("digest").innerText`), "1 to mend")
	p.fill("f-room-width", "25")
	p.until(`document.querySelector(".stale") === null && document.getElementById("e-f-room-width") === null`)
	assert.Equal(t, "f-room-width", p.focused())
}

// Ctrl-Z takes back what was typed, one box at a time, the box that has the focus too, and after the page was loaded anew.
func TestBrowserUndoes(t *testing.T) {
	_, server, _ := openSite(t, quickStart())
	p := openTab(t, server)
	p.open("/")
	length, width := `document.getElementById("f-room-length").value`, `document.getElementById("f-room-width").value`
	undo := func(steps ...step) { p.run(steps...); p.settled() }
	p.fill("f-room-length", "45")
	p.fill("f-room-width", "2")
	p.press("5") // the same box, once more
	p.settled()
	assert.Equal(t, "25", p.is(width))
	undo(chromedp.KeyEvent("z", chromedp.KeyModifiers(chromedp.ModifierCtrl)))
	p.until(width + ` === "20.0" && ` + length + ` === "45"`)
	assert.Equal(t, "f-room-width", p.focused())
	p.open("/")
	undo(chromedp.KeyEvent("z", chromedp.KeyModifiers(chromedp.ModifierCtrl)))
	p.until(length + ` === "30.0"`)
	undo(chromedp.KeyEvent("y", chromedp.KeyModifiers(chromedp.ModifierCtrl)))
	p.until(length + ` === "45"`)
	if !longtest.On() {
		return
	}
	undo(chromedp.KeyEvent("z", chromedp.KeyModifiers(chromedp.ModifierCtrl, chromedp.ModifierShift)))
	p.until(width + ` === "25"`)
	undo(chromedp.Click(chromedp.CSS(`#undo [value=undo]`)))
	p.until(width + ` === "20.0"`)
}

// Who leaves is asked where the job is nowhere else; who goes along within the page is not, nor is who has saved it.
func TestBrowserAsksBeforeItIsLeft(t *testing.T) {
	longtest.Only(t, aWhile)
	_, server, _ := openSite(t, quickStart())
	p := openTab(t, server)
	asked := func() int { p.mutex.Lock(); defer p.mutex.Unlock(); return p.asked }
	p.open("/")
	p.fill("f-room-length", "30.0")
	p.open("/")
	assert.Equal(t, 0, asked(), "nothing was changed")
	p.fill("f-room-length", "45")
	p.until(`document.querySelector("#unsaved b") !== null`)
	p.loads(chromedp.Click(chromedp.CSS("#views a")))
	assert.Equal(t, 0, asked())
	p.press(kb.Tab)
	p.run(chromedp.Navigate("about:blank"))
	assert.Equal(t, 1, asked())
}

// Another tab of the same browser tells that it was overtaken, and can put its own job in the place of the other's.
func TestBrowserTellsTabsOfEachOther(t *testing.T) {
	longtest.Only(t, aWhile)
	_, server, _ := openSite(t, quickStart())
	p := openTab(t, server)
	p.open("/")
	_, err := chromedp.Run(p.ctx, chromedp.Evaluate[chromedp.Void](
		`fetch("/job", { method: "POST", body: new URLSearchParams({ "room.length": "50", tab: "another", revision: "0" }) })`, chromedp.EvalAwaitPromise))
	require.NoError(t, err)
	p.fill("f-room-width", "25")
	p.until(`document.querySelector("#clash .clash") !== null`)
	p.until(`document.getElementById("f-room-length").value === "50"`)
	p.loads(chromedp.Click(chromedp.CSS("#clash button")))
	assert.Equal(t, "30.0 25", p.is(`document.getElementById("f-room-length").value + " " + document.getElementById("f-room-width").value`))
	assert.Equal(t, "true", p.is(`document.querySelector("#clash .clash") === null`))
}

// A map is drawn anew when its light changes, and only then; the last one wins, whatever came before it.
func TestBrowserShowsMapsOfTheLight(t *testing.T) {
	longtest.Only(t, aWhile)
	_, server, _ := openSite(t, quickStart())
	p := openTab(t, server)
	p.open("/")
	p.run(script(`document.getElementById("map-0").scrollIntoView(); document.querySelectorAll("#map-0 img").forEach((i) => (i.loading = "eager"))`))
	shown := `[...document.querySelectorAll("#map-0 img")].every((i) => i.complete && i.naturalWidth > 0)`
	sources := `[...document.querySelectorAll("#map-0 img")].map((i) => i.getAttribute("src")).join(" ")`
	p.until(shown)
	first := p.is(sources)
	p.fill("f-title", "Another name")
	assert.Equal(t, first, p.is(sources), "a name is no light")
	p.fill("f-room-length", "60")
	p.until(sources + fmt.Sprintf(" !== %q && ", first) + shown)
	p.fill("f-room-length", "30.0")
	p.until(sources + fmt.Sprintf(" === %q && ", first) + shown)
}

func TestBrowserEditsTheText(t *testing.T) {
	longtest.Only(t, aWhile)
	_, server, _ := openSite(t, quickStart())
	p := openTab(t, server)
	p.open("/?view=text")
	p.run(script(`{ const a = document.getElementById("text"); a.focus(); a.setSelectionRange(a.value.indexOf("30.0"), a.value.indexOf("30.0") + 4) }`))
	p.press("-1")
	p.settled()
	assert.Contains(t, p.is(`document.querySelector("#lines .bad").innerText`), "3", "the fault stands at its line")
	assert.Contains(t, p.is(`document.querySelector("#lines .bad span").innerText`), "room.length")
	offset := p.is(`(() => {
		const text = document.getElementById("text"), style = getComputedStyle(text), top = (e) => e.getBoundingClientRect().top;
		return Math.round(top(document.querySelector("#lines li:nth-child(3)")) - top(text) - 2 * parseFloat(style.lineHeight) - parseFloat(style.paddingTop));
	})()`)
	assert.Equal(t, "0", offset, "and beside it")
	p.press(kb.Backspace + kb.Backspace + "48")
	p.settled()
	p.until(`document.querySelector("#lines .bad") === null && document.getElementById("ledgers") !== null`)
	assert.Contains(t, p.is(`document.getElementById("text").value`), "length = 48\n")
	p.loads(chromedp.Click(chromedp.CSS("#views a")))
	assert.Equal(t, "48", p.is(`document.getElementById("f-room-length").value`), "the form shows the same")
}

// A file with a fault is shown with its line, whether it is chosen or dropped; a sound one is taken.
func TestBrowserTakesFiles(t *testing.T) {
	longtest.Only(t, aWhile)
	_, server, _ := openSite(t, quickStart())
	p := openTab(t, server)
	light, err := jobs.Demo.ReadFile("demo/strip-2x8ft-t12.ies")
	require.NoError(t, err)
	broken := strings.Replace(string(light), "TILT=NONE", "TILT=NONE\nmany", 1)
	before, _, _ := strings.Cut(broken, "many")
	line := fmt.Sprintf("bad.ies:%d:1: ", strings.Count(before, "\n")+1)
	folder := t.TempDir()
	good, bad := filepath.Join(folder, "good.ies"), filepath.Join(folder, "bad.ies")
	require.NoError(t, os.WriteFile(good, light, 0o600))
	require.NoError(t, os.WriteFile(bad, []byte(broken), 0o600))
	p.open("/")
	p.run(chromedp.SetUploadFiles(chromedp.CSS("#light-files"), []string{bad}))
	p.click("#drop button")
	assert.Contains(t, p.is(`document.getElementById("file-faults").innerText`), line)

	p.open("/")
	p.until(`document.getElementById("file-faults") === null`)
	content, err := json.Marshal(broken)
	require.NoError(t, err)
	p.run(script(fmt.Sprintf(`{
		const data = new DataTransfer();
		data.items.add(new File([%s], "bad.ies"));
		document.getElementById("drop").dispatchEvent(new DragEvent("drop", {dataTransfer: data, bubbles: true, cancelable: true}));
	}`, content)))
	p.settled()
	assert.Contains(t, p.is(`document.getElementById("file-faults").innerText`), line, "dropped")

	p.run(chromedp.SetUploadFiles(chromedp.CSS("#light-files"), []string{good}))
	p.click("#drop button")
	p.until(`document.querySelector(".kept") !== null && document.getElementById("file-faults") === null`)
	assert.Equal(t, "photometry:good.ies", p.is(`document.getElementById("f-proposed-source").value`))
}

func TestBrowserMovesTheAverage(t *testing.T) {
	longtest.Only(t, aWhile)
	_, server, _ := openSite(t, quickStart())
	p := openTab(t, server)
	p.open("/")
	average := `document.querySelector("#tried .trial b").innerText`
	for _, slider := range []string{"factor", "lamp", "months"} {
		before := p.is(average)
		p.run(script(fmt.Sprintf(`document.getElementById("t-%s").focus()`, slider)))
		p.press(strings.Repeat(kb.ArrowLeft, 4))
		p.settled()
		assert.NotEqual(t, before, p.is(average), slider)
		assert.Equal(t, "t-"+slider, p.focused(), "the slider keeps the focus")
	}
	assert.Contains(t, p.is(`document.getElementById("tried").innerText`), "%")
	assert.Equal(t, "LED-T8-4FT-18.5W-B", p.is(`document.getElementById("o-lamp").innerText`))
	assert.Contains(t, p.is(`document.getElementById("t-lamp").getAttribute("aria-valuetext")`), "LED-T8-4FT-18.5W-B")
	assert.NotEqual(t, "null", p.is(`document.querySelector("polyline.tried")`))
	kept := p.is(average)
	p.loads(chromedp.Click(chromedp.CSS(`#try-form button[formaction]`)))
	assert.Contains(t, p.is(`document.querySelector("#answer .said").innerText`), "in the job now")
	assert.Equal(t, "20.0", p.is(`document.getElementById("f-upkeep-clean-months").value`))
	assert.Equal(t, kept, p.is(average), "what was tried is what the job has now")
}

func TestBrowserLaysOutRacks(t *testing.T) {
	longtest.Only(t, aWhile)
	_, server, _ := openSite(t, quickStart())
	p := openTab(t, server)
	p.open("/")
	p.click(`button[value="add-rack"]`)
	assert.Equal(t, "1", p.is(`document.querySelectorAll("#plan-svg .rack").length`))
	p.fill("f-racks-0-repeat-count", "2")
	assert.Contains(t, p.is(`document.getElementById("answer").innerText`), "step")
	p.fill("f-racks-0-repeat-step", "0")
	p.fill("f-racks-0-repeat-step-1", "7")
	p.until(`document.querySelectorAll("#plan-svg .rack").length === 2 && document.getElementById("ledgers") !== null`)
	p.click(`button[value="remove-racks-0"]`)
	assert.Equal(t, "0", p.is(`document.querySelectorAll("#plan-svg .rack").length`))
}

// Everything can be reached by keys, the focus is always seen, and it is never caught.
func TestBrowserShowsTheFocus(t *testing.T) {
	longtest.Only(t, aWhile)
	_, server, _ := openSite(t, quickStart())
	p := openTab(t, server)
	p.open("/")
	var order []string
	for range 200 {
		p.press(kb.Tab)
		at := p.focused()
		if at == "" {
			break
		}
		order = append(order, at)
		style := p.is(`(() => { const e = document.activeElement, s = getComputedStyle(e), b = e.getBoundingClientRect(); return [e.matches(":focus-visible"), s.outlineStyle !== "none" && parseFloat(s.outlineWidth) >= 2 || !!e.ownerSVGElement && parseFloat(s.strokeWidth) >= 4, b.width > 0 && b.height > 0 || !!e.ownerSVGElement, b.bottom > 0 && b.top < innerHeight].join() })()`)
		assert.Equal(t, "true,true,true,true", style, "the focus is seen on %s", at)
	}
	require.Less(t, len(order), 200, "the focus is caught")
	assert.Equal(t, []string{"To the verdict", "To the job"}, order[:2], "one can skip to what matters")
	for _, want := range []string{"t-factor", "t-lamp", "t-months", "f-room-length", "f-proposed-source", "add-rack", "light-files", "job-file"} {
		assert.Contains(t, order, want)
	}
}

// A job is changed, tried and looked through with a keyboard alone.
func TestBrowserByKeysAlone(t *testing.T) {
	longtest.Only(t, aWhile)
	_, server, _ := openSite(t, quickStart())
	p := openTab(t, server)
	p.open("/")
	p.tabTo(`.skip[href="#job"]`, 2)
	p.press(kb.Enter)
	p.tabTo("#f-room-length", 8)
	before := p.is(`document.getElementById("digest").innerText`)
	p.press("45" + kb.Enter) // a field that is reached by the tabulator is selected: what is typed replaces it
	p.settled()
	assert.Equal(t, "45", p.is(`document.getElementById("f-room-length").value`))
	assert.NotEqual(t, before, p.is(`document.getElementById("digest").innerText`))
	p.tabTo(`button[value="add-rack"]`, 40)
	p.press(" ")
	p.settled()
	assert.Equal(t, "1", p.is(`document.querySelectorAll("#racks-0").length`))

	p.open("/")
	average := p.is(`document.querySelector("#tried .trial b").innerText`)
	p.tabTo("#t-factor", 30)
	p.press(kb.ArrowLeft + kb.ArrowLeft)
	p.settled()
	assert.NotEqual(t, average, p.is(`document.querySelector("#tried .trial b").innerText`))
	p.tabTo("#note-0 summary", 20)
	p.press(kb.Enter)
	p.until(`document.getElementById("note-0").open`)
	p.tabTo(`#views a`, 30)
	p.loads(chromedp.KeyEvent(kb.Enter))
	p.until(`document.getElementById("text") !== null`)
}

// The rules of accessible.js hold on every page, on a desk and on a phone, by day and by night, with and without faults. Where there is little time,
// the page with the job is looked at: on a desk by day, and with a fault on a phone by night.
func TestBrowserIsAccessible(t *testing.T) {
	rules, err := os.ReadFile("testdata/accessible.js")
	require.NoError(t, err)
	_, server, _ := openSite(t, quickStart())
	p := openTab(t, server)
	p.open("/")
	for n, button := range longtest.Pick([]string{"add-rack"}, []string{"add-rack", "add-face", "add-rule"}) {
		p.click(fmt.Sprintf("button[value=%q]", button))
		p.until(fmt.Sprintf(`document.querySelectorAll(".element").length === %d`, n+2))
	}
	check := func(size, where string) {
		themes := []string{"light", "dark"}
		for _, theme := range longtest.Pick(map[string][]string{"desk": themes[:1], "phone": themes[1:]}[size], themes) {
			call(p, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: theme}}})
			faults, err := chromedp.Run(p.ctx, chromedp.Evaluate[[]string](string(rules)))
			require.NoError(t, err)
			assert.Empty(t, faults, "%s %s, %s", size, where, theme)
		}
	}
	paths := []string{"/?view=text", "/options", "/stations", "/join", "/nothing"}
	others := func(size string) {
		for _, path := range longtest.Pick(nil, paths) {
			p.open(path)
			check(size, path)
		}
	}
	check("desk", "/")
	others("desk")
	p.phone()
	others("phone")
	p.open("/")
	if longtest.On() {
		check("phone", "/")
	}
	p.fill("f-room-length", "no length")
	p.until(`document.getElementById("e-f-room-length") !== null`)
	check("phone", "with faults")
	if longtest.On() {
		p.open("/?view=text")
		check("phone", "with faults, text")
		call(p, emulation.ClearDeviceMetricsOverride, cdp.Empty{})
		p.open("/")
		check("desk", "with faults")
	}
	p.forgive("404") // the address with nothing
}

// The rules find what is wrong: each of these lines breaks one of them.
func TestBrowserFindsWhatIsNotAccessible(t *testing.T) {
	longtest.Only(t, aWhile)
	rules, err := os.ReadFile("testdata/accessible.js")
	require.NoError(t, err)
	_, server, _ := openSite(t, quickStart())
	p := openTab(t, server)
	p.phone()
	p.open("/")
	broken := [][2]string{
		{`document.querySelector("label[for=f-room-height]").remove()`, "has no name: <input id=f-room-height"},
		{`document.getElementById("f-room-width").id = "f-room-work-plane"`, "the id stands twice: f-room-work-plane"},
		{`document.querySelector("#map-0 img").removeAttribute("alt")`, "has no alternative text"},
		{`document.documentElement.lang = ""`, "no language"},
		{`document.title = ""`, "no title"},
		{`document.getElementById("answer-h").remove()`, "the page has 0 h1"},
		{`document.querySelector(".sentence").style.color = "#bbb"`, "has a contrast of"},
		{`document.querySelector("#job-form button").style.cssText = "min-height:0; height:20px"`, "want 44 by 44"},
		{`document.querySelector(".card").style.width = "900px"`, "wide in a window of 390"},
		{`document.querySelector("#ledgers caption").remove()`, "has no caption"},
		{`document.querySelector("#ledgers thead th").removeAttribute("scope")`, "has no scope"},
		{`document.getElementById("f-upkeep-clean-months").setAttribute("aria-invalid", "true")`, "is marked wrong without a word"},
		{`document.getElementById("f-room-length").setAttribute("aria-describedby", "nobody")`, "is described by nobody, which is not there"},
		{`document.getElementById("f-room-length").tabIndex = 3`, "has an order of its own"},
		{`document.getElementById("try-h").outerHTML = "<h5>What if</h5>"`, "leaves out a level"},
		{`document.querySelector("fieldset.use legend").remove()`, "has no legend"},
		{`document.querySelector(".entry:has(#f-room-length)").style.boxShadow = "0 0 0 1px #f0f0f0"`, "an edge with a contrast"},
	}
	for _, b := range broken {
		p.run(script(b[0]))
	}
	faults, err := chromedp.Run(p.ctx, chromedp.Evaluate[[]string](string(rules)))
	require.NoError(t, err)
	for _, b := range broken {
		assert.Contains(t, strings.Join(faults, "\n"), b[1], b[0])
	}
}

func TestBrowserReadingsOnAPhone(t *testing.T) {
	longtest.Only(t, aWhile)
	_, server, _ := openSite(t, quickStart())
	p := openTab(t, server)
	p.phone()
	p.open("/stations")
	first := p.is(`document.querySelector(".stations input").id`)
	assert.Equal(t, "decimal", p.is(`document.querySelector(".stations input").inputMode`), "with the keys for numbers")
	p.fill(first, "18,4")
	p.until(`document.querySelector(".stations li.done") !== null && document.getElementById("digest").innerText.includes("1 of")`)
	assert.Equal(t, first, p.focused())
	p.press(kb.Enter)
	assert.Equal(t, p.is(`document.querySelectorAll("[enterkeyhint=next]")[1].id`), p.focused(), "the key that says next goes there")
	p.settled()
	p.open("/stations")
	assert.Equal(t, "18,4", p.is(`document.querySelector(".stations input").value`), "it was kept at once")
}

// What was typed just before the page is left goes along.
func TestBrowserLosesNothingTyped(t *testing.T) {
	_, server, _ := openSite(t, quickStart())
	p := openTab(t, server)
	p.open("/")
	p.run(script(`document.getElementById("f-room-length").select()`), chromedp.KeyEvent("53"))
	p.loads(script(`document.querySelector("#views a").click()`))
	assert.Contains(t, p.is(`document.getElementById("text").value`), "length = 53\n")
}

// Without script every form works by its button.
func TestBrowserWithoutScript(t *testing.T) {
	_, server, _ := openSite(t, quickStart())
	p := openTab(t, server)
	call(p, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true})
	p.open("/")
	digest := func() string {
		text, err := chromedp.Run(p.ctx, chromedp.Text(chromedp.CSS("#digest")))
		require.NoError(t, err)
		return text
	}
	before := digest()
	p.run(chromedp.SetValue(chromedp.CSS("#f-room-length"), "60"), chromedp.Click(chromedp.CSS("#job-form .first button")), chromedp.WaitVisible(chromedp.CSS(`#f-room-length[value="60"]`)))
	assert.NotEqual(t, before, digest())
	p.run(chromedp.SetValue(chromedp.CSS("#t-factor"), "0.7"), chromedp.Click(chromedp.CSS(`#try-form button.plain`)), chromedp.WaitVisible(chromedp.CSS("#tried .trial.on")))
	p.run(chromedp.Click(chromedp.CSS(`button[value="add-rack"]`)), chromedp.WaitVisible(chromedp.CSS("#racks-0")))
}

// How long an edit of the demonstration takes in the browser is told, not judged: it depends on the machine.
func TestBrowserTellsTheTimeOfAnEdit(t *testing.T) {
	longtest.Only(t, "times of edits")
	demonstration, err := jobs.Demo.ReadFile(jobs.DemoJob)
	require.NoError(t, err)
	_, server, _ := openSite(t, &start{name: "parts-store.toml", text: string(demonstration)})
	p := openTab(t, server)
	p.open("/")
	p.settled()
	for _, field := range [][2]string{{"f-energy-price-per-kwh", "0.2"}, {"f-upkeep-clean-months", "9"}, {"f-room-length", "110"}} {
		id, text := field[0], field[1]
		p.run(script(fmt.Sprintf(`{ const e = document.getElementById(%q); e.closest("details").open = true; e.focus(); e.select() }`, id)))
		started := time.Now()
		p.press(text)
		p.settled()
		t.Logf("%s: %v from key to answer", id, time.Since(started).Round(time.Millisecond))
		assert.Equal(t, "true", p.is(`document.getElementById("ledgers") !== null`))
	}
}

// A station is tapped on the plan, Enter goes to the next that is not read, and what the readings prove follows them at once.
func TestBrowserProofFollowsReadings(t *testing.T) {
	longtest.Only(t, aWhile)
	_, server, _ := openSite(t, quickStart())
	p := openTab(t, server)
	p.phone()
	p.open("/stations")
	p.run(script(`document.querySelector(".stations-plan a.next").dispatchEvent(new MouseEvent("click", { bubbles: true, cancelable: true }))`))
	first := p.is(`document.querySelector(".stations input").id`)
	assert.Equal(t, first, p.focused(), "the next station opens")
	p.fill(first, "18.4")
	p.press(kb.Enter)
	second := p.is(`document.querySelectorAll(".stations input[type=text]")[1].id`)
	assert.Equal(t, second, p.focused())
	p.until(`document.querySelector(".stations-plan a.done") !== null && document.querySelector(".stations-plan a.next").getAttribute("href") === "#` + second + `"`)
	p.until(`document.getElementById("proof").innerText.includes("Say which class")`)
	p.run(script(`document.getElementById("meter").value = "A"; document.getElementById("meter").dispatchEvent(new Event("input", { bubbles: true }))`))
	p.until(`document.querySelector("#proof .sentence") !== null && !document.getElementById("proof").classList.contains("stale")`)
}

// A document says that it is being made and can be stopped; the page answers meanwhile.
func TestBrowserStopsADocument(t *testing.T) {
	longtest.Only(t, aWhile)
	s, server, _ := openSite(t, quickStart())
	p := openTab(t, server)
	p.open("/")
	var held []func()
	for range 2 { // all benches for documents are taken
		leave, err := s.papers.Enter(t.Context())
		require.NoError(t, err)
		held = append(held, leave)
	}
	p.run(script(`document.querySelector("a[href='/take/proposal.pdf']").click()`))
	p.until(`document.querySelector(".taking") !== null && document.querySelector(".taking").innerText.includes("working")`)
	p.fill("f-room-length", "45")
	p.until(`document.getElementById("busy").textContent === "" && document.getElementById("f-room-length").value === "45"`)
	p.run(script(`document.querySelector(".taking button").click()`))
	p.until(`document.querySelector(".taking").innerText.includes("Stopped")`)
	for _, leave := range held {
		leave()
	}
}

// A page that the program opened says that it ends with the last of them, and tells when it is closed.
func TestBrowserSaysThatItEnds(t *testing.T) {
	longtest.Only(t, aWhile)
	s, server, _ := openSite(t, quickStart())
	s.watch.on = true
	open := func() int {
		s.watch.mutex.Lock()
		defer s.watch.mutex.Unlock()
		return len(s.watch.pages)
	}
	p := openTab(t, server)
	p.open("/")
	p.until(`document.getElementById("ends") !== null && document.getElementById("ends").textContent.includes("two minutes after")`)
	require.Equal(t, 1, open())
	p.open("/stations")
	p.until(`document.getElementById("ends") !== null`)
	require.Equal(t, 1, open(), "the page before it told that it was left")
	p.run(chromedp.Navigate("about:blank"))
	require.Eventually(t, func() bool { return open() == 0 }, 10*time.Second, 10*time.Millisecond)
}

// Feet and inches are understood as they are typed and shown back; other units are one step, which undo takes back.
func TestBrowserTypesFeetAndSwitchesUnits(t *testing.T) {
	longtest.Only(t, aWhile)
	_, server, _ := openSite(t, quickStart())
	p := openTab(t, server)
	p.open("/")
	p.fill("f-room-length", `36' 6"`)
	p.until(`document.querySelector(".field:has(#f-room-length) .read") !== null && document.querySelector(".field:has(#f-room-length) .read").innerText === "36 ft 6 in"`)
	p.run(script(`document.getElementById("f-units").focus(); document.getElementById("f-units").value = "metric"; document.getElementById("f-units").dispatchEvent(new Event("input", { bubbles: true }))`))
	p.until(`document.getElementById("f-room-length").value === "11.1252" && document.getElementById("digest").innerText.includes("lx")`)
	p.run(script(`document.querySelector("button[name=do][value=undo]").click()`))
	p.until(`document.getElementById("f-room-length").value === "36.5" && document.getElementById("digest").innerText.includes("fc")`)
}
