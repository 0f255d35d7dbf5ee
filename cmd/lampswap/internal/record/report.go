package record

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"lampswap/cmd/lampswap/internal/document"
	"lampswap/cmd/lampswap/internal/files"
	"lampswap/cmd/lampswap/internal/ledger"
	"lampswap/cmd/lampswap/internal/origin"
	"lampswap/cmd/lampswap/internal/proposal"
	"lampswap/cmd/lampswap/internal/stations"
	"lampswap/cmd/lampswap/internal/typeset"
	"lampswap/photometry"
	"lampswap/photometry/job"
	"lampswap/photometry/levels"
	"lampswap/photometry/metrology"
	"lampswap/photometry/number"
	"lampswap/photometry/realised"
	"lampswap/photometry/survey"
	"lampswap/photometry/verification"
	"lampswap/photometry/wording"
	"lampswap/plots"
)

// A Proof is what a report tells of: readings, where they were taken and what they were found to prove.
type Proof struct {
	Measurement stations.Measurement
	Survey      verification.Survey
	Found       *verification.Verification
	From        origin.Origin
	Pictures    []document.Picture // of stations, as their captions say
	Power       *realised.Result   // power and hours that were read besides; nil if they were not
}

// mostStations is how many stations the report lists; of more, those of which something is to be said.
const mostStations = 40

// Report is what was claimed, measured and found, what would prove what is open, and lines to sign on.
func Report(j *job.Job, p Proof) document.Document {
	c := begin(j, p.From, fmt.Sprintf("What readings on site prove of the %s lighting.", p.Found.System))
	c.facts(j, p)
	v := p.Found
	c.chapter("What was found")
	c.found(v)
	if p.Power != nil {
		c.chapter("Power and hours")
		c.power(p.Power)
		if beside := ledger.Beside(p.Power, ledger.SpaceLight{Space: p.Power.Building.Spaces[0].Name, Job: j, Found: v}); beside != "" {
			c.add(document.Prose{Text: typeset.Text(beside)})
		}
	}
	c.part("What it rests on")
	c.list(append(ledger.BudgetWords(v.Budget, v.Budget), c.rests(v)...))
	c.signed()
	c.part("Station by station")
	for _, plan := range p.Measurement.Plans {
		if figure, ok := stations.Marked(j, p.Measurement, plan, v); ok {
			figure.Title, figure.Subtitle = "", ""
			c.add(document.Figure{Parts: []plots.Figure{figure}, Caption: typeset.Text(fmt.Sprintf("%s: measured less predicted for the day, percent.", typeset.Capital(plan.Grid)))})
		}
	}
	c.stations(p)
	if len(p.Pictures) > 0 {
		c.part("Photographs")
		for _, picture := range p.Pictures {
			c.add(picture)
		}
	}
	return c.Document
}

// found is the verdict on the light, with claimed beside measured.
func (c *content) found(v *verification.Verification) {
	c.add(document.Verdict{Word: wording.ReadingsWord(v), Sentence: typeset.Text(wording.Readings(v)), Mark: marks[wording.ReadingsWord(v)]})
	for _, a := range v.Areas {
		c.claims(a)
	}
	c.titled("What would prove it", wording.WouldProve(v))
	c.titled("Struck out on site", ledger.StruckOut(c.Units, v))
}

// signed are lines to sign on.
func (c *content) signed() {
	c.part("Signed")
	c.add(document.Blanks{Names: []string{"Readings taken on", "Meter, serial number", "Measured by", "For the owner", "Signature", "Signature", "Date", "Date"}})
}

// marks are those of the answers; one that is not proven is no verdict.
var marks = map[string]document.Mark{"Met": document.Good, "Missed": document.Bad, "Not proven": document.None, "Nothing tested": document.None}

// titled adds a list under a heading of its own, where there is anything in it.
func (c *content) titled(title string, items []string) {
	if len(items) > 0 {
		c.part(title)
		c.list(items)
	}
}

