package whole

import (
	"context"
	"fmt"
	"runtime"
	"slices"
	"sync"

	"golang.org/x/sync/semaphore"

	"lampswap/photometry/building"
	"lampswap/photometry/internal/crew"
	"lampswap/photometry/job"
	"lampswap/photometry/lighting"
	"lampswap/photometry/study"
)

// A Result is all that is found of a building.
type Result struct {
	Building *building.Building
	Spaces   []Space       // in the order of the file
	Whole    *study.Result // energy, money and cautions of all luminaires together; it has no light
	Totals   Totals
	Schedule []Kind
	Order    []Step // spaces by payback; empty where the cost or the saving is not known
	Limits   Limits
	Stages   []Stage // of the phases; empty where all is done at once
}

// A Space is what is found of one space; numbers are of one copy.
type Space struct {
	*building.Space
	*study.Result
}

// Totals are sums over all spaces with their copies. Areas are in m², densities in W/m², of all luminaires lit and at full output.
type Totals struct {
	FloorArea        float64
	Spaces, Unjudged int        // with copies
	Sides            []SideSums // one a side, in their order
}

// SideSums are sums over the luminaires of one side. A space without a replacement counts in that as proposed.
type SideSums struct {
	Luminaires, Failed int
	KW, KWhPerYear     float64 // as found, and as set
	Connected, Density float64 // W and W/m²
	Met, Missed        int     // spaces with copies
}

// Proposed returns the sums of the proposed lighting.
func (t Totals) Proposed() SideSums { return t.Sides[1] }

// memory is how many bytes the spaces at work may take together; a larger one runs alone.
const memory = 2 << 30

// keptLight is about how many bytes of light are kept for equal rooms.
const keptLight = 256 << 20

// Run works the building out; progress may be nil. It errs as study.Run does, with the name of the space.
func Run(ctx context.Context, b *building.Building, progress lighting.Progress) (*Result, error) {
	return RunWith(ctx, b, lighting.NewCache(keptLight), progress)
}

// RunWith works the building out as Run does, to the bit, with the light that the cache has already.
func RunWith(ctx context.Context, b *building.Building, cache *lighting.Cache, progress lighting.Progress) (*Result, error) {
	r := &Result{Building: b, Spaces: make([]Space, len(b.Spaces))}
	if err := r.light(ctx, cache, progress); err != nil {
		return nil, err
	}
	r.Whole = study.Priced(b.Whole)
	r.Totals = r.totals()
	r.Schedule = r.schedule()
	r.Order = r.order()
	r.Limits = r.limits()
	r.Stages = r.stages()
	return r, nil
}

// light works out the light of every space, some at a time.
func (r *Result) light(ctx context.Context, cache *lighting.Cache, progress lighting.Progress) error {
	group, ctx := crew.WithContext(ctx)
	group.SetLimit(runtime.GOMAXPROCS(0))
	held := semaphore.NewWeighted(memory)
	var mutex sync.Mutex
	done := 0
	for i := range r.Building.Spaces {
		s := &r.Building.Spaces[i]
		group.Go(func() error {
			takes := min(lighting.Bytes(s.Job), memory)
			if err := held.Acquire(ctx, takes); err != nil {
				return err
			}
			defer held.Release(takes)
			found, err := study.RunWith(ctx, s.Job, cache)
			if err != nil {
				return fmt.Errorf("%s: %w", s.Name, err)
			}
			r.Spaces[i] = Space{s, found}
			mutex.Lock()
			defer mutex.Unlock()
			if done++; progress != nil {
				progress("spaces", float64(done)/float64(len(r.Spaces)))
			}
			return nil
		})
	}
	return group.Wait()
}

// Judged tells that a space has criteria.
func (s Space) Judged() bool { return len(s.Verdicts) > 0 }

// Area is the floor's, m².
func (s Space) Area() float64 { return s.Result.Job.Room.Area() }

// connected is what all luminaires of a system draw, all lit and at full output, W.
func connected(s *job.System) float64 {
	sum := 0.0
	for _, kind := range s.Kinds() {
		sum += kind.ConnectedWatts()
	}
	return sum
}

func (r *Result) totals() Totals {
	t := Totals{Sides: make([]SideSums, len(r.Whole.Sides))}
	for _, s := range r.Spaces {
		t.FloorArea += float64(s.Copies) * s.Area()
		t.Spaces += s.Copies
		if !s.Judged() {
			t.Unjudged += s.Copies
		}
	}
	for i, whole := range r.Whole.Sides {
		sums, account := &t.Sides[i], r.Whole.Energy.Accounts[i]
		sums.Luminaires, sums.KW, sums.KWhPerYear = whole.From.Number(), account.KW, account.KWhPerYear
		for _, kind := range whole.Kinds() {
			sums.Failed += len(kind.From.Use.Failed)
		}
		for _, s := range r.Spaces {
			side := s.Counted(i)
			sums.Connected += float64(s.Copies) * connected(s.Sides[side].From)
			switch {
			case !s.Judged():
			case s.MetBy(side):
				sums.Met += s.Copies
			default:
				sums.Missed += s.Copies
			}
		}
		sums.Density = sums.Connected / t.FloorArea
	}
	return t
}

// Counted is the side of a space that counts in a side of the building: the proposed where it has no replacement.
func (s Space) Counted(side int) int { return min(side, len(s.Sides)-1) }

// Met tells whether every space meets every criterion that it has, and its light is known.
func (r *Result) Met() bool {
	for _, s := range r.Spaces {
		if !s.Met() {
			return false
		}
	}
	return true
}

// Judged tells that a space has criteria.
func (r *Result) Judged() bool {
	for _, s := range r.Spaces {
		if s.Judged() {
			return true
		}
	}
	return false
}

// Stands tells whether every criterion is met by numbers that look like facts.
func (r *Result) Stands() bool {
	return r.Met() && !slices.ContainsFunc(r.Spaces, func(s Space) bool { return s.OnASlip() })
}

// Enough counts the spaces that have enough light by criteria of their own, with copies.
func (r *Result) Enough() int {
	n := 0
	for _, s := range r.Spaces {
		if s.LightJudged() && s.BrightEnough() && s.Proposed().Outside == nil {
			n += s.Copies
		}
	}
	return n
}

// LightJudged counts the spaces that have criteria of how much light there is, with copies.
func (r *Result) LightJudged() int {
	n := 0
	for _, s := range r.Spaces {
		if s.LightJudged() {
			n += s.Copies
		}
	}
	return n
}

// Standing is how the building stands: as its worst space. Spaces without criteria count where no other has some.
func (r *Result) Standing() study.Standing {
	standing := study.Unjudged
	for _, s := range r.Spaces {
		switch now := s.Standing(); {
		case !s.Met() && now == study.Unjudged:
			return study.OneMissed
		case now == study.OneMissed:
			return now
		case now == study.Qualified, standing == study.Unjudged && now != study.Unjudged:
			standing = now
		}
	}
	return standing
}
