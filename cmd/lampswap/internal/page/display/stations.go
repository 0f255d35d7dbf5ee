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
	"lampswap/cmd/lampswap/internal/page/plan"
	"lampswap/cmd/lampswap/internal/stations"
	"lampswap/cmd/lampswap/internal/typeset"
	"lampswap/cmd/lampswap/internal/units"
	"lampswap/photometry/job"
	"lampswap/photometry/metrology"
	"lampswap/photometry/number"
	"lampswap/photometry/survey"
	"lampswap/photometry/verification"
	"lampswap/photometry/wording"
)

// MostStations is how many stations the page has a box for.
const MostStations = 400

// Stations are the page on which readings are typed in beside the meter.
type Stations struct {
	Title, Unit, Length string
	Shown               string // the unit that the meter shows
	System              string
	Places              []form.OptionView // grids of the job's own to read besides; nil where it has none
	Sorry               string
	Plans               []stationPlanView
	Notes               []string
	Read, All           int
	Meters              []form.OptionView
	Shows               []form.OptionView // what the meter shows
	Conditions, Figures []conditionView   // of the day, of the meter
	Daylight            []form.OptionView
	Initial             bool // the readings are to prove initial light
	Elsewhere           int  // readings of stations that are somewhere else now
	Gone                []goneView
	Keeps               string // where the readings are kept
	Proof               *Proof
	Note                string
	Origin              string // of what is shown
}

// A goneView is a reading of a station that the plan has no more.
type goneView struct{ Name, Value string }

type stationPlanView struct {
	Grid, Arrangement string
	Plan              *Plan // the room, on which the stations are marked
	ViewBox           string
	Marks             []stationMark
	Height            string // of all its stations, "" where they differ
	Stations          []stationView
	Average           string // measured, by the plan's formula; "" while too few are read
	Missing           string
}

type stationView struct {
	ID, Name, Place, X, Y, Height string
	Value, Fault                  string
	At                            string // its exact place
	Moved                         bool   // the reading was taken somewhere else
	Next                          bool   // the first that is not read
}

// A stationMark is a station on the plan: y downward.
type stationMark struct {
	stationView
	CX, CY, Radius, Hit float64
}

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

// Readings are what was typed in at the stations, and of how they were taken.
type Readings map[string]string

// System is the lighting whose luminaires burn.
func (r Readings) System() string {
	if r["system"] == "existing" {
		return "existing"
	}
	return "proposed"
}

// Places are the job's own grids that are read besides the work plane: all of them, or one.
func (r Readings) Places() []string {
	switch place := r["places"]; place {
	case "", workPlaneOnly:
		return nil
	default:
		return []string{place}
	}
}

// workPlaneOnly is what places says where no grid of the job's own is read.
const workPlaneOnly = "work plane"

