package study

import (
	"context"
	"errors"
	"fmt"

	"lampswap/photometry/interreflect"
	"lampswap/photometry/job"
	"lampswap/photometry/lighting"
	"lampswap/photometry/uncertainty"
)

// A Result is all that a job's study finds. Illuminance is in lx, power density in W/m².
type Result struct {
	Job         *job.Job
	Sides       []lighting.Side // the systems that are compared: the existing, the proposed, and the replacement if there is one
	Verdicts    []Verdict
	Energy      Energy
	LifeCycle   *LifeCycle               // nil where too little is priced
	Years       []Years                  // one a side, in their order
	Uncertainty *uncertainty.Uncertainty // nil unless asked for
	Warnings    []Warning
}

// Existing is the lighting before the swap.
func (r *Result) Existing() lighting.Side { return r.Sides[0] }

// Proposed is the lighting after it.
func (r *Result) Proposed() lighting.Side { return r.Sides[1] }

// ThreeWays tells that a replacement is compared with the others.
func (r *Result) ThreeWays() bool { return len(r.Sides) > 2 }

// Lit is a result of which nothing is known but the light of the job's systems, in their order; those that are left out are dark.
func Lit(j *job.Job, systems ...lighting.System) *Result {
	r := &Result{Job: j, Sides: lighting.Sides(j)}
	for i := range systems {
		*r.Sides[i].System = systems[i]
	}
	return r
}

// Kinds returns the luminaires of all sides, each of one kind.
func (r *Result) Kinds() []lighting.Side {
	var all []lighting.Side
	for _, side := range r.Sides {
		all = append(all, side.Kinds()...)
	}
	return all
}

// NewKinds are those that come with the swap, the replacement's too.
func (r *Result) NewKinds() []lighting.Side {
	var all []lighting.Side
	for _, side := range r.Sides[1:] {
		all = append(all, side.Kinds()...)
	}
	return all
}

// Run works the job out; progress may be nil. It errs if the context ends, with a *interreflect.MemoryError or a *lighting.TooLargeError if
// the job asks for more than may be held or waited for, with interreflect.ErrEndless if its surfaces absorb next to nothing, and with a *lighting.ImbalanceError if they absorb
// another flux than is emitted.
func Run(ctx context.Context, j *job.Job, progress lighting.Progress) (*Result, error) {
	space, err := lighting.NewSpace(ctx, j, interreflect.Options{Progress: progress}) // the same for all systems
	if err != nil {
		return nil, err
	}
	return run(ctx, j, progress, space)
}

// RunWith works the job out as Run does, to the bit, with the light that the cache has already. It errs as Run does.
func RunWith(ctx context.Context, j *job.Job, cache *lighting.Cache) (*Result, error) {
	return run(ctx, j, nil, cache.Space(j))
}

// named tells of which system light is not trusted.
func named(side lighting.Side, err error) error {
	if _, is := errors.AsType[*lighting.ImbalanceError](err); is {
		return fmt.Errorf("%s: %w", side.Name, err)
	}
	return err
}

func run(ctx context.Context, j *job.Job, progress lighting.Progress, space *lighting.Space) (*Result, error) {
	r := Lit(j)
	for _, side := range r.Sides {
		var err error
		if *side.System, err = space.Solve(ctx, side.From); err != nil {
			return nil, named(side, err)
		}
	}
	r.Verdicts = judge(r)
	r.Energy = energy(r)
	r.Energy.Emissions = emissions(r)
	r.LifeCycle = lifeCycle(r)
	r.Years = years(r)
	r.Warnings = warnings(r)
	if j.Uncertainty.Asked {
		var err error
		if r.Uncertainty, err = uncertainty.Run(ctx, j, r.Sides, progress); err != nil {
			return nil, err
		}
	}
	return r, nil
}
