package uncertainty

import (
	"context"
	"math"

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
	s := &bender{doubts: m, progress: progress, job: m.job}
	for _, q := range m.quantities {
		if !q.geometric() || q.input < job.MountingHeight && !m.job.Interreflection {
			continue
		}
		s.queue = append(s.queue, q)
	}
	if len(s.queue) == 0 {
		return nil
	}
	if err := s.start(ctx); err != nil {
		return err
	}
	var upper [geometric]*move
	for i, q := range s.queue {
		end, err := s.bend(ctx, q)
		if err != nil {
			return err
		}
		upper[q.input-firstGeometric] = &end
		s.tell(float64(i+1) / float64(len(s.queue)+1))
	}
	for k, p := range pairs {
		a, b := upper[p[0]], upper[p[1]]
		if a == nil || b == nil {
			continue
		}
		if err := s.mix(ctx, k, *a, *b); err != nil {
			return err
		}
	}
	s.tell(1)
	m.solves = s.solves
	return nil
}

// A bender makes the solves: of the job, or of a coarser one.
type bender struct {
	*doubts
	progress lighting.Progress
	queue    []quantity
	job      *job.Job // perhaps coarser than the result's
	options  interreflect.Options
	space    *lighting.Space
	base     [][]room.Statistics // of each side and grid, initial light
}

func (s *bender) tell(part float64) {
	if s.progress != nil {
		s.progress("light with other reflectances and heights", part)
	}
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
	var err error
	if s.space, err = lighting.NewSpace(ctx, s.job, s.options); err != nil || !s.coarse {
		return err
	}
	for i := range s.sides {
		if s.base[i], err = s.light(ctx, s.space, i, 0); err != nil {
			return err
		}
	}
	return nil
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

// light works out the light of a side on all grids with its luminaires raised: initial for luminaires of one kind; of several the sum of what each
// of them maintains.
func (s *bender) light(ctx context.Context, space *lighting.Space, side int, up float64) ([]room.Statistics, error) {
	var sum []lighting.Grid
	from, to := s.of(side)
	for _, k := range s.kinds[from:to] {
		kept := 1.0
		if to > from+1 {
			kept = k.Kept()
		}
		system := *k.From
		system.Layout = raised(system.Layout, up)
		grids, _, err := space.Grids(ctx, &system, kept)
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

// A move is a geometric quantity off its value by x.
type move struct {
	quantity
	x float64
}

// bend solves at both ends of a quantity and lays the parabolas of all sides that share it. It returns the upper end, which is the same for
// all sides but where racks keep one system's luminaires from hanging as low as another's; no reflectance is so.
func (s *bender) bend(ctx context.Context, q quantity) (upper move, err error) {
	for left := q.members; len(left) > 0; {
		x1, x2 := q.spreads[left[0]].ends(bendConfidence)
		var alike, others []int
		for _, i := range left {
			if q.spreads[i] == q.spreads[left[0]] {
				alike = append(alike, i)
			} else {
				others = append(others, i)
			}
		}
		switch {
		case x1 > -negligible:
			x1 = x2 / 2
		case x2 < negligible:
			x2 = x1 / 2
		}
		low, err := s.moved(ctx, alike, move{q, x1})
		if err != nil {
			return move{}, err
		}
		high, err := s.moved(ctx, alike, move{q, x2})
		if err != nil {
			return move{}, err
		}
		for k, side := range alike {
			s.lay(side, low[k], high[k], func(shape *geometry, low, high float64) {
				shape.bends[q.input-firstGeometric] = through(x1, low-1, x2, high-1)
			})
		}
		left, upper = others, move{q, x2}
	}
	return upper, nil
}

// mix solves with two reflectances at their upper ends.
func (s *bender) mix(ctx context.Context, pair int, a, b move) error {
	both, err := s.moved(ctx, a.members, a, b)
	if err != nil {
		return err
	}
	for k, side := range a.members {
		s.lay(side, both[k], both[k], func(shape *geometry, light, _ float64) {
			alone := shape.bends[a.input-firstGeometric].at(a.x) * shape.bends[b.input-firstGeometric].at(b.x)
			shape.mixed[pair] = (light/alone - 1) / (a.x * b.x)
		})
	}
	return nil
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

// moved works out the light of some sides with quantities moved.
func (s *bender) moved(ctx context.Context, sides []int, moves ...move) ([][]room.Statistics, error) {
	other, space := *s.job, s.space
	rho, up := &other.Room.Reflectance, 0.0
	moving := map[job.Input]*float64{job.CeilingReflectance: &rho.Ceiling, job.WallReflectance: &rho.Walls, job.FloorReflectance: &rho.Floor,
		job.MountingHeight: &up}
	for _, m := range moves {
		*moving[m.input] += m.x
	}
	if *rho != s.job.Room.Reflectance {
		var err error
		if space, err = s.space.Moved(ctx, &other, s.options); err != nil {
			return nil, err
		}
	}
	var all [][]room.Statistics
	for _, i := range sides {
		light, err := s.light(ctx, space, i, up)
		if err != nil {
			return nil, err
		}
		all = append(all, light)
	}
	return all, nil
}

func raised(l job.Layout, by float64) job.Layout {
	l.MountingHeight += by
	l.Placements = append([]room.Placement(nil), l.Placements...)
	for i := range l.Placements {
		l.Placements[i].Position.Z += by
	}
	return l
}