// shows is the unit that the meter shows; ok is false where it was not said.
func (r Readings) shows() (unit survey.Unit, ok bool) {
	unit, ok = map[string]survey.Unit{"fc": survey.Footcandles, "lx": survey.Lux}[r["meter-shows"]]
	return unit, ok
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

// FillDay shows how the readings are taken; it needs no plan of stations.
func (v *Stations) FillDay(typed Readings, j *job.Job) {
	unit := units.Of(j)
	v.Unit, v.Shown, v.Length = unit.Illuminance, unit.Illuminance, unit.Length
	if says, ok := typed.shows(); ok {
		v.Shown = says.String()
	}
	for _, d := range [][2]string{{"", "not said: " + unit.Illuminance + " is taken"}, {"fc", "footcandles, fc"}, {"lx", "lux, lx"}} {
		v.Shows = append(v.Shows, form.OptionView{Value: d[0], Label: d[1], Selected: d[0] == typed["meter-shows"]})
	}
	if len(j.Grids) > 0 {
		place := func(value, label string) {
			v.Places = append(v.Places, form.OptionView{Value: value, Label: label, Selected: value == typed["places"]})
		}
		place(workPlaneOnly, "work plane only")
		for _, g := range j.Grids {
			place(g.Name, "and "+g.Name)
		}
		place(stations.AllGrids, "all grids of the job")
	}
	v.Meters = meterChoices(typed["meter"])
	for _, d := range [][2]string{{"", "not said"}, {"dark", "dark, or no openings"}, {"subtracted", "measured and taken off"}, {"present", "in the readings"}} {
		v.Daylight = append(v.Daylight, form.OptionView{Value: d[0], Label: d[1], Selected: d[0] == typed["daylight"]})
	}
	v.Conditions, v.Figures = viewsOf(conditionFields, typed, j.Imperial), viewsOf(meterFields, typed, j.Imperial)
	v.Initial = typed["initial"] == "yes"
}

// Fill shows the stations with what was typed in, on the plan of the room.
func (v *Stations) Fill(typed Readings, j *job.Job, m stations.Measurement, drawn *plan.Plan) {
	unit := units.Of(j)
	shown := 1.0 // of the job's unit, one that the meter shows
	if says, ok := typed.shows(); ok {
		shown = says.LuxEach() / unit.Lux
	}
	for _, n := range m.Notes {
		if !strings.Contains(n, "--") { // a flag of the command helps nobody here
			v.Notes = append(v.Notes, typeset.Text(n))
		}
	}
	known, waits, sheet, margin := map[string]bool{}, true, PlanOf(drawn, j, true, ""), 0.01*max(drawn.Length, drawn.Width)
	for _, p := range m.Plans {
		view := stationPlanView{Grid: p.Grid, Arrangement: p.Words(), Height: sameHeight(p.Stations, unit), Plan: sheet,
			ViewBox: fmt.Sprintf("%.4g %.4g %.5g %.5g", -margin, -margin, drawn.Length+2*margin, drawn.Width+2*margin)}
		values := map[string]float64{}
		for _, s := range p.Stations {
			known[s.Name] = true
			one := v.station(typed, s, unit, view.Height == "")
			if all, ok := typedReadings(one.Value); ok && !one.Moved && one.Value != "" {
				v.Read++
				maps.Copy(values, survey.Readings{Lines: named(one.Name, all)}.Means())
			}
			if one.Next = waits && (one.Value == "" || one.Moved); one.Next {
				waits = false
			}
			v.All++
			view.Stations = append(view.Stations, one)
		}
		view.Marks = marksOf(view.Stations, p.Stations, drawn, unit)
		if average, err := p.Average(values); err == nil {
			view.Average = number.Digits(average.Value * shown)
			var missing []string
			for _, n := range average.Notes {
				missing = append(missing, wording.SurveyNote(n, j.Imperial))
			}
			view.Missing = strings.Join(missing, "; ")
		}
		v.Plans = append(v.Plans, view)
		for _, n := range wording.PlanNotes(p.Plan) {
			v.Notes = append(v.Notes, typeset.Text(n))
		}
	}
	for _, key := range slices.Sorted(maps.Keys(typed)) {
		if name, is := strings.CutPrefix(key, "r:"); is && !known[name] {
			v.Gone = append(v.Gone, goneView{name, typed[key]})
		}
	}
}

// station shows one station with what was typed for it.
func (v *Stations) station(typed Readings, one survey.Station, unit units.Units, height bool) stationView {
	at := func(meters float64) string { return fmt.Sprintf("%.1f", meters/unit.Meter) }
	view := stationView{ID: form.ID("r " + one.Name), Name: one.Name, Place: one.Place, X: at(one.Position.X), Y: at(one.Position.Y), Value: typed["r:"+one.Name], At: one.Key(), Moved: typed.moved(one)}
	if height {
		view.Height = at(one.Position.Z)
	}
	if _, ok := typedReadings(view.Value); view.Value != "" && !ok {
		view.Fault = "is no reading, want a number of " + v.Shown + " of at least 0, a second one after a semicolon; out: and the reason behind one that does not count"
	}
	if view.Moved {
		v.Elsewhere++
	}
	return view
}

// moved tells that a reading was typed for a station that is somewhere else now: the room, its luminaires or its racks have changed since.
func (r Readings) moved(one survey.Station) bool {
	at := r["at:"+one.Name]
	return r["r:"+one.Name] != "" && at != "" && at != one.Key()
}

// marksOf are the stations on the plan, of a size for a finger as far as they leave room to each other.
func marksOf(views []stationView, all []survey.Station, drawn *plan.Plan, unit units.Units) []stationMark {
	extent := max(drawn.Length, drawn.Width)
	nearest := extent
	for i, a := range all {
		for _, b := range all[:i] {
			if d := math.Hypot(a.Position.X-b.Position.X, a.Position.Y-b.Position.Y) / unit.Meter; d > 0 {
				nearest = min(nearest, d)
			}
		}
	}
	hit := min(0.045*extent, max(nearest/2, 0.01*extent))
	var marks []stationMark
	for i, s := range all {
		marks = append(marks, stationMark{views[i], s.Position.X / unit.Meter, drawn.Width - s.Position.Y/unit.Meter, min(hit, 0.02*extent), hit})
	}
	return marks
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

// named gives readings the name of their station.
func named(station string, all []survey.Reading) []survey.Reading {
	for i := range all {
		all[i].Station = station
	}
	return all
}

// Taken are the readings as the survey has them.
func (r Readings) Taken(j *job.Job, m stations.Measurement) survey.Readings {
	plans, elsewhere := make([]survey.Plan, len(m.Plans)), map[string]bool{}
	for i, p := range m.Plans {
		plans[i] = p.Plan
		for _, one := range p.Stations {
			elsewhere[one.Name] = r.moved(one)
		}
	}
	form := survey.Form(stations.Unit(j), plans...)
	var lines []survey.Reading
	for _, l := range form.Lines {
		typed, ok := typedReadings(r["r:"+l.Station])
		if !ok || elsewhere[l.Station] {
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
	p := &Proof{Sentence: typeset.Text(wording.Readings(found)), Struck: ledger.StruckOut(unit, found), WouldProve: typeset.All(wording.WouldProve(found))}
	for _, d := range found.Comparison.Stations {
		p.Rows = append(p.Rows, stationRow{Name: d.Station, Predicted: number.Digits(d.Predicted / unit.Lux), Measured: number.Digits(d.Measured / unit.Lux),
			Ratio: number.Decimals(2)(d.Ratio), Mark: ledger.Mark(found, d)})
	}
	for _, a := range found.Areas {
		_, k := a.Expanded()
		measured, share := ledger.Off(a.Measured.Value/unit.Lux, a.Budget.Standard()*a.Measured.Value/unit.Lux, k)
		if share != "" {
			measured += " (" + share + ")"
		}
		area := areaView{Grid: a.Grid, Measured: measured, Predicted: number.Digits(a.Predicted.Value / unit.Lux)}
		for _, d := range a.Decisions {
			area.Decisions = append(area.Decisions, decisionViewOf(d, unit))
		}
		for _, u := range a.Undecided {
			p.Warnings = append(p.Warnings, fmt.Sprintf("%s: %s", u.Name, wording.Doubt(u.Reason)))
		}
		p.Areas = append(p.Areas, area)
	}
	for _, w := range wording.ConditionWarnings(found) {
		p.Warnings = append(p.Warnings, w.Text)
	}
	p.Warnings = append(p.Warnings, wording.ReadingNotes(found)...)
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
	if d.Found.Outcome == metrology.NotProven && len(d.Doubts) > 0 {
		certain = wording.Doubt(d.Doubts...)
	}
	value, share := ledger.FoundOff(d.Found, scale)
	if share != "" {
		value += " (" + share + ")"
	}
	return decisionView{Name: d.Name + ", " + d.Statistic.Words(), Found: value,
		Required: sign + number.Digits(d.Found.Limit/scale), Outcome: d.Found.Outcome.String(), Likely: certain}
}
