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
	"slices"
	"strings"
	"testing"

	"github.com/jedib0t/go-pretty/v6/text"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lampswap/cmd/lampswap/internal/answer"
	"lampswap/cmd/lampswap/internal/document"
	"lampswap/cmd/lampswap/internal/drawn"
	"lampswap/cmd/lampswap/internal/exit"
	"lampswap/cmd/lampswap/internal/export"
	"lampswap/cmd/lampswap/internal/figures"
	"lampswap/cmd/lampswap/internal/ledger"
	"lampswap/cmd/lampswap/internal/origin"
	"lampswap/cmd/lampswap/internal/phrases"
	"lampswap/cmd/lampswap/internal/proposal"
	"lampswap/cmd/lampswap/internal/record"
	"lampswap/cmd/lampswap/internal/stations"
	"lampswap/photometry/interreflect"
	"lampswap/photometry/job"
	"lampswap/photometry/lighting"
	"lampswap/photometry/longtest"
	"lampswap/photometry/metrology"
	"lampswap/photometry/options"
	"lampswap/photometry/study"
	"lampswap/photometry/survey"
	"lampswap/photometry/verification"
)

// mayBeNull are the numbers of a result's JSON that can have no value; the rule stands beside each.
var mayBeNull = regexp.MustCompile(strings.Join([]string{
	`^(existing|proposed|replacement)\.lumen_method\.spacing_to_height_(along|across)$`,                                 // of explicit positions
	`^(existing|proposed|replacement)\.lumen_method\.spacing_criterion_(along|across)$`,                                 // no light straight down
	`^(existing|proposed|replacement)\.grids\[\d+\]\.(average_to_minimum|maximum_to_minimum)$`,                          // the minimum is 0
	`^(existing|proposed|replacement)\.grids\[\d+\]\.(initial_direct|initial_interreflected|maintained)\[`,              // in a rack
	`^(existing|proposed|replacement)\.grids\[\d+\]\.(average|minimum|maximum|coefficient_of_variation)$`,               // all of the grid is in a rack, or dark
	`^(existing|proposed|replacement)\.interreflection$`,                                                                // not asked for
	`^(existing|proposed|replacement)\.(lamps|input_watts_each|lamp_lumens_each|luminaire_efficiency|light_loss\.\w+)$`, // kinds differ
	`^(existing|proposed|replacement)\.observers\[\d+\]\.(ugr|background_luminance)$`,                                   // nothing is seen, or before no light
	`^(existing|proposed|replacement)\.luminances\[\d+\]\.(bare_lamp|along|across)`,                                     // of no size
	`^(existing|proposed|replacement)\.grids\[\d+\]\.modeling$`,                                                         // no light
	`^existing\.all_lit\.average$`,                                 // all of the grid is in a rack
	`\.judged_at_hours$`,                                           // of lamps whose life is not known
	`^space\.model_sensor_saving$`,                                 // of a kind of space of which the model has none
	`^criteria\[\d+\]\.(existing|proposed|replacement)(_margin)?$`, // of a statistic without value, or nothing is required
	`^effects\.`, // of light that is none
	`^energy\.(\w*saving_per_year|net_cost|installed_cost|simple_payback_years)$`, // not priced, or nothing is saved
	`^energy\.currency$`,                                                                                       // in metres, where the job names none
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
	`\.Grids\[\]\.(Direct|Interreflected|Maintained)\[\]$`, // in a rack
	`\.Grids\[\]\.Statistics\.`,                            // all of the grid is in a rack, or dark
	`(^|\.)Years\[\]\.(Light\[\]|Lowest)$`,                 // likewise
	`(^|\.)Years\[\]\.Judged$`,                             // of lamps whose life is not known
	`(^|\.)Sides\[\]\.System\.(InputWattsEach|LampLumensEach|Efficiency|UpwardShare|Losses\.\w+\.Value)$`,  // kinds differ
	`(^|\.)(Sides\[\]\.System|Light)\.(Parts\[\]\.)?(ColorRendering|Observers\[\]\.(Light\.)?Background)$`, // not known; no light that bounces is worked out
	`\.AllLit$`,                       // all of the work plane is in a rack
	`^Effects\.\w+$`,                  // likewise
	`\.LumenMethod\.Spacing`,          // of explicit positions; no light straight down
	`Verdicts\[\]\.(By\[\]\.)?Value$`, // of a statistic without value
	`\.Below\[\]\.Years$`,             // never
	`\.(SIR|AIRR|SimplePaybackYears|DiscountedPaybackYears)$`,                                                    // nothing is added at the start, or saved
	`^Effects\.Distribution$|\.OfExisting$`,                                                                      // of light that is none
	`\.Sides\[\]\.(Average|Minimum|Change|Criteria\[\]\.Interval)\.\w+$`,                                         // of the above
	`\.Lamp\.(LeastAmbientCelsius|RatedAtCelsius)$`,                                                              // the list, or the job, does not tell
	`^Verification\.Comparison\.\w+$`, `^Verification\.Comparison\.Stations\[\]\.(Score|Ratio|NormalizedError)$`, // of one station, or of no light
	`^Verification\.Day\.\w+\.Value$`, // kinds differ
	`^Verification\.Days\[\]\.kind\.System\.(ColorRendering|Observers\[\]\.(Light\.)?Background)$`, // as above
	`^Verification\.Areas\[\]\.(Measured|Predicted|Without)\.Value$`,                               // too few stations were read, or none is unlike the others
	`^Verification\.Areas\[\]\.(Decisions|Undecided)\[\]\.Claimed$`,                                // as of a criterion that has no value
	`(^|\.)Warnings\[\]\.Side\.System\.`,                                                           // of the systems above
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

// A looker looks at what comes of a job, and ends the test where a number is none.
type looker struct {
	rapid.TB
	job  drawn.Job
	text string
	read *job.Job
}

func (l looker) must(err error, what string) {
	switch {
	case errors.Is(err, context.DeadlineExceeded):
		l.SkipNow() // it is no number that takes long
	case err != nil:
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
	l.atHome(what, b.String())
}

// atHome looks that a job in meters which names no state meets no unit and no law of the United States.
func (l looker) atHome(what, shown string) {
	if found := foreign(l.read, shown); len(found) > 0 {
		l.Fatalf("%s of a job elsewhere says\n%s\n%s", what, strings.Join(found, "\n"), l.text)
	}
}

func (l looker) markup(what string, content []byte) {
	if lines := l.job.OddMarkup(string(content)); len(lines) > 0 {
		l.Fatalf("%s shows\n%.3000s\n%s", what, strings.Join(lines[:min(len(lines), 20)], "\n"), l.text)
	}
	l.atHome(what, string(content))
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
	l.short(r)
	l.shown("the ledger as CSV", func(w io.Writer) error { return export.LedgerCSV(w, r) })
	for i, name := range export.GridNames(r.Job) {
		l.shown(name+" as CSV", func(w io.Writer) error { return export.GridCSV(w, r, i) })
	}
}

// short looks at the answer that fits a terminal: at most 25 lines of at most 80 letters, but where a verdict takes more than 12 of them, which is whole.
func (l looker) short(r *study.Result) {
	var b bytes.Buffer
	ledger.WriteShort(&b, r)
	lines := strings.Split(strings.TrimRight(b.String(), "\n"), "\n")
	if verdict := slices.Index(lines[2:], ""); len(lines) > max(25, 13+verdict) {
		l.Fatalf("%d lines\n%s\n%s", len(lines), b.String(), l.text)
	}
	for _, line := range lines {
		if text.StringWidthWithoutEscSequences(line) > 80 {
			l.Fatalf("%q is too long\n%s", line, l.text)
		}
	}
}

// more looks at what takes longer, one thing a draw.
func (l looker) more(ctx context.Context, t *rapid.T, j *job.Job, r *study.Result) {
	switch rapid.SampledFrom([]string{"", "", "workbook", "options", "stations", "verify", "proposal", "figures"}).Draw(t, "more") {
	case "workbook":
		l.workbook(r)
	case "options":
		l.options(ctx, j)
	case "stations":
		l.stations(t, j)
	case "verify":
		l.verify(ctx, t, j)
	case "proposal":
		l.proposal(ctx, j, r)
	case "figures":
		l.figures(ctx, r)
	}
}

func (l looker) options(ctx context.Context, j *job.Job) {
	o, err := options.Find(ctx, j, options.Narrow{Group: j.Proposed.Kinds()[0].Group}, nil)
	l.must(err, "options")
	l.finite("Options", o)
	l.shown("options as JSON", func(w io.Writer) error { return answer.WriteOptions(w, o) })
	l.shown("options", func(w io.Writer) error { ledger.WriteOptions(w, o, true); return nil })
}

func (l looker) proposal(ctx context.Context, j *job.Job, r *study.Result) {
	others, err := proposal.Others(ctx, j, nil)
	l.must(err, "options")
	d, err := proposal.Of(r, others, proposal.Both, phrases.English)
	l.must(err, "the document")
	spanish, err := proposal.Of(r, nil, proposal.Offer, phrases.Spanish)
	l.must(err, "the offer in Spanish")
	page, err := proposal.Writers[".html"](spanish, proposal.PaperFor("", j))
	l.must(err, "the offer in Spanish")
	l.markup("the offer in Spanish", page)
	page, err = proposal.Writers[".html"](d, proposal.PaperFor("", j))
	l.must(err, "proposal")
	l.markup("the proposal", page)
}

func (l looker) figures(ctx context.Context, r *study.Result) {
	drawings, err := figures.Draw(ctx, figures.All(r), []string{"svg"}, 7.5, origin.Of(r.Job.InputsDigest))
	l.must(err, "figures")
	for _, d := range drawings {
		l.markup(d.Name, d.Content)
	}
}

// placesOfCells are what charts and print areas refer to, $A$1 or $4:$4: no dollars.
var placesOfCells = regexp.MustCompile(`\$[A-Z]{1,3}\$[0-9]+|\$[0-9]+:\$[0-9]+`)

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
		l.markup("the workbook's "+part.Name, placesOfCells.ReplaceAll(content, nil))
	}
}

// measurement draws where to measure; ok is false where the job has no such plan.
func (l looker) measurement(t *rapid.T, j *job.Job) (system string, m stations.Measurement, ok bool) {
	system = rapid.SampledFrom([]string{"existing", "proposed"}).Draw(t, "system")
	kind := rapid.SampledFrom(stations.Kinds).Draw(t, "plan")
	var grids []string
	if rapid.Bool().Draw(t, "grids too") {
		grids = []string{stations.AllGrids}
	}
	wanted := stations.Wanted{Kind: kind, Grids: grids, Stations: rapid.SampledFrom([]int{0, 0, 3, 30}).Draw(t, "stations"), Spacing: rapid.SampledFrom([]float64{0, 0, 3}).Draw(t, "spacing"),
		Copies: rapid.IntRange(0, 50).Draw(t, "copies"), Within: rapid.SampledFrom([]float64{0, 0.05}).Draw(t, "within")}
	m, err := stations.Of(j, system, wanted)
	if errors.As(err, new(exit.UsageError)) {
		return system, m, false
	}
	l.must(err, "stations")
	return system, m, true
}

func (l looker) stations(t *rapid.T, j *job.Job) {
	_, m, ok := l.measurement(t, j)
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
func (l looker) verify(ctx context.Context, t *rapid.T, j *job.Job) {
	system, m, ok := l.measurement(t, j)
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
	text := drawn.Readings(t, names, unit)
	l.text += "\n" + text
	readings, err := survey.Read("readings.csv", strings.NewReader(text))
	l.must(err, "readings")
	s := verification.Survey{System: system, Readings: readings, Confidence: rapid.SampledFrom([]float64{0.5, 0.95, 0.999}).Draw(t, "confidence"),
		Meter:      metrology.Meter{Total: rapid.SampledFrom([]float64{1e-3, 0.05, 1}).Draw(t, "meter"), Calibration: rapid.SampledFrom([]float64{0, 0.02, 1}).Draw(t, "calibration")},
		Conditions: conditions(t)}
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
	l.shown("verify", func(w io.Writer) error { ledger.WriteVerification(w, j, v, nil, from); return nil })
	l.shown("verify as JSON", func(w io.Writer) error { return answer.WriteVerification(w, j, v, nil, from) })
	for what, d := range map[string]document.Document{"the report": record.Report(j, record.Proof{Measurement: m, Survey: s, Found: v, From: from}), "the form": record.Form(j, m)} {
		page, err := proposal.Writers[".html"](d, proposal.PaperFor("", j))
		l.must(err, what)
		l.markup(what, page)
	}
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

// Whatever the job, every number of what comes of it is finite, or has no value by a rule, and nothing that is written shows one that is none. Of a job in
// meters which names no state nothing says a word of the units and the law of the United States.
func TestNumbersAreFinite(t *testing.T) {
	shelf, results := job.NewShelf(64<<20), 0
	drawn.Check(t, func(t *rapid.T, d drawn.Job) {
		j, err := shelf.Read("drawn.toml", []byte(d.Text), drawn.Open)
		if err != nil {
			small := strings.Contains(err.Error(), "larger than the room") // told of the photometric file
			if len(d.Odd(err.Error())) > 0 || !small && !strings.HasPrefix(err.Error(), "drawn.toml:") {
				t.Fatalf("%v\n%s", err, d.Text)
			}
			return
		}
		ctx, cancel := context.WithTimeout(context.Background(), drawn.Patience)
		defer cancel()
		r, err := study.Run(ctx, j, nil)
		if errors.As(err, new(*interreflect.MemoryError)) || errors.As(err, new(*lighting.TooLargeError)) || errors.Is(err, interreflect.ErrEndless) || errors.Is(err, context.DeadlineExceeded) {
			return
		}
		l := looker{t, d, d.Text, j}
		l.must(err, "study")
		l.result(r)
		if r.Met() && math.IsNaN(r.Proposed().Grids[0].Statistics.Average) && len(j.Criteria) > 0 {
			t.Fatalf("no light, and enough: %s", d.Text)
		}
		l.more(ctx, t, j, r)
		results++
	})
	require.NotZero(t, results)
}

// A small room; each row of the test below changes it.
const smallJob = `units = "metric"
[room]
length = 4.0
width = 3.0
height = 3.0
work_plane = 0.8
[layout]
mounting_height = 2.5
rows = 1
columns = 2
[existing]
photometry = "strip.ies"
[proposed]
photometry = "strip.ies"
lamp_lumens = 2000.0
[upkeep]
ambient_temperature = 20.0
[calculation]
spacing = 1.0
interreflection = false
`

// Jobs of which something once showed a number that is none, a zero with a sign, or a change without end, and others as near to it.
func TestNumbersOnceNone(t *testing.T) {
	const (
		before  = "[existing]\nphotometry = \"strip.ies\""
		after   = "[proposed]\nphotometry = \"strip.ies\""
		inDoubt = "[uncertainty]\nsamples = 1000\n"
	)
	with := func(text string) []string { return []string{"[upkeep]", text + "[upkeep]"} }
	doubt, bounces := with(inDoubt), []string{"interreflection = false", "interreflection = true"}
	for name, changes := range map[string][][]string{
		"dark before":           {{before, "[existing]\nphotometry = \"up.ies\""}, doubt},
		"dark before and after": {{before, "[existing]\nphotometry = \"up.ies\""}, {after, "[proposed]\nphotometry = \"up.ies\""}, doubt},
		"next to dark before": {{"[existing]\n", "[existing]\nlamp_lumens = 1e-3\nballast_factor = 0.1\nlosses = { total = 1e-3 }\n"},
			{"lamp_lumens = 2000.0", "lamp_lumens = 1e6"}, doubt},
		"by the ceiling alone, next to none": {{"work_plane = 0.8", "work_plane = 0.8\nreflectance = { ceiling = 1e-240, walls = 0.0, floor = 0.5 }"},
			{after, "[proposed]\nphotometry = \"spot.ies\""}, {"rows = 1\ncolumns = 2", "positions = [[0.1, 0.1]]"}, doubt, bounces},
		"no light straight down":  {{before, "[existing]\nphotometry = \"spot.ies\""}},
		"just below 0 °C":         {{"ambient_temperature = 20.0", "ambient_temperature = -0.3"}},
		"just below 0 °F":         {{"\"metric\"", "\"imperial\""}, {"length = 4.0", "length = 12.0"}, {"ambient_temperature = 20.0", "ambient_temperature = -0.3"}},
		"black surfaces in doubt": {{"work_plane = 0.8", "work_plane = 0.8\nreflectance = { ceiling = 0.0, walls = 0.99, floor = 0.0 }"}, doubt, bounces},
		"next to no doubt": {with(inDoubt + "reflectance = { floor_standard = 1e-300, walls = 1e-200 }\nlamp_lumens = 1e-300\nmounting_height = 1e-250\n"),
			bounces},
		"doubt beyond all light": {with(inDoubt + "lamp_lumens_standard = 90\nballast_factor_standard = 90\nluminaire_dirt = 100\n")},
		"more power, no CO2": {{"[proposed]\n", "[proposed]\ninput_watts = 1e5\n"},
			with("[energy]\nprice_per_kwh = 0.0\nco2_kg_per_kwh = 0.0\nco2_rate = \"none\"\ninstalled_cost = 1.0\n")},
		"next to no loss":              {{"[proposed]\n", "[proposed]\ninput_watts = 60.0001\n"}, with("[energy]\nprice_per_kwh = 1e-3\ninstalled_cost = 1e6\n")},
		"no hours":                     {{"[upkeep]", "[energy]\nprice_per_kwh = 0.1\ninstalled_cost = 1.0\n[proposed.costs]\nlamp_price = 5.0\n[upkeep]\nhours_per_year = 0.0"}},
		"next to nothing is asked for": {with("[[criteria]]\nat_least = 1e-308\n[[criteria]]\nstatistic = \"maximum_to_minimum\"\nat_most = 1.0\n")},
		"a point at the lamp":          {with("[[grids]]\narea = [0.0, 0.0, 4.0, 3.0]\nheight = 2.5\nspacing = 0.1\n"), {"columns = 2", "columns = 1"}},
		"a rack next to no width":      {with("[[racks]]\ncorner = [0.0, 0.0]\nsize = [4.0, 0.001, 2.0]\ntransmittance = 0.5\n"), bounces},
	} {
		t.Run(name, func(t *testing.T) {
			text := smallJob
			for _, c := range changes {
				require.Equal(t, 1, strings.Count(text, c[0]), c[0])
				text = strings.Replace(text, c[0], c[1], 1)
			}
			j, err := job.Read("small.toml", []byte(text), drawn.Open)
			require.NoError(t, err)
			r, err := study.Run(t.Context(), j, nil)
			require.NoError(t, err)
			l := looker{t, drawn.Job{Text: text, Fine: true}, text, j}
			l.result(r)
			l.workbook(r)
			if longtest.On() || name == "dark before and after" {
				l.options(t.Context(), j)
				l.proposal(t.Context(), j, r)
				l.figures(t.Context(), r)
			}
		})
	}
}
