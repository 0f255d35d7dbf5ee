package interreflect

import (
	"context"
	"math"
	"sync"

	"lampswap/photometry/room"
)

// Emitters are the surfaces of a room and its racks and the light that leaves them in one or several
// solutions, ready to be gathered at points. A point looks at every surface in bands along it: racks hide
// stretches of a band, and what is left counts by its configuration factor, in blocks of patches that grow
// with their distance. What a solution gives does not depend on the others.
type emitters struct {
	enclosure  *Enclosure
	solutions  []*Solution
	surfaces   []surface
	boxes      []room.Obstruction // those of the racks first
	refinement float64            // 1, or by how much smaller than usual blocks are
	gatherers  sync.Pool
}

// A surface is a face with its rows of patches along one axis.
type surface struct {
	face          *face
	along, across axis
	xs, ys        []float64 // borders of the patches along and across
	perX, perY    float64   // perMetre of both
	// Summed-area table: of what lies before each corner of a patch both along and across, by rows, for each
	// solution.
	before       []moments
	many         int
	parts        int     // of a patch, along each side
	growth, most float64 // of its blocks with their distance
	rack         int     // of which it is a face; -1 for the room's
}

// emitters makes the surfaces ready.
func (e *Enclosure) emitters(solutions []*Solution) *emitters {
	o := &emitters{
		enclosure:  e,
		solutions:  solutions,
		boxes:      e.between.Boxes,
		surfaces:   make([]surface, len(e.faces)),
		refinement: 1,
	}
	o.gatherers.New = func() any { return o.gatherer() }
	rows := e.rowAxis()
	for i := range o.surfaces {
		o.surfaces[i] = newSurface(e, &e.faces[i], rows, solutions)
	}
	return o
}

// nearParts is into how many parts along each side a patch counts among racks, for what is near: its exitance
// rises or falls over it.
const nearParts = 2

// rowAxis returns along which axis rows of a floor or a ceiling run: as most racks do, whose shadows then cut
// few rows.
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

// newSurface makes a face ready, its rows along an axis if it is level.
func newSurface(e *Enclosure, f *face, rows axis, solutions []*Solution) surface {
	s := surface{
		face:   f,
		rack:   f.rack,
		along:  f.u,
		across: f.v,
		xs:     f.us,
		ys:     f.vs,
		many:   len(solutions),
		parts:  e.finer,
	}
	parts := e.finer
	du, dv := 1, f.columns() // from patch to patch along and across
	if f.normal == axisZ && f.v == rows {
		s.along, s.across, s.xs, s.ys, du, dv = f.v, f.u, f.vs, f.us, dv, du
	}
	s.growth, s.most = uprightGrowth, uprightMost
	if f.normal == axisZ {
		s.growth, s.most = levelGrowth, levelMost
		if e.empty != nil {
			s.growth, s.most = emptyGrowth, emptyMost
		}
	}
	xs, ys := s.xs, s.ys
	s.xs, s.ys = divided(xs, parts), divided(ys, parts)
	s.perX, s.perY = perMetre(s.xs), perMetre(s.ys)
	// summed-area table, row upon row, of patches whose exitance rises evenly
	width := len(s.xs) * s.many
	s.before = make([]moments, width*len(s.ys))
	slopes := make([][2]float64, len(xs)-1)
	for k, solution := range solutions {
		for j := range len(s.ys) - 1 {
			if j%parts == 0 && parts > 1 {
				for i := range slopes {
					slopes[i] = slope(e, solution.exitance, f.first+j/parts*dv, i, j/parts, xs, ys, du, dv)
				}
			}
			row, offY := moments{}, (float64(j%parts)+0.5)/float64(parts)-0.5
			for i := range len(s.xs) - 1 {
				exitance, d := solution.exitance[f.first+j/parts*dv+i/parts*du], slopes[i/parts]
				exitance += d[0]*((float64(i%parts)+0.5)/float64(parts)-0.5) + d[1]*offY
				long, wide := s.xs[i+1]-s.xs[i], s.ys[j+1]-s.ys[j]
				area, rise := long*wide, 1/float64(12*parts)
				row = row.plus(
					area,
					moments{
						exitance,
						exitance*((s.xs[i]+s.xs[i+1])/2-s.xs[0]) + d[0]*rise*long,
						exitance*((s.ys[j]+s.ys[j+1])/2-s.ys[0]) + d[1]*rise*wide,
					},
				)
				at := (j+1)*width + (i+1)*s.many + k
				s.before[at] = s.before[at-width].plus(1, row)
			}
		}
	}
	return s
}

// divided cuts every cell between borders into equal parts.
func divided(borders []float64, parts int) []float64 {
	if parts == 1 {
		return borders
	}
	all := make([]float64, 0, parts*(len(borders)-1)+1)
	for i := range len(borders) - 1 {
		for k := range parts {
			all = append(all, borders[i]+(borders[i+1]-borders[i])*float64(k)/float64(parts))
		}
	}
	return append(all, borders[len(borders)-1])
}

