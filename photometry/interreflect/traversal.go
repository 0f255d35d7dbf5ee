package interreflect

import (
	"cmp"
	"math"
	"slices"

	"lampswap/photometry/room"
)

// A ray starts at a place and runs along a unit vector.
type ray struct {
	from, towards room.Vec
	inverse       room.Vec // 1 over each of its components
}

func newRay(from, towards room.Vec) ray {
	return ray{from, towards, room.Vec{X: 1 / towards.X, Y: 1 / towards.Y, Z: 1 / towards.Z}}
}

// A hit is where a ray meets a surface, so many m on.
type hit struct {
	t    float64
	face int
}

// first returns the patch that a ray meets first. A ray that starts on a face of a rack and leaves it does
// not meet that rack, nor does one that starts inside.
func (e *Enclosure) first(r *ray) int { return e.patchAt(e.nearest(r), r) }

func (e *Enclosure) nearest(r *ray) hit {
	h := e.wall(r)
	e.traversal.march(r, h.t, func(racks []int32, leaves float64) bool {
		for _, i := range racks {
			if c, ok := e.crosses(int(i), r, h.t); ok && c.t > -touching {
				h = c.hit
			}
		}
		return h.t > leaves
	})
	return h
}

// through adds up all patches that a ray meets, with the part of the light that comes from there through the
// racks before, in the order of their distance: where it enters a rack that is stricter than those in which
// it stays, see room.Obstructions.
func (e *Enclosure) through(r *ray, seen *accumulator) {
	// the racks that it crosses, and what passes those in which it starts
	wall, passes := e.wall(r), 1.0
	seen.chords, seen.racks = seen.chords[:0], seen.racks[:0]
	e.traversal.march(r, wall.t, func(racks []int32, _ float64) bool {
		for _, i := range racks {
			if slices.Contains(seen.racks, i) {
				continue
			}
			seen.racks = append(seen.racks, i)
			if c, ok := e.crosses(int(i), r, wall.t); ok && c.to >= touching {
				if c.t < -touching {
					passes = min(passes, c.passes)
				}
				seen.chords = append(seen.chords, c)
			}
		}
		return true
	})
	slices.SortFunc(seen.chords, func(a, b chord) int {
		return cmp.Or(cmp.Compare(a.t, b.t), cmp.Compare(a.passes, b.passes), cmp.Compare(a.face, b.face))
	})
	// from one to the next, as long as light is left
	for i, c := range seen.chords {
		if passes <= faintest {
			return
		}
		if c.t < -touching {
			continue
		}
		before := 1.0
		for _, other := range seen.chords[:i] {
			if other.to > c.t+touching {
				before = min(before, other.passes)
			}
		}
		if c.passes < before {
			c.t = max(c.t, 0)
			seen.add(e.patchAt(c.hit, r), passes)
			passes *= c.passes / before
		}
	}
	if passes > faintest {
		seen.add(e.patchAt(wall, r), passes)
	}
}

// faintest is the part of the light that counts behind racks; less is lost in the residual.
const faintest = 1e-4

func (e *Enclosure) patchAt(h hit, r *ray) int {
	f := &e.faces[h.face]
	p := r.from.Add(r.towards.Scale(h.t))
	return f.locate(along(p, f.u), along(p, f.v))
}

// wall returns where a ray leaves the room.
func (e *Enclosure) wall(r *ray) hit {
	h := hit{t: math.Inf(1)}
	try := func(p, inverse, far float64, low, high int) {
		if math.IsInf(inverse, 0) {
			return
		}
		t, face := (far-p)*inverse, high
		if inverse < 0 {
			t, face = -p*inverse, low
		}
		if t < h.t {
			h = hit{t, face}
		}
	}
	try(r.from.X, r.inverse.X, e.room.Length, wallX0, wallX1)
	try(r.from.Y, r.inverse.Y, e.room.Width, wallY0, wallY1)
	try(r.from.Z, r.inverse.Z, e.room.Height, floor, ceiling)
	return h
}

// A chord is the stretch of a ray in a rack, from where it enters, and what that lets through.
type chord struct {
	hit
	to, passes float64
}

// crosses returns the stretch of a ray's line in a rack before it has gone the given way: of a box what is
// between each of three pairs of sides (slabs; Kay and Kajiya, SIGGRAPH 1986, from memory).
func (e *Enclosure) crosses(rack int, r *ray, before float64) (chord, bool) {
	k, far, low := &e.racks[rack], &e.traversal.fars[rack], e.traversal.lows[rack]
	if r.from.Z >= far.Z && r.towards.Z >= 0 || r.from.Z <= low && r.towards.Z <= 0 {
		return chord{}, false
	}
	base := roomFaces + rack*rackSides
	c := chord{hit{math.Inf(-1), -1}, before, k.Transmittance}
	ok := c.slab(r.from.Y, r.inverse.Y, k.Corner.Y, far.Y, base+3, base+4) &&
		c.slab(r.from.X, r.inverse.X, k.Corner.X, far.X, base+1, base+2) &&
		c.slab(r.from.Z, r.inverse.Z, low, far.Z, e.under[rack], base)
	return c, ok && c.to-c.t >= 1e-9
}

