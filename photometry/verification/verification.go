package verification

import (
	"context"
	"errors"
	"math"

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
	Day        losses.Factors       // losses on the day of the readings; NaN where kinds of luminaire differ in them
	Days       []KindDay            // those of each kind of luminaire that burned
	Budget     metrology.Budget     // of one reading
	Comparison metrology.Comparison // station by station, lx
	Positions  map[string]survey.Station
	Areas      []VerifiedArea
	Unresolved []Unresolved // while there are any, no criterion is proven
	Slips      []string     // stations unlike the others, not read again
	Struck     []Struck     // readings that were struck out
	Prediction *uncertainty.Uncertainty
	Correction *Correction // of the proposed system by readings of the existing one; nil for readings of the proposed
	Notes      []Note
	Warnings   []survey.Warning // of the conditions on site
	Doubts     []survey.Doubt   // likewise
	Daylight   survey.Daylight  // what of it was in the readings
	Unit       survey.Unit      // of the readings
	Confidence float64
	meter      metrology.Meter
	Result     *study.Result
	carried    map[string]float64 // maintained light at a station over that on the day, by the prediction
}

// A KindDay is what the luminaires of one kind had lost on the day of the readings.
type KindDay struct {
	Group string
	losses.Factors
	kind lighting.Side
}

// From are the luminaires as the job has them.
func (d KindDay) From() *job.System { return d.kind.From }

// A VerifiedArea is the average of one area by its plan's formula, with what it proves.
type VerifiedArea struct {
	Grid      string
	Plan      survey.Plan
	Missing   []string         // stations of the plan that were not read
	Measured  survey.Average   // lx; NaN where too few stations were read to form it
	Predicted survey.Average   // by the same formula, for the day of the readings; NaN likewise
	Without   survey.Average   // as measured without the stations that are unlike the others; NaN where there are none, or no average without them
	Struck    float64          // as measured with what was struck out; 0 where that changes nothing
	Reading   metrology.Budget // of the average beside its prediction, which is formed in the same way at the same stations
	Budget    metrology.Budget // of the average as the average of the area
	Decisions []Decided
	Undecided []Undecided
	scatters  bool // its budget holds how its readings scatter
}

// Expanded returns what the measured average may be off by, lx, for a probability of 95 percent, and the coverage factor of that.
func (a VerifiedArea) Expanded() (off, k float64) {
	return a.Budget.Expanded(TwoSided) * a.Measured.Value, a.Budget.CoverageFactor(TwoSided)
}

// TwoSided is the probability of the intervals that stand beside values.
const TwoSided = 0.95

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
	var planned []survey.Station
	for _, a := range s.Areas {
		planned = append(planned, a.Stations...)
	}
	if s.Factor > 0 && s.Factor != 1 {
		s.Readings = s.Readings.Corrected(s.Factor)
	}
	readings, notes, err := s.Readings.Match(planned)
	if err != nil {
		return nil, nil, err
	}
	v := &Verification{System: s.System, Confidence: s.Confidence, meter: s.Meter, Budget: s.Meter.Budget(), Positions: map[string]survey.Station{}}
	for _, n := range notes {
		v.note(Note{Code: InReadings, Survey: n})
	}
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
	v.Result = r
	if v.Prediction, err = uncertainty.Run(ctx, j, r.Sides, progress); err != nil {
		return nil, nil, err
	}
	at := 1
	if s.System == "existing" {
		at = 0
	}
	side := r.Sides[at]
	if failed := r.Failed(); at == 0 && failed > 0 {
		v.note(Note{Code: AsFound, Count: failed, All: side.Luminaires})
	}
	v.day(side, s.Conditions)
	predicted, other := v.predict(names, light, at)
	if s.Factor > 0 && s.Factor != 1 {
		v.note(Note{Code: Multiplied, Value: s.Factor})
	}
	if s.Meter.Class != "" && s.Meter.Calibration > 0 {
		v.note(Note{Code: CertificateUncounted})
	}
	v.compare(names, readings, predicted, at)
	v.average(s, readings, predicted)
	v.resolve(s, readings, other)
	v.decide(readings, s.Conditions.Daylight)
	if at == 0 {
		v.correct(side)
	}
	c := v.conditions(s.Conditions)
	v.withStruck(readings)
	v.Warnings, v.Doubts, v.Daylight, v.Unit = c.Warnings(), c.Doubts(), c.Daylight, readings.Unit
	return v, r, nil
}

