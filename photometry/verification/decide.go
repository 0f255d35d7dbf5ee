package verification

import (
	"errors"
	"math"
	"slices"

	"lampswap/photometry/levels"
	"lampswap/photometry/lighting"
	"lampswap/photometry/metrology"
	"lampswap/photometry/room"
	"lampswap/photometry/survey"
)

// Decided is a criterion tested by readings: as found on the day, and carried on to the end of relamping and cleaning, where the
// criteria of a maintained level hold. What the carrying rests on is computed, and its doubt is not in the decision.
type Decided struct {
	levels.Criterion
	Claimed float64 // of the maintained light of the grid by the job; NaN where there is no value
	Station string  // of the reading that decides, for a minimum or a maximum
	Found   metrology.Decision
	Carried metrology.Decision
	// Doubts keep readings from deciding. An outcome that they forbid is taken back to NotProven, and the probability is then that of the
	// readings as they stand.
	Doubts []Doubt
}

// Undecided is a criterion of a measured grid for which the readings give no value.
type Undecided struct {
	levels.Criterion
	Claimed float64 // as in Decided
	Reason  Doubt
}

// A bias is the side on which readings may lie from what is asked for, and why.
type bias struct {
	high, low bool // the value may be above, or below, the true one by more than its uncertainty
	Doubt
}

// average forms the averages of each planned area that was read at all, or is asked for.
func (v *Verification) average(s Survey, readings survey.Readings, predicted map[string]float64) {
	measured := map[string]bool{}
	for _, a := range s.Areas {
		measured[a.Grid] = true
		v.Areas = append(v.Areas, v.averageOf(a, readings, predicted))
	}
	for _, verdict := range v.Result.Verdicts {
		g := verdict.Grid
		switch {
		case verdict.Statistic == levels.Glare:
			v.note(Note{Code: ProvesNoGlare, Of: verdict.Name})
		case verdict.Statistic == levels.ColorRendering:
			v.note(Note{Code: ProvesNoColor, Of: verdict.Name})
		case !verdict.Statistic.OfGrid() || measured[g]:
		case v.Cylinders(g):
			measured[g] = true
			v.note(Note{Code: ProvesNoCylinder, Of: g})
		default:
			measured[g] = true
			v.note(Note{Code: NotPlanned, Of: g})
		}
	}
}

// Cylinders tells that a grid of the job is one of cylinders.
func (v *Verification) Cylinders(name string) bool {
	return slices.ContainsFunc(v.Result.Existing().Grids, func(g lighting.Grid) bool { return g.Name == name && g.Quantity() == room.Cylindrical })
}

// decide tests the criteria of each area. Areas that were not read and of which nothing is asked are left out then. While anything is
// unresolved no criterion is proven, and each says why.
func (v *Verification) decide(readings survey.Readings, light survey.Daylight) {
	var all []VerifiedArea
	for _, area := range v.Areas {
		area.Without = v.without(area, readings.Means())
		for _, verdict := range v.Result.Verdicts {
			if verdict.Grid != area.Grid || !verdict.Statistic.OfGrid() {
				continue
			}
			claimed := verdict.Proposed().Value
			if v.System == "existing" {
				claimed = verdict.By[0].Value
			}
			d, reason := v.decided(verdict.Criterion, area, readings, light)
			if reason != nil {
				area.Undecided = append(area.Undecided, Undecided{verdict.Criterion, claimed, *reason})
				continue
			}
			d.Claimed = claimed
			area.Decisions = append(area.Decisions, d)
		}
		if len(area.Missing) < len(area.Plan.Stations) || len(area.Undecided) > 0 {
			all = append(all, area)
		}
	}
	v.Areas = all
}

// whole makes of the averages over stations that are a sample those of the grid: the prediction of the grid for the day, and that times
// measured over predicted at the stations. Source: ratio estimation, Cochran, Sampling Techniques, 3rd ed., ch. 6, from memory, unverified.
func (v *Verification) whole(area *VerifiedArea) {
	if grid, maintained := v.today(area.Grid); maintained > 0 && area.Predicted.Value > 0 {
		area.Measured.Value *= grid / area.Predicted.Value
		area.Predicted.Value = grid
		v.note(Note{Code: SampleOfGrid, Of: area.Grid})
		return
	}
	area.Measured.Value, area.Predicted.Value = math.NaN(), math.NaN()
}

