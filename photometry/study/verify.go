package study

import (
	"context"
	"errors"
	"fmt"
	"math"

	"lampswap/photometry/job"
	"lampswap/photometry/levels"
	"lampswap/photometry/losses"
	"lampswap/photometry/survey"
)

// A Survey is what was measured, where, with what and when.
type Survey struct {
	System     string // "existing" or "proposed": whose luminaires burned
	Areas      []Area // where it was planned to measure
	Readings   survey.Readings
	Meter      survey.Meter
	Conditions survey.Conditions
	Confidence float64 // of a decision
}

// An Area is a plan of stations for one of the job's grids, or for its work plane.
type Area struct {
	Grid string
	survey.Plan
}

// A Verification holds readings against the prediction and against the criteria of the job.
type Verification struct {
	System     string
	Day        losses.Factors    // losses on the day of the readings
	Budget     survey.Budget     // of one reading
	Comparison survey.Comparison // station by station, lx
	Positions  map[string]survey.Station
	Areas      []VerifiedArea
	Prediction *Uncertainty
	Correction *Correction // of the proposed system by readings of the existing one; nil for readings of the proposed
	Notes      []string
	Warnings   []survey.Warning
	Confidence float64
	result     *Result
}

// A VerifiedArea is the average of one area by its plan's formula, with what it proves.
type VerifiedArea struct {
	Grid      string
	Plan      survey.Plan
	Measured  survey.Average // lx
	Predicted survey.Average // by the same formula, for the day of the readings
	Budget    survey.Budget  // of the average as the average of the area
	Decisions []Decided
}

// Decided is a criterion tested by readings: as found on the day, and carried on to the end of relamping and cleaning, where the
// criteria of a maintained level hold. What the carrying rests on is computed, and its doubt is not in the decision.
type Decided struct {
	levels.Criterion
	Station string // of the reading that decides, for a minimum or a maximum
	Found   survey.Decision
	Carried survey.Decision
}

// A Correction is the proposed system as predicted and as predicted from readings of the existing one.
type Correction struct {
	survey.Corrected          // of the maintained average of the work plane, lx
	Minimum          float64  // of the work plane, corrected by the same factor, lx
	Inputs           []string // what the readings take away most of
}

// ErrNoReadings says that no station was read.
var ErrNoReadings = errors.New("study: no station was read")

// Verify works the job out and holds the readings against it; progress may be nil. The error is a diag.List for readings that fit no
// station, else as of Run.
func Verify(ctx context.Context, j *job.Job, s Survey, progress Progress) (*Verification, *Result, error) {
	var planned []survey.Station
	for _, a := range s.Areas {
		planned = append(planned, a.Stations...)
	}
	readings, notes, err := s.Readings.Match(planned)
	if err != nil {
		return nil, nil, err
	}
	v := &Verification{System: s.System, Notes: notes, Confidence: s.Confidence, Budget: s.Meter.Budget(), Positions: map[string]survey.Station{}}
	names := v.place(readings, planned)
	if len(names) == 0 {
		return nil, nil, ErrNoReadings
	}
	spots := make([]Spot, len(names))
	for i, name := range names {
		spots[i] = Spot{v.Positions[name].Position, v.Positions[name].Normal}
	}
	r, light, err := RunAt(ctx, j, spots, progress)
	if err != nil {
		return nil, nil, err
	}
	v.result = r
	if v.Prediction, err = RunUncertainty(ctx, r, progress); err != nil {
		return nil, nil, err
	}
	at := 1
	if s.System == "existing" {
		at = 0
	}
	side := r.Sides()[at]
	v.Day = r.LossesOn(side, dayOf(s.Conditions))
	predicted := map[string]float64{}
	for i, name := range names {
		if math.IsNaN(light[at][i]) {
			v.Notes = append(v.Notes, name+": lies inside a rack, so nothing is predicted there; it is left out")
			continue
		}
		predicted[name] = light[at][i] * v.Day.Total() / v.Day.BallastFactor.Value
	}
	v.compare(names, readings, predicted, at)
	v.areas(s, readings, predicted, side)
	if at == 0 {
		v.correct(side)
	}
	v.Warnings = conditions(s.Conditions, side.From).Warnings()
	return v, r, nil
}