// facts tell whose job it is and how the readings were taken.
func (c *content) facts(j *job.Job, p Proof) {
	var list []document.Fact
	say := func(name, value string) {
		if value != "" {
			list = append(list, document.Fact{Name: name, Value: typeset.Text(value)})
		}
	}
	f := j.Facts
	say("Prepared for", f.PreparedFor)
	say("Prepared by", f.PreparedBy)
	read := 0
	planned := p.Measurement.Stations()
	means := p.Survey.Readings.Means()
	for _, s := range planned {
		if _, ok := means[s.Name]; ok {
			read++
		}
	}
	say("Readings", fmt.Sprintf("%d of %s planned%s", read, typeset.Count(len(planned), "station"), times(p.Survey.Readings)))
	if parts := p.Found.Budget; len(parts) > 0 {
		var names []string
		for _, part := range parts {
			names = append(names, part.Name)
		}
		say("Meter", fmt.Sprintf("%s: %.1f percent of the reading, k = %.2f", strings.Join(names, "; "), 100*parts.Expanded(0.95), parts.CoverageFactor(0.95)))
	}
	say("As noted", c.noted(p.Survey.Conditions))
	c.add(document.Facts{List: list})
}

// times tells from when to when readings were taken, by the first and the last line that says so.
func times(r survey.Readings) string {
	var all []string
	for _, l := range r.Lines {
		if l.Taken() && l.Time != "" {
			all = append(all, l.Time)
		}
	}
	if len(all) == 0 {
		return ""
	}
	return fmt.Sprintf(", from %s to %s", all[0], all[len(all)-1])
}

// noted lists what was written down of the day.
func (c *content) noted(s survey.Conditions) string {
	var all []string
	number := func(x float64, format string) {
		if !math.IsNaN(x) {
			all = append(all, fmt.Sprintf(format, x))
		}
	}
	number(s.HoursBurnt, "lamps burnt %.0f h")
	number(s.WarmUpMinutes, "on for %.0f min")
	number(s.MonthsSinceCleaning, "cleaned %.0f months ago")
	number(s.SupplyVolts, "%.0f V")
	if !math.IsNaN(s.AmbientCelsius) {
		all = append(all, photometry.Degrees(s.AmbientCelsius))
	}
	number(100*s.FailedShare, "%.3g percent of the lamps out")
	switch s.Daylight {
	case survey.Dark:
		all = append(all, "dark")
	case survey.DaylightSubtracted:
		all = append(all, "daylight subtracted")
	case survey.DaylightPresent:
		all = append(all, "daylight in the readings")
	case survey.DaylightUnknown:
	}
	if len(all) == 0 {
		return "nothing"
	}
	return strings.Join(all, ", ")
}

// claims sets what was claimed against what was measured, a row for each criterion.
func (c *content) claims(a verification.VerifiedArea) {
	t := document.Table{Caption: fmt.Sprintf("%s: average predicted for the day %s, measured %s", typeset.Capital(a.Grid), c.lux(a.Predicted.Value), c.average(a)), Label: "Criterion",
		Columns: []document.Column{{Name: "Claimed, maintained"}, {Name: "Required"}, {Name: "Measured"}, {Name: "Found", Share: 1}, {Name: "Later, kept up as planned", Share: 1}}}
	g := document.Group{}
	for _, d := range a.Decisions {
		scale := c.Scale(d.Statistic)
		off, share := ledger.FoundOff(d.Found, scale)
		if share != "" {
			off += " (" + share + ")"
		}
		g.Rows = append(g.Rows, document.Row{Label: ledger.CriterionName(d.Criterion, d.Station), Cells: []document.Cell{{Text: number.Digits(d.Claimed / scale)},
			{Text: typeset.Text(ledger.Limit(c.Units, d.Criterion))}, {Text: off}, outcome(d, d.Found), outcome(d, d.Carried)}})
	}
	for _, u := range a.Undecided {
		g.Rows = append(g.Rows, document.Row{Label: ledger.CriterionName(u.Criterion, ""), Cells: []document.Cell{{Text: number.Digits(u.Claimed / c.Scale(u.Statistic))},
			{Text: typeset.Text(ledger.Limit(c.Units, u.Criterion))}, {Text: "-"}, {Text: "not proven: " + wording.Doubt(u.Reason), Alarm: true}, {Text: "-"}}})
	}
	if len(g.Rows) == 0 {
		c.add(document.Prose{Text: t.Caption + "; the job has no criterion there."})
		return
	}
	t.Groups = []document.Group{g}
	c.add(t)
}

