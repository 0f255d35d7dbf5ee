package study

import (
	"math"

	"lampswap/photometry/job"
	"lampswap/photometry/losses"
)

// lossFactors settles every light loss factor: computed from tables, replaced by what the job gives itself.
func lossFactors(j *job.Job, from *job.System, upwardShare, roomCavityRatio float64) losses.Factors {
	f := losses.Defaults()
	f.BallastFactor = losses.Factor{Value: from.BallastFactor, From: from.BallastOrigin, Detail: from.BallastFrom}
	f.LampLumenDepreciation = lampDepreciation(j, from)
	f.LuminaireDirtDepreciation = losses.LuminaireDirt(from.Category, j.Upkeep.Atmosphere, j.Upkeep.CleanYears)
	f.RoomSurfaceDirtDepreciation = losses.RoomSurfaceDirt(losses.DistributionOf(upwardShare), j.Upkeep.Atmosphere, j.Upkeep.CleanYears, roomCavityRatio)
	f.Temperature, _ = temperature(j, from)
	replace := func(f *losses.Factor, given *float64) {
		if given != nil {
			*f = losses.Given(*given)
		}
	}
	o := from.Losses
	replace(&f.LampLumenDepreciation, o.LampLumenDepreciation)
	replace(&f.LuminaireDirtDepreciation, o.LuminaireDirtDepreciation)
	replace(&f.RoomSurfaceDirtDepreciation, o.RoomSurfaceDirtDepreciation)
	replace(&f.LampBurnout, o.LampBurnout)
	replace(&f.Temperature, o.Temperature)
	replace(&f.Voltage, o.Voltage)
	replace(&f.Other, o.Other)
	if o.Total != nil {
		total := losses.Given(*o.Total)
		f.TotalOverride = &total
	}
	return f
}

// Where nothing is known of the lamp, it is taken to lose this much by the time it is judged.
const unknownLampDepreciation = 0.90

func lampDepreciation(j *job.Job, from *job.System) losses.Factor {
	lamp := from.Lamp
	if lamp == nil || from.Luminaire.Absolute {
		return losses.Factor{Value: unknownLampDepreciation, From: losses.FromDefault,
			Detail: "the lamp is none of the list; assumed, give its mean over initial lumens"}
	}
	initial, mean := lamp.InitialLumens, lamp.MeanLumens
	if mean == 0 {
		mean = initial * lamp.LampLumenDepreciation
	}
	f := losses.LampLumenDepreciation(initial, mean, lamp.RatedLifeHours, j.Upkeep.RelampHours, lamp.L70)
	f.Detail = lamp.Name + ": " + f.Detail
	if lamp.DepreciationFrom != "" {
		f.Detail += " (" + lamp.DepreciationFrom + ")"
	}
	return f
}

// ratedWithoutLamp is the ambient, Celsius, at which a lamp that the job does not name is taken to be rated, as T8 and T12 lamps are.
const ratedWithoutLamp = 25

// temperature returns the factor for the ambient temperature and what to warn of, "" for nothing.
func temperature(j *job.Job, from *job.System) (factor losses.Factor, warning string) {
	if from.Lamp == nil {
		return losses.TemperatureAdvice(ratedWithoutLamp, j.Upkeep.AmbientCelsius, math.NaN())
	}
	rated := from.Lamp.RatedAtCelsius
	if from.Lamp.LED {
		rated = math.NaN() // LED light hardly depends on the ambient
	}
	return losses.TemperatureAdvice(rated, j.Upkeep.AmbientCelsius, from.Lamp.LeastAmbientCelsius)
}
