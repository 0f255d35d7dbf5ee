package room

import (
	"math"
	"slices"
)

// Solids are racks as bodies, on a uniform grid over their plan so that a place asks only those near it.
type Solids struct {
	boxes      []Box
	low        Vec
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
	s := &Solids{boxes: make([]Box, len(racks)), nx: 1, ny: 1}
	if len(racks) == 0 {
		return s
	}
	extent, mean := racks[0].bounds(), Vec{}
	for i := range racks {
		s.boxes[i] = racks[i].inside()
		b := racks[i].bounds().Grown(touch)
		extent = extent.With(b.Low).With(b.High)
		mean = mean.Add(b.High.Sub(b.Low).Scale(1 / float64(len(racks))))
	}
	s.low = extent.Low
	size := extent.High.Sub(extent.Low)
	along := func(size, mean float64) int { return min(max(int(2*size/mean), 1), mostAlong) }
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
	for i := range s.boxes {
		b := s.boxes[i].Grown(touch.Scale(4))
		x1, y1 := s.column(b.High.X), s.row(b.High.Y)
		for y := s.row(b.Low.Y); y <= y1; y++ {
			for x := s.column(b.Low.X); x <= x1; x++ {
				visit(y*s.nx+x, int32(i))
			}
		}
	}
}

func (s *Solids) column(x float64) int { return max(0, min(s.nx-1, int((x-s.low.X)*s.perX))) }
func (s *Solids) row(y float64) int    { return max(0, min(s.ny-1, int((y-s.low.Y)*s.perY))) }

// at returns the boxes that may hold a place.
func (s *Solids) at(p Vec) []int32 {
	if len(s.boxes) == 0 {
		return nil
	}
	cell := s.row(p.Y)*s.nx + s.column(p.X)
	return s.all[s.first[cell]:s.first[cell+1]]
}

// Cover tells whether a point lies inside the racks: in one of them, or on sides of several that touch, with
// racks all around. A point on a side of a rack that stands free is not covered.
func (s *Solids) Cover(p Vec) bool {
	near := s.at(p)
	inside, closed := false, false
	for _, i := range near {
		box := &s.boxes[i]
		inside = inside || box.has(p)
		closed = closed || box.Grown(touch).has(p)
	}
	if inside || !closed {
		return inside
	}
	for c := range 8 {
		q := p.Add(Vec{float64(2*(c&1)-1) * Touching, float64(c&2-1) * Touching, float64(c&4/2-1) * Touching})
		if !slices.ContainsFunc(near, func(i int32) bool { return s.boxes[i].has(q) }) {
			return false
		}
	}
	return true
}
