package page

import (
	"bytes"
	"cmp"
	"context"
	"crypto/rand"
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"errors"
	"html/template"
	"io"
	"maps"
	"net/http"
	"net/netip"
	"net/url"
	"path/filepath"
	"strings"
	"sync"
	"time"

	"lampswap/cmd/lampswap/internal/origin"
	"lampswap/cmd/lampswap/internal/page/display"
	"lampswap/cmd/lampswap/internal/page/form"
	"lampswap/cmd/lampswap/internal/page/plan"
	"lampswap/cmd/lampswap/internal/page/tomltext"
	"lampswap/cmd/lampswap/internal/page/workshop"
	"lampswap/photometry/diag"
	"lampswap/photometry/job"
	"lampswap/photometry/levels"
	"lampswap/photometry/study"
)

//go:embed web
var webFiles embed.FS

var templates = sync.OnceValue(func() *template.Template {
	return template.Must(template.New("").Funcs(template.FuncMap{
		"add1":  func(n int) int { return n + 1 },
		"id":    form.ID,
		"base":  filepath.Base,
		"list":  func(all ...string) []string { return all },
		"cell":  func(f form.FieldView, row string) cellView { f.Unit, f.Hint = "", ""; return cellView{f, row} }, // which its column has
		"plain": func(f form.FieldView) form.FieldView { f.Hint = ""; return f },                                  // its hint stands elsewhere
	}).ParseFS(webFiles, "web/*.html"))
})

// A cellView is a field in a row of a table.
type cellView struct {
	form.FieldView
	Row string
}

// A site is the page with all its visitors.
type site struct {
	start    *start
	hosts    hosts
	sessions *sessions
	work     *workshop.Workshop
	papers   *workshop.Workshop // benches for documents, so that none of them holds up an answer
	options  shelf
	door     *door
	watch    *watch
	stderr   io.Writer
}

func newSite(begin *start, names hosts, stderr io.Writer) *site {
	return &site{start: begin, hosts: names, sessions: &sessions{all: map[string]*session{}, now: time.Now}, work: workshop.New(), papers: workshop.New(), stderr: stderr,
		door: &door{now: time.Now, by: map[netip.Addr]*tries{}}, watch: &watch{now: time.Now, pages: map[string]time.Time{}}}
}

// handler is the whole site, behind its guards.
func (s *site) handler() http.Handler {
	mux := http.NewServeMux()
	mux.HandleFunc("GET /{$}", s.asking(s.showPage))
	mux.HandleFunc("POST /job", s.changing(s.inSpace(s.postJob)))
	mux.HandleFunc("POST /plan", s.changing(s.inSpace(postPlan)))
	mux.HandleFunc("POST /text", s.changing(s.postText))
	mux.HandleFunc("POST /try", s.asking(s.showTried))
	mux.HandleFunc("POST /keep", s.changing(s.inSpace(s.postKeep)))
	mux.HandleFunc("POST /space", s.changing(s.postSpace))
	mux.HandleFunc("POST /begin", s.changing(s.postBegin))
	mux.HandleFunc("POST /undo", s.changing(postUndo))
	mux.HandleFunc("POST /files", s.changing(s.inSpace(s.postFiles)))
	mux.HandleFunc("POST /drop-file", s.changing(s.postDropFile))
	mux.HandleFunc("POST /save", s.changing(s.postSave))
	mux.HandleFunc("GET /map/{grid}/{which}", s.asking(s.showMap))
	mux.HandleFunc("GET /light/{grid}/{which}", s.asking(s.showLight))
	mux.HandleFunc("GET /take/{what}", s.asking(s.take))
	mux.HandleFunc("GET /options", s.asking(s.showOptions))
	mux.HandleFunc("POST /option", s.changing(s.inSpace(s.postOption)))
	mux.HandleFunc("GET /stations", s.asking(s.showStations))
	mux.HandleFunc("POST /stations", s.changing(s.postStations))
	mux.HandleFunc("GET /join", s.showJoin)
	mux.HandleFunc("POST /join", s.postJoin)
	mux.HandleFunc("POST /alive", s.postAlive)
	mux.HandleFunc("GET /web/{name}", showAsset)
	mux.HandleFunc("/", func(w http.ResponseWriter, _ *http.Request) {
		refuse(w, http.StatusNotFound, "There is nothing at this address.")
	})
	return s.guarded(mux)
}

