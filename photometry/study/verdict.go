package study

import (
	"math"
	"slices"

	"lampswap/photometry/levels"
	"lampswap/photometry/lighting"
	"lampswap/photometry/losses"
)

// A Verdict is one criterion with what the two systems reach.
type Verdict struct {
	levels.Criterion
	Existing, Proposed, Replacement          float64 // lx, W/m², or a ratio; NaN where there is no value
	ExistingMet, ProposedMet, ReplacementMet bool
}

// Met tells whether the proposed system meets every criterion, and is used within the rating of its lamps and ballast, so that its light is known.
func (r *Result) Met() bool {
	if r.Proposed.Outside != "" {
		return false
	}
	for _, v := range r.Verdicts {
		if !v.ProposedMet {
			return false
		}
	}
	return true
}

// BrightEnough tells whether the proposed system meets every criterion about light by the numbers, whatever it draws, and whether or not its light is known.
func (r *Result) BrightEnough() bool {
	for _, v := range r.Verdicts {
		if !v.Met(v.Proposed) && v.Statistic != levels.PowerDensity {
			return false
		}
	}
	return true
}

func judge(r *Result) []Verdict {
	verdicts := make([]Verdict, len(r.Job.Criteria))
	for i, c := range r.Job.Criteria {
		v := Verdict{Criterion: c, Existing: r.Existing.Statistic(c), Proposed: r.Proposed.Statistic(c)}
		v.ExistingMet, v.ProposedMet = Keeps(&r.Existing, c, v.Existing), Keeps(&r.Proposed, c, v.Proposed)
		v.Replacement = math.NaN()
		if r.Replacement != nil {
			v.Replacement = r.Replacement.Statistic(c)
			v.ReplacementMet = Keeps(r.Replacement, c, v.Replacement)
		}
		verdicts[i] = v
	}
	return verdicts
}

// Keeps tells whether a system with a value of a criterion meets it: not where it is about light, and the light is not known as the system is used
// outside the rating of its lamps or ballast.
func Keeps(s *lighting.System, c levels.Criterion, value float64) bool {
	return c.Met(value) && (s.Outside == "" || c.Statistic == levels.PowerDensity)
}

// Finer is with how many digits more than usual the verdict's numbers are to be shown, so that a reader sees what decides.
func (v Verdict) Finer(imperial bool) int {
	return v.Criterion.Finer(imperial, v.Existing, v.Proposed, v.Replacement)
}

// OnEstimate returns the estimate of the proposed lamps' light in the cold, or in the heat, if a criterion that is met would be missed at its
// lower end; else nil.
func (r *Result) OnEstimate() *losses.TemperatureEstimate {
	if !r.BrightEnough() || r.Proposed.Outside != "" {
		return nil
	}
	var worst *losses.TemperatureEstimate // of several kinds the one that takes most, as if all were as far down
	for _, kind := range r.Sides()[1].Kinds() {
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
		if v.AtLeast && v.Varies() && !v.Met(v.Proposed*worst.Low/worst.Factor) {
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
		met := slices.ContainsFunc(r.Verdicts, func(v Verdict) bool { return v.Criterion == b.Criterion && v.ProposedMet })
		if met && !math.IsNaN(b.Years) {
			all = append(all, b)
		}
	}
	return all
}

// Light within this share of the other is as much: less can be neither seen nor computed.
const asMuch = 0.005

// Darker tells that there is less light after than before, by more than can be seen or computed; lx.
func Darker(before, after float64) bool { return after < before*(1-asMuch) }
