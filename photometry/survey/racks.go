package survey

import (
	"math"
	"slices"

	"lampswap/photometry/room"
)

const (
	// A station may be moved by this share of its bay: beyond it would be read at another kind of place. Our choice.
	mostMove = 0.25
)

// Clear returns the plan with no station inside a rack or within a foot of one: each is moved square out of the nearest side that leaves it in the room and
// clear of the other racks, by no more than a quarter of its bay, or else dropped. The notes name both; and since the formulas
// suppose an empty room, they say that a grid of each aisle answers better. Points of a grid are dropped where they are made.
func (p Plan) Clear(r room.Room, racks []room.Rack) Plan {
	if len(racks) == 0 || p.Arrangement == PointGrid {
		return p
	}
	cleared := p
	cleared.Stations, cleared.Dropped, cleared.Notes = nil, slices.Clone(p.Dropped), slices.Clone(p.Notes)
	reach := mostMove * min(p.Length/float64(max(1, p.PerRow)), p.Width/float64(max(1, p.Rows)))
	if p.Arrangement == LuminousCeiling {
		reach = mostMove * min(p.Length, p.Width) / 2
	}
	var moved, dropped []string
	for _, s := range p.Stations {
		to, ok := stepOut(s.Position, r, racks, reach)
		switch {
		case !ok:
			cleared.Dropped = append(cleared.Dropped, s)
			dropped = append(dropped, s.Name)
			continue
		case to != s.Position:
			moved = append(moved, s.Name)
			s.Position = to
		}
		cleared.Stations = append(cleared.Stations, s)
	}
	if len(moved) > 0 {
		cleared.Notes = append(cleared.Notes, Note{Code: MovedOut, Names: moved})
	}
	if len(dropped) > 0 {
		cleared.Notes = append(cleared.Notes, Note{Code: TooFarIn, Names: dropped})
	}
	cleared.Notes = append(cleared.Notes, Note{Code: EmptyRoom})
	return cleared
}

// stepOut returns the point itself if it is clear, or the nearest clear point square out of the rack in which it lies.
func stepOut(at room.Vec, r room.Room, racks []room.Rack, reach float64) (room.Vec, bool) {
	inside := slices.IndexFunc(racks, func(k room.Rack) bool { return nearRack([]room.Rack{k}, at) })
	if inside < 0 {
		return at, true
	}
	low, high := racks[inside].Corner, racks[inside].Far()
	best, least := at, math.Inf(1)
	for _, to := range []room.Vec{{X: low.X - clearOfRack, Y: at.Y, Z: at.Z}, {X: high.X + clearOfRack, Y: at.Y, Z: at.Z},
		{X: at.X, Y: low.Y - clearOfRack, Z: at.Z}, {X: at.X, Y: high.Y + clearOfRack, Z: at.Z}} {
		if d := to.Sub(at).Length(); r.Holds(to) && d < least && d <= reach && !nearRack(racks, to) {
			best, least = to, d
		}
	}
	return best, !math.IsInf(least, 1)
}
