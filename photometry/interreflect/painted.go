package interreflect

import (
	"context"
	"slices"

	"lampswap/photometry/room"
)

// Painted returns the solution for the same direct light where the room's ceiling, walls and floor, and what
// stands outside its outline, reflect otherwise. It belongs to the same enclosure: whom patches see does not
// hang on what they reflect. It errs as Enclosure.Solve does.
func (s *Solution) Painted(ctx context.Context, by room.Reflectances) (*Solution, error) {
	e := *s.enclosure
	e.faces = slices.Clone(e.faces)
	for i := range e.faces {
		switch f := &e.faces[i]; {
		case i == floor:
			f.reflectance = by.Floor
		case i == ceiling:
			f.reflectance = by.Ceiling
		case i < roomFaces || e.racks[f.rack].Outside:
			f.reflectance = by.Walls
		}
	}
	p := &Solution{enclosure: &e, direct: slices.Clone(s.direct)}
	p.balance.Emitted = s.balance.Emitted
	if err := p.iterate(ctx); err != nil {
		return nil, err
	}
	p.account()
	p.balance.Arrived, p.enclosure = s.balance.Arrived, s.enclosure
	return p, nil
}
