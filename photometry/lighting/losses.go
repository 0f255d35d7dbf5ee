package lighting

import (
	"math"

	"lampswap/photometry/job"
	"lampswap/photometry/losses"
)

// lossFactors settles every light loss factor: computed from tables, replaced by what the job gives itself.
func lossFactors(j *job.Job, from *job.System, upwardShare, roomCavityRatio float64) losses.Factors {
	f := losses.Defaults()
	f.BallastFactor = losses.Factor{Value: from.BallastFactor, From: from.BallastOrigin, Why: from.BallastFrom}
	f.LampLumenDepreciation = lampDepreciation(j, from)
	f.LuminaireDirtDepreciation = losses.LuminaireDirt(from.Category, j.Upkeep.Atmosphere, from.Care.CleanYears)
	f.RoomSurfaceDirtDepreciation = RoomSurfaceDirt(j, from, upwardShare, roomCavityRatio)
	f.Temperature = Temperature(j, from).Factor
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

// A lamp of which nothing is known is taken to keep this much at 40 percent of its life, as mean lumens are
// stated.
const unknownLampDepreciation = 0.90

// LampAge returns how long the lamps of a system have burnt when its light is judged.
func LampAge(j *job.Job, from *job.System) losses.Age {
	return j.Upkeep.JudgedAt.Age(from.RatedLifeHours(), from.Care.RelampHours)
}

func lampDepreciation(j *job.Job, from *job.System) losses.Factor {
	lamp, age := from.Lamp, LampAge(j, from)
	if lamp == nil || from.Luminaire.Absolute {
		f := losses.LampLumenDepreciation(1, unknownLampDepreciation, false, age)
		why := losses.Aged{Law: losses.AssumedMean, Mean: unknownLampDepreciation}
		if aged, _ := f.Why.(losses.Aged); aged.Law == losses.BeyondMean {
			why.Age = aged.Age
		}
		f.From, f.Why = losses.FromDefault, why
		return f
	}
	f := losses.LampLumenDepreciation(lamp.InitialLumens, lamp.Mean(), lamp.L70, age).OfLamp(lamp.Name, lamp.DepreciationFrom)
	if lamp.AgesAsAssumed() {
		f.From = losses.FromDefault
	}
	return f
}

// RoomSurfaceDirt returns what dirt on the room's surfaces leaves of the light of a system, by the share of
// it that goes up.
func RoomSurfaceDirt(j *job.Job, from *job.System, upwardShare, roomCavityRatio float64) losses.Factor {
	return losses.RoomSurfaceDirt(
		losses.DistributionOf(upwardShare), j.Upkeep.Atmosphere, from.Care.CleanYears, roomCavityRatio,
	)
}

// Temperature returns what the ambient does to a system's light and to the start of its lamps.
func Temperature(j *job.Job, from *job.System) losses.Advice {
	in := losses.Surroundings{RatedAtCelsius: math.NaN(), LeastAmbientCelsius: math.NaN(),
		AmbientCelsius: j.Upkeep.AmbientCelsius, Points: from.OutputPoints,
		Enclosed: from.Category.Enclosed()}
	switch lamp := from.Lamp; {
	case lamp == nil && from.Luminaire.Absolute: // it may well be LED
		in.Tube = losses.UnknownSource
		return losses.TemperatureAdvice(in)
	case lamp == nil:
		in.Tube = losses.UnknownTube
	case lamp.LED:
		in.Tube = losses.LEDTube
		in.RatedAtCelsius, in.LeastAmbientCelsius = lamp.RatedAtCelsius, lamp.LeastAmbientCelsius
		if !lamp.NeedsBallast() { // its driver makes light from the first moment
			return losses.TemperatureAdvice(in)
		}
	default:
		in.Tube = losses.TubeOf(lamp.Diameter)
		in.RatedAtCelsius, in.LeastAmbientCelsius = lamp.RatedAtCelsius, lamp.LeastAmbientCelsius
	}
	in.Ballast = &losses.BallastStart{FromCelsiusLow: math.NaN(), FromCelsiusHigh: math.NaN()}
	if from.Ballast != nil {
		if s, ok := from.Ballast.Starting(); ok {
			in.Ballast = &losses.BallastStart{
				Name: s.Technology, FromCelsiusLow: s.FromCelsiusLow, FromCelsiusHigh: s.FromCelsiusHigh,
				Source: s.Source,
			}
		}
	}
	return losses.TemperatureAdvice(in)
}
