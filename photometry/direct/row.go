package direct

import (
	"math"

	"lampswap/photometry/room"
)

// A rowIntegrator computes rows of one grid; it holds what a row needs to work in, so each worker has its
// own.
type rowIntegrator struct {
	*Prepared
	grid    room.Grid
	work    *workspace
	oblique bool // each point is a surface of its own

	// of the row
	first, step room.Vec
	dst         [][]float64 // lx, of each scene
	order       []occluder  // the nearest first

	// of a luminaire
	shadows []shadow        // on the row
	passes  room.Visibility // what the racks leave of its light that hide all of it
	uncut   room.Visibility // where none hides but a part of it
	cutters []occluder      // that hide a part of it from one point
	parts   []lamp          // of it, that one of the points does not have behind it
}

func (e *Prepared) rowIntegrator(g room.Grid) *rowIntegrator {
	return &rowIntegrator{
		Prepared: e,
		grid:     g,
		work:     newWorkspace(len(e.occluders)),
		oblique:  !g.OneSurface() && g.Normal != room.AllRound,
	}
}

// point returns a point of the row.
func (r *rowIntegrator) point(i int) room.Vec { return r.first.Add(r.step.Scale(float64(i))) }

// row adds the light of every luminaire to a row of points, stretch by stretch: racks hide the luminaire
// wholly, or cut it, or leave it open.
func (r *rowIntegrator) row(iy int, dst [][]float64) {
	// the row, half a step beyond its ends, and racks in the order of their distance
	g := &r.grid
	r.first, r.step, r.dst = g.Point(0, iy), g.U.Scale(g.StepX), dst
	a, b := r.first.Sub(r.step.Scale(0.5)), r.first.Add(r.step.Scale(float64(g.NX)-0.5))
	box := room.Box{Low: a, High: a}.With(b)
	r.order = append(r.order[:0], r.occluders...)
	nearestFirst(r.order, box)
	for k := range r.kinds {
		kind := &r.kinds[k]
		for i := range kind.lamps {
			l := &kind.lamps[i]
			if r.behind(l) || l.dark(kind.optics, &box) {
				continue
			}
			r.cast(l, a, b)
			// of what is not wholly hidden: cut before an open stretch, open, and cut after the last
			for _, s := range r.passes.Stretches {
				if s.Passes < faintest {
					continue
				}
				at := s.From
				for _, open := range r.uncut.Stretches {
					if from, to := max(open.From, s.From), min(open.To, s.To); from < to {
						r.add(l, kind.optics, r.span(at, from, s.Passes, true))
						r.add(l, kind.optics, r.span(from, to, s.Passes, false))
						at = to
					}
				}
				r.add(l, kind.optics, r.span(at, s.To, s.Passes, true))
			}
		}
	}
}

// behind tells whether the whole opening lies behind the surface at both ends of the row.
func (r *rowIntegrator) behind(l *lamp) bool {
	if r.grid.Normal == room.AllRound {
		return false
	}
	a := l.pose.at.Sub(r.first).Dot(r.grid.Normal) + l.extent(r.grid.Normal)
	b := a - float64(r.grid.NX-1)*r.step.Dot(r.grid.Normal)
	return a <= 0 && b <= 0
}

// dark tells whether the luminaire sends nothing, in any of the scenes, to the side of the horizontal on
// which all of a box lies.
func (l *lamp) dark(optics []optic, box *room.Box) bool {
	low, high := l.pose.at.Z-l.pose.halfHigh, l.pose.at.Z+l.pose.halfHigh
	for i := range optics {
		if f := optics[i].field; !(f.belowOnly && box.Low.Z > high || f.aboveOnly && box.High.Z < low) {
			return false
		}
	}
	return true
}

// add adds one luminaire to a stretch, what the racks that hide it wholly let through: point by point where
// others cut it, else in blocks.
func (r *rowIntegrator) add(l *lamp, optics []optic, s span) {
	switch {
	case r.oblique:
		r.piercing(l, optics, s)
	case !s.cut:
		r.open(l, optics, s)
	default:
		for i := s.from; i < s.to; i++ {
			r.one(l, optics, i, r.cuttersAt(i), s.passes)
		}
	}
}

// one adds one luminaire to one point, from which racks may hide a part of it. The scenes share the pieces
// that are seen, unless they are to be refined until the light stands: of an opening that racks may cut and
// that is not slender.
func (r *rowIntegrator) one(l *lamp, optics []optic, i int, racks []occluder, passes float64) {
	p := r.point(i)
	sum := l.quadrature(p, r.grid.Normal, racks, r.work)
	cos := l.cosine(p)
	steady := len(sum.occluders) == 0 || l.opening.slender(l.opening.high) && l.opening.slender(l.opening.width)
	divided := 0
	for n := range optics {
		sum.refine = optics[n].refine.at(sum.nearest, cos, cos)
		switch {
		case !steady:
			r.dst[n][i] += passes * sum.settle(&optics[n])
			continue
		case sum.refine != divided:
			sum.divide()
			divided = sum.refine
		}
		r.dst[n][i] += passes * sum.sum(&optics[n])
	}
}

