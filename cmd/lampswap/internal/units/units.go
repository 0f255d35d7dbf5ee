// Package units answers in which units, and with how many digits, an answer is shown.
package units

import (
	"fmt"
	"math"

	"lampswap/photometry"
	"lampswap/photometry/currency"
	"lampswap/photometry/job"
	"lampswap/photometry/levels"
)

// Units are those of a job: their names, and what turns SI into them.
type Units struct {
	System, Length, Illuminance, Power string  // "imperial" or "metric", then as they are shown; Power is power density
	Meter, Lux, PerArea                float64 // one of the job's unit in SI: length, illuminance, "per area"
	Currency                           string  // three letters, "" if it is not known
}

// Of are the units of a job.
func Of(j *job.Job) Units {
	light, power := levels.UnitOf(levels.Average, j.Imperial), levels.UnitOf(levels.PowerDensity, j.Imperial)
	v := Units{"metric", "m", light.String(), power.String(), 1, light.SI(), power.SI(), j.Currency}
	if j.Imperial {
		v.System, v.Length, v.Meter = "imperial", "ft", photometry.Foot
	}
	return v
}

// Money writes an amount to the unit, by the habits of the job's currency.
func (v Units) Money(x float64) string { return currency.Amount(v.Currency, x) }

// Statistic is a value of a criterion in the job's unit: an illuminance or a power density, both per area; a ratio stays as it is.
func (v Units) Statistic(which levels.Statistic, value float64) float64 {
	return value / v.Scale(which)
}

// Scale is one of the job's unit of a statistic in SI; 1 for a ratio.
func (v Units) Scale(which levels.Statistic) float64 {
	return levels.UnitOf(which, v.System == "imperial").SI()
}

// OfStatistic is the unit in which a statistic is shown; none for a ratio.
func (v Units) OfStatistic(s levels.Statistic) string {
	return levels.UnitOf(s, v.System == "imperial").String()
}

// Tape writes a length as a tape has it: feet and inches to the inch, or meters to the centimeter.
func (v Units) Tape(meters float64) string {
	if v.System != "imperial" {
		return fmt.Sprintf("%.2f m", meters)
	}
	inches := int(math.Round(math.Abs(meters) / photometry.Foot * 12))
	sign := ""
	if meters < 0 && inches > 0 {
		sign = "-"
	}
	return fmt.Sprintf("%s%d' %d\"", sign, inches/12, inches%12)
}

// At writes a length of a plan in the job's unit.
func (v Units) At(meters float64) string { return fmt.Sprintf("%.2f", meters/v.Meter) }
