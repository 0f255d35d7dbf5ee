package uncertainty

import (
	"context"
	"math"
	"slices"

	"lampswap/photometry"
	"lampswap/photometry/interreflect"
	"lampswap/photometry/job"
	"lampswap/photometry/lighting"
	"lampswap/photometry/room"
)

// bendConfidence places the two solves of a geometric input: at the limits of a rectangular tolerance, at two standard deviations of a
// normal one. With the prediction in the middle they make a parabola for each statistic. The tests hold the whole against full solves with
// all of them moved at once.
const bendConfidence = 0.9545

// A grid of more than mostFine points is thinned to no fewer than a quarter of that; among racks patches are larger and rays fewer. The
// relative changes are then of such coarser light, prediction and all.
const (
	mostFine      = 8000
	coarsePatches = 3000
	coarsePatch   = 10 * photometry.Foot // at least, but no more than half the room's least extent
	coarseRays    = 64
)

// solve finds the bends.
func (m *doubts) solve(ctx context.Context, progress lighting.Progress) error {
	s := &bender{doubts: m, progress: progress, job: m.job, options: interreflect.Options{Progress: progress}}
	s.plan()
	if len(s.steps) == 0 {
		return nil
	}
	if err := s.start(ctx); err != nil {
		return err
	}
	for i := range s.steps {
		t := &s.steps[i]
		low, err := s.moved(ctx, t.sides, t.low...)
		if err != nil {
			return err
		}
		high := low
		if t.high != nil {
			if high, err = s.moved(ctx, t.sides, t.high...); err != nil {
				return err
			}
		}
		for k, side := range t.sides {
			s.lay(side, low[k], high[k], t.shape)
		}
		s.tell(float64(i+1) / float64(len(s.steps)))
	}
	m.solves = s.solves
	return nil
}

// A bender makes the solves: of the job, or of a coarser one.
type bender struct {
	*doubts
	progress lighting.Progress
	job      *job.Job // perhaps coarser than the result's
	options  interreflect.Options
	steps    []step
	variants []lighting.Variant  // all that is solved
	spaces   []*lighting.Space   // of each
	base     [][]room.Statistics // of each side and grid, initial light
}

// A step is one or two solves of some sides with quantities moved, and what their light, relative to the
// prediction, tells of each statistic.
type step struct {
	sides     []int
	low, high []move
	shape     func(shape *geometry, low, high float64)
}

// A move is a geometric quantity off its value by x.
type move struct {
	quantity
	x float64
}

func (s *bender) tell(part float64) {
	if s.progress != nil {
		s.progress("light with other reflectances and heights", part)
	}
}

// plan lists the steps: both ends of each quantity, then pairs of reflectances at their upper ends, which are the same for all sides. (Of
// mounting heights they are not where racks keep one system's luminaires from hanging as low as another's.)
func (s *bender) plan() {
	var upper [geometric]*move
	for _, q := range s.quantities {
		if !q.geometric() || q.input < job.MountingHeight && !s.job.Interreflection {
			continue
		}
		for left := q.members; len(left) > 0; {
			var t step
			t, left = endsOf(q, left)
			s.steps = append(s.steps, t)
			upper[q.input-firstGeometric] = &t.high[0]
		}
	}
	for k, p := range pairs {
		if a, b := upper[p[0]], upper[p[1]]; a != nil && b != nil {
			s.steps = append(s.steps, step{a.members, []move{*a, *b}, nil, func(shape *geometry, light, _ float64) {
				alone := shape.bends[a.input-firstGeometric].at(a.x) * shape.bends[b.input-firstGeometric].at(b.x)
				shape.mixed[k] = (light/alone - 1) / (a.x * b.x)
			}})
		}
	}
}

// endsOf is the step to both ends of a quantity, which lays a parabola, for the first of some sides and those of the others that share its
// spread; the rest is left.
func endsOf(q quantity, sides []int) (t step, left []int) {
	x1, x2 := q.spreads[sides[0]].ends(bendConfidence)
	for _, i := range sides {
		if q.spreads[i] == q.spreads[sides[0]] {
			t.sides = append(t.sides, i)
		} else {
			left = append(left, i)
		}
	}
	switch {
	case x1 > -negligible:
		x1 = x2 / 2
	case x2 < negligible:
		x2 = x1 / 2
	}
	t.low, t.high = []move{{q, x1}}, []move{{q, x2}}
	t.shape = func(shape *geometry, low, high float64) {
		shape.bends[q.input-firstGeometric] = through(x1, low-1, x2, high-1)
	}
	return t, left
}