// conditions completes what the job knows.
func conditions(c survey.Conditions, from *job.System) survey.Conditions {
	c.LED = from.Lamp != nil && from.Lamp.LED
	if math.IsNaN(c.RatedCelsius) && from.Lamp != nil && !c.LED {
		c.RatedCelsius = from.Lamp.RatedAtCelsius
	}
	return c
}

func dayOf(c survey.Conditions) Day {
	return Day{HoursBurnt: c.HoursBurnt, MonthsSinceCleaning: c.MonthsSinceCleaning, AmbientCelsius: c.AmbientCelsius, FailedShare: c.FailedShare}
}

// place notes where each station that was read lies, and returns their names in the order of the file.
func (v *Verification) place(readings survey.Readings, planned []survey.Station) []string {
	means := readings.Means()
	var names []string
	for _, l := range readings.Lines {
		if _, known := v.Positions[l.Station]; known || math.IsNaN(means[l.Station]) || !l.Taken() {
			continue
		}
		station := survey.Station{Name: l.Station, Place: "a place of the reader's own", Role: survey.GridPoint}
		for _, p := range planned {
			if p.Name == l.Station {
				station = p
			}
		}
		station.Position, station.Normal = l.Position, l.Normal()
		v.Positions[l.Station] = station
		names = append(names, l.Station)
	}
	return names
}

// compare sets the stations against their prediction.
func (v *Verification) compare(names []string, readings survey.Readings, predicted map[string]float64, at int) {
	means := readings.Means()
	doubt := v.Prediction.Sides[at].Average
	relative := 0.0
	if doubt.Predicted > 0 {
		relative = doubt.StandardDeviation / doubt.Predicted
	}
	common, _ := v.Budget.Split()
	var pairs []survey.Pair
	for _, name := range names {
		if p, ok := predicted[name]; ok {
			pairs = append(pairs, survey.Pair{Station: name, Predicted: p, Measured: means[name], PredictedStandard: relative * p,
				MeasuredStandard: v.Budget.Standard() * means[name]})
		}
	}
	v.Comparison = survey.Compare(pairs, math.Hypot(common.Standard(), relative))
}

// areas averages each planned area as far as it was read, and tests the criteria of its grid.
func (v *Verification) areas(s Survey, readings survey.Readings, predicted map[string]float64, side Side) {
	means := readings.Means()
	for _, a := range s.Areas {
		if !anyRead(a.Stations, means) {
			continue
		}
		measured, err := a.Average(means)
		if err != nil {
			v.Notes = append(v.Notes, fmt.Sprintf("%s: no average: %v", a.Grid, err))
			continue
		}
		area := VerifiedArea{Grid: a.Grid, Plan: a.Plan, Measured: measured, Budget: append(survey.Budget{}, v.Budget...)}
		area.Predicted, _ = a.Average(predicted) // of the same stations; no light where one lies inside a rack
		if again, ok := readings.Repeatability(measured); ok {
			area.Budget = append(area.Budget, again)
		}
		if a.Arrangement != survey.PointGrid {
			area.Budget = append(area.Budget, survey.StationMethod())
		}
		for _, criterion := range v.result.Verdicts {
			if criterion.Grid == a.Grid {
				if d, ok := v.decide(criterion.Criterion, area, means, side); ok {
					area.Decisions = append(area.Decisions, d)
				}
			}
		}
		v.Areas = append(v.Areas, area)
	}
}

func anyRead(stations []survey.Station, means map[string]float64) bool {
	for _, s := range stations {
		if _, read := means[s.Name]; read {
			return true
		}
	}
	return false
}