// A snapshot is what a visitor's session held when a request came: an answer is worked out of it while the session is free again.
type snapshot struct {
	name, text string
	files      map[string][]byte
	note       string
	faults     []string
	readings   display.Readings
	uploaded   []string
	beside     []string
	savable    bool
	unsaved    bool
	steps      [2]int // back and forth again
	revision   int
	good       jobText
	made       string
	of         *session
	mine       jobText // the job of a tab that another has overtaken
	whole      string  // the text of the building, where a space of it is open
	space      spaceView
}

// held is the text that the session holds: the building's, where a space of it is open.
func (snap *snapshot) held() string {
	if snap.space.Name != "" {
		return snap.whole
	}
	return snap.text
}

// snapshotOf is what a session holds; of a building the space that is open, unless it is asked for as text.
func (s *site) snapshotOf(v *session, asText bool) *snapshot {
	snap := &snapshot{name: v.name, text: v.text, files: maps.Clone(v.files), note: v.note, faults: v.faults, readings: maps.Clone(v.readings), savable: s.savable(v),
		unsaved: v.unsaved(), steps: [2]int{len(v.past), len(v.future)}, revision: v.revision, good: v.good, made: v.made, of: v}
	snap.uploaded, snap.beside = s.namedFiles(v)
	v.note, v.faults, v.made = "", nil, ""
	if snap.whole = v.text; !asText {
		s.look(v, snap)
	}
	return snap
}

// formBytes is the most that a form may have: the text, three bytes for each of its own, and some more.
const formBytes = 3*mostText + 64<<10

// asking serves a request that changes nothing. The session is free while the answer is worked out.
func (s *site) asking(show func(http.ResponseWriter, *http.Request, *snapshot) error) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		r.Body = http.MaxBytesReader(w, r.Body, formBytes)
		v, err := s.visitor(w, r)
		if err != nil {
			s.fail(w, r, err)
			return
		}
		snap := s.snapshotOf(v, r.URL.Query().Get("view") == "text")
		v.mutex.Unlock()
		ctx, cancel := context.WithTimeout(r.Context(), writeTime-5*time.Second)
		defer cancel()
		if err := show(w, r.WithContext(ctx), snap); err != nil {
			s.fail(w, r, err)
		}
	}
}

// changing serves a request that changes the session, then sends the browser back to the page.
func (s *site) changing(change func(r *http.Request, v *session) error) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		most := int64(formBytes)
		if r.URL.Path == "/files" {
			most = mostKept + mostText + 64<<10
		}
		r.Body = http.MaxBytesReader(w, r.Body, most)
		if r.URL.Path != "/files" {
			if err := r.ParseForm(); err != nil {
				s.fail(w, r, unreadable(err))
				return
			}
		}
		v, err := s.visitor(w, r)
		if err != nil {
			s.fail(w, r, err)
			return
		}
		from := senderOf(r.PostForm)
		if v.late(from) {
			v.mutex.Unlock()
			http.Redirect(w, r, back(r), http.StatusSeeOther)
			return
		}
		if v.overtaken(from) {
			s.showClash(w, r, v, from, change)
			return
		}
		defer v.mutex.Unlock()
		before := v.moment()
		err = change(r, v)
		if r.URL.Path != "/undo" {
			v.record(before, v.moment(), from)
		}
		if err != nil {
			s.fail(w, r, err)
			return
		}
		http.Redirect(w, r, back(r), http.StatusSeeOther)
	}
}

// showClash tells a tab that another changed the job before it, and offers what the job would be by its own change. The session is locked, and free
// when the answer is worked out.
func (s *site) showClash(w http.ResponseWriter, r *http.Request, v *session, from sender, change func(r *http.Request, v *session) error) {
	mine := v.asSeen(from)
	var err error
	if r.URL.Path != "/undo" && r.URL.Path != "/save" {
		err = change(r, mine)
	}
	snap := s.snapshotOf(v, r.Form.Get("view") == "text")
	v.mutex.Unlock()
	if mine.text != snap.held() {
		snap.mine = jobText{mine.name, mine.text, nil}
	}
	ctx, cancel := context.WithTimeout(r.Context(), writeTime-5*time.Second)
	defer cancel()
	if err == nil {
		snap.note = "The job was changed in another tab meanwhile; this page shows it now. What you did last here is not in it."
		err = s.render(w, r.WithContext(ctx), snap, nil)
	}
	if err != nil {
		s.fail(w, r, err)
	}
}

