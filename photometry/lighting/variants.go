package lighting

import (
	"context"
	"slices"

	"lampswap/photometry/direct"
	"lampswap/photometry/interreflect"
	"lampswap/photometry/room"
)

// A Variant is a room as it might be: how its surfaces reflect, and by how much luminaires hang higher than
// the job has them, m.
type Variant struct {
	Reflectance room.Reflectances
	Raised      float64
}

// Variants returns a space of each variant. What a point sees of the surfaces is the same in all of them: of
// what is asked for in one, the light in all is worked out, and is then at hand.
func (p *Space) Variants(variants []Variant) []*Space {
	all := make([]*Space, len(variants))
	var known [][]lit // of each source, by variant
	for v := range variants {
		j := *p.job
		j.Room.Reflectance = variants[v].Reflectance
		all[v] = &Space{job: &j, light: func(
			ctx context.Context, source direct.Source, grids []room.Grid,
		) ([]Grid, *interreflect.Balance, error) {
			at := slices.IndexFunc(known, func(l []lit) bool {
				return alike(l[0].source, source) && slices.Equal(l[0].asked, grids)
			})
			if at < 0 {
				found, err := p.vary(ctx, source, grids, variants)
				if err != nil {
					return nil, nil, err
				}
				at, known = len(known), append(known, found)
			}
			return known[at][v].grids, known[at][v].balance, nil
		}}
	}
	return all
}

// vary works out the light of a source in each variant.
func (p *Space) vary(
	ctx context.Context, source direct.Source, grids []room.Grid, variants []Variant,
) ([]lit, error) {
	// a scene of each height
	var scenes []direct.Scene
	var heights []float64
	of := make([]int, len(variants)) // the scene of each
	for v, variant := range variants {
		if of[v] = slices.Index(heights, variant.Raised); of[v] < 0 {
			of[v], heights = len(heights), append(heights, variant.Raised)
			scenes = append(scenes, p.scene(raised(source, variant.Raised)))
		}
	}
	values, err := directly(ctx, scenes, grids)
	if err != nil {
		return nil, err
	}
	found := make([]lit, len(variants))
	for v := range variants {
		found[v] = newLit(source, grids, values[of[v]])
	}
	if p.enclosure == nil {
		return found, nil
	}
	// what bounces, from the same direct light by other reflectances
	solved, err := p.enclosure.SolveAll(ctx, scenes)
	if err != nil {
		return nil, err
	}
	bounced := make([]*interreflect.Solution, len(variants))
	for v, variant := range variants {
		bounced[v] = solved[of[v]]
		if variant.Reflectance != p.job.Room.Reflectance {
			if bounced[v], err = bounced[v].Painted(ctx, variant.Reflectance); err != nil {
				return nil, err
			}
		}
	}
	return found, p.bounce(ctx, found, bounced)
}

func raised(source direct.Source, by float64) direct.Source {
	source.Placements = slices.Clone(source.Placements)
	for i := range source.Placements {
		source.Placements[i].Position.Z += by
	}
	return source
}
