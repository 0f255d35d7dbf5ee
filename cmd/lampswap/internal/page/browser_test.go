//go:build browser

// The page in a real Chromium: go test -tags browser ./cmd/lampswap/internal/page -run Browser. Not yet part of CI.

package page

import (
	"context"
	"fmt"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/cmd/lampswap/internal/jobs"
)

// browserTime is how long one test may keep the browser.
const browserTime = 90 * time.Second

// A tab is a page open in a real browser.
type tab struct {
	t     *testing.T
	ctx   context.Context
	base  string
	mutex sync.Mutex
	said  []string // what the browser complained of
}

// A step is something that a person does.
type step = chromedp.Action[chromedp.Void]

// openTab opens the page in Chromium; the test is skipped where there is none, unless LAMPSWAP_REQUIRE_TOOLS says that there must be.
func openTab(t *testing.T, server *httptest.Server) *tab {
	t.Helper()
	path, err := exec.LookPath("chromium")
	if err != nil {
		if os.Getenv("LAMPSWAP_REQUIRE_TOOLS") == "1" {
			t.Fatal("Chromium is not installed, and LAMPSWAP_REQUIRE_TOOLS=1 requires it (Debian: chromium)")
		}
		t.Skip("Chromium is not installed (Debian: chromium), so the page is not tested in a browser")
	}
	options := append(slices.Clone(chromedp.DefaultExecAllocatorOptions[:]), chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.DisableGPU, chromedp.WindowSize(1280, 900))
	limited, cancelTime := context.WithTimeout(t.Context(), browserTime)
	allocator, cancelBrowser := chromedp.NewExecAllocator(limited, options...)
	ctx, cancelTab := chromedp.NewContext(allocator)
	t.Cleanup(func() { cancelTab(); cancelBrowser(); cancelTime() })
	p := &tab{t: t, ctx: ctx, base: server.URL}
	require.NoError(t, chromedp.Listen(ctx, p.listen))
	call(p, log.Enable, cdp.Empty{})
	call(p, runtime.Enable, cdp.Empty{})
	t.Cleanup(func() {
		assert.Empty(t, p.complaints(), "the browser has nothing to complain of: no broken script, nothing that the policy stops")
	})
	return p
}

func (p *tab) listen(event any) {
	p.mutex.Lock()
	defer p.mutex.Unlock()
	switch e := event.(type) {
	case *runtime.EventExceptionThrown:
		p.said = append(p.said, e.ExceptionDetails.Text)
	case *log.EventEntryAdded:
		if e.Entry.Level == log.EntryLevelError || e.Entry.Level == log.EntryLevelWarning {
			p.said = append(p.said, e.Entry.Text+" "+e.Entry.URL)
		}
	}
}

func (p *tab) complaints() []string {
	p.mutex.Lock()
	defer p.mutex.Unlock()
	return slices.Clone(p.said)
}

func (p *tab) run(steps ...step) {
	p.t.Helper()
	require.NoError(p.t, chromedp.Do(p.ctx, steps...))
}

// call sends the browser a command.
func call[P, R any](p *tab, command cdp.Command[P, R], params P) {
	p.t.Helper()
	_, err := chromedp.Call(p.ctx, command, params)
	require.NoError(p.t, err)
}

// is evaluates an expression of the page.
func (p *tab) is(expression string) string {
	p.t.Helper()
	value, err := chromedp.Run(p.ctx, chromedp.Evaluate[string]("String("+expression+")"))
	require.NoError(p.t, err, expression)
	return value
}

// until waits for an expression of the page to hold.
func (p *tab) until(expression string) {
	p.t.Helper()
	limited, cancel := context.WithTimeout(p.ctx, 20*time.Second)
	defer cancel()
	_, err := chromedp.Run(limited, chromedp.Poll[bool](expression, chromedp.WithPollingInterval(20*time.Millisecond)))
	if err != nil {
		require.NoError(p.t, err, "waited for %s; the page says %s", expression, p.is(`document.querySelector(".bar").innerText + document.querySelector("#answer").innerText.slice(0, 500)`))
	}
}

