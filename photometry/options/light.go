package options

import (
	"context"
	"errors"
	"fmt"

	"lampswap/photometry"
	"lampswap/photometry/diag"
	"lampswap/photometry/fixture"
	"lampswap/photometry/interreflect"
	"lampswap/photometry/job"
	"lampswap/photometry/lighting"
	"lampswap/photometry/losses"
	"lampswap/photometry/study"
)

// A solver finds the light of candidates, each distinct distribution once.
type solver struct {
	job      *job.Job
	space    *lighting.Space
	progress lighting.Progress
	shapes   map[shapeKey]*shape
	known    map[shapeKey]*job.System // whose luminaires the job has already
	solves   int
	expected int
}

// A shape is one distribution with its initial light at ballast factor 1 and with the lumens of its luminaire.
type shape struct {
	luminaire photometry.Luminaire
	suggested string          // maintenance category; "" with a photometric file
	light     lighting.System // Grids have statistics only
	wrong     string          // why the lamps do not go into the section; "" if they do
}

func newSolver(ctx context.Context, j *job.Job, progress lighting.Progress) (*solver, error) {
	space, err := lighting.NewSpace(ctx, j, interreflect.Options{Progress: progress})
	return &solver{job: j, space: space, progress: progress, shapes: map[shapeKey]*shape{}, known: map[shapeKey]*job.System{}}, err
}

// expect notes the distributions to come, for the progress, and those that the job brings.
func (s *solver) expect(candidates []candidate) {
	distinct := map[shapeKey]bool{}
	for _, c := range candidates {
		distinct[c.shape] = true
		if c.From.Luminaire.Distribution != nil && s.known[c.shape] == nil && c.Own() {
			s.known[c.shape] = &c.From
		}
	}
	s.expected = len(distinct)
}

// option gives a candidate its light. why is not empty if its lamps do not go into the fixture.
func (s *solver) option(ctx context.Context, c candidate) (p Option, why string, err error) {
	sh, err := s.shape(ctx, c)
	if err != nil || sh.wrong != "" {
		return Option{}, sh.reason(c), err
	}
	p = c.Option
	if !p.Own() {
		s.dress(&p.From, c.host, sh)
	}
	from := &p.From
	p.Light = sh.light.Relamped(s.job, from)
	p.NotAllowed = p.Light.Outside
	account := study.AccountOf(s.job, from, &p.Light)
	p.KW, p.KWhPerYear = account.KW, account.KWhPerYear
	if cost, ok := account.Power(); ok {
		p.EnergyCost = &cost
	}
	p.Notes = notes(s.job, &p, c.host)
	return p, "", nil
}

func (sh *shape) reason(c candidate) string {
	if sh == nil {
		return ""
	}
	return fmt.Sprintf("%s: %s", c.Name(), sh.wrong)
}

// dress gives an option the luminaire of its distribution and what follows from it.
func (s *solver) dress(from, host *job.System, sh *shape) {
	from.Luminaire, from.SuggestedCategory = sh.luminaire, sh.suggested
	if host.Section == nil {
		return
	}
	if category, ok := losses.ParseCategory(sh.suggested); ok && host.Category.String() == host.SuggestedCategory {
		from.Category = category // else the category is the job's own word
	}
}

// shape returns the distribution of a candidate with its light, solved at the first asking.
func (s *solver) shape(ctx context.Context, c candidate) (*shape, error) {
	if sh := s.shapes[c.shape]; sh != nil {
		return sh, nil
	}
	sh, err := s.luminaire(c)
	if err != nil {
		return nil, err
	}
	s.shapes[c.shape] = sh
	if sh.wrong != "" {
		return sh, nil
	}
	one := 1.0
	unit := job.System{Photometry: c.From.Photometry, Luminaire: sh.luminaire, Layout: c.From.Layout, Emergency: c.From.Emergency, Lamps: 1, LampLumens: sh.luminaire.LampLumens,
		BallastFactor: 1, InputWatts: 1, Category: c.host.Category, Losses: job.Overrides{Total: &one}}
	if sh.light, err = s.space.Solve(ctx, &unit); err != nil {
		return nil, err
	}
	for i := range sh.light.Grids {
		g := &sh.light.Grids[i]
		g.Direct, g.Interreflected, g.Maintained = nil, nil, nil
	}
	s.solves++
	if s.progress != nil {
		s.progress("light of each distribution", float64(s.solves)/float64(s.expected))
	}
	return sh, nil
}

// luminaire finds the distribution: the job's own where it has it, else computed from the cross-section.
func (s *solver) luminaire(c candidate) (*shape, error) {
	if own := s.known[c.shape]; own != nil {
		return &shape{luminaire: own.Luminaire, suggested: own.SuggestedCategory}, nil
	}
	if c.host.Section == nil {
		return &shape{luminaire: c.host.Luminaire, suggested: c.host.SuggestedCategory}, nil
	}
	luminaire, result, err := c.host.Section.Solve(c.tubes)
	var faults diag.List
	switch {
	case errors.As(err, &faults):
		return &shape{wrong: faults[0].Wrong + ", want " + faults[0].Want}, nil
	case errors.Is(err, fixture.ErrDark):
		return &shape{wrong: "no light leaves the fixture"}, nil
	case err != nil:
		return nil, err
	}
	return &shape{luminaire: luminaire, suggested: c.host.Section.SuggestedCategory(result)}, nil
}
