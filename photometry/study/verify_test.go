package study_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry/study"
	"lampswap/photometry/survey"
)

// surveyed is a survey of the bay by the survey's stations, whose readings are some share of the light of new lamps and clean surfaces,
// worked out, not measured.
func surveyed(t *testing.T, system string, share float64, pairs ...string) study.Survey {
	t.Helper()
	r := run(t, append(pairs, "interreflection = false", "interreflection = true")...)
	j := r.Job
	plan, err := survey.NewPlan(survey.Lattice{Length: j.Room.Length, Width: j.Room.Width, WorkPlane: j.Room.WorkPlane, Rows: 4, Columns: 6})
	require.NoError(t, err)
	spots := make([]study.Spot, len(plan.Stations))
	for i, s := range plan.Stations {
		spots[i] = study.Spot{Position: s.Position, Normal: s.Normal}
	}
	_, light, err := study.RunAt(t.Context(), j, spots, nil)
	require.NoError(t, err)
	side := map[string]int{"existing": 0, "proposed": 1}[system]
	readings := survey.Form(survey.Lux, plan)
	for i := range readings.Lines {
		readings.Lines[i].Value = share * light[side][i]
	}
	meter, ok := survey.ClassMeter("A")
	require.True(t, ok)
	c := survey.NotNoted()
	c.HoursBurnt, c.MonthsSinceCleaning = 0, 0
	return study.Survey{System: system, Areas: []study.Area{{Grid: "work plane", Plan: plan}}, Readings: readings, Meter: meter, Conditions: c, Confidence: 0.95}
}

func verified(t *testing.T, s study.Survey, pairs ...string) *study.Verification {
	t.Helper()
	r := run(t, append(pairs, "interreflection = false", "interreflection = true")...)
	v, _, err := study.Verify(t.Context(), r.Job, s, nil)
	require.NoError(t, err)
	return v
}

const bright = "[[criteria]]\nname = \"floor\"\nat_least = 100\n"

// Readings that are what is predicted prove it: every ratio is 1, and a level well below is met, as found and later.
func TestReadingsAsPredicted(t *testing.T) {
	level := []string{upkeep, bright + upkeep}
	v := verified(t, surveyed(t, "proposed", 1, level...), level...)
	require.Len(t, v.Comparison.Stations, 18)
	for _, d := range v.Comparison.Stations {
		assert.InEpsilon(t, 1, d.Ratio, rounding, d.Station)
	}
	require.Len(t, v.Areas, 1)
	a := v.Areas[0]
	assert.InEpsilon(t, a.Predicted.Value, a.Measured.Value, rounding)
	require.Len(t, a.Decisions, 1)
	d := a.Decisions[0]
	assert.Equal(t, survey.Conforms, d.Found.Outcome)
	assert.True(t, v.Proven())
	// Time takes its share: no lamp is listed, so what dirt takes and the 0.90 of an unknown lamp.
	r := run(t)
	assert.InEpsilon(t, r.Proposed.Losses.Total()/v.Day.Total(), d.Carried.Measured/d.Found.Measured, rounding)
	assert.Less(t, d.Carried.Measured, d.Found.Measured)
	assert.Nil(t, v.Correction)
	assert.Contains(t, v.Sentence(), "100 percent of what is predicted for the day (18 stations")
	assert.Contains(t, v.Sentence(), "every criterion tested is met as found")
	// Class A, 5 percent as a rectangle, and the method of stations, 10 percent likewise: survey.md, 5.77 percent of it alone.
	assert.InDelta(t, math.Hypot(0.05, 0.10)/math.Sqrt(3), a.Budget.Standard(), 1e-12)
}

// A level within the guard band is not proven either way; one well above what was read is not met.
func TestDecisionsFromReadings(t *testing.T) {
	plain := surveyed(t, "proposed", 1)
	found := verified(t, plain).Areas[0].Measured.Value
	for _, c := range []struct {
		share float64
		want  survey.Outcome
		says  string
	}{
		{0.80, survey.Conforms, "is met as found"},
		{0.97, survey.NotProven, "not proven either way"},
		{1.30, survey.DoesNotConform, "NOT met as found"},
	} {
		level := []string{upkeep, sprintf("[[criteria]]\nname = \"level\"\nat_least = %s\n", c.share*found) + upkeep}
		v := verified(t, surveyed(t, "proposed", 1, level...), level...)
		assert.Equal(t, c.want, v.Areas[0].Decisions[0].Found.Outcome, "%v", c.share)
		assert.Equal(t, c.want == survey.Conforms, v.Proven())
		assert.Contains(t, v.Sentence(), c.says)
	}
}

// Readings of the existing lighting correct the prediction after it, and what both share takes no part in its doubt.
func TestReadingsBeforeCorrectThePrediction(t *testing.T) {
	v := verified(t, surveyed(t, "existing", 0.9))
	c := v.Correction
	require.NotNil(t, c)
	r := run(t, "interreflection = false", "interreflection = true")
	assert.InEpsilon(t, 0.9, c.Factor, rounding)
	assert.InEpsilon(t, 0.9*r.Proposed.Grids[0].Statistics.Average, c.Value, rounding)
	assert.InEpsilon(t, 0.9*r.Proposed.Grids[0].Statistics.Minimum, c.Minimum, rounding)
	assert.Contains(t, c.Inputs, "wall reflectance", "the room is the same before and after")
	assert.NotContains(t, c.Inputs, "lamp lumens, existing", "the old lamps say nothing of the new")
	assert.InEpsilon(t, math.Hypot(0.05/math.Sqrt(3), c.Remaining), c.Standard/c.Value, 1e-9, "the meter, and what does not cancel")
}

func TestReadingsThatFitNoStation(t *testing.T) {
	s := surveyed(t, "proposed", 1)
	s.Readings.Lines[0].Station = "zz"
	s.Readings.Lines[0].Position.X, s.Readings.Lines[0].Position.Y = math.NaN(), math.NaN()
	r := run(t)
	_, _, err := study.Verify(t.Context(), r.Job, s, nil)
	assert.ErrorContains(t, err, `"zz" is not in the plan and has no x and y`)
	none := surveyed(t, "proposed", math.NaN())
	_, _, err = study.Verify(t.Context(), r.Job, none, nil)
	assert.ErrorIs(t, err, study.ErrNoReadings)
}

// An evenness rule is tested by the readings too, and a lamp that is out at one station shows as unlike the others.
func TestOneDarkStation(t *testing.T) {
	level := []string{upkeep, "[[criteria]]\nname = \"even\"\nstatistic = \"maximum_to_minimum\"\nat_most = 2\n[[criteria]]\nname = \"least\"\nstatistic = \"minimum\"\nat_least = 50\n" + upkeep}
	s := surveyed(t, "proposed", 1, level...)
	s.Readings.Lines[2].Value /= 5
	v := verified(t, s, level...)
	assert.True(t, v.Comparison.Stations[2].Outlier)
	decisions := v.Areas[0].Decisions
	require.Len(t, decisions, 2)
	assert.Equal(t, survey.DoesNotConform, decisions[0].Found.Outcome)
	assert.Equal(t, decisions[0].Found.Measured, decisions[0].Carried.Measured, "time takes the same share everywhere")
	assert.Equal(t, s.Readings.Lines[2].Station, decisions[1].Station)
	assert.False(t, v.Proven())
}