// day finds the losses of each kind of luminaire of a side on the day of the readings.
func (v *Verification) day(side lighting.Side, c survey.Conditions) {
	c.FailedShare = v.besidesFailed(side.From, c.FailedShare)
	for i, kind := range side.Kinds() {
		f := lossesOn(v.Result.Job, kind, c)
		v.Days = append(v.Days, KindDay{kind.From.Group, f, kind})
		if i == 0 {
			v.Day = f
		} else {
			v.Day = v.Day.Common(f)
		}
	}
}

// besidesFailed is the share of lamps out on the day of those in luminaires that the job has as lit: whoever counts in the room counts the failed
// luminaires too, which the prediction leaves dark already.
func (v *Verification) besidesFailed(from *job.System, share float64) float64 {
	dark, all := 0, 0
	for _, kind := range from.Kinds() {
		dark += len(kind.Use.Failed) * kind.Lamps
		all += len(kind.Layout.Placements) * kind.Lamps
	}
	if math.IsNaN(share) || dark == 0 || all == dark {
		return share
	}
	failed := float64(dark) / float64(all)
	code := LampsOutDark
	if share < failed-1e-9 {
		code = LampsOutDisagree
	}
	v.note(Note{Code: code, Value: share, Failed: failed})
	return max(0, (share-failed)/(1-failed))
}

// predict returns the light at the stations on the day, lx, and that which the other system of the job would give there.
func (v *Verification) predict(names []string, light [][]float64, at int) (predicted, other map[string]float64) {
	predicted, other, v.carried = map[string]float64{}, map[string]float64{}, map[string]float64{}
	sides := v.Result.Sides
	var first [2]int // of the rows of light of the two sides
	first[1] = len(sides[0].Kinds())
	for i, name := range names {
		today, maintained, beside := 0.0, 0.0, 0.0
		for k, day := range v.Days {
			today += light[first[at]+k][i] * day.Total() / day.BallastFactor.Value
			maintained += light[first[at]+k][i] * day.kind.Kept()
		}
		for k, kind := range sides[1-at].Kinds() {
			beside += light[first[1-at]+k][i] * kind.Losses.Total() / kind.Losses.BallastFactor.Value
		}
		if math.IsNaN(today) {
			v.note(Note{Code: InsideRack, Of: name})
			continue
		}
		predicted[name], other[name] = today, beside
		if today > 0 {
			v.carried[name] = maintained / today
		}
	}
	return predicted, other
}

// today is the average of a grid on the day by the prediction, and that which is maintained.
func (v *Verification) today(grid string) (day, maintained float64) {
	for _, d := range v.Days {
		for _, g := range d.kind.Grids {
			if total := d.kind.Losses.Total(); g.Name == grid && total > 0 {
				day += g.Statistics.Average * d.Total() / total
				maintained += g.Statistics.Average
			}
		}
	}
	return day, maintained
}

// conditions completes what the job knows, and what the prediction takes for what was not written down.
func (v *Verification) conditions(c survey.Conditions) survey.Conditions {
	c.LED = true
	for _, d := range v.Days {
		lamp := d.kind.From.Lamp
		c.LED = c.LED && lamp != nil && lamp.LED
		if math.IsNaN(c.RatedCelsius) && lamp != nil && !lamp.LED {
			c.RatedCelsius = lamp.RatedAtCelsius
		}
	}
	return c
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
	for n := range v.Unresolved {
		if u := &v.Unresolved[n]; u.Key != Beyond { // what is off everywhere by the same share is what a correction is for
			v.note(Note{Code: Uncorrected, Open: u})
			return
		}
	}
	i := -1
	for k, a := range v.Areas {
		if ratio, _ := a.Ratio(); a.Grid == existing.Grids[0].Name && ratio > 0 {
			i = k
		}
	}
	proposed := v.Result.Proposed().Grids[0].Statistics
	if i < 0 || !(proposed.Average > 0) {
		v.note(Note{Code: NothingToCorrect})
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
