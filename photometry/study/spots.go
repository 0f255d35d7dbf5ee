package study

import (
	"context"

	"lampswap/photometry/job"
	"lampswap/photometry/lighting"
	"lampswap/photometry/room"
)

// A Spot is a single point, m, at which light is asked for, with the unit normal of the side that receives it.
type Spot struct{ Position, Normal room.Vec }

// RunAt works the job out as Run does, and the initial light at spots besides, lx, with the ballast factor in it: a row for
// each kind of luminaire, in the order of Kinds. NaN is a spot inside a rack. It errs as Run does.
func RunAt(ctx context.Context, j *job.Job, spots []Spot, progress lighting.Progress) (r *Result, light [][]float64, err error) {
	asked := *j
	asked.Grids = append([]room.Grid(nil), j.Grids...)
	for _, s := range spots {
		asked.Grids = append(asked.Grids, room.PointGrid(s.Position, s.Normal))
	}
	if r, err = Run(ctx, &asked, progress); err != nil {
		return nil, nil, err
	}
	first := 1 + len(j.Grids)
	for _, kind := range r.Kinds() {
		row := make([]float64, len(spots))
		for i := range spots {
			g := kind.Grids[first+i]
			row[i] = g.Direct[0] + g.Interreflected[0]
		}
		light = append(light, row)
	}
	drop := func(s *lighting.System) { s.Grids = append(s.Grids[:first:first], s.Grids[first+len(spots):]...) }
	for _, side := range r.Sides {
		drop(side.System)
		for i := range side.Parts {
			drop(&side.Parts[i])
		}
	}
	r.Job = j
	for i, from := range j.Systems() {
		r.Sides[i].From = from
	}
	return r, light, nil
}
