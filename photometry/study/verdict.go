package study

import (
	"math"
	"slices"

	"lampswap/photometry/glare"
	"lampswap/photometry/levels"
	"lampswap/photometry/lighting"
	"lampswap/photometry/losses"
)

// A Verdict is one criterion with what the systems reach.
type Verdict struct {
	levels.Criterion
	By []Reached // one a side
}

// Reached is what a side reaches of a criterion.
type Reached struct {
	Value float64 // lx, W/m², or a ratio; NaN where there is no value
	Met   bool
	Why   string // why there is no value of glare or color; "" where there is one
}

// Proposed is what the proposed system reaches.
func (v Verdict) Proposed() Reached { return v.By[1] }

// Met tells whether the proposed system meets every criterion, and is used within the rating of its lamps and ballast, so that its light is known.
func (r *Result) Met() bool { return r.MetBy(1) }

// MetBy tells the same of any side.
func (r *Result) MetBy(side int) bool {
	return r.Sides[side].Outside == nil && !slices.ContainsFunc(r.Verdicts, func(v Verdict) bool { return !v.By[side].Met })
}

// BrightEnough tells whether the proposed system meets every criterion about light by the numbers, whatever it draws, and whether or not its light is known.
func (r *Result) BrightEnough() bool {
	for _, v := range r.Verdicts {
		if !v.Met(v.Proposed().Value) && v.Statistic.OfGrid() {
			return false
		}
	}
	return true
}

// LightJudged tells whether any criterion is about how much light there is.
func (r *Result) LightJudged() bool {
	return slices.ContainsFunc(r.Verdicts, func(v Verdict) bool { return v.Statistic.OfGrid() })
}

// Missed returns the first criterion of a statistic that the proposed system does not meet.
func (r *Result) Missed(s levels.Statistic) (v Verdict, missed bool) {
	for _, v := range r.Verdicts {
		if v.Statistic == s && !v.Proposed().Met {
			return v, true
		}
	}
	return Verdict{}, false
}

func judge(r *Result) []Verdict {
	verdicts := make([]Verdict, len(r.Job.Criteria))
	for i, c := range r.Job.Criteria {
		v := Verdict{Criterion: c}
		for _, side := range r.Sides {
			value := side.Statistic(c)
			v.By = append(v.By, Reached{value, Keeps(side.System, c, value), why(side.System, c)})
		}
		verdicts[i] = v
	}
	return verdicts
}

// Keeps tells whether a system with a value of a criterion meets it: not where it is about light, and the light is not known as the system is used
// outside the rating of its lamps or ballast. A limit of glare is met where nobody sees a luminaire.
func Keeps(s *lighting.System, c levels.Criterion, value float64) bool {
	switch c.Statistic {
	case levels.PowerDensity, levels.ColorRendering:
		return c.Met(value)
	case levels.Glare:
		if _, why := s.Glare(); why == glare.NothingSeen {
			return true
		}
	case levels.Average, levels.Minimum, levels.Maximum, levels.AverageToMinimum, levels.MaximumToMinimum:
	}
	return c.Met(value) && s.Outside == nil
}

// why says why a system has no value of glare or color.
func why(s *lighting.System, c levels.Criterion) string {
	switch {
	case c.Statistic == levels.Glare:
		_, reason := s.Glare()
		return string(reason)
	case c.Statistic == levels.ColorRendering && math.IsNaN(s.ColorRendering):
		return "the color rendering index of a lamp is not known"
	}
	return ""
}

// Finer is with how many digits more than usual the verdict's numbers are to be shown, so that a reader sees what decides.
func (v Verdict) Finer(imperial bool) int {
	var values []float64
	for _, by := range v.By {
		values = append(values, by.Value)
	}
	return v.Criterion.Finer(imperial, values...)
}

// OnEstimate returns the estimate of the proposed lamps' light in the cold, or in the heat, if a criterion that is met would be missed at its
// lower end; else nil.
func (r *Result) OnEstimate() *losses.TemperatureEstimate {
	if !r.BrightEnough() || r.Proposed().Outside != nil {
		return nil
	}
	var worst *losses.TemperatureEstimate // of several kinds the one that takes most, as if all were as far down
	for _, kind := range r.Sides[1].Kinds() {
		f := kind.Losses
		if f.Temperature.From != losses.FromEstimate || f.TotalOverride != nil {
			continue
		}
		if e := lighting.Temperature(r.Job, kind.From).Estimate; e != nil && (worst == nil || e.Low/e.Factor < worst.Low/worst.Factor) {
			worst = e
		}
	}
	if worst == nil {
		return nil
	}
	for _, v := range r.Verdicts {
		if v.AtLeast && v.Varies() && !v.Met(v.Proposed().Value*worst.Low/worst.Factor) {
			return worst
		}
	}
	return nil
}

// NotInAllYears are the criteria that the proposed light meets at the age at which it is judged, and not in all the years of the study.
func (r *Result) NotInAllYears() []Below {
	var all []Below
	if len(r.Years) < 2 {
		return nil
	}
	for _, b := range r.Years[1].Below {
		met := slices.ContainsFunc(r.Verdicts, func(v Verdict) bool { return v.Criterion == b.Criterion && v.Proposed().Met })
		if met && !math.IsNaN(b.Years) {
			all = append(all, b)
		}
	}
	return all
}

// AsMuch is the share of the other within which light is as much: less can be neither seen nor computed.
const AsMuch = 0.005

// Darker tells that there is less light after than before, by more than can be seen or computed; lx.
func Darker(before, after float64) bool { return after < before*(1-AsMuch) }
