package interreflect

import (
	"math"
	"slices"

	"lampswap/photometry/room"
)

// A rackGrid is the room's floor cut into cells by the sides of all racks, so that a ray need only look at
// racks that it passes over or runs into: grid traversal, on an uneven grid (Amanatides and Woo, Eurographics
// 1987, from memory).
type rackGrid struct {
	xs, ys  []float64 // borders of the cells
	perX    float64   // perMetre of both
	perY    float64
	cells   [][]int32 // racks that stand on each, by rows
	racks   []room.Rack
	under   []int      // face of each that looks down; 0 of one that stands on the floor
	lows    []float64  // where each begins above the floor; without end below it where it stands
	fars    []room.Vec // the corner of each that is furthest from the origin
	highest float64
	hanging bool // some do
}

func newRackGrid(r room.Room, racks []room.Rack, under []int) *rackGrid {
	p := &rackGrid{
		xs:    []float64{0, r.Length},
		ys:    []float64{0, r.Width},
		racks: racks,
		under: under,
		lows:  make([]float64, len(racks)),
		fars:  make([]room.Vec, len(racks)),
	}
	for i := range racks {
		far := racks[i].Far()
		p.xs = append(p.xs, min(max(racks[i].Corner.X, 0), r.Length), min(max(far.X, 0), r.Length))
		p.ys = append(p.ys, min(max(racks[i].Corner.Y, 0), r.Width), min(max(far.Y, 0), r.Width))
		p.fars[i], p.lows[i] = far, math.Inf(-1)
		if racks[i].Hangs() {
			p.lows[i], p.hanging = racks[i].Corner.Z, true
		}
		p.highest = max(p.highest, far.Z)
	}
	// borders where the sides of racks are, and the racks of each cell
	slices.Sort(p.xs)
	slices.Sort(p.ys)
	p.xs, p.ys = slices.Compact(p.xs), slices.Compact(p.ys)
	p.perX, p.perY = perMetre(p.xs), perMetre(p.ys)
	p.cells = make([][]int32, (len(p.xs)-1)*(len(p.ys)-1))
	for i := range p.cells {
		ix, iy := i%(len(p.xs)-1), i/(len(p.xs)-1)
		middle := room.Vec{X: (p.xs[ix] + p.xs[ix+1]) / 2, Y: (p.ys[iy] + p.ys[iy+1]) / 2}
		for k := range racks {
			if middle.Z = (racks[k].Corner.Z + p.fars[k].Z) / 2; racks[k].Contains(middle) {
				p.cells[i] = append(p.cells[i], int32(k))
			}
		}
	}
	return p
}

// begin returns the cell in which a way along an axis begins: on a border, the one that it leads into.
func begin(borders []float64, per, x, d float64) int {
	i := cell(borders, per, x)
	if d < 0 && i > 0 && x == borders[i] {
		i--
	}
	return i
}

// crossing returns how far along a ray the border ahead is.
func crossing(borders []float64, i int, x, inverse float64) float64 {
	switch {
	case math.IsInf(inverse, 0):
		return math.Inf(1)
	case inverse > 0:
		i++
	}
	return (borders[i] - x) * inverse
}

// meets follows a ray from cell to cell (grid traversal) and returns where it first enters a rack before it
// has gone the given way. A ray that starts on a face of a rack and leaves it does not enter, nor does one
// that starts inside.
func (p *rackGrid) meets(from, towards room.Vec, before float64) (hit, bool) {
	t := 0.0
	if from.Z >= p.highest {
		if towards.Z >= 0 {
			return hit{}, false
		}
		if t = (p.highest - from.Z) / towards.Z; t >= before {
			return hit{}, false
		}
	}
	width := len(p.xs) - 1
	// the first cell, and how far along the ray the next border along each axis is
	ix, iy := p.cellAt(from, towards, t)
	here := p.cells[iy*width+ix]
	if from.Z < p.highest {
		if h, ok := p.touches(here, from); ok {
			return h, true
		}
	}
	inverseX, inverseY := 1/towards.X, 1/towards.Y
	tx, ty := crossing(p.xs, ix, from.X, inverseX), crossing(p.ys, iy, from.Y, inverseY)
	for { // within a cell: tops and undersides
		exit := min(tx, ty, before)
		if towards.Z < 0 && len(here) > 0 {
			if h, ok := p.lands(here, from.Z, towards.Z, t, exit); ok {
				return h, true
			}
		}
		if towards.Z > 0 && p.hanging {
			if h, ok := p.rises(here, from.Z, towards.Z, t, exit); ok {
				return h, true
			}
		}
		z := from.Z + exit*towards.Z
		if exit >= before || z >= p.highest && towards.Z >= 0 {
			return hit{}, false
		}
		// on to the next cell, over the border that is nearer: sides
		side := int32(0)
		if tx < ty {
			ix, side = ahead(ix, inverseX, 1)
			if ix < 0 || ix >= width {
				return hit{}, false
			}
			tx = crossing(p.xs, ix, from.X, inverseX)
		} else {
			iy, side = ahead(iy, inverseY, 3)
			if iy < 0 || iy >= len(p.ys)-1 {
				return hit{}, false
			}
			ty = crossing(p.ys, iy, from.Y, inverseY)
		}
		next := p.cells[iy*width+ix]
		for _, rack := range next {
			if z < p.fars[rack].Z && z > p.lows[rack] && !slices.Contains(here, rack) {
				return hit{exit, roomFaces + int(rack*rackSides+side)}, true
			}
		}
		here, t = next, exit
	}
}

