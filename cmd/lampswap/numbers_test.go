package main

import (
	"archive/zip"
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lampswap/cmd/lampswap/internal/answer"
	"lampswap/cmd/lampswap/internal/drawn"
	"lampswap/cmd/lampswap/internal/exit"
	"lampswap/cmd/lampswap/internal/export"
	"lampswap/cmd/lampswap/internal/figures"
	"lampswap/cmd/lampswap/internal/ledger"
	"lampswap/cmd/lampswap/internal/proposal"
	"lampswap/cmd/lampswap/internal/stations"
	"lampswap/photometry/interreflect"
	"lampswap/photometry/job"
	"lampswap/photometry/metrology"
	"lampswap/photometry/options"
	"lampswap/photometry/study"
	"lampswap/photometry/survey"
	"lampswap/photometry/verification"
)

// mayBeNull are the numbers of a result's JSON that can have no value; the rule stands beside each.
var mayBeNull = regexp.MustCompile(strings.Join([]string{
	`^(existing|proposed|replacement)\.lumen_method\.spacing_to_height_(along|across)$`,                    // of explicit positions
	`^(existing|proposed|replacement)\.lumen_method\.spacing_criterion_(along|across)$`,                    // no light straight down
	`^(existing|proposed|replacement)\.grids\[\d+\]\.(average_to_minimum|maximum_to_minimum)$`,             // the minimum is 0
	`^(existing|proposed|replacement)\.grids\[\d+\]\.(initial_direct|initial_interreflected|maintained)\[`, // in a rack
	`^(existing|proposed|replacement)\.grids\[\d+\]\.(average|minimum|maximum|coefficient_of_variation)$`,  // all of the grid is in a rack, or dark
	`^(existing|proposed|replacement)\.interreflection$`,                                                   // not asked for
	`^criteria\[\d+\]\.(existing|proposed|replacement)(_margin)?$`,                                         // of a statistic without value, or nothing is required
	`^effects\.`, // of light that is none
	`^energy\.(\w*saving_per_year|net_cost|simple_payback_years)$`,                                             // not priced, or nothing is saved
	`^energy\.accounts\[\d+\]\.`,                                                                               // not priced
	`^energy\.saved_share$`,                                                                                    // nothing is drawn
	`^life_cycle$|^life_cycle\.`,                                                                               // not priced
	`^power_density_limits`,                                                                                    // none is known
	`^light_through_years\[\d+\]\.first_below\[\d+\]\.years$`,                                                  // never
	`^light_through_years`, `^energy\.emissions`, `^methods_compared$`, `^warnings$`, `^cautions$`, `^binding`, // lists
	`^uncertainty`, // of what has no value
}, "|"))

// mayBeNone are the numbers of a result, of options and of a verification that are NaN where they have no value, as their documentation says.
var mayBeNone = regexp.MustCompile(strings.Join([]string{
	`\.Grids\[\]\.(Direct|Interreflected|Maintained)\[\]$`,                                                       // in a rack
	`\.Grids\[\]\.Statistics\.`,                                                                                  // all of the grid is in a rack, or dark
	`(^|\.)Years\[\]\.(Light\[\]|Lowest)$`,                                                                       // likewise
	`\.LumenMethod\.Spacing`,                                                                                     // of explicit positions; no light straight down
	`Verdicts\[\]\.(Existing|Proposed|Replacement|Value)$`,                                                       // of a statistic without value, or of no system
	`\.Below\[\]\.Years$`,                                                                                        // never
	`\.(SIR|AIRR|SimplePaybackYears|DiscountedPaybackYears)$`,                                                    // nothing is added at the start, or saved
	`^Effects\.Distribution$|\.OfExisting$`,                                                                      // of light that is none
	`\.Sides\[\]\.(Average|Minimum|Change|Criteria\[\]\.Interval)\.\w+$`,                                         // of the above
	`\.Lamp\.LeastAmbientCelsius$`,                                                                               // the list does not tell
	`^Verification\.Comparison\.\w+$`, `^Verification\.Comparison\.Stations\[\]\.(Score|Ratio|NormalizedError)$`, // of one station, or of no light
	`^Verification\.Areas\[\]\.(Measured|Predicted)\.Value$`, // too few stations were read
}, "|"))

// mayBeInfinite are the degrees of freedom of what is not in doubt.
var mayBeInfinite = regexp.MustCompile(`\.Freedom$`)

// nulls are the paths of all that has no value.
func nulls(path string, v any, found map[string]bool) {
	switch v := v.(type) {
	case nil:
		found[path] = true
	case map[string]any:
		for key, x := range v {
			nulls(strings.TrimPrefix(path+"."+key, "."), x, found)
		}
	case []any:
		for i, x := range v {
			nulls(fmt.Sprintf("%s[%d]", path, i), x, found)
		}
	}
}

// A looker looks at what comes of a drawn job, and ends the test where a number is none.
type looker struct {
	*rapid.T
	job  drawn.Job
	text string
}

