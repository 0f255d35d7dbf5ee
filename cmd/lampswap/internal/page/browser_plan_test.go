package page

import (
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/cmd/lampswap/internal/jobs"
	"lampswap/photometry/longtest"
)

// planJob has everything that a plan shows, in a room that is quick to work out.
var planJob = quickJob + `
[[racks]]
corner = [4.0, 12.0]
size = [10.0, 2.0, 4.0]
repeat = { count = 2, step = [0.0, 4.0] }
[[grids]]
name = "bay"
area = [16.0, 2.0, 28.0, 8.0]
height = 0.0
spacing = 2.0
[[grids]]
name = "face"
from = [4.0, 12.0]
to = [14.0, 12.0]
heights = [0.5, 3.5]
facing = -90.0
spacing = 1.0
[[criteria]]
name = "bay"
grid = "bay"
statistic = "minimum"
at_least = 12.0
`

func planStart() *start { return &start{name: "plan.toml", text: planJob} }

// at is a place of the plan on the screen: the job's units, y upward.
func (p *tab) at(x, y float64) (float64, float64) {
	p.t.Helper()
	var place [2]float64
	require.NoError(p.t, json.Unmarshal([]byte(p.is(fmt.Sprintf(`(() => {
		const svg = document.getElementById("plan-svg");
		svg.scrollIntoView({ block: "center" });
		const q = new DOMPoint(%g, Number(svg.dataset.width) - %g).matrixTransform(svg.getScreenCTM());
		return JSON.stringify([q.x, q.y]);
	})()`, x, y))), &place))
	return place[0], place[1]
}

// drag pulls from one place of the plan to another, and looks before it lets go.
func (p *tab) drag(x0, y0, x1, y1 float64, look func()) {
	p.t.Helper()
	ax, ay := p.at(x0, y0)
	bx, by := p.at(x1, y1)
	p.run(chromedp.MouseEvent(input.DispatchMouseEventTypeMouseMoved, ax, ay), chromedp.MouseEvent(input.DispatchMouseEventTypeMousePressed, ax, ay, chromedp.ButtonLeft))
	for i := range 5 {
		f := float64(i+1) / 5
		p.run(chromedp.MouseEvent(input.DispatchMouseEventTypeMouseMoved, ax+f*(bx-ax), ay+f*(by-ay), chromedp.ButtonLeft))
	}
	if look != nil {
		look()
	}
	p.run(chromedp.MouseEvent(input.DispatchMouseEventTypeMouseReleased, bx, by, chromedp.ButtonLeft))
	p.settled()
}

func (p *tab) jobText() string {
	p.t.Helper()
	text, err := chromedp.Run(p.ctx, chromedp.Evaluate[string](`fetch("/take/job.toml").then((r) => r.text())`, chromedp.EvalAwaitPromise))
	require.NoError(p.t, err)
	return text
}

const undoPlan = `document.querySelector("#undo [value=undo]").click()`

