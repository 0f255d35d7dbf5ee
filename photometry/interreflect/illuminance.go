package interreflect

import (
	"context"

	"lampswap/photometry/room"
)

// Illuminance returns the initial interreflected illuminance, lx, at the points of a grid, row by row: value
// iy*NX+ix belongs to column ix and row iy. A point inside a rack is NaN. It errs if the context is
// cancelled.
func (s *Solution) Illuminance(ctx context.Context, g room.Grid) ([]float64, error) {
	all, err := s.enclosure.Illuminance(ctx, []room.Grid{g}, s)
	if err != nil {
		return nil, err
	}
	return all[0][0], nil
}

// Illuminance is Solution.Illuminance for several grids and several solutions of this enclosure at once: of
// each grid in turn the solutions in their order. Which part of a point's view each surface takes is found
// once for all solutions; what one gets does not depend on the others. It errs as Solution.Illuminance does,
// and panics if a solution belongs to another enclosure.
func (e *Enclosure) Illuminance(
	ctx context.Context,
	grids []room.Grid,
	solutions ...*Solution,
) ([][][]float64, error) {
	for _, s := range solutions {
		if s.enclosure != e {
			panic("interreflect: solution of another enclosure")
		}
	}
	all, o := make([][][]float64, len(grids)), e.emitters(solutions)
	for k, g := range grids {
		var err error
		if all[k], err = o.illuminance(ctx, g); err != nil {
			return nil, err
		}
	}
	return all, nil
}

// illuminance gathers the points of a grid, for each solution.
func (o *emitters) illuminance(ctx context.Context, g room.Grid) ([][]float64, error) {
	all := make([][]float64, len(o.solutions))
	for i := range all {
		all[i] = make([]float64, g.NX*g.NY)
	}
	if o.enclosure.options.Plain {
		return all, o.points(ctx, g.NX*g.NY, whole(gathering), all, func(i int) (p, normal room.Vec) {
			return g.Point(i%g.NX, i/g.NX), g.Normal
		})
	}
	return all, o.tiles(ctx, g, all)
}

const gathering = "interreflected light" // a step of the work
