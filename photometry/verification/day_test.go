package verification_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"lampswap/photometry/losses"
	"lampswap/photometry/survey"
	"lampswap/photometry/verification"
)

// On the day of new lamps and clean surfaces nothing is lost but what the job gives; with the job's own hours and months the day's
// losses are the job's.
func TestLossesOnADay(t *testing.T) {
	r := run(t, "ballast_factor = 0.9", "lamp = \"F32T8/800\"\nballast_factor = 0.9", "clean_months = 12.0", "clean_months = 12.0\nrelamp_hours = 12000", upkeep, "[proposed.losses]\nvoltage = 0.98\n"+upkeep)
	side := r.Sides[1]
	assert.InEpsilon(t, 0.9*0.98, verification.LossesOn(r.Job, side, survey.Conditions{AmbientCelsius: math.NaN()}).Total(), rounding)
	end := survey.Conditions{HoursBurnt: 12000, MonthsSinceCleaning: 12, AmbientCelsius: math.NaN(), FailedShare: math.NaN()}
	assert.InEpsilon(t, side.Losses.Total(), verification.LossesOn(r.Job, side, end).Total(), rounding)
	nothing := survey.Conditions{HoursBurnt: math.NaN(), MonthsSinceCleaning: math.NaN(), AmbientCelsius: math.NaN(), FailedShare: math.NaN()}
	assert.Equal(t, side.Losses, verification.LossesOn(r.Job, side, nothing))
	dark := end
	dark.FailedShare = 0.1
	assert.InEpsilon(t, 0.9*side.Losses.Total(), verification.LossesOn(r.Job, side, dark).Total(), rounding)
	cold := end
	cold.AmbientCelsius = 4
	assert.Equal(t, losses.FromEstimate, verification.LossesOn(r.Job, side, cold).Temperature.From)
	own := run(t, upkeep, "[proposed.losses]\nlamp_lumen_depreciation = 0.8\nluminaire_dirt_depreciation = 0.7\nroom_surface_dirt_depreciation = 0.6\n"+upkeep)
	assert.InEpsilon(t, 0.8*0.7*0.6*0.9, verification.LossesOn(own.Job, own.Sides[1], survey.Conditions{AmbientCelsius: math.NaN()}).Total(), rounding, "what the job gives stays")
}
