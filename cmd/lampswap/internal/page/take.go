package page

import (
	"archive/zip"
	"bytes"
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"maps"
	"mime"
	"net/http"
	"path"
	"slices"
	"strconv"
	"strings"

	"gonum.org/v1/plot/vg"

	"lampswap/cmd/lampswap/internal/answer"
	"lampswap/cmd/lampswap/internal/exit"
	"lampswap/cmd/lampswap/internal/export"
	"lampswap/cmd/lampswap/internal/figures"
	"lampswap/cmd/lampswap/internal/origin"
	"lampswap/cmd/lampswap/internal/page/display"
	"lampswap/cmd/lampswap/internal/page/form"
	"lampswap/cmd/lampswap/internal/page/tomltext"
	"lampswap/cmd/lampswap/internal/page/workshop"
	"lampswap/cmd/lampswap/internal/phrases"
	"lampswap/cmd/lampswap/internal/proposal"
	"lampswap/photometry/job"
	"lampswap/photometry/study"
	"lampswap/photometry/whole"
	"lampswap/plots"
)

// A drawing is its own document: its colours stand in its style attributes, which the page's policy would not allow, and nothing else may be
// loaded or run in it.
const drawingPolicy = "default-src 'none'; style-src 'unsafe-inline'; sandbox"

// errNothing says that there is no answer to take something from.
var errNothing = badRequestError{errors.New("the job has faults, so there is nothing to take yet; the page tells where they are")}

// errNoMap says that an address is of no map.
var errNoMap = badRequestError{errors.New("there is no such map")}

// drawingOf is the map of a grid, or the plan of who looks, with its key; ok is false where there is none.
func drawingOf(r *study.Result, grid, which string) (figure plots.Figure, key string, ok bool) {
	if grid == "glare" && which == "plan" {
		return display.GlarePlan(r)
	}
	i, err := strconv.Atoi(grid)
	m := display.MapAt(r, which)
	if err != nil || m < 0 || i < 0 || i >= len(r.Existing().Grids) {
		return nil, "", false
	}
	light := display.PageMap(figures.LightSheet(r, i), m)
	return light, display.MapKey(light), true
}

// showMap draws one map for the page. A browser keeps it under its address, which names what it shows; a map that is asked for under the
// address of another, since the job changed meanwhile, is not kept.
func (s *site) showMap(w http.ResponseWriter, r *http.Request, snap *snapshot) error {
	which, size, _ := strings.Cut(strings.TrimSuffix(r.PathValue("which"), ".svg"), "-")
	width := display.MapWidths[size]
	if width == 0 {
		return errNoMap
	}
	result, err := s.shownResult(r.Context(), snap)
	if err != nil {
		return err
	}
	figure, key, ok := drawingOf(result, r.PathValue("grid"), which)
	if !ok {
		return errNoMap
	}
	leave, err := s.work.Enter(r.Context())
	if err != nil {
		return err
	}
	defer leave()
	var drawn bytes.Buffer
	if err := plots.Write(&drawn, figure, "svg", width*vg.Inch, 0); err != nil {
		return err
	}
	shown := byNight(drawn.Bytes())
	w.Header().Set("Content-Type", "image/svg+xml")
	w.Header().Set("Content-Security-Policy", drawingPolicy)
	if r.URL.Query().Get("k") == key {
		w.Header().Set("Cache-Control", "private, max-age=86400, immutable")
	}
	_, _ = w.Write(shown) // the visitor may be gone
	return nil
}

// nightStyle makes the paper around a map dark for whoever has a dark screen, and what is written on it light. The map itself and what is written
// over it, which is in tiny type, keep their colors: they are values.
const nightStyle = `<style>@media (prefers-color-scheme: dark) {
svg > g > path:first-of-type { fill: #1a2226 !important }
text:not([style*="font-size:6.5px"]) { fill: #ece8de !important }
path[style*="stroke:#4D5864"] { stroke: #a9b2b5 !important }
path[style="fill:#1C2733"] { stroke: #ece8de; stroke-width: 0.8; paint-order: stroke }
}</style>`

// byNight adds that to a drawing.
func byNight(drawing []byte) []byte {
	open := bytes.Index(drawing, []byte("<svg"))
	end := bytes.IndexByte(drawing[max(open, 0):], '>')
	if open < 0 || end < 0 {
		return drawing
	}
	return slices.Concat(drawing[:open+end+1], []byte(nightStyle), drawing[open+end+1:])
}

// A takeaway makes a file to download of a job.
type takeaway struct {
	kind string
	make func(ctx context.Context, s *site, snap *snapshot) ([]byte, error)
}

// A takeView is a button of the page for a takeaway.
type takeView struct{ What, Label string }

