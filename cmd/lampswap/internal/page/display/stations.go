package display

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"

	"lampswap/cmd/lampswap/internal/ledger"
	"lampswap/cmd/lampswap/internal/page/form"
	"lampswap/cmd/lampswap/internal/stations"
	"lampswap/cmd/lampswap/internal/typeset"
	"lampswap/cmd/lampswap/internal/units"
	"lampswap/photometry"
	"lampswap/photometry/job"
	"lampswap/photometry/metrology"
	"lampswap/photometry/survey"
	"lampswap/photometry/verification"
)

// MostStations is how many stations the page has a box for.
const MostStations = 400

// Stations are the page on which readings are typed in beside the meter.
type Stations struct {
	Title, Unit, Length string
	Shown               string // the unit that the meter shows
	System              string
	Places              bool // the job has grids of its own to read besides
	AllPlaces           bool
	Sorry               string
	Plans               []stationPlanView
	Notes               []string
	Read, All           int
	Meters              []form.OptionView
	Shows               []form.OptionView // what the meter shows
	Conditions          []conditionView
	Daylight            []form.OptionView
	Proof               *Proof
	Note                string
	Origin              string // of what is shown
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

// A Proof is what the readings prove.
type Proof struct {
	Sentence, Sorry string
	Struck          []string
	WouldProve      []string
	Rows            []stationRow
	Areas           []areaView
	Warnings        []string
}

type stationRow struct{ Name, Predicted, Measured, Ratio, Mark string }

type areaView struct {
	Grid, Measured, Predicted string
	Decisions                 []decisionView
}

type decisionView struct{ Name, Found, Required, Outcome, Likely string }

// conditionFields are the conditions that the page asks for.
var conditionFields = []conditionView{
	{Key: "hours-burnt", Label: "Lamps have burnt since new", Unit: "h"},
	{Key: "months-since-cleaning", Label: "Since the last cleaning", Unit: "months"},
	{Key: "warm-up-minutes", Label: "On before the first reading", Unit: "minutes"},
	{Key: "ambient-temperature", Label: "Ambient temperature", Unit: "temperature"},
}

// meterChoices are the classes of DIN 5032-7.
func meterChoices(chosen string) []form.OptionView {
	all := []form.OptionView{{Value: "", Label: "not said", Selected: chosen == ""}}
	for _, class := range metrology.MeterClasses() {
		all = append(all, form.OptionView{Value: class, Label: "class " + class, Selected: class == chosen})
	}
	return append(all, form.OptionView{Value: unknownMeter, Label: "not known: the widest class", Selected: chosen == unknownMeter})
}

const unknownMeter = "unknown"

// Readings are what was typed in at the stations, and of how they were taken.
type Readings map[string]string

// System is the lighting whose luminaires burn.
func (r Readings) System() string {
	if r["system"] == "existing" {
		return "existing"
	}
	return "proposed"
}

// Places are the job's own grids that are read besides the work plane.
func (r Readings) Places() []string {
	if r["places"] == stations.AllGrids {
		return []string{stations.AllGrids}
	}
	return nil
}

// Survey is what the readings are held against the prediction with; ok is false where the meter is not described.
func (r Readings) Survey(j *job.Job, m stations.Measurement) (taken verification.Survey, ok bool) {
	meter, ok := metrology.ClassMeter(r["meter"])
	if r["meter"] == unknownMeter {
		meter, ok = metrology.UnknownMeter(), true
	}
	if !ok {
		return verification.Survey{}, false
	}
	taken = verification.Survey{System: m.System, Readings: r.Taken(j, m), Meter: meter, Conditions: survey.NotNoted(), Confidence: 0.95}
	taken.Readings.Lines = slices.DeleteFunc(taken.Readings.Lines, func(l survey.Reading) bool { return !l.Taken() })
	c := &taken.Conditions
	for key, to := range map[string]*float64{"hours-burnt": &c.HoursBurnt, "months-since-cleaning": &c.MonthsSinceCleaning, "warm-up-minutes": &c.WarmUpMinutes, "ambient-temperature": &c.AmbientCelsius} {
		*to, _ = conditionOf(r[key], key)
	}
	if j.Imperial {
		c.AmbientCelsius = photometry.CelsiusFromFahrenheit(c.AmbientCelsius)
	}
	c.Daylight = stations.Daylights[r["daylight"]]
	for _, p := range m.Plans {
		taken.Areas = append(taken.Areas, verification.Area{Grid: p.Grid, Plan: p.Plan})
	}
	return taken, true
}

// shows is the unit that the meter shows; ok is false where it was not said.
func (r Readings) shows() (unit survey.Unit, ok bool) {
	unit, ok = map[string]survey.Unit{"fc": survey.Footcandles, "lx": survey.Lux}[r["meter-shows"]]
	return unit, ok
}

// IsReading tells whether a field of the page is one that is kept: a reading, or how readings were taken.
func IsReading(field string) bool {
	return slices.Contains([]string{"system", "meter", "meter-shows", "places", "daylight"}, field) || strings.HasPrefix(field, "r:") ||
		slices.ContainsFunc(conditionFields, func(c conditionView) bool { return c.Key == field })
}

// typedReadings are what was typed for a station, readings of it apart by semicolons, one that is struck out with the word out and the
// reason: "600 out: wrong range; 61.5". ok is false if any is no reading at all.
func typedReadings(typed string) (all []survey.Reading, ok bool) {
	const reason = 4 // letters, as in a file of readings
	for one := range strings.SplitSeq(typed, ";") {
		number, why, struck := strings.Cut(one, "out")
		x, err := strconv.ParseFloat(strings.Replace(strings.TrimSpace(number), ",", ".", 1), 64)
		why = strings.Trim(why, ": ")
		if err != nil || !(x >= 0 && x <= 1e6) || struck && len(why) < reason {
			return nil, false
		}
		all = append(all, survey.Reading{Value: x, StruckOut: why})
	}
	return all, true
}

// Fill shows the stations with what was typed in.
func (v *Stations) Fill(typed Readings, j *job.Job, m stations.Measurement) {
	unit := units.Of(j)
	v.Unit, v.Shown, v.Length = unit.Illuminance, unit.Illuminance, unit.Length
	shown := 1.0 // of the job's unit, one that the meter shows
	if says, ok := typed.shows(); ok {
		v.Shown = says.String()
		shown = says.LuxEach() / unit.Lux
	}
	for _, d := range [][2]string{{"", "not said: " + unit.Illuminance + " is taken"}, {"fc", "footcandles, fc"}, {"lx", "lux, lx"}} {
		v.Shows = append(v.Shows, form.OptionView{Value: d[0], Label: d[1], Selected: d[0] == typed["meter-shows"]})
	}
	for _, n := range m.Notes {
		if !strings.Contains(n, "--") { // a flag of the command helps nobody here
			v.Notes = append(v.Notes, typeset.Text(n))
		}
	}
	v.Places, v.AllPlaces = len(j.Grids) > 0, typed.Places() != nil
	for _, p := range m.Plans {
		plan := stationPlanView{Grid: p.Grid, Arrangement: p.Words(), Height: sameHeight(p.Stations, unit)}
		values := map[string]float64{}
		for _, one := range p.Stations {
			at := func(meters float64) string { return fmt.Sprintf("%.1f", meters/unit.Meter) }
			shown := stationView{ID: form.ID("r " + one.Name), Name: one.Name, Place: one.Place, X: at(one.Position.X), Y: at(one.Position.Y), Value: typed["r:"+one.Name]}
			if plan.Height == "" {
				shown.Height = at(one.Position.Z)
			}
			typed, ok := typedReadings(shown.Value)
			switch {
			case shown.Value == "":
			case ok:
				v.Read++
				maps.Copy(values, survey.Readings{Lines: named(one.Name, typed)}.Means())
			default:
				shown.Fault = "is no reading, want a number of " + v.Shown + " of at least 0, a second one after a semicolon; out: and the reason behind one that does not count"
			}
			v.All++
			plan.Stations = append(plan.Stations, shown)
		}
		if average, err := p.Average(values); err == nil {
			plan.Average = photometry.Digits(average.Value * shown)
			plan.Missing = strings.Join(average.Notes, "; ")
		}
		v.Plans = append(v.Plans, plan)
		for _, n := range p.Notes {
			v.Notes = append(v.Notes, typeset.Text(n))
		}
	}
	v.Meters = meterChoices(typed["meter"])
	for _, d := range [][2]string{{"", "not said"}, {"dark", "dark, or no openings"}, {"subtracted", "measured and taken off"}, {"present", "in the readings"}} {
		v.Daylight = append(v.Daylight, form.OptionView{Value: d[0], Label: d[1], Selected: d[0] == typed["daylight"]})
	}
	for _, c := range conditionFields {
		c.Unit = form.Unit(c.Unit, j.Imperial)
		c.Value = typed[c.Key]
		if _, ok := conditionOf(c.Value, c.Key); !ok {
			c.Fault = "is " + strconv.Quote(c.Value) + ", want a number, or nothing where it was not written down"
		}
		v.Conditions = append(v.Conditions, c)
	}
}

// sameHeight is the height of all the stations, "" where they differ.
func sameHeight(stations []survey.Station, unit units.Units) string {
	for _, s := range stations {
		if s.Position.Z != stations[0].Position.Z {
			return ""
		}
	}
	if len(stations) == 0 {
		return ""
	}
	return unit.At(stations[0].Position.Z)
}

// conditionOf is a condition as typed; NaN where it was not noted.
func conditionOf(typed, key string) (float64, bool) {
	if strings.TrimSpace(typed) == "" {
		return math.NaN(), true
	}
	x, err := strconv.ParseFloat(strings.Replace(strings.TrimSpace(typed), ",", ".", 1), 64)
	least, most := 0.0, 1e6
	switch key {
	case "ambient-temperature":
		least, most = -100, 200
	case "months-since-cleaning": // after thousands of years dirt would leave no light
		most = 1200
	}
	if err != nil || !(x >= least && x <= most) {
		return math.NaN(), false
	}
	return x, true
}

// named gives readings the name of their station.
func named(station string, all []survey.Reading) []survey.Reading {
	for i := range all {
		all[i].Station = station
	}
	return all
}

// Taken are the readings as the survey has them.
func (r Readings) Taken(j *job.Job, m stations.Measurement) survey.Readings {
	plans := make([]survey.Plan, len(m.Plans))
	for i, p := range m.Plans {
		plans[i] = p.Plan
	}
	form := survey.Form(stations.Unit(j), plans...)
	var lines []survey.Reading
	for _, l := range form.Lines {
		typed, ok := typedReadings(r["r:"+l.Station])
		if !ok {
			typed = []survey.Reading{{Value: math.NaN()}}
		}
		for i, t := range typed {
			l.Value, l.StruckOut = t.Value*units.Of(j).Lux, t.StruckOut
			if l.Time = ""; i > 0 { // typed in beside the first, and so no copy of it
				l.Time = "again"
			}
			lines = append(lines, l)
		}
	}
	form.Lines = lines
	if unit, ok := r.shows(); ok {
		return form.Shown(unit)
	}
	return form
}

// ProofOf shows what the readings were found to prove.
func ProofOf(found *verification.Verification, unit units.Units) *Proof {
	p := &Proof{Sentence: typeset.Text(found.Sentence()), Struck: ledger.StruckOut(unit, found), WouldProve: typeset.All(found.WouldProve())}
	for _, d := range found.Comparison.Stations {
		p.Rows = append(p.Rows, stationRow{Name: d.Station, Predicted: photometry.Digits(d.Predicted / unit.Lux), Measured: photometry.Digits(d.Measured / unit.Lux),
			Ratio: units.Decimals(2)(d.Ratio), Mark: ledger.Mark(found, d)})
	}
	for _, a := range found.Areas {
		_, k := a.Expanded()
		measured, share := ledger.Off(a.Measured.Value/unit.Lux, a.Budget.Standard()*a.Measured.Value/unit.Lux, k)
		if share != "" {
			measured += " (" + share + ")"
		}
		area := areaView{Grid: a.Grid, Measured: measured, Predicted: photometry.Digits(a.Predicted.Value / unit.Lux)}
		for _, d := range a.Decisions {
			area.Decisions = append(area.Decisions, decisionViewOf(d, unit))
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
	for i, w := range p.Warnings {
		p.Warnings[i] = typeset.Text(w)
	}
	return p
}

func decisionViewOf(d verification.Decided, unit units.Units) decisionView {
	scale, sign := unit.Lux, "at most "
	if d.Statistic.Ratio() {
		scale = 1
	}
	if d.AtLeast {
		sign = "at least "
	}
	certain := ledger.Likely(d.Found.Probability)
	if d.Found.Outcome == metrology.NotProven && d.Doubt != "" {
		certain = d.Doubt
	}
	value, share := ledger.FoundOff(d.Found, scale)
	if share != "" {
		value += " (" + share + ")"
	}
	return decisionView{Name: d.Name + ", " + d.Statistic.Words(), Found: value,
		Required: sign + photometry.Digits(d.Found.Limit/scale), Outcome: d.Found.Outcome.String(), Likely: certain}
}
