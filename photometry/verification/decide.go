package verification

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"lampswap/photometry/levels"
	"lampswap/photometry/lighting"
	"lampswap/photometry/metrology"
	"lampswap/photometry/survey"
)

// Decided is a criterion tested by readings: as found on the day, and carried on to the end of relamping and cleaning, where the
// criteria of a maintained level hold. What the carrying rests on is computed, and its doubt is not in the decision.
type Decided struct {
	levels.Criterion
	Station string // of the reading that decides, for a minimum or a maximum
	Found   metrology.Decision
	Carried metrology.Decision
	// Doubt is what else than the uncertainty keeps readings from deciding, in words; empty where nothing does. An outcome that it
	// forbids is taken back to NotProven, and the probability is then that of the readings as they stand.
	Doubt string
}

// Undecided is a criterion of a measured grid for which the readings give no value.
type Undecided struct {
	levels.Criterion
	Reason string // in words: "12 stations not read"
}

// A bias is the side on which readings may lie from what is asked for, and why.
type bias struct {
	high, low bool // the value may be above, or below, the true one by more than its uncertainty
	why       string
}

// areas averages each planned area as far as it was read, and tests the criteria of its grid.
func (v *Verification) areas(s Survey, readings survey.Readings, predicted map[string]float64, side lighting.Side) {
	means := readings.Means()
	measured := map[string]bool{}
	for _, a := range s.Areas {
		measured[a.Grid] = true
		area := v.average(a, readings, predicted)
		for _, verdict := range v.result.Verdicts {
			if verdict.Grid != a.Grid || verdict.Statistic == levels.PowerDensity {
				continue
			}
			if d, reason := v.decide(verdict.Criterion, area, means, side, s.Conditions.Daylight); reason != "" {
				area.Undecided = append(area.Undecided, Undecided{verdict.Criterion, reason})
			} else {
				area.Decisions = append(area.Decisions, d)
			}
		}
		if len(area.Missing) < len(a.Stations) || len(area.Undecided) > 0 {
			v.Areas = append(v.Areas, area)
		}
	}
	for _, verdict := range v.result.Verdicts {
		if g := verdict.Grid; verdict.Statistic != levels.PowerDensity && !measured[g] {
			measured[g] = true
			v.Notes = append(v.Notes, g+": is not in the plan of measurement, so no criterion there is tested")
		}
	}
}

// average forms an area's averages, with what makes the measured one uncertain. Without them they are NaN, with a note.
func (v *Verification) average(a Area, readings survey.Readings, predicted map[string]float64) VerifiedArea {
	none := survey.Average{Value: math.NaN()}
	area := VerifiedArea{Grid: a.Grid, Plan: a.Plan, Measured: none, Predicted: none, Reading: append(metrology.Budget{}, v.Budget...)}
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
			v.Notes = append(v.Notes, a.Grid+": no average: "+missing.Words())
		}
	} else {
		area.Measured = measured
		if p, err := a.Average(predicted); err == nil { // of the same stations; no light where one lies inside a rack
			area.Predicted = p
		}
		if again, ok := readings.Repeatability(measured); ok {
			area.Reading = append(area.Reading, again)
		}
	}
	for _, n := range area.Measured.Notes {
		v.Notes = append(v.Notes, a.Grid+": "+n)
	}
	area.Budget = append(metrology.Budget{}, area.Reading...)
	if a.Arrangement != survey.PointGrid {
		area.Budget = append(area.Budget, survey.StationMethod())
	}
	return area
}

// decide tests a criterion; where readings give no value for it, the reason is not empty.
func (v *Verification) decide(c levels.Criterion, area VerifiedArea, means map[string]float64, side lighting.Side, light survey.Daylight) (d Decided, reason string) {
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
		value = math.NaN()
	}
	switch {
	case least == "" || math.IsNaN(value) && len(area.Missing) > 0:
		return d, notRead(len(area.Missing))
	case math.IsNaN(average) && (c.Statistic == levels.Average || c.Statistic == levels.AverageToMinimum):
		return d, "no average without the stations that lie inside racks"
	case math.IsNaN(value) || math.IsInf(value, 0):
		return d, "a reading is 0, and so there is no ratio"
	case c.Unit != levels.Ratio && !(v.Day.Total() > 0):
		return d, "the losses of the day leave no light to carry on"
	}
	ahead := 1.0 // what time still takes
	if c.Unit != levels.Ratio {
		ahead = side.Losses.Total() / v.Day.Total()
	}
	limit := c.RequiredIn(false)
	biases := biasesOf(c.Statistic, len(area.Missing), light)
	d.Criterion = c
	d.Found = held(metrology.Decide(value, value*relative, limit, c.AtLeast, v.Confidence), biases)
	d.Carried = held(metrology.Decide(value*ahead, value*ahead*relative, limit, c.AtLeast, v.Confidence), biases)
	var doubts []string
	for _, b := range biases {
		doubts = append(doubts, b.why)
	}
	d.Doubt = strings.Join(doubts, ", ")
	return d, ""
}

func notRead(stations int) string {
	if stations == 1 {
		return "1 station not read"
	}
	return fmt.Sprintf("%d stations not read", stations)
}

// biasesOf tells on which side of the truth a statistic of readings may lie. Daylight adds to what the lamps give, and to a ratio it may
// do either. Where stations were not read there may be less light than the least that was read, or more than the most; an average
// that could be formed stands, as by its own rule of what may be missing.
func biasesOf(s levels.Statistic, missing int, light survey.Daylight) []bias {
	var all []bias
	if light == survey.DaylightPresent {
		all = append(all, bias{high: true, low: s.Ratio(), why: "daylight in the readings"})
	}
	if missing > 0 && s != levels.Average {
		all = append(all, bias{high: s == levels.Minimum, low: s != levels.Minimum, why: notRead(missing)})
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

// Proven tells whether every criterion of the measured grids conforms, as found on the day. A job that asks for nothing there leaves
// nothing to prove.
func (v *Verification) Proven() bool {
	_, missed, open := v.count()
	return missed == 0 && open == 0
}

// count returns how many criteria the measured grids have, how many are shown not to be met, and how many are not proven either way.
func (v *Verification) count() (asked, missed, open int) {
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