// takesOf are the buttons, in their order; those for a result only where there is one.
func takesOf(a *workshop.Answer) []takeView {
	all := []takeView{{"job.toml", "Job file"}, {"job.zip", "Job with its files"}}
	if a.Whole != nil {
		return append(all, takeView{"proposal.pdf", "Proposal, PDF"}, takeView{"proposal.html", "Proposal, one page"},
			takeView{"proposal-es.pdf", "Proposal in Spanish, PDF"}, takeView{"proposal-es.html", "Proposal in Spanish, one page"},
			takeView{"ledger.csv", "Tables, CSV"}, takeView{"ledger.xlsx", "Tables, spreadsheet"}, takeView{"result.json", "All numbers, JSON"})
	}
	if a.Result != nil {
		all = append(all, takeView{"proposal.pdf", "Proposal, PDF"}, takeView{"proposal.html", "Proposal, one page"},
			takeView{"proposal-es.pdf", "Proposal in Spanish, PDF"}, takeView{"proposal-es.html", "Proposal in Spanish, one page"}, takeView{"maps.zip", "Maps"},
			takeView{"ledger.csv", "Ledger, CSV"}, takeView{"ledger.xlsx", "Ledger, spreadsheet"}, takeView{"stations.pdf", "Sheet for readings, PDF"}, takeView{"result.json", "All numbers, JSON"})
	}
	return all
}

// takeaways are the files to download, by the ending that they add to the name of the job.
var takeaways = map[string]takeaway{
	"job.toml": {"application/toml", func(_ context.Context, _ *site, snap *snapshot) ([]byte, error) { return []byte(snap.text), nil }},
	"job.zip":  {"application/zip", jobWithFiles},
	"result.json": {"application/json", ofResult(written(func(w io.Writer, r *study.Result) error { return answer.Write(w, r, true) }),
		written(func(w io.Writer, r *whole.Result) error { return answer.WriteBuilding(w, r, false) }))},
	"maps.zip":        {"application/zip", ofResult(mapsZip, nil)},
	"proposal.pdf":    {"application/pdf", ofResult(proposalFile(".pdf", phrases.English), buildingFile(".pdf", phrases.English))},
	"proposal.html":   {"text/html; charset=utf-8", ofResult(proposalFile(".html", phrases.English), buildingFile(".html", phrases.English))},
	"proposal-es.pdf": {"application/pdf", ofResult(proposalFile(".pdf", phrases.Spanish), buildingFile(".pdf", phrases.Spanish))},
	"proposal-es.html": {"text/html; charset=utf-8",
		ofResult(proposalFile(".html", phrases.Spanish), buildingFile(".html", phrases.Spanish))},
	"ledger.csv":   {"text/csv; charset=utf-8", ofResult(written(export.LedgerCSV), written(export.BuildingCSV))},
	"ledger.xlsx":  {"application/vnd.openxmlformats-officedocument.spreadsheetml.sheet", ofResult(workbook, written(export.BuildingXLSX))},
	"readings.csv": {"text/csv; charset=utf-8", readingsCSV},
	"stations.pdf": {"application/pdf", stationsSheet},
}

// written makes a takeaway of a writer.
func written[R any](write func(w io.Writer, r R) error) func(context.Context, R) ([]byte, error) {
	return func(_ context.Context, r R) ([]byte, error) {
		var b bytes.Buffer
		err := write(&b, r)
		return b.Bytes(), err
	}
}

// workbook is the spreadsheet of a job whose grids fit in one.
func workbook(_ context.Context, r *study.Result) ([]byte, error) {
	if err := export.Fits(r.Job); err != nil {
		return nil, badRequestError{err}
	}
	var b bytes.Buffer
	err := export.XLSX(&b, r)
	return b.Bytes(), err
}

// proposalFile makes the document to attach to a proposal, without other lamps and ballasts, as the command does unless it is asked.
func proposalFile(ending string, in phrases.Language) func(context.Context, *study.Result) ([]byte, error) {
	return func(_ context.Context, r *study.Result) ([]byte, error) {
		doc, err := proposal.Of(r, nil, proposal.Both, in)
		if err != nil {
			return nil, err
		}
		return proposal.Writers[ending](doc, proposal.PaperFor("", r.Job))
	}
}

// buildingFile makes the document to attach to a proposal of a building.
func buildingFile(ending string, in phrases.Language) func(context.Context, *whole.Result) ([]byte, error) {
	return func(_ context.Context, r *whole.Result) ([]byte, error) {
		doc, err := proposal.OfBuilding(r, proposal.Both, in)
		if err != nil {
			return nil, err
		}
		return proposal.Writers[ending](doc, proposal.PaperFor("", r.Building.Whole))
	}
}

