package study

// A Standing is how the proposed lighting stands against all criteria of the job together.
type Standing int

// The ways in which it may stand.
const (
	Unjudged  Standing = iota // the job has no criteria
	AllMet                    // every criterion is met
	OneMissed                 // a criterion of light is missed, or the light is not known
	Qualified                 // enough light, but a reader must mind something: power, an estimate, the later years
)

// Standing returns how the proposed lighting stands.
func (r *Result) Standing() Standing {
	switch {
	case len(r.Verdicts) == 0:
		return Unjudged
	case !r.BrightEnough(), r.Proposed.Outside != "":
		return OneMissed
	case !r.Met(), r.OnEstimate() != nil, len(r.NotInAllYears()) > 0:
		return Qualified
	}
	return AllMet
}