// open opens an address of the page.
func (p *tab) open(path string) {
	p.t.Helper()
	p.run(chromedp.Navigate(p.base+path), chromedp.WaitVisible(chromedp.CSS("main")))
}

// script runs some lines on the page.
func script(lines string) step { return chromedp.Evaluate[chromedp.Void](lines) }

// focus goes to an element as a tab or a tap does.
func focus(selector string) step {
	return script(fmt.Sprintf(`document.querySelector(%q).focus()`, selector))
}

// fill types into a field in place of what is there.
func (p *tab) fill(id, text string) {
	p.t.Helper()
	p.run(script(fmt.Sprintf(`document.getElementById(%q).focus(); document.getElementById(%q).select()`, id, id)), chromedp.KeyEvent(text))
}

func (p *tab) phone() {
	p.run(chromedp.EmulateViewport(390, 844, chromedp.EmulateMobile, chromedp.EmulateTouch, chromedp.EmulatePortrait))
}

func TestBrowserShowsNumbersWhileTyping(t *testing.T) {
	_, server, _ := openSite(t, quickStart())
	p := openTab(t, server)
	p.open("/")
	p.run(script(`window.stayed = true`))
	before := p.is(`document.getElementById("digest").innerText`)
	assert.Contains(t, before, "fc")
	p.fill("f-room-length", "60")
	p.until(fmt.Sprintf(`document.getElementById("digest").innerText !== %q && document.getElementById("busy").textContent === ""`, before))
	assert.Equal(t, "true", p.is(`window.stayed`), "without loading the page anew")
	assert.Equal(t, "f-room-length", p.is(`document.activeElement.id`), "and whoever types goes on typing")
	assert.Contains(t, p.is(`document.getElementById("ledgers").innerText`), "Point by point")
	p.until(`[...document.querySelectorAll("#map-0 img")].every((i) => i.complete && i.naturalWidth > 0)`)

	p.fill("f-room-width", "wide")
	p.until(`document.getElementById("e-f-room-width") !== null`)
	assert.Contains(t, p.is(`document.getElementById("e-f-room-width").innerText`), "a length above 0")
	assert.Equal(t, "true", p.is(`document.getElementById("f-room-width").getAttribute("aria-invalid")`))
	assert.Contains(t, p.is(`document.getElementById("answer").innerText`), "quick.toml:4:9")
	assert.Contains(t, p.is(`document.getElementById("digest").innerText`), "1 to mend")
	p.fill("f-room-width", "25")
	p.until(`document.getElementById("ledgers") !== null && document.getElementById("e-f-room-width") === null`)
	assert.Equal(t, "f-room-width", p.is(`document.activeElement.id`))
}

func TestBrowserEditsTheText(t *testing.T) {
	_, server, _ := openSite(t, quickStart())
	p := openTab(t, server)
	p.open("/?view=text")
	p.run(script(`const a = document.getElementById("text"); a.focus(); a.setSelectionRange(a.value.indexOf("30.0"), a.value.indexOf("30.0") + 4)`), chromedp.KeyEvent("-1"))
	p.until(`document.querySelector("#lines .bad") !== null`)
	assert.Contains(t, p.is(`document.querySelector("#lines .bad").innerText`), "3", "the fault stands at its line")
	assert.Contains(t, p.is(`document.querySelector("#lines .bad span").innerText`), "room.length")
	offset := p.is(`Math.round(document.querySelector("#lines li:nth-child(3)").getBoundingClientRect().top - document.getElementById("text").getBoundingClientRect().top - 2 * parseFloat(getComputedStyle(document.getElementById("text")).lineHeight) - parseFloat(getComputedStyle(document.getElementById("text")).paddingTop))`)
	assert.Equal(t, "0", offset, "and beside it")
	p.run(chromedp.KeyEvent(kb.Backspace+kb.Backspace), chromedp.KeyEvent("48"))
	p.until(`document.querySelector("#lines .bad") === null && document.getElementById("ledgers") !== null`)
	assert.Contains(t, p.is(`document.getElementById("text").value`), "length = 48\n")
	p.run(chromedp.Click(chromedp.CSS("#views a")), chromedp.WaitVisible(chromedp.CSS("#f-room-length")))
	assert.Equal(t, "48", p.is(`document.getElementById("f-room-length").value`), "the form shows the same")
}

