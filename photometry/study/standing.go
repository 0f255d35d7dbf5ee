package study

import "lampswap/photometry/levels"

// A Standing is how the proposed lighting stands against all criteria of the job together.
type Standing int

// The ways in which it may stand.
const (
	Unjudged  Standing = iota // no criterion is about how much light there is, and none is missed
	AllMet                    // every criterion is met
	OneMissed                 // a criterion of light is missed, or the light is not known
	Qualified                 // no criterion of light is missed, but a reader must mind something: power, an estimate, a slip, the later years
)

// Standing returns how the proposed lighting stands.
func (r *Result) Standing() Standing {
	switch {
	case len(r.Verdicts) == 0:
		return Unjudged
	case !r.BrightEnough(), r.Proposed().Outside != nil:
		return OneMissed
	case !r.Met(), r.OnEstimate() != nil, len(r.NotInAllYears()) > 0, r.OnASlip():
		return Qualified
	case !r.LightJudged():
		return Unjudged
	}
	return AllMet
}

// OnASlip tells that the verdict rests on a number of light or load that is more likely a slip than a fact.
func (r *Result) OnASlip() bool {
	light, _ := r.Slips()
	return len(light) > 0
}

// Stands tells whether every criterion is met by numbers that look like facts: the exit code of commands.
func (r *Result) Stands() bool { return r.Met() && !r.OnASlip() }

// An Outcome is what becomes of the criteria of light and of power with the proposed lighting, by its numbers.
type Outcome string

// The outcomes.
const (
	NoCriteria Outcome = "none"
	NotKnown   Outcome = "unknown"     // the light is not: lamps or ballasts are used outside their rating
	NotKnownOr Outcome = "unknown.dim" // not known, and a criterion is missed even by the numbers
	Dim        Outcome = "dim"         // a criterion of light is missed
	Unasked    Outcome = "unasked"     // no criterion is about how much light there is
	Greedy     Outcome = "power"       // enough light, and more power than is allowed
	Enough     Outcome = "enough"
)

// Outcome is that with the criteria that are missed: of light, then of power.
func (r *Result) Outcome() (o Outcome, missed []Verdict) {
	var greedy []Verdict
	for _, v := range r.Verdicts {
		switch {
		case v.Met(v.Proposed().Value) || v.Statistic.Comfort():
		case v.Statistic == levels.PowerDensity:
			greedy = append(greedy, v)
		default:
			missed = append(missed, v)
		}
	}
	dim := len(missed) > 0
	missed = append(missed, greedy...)
	switch {
	case len(r.Verdicts) == 0:
		return NoCriteria, nil
	case r.Proposed().Outside != nil && len(missed) > 0:
		return NotKnownOr, missed
	case r.Proposed().Outside != nil:
		return NotKnown, nil
	case dim:
		return Dim, missed
	case !r.LightJudged():
		return Unasked, missed
	case len(greedy) > 0:
		return Greedy, missed
	}
	return Enough, nil
}

// Uncomfortable are the criteria of glare and color that the proposed lighting misses, and those of which that is not known.
func (r *Result) Uncomfortable() (missed, open []Verdict) {
	for _, v := range r.Verdicts {
		switch {
		case v.Proposed().Met || !v.Statistic.Comfort():
		case v.Proposed().Why != "":
			open = append(open, v)
		case r.Proposed().Outside == nil || v.Statistic == levels.ColorRendering:
			missed = append(missed, v)
		}
	}
	return missed, open
}

// Darker tells that there is less light than before, by more than can be seen or computed.
func (r *Result) Darker() bool {
	return Darker(r.Existing().Grids[0].Statistics.Average, r.Proposed().Grids[0].Statistics.Average)
}
