package room

import (
	"math"
	"slices"
)

// Solids are racks as bodies, on a uniform grid over their plan so that a place asks only those near it, and
// a ray those along its way.
type Solids struct {
	Boxes      []Box // of the racks, each; one that stands on the floor has no lowest height
	extent     Box
	nx, ny     int
	perX, perY float64 // cells of the grid to a metre
	first      []int32 // of each cell, where its boxes begin in all
	all        []int32
}

const (
	cellsPerBox = 8
	mostAlong   = 1024 // cells along one axis
)

// NewSolids puts racks on their grid.
func NewSolids(racks []Rack) *Solids {
	s := &Solids{Boxes: make([]Box, len(racks)), nx: 1, ny: 1}
	if len(racks) == 0 {
		return s
	}
	extent, mean := racks[0].bounds(), Vec{}
	for i := range racks {
		s.Boxes[i] = racks[i].inside()
		b := racks[i].bounds().Grown(touch)
		extent = extent.With(b.Low).With(b.High)
		mean = mean.Add(b.High.Sub(b.Low).Scale(1 / float64(len(racks))))
	}
	s.extent = extent
	size := extent.High.Sub(extent.Low)
	along := func(size, mean float64) int { return min(max(int(size/mean), 1), mostAlong) }
	s.nx, s.ny = along(size.X, mean.X), along(size.Y, mean.Y)
	if fewer := math.Sqrt(float64(cellsPerBox*len(racks)) / float64(s.nx*s.ny)); fewer < 1 {
		s.nx, s.ny = max(int(fewer*float64(s.nx)), 1), max(int(fewer*float64(s.ny)), 1)
	}
	s.perX, s.perY = float64(s.nx)/size.X, float64(s.ny)/size.Y
	s.fill()
	return s
}

// fill enters every box in the cells that it meets: counts first, then the lists one after the other.
func (s *Solids) fill() {
	counts := make([]int32, s.nx*s.ny+1)
	s.over(func(cell int, _ int32) { counts[cell+1]++ })
	for i := range s.nx * s.ny {
		counts[i+1] += counts[i]
	}
	s.first, s.all = slices.Clone(counts), make([]int32, counts[s.nx*s.ny])
	s.over(func(cell int, box int32) {
		s.all[counts[cell]] = box
		counts[cell]++
	})
}

// over goes over the cells of all boxes, those right beside a box included.
func (s *Solids) over(visit func(cell int, box int32)) {
	for i := range s.Boxes {
		b := s.Boxes[i].Grown(touch.Scale(4))
		x1, y1 := s.column(b.High.X), s.row(b.High.Y)
		for y := s.row(b.Low.Y); y <= y1; y++ {
			for x := s.column(b.Low.X); x <= x1; x++ {
				visit(y*s.nx+x, int32(i))
			}
		}
	}
}

func (s *Solids) column(x float64) int { return max(0, min(s.nx-1, int((x-s.extent.Low.X)*s.perX))) }
func (s *Solids) row(y float64) int    { return max(0, min(s.ny-1, int((y-s.extent.Low.Y)*s.perY))) }

// At returns the boxes that may hold a place, by their numbers.
func (s *Solids) At(p Vec) []int32 {
	if len(s.Boxes) == 0 {
		return nil
	}
	cell := s.row(p.Y)*s.nx + s.column(p.X)
	return s.all[s.first[cell]:s.first[cell+1]]
}

// Cover tells whether a point lies inside the racks: in one of them, or on sides of several that touch, with
// racks all around. A point on a side of a rack that stands free is not covered.
func (s *Solids) Cover(p Vec) bool {
	near := s.At(p)
	inside, closed := false, false
	for _, i := range near {
		box := &s.Boxes[i]
		inside = inside || box.has(p)
		closed = closed || box.Grown(touch).has(p)
	}
	if inside || !closed {
		return inside
	}
	for c := range 8 {
		q := p.Add(Vec{float64(2*(c&1)-1) * Touching, float64(c&2-1) * Touching, float64(c&4/2-1) * Touching})
		if !slices.ContainsFunc(near, func(i int32) bool { return s.Boxes[i].has(q) }) {
			return false
		}
	}
	return true
}

// March follows a ray through the cells over which it passes among the boxes, before it has gone the given
// way, and tells of each its boxes and how far on the ray leaves it, until it is told to stop: grid
// traversal. Source: Amanatides and Woo, Eurographics 1987, from memory.
func (s *Solids) March(r *Ray, way float64, visit func(boxes []int32, leaves float64) bool) {
	// below the highest box
	begin, top := 0.0, (s.extent.High.Z-r.Z.From)*r.Z.Inverse
	switch {
	case r.Z.Towards > 0:
		way = min(way, top)
	case r.Z.Towards < 0 && top > 0:
		begin = top
	}
	if begin >= way || r.Z.Towards == 0 && r.Z.From > s.extent.High.Z {
		return
	}
	// the first cell, and how far along the ray the next border along each axis is
	p := r.At(begin)
	ix, iy := s.column(p.X), s.row(p.Y)
	tx, alongX, stepX := r.X.border(s.extent.Low.X, s.perX, ix)
	ty, alongY, stepY := r.Y.border(s.extent.Low.Y, s.perY, iy)
	for {
		leaves := min(tx, ty)
		at := iy*s.nx + ix
		if boxes := s.all[s.first[at]:s.first[at+1]]; len(boxes) > 0 && !visit(boxes, leaves) || leaves >= way {
			return
		}
		// on over the border that is nearer
		if tx < ty {
			ix, tx = ix+stepX, tx+alongX
		} else {
			iy, ty = iy+stepY, ty+alongY
		}
		if ix < 0 || ix >= s.nx || iy < 0 || iy >= s.ny {
			return
		}
	}
}

// border returns how far along a ray the border of a cell ahead is, of cells so many to a metre from low on,
// how far it is from one to the next, and which way.
func (c *Coordinate) border(low, per float64, cell int) (t, apart float64, step int) {
	switch {
	case c.Towards > 0:
		return (low + float64(cell+1)/per - c.From) * c.Inverse, c.Inverse / per, 1
	case c.Towards < 0:
		return (low + float64(cell)/per - c.From) * c.Inverse, -c.Inverse / per, -1
	}
	return math.Inf(1), 0, 0
}
