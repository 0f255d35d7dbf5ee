package main

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"lampswap/photometry"
	"lampswap/photometry/job"
	"lampswap/photometry/study"
	"lampswap/photometry/survey"
)

// mostStations is how many stations the page has a box for.
const mostStations = 400

// A stationsView is the page on which readings are typed in beside the meter.
type stationsView struct {
	Title, Unit, Length string
	System              string
	Places              bool // the job has grids of its own to read besides
	AllPlaces           bool
	Sorry               string
	Plans               []stationPlanView
	Notes               []string
	Read, All           int
	Meters              []optionView
	Conditions          []conditionView
	Daylight            []optionView
	Proof               *proofView
	Note                string
}

type stationPlanView struct {
	Grid, Arrangement string
	Height            string // of all its stations, "" where they differ
	Stations          []stationView
	Average           string // measured, by the plan's formula; "" while too few are read
	Missing           string
}

type stationView struct {
	ID, Name, Place, X, Y, Height string
	Value, Fault                  string
}

// A conditionView is something to write down on site.
type conditionView struct{ Key, Label, Unit, Value, Fault string }

// A proofView is what the readings prove.
type proofView struct {
	Sentence, Sorry string
	Rows            []stationRow
	Areas           []areaView
	Warnings        []string
}

type stationRow struct{ Name, Predicted, Measured, Ratio, Mark string }

type areaView struct {
	Grid, Measured, Predicted string
	Decisions                 []decisionView
}

type decisionView struct{ Name, Found, Asked, Outcome, Likely string }

// conditionFields are the conditions that the page asks for.
var conditionFields = []conditionView{
	{Key: "hours-burnt", Label: "Lamps have burnt since new", Unit: "h"},
	{Key: "months-since-cleaning", Label: "Since the last cleaning", Unit: "months"},
	{Key: "warm-up-minutes", Label: "On before the first reading", Unit: "minutes"},
	{Key: "ambient-temperature", Label: "Air at the lamps", Unit: "temperature"},
}

// meterChoices are the classes of DIN 5032-7.
func meterChoices(chosen string) []optionView {
	all := []optionView{{"", "not known", chosen == ""}}
	for _, class := range survey.MeterClasses() {
		all = append(all, optionView{class, "class " + class, class == chosen})
	}
	return all
}

// typedReading is what was typed for a station; ok is false if it is no reading at all.
func typedReading(typed string) (value float64, ok bool) {
	typed = strings.Replace(strings.TrimSpace(typed), ",", ".", 1)
	x, err := strconv.ParseFloat(typed, 64)
	return x, err == nil && x >= 0 && x <= 1e6
}

func (s *site) showStations(w http.ResponseWriter, r *http.Request, snap *snapshot) error {
	a, err := s.answerOf(r.Context(), snap)
	if err != nil {
		return err
	}
	v := &stationsView{Title: snap.name, System: snap.readings["system"], Note: snap.note}
	if v.System != "existing" {
		v.System = "proposed"
	}
	if a.result == nil {
		v.Sorry = "The job has faults that must be mended before its stations can be planned."
		return show(w, "stations.html", v)
	}
	v.Title = a.job.Title
	m, err := measuringOf(a.job, v.System, planAuto, snap.places())
	if err != nil {
		v.Sorry = "The stations of this job cannot be planned: " + err.Error() + "."
		return show(w, "stations.html", v)
	}
	if n := len(m.stations()); n > mostStations {
		v.Sorry = fmt.Sprintf("This job has %d stations, more than the %d that the page has boxes for. Write the form with the command: lampswap stations.", n, mostStations)
		return show(w, "stations.html", v)
	}
	v.fill(snap, a.job, m)
	if r.URL.Query().Get("prove") != "" && v.Read > 0 {
		if v.Proof, err = s.prove(r.Context(), snap, a.job, m); err != nil {
			return err
		}
	}
	return show(w, "stations.html", v)
}

// places are the job's own grids that are read besides the work plane.
func (snap *snapshot) places() []string {
	if snap.readings["places"] == allGrids {
		return []string{allGrids}
	}
	return nil
}