// back is the view that the request came from.
func back(r *http.Request) string {
	if r.URL.Path == "/stations" {
		if r.Form.Get("prove") != "" {
			return "/stations?prove=1#proof"
		}
		return "/stations"
	}
	if r.Form.Get("view") == "text" || r.URL.Query().Get("view") == "text" {
		return "/?view=text"
	}
	return "/"
}

// fail answers with a sentence for what stopped a request.
func (s *site) fail(w http.ResponseWriter, r *http.Request, err error) {
	switch {
	case r.Context().Err() != nil && errors.Is(err, context.Canceled): // nobody waits for the answer any more
	case errors.Is(err, errNoCode):
		http.Redirect(w, r, "/join", http.StatusSeeOther)
	case errors.Is(err, errFull):
		w.Header().Set("Retry-After", "120")
		refuse(w, http.StatusServiceUnavailable, "Too many visitors are here at once. Try again in a few minutes.")
	case errors.Is(err, workshop.ErrBusy), errors.Is(err, context.DeadlineExceeded):
		w.Header().Set("Retry-After", "10")
		refuse(w, http.StatusServiceUnavailable, "Too many jobs are being worked out at once. Try again in a moment.")
	case tooLong(err):
		refuse(w, http.StatusRequestEntityTooLarge, "That is too long for the page: "+strings.Join(strings.Fields(Limits()), " ")+".")
	case errors.As(err, new(badRequestError)):
		words := err.Error()
		refuse(w, http.StatusBadRequest, strings.ToUpper(words[:1])+words[1:]+".")
	case workshop.Unsolvable(err):
		refuse(w, http.StatusUnprocessableEntity, "This cannot be worked out: "+err.Error()+".")
	default:
		_, _ = io.WriteString(s.stderr, "lampswap: "+diag.Visible(r.URL.Path+": "+err.Error())+"\n") // the terminal may be gone
		refuse(w, http.StatusInternalServerError, "This could not be done. Your job is as it was; the terminal has the details.")
	}
}

// A badRequestError is a request that no form of the page makes.
type badRequestError struct{ error }

// unreadable is what a form that cannot be read is, unless it is too long: no form of the page.
func unreadable(err error) error {
	if tooLong(err) {
		return err
	}
	return badRequestError{errors.New("the form could not be read")}
}

// work works a snapshot's job out.
func (s *site) answerOf(ctx context.Context, snap *snapshot) (*workshop.Answer, error) {
	return s.work.Do(ctx, s.fingerprint(snap.text, snap.files), snap.name, snap.text, s.opener(snap.files))
}

// originOf is where an answer comes from; a job with faults has no inputs to speak of.
func originOf(a *workshop.Answer) origin.Origin {
	switch {
	case a.Job != nil:
		return origin.Of(a.Job.InputsDigest)
	case a.Whole != nil:
		return origin.Of(a.Whole.Building.InputsDigest)
	}
	return origin.Of("")
}

// A pageView is all that the page shows.
type pageView struct {
	Title, Name string
	Text        bool // the job as text, else as a form
	Form        []form.PartView
	FormWhy     string // why there is no form
	Lines       []lineView
	Source      string
	Faults      []faultView
	AllFaults   int // of which the first are shown
	MoreFaults  int
	FileFaults  []string
	Note, Sorry string
	Plan        *display.Plan
	Answer      *display.Answer
	Try         *display.Try
	Files       []string
	Levels      []string
	Takes       []takeView
	Savable     bool
	Shares      bool // there is a code by which others share the job
	Path        string
	Limits      string
	Imperial    bool
	Origin      string // of what is shown
	Unsaved     bool
	Steps       [2]int // that can be undone, and done again
	Sender      senderView
	Mine        jobText // the text of a tab that another has overtaken
	Stale       bool    // the answer is the last one, of before the faults
	Space       spaceView
	Building    *display.Building
}