// without is an area's average without some stations.
func (v *Verification) without(a VerifiedArea, means map[string]float64) survey.Average {
	none := survey.Average{Value: math.NaN()}
	if !slices.ContainsFunc(v.Slips, func(name string) bool { return a.Measured.Weights[name] > 0 }) {
		return none
	}
	kept, predicted := map[string]float64{}, map[string]float64{}
	for _, d := range v.Comparison.Stations {
		if !slices.Contains(v.Slips, d.Station) {
			kept[d.Station], predicted[d.Station] = means[d.Station], d.Predicted
		}
	}
	average, err := a.Plan.Average(kept)
	if err != nil {
		return none
	}
	if beside, err := a.Plan.Average(predicted); a.Plan.Sampled {
		if err != nil || !(beside.Value > 0) {
			return none
		}
		average.Value *= a.Predicted.Value / beside.Value
	}
	return average
}

// averageOf forms an area's averages, with what makes the measured one uncertain. Without them they are NaN, with a note.
func (v *Verification) averageOf(a Area, readings survey.Readings, predicted map[string]float64) VerifiedArea {
	none := survey.Average{Value: math.NaN()}
	area := VerifiedArea{Grid: a.Grid, Plan: a.Plan, Measured: none, Predicted: none, Without: none, Reading: append(metrology.Budget{}, v.Budget...)}
	means := readings.Means()
	for _, s := range a.Stations {
		if _, read := means[s.Name]; !read {
			area.Missing = append(area.Missing, s.Name)
		}
	}
	measured, err := a.Average(means)
	if missing, ok := errors.AsType[*survey.MissingError](err); ok {
		if len(area.Missing) > 0 { // more than those that no other stands for
			missing.Stations = area.Missing
		}
		if len(area.Missing) < len(a.Stations) {
			v.note(Note{Code: NoAverage, Of: a.Grid, Missing: missing.Stations})
		}
	} else {
		area.Measured = measured
		if p, err := a.Average(predicted); err == nil { // of the same stations; no light where one lies inside a rack
			area.Predicted = p
		}
		scatter, ok := survey.Residual(means, predicted, measured)
		if !ok {
			scatter, ok = readings.Repeatability(measured)
		}
		if digits, ok := v.meter.DigitsOf(readings.StepOf(measured.Weights), measured.Value); ok {
			area.Reading = append(area.Reading, digits)
		}
		if area.scatters = ok; ok {
			area.Reading = append(area.Reading, scatter)
		}
	}
	if a.Sampled {
		v.whole(&area)
	}
	for _, n := range area.Measured.Notes {
		v.note(Note{Code: InReadings, Of: a.Grid, Survey: n})
	}
	area.Budget = append(metrology.Budget{}, area.Reading...)
	if a.Arrangement != survey.PointGrid {
		area.Budget = append(area.Budget, survey.StationMethod())
	}
	return area
}

// decided tests a criterion; where readings give no value for it, there is a reason.
func (v *Verification) decided(c levels.Criterion, area VerifiedArea, readings survey.Readings, light survey.Daylight) (d Decided, reason *Doubt) {
	means := readings.Means()
	least, most := area.extremes(means)
	average := area.Measured.Value
	var value float64
	var off metrology.Budget // of the value
	switch c.Statistic {
	case levels.Average:
		value, off = average, area.Budget
	case levels.Minimum:
		value, off, d.Station = means[least], v.at(least, readings), least
	case levels.Maximum:
		value, off, d.Station = means[most], v.at(most, readings), most
	case levels.AverageToMinimum:
		value, off = average/means[least], slices.Concat(area.Budget, v.at(least, readings))
	case levels.MaximumToMinimum:
		value, off = means[most]/means[least], slices.Concat(v.at(most, readings), v.at(least, readings))
	case levels.PowerDensity, levels.Glare, levels.ColorRendering: // of no grid
		value = math.NaN()
	}
	switch {
	case least == "" || math.IsNaN(value) && len(area.Missing) > 0:
		return d, &Doubt{Why: ByUnread, Stations: len(area.Missing)}
	case math.IsNaN(average) && (c.Statistic == levels.Average || c.Statistic == levels.AverageToMinimum):
		return d, &Doubt{Why: ByRacks}
	case math.IsNaN(value) || math.IsInf(value, 0):
		return d, &Doubt{Why: ByZero}
	case c.Unit != levels.Ratio && !(v.ahead(area.Grid, d.Station) > 0):
		return d, &Doubt{Why: ByLosses}
	}
	ahead := 1.0 // what time still takes
	if c.Unit != levels.Ratio {
		ahead = v.ahead(area.Grid, d.Station)
	}
	limit := c.RequiredIn(false)
	biases := biasesOf(c.Statistic, len(area.Missing), light)
	if !area.Plan.EveryPoint() && c.Statistic != levels.Average {
		biases = append(biases, bias{high: c.Statistic == levels.Minimum, low: c.Statistic != levels.Minimum, Doubt: Doubt{Why: BySample}})
	}
	for i := range v.Unresolved {
		biases = append(biases, bias{high: true, low: true, Doubt: Doubt{Why: ByUnresolved, Open: &v.Unresolved[i]}})
	}
	relative, freedom := off.Standard(), max(1, off.Freedom())
	d.Criterion = c
	d.Found = held(metrology.Decide(value, value*relative, freedom, limit, c.AtLeast, v.Confidence), biases)
	d.Carried = held(metrology.Decide(value*ahead, value*ahead*relative, freedom, limit, c.AtLeast, v.Confidence), biases)
	for _, b := range biases {
		d.Doubts = append(d.Doubts, b.Doubt)
	}
	return d, nil
}

