package proposal

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/cmd/lampswap/internal/document"
	"lampswap/cmd/lampswap/internal/document/html"
	"lampswap/cmd/lampswap/internal/document/pdf"
	"lampswap/cmd/lampswap/internal/jobs"
	"lampswap/cmd/lampswap/internal/ledger"
	"lampswap/cmd/lampswap/internal/phrases"
	"lampswap/cmd/lampswap/internal/typeset"
	"lampswap/photometry/job"
	"lampswap/photometry/options"
	"lampswap/photometry/study"
	"lampswap/photometry/wording"
)

// proposalJob is invented and has all that a document can tell of: a replacement, a way out on emergency power, racks, money, tolerances,
// and letters beyond English.
const proposalJob = "../../testdata/proposal-everything.toml"

// A worked job is a result with its other lamps.
type workedJob struct {
	result *study.Result
	others []*options.Options
}

// worked and demonstration work a job out once for all tests, which leave it as it is.
var (
	worked        = sync.OnceValues(func() (workedJob, error) { return workOut(context.Background(), proposalJob) })
	demonstration = sync.OnceValues(func() (workedJob, error) { return workOut(context.Background()) })
)

func workOut(ctx context.Context, files ...string) (w workedJob, err error) {
	j, err := jobs.Read(files)
	if err != nil {
		return w, err
	}
	if w.result, err = study.Run(ctx, j, nil); err != nil {
		return w, err
	}
	w.others, err = Others(ctx, j, nil)
	return w, err
}

// aDocument is the document of proposalJob, or of the demonstration without a file.
func aDocument(t *testing.T, files ...string) (document.Document, *study.Result) {
	t.Helper()
	w, err := worked()
	if len(files) == 0 {
		w, err = demonstration()
	}
	require.NoError(t, err)
	d, err := Of(w.result, w.others, Both, phrases.English)
	require.NoError(t, err)
	return d, w.result
}

// written are the PDFs of aDocument that tests have asked for.
var written = struct {
	sync.Mutex
	known map[string][]byte
}{known: map[string][]byte{}}

// aPDF is aDocument on a paper.
func aPDF(t *testing.T, paper string, files ...string) []byte {
	t.Helper()
	written.Lock()
	defer written.Unlock()
	key := paper + strings.Join(files, " ")
	if written.known[key] == nil {
		d, _ := aDocument(t, files...)
		content, err := pdf.Write(d, document.Papers[paper])
		require.NoError(t, err)
		written.known[key] = content
	}
	return written.known[key]
}