func (l looker) must(err error, what string) {
	if err != nil {
		l.Fatalf("%s: %v\n%s", what, err, l.text)
	}
}

func (l looker) finite(what string, value any) {
	if paths := drawn.NotFinite(what, value, mayBeInfinite, mayBeNone); len(paths) > 0 {
		l.Fatalf("%s\n%s", strings.Join(paths, "\n"), l.text)
	}
}

func (l looker) shown(what string, write func(w io.Writer) error) {
	var b bytes.Buffer
	l.must(write(&b), what)
	if lines := l.job.Odd(b.String()); len(lines) > 0 {
		l.Fatalf("%s shows\n%s\n%s", what, strings.Join(lines[:min(len(lines), 20)], "\n"), l.text)
	}
}

func (l looker) markup(what string, content []byte) {
	if lines := l.job.OddMarkup(string(content)); len(lines) > 0 {
		l.Fatalf("%s shows\n%.3000s\n%s", what, strings.Join(lines[:min(len(lines), 20)], "\n"), l.text)
	}
}

// result looks at the result itself and at what is always written of it.
func (l looker) result(r *study.Result) {
	l.finite("", r)
	l.finite("Effects", r.Effects())
	var b bytes.Buffer
	l.must(answer.Write(&b, r, true), "JSON")
	var view any
	l.must(json.Unmarshal(b.Bytes(), &view), "JSON")
	found := map[string]bool{}
	nulls("", view, found)
	for path := range found {
		if !mayBeNull.MatchString(path) {
			l.Fatalf("%s has no value\n%s", path, l.text)
		}
	}
	l.shown("JSON", func(w io.Writer) error { return answer.Write(w, r, true) })
	l.shown("the ledger", func(w io.Writer) error { ledger.Write(w, r); return nil })
	l.shown("the ledger as CSV", func(w io.Writer) error { return export.LedgerCSV(w, r) })
	for i, name := range export.GridNames(r.Job) {
		l.shown(name+" as CSV", func(w io.Writer) error { return export.GridCSV(w, r, i) })
	}
}

// more looks at what takes longer, one thing a draw.
func (l looker) more(ctx context.Context, j *job.Job, r *study.Result) {
	switch rapid.SampledFrom([]string{"", "", "workbook", "options", "stations", "verify", "proposal", "figures"}).Draw(l.T, "more") {
	case "workbook":
		l.workbook(r)
	case "options":
		o, err := options.Find(ctx, j, options.Narrow{}, nil)
		l.must(err, "options")
		l.finite("Options", o)
		l.shown("options as JSON", func(w io.Writer) error { return answer.WriteOptions(w, o) })
		l.shown("options", func(w io.Writer) error { ledger.WriteOptions(w, o, true); return nil })
	case "stations":
		l.stations(j)
	case "verify":
		l.verify(ctx, j)
	case "proposal":
		o, err := options.Find(ctx, j, options.Narrow{}, nil)
		l.must(err, "options")
		page, err := proposal.Writers[".html"](proposal.Of(r, o), proposal.PaperFor("", j))
		l.must(err, "proposal")
		l.markup("the proposal", page)
	case "figures":
		drawings, err := figures.All(ctx, r, []string{"svg"}, 7.5)
		l.must(err, "figures")
		for _, d := range drawings {
			l.markup(d.Name, d.Content)
		}
	}
}

// workbook looks at the cells and all else that a workbook holds.
func (l looker) workbook(r *study.Result) {
	var b bytes.Buffer
	l.must(export.XLSX(&b, r), "workbook")
	parts, err := zip.NewReader(bytes.NewReader(b.Bytes()), int64(b.Len()))
	l.must(err, "workbook")
	for _, part := range parts.File {
		f, err := part.Open()
		l.must(err, part.Name)
		content, err := io.ReadAll(f)
		l.must(err, part.Name)
		l.must(f.Close(), part.Name)
		l.markup("the workbook's "+part.Name, content)
	}
}

// measurement draws where to measure; ok is false where the job has no such plan.
func (l looker) measurement(j *job.Job) (system string, m stations.Measurement, ok bool) {
	system = rapid.SampledFrom([]string{"existing", "proposed"}).Draw(l.T, "system")
	kind := rapid.SampledFrom(stations.Kinds).Draw(l.T, "plan")
	var grids []string
	if rapid.Bool().Draw(l.T, "grids too") {
		grids = []string{stations.AllGrids}
	}
	m, err := stations.Of(j, system, kind, grids)
	if errors.As(err, new(exit.UsageError)) {
		return system, m, false
	}
	l.must(err, "stations")
	return system, m, true
}

