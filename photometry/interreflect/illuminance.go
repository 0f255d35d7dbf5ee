package interreflect

import (
	"context"

	"lampswap/photometry/room"
)

// Illuminance returns the initial interreflected illuminance, lx, at the points of a grid, row by row: value
// iy*NX+ix belongs to column ix and row iy. A point inside a rack is NaN. It errs with a *MemoryError and if
// the context is cancelled.
func (s *Solution) Illuminance(ctx context.Context, g room.Grid) ([]float64, error) {
	all, err := s.enclosure.Illuminance(ctx, g, s)
	if err != nil {
		return nil, err
	}
	return all[0], nil
}

// Illuminance is Solution.Illuminance for several solutions of this enclosure at once, in their order: which
// part of a point's view each surface takes is found once for all of them. It errs as Solution.Illuminance
// does, and panics if a solution belongs to another enclosure.
func (e *Enclosure) Illuminance(
	ctx context.Context,
	g room.Grid,
	solutions ...*Solution,
) ([][]float64, error) {
	all := make([][]float64, len(solutions))
	for i, s := range solutions {
		if s.enclosure != e {
			panic("interreflect: solution of another enclosure")
		}
		all[i] = make([]float64, g.NX*g.NY)
	}
	if len(solutions) == 0 {
		return all, nil
	}
	o, rough := e.emitters(solutions), all
	if e.options.Plain {
		return all, o.points(ctx, g.NX*g.NY, whole(gathering), all, func(i int) (p, normal room.Vec) {
			return g.Point(i%g.NX, i/g.NX), g.Normal
		})
	}
	if e.empty != nil {
		var err error
		if o, rough, err = o.smooth(ctx, g, all); err != nil || len(rough) == 0 {
			return all, err
		}
	}
	return all, o.tiles(ctx, g, rough)
}

const gathering = "interreflected light" // a step of the work
