package interreflect

import (
	"context"
	"math"

	"lampswap/photometry/room"
)

// Illuminance returns the initial interreflected illuminance, lx, at the points of a grid, row by row: value iy*NX+ix belongs to
// column ix and row iy. A point inside a rack is NaN. It errs with a *MemoryError and if the context is cancelled.
func (s *Solution) Illuminance(ctx context.Context, g room.Grid) ([]float64, error) {
	all, err := s.enclosure.Illuminance(ctx, g, s)
	if err != nil {
		return nil, err
	}
	return all[0], nil
}

// Illuminance is Solution.Illuminance for several solutions of this enclosure at once, in their order: which part of a point's view
// each surface takes is found once for all of them. It errs as Solution.Illuminance does, and panics if a solution belongs to another
// enclosure.
func (e *Enclosure) Illuminance(ctx context.Context, g room.Grid, solutions ...*Solution) ([][]float64, error) {
	all := make([][]float64, len(solutions))
	for i, s := range solutions {
		if s.enclosure != e {
			panic("interreflect: solution of another enclosure")
		}
		all[i] = make([]float64, g.NX*g.NY)
	}
	switch {
	case len(solutions) == 0:
		return all, nil
	case e.empty == nil:
		return all, e.sighted(ctx, g, solutions, all)
	}
	v := e.view(solutions)
	done, err := v.smooth(ctx, g, all)
	if done || err != nil {
		return all, err
	}
	return all, v.points(ctx, g.NX*g.NY, "interreflected light", all, func(i int) (p, normal room.Vec) {
		return g.Point(i%g.NX, i/g.NX), g.Normal
	})
}

// sighted gathers along rays, which the enclosure keeps for the next system.
func (e *Enclosure) sighted(ctx context.Context, g room.Grid, solutions []*Solution, all [][]float64) error {
	seen, err := e.sights(ctx, g)
	if err != nil {
		return err
	}
	return e.blocks(ctx, g.NX*g.NY, "interreflected light", func(i int) {
		open := e.open(g.Point(i%g.NX, i/g.NX))
		for k, s := range solutions {
			all[k][i] = math.NaN()
			if open {
				all[k][i] = seen.gather(i, s.exitance)
			}
		}
	})
}

func (e *Enclosure) sights(ctx context.Context, g room.Grid) (sightings, error) {
	e.mutex.Lock()
	defer e.mutex.Unlock()
	if s, ok := e.grids[g]; ok {
		return s, nil
	}
	count := g.NX * g.NY
	if err := e.check(4*int64(count)*int64(e.options.Rays), true, "sights of %d points with %d rays each", count, e.options.Rays); err != nil {
		return sightings{}, err
	}
	// the frame about the normal follows the grid, so that neighbours look alike and the result is smooth
	points := make([]room.Vec, count)
	free := make([]bool, len(points))
	for i := range points {
		points[i] = g.Point(i%g.NX, i/g.NX)
		free[i] = e.open(points[i])
	}
	s, err := e.look(ctx, len(points), true, func(i int) (eye, bool) {
		return eye{from: points[i], normal: g.Normal, right: g.U, forward: g.V}, free[i]
	})
	if err == nil {
		e.grids[g] = s
		e.stored += s.bytes()
	}
	return s, err
}
