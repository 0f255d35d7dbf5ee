package page

import (
	"context"
	"fmt"
	"net/http/httptest"
	"os"
	"os/exec"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/cdproto/storage"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A real Chromium, in whose one tab the tests TestBrowser... open the page, one after the other: to start a browser and a process for a tab costs
// more than to try something there. None of these times is waited for but where something is wrong: each is long enough for a machine that has
// much else to do.
const (
	browserStart = 2 * time.Minute // until it answers
	tabTime      = 4 * time.Minute // that one test may keep a tab
	mostWait     = time.Minute     // for one condition
	lookAgain    = 10 * time.Millisecond
)

// theBrowser is started by the first test that asks for it, and is there for all.
var theBrowser struct {
	once  sync.Once
	ctx   context.Context // of its tab
	err   error
	close func()
	tab   atomic.Pointer[tab] // what hears of the events of the tab
}

// browserPath finds Chromium. Without it the test is skipped, or fails where LAMPSWAP_REQUIRE_TOOLS is 1.
func browserPath(t *testing.T) string {
	t.Helper()
	names := []string{"chromium", "chromium-browser", "google-chrome"}
	for _, name := range names {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	if os.Getenv("LAMPSWAP_REQUIRE_TOOLS") == "1" {
		t.Fatalf("none of %q is installed, and LAMPSWAP_REQUIRE_TOOLS is 1", names)
	}
	t.Skipf("none of %q is installed, so the page is not tested in a browser (Debian: chromium)", names)
	return ""
}

func startBrowser(path string) {
	options := append(slices.Clone(chromedp.DefaultExecAllocatorOptions[:]), chromedp.ExecPath(path), chromedp.DisableGPU,
		chromedp.WindowSize(1280, 900), chromedp.WSURLReadTimeout(browserStart))
	if os.Geteuid() == 0 { // as in a container: Chromium has no sandbox for root
		options = append(options, chromedp.NoSandbox)
	}
	allocator, closeBrowser := chromedp.NewExecAllocator(context.Background(), options...)
	ctx, closeTab := chromedp.NewContext(allocator)
	theBrowser.ctx, theBrowser.close = ctx, func() { closeTab(); closeBrowser() }
	if theBrowser.err = chromedp.Do(ctx); theBrowser.err == nil {
		theBrowser.err = chromedp.Listen(ctx, func(event any) { theBrowser.tab.Load().listen(event) })
	}
}

// endBrowser ends it, if any test started it.
func endBrowser() {
	if theBrowser.close != nil {
		theBrowser.close()
	}
}

// A tab is the page open in a real browser, as one test has it: with cookies of its own, on a desk.
type tab struct {
	t     *testing.T
	ctx   context.Context
	base  string
	mutex sync.Mutex
	said  []string // what the browser complained of
	asked int      // how often the page asked before it was left
}

// A step is something that a person does.
type step = chromedp.Action[chromedp.Void]

// openTab opens a tab for a test, which fails if the browser complains of anything: a broken script, something that the policy stops.
func openTab(t *testing.T, server *httptest.Server) *tab {
	t.Helper()
	path := browserPath(t)
	theBrowser.once.Do(func() { startBrowser(path) })
	require.NoError(t, theBrowser.err, "start %s", path)
	ctx, cancel := context.WithTimeout(theBrowser.ctx, tabTime)
	p := &tab{t: t, ctx: ctx, base: server.URL}
	t.Cleanup(func() {
		assert.Empty(t, p.complaints(), "the browser complains")
		cancel()
		ctx, cancel := context.WithTimeout(theBrowser.ctx, mostWait)
		defer cancel()
		// the page is left while its server is there, and for one of the same site, whose process stays
		assert.NoError(t, chromedp.Do(ctx, chromedp.Navigate(p.base+"/mark.svg")))
	})
	theBrowser.tab.Store(p)
	p.fresh()
	return p
}

// fresh makes the tab what it was when the browser was started, whatever the test before did.
func (p *tab) fresh() {
	p.t.Helper()
	call(p, storage.ClearCookies, storage.ClearCookiesParams{})
	call(p, emulation.ClearDeviceMetricsOverride, cdp.Empty{})
	call(p, emulation.SetTouchEmulationEnabled, emulation.SetTouchEmulationEnabledParams{})
	call(p, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{})
	call(p, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{})
}

func (p *tab) listen(event any) {
	p.mutex.Lock()
	defer p.mutex.Unlock()
	switch e := event.(type) {
	case *page.EventJavascriptDialogOpening:
		p.asked++
		go func() { // the answer to it comes by the same line as this
			_, _ = chromedp.Call(theBrowser.ctx, page.HandleJavaScriptDialog, page.HandleJavaScriptDialogParams{Accept: true}) // the browser may be gone
		}()
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

// forgive forgets complaints that a test provokes.
func (p *tab) forgive(about string) {
	p.mutex.Lock()
	defer p.mutex.Unlock()
	p.said = slices.DeleteFunc(p.said, func(s string) bool { return strings.Contains(s, about) })
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

// until waits for an expression of the page to hold, also while the page is loaded anew. The page is asked once and looks itself again and again;
// where a new page comes in its place meanwhile, that is asked.
func (p *tab) until(expression string) {
	p.t.Helper()
	limited, cancel := context.WithTimeout(p.ctx, mostWait)
	defer cancel()
	holds := fmt.Sprintf(`new Promise((done) => {
		const holds = () => { try { return %s; } catch { return false; } };
		const look = () => holds() ? done() : setTimeout(look, %d);
		look();
	})`, expression, lookAgain.Milliseconds())
	for {
		_, err := chromedp.Run(limited, chromedp.Evaluate[chromedp.Void](holds, chromedp.EvalAwaitPromise))
		if err == nil {
			return
		}
		select {
		case <-time.After(lookAgain):
		case <-limited.Done():
			p.t.Fatalf("waited for %s (%v); the page says: %s", expression, err, p.is(`document.body.innerText.slice(0, 800)`))
		}
	}
}

// settled waits until nothing that was typed is unsent and no answer is on its way.
func (p *tab) settled() {
	p.t.Helper()
	p.until(`document.readyState === "complete" && waiting.size === 0 && running === null`)
}

// open opens an address of the page.
func (p *tab) open(path string) {
	p.t.Helper()
	p.run(chromedp.Navigate(p.base+path), chromedp.WaitVisible(chromedp.CSS("main")))
}

// loads does what loads the page anew, and waits for that.
func (p *tab) loads(steps ...step) {
	p.t.Helper()
	p.run(script(`window.before = true`))
	p.run(steps...)
	p.until(`window.before === undefined`)
	p.settled()
}

// script runs some lines on the page.
func script(lines string) step { return chromedp.Evaluate[chromedp.Void](lines) }

// press presses keys, one after the other.
func (p *tab) press(keys string) {
	p.t.Helper()
	p.run(chromedp.KeyEvent(keys))
}

// click clicks on an element and waits for what comes of it.
func (p *tab) click(selector string) {
	p.t.Helper()
	p.run(chromedp.Click(chromedp.CSS(selector)))
	p.settled()
}

// fill types into a field in place of what is there, and waits for what comes of it.
func (p *tab) fill(id, text string) {
	p.t.Helper()
	p.run(script(fmt.Sprintf(`document.getElementById(%q).focus(); document.getElementById(%q).select()`, id, id)), chromedp.KeyEvent(text))
	p.settled()
}

// tabTo presses the tabulator until the focus is on the element, so often at most.
func (p *tab) tabTo(selector string, most int) {
	p.t.Helper()
	for range most {
		p.press(kb.Tab)
		if p.is(fmt.Sprintf(`document.activeElement.matches(%q)`, selector)) == "true" {
			return
		}
	}
	p.t.Fatalf("%s is not reached by %d presses of the tabulator", selector, most)
}

// focused is what has the focus: its id, else its words; "" if nothing has.
func (p *tab) focused() string {
	p.t.Helper()
	return p.is(`(() => { const e = document.activeElement; return e === document.body ? "" : e.id || e.value || e.innerText; })()`)
}

func (p *tab) phone() {
	p.t.Helper()
	p.run(chromedp.EmulateViewport(390, 844, chromedp.EmulateMobile, chromedp.EmulateTouch, chromedp.EmulatePortrait))
}
