package verification_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry/metrology"
	"lampswap/photometry/survey"
	"lampswap/photometry/wording"
)

// Stations that are a sample stand for the grid beside its prediction: the average found is the grid's times measured over predicted, not the
// mean of the readings; a minimum is disproved by them and never proven.
func TestASampleStandsForTheGrid(t *testing.T) {
	level := []string{upkeep, rule("average", "at_least", 100) + rule("minimum", "at_least", 30) + rule("maximum", "at_most", 5000) + upkeep}
	s := surveyed(t, "proposed", 0.9, level...)
	a := &s.Areas[0].Plan
	a.Arrangement, a.Sampled = survey.PointGrid, true
	a.Stations = a.Stations[:4] // of the brightest part
	s.Readings.Lines = s.Readings.Lines[:4]
	v := verified(t, s, level...)
	r := run(t, level...)
	grid := r.Proposed().Grids[0].Statistics.Average * v.Day.Total() / r.Proposed().Losses.Total()
	area := v.Areas[0]
	assert.InEpsilon(t, grid, area.Predicted.Value, rounding)
	assert.InEpsilon(t, 0.9*grid, area.Measured.Value, 1e-9)
	mean := 0.0
	for _, l := range s.Readings.Lines {
		mean += l.Value / 4
	}
	assert.Greater(t, mean, 1.05*area.Measured.Value, "they were read where there is more light")
	require.Len(t, area.Decisions, 3)
	assert.Equal(t, metrology.Conforms, area.Decisions[0].Found.Outcome)
	for _, d := range area.Decisions[1:] {
		assert.Equal(t, metrology.NotProven, d.Found.Outcome, d.Name)
		assert.Equal(t, "stations are a sample", wording.Doubt(d.Doubts...))
	}
	assert.False(t, v.Proven())
	s.Readings.Lines[1].Value = 5
	s.Readings.Lines = append(s.Readings.Lines, s.Readings.Lines[1])
	s.Readings.Lines[1].Time = "21:40"
	v = verified(t, s, level...)
	assert.Empty(t, v.Unresolved)
	assert.Equal(t, metrology.DoesNotConform, v.Areas[0].Decisions[1].Found.Outcome)

	s = surveyed(t, "proposed", 1, level...)
	s.Areas[0].Arrangement, s.Areas[0].Sampled = survey.PointGrid, true
	s.Readings.Lines[0].Value *= 10
	v = verified(t, s, level...)
	assert.Equal(t, []string{"r1"}, v.Slips)
	assert.InEpsilon(t, grid, v.Areas[0].Without.Value, 1e-9)
}
