package interreflect

import (
	"context"
	"errors"
	"math"

	"lampswap/photometry/direct"
	"lampswap/photometry/room"
)

// A Balance is the account of the light, lm.
type Balance struct {
	Emitted  float64 // by the luminaires
	Arrived  float64 // of that, on the patches, as computed; what is missing fell between the points
	Absorbed float64 // by the surfaces, in the end
	Bounces  int
	Residual float64 // flux of the last bounce, as a part of what arrived; the rest of the series is added
	// Correction is the largest relative change that kept the flux of a bounce whole in a room with racks; 0 in
	// an empty room.
	Correction float64
}

// Imbalance returns how much more is absorbed than emitted, as a part of it; less than 0 if light is lost.
func (b Balance) Imbalance() float64 {
	if b.Absorbed == b.Emitted {
		return 0
	}
	return b.Absorbed/b.Emitted - 1
}

// A Solution is the interreflected light of one system in an enclosure. It is not changed by use.
type Solution struct {
	enclosure *Enclosure
	direct    []float64 // lx, of each patch
	total     []float64 // lx
	exitance  []float64 // lm/m²
	balance   Balance
}

// ErrEndless says that the light does not die away: the surfaces absorb next to nothing.
var ErrEndless = errors.New("interreflect: the surfaces absorb too little for the light to die away")

const mostBounces = 2000

// Solve finds the interreflected light of a scene in a room; the scene's racks stand in it. It errs with a
// *MemoryError, with ErrEndless, and if the context is cancelled.
func Solve(ctx context.Context, r room.Room, scene direct.Scene, options Options) (*Solution, error) {
	e, err := NewEnclosure(ctx, r, scene.Racks, options)
	if err != nil {
		return nil, err
	}
	return e.Solve(ctx, scene)
}

// Solve finds the interreflected light of a scene's sources in the enclosure; the enclosure's racks count,
// not the scene's. It errs with ErrEndless, and if the context is cancelled.
func (e *Enclosure) Solve(ctx context.Context, scene direct.Scene) (*Solution, error) {
	all, err := e.SolveAll(ctx, []direct.Scene{scene})
	if err != nil {
		return nil, err
	}
	return all[0], nil
}

// SolveAll is Solve for several scenes, in their order: the shadows of those that hang alike are found once.
// What one gets does not depend on the others.
func (e *Enclosure) SolveAll(ctx context.Context, scenes []direct.Scene) ([]*Solution, error) {
	all := make([]*Solution, len(scenes))
	for _, group := range direct.Alike(scenes) {
		alike, values := group.Of(scenes), make([][]float64, len(group))
		for n, i := range group {
			all[i] = &Solution{enclosure: e, direct: make([]float64, len(e.areas))}
			all[i].balance.Emitted = scenes[i].Flux()
			alike[n], values[n] = e.holds(alike[n]), all[i].direct
		}
		if err := e.onPatches(ctx, alike, values); err != nil {
			return nil, err
		}
	}
	for _, s := range all {
		if err := s.iterate(ctx); err != nil {
			return nil, err
		}
		s.account()
	}
	return all, nil
}

// holds returns a scene as the enclosure has it.
func (e *Enclosure) holds(scene direct.Scene) direct.Scene {
	scene.Racks, scene.Room, scene.Cell = e.racks, e.room.Sides(), e.options.Patch
	scene.Plain = scene.Plain || e.options.Plain
	return scene
}