// ofResult makes a takeaway of what a job comes to, or a building, one at a time with other work. There may be none of a building.
func ofResult(job func(context.Context, *study.Result) ([]byte, error), building func(context.Context, *whole.Result) ([]byte, error)) func(context.Context, *site, *snapshot) ([]byte, error) {
	return func(ctx context.Context, s *site, snap *snapshot) ([]byte, error) {
		a, err := s.answerOf(ctx, snap)
		switch {
		case err != nil:
			return nil, err
		case a.Whole != nil && building == nil:
			return nil, badRequestError{errors.New("that is of one space: open a space of the building first")}
		case a.Result == nil && a.Whole == nil:
			return nil, errNothing
		}
		return s.paper(ctx, func(ctx context.Context) ([]byte, error) {
			if a.Whole != nil {
				return building(ctx, a.Whole)
			}
			return job(ctx, a.Result)
		})
	}
}

// errPaper says that a document took too long.
var errPaper = badRequestError{errors.New("this document takes longer than the page allows; the command takes its time: lampswap proposal, check or plot")}

// paper makes a document in its turn, at benches of its own. A request waits no longer than a job may take; what goes on after that, since nothing
// can stop it, keeps its bench to itself.
func (s *site) paper(ctx context.Context, write func(ctx context.Context) ([]byte, error)) ([]byte, error) {
	leave, err := s.papers.Enter(ctx)
	if err != nil {
		return nil, err
	}
	limited, cancel := context.WithTimeout(ctx, s.work.Limit)
	defer cancel()
	var content []byte
	done := make(chan error, 1)
	go func() {
		done <- exit.Caught(func() (err error) {
			defer leave()
			content, err = write(limited)
			return err
		})()
	}()
	select {
	case err := <-done:
		if err != nil && ctx.Err() == nil && limited.Err() != nil {
			return nil, errPaper
		}
		return content, err
	case <-limited.Done():
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		return nil, errPaper
	}
}

func (s *site) take(w http.ResponseWriter, r *http.Request, snap *snapshot) error {
	what := r.PathValue("what")
	t, ok := takeaways[what]
	if !ok {
		refuse(w, http.StatusNotFound, "There is nothing at this address.")
		return nil
	}
	content, err := t.make(r.Context(), s, snap)
	if err != nil {
		return err
	}
	stem := strings.TrimSuffix(snap.name, path.Ext(snap.name))
	name := stem + "-" + what
	if what == "job.toml" || what == "job.zip" {
		name = stem + path.Ext(what)
	}
	if (what == "job.toml" || what == "job.zip") && snap.space.Name == "" { // a space is not all of the building
		snap.takenHome()
	}
	w.Header().Set("Content-Type", t.kind)
	w.Header().Set("Content-Disposition", mime.FormatMediaType("attachment", map[string]string{"filename": name}))
	_, _ = w.Write(content) // the visitor may be gone
	return nil
}

// takenHome keeps in mind that the visitor has the job of the snapshot.
func (snap *snapshot) takenHome() {
	snap.of.mutex.Lock()
	defer snap.of.mutex.Unlock()
	snap.of.kept = sha256.Sum256([]byte(snap.text))
}

// jobWithFiles is the job with the files that it may name, in an archive.
func jobWithFiles(_ context.Context, s *site, snap *snapshot) ([]byte, error) {
	files := maps.Clone(snap.files)
	if t, err := tomltext.Read(snap.text); err == nil {
		for _, system := range job.SystemNames {
			if name := form.Shown(t, system+".photometry"); name != "" && files[name] == nil {
				if content, err := s.opener(nil)(name); err == nil {
					files[path.Base(name)] = content
				}
			}
		}
	}
	files[snap.name] = []byte(snap.text)
	return zipped(files)
}

// mapsZip is every map of a job, as images and as documents.
func mapsZip(ctx context.Context, r *study.Result) ([]byte, error) {
	drawings, err := figures.Draw(ctx, figures.All(r), []string{"svg", "pdf"}, 7.5, origin.Of(r.Job.InputsDigest))
	if err != nil {
		return nil, err
	}
	files := map[string][]byte{}
	for _, d := range drawings {
		files[d.Name] = d.Content
	}
	return zipped(files)
}

func zipped(files map[string][]byte) ([]byte, error) {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, name := range slices.Sorted(maps.Keys(files)) {
		f, err := z.Create(name)
		if err == nil {
			_, err = f.Write(files[name])
		}
		if err != nil {
			return nil, fmt.Errorf("archive %s: %w", name, err)
		}
	}
	err := z.Close()
	return b.Bytes(), err
}
