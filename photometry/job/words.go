package job

import "lampswap/photometry"

// Light writes an illuminance, lx, in the job's unit with the digits that it deserves.
func (j *Job) Light(lux float64) string {
	if j.Imperial {
		return photometry.Digits(lux/photometry.Footcandle) + " fc"
	}
	return photometry.Digits(lux) + " lx"
}

// Degrees writes a temperature in the job's unit, in whole degrees.
func (j *Job) Degrees(celsius float64) string {
	value, unit := celsius, " °C"
	if j.Imperial {
		value, unit = photometry.FahrenheitFromCelsius(celsius), " °F"
	}
	return photometry.Fixed(value, 0) + unit
}