// iterate sums the Neumann series of the radiosity equation E = D + F ρ E, a bounce a term (Jacobi
// iteration), until one carries next to nothing, then the rest of it as a geometric series of the ratio of
// the last two:
//
//	E = Σ (F ρ)^k D
func (s *Solution) iterate(ctx context.Context) error {
	e := s.enclosure
	s.total = append([]float64(nil), s.direct...)
	light, exitance := append([]float64(nil), s.direct...), make([]float64, len(s.direct))
	arrived := s.admit(light)
	var empty *convolver
	if e.empty != nil {
		empty = e.convolver()
	}
	for before := arrived; arrived > 0; {
		if err := ctx.Err(); err != nil {
			return err
		}
		if s.balance.Bounces++; s.balance.Bounces > mostBounces {
			return ErrEndless
		}
		// the next term: M = ρ E, E = F M
		leaving := e.reflect(exitance, light)
		if empty != nil {
			empty.bounce(light, exitance)
		} else {
			err := e.blocks(ctx, len(light), whole("bounces"), func(i int) {
				light[i] = e.seen.gather(i, exitance)
			})
			if err != nil {
				return err
			}
			s.correct(light, leaving)
		}
		now := e.flux(light)
		s.balance.Residual = now / arrived
		// the terms that are left, as a geometric series
		tail := 1.0
		done := now <= e.options.Residual*arrived
		if done && now > 0 {
			ratio := min(now/before, 0.999)
			tail = 1 / (1 - ratio)
		}
		for i, x := range light {
			s.total[i] += tail * x
		}
		if done {
			break
		}
		before = now
	}
	s.exitance = make([]float64, len(s.total))
	e.reflect(s.exitance, s.total)
	return nil
}

// Shadows that fall between the points leave less than this of the flux unaccounted for; more is another
// matter, such as a luminaire that hangs in a rack or outside the room, and stays as it is.
const mostAdmitted = 0.01

// admit notes the flux that arrives, lm, and among racks scales it to what the luminaires emit.
func (s *Solution) admit(light []float64) float64 {
	e := s.enclosure
	arrived := e.flux(light)
	s.balance.Arrived = arrived
	off := s.balance.Emitted/arrived - 1
	if len(e.racks) == 0 || !(math.Abs(off) < mostAdmitted) {
		return arrived
	}
	for i := range light {
		light[i] *= 1 + off
		s.direct[i] *= 1 + off
		s.total[i] *= 1 + off
	}
	return s.balance.Emitted
}

// correct scales a bounce so that what leaves the surfaces arrives.
func (s *Solution) correct(light []float64, leaving float64) {
	arriving := s.enclosure.flux(light)
	if arriving == 0 {
		return
	}
	factor := leaving / arriving
	s.balance.Correction = max(s.balance.Correction, math.Abs(factor-1))
	for i := range light {
		light[i] *= factor
	}
}

// reflect writes the exitance, lm/m², of every patch and returns the flux that leaves, lm.
func (e *Enclosure) reflect(exitance, light []float64) float64 {
	flux := 0.0
	for i := range e.faces {
		f := &e.faces[i]
		for k := f.first; k < f.first+f.columns()*f.rows(); k++ {
			exitance[k] = f.reflectance * e.keeps[k] * light[k]
			flux += exitance[k] * e.areas[k] * e.leaves[k]
		}
	}
	return flux
}

// flux returns what of the light on the patches does not pass on through a rack, lm.
func (e *Enclosure) flux(light []float64) float64 {
	flux := 0.0
	for i := range e.faces {
		f := &e.faces[i]
		for k := f.first; k < f.first+f.columns()*f.rows(); k++ {
			flux += light[k] * e.areas[k] * e.keeps[k]
		}
	}
	return flux
}

func (s *Solution) account() {
	e := s.enclosure
	for i := range e.faces {
		f := &e.faces[i]
		for k := f.first; k < f.first+f.columns()*f.rows(); k++ {
			s.balance.Absorbed += s.total[k] * e.areas[k] * e.keeps[k] * (1 - f.reflectance*e.leaves[k])
		}
	}
}

// Balance returns the account of the light.
func (s *Solution) Balance() Balance { return s.balance }

// MeanInterreflected returns the mean interreflected illuminance, lx, of all surfaces, racks included.
func (s *Solution) MeanInterreflected() float64 {
	flux, area := 0.0, 0.0
	for i, a := range s.enclosure.areas {
		flux += (s.total[i] - s.direct[i]) * a
		area += a
	}
	return flux / area
}
