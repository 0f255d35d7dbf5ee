package direct

import (
	"lampswap/photometry"
	"lampswap/photometry/room"
)

// A Source is one kind of luminaire and all the places where it hangs. The distribution is already scaled to
// the candela that a luminaire really emits.
type Source struct {
	Luminaire  photometry.Luminaire
	Placements []room.Placement
}

// A Scene is everything that gives or stops direct light.
type Scene struct {
	Sources []Source
	Racks   []room.Rack
	// Room holds the luminaires: an opening that would reach through a side of it, as one does that hangs at the
	// height of its ceiling, lies as far inside as that takes; so does one that would reach into what is outside
	// the room's outline, see room.Room.Boxes, or into a box that hangs. The zero Box holds everything.
	Room room.Box
	// Cell is the size, m, of the patches of a room whose flux is asked for: openings are cut alike before all
	// its surfaces, so that what one does not get at an edge the other does. 0 is that of each grid by itself.
	Cell float64
	// Plain has every luminaire worked out by itself, to hold the short cut for those in rows and columns
	// against it.
	Plain bool
	// Optics hold the tables of the distributions for scenes that share them; nil are the scene's own.
	Optics *Optics
}

// outside are the racks that openings keep out of as they keep inside the room: what lies outside its
// outline, and boxes that hang, at the underside of which luminaires are mounted as at a ceiling.
func (s Scene) outside() []room.Rack {
	var all []room.Rack
	for i := range s.Racks {
		if k := &s.Racks[i]; k.Outside || k.Hangs() {
			all = append(all, *k)
		}
	}
	return all
}

// pose is where an opening hangs in the scene's room.
func (s Scene) pose(place room.Placement, o opening, outside []room.Rack) pose {
	p := newPose(place, o)
	p.within(s.Room)
	for range min(len(outside), 2) { // out of one may be into the next
		for i := range outside {
			p.leave(&outside[i])
		}
		p.within(s.Room)
	}
	return p
}

// Flux returns the luminous flux that all luminaires together emit, lm.
func (s Scene) Flux() float64 {
	flux := 0.0
	for _, source := range s.Sources {
		flux += source.Luminaire.Distribution.Flux() * float64(len(source.Placements))
	}
	return flux
}

// At returns the initial direct illuminance, lx, at a point on a surface that faces along the unit normal, or
// on a cylinder (room.AllRound). It is the plain sum of the package comment, against which the fast paths are
// checked.
func (s Scene) At(p, normal room.Vec) float64 {
	occluders := room.NewObstructions(s.Racks).Boxes
	work := newWorkspace(len(occluders))
	outside := s.outside()
	e := 0.0
	var parts []lamp
	for _, source := range s.Sources {
		opening, light := newOpening(source.Luminaire.Opening), &optic{distribution: source.Luminaire.Distribution}
		for _, place := range source.Placements {
			l := lamp{opening: opening, pose: s.pose(place, opening, outside), share: 1}
			if parts = append(parts[:0], l); normal != room.AllRound {
				parts = l.front(parts[:0], p, normal)
			}
			for i := range parts {
				sum := parts[i].quadrature(p, normal, occluders, work)
				e += sum.settle(light)
			}
		}
	}
	return e
}
