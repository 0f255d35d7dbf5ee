package study

import (
	"math"

	"lampswap/photometry/job"
	"lampswap/photometry/levels"
	"lampswap/photometry/lighting"
	"lampswap/photometry/losses"
)

// Years is the light of one side from day 0, all lamps new and all surfaces clean, to a horizon.
type Years struct {
	Name    string
	Horizon float64         // years
	Moments []losses.Moment // share of the initial light without the ballast factor, two at each cleaning and relamping
	Light   []float64       // maintained average of the work plane at those moments, lx
	Lowest  float64         // of Light, lx
	Below   []Below         // one a criterion of the verdicts that asks for at least some illuminance
	Notes   []string        // what the course takes for granted
}

// Below is when the light first falls below a criterion.
type Below struct {
	Criterion levels.Criterion
	Years     float64 // NaN if it does not up to the horizon
}

// leastHorizon and mostHorizon bound how far ahead the light is followed, years: the study period, but never so short that nothing happens.
const (
	leastHorizon = 5.0
	mostHorizon  = 25.0
	yearsStep    = 1.0 / 12
)

// years follows the light of each side. A loss takes the same share at every point, so that every illuminance goes with the average.
func years(r *Result) []Years {
	horizon := min(max(float64(r.Job.LifeCycle.Years), leastHorizon), mostHorizon)
	var all []Years
	for _, side := range r.Sides() {
		y := Years{Name: side.Name, Horizon: horizon}
		course := courseOf(r.Job, side.From, side.System)
		perShare := initial(side) / side.Losses.BallastFactor.Value
		y.Moments, y.Notes = course.Series(horizon, yearsStep), course.Notes()
		for _, m := range y.Moments {
			y.Light = append(y.Light, m.Kept*perShare)
		}
		y.Lowest = course.Lowest(horizon).Kept * perShare
		for _, v := range r.Verdicts {
			if b, ok := firstBelow(course, side, v.Criterion, horizon); ok {
				y.Below = append(y.Below, b)
			}
		}
		all = append(all, y)
	}
	return all
}

// initial is the average of the work plane with new lamps and clean surfaces, lx, the ballast factor in it.
func initial(side lighting.Side) float64 { return side.Grids[0].Statistics.Average / side.Kept() }

// firstBelow finds when the light is less than a criterion requires; ok is false for a criterion that time cannot break.
func firstBelow(course losses.Course, side lighting.Side, c levels.Criterion, horizon float64) (below Below, ok bool) {
	if !c.AtLeast || c.Unit == levels.Ratio || c.Statistic == levels.PowerDensity {
		return Below{}, false
	}
	maintained := side.Statistic(c)
	below = Below{c, math.NaN()}
	if !(maintained > 0) {
		below.Years = 0
		return below, true
	}
	needed := c.RequiredIn(false) / maintained * side.Losses.Total()
	if years, found := course.FirstBelow(needed*(1-1e-9), horizon); found { // met but for rounding is met, as in the verdict
		below.Years = years
	}
	return below, true
}

// courseOf is what a system's light depends on through the years. A factor that the job gives, or that is assumed for want of a lamp, is held.
func courseOf(j *job.Job, from *job.System, s *lighting.System) losses.Course {
	f := s.Losses
	c := losses.Course{
		HoursPerYear: j.Upkeep.HoursPerYear, RelampHours: j.Upkeep.RelampHours,
		Category: from.Category, Atmosphere: j.Upkeep.Atmosphere, CleanYears: j.Upkeep.CleanYears,
		Distribution: losses.DistributionOf(s.UpwardShare), RoomCavityRatio: s.LumenMethod.RoomCavityRatio, ConstantShare: f.Constant(),
	}
	if j.Upkeep.Spot {
		c.Replacement = losses.Spot
	}
	given := func(f losses.Factor) float64 {
		if f.From == losses.FromJobFile {
			return f.Value
		}
		return 0
	}
	c.DirtShare, c.RoomSurfaceShare = given(f.LuminaireDirtDepreciation), given(f.RoomSurfaceDirtDepreciation)
	if lamp := from.Lamp; lamp == nil || from.Luminaire.Absolute || f.LampLumenDepreciation.From == losses.FromJobFile {
		c.LampShare = f.LampLumenDepreciation.Value
	} else {
		c.InitialLumens, c.MeanLumens, c.RatedLifeHours, c.L70 = lamp.InitialLumens, lamp.Mean(), lamp.RatedLifeHours, lamp.L70
	}
	if f.TotalOverride != nil {
		c.TotalShareOverride = f.TotalOverride.Value
	}
	return c
}