// A senderView is what every form says of the page that it is on.
type senderView struct {
	Tab      string
	Revision int
}

// A faultView is one fault with where it is shown.
type faultView struct{ Place, Key, Text, Link string }

// A lineView is a line of the text: its number and what is wrong with it.
type lineView struct {
	Number int
	Faults string
}

func (s *site) showPage(w http.ResponseWriter, r *http.Request, snap *snapshot) error {
	return s.render(w, r, snap, nil)
}

func (s *site) showTried(w http.ResponseWriter, r *http.Request, snap *snapshot) error {
	if err := r.ParseForm(); err != nil {
		return unreadable(err)
	}
	return s.render(w, r, snap, r.PostForm)
}

func (s *site) render(w http.ResponseWriter, r *http.Request, snap *snapshot, posted url.Values) error {
	a, err := s.answerOf(r.Context(), snap)
	if err != nil {
		return err
	}
	p := &pageView{Title: snap.name, Name: snap.name, Text: r.FormValue("view") == "text", Note: snap.note, FileFaults: snap.faults, Sorry: a.Sorry,
		Files: snap.uploaded, Levels: levels.Names(), Savable: snap.savable, Shares: s.door.code != "", Path: s.start.path, Limits: Limits(), Source: snap.text,
		Takes: takesOf(a), Unsaved: snap.unsaved, Steps: snap.steps, Sender: senderView{rand.Text(), snap.revision}, Mine: snap.mine}
	p.Origin, p.Space, p.Lines = originOf(a).Line(), snap.space, linesOf(snap, a.Faults)
	p.AllFaults, p.MoreFaults = len(a.Faults), max(0, len(a.Faults)-mostFaults)
	known := a // what is shown: of the job, or of what it was before its faults
	if p.Stale = a.Result == nil && a.Whole == nil; p.Stale {
		if known, err = s.lastGood(r.Context(), snap, a); err != nil {
			return err
		}
	}
	p.fill(snap, a, cmp.Or(a.Job, known.Job))
	if a.Whole != nil {
		p.Building, p.Title = display.BuildingOf(a.Whole, a.Took), a.Whole.Building.Title
		return show(w, "page.html", p)
	}
	if !p.Stale {
		snap.worked()
		if p.Try, err = s.tryOf(r.Context(), snap, a, posted); err != nil {
			return err
		}
	}
	if known.Result != nil {
		p.Answer = display.AnswerOf(known.Result, known.Took)
	}
	return show(w, "page.html", p)
}

// lastGood is the answer of the job as it was when it last had one, in place of one that has none; that one where it never had.
func (s *site) lastGood(ctx context.Context, snap *snapshot, none *workshop.Answer) (*workshop.Answer, error) {
	if snap.good.Text == "" {
		return none, nil
	}
	was := *snap
	was.name, was.text, was.files = snap.good.Name, snap.good.Text, snap.good.files
	a, err := s.answerOf(ctx, &was)
	if err != nil || a.Result == nil {
		return none, err
	}
	return a, nil
}

// shownResult is the result that the page shows: of the job, or the last one before its faults.
func (s *site) shownResult(ctx context.Context, snap *snapshot) (*study.Result, error) {
	a, err := s.answerOf(ctx, snap)
	if err == nil && a.Result == nil {
		a, err = s.lastGood(ctx, snap, a)
	}
	if err != nil {
		return nil, err
	}
	if a.Result == nil {
		return nil, errNothing
	}
	return a.Result, nil
}

// worked keeps in mind that the job of the snapshot has an answer.
func (snap *snapshot) worked() {
	snap.of.mutex.Lock()
	defer snap.of.mutex.Unlock()
	snap.of.good = jobText{snap.name, snap.text, snap.files}
}

