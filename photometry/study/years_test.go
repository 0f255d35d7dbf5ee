package study_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const grouped = "lamp = \"F32T8/800\"\nballast_factor = 0.9"

// With lamps replaced as a group, the light is lowest at the end of both cycles, and that is what the job's factors maintain.
func TestTheLowestLightIsTheMaintained(t *testing.T) {
	r := run(t, "ballast_factor = 0.9", grouped, "clean_months = 12.0", "clean_months = 12.0\nrelamp_hours = 12000", upkeep,
		"[[criteria]]\nname = \"lease\"\nat_least = 1\n"+upkeep)
	y := r.Years[1]
	assert.InEpsilon(t, r.Proposed().Grids[0].Statistics.Average, y.Lowest, rounding, "every 4 years both cycles end together")
	assert.InEpsilon(t, r.Proposed().Grids[0].Statistics.Average/r.Proposed().Losses.Total()*0.9, y.Light[0], rounding, "day 0 is initial")
	require.Len(t, y.Below, 1)
	assert.True(t, math.IsNaN(y.Below[0].Years))
}

// The time at which a level is first missed is that at which the course crosses it.
func TestFirstBelow(t *testing.T) {
	text := "[[criteria]]\nname = \"lease\"\nat_least = %s\n"
	base := run(t, "ballast_factor = 0.9", grouped, "clean_months = 12.0", "clean_months = 12.0\nrelamp_hours = 12000")
	between := (base.Years[1].Light[0] + base.Years[1].Lowest) / 2
	r := run(t, "ballast_factor = 0.9", grouped, "clean_months = 12.0", "clean_months = 12.0\nrelamp_hours = 12000", upkeep,
		sprintf(text, between)+upkeep)
	y := r.Years[1]
	at := y.Below[0].Years
	for i, m := range y.Moments {
		switch {
		case m.Years < at*(1-1e-9):
			assert.GreaterOrEqual(t, y.Light[i], between*(1-1e-8), "%v years", m.Years)
		case m.Years > at*(1+1e-9) && m.Years < at+1.0/12:
			assert.Less(t, y.Light[i], between)
		}
	}
	assert.Positive(t, at)
	dark := run(t, upkeep, "[[criteria]]\nname = \"sun\"\nat_least = 100000\n[[criteria]]\nname = \"even\"\nstatistic = \"maximum_to_minimum\"\nat_most = 9\n"+upkeep)
	require.Len(t, dark.Years[0].Below, 1, "evenness does not change with time")
	assert.Zero(t, dark.Years[0].Below[0].Years)
}
