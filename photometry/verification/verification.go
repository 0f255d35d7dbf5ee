package verification

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"lampswap/photometry"
	"lampswap/photometry/job"
	"lampswap/photometry/lighting"
	"lampswap/photometry/losses"
	"lampswap/photometry/metrology"
	"lampswap/photometry/study"
	"lampswap/photometry/survey"
	"lampswap/photometry/uncertainty"
)

// A Survey is what was measured, where, with what and when.
type Survey struct {
	System     string // "existing" or "proposed": whose luminaires burned
	Areas      []Area // where it was planned to measure
	Readings   survey.Readings
	Meter      metrology.Meter
	Factor     float64 // the meter's calibration factor, by which readings are multiplied; 0 is 1
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
	Day        losses.Factors       // losses on the day of the readings
	Budget     metrology.Budget     // of one reading
	Comparison metrology.Comparison // station by station, lx
	Positions  map[string]survey.Station
	Areas      []VerifiedArea
	Unresolved []Unresolved // while there are any, no criterion is proven
	Slips      []string     // stations unlike the others, not read again
	Struck     []Struck     // readings that were struck out
	Prediction *uncertainty.Uncertainty
	Correction *Correction // of the proposed system by readings of the existing one; nil for readings of the proposed
	Notes      []string
	Warnings   []survey.Warning
	Doubts     []string // what of the readings themselves takes from what they prove, a few words each
	Confidence float64
	meter      metrology.Meter
	daylight   survey.Daylight // what daylight was in the readings
	result     *study.Result
}

// A VerifiedArea is the average of one area by its plan's formula, with what it proves.
type VerifiedArea struct {
	Grid      string
	Plan      survey.Plan
	Missing   []string         // stations of the plan that were not read
	Measured  survey.Average   // lx; NaN where too few stations were read to form it
	Predicted survey.Average   // by the same formula, for the day of the readings; NaN likewise
	Without   survey.Average   // as measured without the stations that are unlike the others; NaN where there are none, or no average without them
	Reading   metrology.Budget // of the average beside its prediction, which is formed in the same way at the same stations
	Budget    metrology.Budget // of the average as the average of the area
	Decisions []Decided
	Undecided []Undecided
	scatters  bool // its budget holds how its readings scatter
}

// Expanded returns what the measured average may be off by, lx, for a probability of 95 percent, and the coverage factor of that.
func (a VerifiedArea) Expanded() (off, k float64) {
	return a.Budget.Expanded(twoSided) * a.Measured.Value, a.Budget.CoverageFactor(twoSided)
}

// twoSided is the probability of the intervals that stand beside values.
const twoSided = 0.95

// Ratio returns measured over predicted average, and its standard uncertainty by the readings; NaN where there is no average.
func (a VerifiedArea) Ratio() (ratio, standard float64) {
	if !(a.Predicted.Value > 0) {
		return math.NaN(), math.NaN()
	}
	ratio = a.Measured.Value / a.Predicted.Value
	return ratio, ratio * a.Reading.Standard()
}

// A Correction is the proposed system as predicted and as predicted from readings of the existing one.
type Correction struct {
	metrology.Corrected          // of the maintained average of the work plane, lx
	Minimum             float64  // of the work plane, corrected by the same factor, lx
	Inputs              []string // what the readings take away most of
}

// ErrNoReadings says that no station was read.
var ErrNoReadings = errors.New("verification: no station was read")

// Run works the job out and holds the readings against it; progress may be nil. The error is a diag.List for readings that fit no station,
// else as of study.Run.
func Run(ctx context.Context, j *job.Job, s Survey, progress lighting.Progress) (*Verification, *study.Result, error) {
	if !j.OneKind() {
		return nil, nil, job.ErrKinds
	}
	var planned []survey.Station
	for _, a := range s.Areas {
		planned = append(planned, a.Stations...)
	}
	if s.Factor > 0 && s.Factor != 1 {
		s.Readings = s.Readings.Corrected(s.Factor)
	}
	readings, notes, err := s.Readings.Match(planned, j.Imperial)
	if err != nil {
		return nil, nil, err
	}
	v := &Verification{System: s.System, Notes: notes, Confidence: s.Confidence, meter: s.Meter, daylight: s.Conditions.Daylight, Budget: s.Meter.Budget(), Positions: map[string]survey.Station{}}
	names := v.place(readings, planned)
	if len(names) == 0 {
		return nil, nil, ErrNoReadings
	}
	s.Conditions.MeterUnitNotNoted = !readings.UnitNoted()
	spots := make([]study.Spot, len(names))
	for i, name := range names {
		spots[i] = study.Spot{Position: v.Positions[name].Position, Normal: v.Positions[name].Normal}
	}
	r, light, err := study.RunAt(ctx, j, spots, progress)
	if err != nil {
		return nil, nil, err
	}
	v.result = r
	if v.Prediction, err = uncertainty.Run(ctx, j, r.Sides(), progress); err != nil {
		return nil, nil, err
	}
	at := 1
	if s.System == "existing" {
		at = 0
	}
	side := r.Sides()[at]
	v.Day = lossesOn(j, side, s.Conditions)
	predicted, other := v.predict(names, light, at)
	if s.Factor > 0 && s.Factor != 1 {
		v.Notes = append(v.Notes, fmt.Sprintf("readings are multiplied by the meter's calibration factor of %g", s.Factor))
	}
	if s.Meter.Class != "" && s.Meter.Calibration > 0 {
		v.Notes = append(v.Notes, "the uncertainty on the meter's certificate is not counted besides its class, which includes calibration")
	}
	v.compare(names, readings, predicted, at)
	v.average(s, readings, predicted, side)
	v.resolve(s, readings, other)
	v.decide(readings, side, s.Conditions.Daylight)
	if at == 0 {
		v.correct(side)
	}
	c := v.conditions(s.Conditions, side.From, readings.Unit)
	v.Warnings, v.Doubts = c.Warnings(), slices.Concat(c.Doubts(), v.unread(), v.struckWords(readings))
	return v, r, nil
}