// fill shows the stations with what was typed in.
func (v *stationsView) fill(snap *snapshot, j *job.Job, m measuring) {
	units := viewOfJob(j)
	v.Unit, v.Length = units.illuminance, units.length
	for _, n := range m.Notes {
		if !strings.Contains(n, "--") { // a flag of the command helps nobody here
			v.Notes = append(v.Notes, n)
		}
	}
	v.Places, v.AllPlaces = len(j.Grids) > 0, snap.places() != nil
	for _, p := range m.Plans {
		plan := stationPlanView{Grid: p.Grid, Arrangement: p.Arrangement.String(), Height: sameHeight(p.Stations, units)}
		values := map[string]float64{}
		for _, one := range p.Stations {
			at := func(meters float64) string { return fmt.Sprintf("%.1f", meters/units.meter) }
			shown := stationView{ID: fieldID("r " + one.Name), Name: one.Name, Place: one.Place, X: at(one.Position.X), Y: at(one.Position.Y), Value: snap.readings["r:"+one.Name]}
			if plan.Height == "" {
				shown.Height = at(one.Position.Z)
			}
			x, ok := typedReading(shown.Value)
			switch {
			case shown.Value == "":
			case ok:
				v.Read++
				values[one.Name] = x
			default:
				shown.Fault = "is no reading, want a number of " + v.Unit + " of at least 0"
			}
			v.All++
			plan.Stations = append(plan.Stations, shown)
		}
		if average, err := p.Average(values); err == nil {
			plan.Average = study.Digits(average.Value)
			plan.Missing = strings.Join(average.Notes, "; ")
		}
		v.Plans = append(v.Plans, plan)
		v.Notes = append(v.Notes, p.Notes...)
	}
	v.Meters = meterChoices(snap.readings["meter"])
	for _, d := range [][2]string{{"", "not said"}, {"dark", "dark, or no openings"}, {"subtracted", "measured and taken off"}, {"present", "in the readings"}} {
		v.Daylight = append(v.Daylight, optionView{d[0], d[1], d[0] == snap.readings["daylight"]})
	}
	for _, c := range conditionFields {
		c.Unit = unitText(c.Unit, j.Imperial)
		c.Value = snap.readings[c.Key]
		if _, ok := conditionOf(c.Value, c.Key); !ok {
			c.Fault = "is " + strconv.Quote(c.Value) + ", want a number, or nothing where it was not written down"
		}
		v.Conditions = append(v.Conditions, c)
	}
}

// sameHeight is the height of all the stations, "" where they differ.
func sameHeight(stations []survey.Station, units view) string {
	for _, s := range stations {
		if s.Position.Z != stations[0].Position.Z {
			return ""
		}
	}
	if len(stations) == 0 {
		return ""
	}
	return units.at(stations[0].Position.Z)
}

// conditionOf is a condition as typed; NaN where it was not noted.
func conditionOf(typed, key string) (float64, bool) {
	if strings.TrimSpace(typed) == "" {
		return math.NaN(), true
	}
	x, err := strconv.ParseFloat(strings.Replace(strings.TrimSpace(typed), ",", ".", 1), 64)
	least, most := 0.0, 1e6
	if key == "ambient-temperature" {
		least, most = -100, 200
	}
	if err != nil || !(x >= least && x <= most) {
		return math.NaN(), false
	}
	return x, true
}

// readingsOf are what was typed in as the survey has it.
func readingsOf(snap *snapshot, j *job.Job, m measuring) survey.Readings {
	plans := make([]survey.Plan, len(m.Plans))
	for i, p := range m.Plans {
		plans[i] = p.Plan
	}
	readings := survey.Form(unitOf(j), plans...)
	for i := range readings.Lines {
		if x, ok := typedReading(snap.readings["r:"+readings.Lines[i].Station]); ok {
			readings.Lines[i].Value = x * viewOfJob(j).lux
		}
	}
	return readings
}

// prove holds the readings against the prediction.
func (s *site) prove(ctx context.Context, snap *snapshot, j *job.Job, m measuring) (*proofView, error) {
	meter, ok := survey.ClassMeter(snap.readings["meter"])
	if !ok {
		return &proofView{Sorry: "Say which class the meter is of; without that, readings prove nothing."}, nil
	}
	taken := study.Survey{System: m.System, Readings: readingsOf(snap, j, m), Meter: meter, Conditions: survey.NotNoted(), Confidence: 0.95}
	taken.Readings.Lines = slices.DeleteFunc(taken.Readings.Lines, func(l survey.Reading) bool { return !l.Taken() })
	c := &taken.Conditions
	for key, to := range map[string]*float64{"hours-burnt": &c.HoursBurnt, "months-since-cleaning": &c.MonthsSinceCleaning, "warm-up-minutes": &c.WarmUpMinutes, "ambient-temperature": &c.AmbientCelsius} {
		*to, _ = conditionOf(snap.readings[key], key)
	}
	if j.Imperial {
		c.AmbientCelsius = photometry.CelsiusFromFahrenheit(c.AmbientCelsius)
	}
	c.Daylight = daylights[snap.readings["daylight"]]
	for _, p := range m.Plans {
		taken.Areas = append(taken.Areas, study.Area{Grid: p.Grid, Plan: p.Plan})
	}
	leave, err := s.work.enter(ctx)
	if err != nil {
		return nil, err
	}
	defer leave()
	limited, cancel := context.WithTimeout(ctx, s.work.limit)
	defer cancel()
	found, _, err := study.Verify(limited, j, taken, nil)
	switch {
	case ctx.Err() != nil:
		return nil, ctx.Err()
	case limited.Err() != nil:
		return &proofView{Sorry: "This takes longer than the page allows. Download the readings and use the command: lampswap verify."}, nil
	case err != nil:
		return nil, err
	}
	return proofOf(found, viewOfJob(j)), nil
}

