package losses

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// sheet is a synthetic lamp's data sheet.
var sheet = []OutputPoint{{-10, 0.3}, {10, 0.8}, {25, 1}, {40, 0.9}}

func TestRelativeOutput(t *testing.T) {
	for _, c := range []struct {
		ambient, want float64
		held          bool
	}{
		{-10, 0.3, false}, {0, 0.55, false}, {10, 0.8, false}, {25, 1, false}, {32.5, 0.95, false}, {40, 0.9, false}, {-20, 0.3, true}, {60, 0.9, true},
	} {
		output, by := relativeOutput(sheet, c.ambient)
		assert.InEpsilon(t, c.want, output, 1e-12, "%v", c.ambient) // rounding
		assert.Equal(t, c.held, by.Held, "%v", c.ambient)
	}
	assert.Panics(t, func() { relativeOutput(sheet[:1], 0) })
	assert.Panics(t, func() { relativeOutput(sheet, nan) })
}

func TestRelativeOutputStaysBetweenItsPoints(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		points := make([]OutputPoint, rapid.IntRange(2, 6).Draw(t, "points"))
		ambient := rapid.Float64Range(-40, 0).Draw(t, "first")
		lowest, highest := 2.0, 0.0
		for i := range points {
			points[i] = OutputPoint{ambient, rapid.Float64Range(0.01, 1.2).Draw(t, "output")}
			ambient += rapid.Float64Range(0.5, 20).Draw(t, "step")
			lowest, highest = min(lowest, points[i].RelativeOutput), max(highest, points[i].RelativeOutput)
		}
		require.Empty(t, OutputPointFaults(points))
		output, by := relativeOutput(points, rapid.Float64Range(-60, 100).Draw(t, "ambient"))
		require.True(t, output >= lowest-1e-12 && output <= highest+1e-12)
		require.Equal(t, by.Held, by.Held && (output == points[0].RelativeOutput || output == points[len(points)-1].RelativeOutput))
		for _, p := range points {
			output, by := relativeOutput(points, p.AmbientCelsius)
			require.InEpsilon(t, p.RelativeOutput, output, 1e-12) // rounding
			require.False(t, by.Held)
		}
	})
}

func TestOutputPointFaults(t *testing.T) {
	assert.Empty(t, OutputPointFaults(sheet))
	for _, c := range []struct {
		points []OutputPoint
		want   []PointFault
	}{
		{nil, []PointFault{{All: true, Wrong: "has 0", Want: "at least two points of ambient and relative output"}}},
		{[]OutputPoint{{25, 1}}, []PointFault{{All: true, Wrong: "has 1", Want: "at least two points of ambient and relative output"}}},
		{[]OutputPoint{{10, 0}, {10, 1.3}}, []PointFault{
			{Index: 0, Wrong: "relative output is 0", Want: "a number above 0 and up to 1.2, 1 at the ambient of the lamp's rating"},
			{Index: 1, Wrong: "relative output is 1.3", Want: "a number above 0 and up to 1.2, 1 at the ambient of the lamp's rating"},
			{Index: 1, Wrong: "ambient is not above that of the point before", Want: "ambients that rise from point to point"},
		}},
		{[]OutputPoint{{nan, 0.5}, {10, 1}}, []PointFault{{Index: 0, Wrong: "ambient is no number", Want: "a temperature"}}},
	} {
		assert.Equal(t, c.want, OutputPointFaults(c.points))
	}
}

// A lamp's own points go before any estimate, for an LED tube too, and say where they end and where they do not fit.
func TestAdviceByDataSheet(t *testing.T) {
	s := t8(0)
	s.Points = sheet
	a := TemperatureAdvice(s)
	assert.InEpsilon(t, 0.55, a.Factor.Value, 1e-12) // rounding
	assert.Equal(t, FromJobFile, a.Factor.From)
	assert.Equal(t, Sheet{From: OutputPoint{-10, 0.3}, To: OutputPoint{10, 0.8}}, a.Factor.Why)
	assert.Empty(t, a.Concerns)
	assert.Nil(t, a.Estimate)

	s.AmbientCelsius = -25
	a = TemperatureAdvice(s)
	assert.Equal(t, 0.3, a.Factor.Value)
	assert.Equal(t, []Concern{BeyondPoints}, a.Concerns)

	s.AmbientCelsius, s.RatedAtCelsius = 25, 35
	a = TemperatureAdvice(s)
	assert.Equal(t, 1.0, a.Factor.Value)
	assert.Equal(t, []Concern{PointsOffOne}, a.Concerns)
	assert.InDelta(t, 0.93, a.AtRating, 0.005)

	s.Tube, s.RatedAtCelsius, s.AmbientCelsius = LEDTube, nan, 0
	a = TemperatureAdvice(s)
	assert.InEpsilon(t, 0.55, a.Factor.Value, 1e-12) // rounding
	assert.Empty(t, a.Concerns)

	s.AmbientCelsius = nan
	assert.Equal(t, 1.0, TemperatureAdvice(s).Factor.Value, "an ambient that is not known changes nothing")
}