func TestBrowserTakesFiles(t *testing.T) {
	_, server, _ := openSite(t, quickStart())
	p := openTab(t, server)
	light, err := jobs.Demo.ReadFile("demo/strip-2x8ft-t12.ies")
	require.NoError(t, err)
	folder := t.TempDir()
	good, bad := filepath.Join(folder, "good.ies"), filepath.Join(folder, "bad.ies")
	require.NoError(t, os.WriteFile(good, light, 0o600))
	require.NoError(t, os.WriteFile(bad, []byte(strings.Replace(string(light), "TILT=NONE", "TILT=NONE\nmany", 1)), 0o600))
	p.open("/")
	p.run(chromedp.SetUploadFiles(chromedp.CSS("#light-files"), []string{bad}), chromedp.Click(chromedp.CSS("#drop button")))
	p.until(`document.getElementById("file-faults") !== null`)
	assert.Regexp(t, `bad\.ies:\d+:\d+: `, p.is(`document.getElementById("file-faults").innerText`), "the fault has its line")
	p.run(chromedp.SetUploadFiles(chromedp.CSS("#light-files"), []string{good}), chromedp.Click(chromedp.CSS("#drop button")))
	p.until(`document.querySelector(".kept") !== null && document.getElementById("file-faults") === null`)
	p.until(`document.getElementById("f-proposed-source").value === "photometry:good.ies"`)
}

func TestBrowserMovesTheAverage(t *testing.T) {
	_, server, _ := openSite(t, quickStart())
	p := openTab(t, server)
	p.open("/")
	average := `document.querySelector("#tried .trial b").innerText`
	for _, slider := range []string{"factor", "lamp", "months"} {
		before := p.is(average)
		p.run(focus("#t-" + slider))
		for range 4 {
			p.run(chromedp.KeyEvent(kb.ArrowLeft))
		}
		p.until(average + ` !== ` + fmt.Sprintf("%q", before))
		assert.Equal(t, "t-"+slider, p.is(`document.activeElement.id`), "the slider keeps the focus")
	}
	assert.Contains(t, p.is(`document.getElementById("tried").innerText`), "%")
	assert.Equal(t, "F25T8", p.is(`document.getElementById("o-lamp").innerText`))
	assert.Contains(t, p.is(`document.getElementById("t-lamp").getAttribute("aria-valuetext")`), "F25T8")
	assert.NotEqual(t, "null", p.is(`document.querySelector("polyline.tried")`))
	kept := p.is(average)
	p.run(chromedp.Click(chromedp.CSS(`#try-form button[formaction]`)), chromedp.WaitVisible(chromedp.CSS("#answer .said")))
	p.until(`document.getElementById("f-upkeep-clean-months").value === "20.0"`)
	assert.Equal(t, kept, p.is(average), "what was tried is what the job has now")
}

func TestBrowserLaysOutRacks(t *testing.T) {
	_, server, _ := openSite(t, quickStart())
	p := openTab(t, server)
	p.open("/")
	p.run(chromedp.Click(chromedp.CSS(`button[value="add-rack"]`)))
	p.until(`document.querySelectorAll("#plan .rack").length === 1`)
	p.fill("f-racks-0-repeat-count", "2")
	p.until(`document.getElementById("answer").innerText.includes("step")`)
	p.fill("f-racks-0-repeat-step", "0")
	p.fill("f-racks-0-repeat-step-1", "7")
	p.until(`document.querySelectorAll("#plan .rack").length === 2 && document.getElementById("ledgers") !== null`)
	p.run(chromedp.Click(chromedp.CSS(`button[value="remove-racks-0"]`)))
	p.until(`document.querySelectorAll("#plan .rack").length === 0`)
}