func outcome(d verification.Decided, x metrology.Decision) document.Cell {
	return document.Cell{Text: ledger.Outcome(d, x), Alarm: x.Outcome != metrology.Conforms}
}

func (c *content) lux(x float64) string {
	return number.Digits(x/c.Lux) + " " + c.OfStatistic(levels.Average)
}

// average is a measured average with what it may be off by.
func (c *content) average(a verification.VerifiedArea) string {
	_, k := a.Expanded()
	off, share := ledger.Off(a.Measured.Value/c.Lux, a.Budget.Standard()*a.Measured.Value/c.Lux, k)
	if share == "" {
		return c.lux(a.Measured.Value)
	}
	return fmt.Sprintf("%s %s (%s)", off, c.Illuminance, share)
}

// stations lists what was predicted and measured at each, with the remarks of the form.
func (c *content) stations(p Proof) {
	t := document.Table{Caption: "Predicted for the day and measured, " + c.Illuminance, Label: "Station",
		Columns: []document.Column{{Name: "Predicted"}, {Name: "Measured"}, {Name: "Ratio"}, {Name: "Remarks", Share: 1}}}
	remarks := map[string][]string{}
	for _, l := range p.Survey.Readings.Lines {
		if l.Note != "" {
			remarks[strings.ToLower(l.Station)] = append(remarks[strings.ToLower(l.Station)], l.Note)
		}
	}
	g := document.Group{}
	all := p.Found.Comparison.Stations
	for _, d := range all {
		said := remarks[strings.ToLower(d.Station)]
		mark := ledger.Mark(p.Found, d)
		if mark != "" {
			said = append([]string{mark}, said...)
		}
		if len(all) > mostStations && len(said) == 0 {
			continue
		}
		g.Rows = append(g.Rows, document.Row{Label: d.Station, Cells: []document.Cell{{Text: number.Digits(d.Predicted / c.Lux)}, {Text: number.Digits(d.Measured / c.Lux)},
			{Text: number.Decimals(2)(d.Ratio)}, {Text: strings.Join(said, "; "), Alarm: mark != ""}}})
	}
	if len(all) > mostStations {
		t.Caption += fmt.Sprintf(": of %d stations those of which something is to be said", len(all))
	}
	if t.Groups = []document.Group{g}; len(g.Rows) > 0 {
		c.add(t)
	}
}

// rests lists what else the proof rests on.
func (c *content) rests(v *verification.Verification) []string {
	var all []string
	for _, a := range v.Areas {
		if len(a.Budget) > len(v.Budget) {
			for _, words := range ledger.BudgetWords(a.Budget[len(v.Budget):], a.Budget) {
				all = append(all, a.Grid+", average: "+words)
			}
		}
	}
	for _, w := range wording.ConditionWarnings(v) {
		all = append(all, fmt.Sprintf("%s (%s)", w.Text, w.Source))
	}
	return slices.Concat(all, wording.ReadingNotes(v), wording.RatioNotes(v.Comparison))
}

// ReportFiles are a report as PDF and as HTML, on the paper of a job's country.
func ReportFiles(d document.Document, j *job.Job) ([]files.File, error) {
	var all []files.File
	for _, ending := range []string{".pdf", ".html"} {
		content, err := proposal.Writers[ending](d, proposal.PaperFor("", j))
		if err != nil {
			return nil, err
		}
		all = append(all, files.File{Name: "report" + ending, Content: content})
	}
	return all, nil
}