// decide tests a criterion; ok is false where readings give no value for it.
func (v *Verification) decide(c levels.Criterion, area VerifiedArea, means map[string]float64, side Side) (d Decided, ok bool) {
	least, most := area.extremes(means)
	average := area.Measured.Value
	var value, relative float64
	switch c.Statistic {
	case levels.Average:
		value, relative = average, area.Budget.Standard()
	case levels.Minimum:
		value, relative, d.Station = means[least], v.Budget.Standard(), least
	case levels.Maximum:
		value, relative, d.Station = means[most], v.Budget.Standard(), most
	case levels.AverageToMinimum:
		value, relative = average/means[least], math.Hypot(area.Budget.Standard(), v.Budget.Standard())
	case levels.MaximumToMinimum:
		value, relative = means[most]/means[least], math.Sqrt2*v.Budget.Standard()
	case levels.PowerDensity:
		return d, false
	}
	if math.IsNaN(value) || math.IsInf(value, 0) {
		return d, false
	}
	ahead := 1.0 // what time still takes
	if c.Unit != levels.Ratio {
		ahead = side.Losses.Total() / v.Day.Total()
	}
	limit := c.RequiredIn(false)
	d.Criterion = c
	d.Found = survey.Decide(value, value*relative, limit, c.AtLeast, v.Confidence)
	d.Carried = survey.Decide(value*ahead, value*ahead*relative, limit, c.AtLeast, v.Confidence)
	return d, true
}

// extremes names the stations of the area with the least and the most light.
func (a VerifiedArea) extremes(means map[string]float64) (least, most string) {
	for _, s := range a.Plan.Stations {
		value, read := means[s.Name]
		if !read {
			continue
		}
		if least == "" || value < means[least] {
			least = s.Name
		}
		if most == "" || value > means[most] {
			most = s.Name
		}
	}
	return least, most
}

// correct carries the readings of the existing lighting over to the proposed.
func (v *Verification) correct(existing Side) {
	i := -1
	for k, a := range v.Areas {
		if a.Grid == existing.Grids[0].Name && a.Measured.Value > 0 && a.Predicted.Value > 0 {
			i = k
		}
	}
	proposed := v.result.Proposed.Grids[0].Statistics
	if i < 0 || !(proposed.Average > 0) {
		v.Notes = append(v.Notes, "the prediction for the proposed lighting is not corrected: the work plane was not read, or has no light")
		return
	}
	a := v.Areas[i]
	budget := append(survey.Budget{}, v.Budget...) // the method of stations cancels: both averages are by the same stations
	if len(a.Budget) > len(budget) && a.Plan.Arrangement == survey.PointGrid {
		budget = a.Budget
	}
	t := survey.Transfer{MeasuredExisting: a.Measured.Value, MeasuredStandard: budget.Standard(), PredictedExisting: a.Predicted.Value, PredictedProposed: proposed.Average}
	for _, e := range v.Prediction.Inputs {
		t.Inputs = append(t.Inputs, survey.Input{Name: e.Name(), Existing: e.Standard[0], Proposed: e.Standard[1]})
	}
	c := survey.Calibrate(t)
	v.Correction = &Correction{Corrected: c, Minimum: proposed.Minimum * c.Factor}
	for _, in := range t.Inputs {
		if math.Abs(in.Proposed-in.Existing) < math.Abs(in.Proposed)/2 {
			v.Correction.Inputs = append(v.Correction.Inputs, in.Name)
		}
	}
}

// Proven tells whether every criterion that was tested conforms, as found on the day.
func (v *Verification) Proven() bool {
	for _, a := range v.Areas {
		for _, d := range a.Decisions {
			if d.Found.Outcome != survey.Conforms {
				return false
			}
		}
	}
	return true
}

// Sentence is what the readings prove, in plain words.
func (v *Verification) Sentence() string {
	c := v.Comparison
	words := fmt.Sprintf("The readings are %.0f percent of what is predicted for the day (%d stations, standard uncertainty %.0f percent)", 100*c.Mean, len(c.Stations), 100*c.Standard)
	tested, open, missed := 0, 0, 0
	for _, a := range v.Areas {
		for _, d := range a.Decisions {
			tested++
			switch d.Found.Outcome {
			case survey.NotProven:
				open++
			case survey.DoesNotConform:
				missed++
			case survey.Conforms:
			}
		}
	}
	switch {
	case tested == 0:
		return words + "; no criterion was tested."
	case missed > 0:
		return fmt.Sprintf("%s; %d of %d criteria are NOT met as found, at %.0f percent confidence.", words, missed, tested, 100*v.Confidence)
	case open > 0:
		return fmt.Sprintf("%s; %d of %d criteria are not proven either way, at %.0f percent confidence.", words, open, tested, 100*v.Confidence)
	}
	return fmt.Sprintf("%s; every criterion tested is met as found, at %.0f percent confidence.", words, 100*v.Confidence)
}