// fill shows the text as a form and as a plan, where it is TOML at all. The job is that of the text, or of what it was before its faults.
func (p *pageView) fill(snap *snapshot, a *workshop.Answer, j *job.Job) {
	t, err := tomltext.Read(snap.text)
	faults, defaults := a.Faults, map[string]string{}
	if j != nil {
		p.Title = j.Title
		for _, d := range j.Defaults {
			defaults[d.Key] = strings.Trim(d.Value, `"`)
		}
	}
	if err != nil {
		p.FormWhy = "The text of the job cannot be shown as a form until its fault is mended."
		p.Text = true
		p.Faults = faultViews(snap, faults, nil)
		if t, err = tomltext.Read(snap.good.Text); err == nil && snap.good.Text != "" {
			p.Plan = display.PlanOf(plan.Of(t), j, false, "")
		}
		return
	}
	if t.Has("spaces") {
		p.FormWhy = "A building as a whole is shown as text; open a space above to change it in a form."
		p.Text = true
		if title, _ := t.Value("title").(string); title != "" {
			p.Title = title
		}
		p.Faults = faultViews(snap, faults, nil)
		return
	}
	c := form.Context{Text: t, Name: snap.name, Faults: faults, Defaults: defaults, Imperial: form.Shown(t, "units") != "metric"}
	parts := form.PartsOf(t, snap.uploaded, snap.beside)
	p.Imperial = c.Imperial
	if title := strings.TrimSpace(form.Shown(t, "title")); title != "" {
		p.Title = title
	}
	for _, q := range parts {
		p.Form = append(p.Form, q.View(c))
	}
	p.Plan = display.PlanOf(plan.Of(t), j, a.Job != nil, snap.made)
	p.Faults = faultViews(snap, faults, form.FieldsOf(parts))
}

// faultViews lists all faults, each with a link to where it can be mended.
func faultViews(snap *snapshot, faults diag.List, fields []form.Field) []faultView {
	var all []faultView
	for _, e := range faults[:min(len(faults), mostFaults)] {
		v := faultView{Place: e.Pos.String(), Key: e.Key, Text: form.FaultSentence(e)}
		if e.Pos.File == snap.name {
			v.Link = "/?view=text#source"
			for _, f := range fields {
				if f.Holds(e.Key) {
					v.Link = "/#" + form.ID(f.Path)
				}
			}
		}
		all = append(all, v)
	}
	return all
}

// linesOf are the lines of the text with their faults.
func linesOf(snap *snapshot, faults diag.List) []lineView {
	lines := make([]lineView, strings.Count(snap.text, "\n")+1)
	for i := range lines {
		lines[i].Number = i + 1
	}
	for _, e := range faults {
		if i := e.Pos.Line - 1; e.Pos.File == snap.name && i >= 0 && i < len(lines) && len(lines[i].Faults) < 400 { // a line shows no more
			text := form.FaultSentence(e)
			if e.Key != "" {
				text = e.Key + ": " + text
			}
			lines[i].Faults = strings.TrimPrefix(lines[i].Faults+"; "+text, "; ")
		}
	}
	return lines
}

// show renders a page whole before any of it is sent.
func show(w http.ResponseWriter, name string, view any) error {
	var page bytes.Buffer
	if err := templates().ExecuteTemplate(&page, name, view); err != nil {
		return err
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	_, _ = page.WriteTo(w) // the visitor may be gone
	return nil
}

// assets are the files that the page brings along, with their kinds.
var assets = map[string]string{"page.css": styles, "plan.css": styles, "page.js": scripts, "plan.js": scripts, "stations.js": scripts, "take.js": scripts, "alive.js": scripts,
	"mark.svg": "image/svg+xml"}

const (
	styles  = "text/css; charset=utf-8"
	scripts = "text/javascript; charset=utf-8"
)

func showAsset(w http.ResponseWriter, r *http.Request) {
	name := r.PathValue("name")
	kind := assets[name]
	content, err := webFiles.ReadFile("web/" + name)
	if kind == "" || err != nil {
		refuse(w, http.StatusNotFound, "There is nothing at this address.")
		return
	}
	sum := sha256.Sum256(content)
	w.Header().Set("Content-Type", kind)
	w.Header().Set("Cache-Control", "no-cache")
	w.Header().Set("ETag", `"`+hex.EncodeToString(sum[:8])+`"`)
	http.ServeContent(w, r, "", time.Time{}, bytes.NewReader(content))
}