func proofOf(found *study.Verification, units view) *proofView {
	p := &proofView{Sentence: found.Sentence()}
	for _, d := range found.Comparison.Stations {
		row := stationRow{Name: d.Station, Predicted: study.Digits(d.Predicted / units.lux), Measured: study.Digits(d.Measured / units.lux), Ratio: decimals(2)(d.Ratio)}
		switch {
		case d.Outlier:
			row.Mark = "unlike the others: read it again"
		case d.Disagrees:
			row.Mark = "beyond the uncertainties"
		}
		p.Rows = append(p.Rows, row)
	}
	for _, a := range found.Areas {
		area := areaView{Grid: a.Grid, Measured: study.Digits(a.Measured.Value / units.lux), Predicted: study.Digits(a.Predicted.Value / units.lux)}
		for _, d := range a.Decisions {
			area.Decisions = append(area.Decisions, decisionViewOf(d, units))
		}
		for _, u := range a.Undecided {
			p.Warnings = append(p.Warnings, fmt.Sprintf("%s: %s", u.Name, u.Reason))
		}
		p.Areas = append(p.Areas, area)
	}
	for _, w := range found.Warnings {
		p.Warnings = append(p.Warnings, w.Text)
	}
	p.Warnings = append(p.Warnings, found.Notes...)
	return p
}

func decisionViewOf(d study.Decided, units view) decisionView {
	scale, sign := units.lux, "at most "
	if d.Statistic.Ratio() {
		scale = 1
	}
	if d.AtLeast {
		sign = "at least "
	}
	certain := likely(d.Found.Probability)
	if d.Found.Outcome == survey.NotProven && d.Doubt != "" {
		certain = d.Doubt
	}
	return decisionView{Name: d.Name + ", " + strings.ReplaceAll(d.Statistic.String(), "_", " "), Found: study.Digits(d.Found.Measured/scale) + " ± " + study.Digits(2*d.Found.Standard/scale),
		Asked: sign + study.Digits(d.Found.Limit/scale), Outcome: d.Found.Outcome.String(), Likely: certain}
}

// postStations keeps what was typed in at the stations.
func (s *site) postStations(r *http.Request, v *session) error {
	known := map[string]bool{"system": true, "meter": true, "places": true, "daylight": true}
	for _, c := range conditionFields {
		known[c.Key] = true
	}
	if r.PostForm.Get("do") == "clear" {
		clear(v.readings)
		v.note = "All readings are wiped out."
		return nil
	}
	for name, values := range r.PostForm {
		if !known[name] && !strings.HasPrefix(name, "r:") || len(values) == 0 || len(name) > 40 {
			continue
		}
		typed := strings.TrimSpace(values[0])
		if len(typed) > 40 {
			typed = typed[:40]
		}
		switch {
		case typed == "":
			delete(v.readings, name)
		case len(v.readings) < 2*mostStations:
			v.readings[name] = typed
		}
	}
	return nil
}

// readingsCSV is the file of readings for `lampswap verify`.
func readingsCSV(ctx context.Context, s *site, snap *snapshot) ([]byte, error) {
	a, err := s.answerOf(ctx, snap)
	if err != nil {
		return nil, err
	}
	if a.result == nil {
		return nil, errNothing
	}
	system := snap.readings["system"]
	if system != "existing" {
		system = "proposed"
	}
	m, err := measuringOf(a.job, system, planAuto, snap.places())
	if err != nil {
		return nil, badRequestError{err}
	}
	var b bytes.Buffer
	err = readingsOf(snap, a.job, m).Write(&b, a.job.Title, "with the "+system+" luminaires burning")
	return b.Bytes(), err
}
