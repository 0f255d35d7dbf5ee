package verification

import (
	"math"

	"lampswap/photometry/job"
	"lampswap/photometry/lighting"
	"lampswap/photometry/losses"
	"lampswap/photometry/survey"
)

// lossesOn returns the loss factors of a side on the day of the readings. A factor that the job gives itself stays; so does one for which
// the conditions say nothing.
func lossesOn(j *job.Job, side lighting.Side, day survey.Conditions) losses.Factors {
	f := side.Losses
	f.TotalOverride = nil
	own := side.From.Losses
	if own.LampLumenDepreciation == nil && !math.IsNaN(day.HoursBurnt) {
		f.LampLumenDepreciation = lampsAfter(side.From, day.HoursBurnt)
	}
	upkeep := j.Upkeep
	if !math.IsNaN(day.MonthsSinceCleaning) {
		years := day.MonthsSinceCleaning / 12
		if own.LuminaireDirtDepreciation == nil {
			f.LuminaireDirtDepreciation = losses.LuminaireDirt(side.From.Category, upkeep.Atmosphere, years)
		}
		if own.RoomSurfaceDirtDepreciation == nil {
			f.RoomSurfaceDirtDepreciation = losses.RoomSurfaceDirt(losses.DistributionOf(side.UpwardShare), upkeep.Atmosphere, years, side.LumenMethod.RoomCavityRatio)
		}
	}
	if own.Temperature == nil && !math.IsNaN(day.AmbientCelsius) {
		then := *j
		then.Upkeep.AmbientCelsius = day.AmbientCelsius
		f.Temperature = lighting.Temperature(&then, side.From).Factor
	}
	if !math.IsNaN(day.FailedShare) {
		f.LampBurnout = losses.Factor{Value: 1 - day.FailedShare, From: losses.FromJobFile, Why: losses.LampsOut}
	}
	return f
}

// lampsAfter is the share of initial lumens after some hours of burning; 1 at none, whatever the lamp.
func lampsAfter(from *job.System, hours float64) losses.Factor {
	if hours == 0 {
		return losses.Factor{Value: 1, From: losses.FromTable, Why: losses.NewLamps}
	}
	lamp := from.Lamp
	if lamp == nil || from.Luminaire.Absolute {
		return losses.Factor{Value: 1, From: losses.FromDefault, Why: losses.LampUnlisted}
	}
	return losses.LampLumenDepreciation(lamp.InitialLumens, lamp.Mean(), lamp.L70, losses.Basis{At: losses.AtHours, Hours: hours}.Age(lamp.RatedLifeHours, 0)).
		OfLamp(lamp.Name, "")
}