// piercing adds one luminaire to a stretch of points each of which is a surface of its own: some surfaces cut
// the opening, and some have it behind them.
func (r *rowIntegrator) piercing(l *lamp, optics []optic, s span) {
	normal := r.grid.Normal
	extent := l.extent(normal)
	whole := func(i int) bool { return !s.cut && l.pose.at.Sub(r.point(i)).Dot(normal) >= extent }
	for i := s.from; i < s.to; i++ {
		to := i
		for to < s.to && whole(to) {
			to++
		}
		if to > i {
			r.open(l, optics, span{from: i, to: to, passes: s.passes})
			i = to - 1
			continue
		}
		r.parts = l.front(r.parts[:0], r.point(i), normal)
		for k := range r.parts {
			r.one(&r.parts[k], optics, i, r.cuttersAt(i), s.passes)
		}
	}
}

const (
	block     = 32  // points that share a subdivision
	longBlock = 128 // and as many where the luminaire is
	longRatio = 2.5 // times its size away, where two pieces are enough
)

// open adds a luminaire that no rack cuts to a stretch of a row.
func (r *rowIntegrator) open(l *lamp, optics []optic, s span) {
	size := longBlock
	for from := s.from; from < s.to; {
		end := min(s.to, from/size*size+size)
		box := room.Box{Low: r.point(from), High: r.point(from)}.With(r.point(end - 1))
		near := l.gap(&box)
		if size > block && end-from > block && near < longRatio*max(l.opening.length, l.opening.high) {
			size = block
			continue
		}
		r.block(l, optics, span{from: from, to: end, passes: s.passes}, &box, near)
		from, size = end, longBlock
	}
}

// block adds a luminaire to a few points, which a box holds, by pieces that suit the nearest of them.
func (r *rowIntegrator) block(l *lamp, optics []optic, s span, box *room.Box, near float64) {
	normal := r.grid.Normal
	if near < max(l.opening.length, l.opening.high)/2 {
		for i := s.from; i < s.to; i++ {
			r.one(l, optics, i, nil, s.passes)
		}
		return
	}
	// the division that the light asks for
	low, high := l.cosinesTo(box)
	d := division{near: near, finer: 1}
	if normal == room.AllRound && max(math.Abs(low), math.Abs(high)) > steep {
		d.finer = steepFiner
	}
	for n := range optics {
		if refine := optics[n].refine.at(near, low, high); refine != d.refine {
			d.refine = refine
			r.work.pieces = l.divide(r.work.pieces[:0], d)
		}
		// each piece along the row
		dst := r.dst[n][s.from:s.to]
		for _, q := range r.work.pieces {
			t := l.track(r.point(s.from).Sub(q.at), r.step, normal, s.passes*q.share)
			if normal == room.AllRound {
				optics[n].field.addAllRound(dst, &t)
				continue
			}
			optics[n].field.add(dst, points[:], &t)
		}
	}
}

const (
	// mostAcross is how many times more pieces there may be across and down an opening: enough, as there are
	// many along it.
	mostAcross = 4
	// steepFiner is how many times more pieces a cylinder takes that is seen at a steeper cosine from the
	// vertical: below or above a luminaire each end of it gives the one half of the cylinder light, and that has
	// a kink in the middle.
	steep, steepFiner = 0.8, 4
)

// A division tells into how many pieces an opening is cut: as the five-times rule has it for points from a
// distance on, so many times finer for the distribution's sake, and finer again for other reasons. Means over
// cells ask for fewer pieces than points do.
type division struct {
	near          float64 // m
	refine, finer int
	means         bool
}

func (d division) along(o opening, chord float64) int {
	if d.means {
		return o.forMeans(chord, d.near)
	}
	return pieces(chord, d.near, d.refine*d.finer)
}

func (d division) across(o opening) int { return d.short(o, o.width) }
func (d division) down(o opening) int   { return d.short(o, o.high) }

// short is for an extent across or down the opening.
func (d division) short(o opening, extent float64) int {
	if d.means {
		return o.forMeans(extent, d.near)
	}
	return pieces(extent, d.near, o.refined(extent, d.refine*min(d.finer, mostAcross)))
}

// divide appends the pieces of the opening.
func (l *lamp) divide(some []piece, d division) []piece {
	o := l.opening
	for _, h := range rules()[d.down(o)] {
		for _, a := range o.strips(d.across(o), true) {
			offset, half, weight := o.strip(a)
			from, to := l.ends(offset, (h.x-0.5)*o.high, half)
			length := to.Sub(from)
			for _, g := range rules()[d.along(o, 2*half)] {
				some = append(some, piece{at: from.Add(length.Scale(g.x)), share: l.share * h.w * weight * g.w})
			}
		}
	}
	return some
}

// track turns a row as one piece sees it into the luminaire's frame. No point of a block is so near that the
// bound on the distance of a piece would count.
func (l *lamp) track(v, step, normal room.Vec, share float64) track {
	t := track{z: v.Z, stepZ: step.Z, facing: -v.Dot(normal), stepFacing: -step.Dot(normal), weight: share}
	t.x, t.y = l.pose.local(v)
	t.stepX, t.stepY = l.pose.local(step)
	return t
}
