package study

import (
	"math"
	"slices"

	"lampswap/photometry/glare"
	"lampswap/photometry/job"
	"lampswap/photometry/levels"
	"lampswap/photometry/lighting"
)

// AsksOfGlare tells that the job names observers or has a limit of glare, so that a reader wants more of it than one line.
func (r *Result) AsksOfGlare() bool {
	return r.Job.ObserversNamed || slices.ContainsFunc(r.Job.Criteria, func(c levels.Criterion) bool { return c.Statistic == levels.Glare })
}

// glareWarnings tells of ratings that rest on sources out of the range of sizes that the rating was made for, and of none where one is asked for.
func (r *Result) glareWarnings(side lighting.Side) []Warning {
	_, why := side.Glare()
	switch {
	case !r.AsksOfGlare() || why == glare.NothingSeen:
		return nil
	case why != glare.Rated:
		return []Warning{{Code: NoRating, Side: side}}
	}
	if worst := side.Worst(); worst.Small > 0 || worst.Large > 0 {
		return []Warning{{Code: UntriedSizes, Side: side}}
	}
	return nil
}

// BareLamp returns the luminance of a lamp of luminaires of one kind as if it shone alike all round, cd/m²; NaN where its size is not known.
func BareLamp(from *job.System) float64 {
	l := from.Lamp
	if l == nil || l.Diameter == 0 || l.NominalLength == 0 || from.LampLumens == 0 {
		return math.NaN()
	}
	return glare.OfTube(from.LampLumens, l.Diameter, l.NominalLength)
}
