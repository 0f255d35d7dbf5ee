package options

import (
	"context"
	"crypto/sha256"
	"encoding/json"
	"errors"
	"fmt"
	"slices"

	"lampswap/photometry"
	"lampswap/photometry/diag"
	"lampswap/photometry/fixture"
	"lampswap/photometry/internal/memo"
	"lampswap/photometry/interreflect"
	"lampswap/photometry/job"
	"lampswap/photometry/lighting"
	"lampswap/photometry/losses"
	"lampswap/photometry/study"
)

// A solver finds the light of candidates, each distinct distribution once.
type solver struct {
	job      *job.Job
	options  *Options
	space    *lighting.Space
	held     []lighting.System // of the proposed groups; nil where there is none beside the one that is varied
	progress lighting.Progress
	shapes   map[shapeKey]*shape
	known    map[shapeKey]*job.System // whose luminaires the job has already
	solves   int
	expected int
	points   bool                // light is kept at every point, that others' can be added
	fixtures *memo.Cache[*shape] // of cross-sections, for several rooms; may be nil
}

// A shape is one distribution with its initial light at ballast factor 1 and with the lumens of its luminaire, undimmed.
type shape struct {
	luminaire photometry.Luminaire
	suggested string     // maintenance category; "" with a photometric file
	unit      job.System // one luminaire of it in each place
	lit       bool
	light     lighting.System // Grids have statistics only, but in a job with groups
	wrong     *Reason         // why the lamps do not go into the section; nil if they do
}

func newSolver(ctx context.Context, o *Options, progress lighting.Progress) (*solver, error) {
	space, err := lighting.NewSpace(ctx, o.Job, interreflect.Options{Progress: progress})
	if err != nil {
		return nil, err
	}
	s := solverIn(space, o)
	s.progress, s.points = progress, o.grouped()
	for i := range o.held {
		held, err := space.Solve(ctx, &o.held[i])
		if err != nil {
			return nil, err
		}
		s.held = append(s.held, held)
	}
	return s, nil
}