// What stands and hangs in the room is dragged on the plan, on the tape, with lengths beside it; the text of the job follows, and undo takes it back.
// Where there is little time, a rack.
func TestBrowserDragsOnThePlan(t *testing.T) {
	_, server, _ := openSite(t, planStart())
	p := openTab(t, server)
	p.open("/")
	p.settled()
	pulls := []struct {
		what           string
		x0, y0, x1, y1 float64
		says           string
		old, now       string
	}{
		{"a rack", 9, 13, 11.1, 9.9, `x 6′0″`, "corner = [4.0, 12.0]", "corner = [6.0, 9.0]"},
		{"the second of its row", 9, 17, 9, 18.05, "from one to the next", "step = [0.0, 4.0]", "step = [0.0, 5.0]"},
		{"the far corner of the room", 30, 20, 32.1, 21, `x 32′0″`, "length = 30.0\nwidth = 20.0", "length = 32.0\nwidth = 21.0"},
		{"a wall", 30, 10, 29, 10, `x 29′0″`, "length = 30.0", "length = 29.0"},
		{"the edge of a grid", 22, 2, 21, 3, `x 15′0″`, "area = [16.0, 2.0, 28.0, 8.0]", "area = [15.0, 3.0, 27.0, 9.0]"},
		{"the spacing of the layout", 22.5, 15, 18, 12, "3 rows of 3", "rows = 2\ncolumns = 2", "rows = 3\ncolumns = 3"},
	}
	for _, c := range longtest.Pick(pulls[:1], pulls) {
		p.drag(c.x0, c.y0, c.x1, c.y1, func() {
			p.until(fmt.Sprintf(`document.getElementById("plan-ghost").textContent.includes(%q)`, c.says))
		})
		require.Equal(t, 1, strings.Count(planJob, c.old), c.what)
		assert.Equal(t, strings.Replace(planJob, c.old, c.now, 1), p.jobText(), c.what)
		p.until(`document.querySelector("#undo [value=undo]").disabled === false`)
		p.run(script(undoPlan))
		p.until(`document.querySelector("#undo [value=undo]").disabled`)
		p.settled()
		assert.Equal(t, planJob, p.jobText(), "undone: %s", c.what)
	}
}

// Everything of the plan by keys: go from one to the next, move by an inch, copy, take out; and the form beside it does the same.
func TestBrowserPlansByKeys(t *testing.T) {
	longtest.Only(t, aWhile)
	_, server, _ := openSite(t, planStart())
	p := openTab(t, server)
	p.open("/")
	p.settled()
	p.run(script(`document.getElementById("plan-thing").value = "racks[0]"; document.getElementById("plan-thing").dispatchEvent(new Event("change", { bubbles: true }))`))
	assert.Equal(t, "4 12", p.is(`document.getElementById("plan-x").value + " " + document.getElementById("plan-y").value`))
	p.run(script(`headOf("racks[0]").focus()`))
	p.press(strings.Repeat(kb.ArrowRight, 6) + kb.ArrowUp)
	p.settled()
	assert.Contains(t, p.jobText(), "corner = [4.5, 12.0833]")
	p.run(script(undoPlan))
	p.until(`document.getElementById("plan-x").value === "4"`)
	p.settled()
	assert.Equal(t, planJob, p.jobText(), "a burst of keys is one step")
	p.run(script(`choose("racks[0]", true)`))
	p.press("c")
	p.until(`document.querySelectorAll("#plan-svg [data-kind=rack]").length === 4`)
	p.settled()
	assert.Equal(t, "racks[1]", p.is(`document.activeElement.dataset.id`), "the copy is chosen")
	p.press(kb.Delete)
	p.until(`document.querySelectorAll("#plan-svg [data-kind=rack]").length === 2`)
	p.settled()
	assert.Equal(t, planJob, strings.Replace(p.jobText(), "[0.0, 4.0] }\n\n", "[0.0, 4.0] }\n", 1))
	p.run(script(`choose("room", true)`))
	p.press("c")
	p.until(`document.querySelectorAll("#plan-svg [data-kind=corner]").length === 6`)
	p.settled()
	p.fill("plan-x", "22")
	p.click(`#plan-form [value=move]`)
	assert.Contains(t, p.jobText(), "[22.0, 15.0]", p.jobText())
}