// Everything can be reached and worked by keys, the focus is always seen, and it is never caught.
func TestBrowserByKeysAlone(t *testing.T) {
	_, server, _ := openSite(t, quickStart())
	p := openTab(t, server)
	p.open("/")
	var order []string
	for range 200 {
		p.run(chromedp.KeyEvent(kb.Tab))
		at := p.is(`document.activeElement === document.body ? "" : (document.activeElement.id || document.activeElement.value || document.activeElement.innerText)`)
		if at == "" {
			break
		}
		order = append(order, at)
		style := p.is(`(() => { const e = document.activeElement, s = getComputedStyle(e), b = e.getBoundingClientRect(); return [e.matches(":focus-visible"), s.outlineStyle !== "none" && parseFloat(s.outlineWidth) >= 2, b.width > 0 && b.height > 0, b.bottom > 0 && b.top < innerHeight].join() })()`)
		assert.Equal(t, "true,true,true,true", style, "the focus is seen on %s", at)
	}
	require.Less(t, len(order), 200, "the focus is caught")
	assert.Equal(t, []string{"To the answer", "To the job"}, order[:2], "one can skip to what matters")
	for _, want := range []string{"t-factor", "t-lamp", "t-months", "f-room-length", "f-proposed-source", "add-rack", "light-files", "job-file"} {
		assert.Contains(t, order, want)
	}
	p.run(focus("#f-room-length"), chromedp.KeyEvent("7"+kb.Enter))
	p.until(`document.getElementById("busy").textContent === "" && document.getElementById("f-room-length").value.includes("7")`)
	p.run(focus(`button[value="add-rack"]`), chromedp.KeyEvent(" "))
	p.until(`document.querySelector(".element#racks-0") !== null`)
	p.until(`document.getElementById("note-0") !== null`)
	p.run(focus(`#note-0 summary`), chromedp.KeyEvent(kb.Enter))
	p.until(`document.getElementById("note-0").open`)
}

// The rules of accessible.js hold on every page, on a desk and on a phone, by day and by night, with and without faults.
func TestBrowserIsAccessible(t *testing.T) {
	rules, err := os.ReadFile("testdata/accessible.js")
	require.NoError(t, err)
	_, server, _ := openSite(t, quickStart())
	p := openTab(t, server)
	p.open("/")
	for _, button := range []string{"add-rack", "add-face", "add-rule"} {
		p.run(chromedp.Click(chromedp.CSS(fmt.Sprintf("button[value=%q]", button))))
		p.until(fmt.Sprintf(`document.getElementById("busy").textContent === "" && document.querySelectorAll(".element").length === %d`, map[string]int{"add-rack": 2, "add-face": 3, "add-rule": 4}[button]))
	}
	check := func(where string) {
		for _, theme := range []string{"light", "dark"} {
			call(p, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: theme}}})
			faults, err := chromedp.Run(p.ctx, chromedp.Evaluate[[]string](string(rules)))
			require.NoError(t, err)
			assert.Empty(t, faults, "%s, %s", where, theme)
		}
	}
	all := func(size string) {
		for _, path := range []string{"/", "/?view=text", "/stations", "/nothing"} {
			p.open(path)
			check(size + " " + path)
		}
	}
	all("desk")
	p.phone()
	all("phone")
	p.open("/")
	p.fill("f-room-length", "no length")
	p.until(`document.getElementById("e-f-room-length") !== null`)
	check("phone with faults")
	p.open("/?view=text")
	check("phone with faults, text")
	call(p, emulation.ClearDeviceMetricsOverride, cdp.Empty{})
	p.open("/")
	check("desk with faults")
	// the address with nothing is a refusal on purpose, and the browser says so
	p.mutex.Lock()
	p.said = slices.DeleteFunc(p.said, func(s string) bool { return strings.Contains(s, "404") })
	p.mutex.Unlock()
}

func TestBrowserReadingsOnAPhone(t *testing.T) {
	_, server, _ := openSite(t, quickStart())
	p := openTab(t, server)
	p.phone()
	p.open("/stations")
	first := p.is(`document.querySelector(".stations input").id`)
	p.fill(first, "18,4")
	p.until(`document.querySelector(".stations li.done") !== null && document.getElementById("digest").innerText.includes("1 of")`)
	assert.Equal(t, first, p.is(`document.activeElement.id`))
	p.open("/stations")
	assert.Equal(t, "18,4", p.is(`document.querySelector(".stations input").value`), "it was kept at once")
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