// solverIn is a solver for a room that is prepared.
func solverIn(space *lighting.Space, o *Options) *solver {
	return &solver{job: o.Job, options: o, space: space, shapes: map[shapeKey]*shape{}, known: map[shapeKey]*job.System{}}
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

// option gives a candidate its light. It is left out if its lamps do not go into the fixture.
func (s *solver) option(ctx context.Context, c candidate) (p Option, out *LeftOut, err error) {
	if s.options.grouped() && c.Own() {
		p, err = s.own(ctx, c)
		return p, nil, err
	}
	sh, err := s.shape(ctx, c)
	if err != nil || sh.wrong != nil {
		return Option{}, sh.leftOut(c), err
	}
	p = c.Option
	if !p.Own() {
		s.dress(&p.From, c.host, sh)
	}
	from := &p.From
	if s.options.grouped() {
		whole, light := s.whole(sh, from)
		p.Light = light
		p.NotAllowed = lighting.Temperature(s.job, from).Outside
		s.price(&p, &whole)
	} else {
		p.Light = sh.light.Relamped(s.job, from)
		p.NotAllowed = p.Light.Outside
		s.price(&p, from)
	}
	p.Light = statistics(p.Light)
	p.Notes = notes(s.job, &p, c.host)
	return p, nil, nil
}

// varied is a candidate with the light of its luminaires by themselves, at every point.
func (s *solver) varied(ctx context.Context, c candidate) (p Option, light lighting.System, out *LeftOut, err error) {
	sh, err := s.shape(ctx, c)
	if err != nil || sh.wrong != nil {
		return Option{}, lighting.System{}, sh.leftOut(c), err
	}
	p = c.Option
	if !p.Own() {
		s.dress(&p.From, c.host, sh)
	}
	return p, sh.light.Relit(s.job, &p.From), nil, nil
}

// price tells what an option draws, all of its luminaires together.
func (s *solver) price(p *Option, from *job.System) {
	account := study.AccountOf(s.job, from, &p.Light)
	p.KW, p.KWhPerYear = account.KW, account.KWhPerYear
	if cost, ok := account.Power(); ok {
		p.EnergyCost = &cost
	}
}

// whole is the proposed system with other luminaires in the group that is varied, and its light: the others' stays, as light is a sum.
func (s *solver) whole(sh *shape, from *job.System) (job.System, lighting.System) {
	system, parts := s.job.Proposed, slices.Clone(s.held)
	varied := sh.light.Relit(s.job, from)
	if system.Parts == nil {
		return *from, varied
	}
	system.Parts = slices.Clone(system.Parts)
	for i := range system.Parts {
		if system.Parts[i].Group == s.options.Group {
			system.Parts[i] = *from
			parts[i] = varied
		}
	}
	light := lighting.Sum(parts)
	ofKind(&light, &varied)
	return system, light
}

// own is a system of a job with groups as it stands, all of it.
func (s *solver) own(ctx context.Context, c candidate) (Option, error) {
	p := c.Option
	system := &s.job.Proposed
	light := lighting.Sum(s.held)
	if !p.Proposed {
		system = &s.job.Existing
		if p.Replacement {
			system = s.job.Replacement
		}
		var err error
		if light, err = s.space.Solve(ctx, system); err != nil {
			return Option{}, err
		}
	}
	p.Light = light
	if p.Any() {
		p.Notes = notes(s.job, &p, c.host)
	}
	p.NotAllowed = light.Outside
	s.price(&p, system)
	none := lighting.System{}
	kind := &none
	for _, k := range (lighting.Side{From: system, System: &light}).Kinds() {
		if k.From.Group == s.options.Group {
			kind = k.System
		}
	}
	ofKind(&p.Light, kind)
	p.Light = statistics(p.Light)
	return p, nil
}

// ofKind tells of a whole system what is of one luminaire as of those of one kind.
func ofKind(s, kind *lighting.System) {
	s.InputWattsEach, s.LampLumensEach, s.Efficiency, s.UpwardShare, s.Losses = kind.InputWattsEach, kind.LampLumensEach, kind.Efficiency, kind.UpwardShare, kind.Losses
}

// statistics is a system without the light of single points, nor that of its parts.
func statistics(s lighting.System) lighting.System {
	s.Parts, s.Grids = nil, slices.Clone(s.Grids)
	for i := range s.Grids {
		g := &s.Grids[i]
		g.Direct, g.Interreflected, g.Maintained = nil, nil, nil
	}
	return s
}

func (sh *shape) leftOut(c candidate) *LeftOut {
	if sh == nil {
		return nil
	}
	return &LeftOut{Reason: *sh.wrong, Option: &c.Option}
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

// prepare finds the distributions of candidates and tells the room which are to be lit.
func (s *solver) prepare(ctx context.Context, candidates []candidate) error {
	s.expect(candidates)
	one := 1.0
	var units []*job.System
	for _, c := range candidates {
		if s.shapes[c.shape] != nil || c.Own() && !c.Any() {
			continue
		}
		sh, err := s.luminaire(ctx, c)
		if err != nil {
			return err
		}
		s.shapes[c.shape] = sh
		if sh.wrong == nil {
			sh.unit = job.System{Photometry: c.From.Photometry, Luminaire: sh.luminaire, Layout: c.From.Layout, Emergency: c.From.Emergency, Lamps: 1, LampLumens: sh.luminaire.LampLumens,
				BallastFactor: 1, InputWatts: 1, Category: c.host.Category, Losses: job.Overrides{Total: &one}}
			units = append(units, &sh.unit)
		}
	}
	s.space.Expect(units)
	return nil
}

// shape returns the distribution of a candidate with its light, solved at the first asking.
func (s *solver) shape(ctx context.Context, c candidate) (*shape, error) {
	sh := s.shapes[c.shape]
	if sh.lit || sh.wrong != nil {
		return sh, nil
	}
	var err error
	if sh.light, err = s.space.Solve(ctx, &sh.unit); err != nil {
		return nil, err
	}
	if sh.lit = true; !s.points {
		sh.light = statistics(sh.light)
	}
	s.solves++
	if s.progress != nil {
		s.progress("light of each distribution", float64(s.solves)/float64(s.expected))
	}
	return sh, nil
}

// luminaire finds the distribution: the job's own where it has it, else computed from the cross-section.
func (s *solver) luminaire(ctx context.Context, c candidate) (*shape, error) {
	if own := s.known[c.shape]; own != nil {
		return &shape{luminaire: own.Luminaire, suggested: own.SuggestedCategory}, nil
	}
	if c.host.Section == nil {
		return &shape{luminaire: c.host.Luminaire, suggested: c.host.SuggestedCategory}, nil
	}
	sh, err := s.fixtures.Get(ctx, fixtureKey(c), func() (*shape, int64, error) {
		sh, err := s.computed(c)
		return sh, shapeBytes, err
	})
	if err != nil {
		return nil, err
	}
	own := *sh // its light is of this room
	return &own, nil
}

// shapeBytes is about how much memory the distribution of a cross-section takes.
const shapeBytes = 64 << 10

// fixtureKey is the digest of all that the distribution of a candidate's cross-section depends on.
func fixtureKey(c candidate) memo.Key {
	content, err := json.Marshal(c.host.Section)
	if err != nil {
		panic(err) // numbers and words
	}
	shape := c.shape
	shape.host = 0
	return sha256.Sum256(fmt.Appendf(content, "%v %v", shape, c.tubes.EndToEnd))
}

// computed is the distribution of a candidate's cross-section.
func (s *solver) computed(c candidate) (*shape, error) {
	luminaire, result, err := s.job.Solve(c.host.Section, c.tubes)
	var faults diag.List
	switch {
	case errors.As(err, &faults):
		return &shape{wrong: &Reason{Why: Misfit, Text: faults[0].Wrong + ", want " + faults[0].Want}}, nil
	case errors.Is(err, fixture.ErrDark):
		return &shape{wrong: &Reason{Why: Dark}}, nil
	case err != nil:
		return nil, err
	}
	return &shape{luminaire: luminaire, suggested: c.host.Section.SuggestedCategory(result)}, nil
}
