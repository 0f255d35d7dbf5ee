package job

import (
	"fmt"

	"lampswap/photometry"
	"lampswap/photometry/levels"
	"lampswap/photometry/number"
)

// Light writes an illuminance, lx, in the job's unit with the digits that it deserves.
func (j *Job) Light(lux float64) string {
	unit := levels.UnitOf(levels.Average, j.Imperial)
	return number.Digits(lux/unit.SI()) + " " + unit.String()
}

// Degrees writes a temperature in the job's unit, in whole degrees.
func (j *Job) Degrees(celsius float64) string {
	value, unit := celsius, " °C"
	if j.Imperial {
		value, unit = photometry.FahrenheitFromCelsius(celsius), " °F"
	}
	return number.Fixed(value, 0) + unit
}

// LampLength writes a length of lamps and fixtures, m, in the unit in which that is named: whole inches, or millimeters.
func (j *Job) LampLength(meters float64) string { return j.small(meters, "%.0f in") }

// LampDiameter writes a diameter of lamps, m, likewise, to a hundredth of an inch.
func (j *Job) LampDiameter(meters float64) string { return j.small(meters, "%.2f in") }

func (j *Job) small(meters float64, inches string) string {
	if j.Imperial {
		return fmt.Sprintf(inches, meters/photometry.Inch)
	}
	return number.Thousands(1000*meters) + " mm"
}