// slope returns by how much the exitance of a patch rises from one border to the other, along and across, so
// far as its neighbours bear it out: the monotonized central difference of van Leer, J. Comp. Phys. 23 (1977)
// 276-299.
func slope(e *Enclosure, exitance []float64, row, i, j int, xs, ys []float64, du, dv int) (d [2]float64) {
	here := row + i*du
	if e.areas[here] == 0 {
		return d
	}
	rise := func(borders []float64, i, step int) float64 {
		size := borders[i+1] - borders[i]
		before, after, sides := 0.0, 0.0, 0
		if i > 0 && e.areas[here-step] > 0 {
			before = (exitance[here] - exitance[here-step]) / (borders[i+1] - borders[i-1]) * 2 * size
			sides |= 1
		}
		if i+2 < len(borders) && e.areas[here+step] > 0 {
			after = (exitance[here+step] - exitance[here]) / (borders[i+2] - borders[i]) * 2 * size
			sides |= 2
		}
		switch {
		case sides == 1:
			return before
		case sides == 2:
			return after
		case before*after <= 0:
			return 0
		}
		return math.Copysign(min(2*math.Abs(before), 2*math.Abs(after), math.Abs(before+after)/2), before)
	}
	d = [2]float64{rise(xs, i, du), rise(ys, j, dv)}
	// A corner would be darker than dark.
	if most := (math.Abs(d[0]) + math.Abs(d[1])) / 2; most > exitance[here] {
		d[0], d[1] = d[0]*exitance[here]/most, d[1]*exitance[here]/most
	}
	return d
}

// points gathers all solutions at a number of points; those that racks cover are NaN.
func (o *emitters) points(
	ctx context.Context,
	count int,
	s stage,
	all [][]float64,
	place func(i int) (p, normal room.Vec),
) error {
	return o.enclosure.blocks(ctx, count, s, func(i int) {
		p, normal := place(i)
		if len(o.boxes) > 0 && !o.enclosure.open(p) {
			for k := range all {
				all[k][i] = math.NaN()
			}
			return
		}
		l := o.gatherers.Get().(*gatherer)
		l.gather(p, normal)
		for k := range all {
			all[k][i] = l.light[k] / (2 * math.Pi)
		}
		o.gatherers.Put(l)
	})
}

// Moments are the flux that leaves a part of a surface, lm, and its first moments along and across, lm m,
// from the first corner.
type moments struct{ flux, x, y float64 }

// plus returns a + t b.
func (a moments) plus(t float64, b moments) moments {
	return moments{a.flux + t*b.flux, a.x + t*b.x, a.y + t*b.y}
}

// moments writes, for each solution, those of a band before a place along it: border i and a part of the
// patch behind that. They are differences of a summed-area table (Crow 1984).
func (s *surface) moments(dst []moments, b *band, i int, part float64) {
	s.column(dst, b, i)
	if part == 0 {
		return
	}
	var few [4]moments
	next := append(few[:0], dst...)
	s.column(next, b, i+1)
	bow := part * (1 - part) / 2 * (s.xs[i+1] - s.xs[i]) // of the moment along, as flux is even over the patch
	for k := range dst {
		bent := bow * (next[k].flux - dst[k].flux)
		dst[k].move(&next[k], part)
		dst[k].x -= bent
	}
}

// column writes the moments of a band before border i.
func (s *surface) column(dst []moments, b *band, i int) {
	width := len(s.xs) * s.many
	low, high := s.before[b.low*width+i*s.many:], s.before[b.high*width+i*s.many:]
	bowLow, bowHigh := s.bow(b.low, b.partLow), s.bow(b.high, b.partHigh)
	for k := range dst {
		first, last := low[k], high[k]
		if b.partLow > 0 {
			bent := bowLow * (low[width+k].flux - first.flux)
			first.move(&low[width+k], b.partLow)
			first.y -= bent
		}
		if b.partHigh > 0 {
			bent := bowHigh * (high[width+k].flux - last.flux)
			last.move(&high[width+k], b.partHigh)
			last.y -= bent
		}
		dst[k] = moments{last.flux - first.flux, last.x - first.x, last.y - first.y}
	}
}

// bow is by how much, of the flux of a row, the moment across of its first part is less than that part of its
// moment: as flux is even over the row.
func (s *surface) bow(row int, part float64) float64 {
	if part == 0 {
		return 0
	}
	return part * (1 - part) / 2 * (s.ys[row+1] - s.ys[row])
}

// move goes a part of the way to others.
func (m *moments) move(to *moments, part float64) {
	m.flux += part * (to.flux - m.flux)
	m.x += part * (to.x - m.x)
	m.y += part * (to.y - m.y)
}