// predict returns the light at the stations on the day, lx, and that which the other system of the job would give there.
func (v *Verification) predict(names []string, light [][]float64, at int) (predicted, other map[string]float64) {
	predicted, other = map[string]float64{}, map[string]float64{}
	beside := v.result.Sides()[1-at].Losses
	for i, name := range names {
		if math.IsNaN(light[at][i]) {
			v.Notes = append(v.Notes, name+": lies inside a rack, so nothing is predicted there; it is left out")
			continue
		}
		predicted[name] = light[at][i] * v.Day.Total() / v.Day.BallastFactor.Value
		other[name] = light[1-at][i] * beside.Total() / beside.BallastFactor.Value
	}
	return predicted, other
}

// conditions completes what the job knows, and what the prediction takes for what was not written down.
func (v *Verification) conditions(c survey.Conditions, from *job.System, unit survey.Unit) survey.Conditions {
	c.LED = from.Lamp != nil && from.Lamp.LED
	if math.IsNaN(c.RatedCelsius) && from.Lamp != nil && !c.LED {
		c.RatedCelsius = from.Lamp.RatedAtCelsius
	}
	c.TakenInstead = v.takenInstead(from, unit)
	return c
}

// takenInstead tells by the key of a condition what the prediction for the day takes where nothing was written down.
func (v *Verification) takenInstead(from *job.System, unit survey.Unit) map[string]string {
	day, upkeep := v.Day, v.result.Job.Upkeep
	dirt := fmt.Sprintf("luminaires at %.3f and room surfaces at %.3f", day.LuminaireDirtDepreciation.Value, day.RoomSurfaceDirtDepreciation.Value)
	if from.Losses.LuminaireDirtDepreciation == nil || from.Losses.RoomSurfaceDirtDepreciation == nil {
		dirt = fmt.Sprintf("%.0f months of dirt, ", 12*from.Care.CleanYears) + dirt
	}
	return map[string]string{
		"hours_burnt":  fmt.Sprintf("lamps at %.3f of their initial lumens, as by the job's loss factors", day.LampLumenDepreciation.Value),
		"warm_up":      "lamps at full light",
		"cleaning":     dirt,
		"voltage":      fmt.Sprintf("the job's factor for voltage, %.3f", day.Voltage.Value),
		"temperature":  "the job's " + photometry.Degrees(upkeep.AmbientCelsius),
		"daylight":     "no daylight",
		"failed_lamps": fmt.Sprintf("the job's factor for lamps out, %.3f", day.LampBurnout.Value),
		"meter_unit":   fmt.Sprintf("%v, as the header of the readings", unit),
		"calibration":  "the meter as good as it is stated to be",
	}
}

// place notes where each station that was read lies, and returns their names in the order of the file.
func (v *Verification) place(readings survey.Readings, planned []survey.Station) []string {
	var names []string
	for _, l := range readings.Lines {
		if _, known := v.Positions[l.Station]; known || !l.Counts() {
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
	var pairs []metrology.Pair
	for _, name := range names {
		if p, ok := predicted[name]; ok {
			pairs = append(pairs, metrology.Pair{Station: name, Predicted: p, Measured: means[name], PredictedStandard: relative * p,
				MeasuredStandard: v.at(name, readings).Standard() * means[name]})
		}
	}
	v.Comparison = metrology.Compare(pairs, math.Hypot(common.Standard(), relative))
}

// correct carries the readings of the existing lighting over to the proposed.
func (v *Verification) correct(existing lighting.Side) {
	for _, u := range v.Unresolved {
		if u.Key != "beyond" { // what is off everywhere by the same share is what a correction is for
			v.Notes = append(v.Notes, "the prediction for the proposed lighting is not corrected: "+u.Short)
			return
		}
	}
	i := -1
	for k, a := range v.Areas {
		if ratio, _ := a.Ratio(); a.Grid == existing.Grids[0].Name && ratio > 0 {
			i = k
		}
	}
	proposed := v.result.Proposed.Grids[0].Statistics
	if i < 0 || !(proposed.Average > 0) {
		v.Notes = append(v.Notes, "the prediction for the proposed lighting is not corrected: there is no average of the work plane, or no light")
		return
	}
	a := v.Areas[i]
	t := metrology.Transfer{MeasuredExisting: a.Measured.Value, MeasuredStandard: a.Reading.Standard(), PredictedExisting: a.Predicted.Value, PredictedProposed: proposed.Average}
	for _, e := range v.Prediction.Inputs {
		t.Inputs = append(t.Inputs, metrology.Input{Name: e.Name(), Existing: e.Standard[0], Proposed: e.Standard[1]})
	}
	c := metrology.Calibrate(t)
	v.Correction = &Correction{Corrected: c, Minimum: proposed.Minimum * c.Factor}
	for _, in := range t.Inputs {
		if math.Abs(in.Proposed-in.Existing) < math.Abs(in.Proposed)/2 {
			v.Correction.Inputs = append(v.Correction.Inputs, in.Name)
		}
	}
}
