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
	Judged  float64         // years after which the lamps are as old as they are judged; NaN where that is not known
	Below   []Below         // one a criterion of the verdicts that asks for at least some illuminance
	Courses []losses.Course // one a kind of luminaire
}

// Below is when the light first falls below a criterion.
type Below struct {
	Criterion levels.Criterion
	Years     float64 // NaN if it does not up to the horizon
	Least     float64 // of the criterion's statistic, lx, up to the horizon
}

const yearsStep = 1.0 / 12

// years follows the light of each side over the study period. A loss takes the same share at every point, so that every illuminance goes with the average.
func years(r *Result) []Years {
	horizon := float64(r.Job.LifeCycle.Years)
	var all []Years
	for i, side := range r.Sides {
		y := Years{Name: side.Name, Horizon: horizon, Judged: judgedAfter(r.Job, side)}
		if side.Parts != nil {
			y.follow(r, side)
		} else {
			course := courseOf(r.Job, side.From, side.System)
			perShare := initial(side) / side.Losses.BallastFactor.Value
			y.Moments, y.Courses = course.Series(horizon, yearsStep), []losses.Course{course}
			for _, m := range y.Moments {
				y.Light = append(y.Light, m.Kept*perShare)
			}
			y.Lowest = course.Lowest(horizon).Kept * perShare
			y.Below = fallsBelow(course, side, i, r.Verdicts, horizon)
		}
		all = append(all, y)
	}
	return all
}

// judgedAfter is after how many years the lamps of a side are as old as they are judged; NaN where that is not known, or differs.
func judgedAfter(j *job.Job, side lighting.Side) float64 {
	years := math.NaN()
	for i, kind := range side.Kinds() {
		h := kind.From.HoursBurnt(j)
		if !(h > 0) {
			return math.NaN()
		}
		after := lighting.LampAge(j, kind.From).Hours / h
		if i > 0 && after != years {
			return math.NaN()
		}
		years = after
	}
	return years
}

// FollowVerdicts finds anew when the light falls below the criteria: for verdicts that were not judged from the result's own grids.
func (r *Result) FollowVerdicts() {
	for i, side := range r.Sides {
		if side.Parts != nil {
			continue // readings are held against luminaires of one kind only
		}
		r.Years[i].Below = fallsBelow(courseOf(r.Job, side.From, side.System), side, i, r.Verdicts, r.Years[i].Horizon)
	}
}

// initial is the average of the work plane with new lamps and clean surfaces, lx, the ballast factor in it.
func initial(side lighting.Side) float64 { return side.Grids[0].Statistics.Average / side.Kept() }

// fallsBelow tells, of a side whose light is known, of each criterion that the i-th side's light can fall below with time when it does.
func fallsBelow(course losses.Course, side lighting.Side, i int, verdicts []Verdict, horizon float64) []Below {
	var all []Below
	if side.Outside != nil {
		return nil // nothing is known of it
	}
	lowest := course.Lowest(horizon).Kept / side.Losses.Total()
	for _, v := range verdicts {
		if !v.AtLeast || !v.Varies() {
			continue
		}
		maintained := v.By[i].Value
		b := Below{v.Criterion, math.NaN(), maintained * lowest}
		needed := v.RequiredIn(false) / maintained * side.Losses.Total()
		if !(maintained > 0) {
			b.Years, b.Least = 0, 0
		} else if years, found := course.FirstBelow(needed*(1-1e-9), horizon); found { // met but for rounding is met, as in the verdict
			b.Years = years
		}
		all = append(all, b)
	}
	return all
}

// Varies tells that a criterion is about an amount of light, which time changes; evenness and power stay.
func (v Verdict) Varies() bool { return v.Unit != levels.Ratio && v.Statistic != levels.PowerDensity }

// courseOf is what a system's light depends on through the years. A factor that the job gives, or that is assumed for want of a lamp, is held.
func courseOf(j *job.Job, from *job.System, s *lighting.System) losses.Course {
	f := s.Losses
	c := losses.Course{
		HoursPerYear: from.HoursBurnt(j), RelampHours: from.Care.RelampHours,
		Category: from.Category, Atmosphere: j.Upkeep.Atmosphere, CleanYears: from.Care.CleanYears,
		Distribution: losses.DistributionOf(s.UpwardShare), RoomCavityRatio: s.LumenMethod.RoomCavityRatio, ConstantShare: f.Constant(),
	}
	if from.Care.RelampHours == 0 {
		c.Replacement = losses.Spot
	}
	given := func(f losses.Factor) float64 {
		if f.From == losses.FromJobFile {
			return f.Value
		}
		return 0
	}
	c.DirtShare, c.RoomSurfaceShare = given(f.LuminaireDirtDepreciation), given(f.RoomSurfaceDirtDepreciation)
	if lamp := from.Lamp; from.RatedLifeHours() == 0 || f.LampLumenDepreciation.From == losses.FromJobFile {
		c.LampShare = f.LampLumenDepreciation.Value
	} else {
		c.InitialLumens, c.MeanLumens, c.RatedLifeHours, c.L70 = lamp.InitialLumens, lamp.Mean(), lamp.RatedLifeHours, lamp.L70
	}
	if f.TotalOverride != nil {
		c.TotalShareOverride = f.TotalOverride.Value
	}
	return c
}