// tool finds a program that reads what we write. Without it the test is skipped, or fails where LAMPSWAP_REQUIRE_TOOLS is 1.
func tool(t *testing.T, names ...string) string {
	t.Helper()
	for _, name := range names {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	if os.Getenv("LAMPSWAP_REQUIRE_TOOLS") == "1" {
		t.Fatalf("none of %q is installed, and LAMPSWAP_REQUIRE_TOOLS is 1", names)
	}
	t.Skipf("none of %q is installed", names)
	return ""
}

// output runs a program and returns what it writes.
func output(t *testing.T, name string, args ...string) (stdout, stderr string) {
	t.Helper()
	ctx, cancel := context.WithTimeout(t.Context(), 2*time.Minute)
	defer cancel()
	var out, errs bytes.Buffer
	cmd := exec.CommandContext(ctx, name, args...)
	cmd.Stdout, cmd.Stderr = &out, &errs
	require.NoError(t, cmd.Run(), "%s %q: %s", name, args, errs.String())
	return out.String(), errs.String()
}

// texts are the words of a document that are read in one go, for comparing what the writers make of them.
func texts(d document.Document) []string {
	var all []string
	for _, b := range d.Blocks {
		switch b := b.(type) {
		case document.Heading:
			all = append(all, b.Text)
		case document.Prose:
			all = append(all, b.Text)
		case document.Verdict:
			all = append(all, b.Word, b.Sentence)
		case document.Facts:
			for _, f := range b.List {
				all = append(all, f.Name, f.Value)
			}
		case document.Bullets:
			all = append(all, b.Items...)
		case document.Figure:
			all = append(all, b.Caption)
		case document.Table:
			all = append(all, b.Caption, b.Label)
			for _, g := range b.Groups {
				all = append(all, g.Name)
				for _, r := range g.Rows {
					all = append(all, r.Label)
					for _, c := range r.Cells {
						all = append(all, c.Text)
					}
				}
			}
		}
	}
	return all
}

// squeezed is a text without white space, since writers break lines where they like.
func squeezed(s string) string { return strings.Join(strings.Fields(s), "") }

func TestDocumentTellsEverything(t *testing.T) {
	d, r := aDocument(t, proposalJob)
	var titles []string
	figures, tables, level := 0, 0, 0
	for _, b := range d.Blocks {
		switch b := b.(type) {
		case document.Heading:
			titles = append(titles, b.Text)
			assert.LessOrEqual(t, b.Level, level+1, "no level is left out before %q", b.Text)
			level = b.Level
		case document.Figure:
			figures++
			assert.NotEmpty(t, b.Parts)
		case document.Table:
			tables++
			for _, g := range b.Groups {
				for _, row := range g.Rows {
					assert.Len(t, row.Cells, len(b.Columns), "%s: %s", b.Caption, row.Label)
				}
			}
		}
	}
	assert.Equal(t, r.Job.Title, titles[0])
	for _, title := range []string{"The verdict", "What it saves and costs", "The work", "The record: what the offer rests on", "Before and after", "Lamps and ballasts by their names", "Light maps", "Where the luminaires send their light", "Glare, color, flicker",

		"Light through the years", "Other lamps for the same fixtures", "Energy and money: the systems compared", "How sure the prediction is",
		"Criteria, levels and energy codes",
		"What the figures rest on", "Sources", "Before work starts: cautions", "How it was computed, and its limits"} {
		assert.Contains(t, titles, title)
	}
	assert.Equal(t, len(r.Existing().Grids)+7, figures, "a figure a grid, and the light at a glance, intensity, glare, years, options, cost, tolerances")
	assert.Equal(t, 10, tables, "criteria, saving, take-off, ledger, take-off in full, glare, other lamps, ways, losses, defaults")
	all := squeezed(strings.Join(texts(d), " "))
	_, sentence := ledger.Answer(r)
	for _, said := range append(append([]string{sentence, r.Job.Facts.PreparedBy, r.Job.Facts.PreparedFor, "30 April " +
		"2026"}, wording.Cautions(r)...), wording.Weighed(r)...) {
		assert.Contains(t, strings.ToLower(all), strings.ToLower(squeezed(typeset.Text(said))))
	}
	for _, def := range r.Job.Defaults {
		assert.Contains(t, all, squeezed(def.Key))
		assert.Contains(t, all, squeezed(typeset.Text(def.Reason)))
	}
}

// The cover of a job that says next to nothing has no blank names, and nothing invents a date.
func TestDocumentOfTheDemonstrationHasNoDate(t *testing.T) {
	d, r := aDocument(t)
	require.True(t, r.Job.Facts.Date.IsZero())
	assert.Empty(t, d.Foot)
	for _, b := range d.Blocks {
		if f, ok := b.(document.Facts); ok {
			for _, item := range f.List {
				assert.NotContains(t, []string{"Date", "Prepared for", "Prepared by"}, item.Name)
				assert.NotEmpty(t, item.Value)
			}
		}
	}
}

func TestSavingWords(t *testing.T) {
	money := func(x float64) *float64 { return &x }
	for _, c := range []struct {
		energy study.Energy
		want   string
	}{
		{study.Energy{}, "It draws as much energy as before."},
		{study.Energy{Saving: study.Saving{SavedKWhPerYear: 6624}, SavedShare: 0.29}, "It saves 6,624 kWh a year, 29 percent of what the lights draw."},
		{study.Energy{Saving: study.Saving{SavedKWhPerYear: 6000, LightsSavedKWhPerYear: 5000}, HeatingCooling: 0.2, SavedShare: 0.29},
			"It saves 6,000 kWh a year, cooling and heating counted in; the lights alone 5,000, 29 percent of what they draw."},
		{study.Energy{Saving: study.Saving{SavedKWhPerYear: -1000}, SavedShare: -0.1}, "It draws 1,000 kWh a year MORE, 10 percent."},
		{study.Energy{Saving: study.Saving{SavedKWhPerYear: 100, SavingPerYear: money(12), NetCost: money(48), SimplePaybackYears: money(4)}, SavedShare: 0.1},
			"It saves 100 kWh a year, 10 percent of what the lights draw, and 12 a year in money; it costs 48, which " +
				"the saving repays in 4.0 years."},
		{study.Energy{Saving: study.Saving{SavedKWhPerYear: 100, SavingPerYear: money(12), NetCost: money(-48), SimplePaybackYears: money(0)}, SavedShare: 0.1},
			"It saves 100 kWh a year, 10 percent of what the lights draw, and 12 a year in money; the rebate is 48 more than it costs."},
	} {
		assert.Equal(t, c.want, (&content{In: phrases.English, result: &study.Result{Job: &job.Job{}, Energy: c.energy}}).savingWords())
	}
}

// Both writers tell all of the document's words.
func TestWritersTellTheSame(t *testing.T) {
	d, _ := aDocument(t, proposalJob)
	content, err := pdf.Write(d, document.Papers["letter"])
	require.NoError(t, err)
	page, err := html.Write(d, document.Papers["letter"])
	require.NoError(t, err)
	shown := squeezed(htmlText(t, page))
	for _, text := range texts(d) {
		assert.Contains(t, shown, squeezed(text))
	}
	printed := squeezed(pdfText(t, content))
	for _, text := range texts(d) {
		for word := range strings.FieldsSeq(text) {
			if len(word) < 20 { // a longer one may be cut
				assert.Contains(t, printed, word)
			}
		}
	}
}

func pdfText(t *testing.T, content []byte) string {
	t.Helper()
	pdftotext := tool(t, "pdftotext")
	path := filepath.Join(t.TempDir(), "document.pdf")
	require.NoError(t, os.WriteFile(path, content, 0o600))
	text, _ := output(t, pdftotext, "-raw", path, "-")
	return text
}

func TestPaperOfAJob(t *testing.T) {
	assert.Equal(t, "letter", PaperFor("", &job.Job{Imperial: true}).Name)
	assert.Equal(t, "A4", PaperFor("", &job.Job{}).Name)
	assert.Equal(t, "A4", PaperFor("a4", &job.Job{Imperial: true}).Name)
}

// The offer points to caveats by numbers that the record has, each once, from 1 on without a gap.
func TestCaveatsHaveNumbers(t *testing.T) {
	d, r := aDocument(t, proposalJob)
	next := 1
	for _, b := range d.Blocks {
		if l, ok := b.(document.Bullets); ok && l.First > 0 {
			assert.Equal(t, next, l.First)
			next += len(l.Items)
		}
	}
	warnings := len(wording.Weighed(r))
	all := strings.Join(texts(d), " ")
	assert.Contains(t, all, fmt.Sprintf("read caveats 1 to %d of the record, the gravest first", warnings))
	assert.Contains(t, all, fmt.Sprintf("in full are caveats %d to %d of the record", warnings+1, warnings+len(wording.Cautions(r))))
	assert.Greater(t, next, warnings+len(wording.Cautions(r)))
}
