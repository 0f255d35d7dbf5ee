package interreflect

import (
	"context"
	"math"
	"slices"
	"sync"

	"lampswap/photometry/room"
)

// An outlook is the surfaces of a room and its racks and the light that leaves them in one or several solutions, ready to be gathered at
// points. A point looks at every surface in bands along it: racks hide stretches of a band, and what is left counts by its
// configuration factor, in blocks of patches that grow with their distance. What a solution gives does not depend on the others.
type outlook struct {
	enclosure *Enclosure
	solutions []*Solution
	surfaces  []surface
	boxes     []room.Obstruction // those of the racks first
	fineness  float64            // 1, or by how much smaller than usual blocks are
	lookers   sync.Pool
}

// A surface is a face with its rows of patches along one axis.
type surface struct {
	face          *face
	along, across axis
	xs, ys        []float64 // borders of the patches along and across
	perX, perY    float64   // perMetre of both
	flux          []float64 // lm, that leaves what lies before each corner of a patch both along and across, by rows, for each solution
	many          int
	growth        float64 // of its blocks with their distance
	rack          int     // of which it is a face; -1 for the room's
}

// outlook makes the surfaces ready, or hands out those made last if they are of the same solutions.
func (e *Enclosure) outlook(solutions []*Solution) *outlook {
	e.mutex.Lock()
	defer e.mutex.Unlock()
	if e.last != nil && slices.Equal(e.last.solutions, solutions) {
		return e.last
	}
	all := outlook{enclosure: e, solutions: slices.Clone(solutions), boxes: e.between.Boxes}
	fineness := 1.0
	if e.empty != nil {
		fineness = emptyFineness
	}
	o := all.of(make([]surface, len(e.faces)), fineness)
	rows := e.rowAxis()
	for i := range e.faces {
		o.surfaces[i] = newSurface(&e.faces[i], rows, solutions)
	}
	e.last = o
	return o
}

// emptyFineness is that of an empty room, where few points are gathered and the others interpolated.
const emptyFineness = 2

// rowAxis returns along which axis rows of a floor or a ceiling run: as most racks do, whose shadows then cut few rows.
func (e *Enclosure) rowAxis() axis {
	x, y := 0.0, 0.0
	for i := range e.racks {
		x += e.racks[i].Size.X
		y += e.racks[i].Size.Y
	}
	if y > x {
		return axisY
	}
	return axisX
}

func newSurface(f *face, rows axis, solutions []*Solution) surface {
	s := surface{face: f, rack: f.rack, along: f.u, across: f.v, xs: f.us, ys: f.vs, many: len(solutions)}
	du, dv := 1, f.columns() // from patch to patch along and across
	if f.normal == axisZ && f.v == rows {
		s.along, s.across, s.xs, s.ys, du, dv = f.v, f.u, f.vs, f.us, dv, du
	}
	s.perX, s.perY = perMetre(s.xs), perMetre(s.ys)
	s.growth = uprightGrowth
	if f.normal == axisZ {
		s.growth = levelGrowth
	}
	width := len(s.xs) * s.many
	s.flux = make([]float64, width*len(s.ys))
	for k, solution := range solutions {
		for j := range len(s.ys) - 1 {
			row := 0.0
			for i := range len(s.xs) - 1 {
				row += solution.exitance[f.first+j*dv+i*du] * (s.xs[i+1] - s.xs[i]) * (s.ys[j+1] - s.ys[j])
				at := (j+1)*width + (i+1)*s.many + k
				s.flux[at] = s.flux[at-width] + row
			}
		}
	}
	return s
}

// of returns the same for some of the surfaces only.
func (o *outlook) of(surfaces []surface, fineness float64) *outlook {
	some := &outlook{enclosure: o.enclosure, solutions: o.solutions, surfaces: surfaces, boxes: o.boxes, fineness: fineness}
	some.lookers.New = func() any { return some.looker() }
	return some
}

// points gathers all solutions at a number of points; those that racks cover are NaN.
func (o *outlook) points(ctx context.Context, count int, s stage, all [][]float64, place func(i int) (p, normal room.Vec)) error {
	return o.enclosure.blocks(ctx, count, s, func(i int) {
		p, normal := place(i)
		if len(o.boxes) > 0 && !o.enclosure.open(p) {
			for k := range all {
				all[k][i] = math.NaN()
			}
			return
		}
		l := o.lookers.Get().(*looker)
		l.look(p, normal)
		for k := range all {
			all[k][i] = l.light[k] / (2 * math.Pi)
		}
		o.lookers.Put(l)
	})
}

// at writes, for each solution, the flux in a band before a place along it: border i and a part of the patch behind that.
func (s *surface) at(dst []float64, b *band, i int, part float64) {
	width := len(s.xs) * s.many
	low, high := b.low*width+i*s.many, b.high*width+i*s.many
	for k := range dst {
		before := s.between(high+k, width, b.partHigh) - s.between(low+k, width, b.partLow)
		if part > 0 {
			after := s.between(high+s.many+k, width, b.partHigh) - s.between(low+s.many+k, width, b.partLow)
			before += part * (after - before)
		}
		dst[k] = before
	}
}

func (s *surface) between(at, width int, part float64) float64 {
	if part == 0 {
		return s.flux[at]
	}
	return s.flux[at] + part*(s.flux[at+width]-s.flux[at])
}