// The light at a place: under the pointer, and from point to point by keys; each with what is required there, read out where it was asked for.
func TestBrowserTellsTheLightAtAPlace(t *testing.T) {
	longtest.Only(t, aWhile)
	_, server, _ := openSite(t, planStart())
	p := openTab(t, server)
	p.open("/")
	p.settled()
	said := `document.getElementById("plan-value").textContent`
	x, y := p.at(7.5, 2.5)
	p.run(chromedp.MouseEvent(input.DispatchMouseEventTypeMouseMoved, x, y))
	p.until(said + `.includes("x 7′6″, y 2′6″: existing")`)
	assert.Regexp(t, `existing [0-9.]+, proposed [0-9.]+ fc, .+; average of at least 10.0 fc: existing (as much|less) here, proposed (as much|less) here`, p.is(said))
	assert.Equal(t, "off", p.is(`document.getElementById("plan-value").getAttribute("aria-live")`))
	p.run(script(`document.getElementById("cross").focus()`))
	p.press(kb.ArrowRight)
	p.until(said + `.startsWith("x 12′6″, y 2′6″")`)
	assert.Equal(t, "polite", p.is(`document.getElementById("plan-value").getAttribute("aria-live")`))
	assert.Equal(t, p.is(said), p.is(`document.getElementById("cross").getAttribute("aria-valuetext")`))
	p.press(kb.Home + kb.ArrowUp)
	p.until(said + `.startsWith("x 2′6″, y 7′6″")`)

	p.run(script(`document.getElementById("of-1").click()`))
	p.run(script(`document.getElementById("cross").focus()`))
	p.press(kb.End)
	p.until(said + `.includes("minimum of at least 12.0 fc: existing")`)
	assert.Regexp(t, `(met|MISSED) here`, p.is(said))
	assert.Equal(t, "block none", p.is(`getComputedStyle(document.getElementById("light-1-proposed")).display + " " + getComputedStyle(document.getElementById("light-0-proposed")).display`))
	p.run(script(`document.getElementById("of-2").click()`))
	p.until(`document.querySelector("#elevation-2 #cross") !== null`)
	p.run(script(`document.getElementById("cross").focus()`))
	p.press(kb.ArrowLeft)
	p.until(said + `.includes("along")`)
}

// A finger takes hold too, and a tap tells the light.
func TestBrowserPlanByTouch(t *testing.T) {
	longtest.Only(t, aWhile)
	_, server, _ := openSite(t, planStart())
	p := openTab(t, server)
	p.phone()
	p.open("/")
	p.settled()
	x, y := p.at(22, 5)
	touch := func(kind input.DispatchTouchEventType, points ...*input.TouchPoint) {
		call(p, input.DispatchTouchEvent, input.DispatchTouchEventParams{Type: kind, TouchPoints: points})
	}
	touch(input.DispatchTouchEventTypeTouchStart, &input.TouchPoint{X: x, Y: y})
	touch(input.DispatchTouchEventTypeTouchEnd)
	p.until(`document.getElementById("plan-value").textContent.includes("existing")`)
	x, y = p.at(9, 13)
	bx, by := p.at(11, 13)
	swipe := func() {
		touch(input.DispatchTouchEventTypeTouchStart, &input.TouchPoint{X: x, Y: y})
		for i := range 4 {
			f := float64(i+1) / 4
			touch(input.DispatchTouchEventTypeTouchMove, &input.TouchPoint{X: x + f*(bx-x), Y: y + f*(by-y)})
		}
		touch(input.DispatchTouchEventTypeTouchEnd)
	}
	swipe()
	p.settled()
	assert.Equal(t, "racks[0]", p.is(`plan.chosen`))
	assert.Equal(t, planJob, p.jobText(), "it is chosen first")
	swipe()
	p.until(`document.querySelector("#undo [value=undo]").disabled === false`)
	p.settled()
	assert.Contains(t, p.jobText(), "corner = [6.0, 12.0]")
}

// Without script the plan is a picture over its light, which can be switched, and a form moves what is on it.
func TestBrowserPlanWithoutScript(t *testing.T) {
	longtest.Only(t, aWhile)
	_, server, _ := openSite(t, planStart())
	p := openTab(t, server)
	call(p, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true})
	p.open("/")
	p.run(chromedp.WaitVisible(chromedp.CSS("#light-0-proposed")), chromedp.Click(chromedp.CSS("#layer-change")), chromedp.WaitVisible(chromedp.CSS("#light-0-change")))
	p.run(chromedp.SetValue(chromedp.CSS("#plan-thing"), "racks[0]"), chromedp.SetValue(chromedp.CSS("#plan-x"), "6"), chromedp.Click(chromedp.CSS("#plan-form [value=move]")),
		chromedp.WaitVisible(chromedp.CSS(`#plan-svg [data-id="racks[0]"][data-x="6"]`)))
	p.run(chromedp.Click(chromedp.CSS(`#undo [value=undo]`)), chromedp.WaitVisible(chromedp.CSS(`#plan-svg [data-id="racks[0]"][data-x="4"]`)))
}