func (l looker) stations(j *job.Job) {
	_, m, ok := l.measurement(j)
	if !ok {
		return
	}
	l.finite("Stations", m)
	l.shown("stations", func(w io.Writer) error { stations.Write(w, j, m); return nil })
	l.shown("stations as JSON", func(w io.Writer) error { return stations.WriteJSON(w, j, m) })
	files, err := stations.Files(j, m)
	l.must(err, "files of stations")
	for _, f := range files {
		switch {
		case strings.HasSuffix(f.Name, ".svg"):
			l.markup(f.Name, f.Content)
		case strings.HasSuffix(f.Name, ".csv"):
			l.shown(f.Name, func(w io.Writer) error { _, err := w.Write(f.Content); return err })
		}
	}
}

// verify looks at what drawn readings prove.
func (l looker) verify(ctx context.Context, j *job.Job) {
	system, m, ok := l.measurement(j)
	if !ok {
		return
	}
	var names []string
	for _, s := range m.Stations() {
		names = append(names, s.Name)
	}
	if len(names) == 0 {
		return
	}
	unit := map[bool]string{true: "fc", false: "lx"}[j.Imperial]
	text := drawn.Readings(l.T, names, unit)
	l.text += "\n" + text
	readings, err := survey.Read("readings.csv", strings.NewReader(text))
	l.must(err, "readings")
	s := verification.Survey{System: system, Readings: readings, Confidence: rapid.SampledFrom([]float64{0.5, 0.95, 0.999}).Draw(l.T, "confidence"),
		Meter:      metrology.Meter{Total: rapid.SampledFrom([]float64{1e-3, 0.05, 1}).Draw(l.T, "meter"), Calibration: rapid.SampledFrom([]float64{0, 0.02, 1}).Draw(l.T, "calibration")},
		Conditions: conditions(l.T)}
	for _, p := range m.Plans {
		s.Areas = append(s.Areas, verification.Area{Grid: p.Grid, Plan: p.Plan})
	}
	v, r, err := verification.Run(ctx, j, s, nil)
	if errors.Is(err, verification.ErrNoReadings) {
		return
	}
	l.must(err, "verify")
	l.finite("Verification", v)
	l.finite("Verified", r)
	from := stations.OriginOf(j, m, []byte(text), s)
	l.shown("verify", func(w io.Writer) error { ledger.WriteVerification(w, j, v, from); return nil })
	l.shown("verify as JSON", func(w io.Writer) error { return answer.WriteVerification(w, j, v, from) })
	files, err := stations.PlanFiles(j, m, v, from)
	l.must(err, "files of readings")
	for _, f := range files {
		if strings.HasSuffix(f.Name, ".svg") {
			l.markup(f.Name, f.Content)
		}
	}
}

// conditions are those of a day, each perhaps not noted.
func conditions(t *rapid.T) survey.Conditions {
	x := func(name string, values ...float64) float64 {
		return rapid.SampledFrom(append(values, math.NaN())).Draw(t, name)
	}
	return survey.Conditions{HoursBurnt: x("hours burnt", 0, 100, 1e6), MonthsSinceCleaning: x("since cleaning", 0, 12, 1200), WarmUpMinutes: x("warm-up", 0, 30),
		SupplyVolts: x("volts", 1, 120, 1000), RatedVolts: x("rated volts", 1, 120, 1000), AmbientCelsius: x("ambient of the day", -73, 20, 93), RatedCelsius: math.NaN(),
		FailedShare: x("failed", 0, 0.5, 0.99), Daylight: survey.Daylight(rapid.IntRange(0, 3).Draw(t, "daylight")), MinutesAfterSunset: x("after sunset", 0, 90),
		MonthsSinceCalibration: x("since calibration", 0, 24), AgainstInitial: rapid.Bool().Draw(t, "initial")}
}

// Whatever the job, every number of what comes of it is finite, or has no value by a rule, and nothing that is written shows one that is none.
func TestNumbersAreFinite(t *testing.T) {
	shelf, results := job.NewShelf(64<<20), 0
	rapid.Check(t, func(t *rapid.T) {
		d := drawn.Any(t)
		j, err := shelf.Read("drawn.toml", []byte(d.Text), drawn.Open)
		if err != nil {
			if len(d.Odd(err.Error())) > 0 || !strings.HasPrefix(err.Error(), "drawn.toml:") {
				t.Fatalf("%v\n%s", err, d.Text)
			}
			return
		}
		ctx, cancel := context.WithTimeout(context.Background(), 5*time.Minute)
		defer cancel()
		r, err := study.Run(ctx, j, nil)
		if errors.As(err, new(*interreflect.MemoryError)) || errors.Is(err, interreflect.ErrEndless) {
			return
		}
		l := looker{t, d, d.Text}
		l.must(err, "study")
		l.result(r)
		if r.Met() && math.IsNaN(r.Proposed.Grids[0].Statistics.Average) && len(j.Criteria) > 0 {
			t.Fatalf("no light, and enough: %s", d.Text)
		}
		l.more(ctx, j, r)
		results++
	})
	require.NotZero(t, results)
}