// slab narrows a chord to the part of a ray's line between two sides.
func (c *chord) slab(p, inverse, low, high float64, lowFace, highFace int) bool {
	if math.IsInf(inverse, 0) {
		return p > low && p < high
	}
	t0, t1, face := (low-p)*inverse, (high-p)*inverse, lowFace
	if inverse < 0 {
		t0, t1, face = t1, t0, highFace
	}
	if t0 > c.t {
		c.t, c.face = t0, face
	}
	c.to = min(c.to, t1)
	return c.t < c.to
}

// A rackGrid is the room's floor cut into cells by the sides of all racks, so that a ray need only look at
// racks that it passes over or runs into.
type rackGrid struct {
	xs, ys     []float64 // borders of the cells
	perX, perY float64   // perMetre of both
	cells      [][]int32 // racks that stand on each, by rows
	lows       []float64 // where each begins above the floor; without end below it where it stands
	fars       []room.Vec
	highest    float64
}

func newRackGrid(r room.Room, racks []room.Rack) *rackGrid {
	g := &rackGrid{
		xs:   []float64{0, r.Length},
		ys:   []float64{0, r.Width},
		lows: make([]float64, len(racks)),
		fars: make([]room.Vec, len(racks)),
	}
	for i := range racks {
		far := racks[i].Far()
		g.xs = append(g.xs, min(max(racks[i].Corner.X, 0), r.Length), min(max(far.X, 0), r.Length))
		g.ys = append(g.ys, min(max(racks[i].Corner.Y, 0), r.Width), min(max(far.Y, 0), r.Width))
		g.fars[i], g.lows[i] = far, math.Inf(-1)
		if racks[i].Hangs() {
			g.lows[i] = racks[i].Corner.Z
		}
		g.highest = max(g.highest, far.Z)
	}
	// borders where the sides of racks are, and the racks of each cell
	slices.Sort(g.xs)
	slices.Sort(g.ys)
	g.xs, g.ys = slices.Compact(g.xs), slices.Compact(g.ys)
	g.perX, g.perY = perMetre(g.xs), perMetre(g.ys)
	width := len(g.xs) - 1
	g.cells = make([][]int32, width*(len(g.ys)-1))
	for k := range racks {
		x0, x1 := span(g.xs, racks[k].Corner.X, g.fars[k].X)
		y0, y1 := span(g.ys, racks[k].Corner.Y, g.fars[k].Y)
		for iy := y0; iy < y1; iy++ {
			for ix := x0; ix < x1; ix++ {
				g.cells[iy*width+ix] = append(g.cells[iy*width+ix], int32(k))
			}
		}
	}
	return g
}

// at returns the racks over whose plan a place lies.
func (g *rackGrid) at(p room.Vec) []int32 {
	return g.cells[cell(g.ys, g.perY, p.Y)*(len(g.xs)-1)+cell(g.xs, g.perX, p.X)]
}

// span returns the cells between borders from one of them to another.
func span(borders []float64, from, to float64) (first, end int) {
	first, _ = slices.BinarySearch(borders, from)
	end, _ = slices.BinarySearch(borders, to)
	return first, min(end, len(borders)-1)
}

// march follows a ray from cell to cell, below the tops of the racks and before it has gone the given way,
// and tells of each cell its racks and how far on the ray leaves it, until it is told to stop: grid
// traversal, on an uneven grid (Amanatides and Woo, Eurographics 1987, from memory).
func (g *rackGrid) march(r *ray, before float64, visit func(racks []int32, leaves float64) bool) {
	t := 0.0
	if r.from.Z >= g.highest {
		if r.towards.Z >= 0 {
			return
		}
		if t = (g.highest - r.from.Z) * r.inverse.Z; t >= before {
			return
		}
	}
	// the first cell, and how far along the ray the next border along each axis is
	width := len(g.xs) - 1
	ix := begin(g.xs, g.perX, r.from.X+t*r.towards.X, r.towards.X)
	iy := begin(g.ys, g.perY, r.from.Y+t*r.towards.Y, r.towards.Y)
	tx, ty := crossing(g.xs, ix, r.from.X, r.inverse.X), crossing(g.ys, iy, r.from.Y, r.inverse.Y)
	for {
		exit := min(tx, ty)
		if racks := g.cells[iy*width+ix]; len(racks) > 0 && !visit(racks, exit) {
			return
		}
		if exit >= before || r.towards.Z > 0 && r.from.Z+exit*r.towards.Z >= g.highest {
			return
		}
		// on over the border that is nearer
		if tx < ty {
			if ix = ahead(ix, r.inverse.X); ix < 0 || ix >= width {
				return
			}
			tx = crossing(g.xs, ix, r.from.X, r.inverse.X)
		} else {
			if iy = ahead(iy, r.inverse.Y); iy < 0 || iy >= len(g.ys)-1 {
				return
			}
			ty = crossing(g.ys, iy, r.from.Y, r.inverse.Y)
		}
	}
}

// begin returns the cell in which a way along an axis begins: on a border, the one that it leads into.
func begin(borders []float64, per, x, d float64) int {
	i := cell(borders, per, x)
	if d < 0 && i > 0 && x == borders[i] {
		i--
	}
	return i
}

// ahead returns the next cell along an axis.
func ahead(i int, inverse float64) int {
	if inverse > 0 {
		return i + 1
	}
	return i - 1
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