// start settles how fine to solve and finds the light that changes are relative to.
func (s *bender) start(ctx context.Context) error {
	s.coarsen()
	for _, side := range s.sides {
		all := make([]room.Statistics, len(side.Grids))
		kept := 1.0
		if side.Parts == nil { // else each kind keeps a part of its own, see light
			kept = side.Kept()
		}
		for i, g := range side.Grids {
			all[i] = g.Statistics
			all[i].Average, all[i].Minimum, all[i].Maximum = all[i].Average/kept, all[i].Minimum/kept, all[i].Maximum/kept
		}
		s.base = append(s.base, all)
	}
	space, err := lighting.NewSpace(ctx, s.job, s.options)
	if err != nil {
		return err
	}
	s.variants = []lighting.Variant{s.variant(nil)}
	for _, t := range s.steps {
		for _, moves := range [][]move{t.low, t.high} {
			if v := s.variant(moves); !slices.Contains(s.variants, v) {
				s.variants = append(s.variants, v)
			}
		}
	}
	s.spaces = space.Variants(s.variants)
	if !s.coarse {
		return nil
	}
	s.base, err = s.moved(ctx, s.all())
	return err
}

// coarsen takes fewer points of large grids and, among racks, larger patches and fewer rays; in an empty room patches cost little.
func (s *bender) coarsen() {
	fewer := *s.job
	plane := fewer.Room.WorkPlaneGrid(fewer.Spacing)
	s.coarse = len(fewer.Boxes()) > 0
	thinned := func(g room.Grid) float64 {
		times := 1.0
		if points := float64(g.NX * g.NY); points > mostFine {
			times, s.coarse = math.Floor(math.Sqrt(4*points/mostFine)), true
		}
		return times
	}
	fewer.Spacing *= thinned(plane)
	fewer.Grids = append([]room.Grid(nil), fewer.Grids...)
	for i := range fewer.Grids {
		g := &fewer.Grids[i]
		times := thinned(*g)
		nx, ny := room.Cells(float64(g.NX), times), room.Cells(float64(g.NY), times)
		g.StepX, g.StepY = g.StepX*float64(g.NX)/float64(nx), g.StepY*float64(g.NY)/float64(ny)
		g.NX, g.NY = nx, ny
	}
	if racks := fewer.Boxes(); len(racks) > 0 {
		r := fewer.Room
		area := 2 * (r.Length*r.Width + r.Length*r.Height + r.Width*r.Height)
		for _, rack := range racks {
			area += rack.Size.X*rack.Size.Y + 2*rack.Size.Z*(rack.Size.X+rack.Size.Y)
		}
		s.options.Patch = min(max(coarsePatch, math.Sqrt(area/coarsePatches)), min(r.Length, r.Width, r.Height)/2)
		s.options.Rays = coarseRays
	}
	s.job = &fewer
}

// variant is the room with quantities moved.
func (s *bender) variant(moves []move) lighting.Variant {
	v := lighting.Variant{Reflectance: s.job.Room.Reflectance}
	moving := map[job.Input]*float64{
		job.CeilingReflectance: &v.Reflectance.Ceiling, job.WallReflectance: &v.Reflectance.Walls, job.FloorReflectance: &v.Reflectance.Floor,
		job.MountingHeight: &v.Raised,
	}
	for _, m := range moves {
		*moving[m.input] += m.x
	}
	return v
}

// moved works out the light of some sides with quantities moved.
func (s *bender) moved(ctx context.Context, sides []int, moves ...move) (all [][]room.Statistics, err error) {
	space := s.spaces[slices.Index(s.variants, s.variant(moves))]
	for _, i := range sides {
		light, err := s.light(ctx, space, i)
		if err != nil {
			return nil, err
		}
		all = append(all, light)
	}
	return all, nil
}

// all are the numbers of all sides.
func (s *bender) all() (sides []int) {
	for i := range s.sides {
		sides = append(sides, i)
	}
	return sides
}

// light works out the light of a side on all grids: initial for luminaires of one kind; of several the sum of what each of them maintains.
func (s *bender) light(ctx context.Context, space *lighting.Space, side int) ([]room.Statistics, error) {
	var sum []lighting.Grid
	from, to := s.of(side)
	for _, k := range s.kinds[from:to] {
		kept := 1.0
		if to > from+1 {
			kept = k.Kept()
		}
		grids, _, err := space.Grids(ctx, k.From, kept)
		if err != nil {
			return nil, err
		}
		s.solves++
		if sum == nil {
			sum = grids
			continue
		}
		for g := range sum {
			for p, x := range grids[g].Maintained {
				sum[g].Maintained[p] += x
			}
			sum[g].Statistics = room.Summarize(sum[g].Maintained)
		}
	}
	all := make([]room.Statistics, len(sum))
	for i, g := range sum {
		all[i] = g.Statistics
	}
	return all, nil
}

// boundless is how many times the light may grow by a tolerance: where it grows more it is next to none, and stays so.
const boundless = 1e6

// lay hands the light of two solves, relative to the prediction, to each statistic of a side; those that are dark stay so.
func (s *bender) lay(side int, low, high []room.Statistics, on func(shape *geometry, low, high float64)) {
	for g := range low {
		for statistic := range gridStatistics {
			base, less, more := statistic.of(s.base[side][g]), statistic.of(low[g]), statistic.of(high[g])
			if base > 0 && max(less, more) <= boundless*base {
				on(&s.shapes[side][g][statistic], less/base, more/base)
			}
		}
	}
}