// ahead is what time still takes from the light of a grid, or of one station in it, after the day; 0 where nothing is left to carry on.
func (v *Verification) ahead(grid, station string) float64 {
	if len(v.Days) == 1 {
		if day := v.Days[0]; day.Total() > 0 {
			return day.kind.Losses.Total() / day.Total()
		}
		return 0
	}
	if station != "" {
		return v.carried[station]
	}
	if day, maintained := v.today(grid); day > 0 {
		return maintained / day
	}
	return 0
}

// at is what makes the reading of one station uncertain: the meter, and the scatter of repeated readings where there are any.
func (v *Verification) at(station string, readings survey.Readings) metrology.Budget {
	off := slices.Clone(v.Budget)
	if digits, ok := v.meter.DigitsOf(readings.StepOf(map[string]float64{station: 1}), readings.Means()[station]); ok {
		off = append(off, digits)
	}
	if again, ok := readings.Repeatability(survey.Average{Weights: map[string]float64{station: 1}}); ok {
		off = append(off, again)
	}
	return off
}

// biasesOf tells on which side of the truth a statistic of readings may lie. Daylight adds to what the lamps give, and to a ratio it may
// do either. Where stations were not read there may be less light than the least that was read, or more than the most; an average
// that could be formed stands, as by its own rule of what may be missing.
func biasesOf(s levels.Statistic, missing int, light survey.Daylight) []bias {
	var all []bias
	if light == survey.DaylightPresent {
		all = append(all, bias{high: true, low: s.Ratio(), Doubt: Doubt{Why: ByDaylight}})
	}
	if missing > 0 && s != levels.Average {
		all = append(all, bias{high: s == levels.Minimum, low: s != levels.Minimum, Doubt: Doubt{Why: ByUnread, Stations: missing}})
	}
	return all
}

// held takes back an outcome that readings on the wrong side of the truth would give as well.
func held(d metrology.Decision, biases []bias) metrology.Decision {
	for _, b := range biases {
		high := d.Outcome == metrology.Conforms && d.AtLeast || d.Outcome == metrology.DoesNotConform && !d.AtLeast // rests on much light
		if d.Outcome != metrology.NotProven && (high && b.high || !high && b.low) {
			d.Outcome = metrology.NotProven
		}
	}
	return d
}

// extremes names the stations of the area with the least and the most light; empty if none was read.
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

// Proven tells whether every criterion of the measured grids conforms, as found on the day, and nothing is unresolved. A job that asks for nothing there leaves
// nothing to prove.
func (v *Verification) Proven() bool {
	_, missed, open := v.Count()
	return missed == 0 && open == 0 && len(v.Unresolved) == 0
}

// Count returns how many criteria the measured grids have, how many are shown not to be met, and how many are not proven either way.
func (v *Verification) Count() (asked, missed, open int) {
	for _, a := range v.Areas {
		asked += len(a.Decisions) + len(a.Undecided)
		open += len(a.Undecided)
		for _, d := range a.Decisions {
			switch d.Found.Outcome {
			case metrology.NotProven:
				open++
			case metrology.DoesNotConform:
				missed++
			case metrology.Conforms:
			}
		}
	}
	return asked, missed, open
}