// Nothing sticks out at 1280, 390 and 320 px; the plan is wide enough on a desk, and on a phone the form is one tap away.
func TestBrowserFits(t *testing.T) {
	longtest.Only(t, aWhile)
	_, server, _ := openSite(t, planStart())
	p := openTab(t, server)
	for _, width := range []int64{1280, 390, 320} {
		p.run(chromedp.EmulateViewport(width, 800))
		for _, path := range []string{"/", "/?view=text", "/stations"} {
			p.open(path)
			p.settled()
			p.run(script(`for (const d of document.querySelectorAll("details")) d.open = true`))
			assert.Empty(t, p.is(`document.documentElement.scrollWidth <= document.documentElement.clientWidth ? "" : [...document.querySelectorAll("body *")].filter((e) => e.checkVisibility() && e.getBoundingClientRect().right > innerWidth + 1 && !e.closest(".roll, textarea, .lines, .skip")).map((e) => e.tagName + "." + e.className + "#" + e.id).slice(0, 6).join(" ")`), "%s at %d", path, width)
		}
		p.open("/")
		p.settled()
		wide := p.is(`Math.round(document.getElementById("plan-sheet").getBoundingClientRect().width)`)
		if width == 1280 {
			assert.Equal(t, "true", p.is(`[document.getElementById("plan-sheet"), ...document.querySelectorAll("#map-0 img")].every((e) => e.getBoundingClientRect().width >= 600)`), wide)
			continue
		}
		assert.Equal(t, "true", p.is(`document.querySelector(".to-job").checkVisibility()`))
		p.run(chromedp.Click(chromedp.CSS(".to-job")))
		p.until(`Math.abs(document.getElementById("job").getBoundingClientRect().top) < innerHeight / 2`)
	}
}

// A change of the plan shows light: told, and judged loosely, as it depends on the machine.
func TestBrowserTellsTheTimeOfAPull(t *testing.T) {
	longtest.Only(t, "times of edits")
	demonstration, err := jobs.Demo.ReadFile(jobs.DemoJob)
	require.NoError(t, err)
	for _, c := range []struct{ name, text, thing string }{
		{"the demonstration's far corner", string(demonstration), "room"}, {"one of four rows of racks", string(demonstration) + racked, "racks[0]"},
	} {
		_, server, _ := openSite(t, &start{name: "parts-store.toml", text: c.text})
		p := openTab(t, server)
		p.open("/")
		p.settled()
		best := time.Duration(math.MaxInt64)
		for i := range 5 {
			p.run(script(fmt.Sprintf(`{
				const head = headOf(%q), light = document.getElementById("light-0-proposed"), old = light.getAttribute("href"), began = performance.now();
				window.took = 0;
				new MutationObserver((m, o) => { if (light.getAttribute("href") !== old) { window.took = performance.now() - began; o.disconnect(); } }).observe(light, { attributes: true });
				post("move", %q, Number(head.dataset.x) - %d, Number(head.dataset.y) - %d, "");
			}`, c.thing, c.thing, 1+i%2, i%2)))
			p.until(`window.took > 0`)
			p.settled()
			var ms float64
			require.NoError(t, json.Unmarshal([]byte(p.is(`window.took`)), &ms))
			best = min(best, time.Duration(ms*float64(time.Millisecond)))
			t.Logf("%s: light after %.0f ms", c.name, ms)
		}
		assert.Less(t, best, 10*time.Second)
	}
}
