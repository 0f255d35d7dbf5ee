package study

// A Standing is how the proposed lighting stands against all criteria of the job together.
type Standing int

// The ways in which it may stand.
const (
	Unjudged  Standing = iota // the job has no criteria
	AllMet                    // every criterion is met
	OneMissed                 // a criterion of light is missed, or the light is not known
	Qualified                 // enough light, but a reader must mind something: power, an estimate, a slip, the later years
)

// Standing returns how the proposed lighting stands.
func (r *Result) Standing() Standing {
	switch {
	case len(r.Verdicts) == 0:
		return Unjudged
	case !r.BrightEnough(), r.Proposed.Outside != "":
		return OneMissed
	case !r.Met(), r.OnEstimate() != nil, len(r.NotInAllYears()) > 0, r.OnASlip():
		return Qualified
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