// cellAt is the cell in which a ray is after it went so far; on a border the one that it enters.
func (p *rackGrid) cellAt(from, towards room.Vec, t float64) (ix, iy int) {
	return begin(p.xs, p.perX, from.X+t*towards.X, towards.X), begin(p.ys, p.perY, from.Y+t*towards.Y, towards.Y)
}

// passed follows a ray likewise and appends the racks over whose cells a ray goes, below the top of the
// highest, before it has gone the given way.
func (p *rackGrid) passed(some []int32, from, towards room.Vec, before float64) []int32 {
	t := 0.0
	if from.Z >= p.highest {
		if towards.Z >= 0 {
			return some
		}
		t = (p.highest - from.Z) / towards.Z
	}
	if t >= before {
		return some
	}
	width := len(p.xs) - 1
	ix, iy := p.cellAt(from, towards, t)
	inverseX, inverseY := 1/towards.X, 1/towards.Y
	tx, ty := crossing(p.xs, ix, from.X, inverseX), crossing(p.ys, iy, from.Y, inverseY)
	for { // the racks of a cell, then on over the nearer border
		for _, rack := range p.cells[iy*width+ix] {
			if !slices.Contains(some, rack) {
				some = append(some, rack)
			}
		}
		if t = min(tx, ty); t >= before || towards.Z > 0 && from.Z+t*towards.Z >= p.highest {
			return some
		}
		if tx < ty {
			if ix, _ = ahead(ix, inverseX, 0); ix < 0 || ix >= width {
				return some
			}
			tx = crossing(p.xs, ix, from.X, inverseX)
		} else {
			if iy, _ = ahead(iy, inverseY, 0); iy < 0 || iy >= len(p.ys)-1 {
				return some
			}
			ty = crossing(p.ys, iy, from.Y, inverseY)
		}
	}
}

// ahead returns the next cell along an axis and which side of a rack in it is met: the first of two in the
// axis' direction, else the second.
func ahead(i int, inverse float64, first int32) (next int, side int32) {
	if inverse > 0 {
		return i + 1, first
	}
	return i - 1, first + 1
}

// lands returns where a ray that goes down comes onto the top of a rack between t and exit.
func (p *rackGrid) lands(racks []int32, z, down, t, exit float64) (hit, bool) {
	best, found := hit{t: exit}, false
	for _, rack := range racks {
		if at := (p.fars[rack].Z - z) / down; at >= t && (at < best.t || !found && at == best.t) &&
			z >= p.fars[rack].Z {
			best, found = hit{at, roomFaces + int(rack)*rackSides}, true
		}
	}
	return best, found
}

// rises returns where a ray that goes up comes onto the underside of a rack between t and exit.
func (p *rackGrid) rises(racks []int32, z, up, t, exit float64) (hit, bool) {
	best, found := hit{t: exit}, false
	for _, rack := range racks {
		if p.under[rack] == 0 || z > p.lows[rack] {
			continue
		}
		if at := (p.lows[rack] - z) / up; at >= t && (at < best.t || !found && at == best.t) {
			best, found = hit{at, p.under[rack]}, true
		}
	}
	return best, found
}

// touches tells whether a ray that leads into a cell starts on the side of a rack there.
func (p *rackGrid) touches(racks []int32, from room.Vec) (hit, bool) {
	for _, rack := range racks {
		k := &p.racks[rack]
		if from.Z >= p.fars[rack].Z || from.Z <= p.lows[rack] || p.holds(int(rack), &from) {
			continue
		}
		side := 1
		switch far := p.fars[rack]; {
		case from.X >= far.X:
			side = 2
		case from.X > k.Corner.X && from.Y <= k.Corner.Y:
			side = 3
		case from.X > k.Corner.X:
			side = 4
		}
		return hit{0, roomFaces + int(rack)*rackSides + side}, true
	}
	return hit{}, false
}

// holds is Rack.Contains of one of the racks.
func (p *rackGrid) holds(rack int, at *room.Vec) bool {
	low, far := &p.racks[rack].Corner, &p.fars[rack]
	return at.X > low.X && at.X < far.X && at.Y > low.Y && at.Y < far.Y && at.Z > p.lows[rack] && at.Z < far.Z
}
