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
	shadows []shadow        // of one luminaire on the row
	passes  room.Visibility // what the racks leave of its light that hide all of it
	uncut   room.Visibility // where none hides but a part of it
	cutters []occluder      // that hide a part of it from one point
	order   []ranked        // the racks, the nearest to a row first
	oblique bool            // each point is a surface of its own
	parts   []lamp          // of a luminaire, that one of them does not have behind it
}

func (e *Prepared) rowIntegrator(g room.Grid) *rowIntegrator {
	return &rowIntegrator{
		Prepared: e,
		grid:     g,
		work:     newWorkspace(len(e.occluders)),
		order:    make([]ranked, len(e.occluders)),
		oblique:  !g.OneSurface() && g.Normal != room.AllRound,
	}
}

// row adds the light of every luminaire to a row of points, stretch by stretch: racks hide the luminaire
// wholly, or cut it, or leave it open.
func (r *rowIntegrator) row(iy int, dst [][]float64) {
	g := &r.grid
	first := g.Point(0, iy)
	step := g.U.Scale(g.StepX)
	a, b := first.Sub(step.Scale(0.5)), first.Add(step.Scale(float64(g.NX)-0.5))
	box := room.Box{Low: a, High: a}.With(b)
	r.rank(&box)
	for k := range r.kinds {
		kind := &r.kinds[k]
		for i := range kind.lamps {
			l := &kind.lamps[i]
			if l.behind(first, g.Normal, step, g.NX) || l.dark(kind.optics, &box) {
				continue
			}
			r.cast(l, a, b)
			for _, s := range r.passes.Stretches {
				if s.Passes < faintest {
					continue
				}
				at := s.From
				for _, open := range r.uncut.Stretches {
					if from, to := max(open.From, s.From), min(open.To, s.To); from < to {
						r.add(dst, l, kind.optics, first, step, r.span(at, from, s.Passes, true))
						r.add(dst, l, kind.optics, first, step, r.span(from, to, s.Passes, false))
						at = to
					}
				}
				r.add(dst, l, kind.optics, first, step, r.span(at, s.To, s.Passes, true))
			}
		}
	}
}

// behind tells whether the whole opening lies behind the surface at both ends of the row.
func (l *lamp) behind(first, normal, step room.Vec, n int) bool {
	if normal == room.AllRound {
		return false
	}
	reach := l.pose.reach()
	depth := math.Abs(normal.X)*reach.X + math.Abs(normal.Y)*reach.Y + math.Abs(normal.Z)*reach.Z
	a := l.pose.at.Sub(first).Dot(normal) + depth
	b := a - float64(n-1)*step.Dot(normal)
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
func (r *rowIntegrator) add(dst [][]float64, l *lamp, optics []optic, first, step room.Vec, s span) {
	one := *l
	for n := range dst {
		one.optic = &optics[n]
		switch {
		case r.oblique:
			r.piercing(dst[n], &one, first, step, s)
		case !s.cut:
			one.open(dst[n], r.work, first, step, r.grid.Normal, s)
		default:
			for i := s.from; i < s.to; i++ {
				p := first.Add(step.Scale(float64(i)))
				dst[n][i] += s.passes * one.once(p, r.grid.Normal, r.cuttersAt(i), r.work)
			}
		}
	}
}

// piercing adds one luminaire to a stretch of points each of which is a surface of its own: some surfaces cut
// the opening, and some have it behind them.
func (r *rowIntegrator) piercing(dst []float64, l *lamp, first, step room.Vec, s span) {
	normal := r.grid.Normal
	extent := l.extent(normal)
	whole := func(i int) bool {
		return !s.cut && l.pose.at.Sub(first.Add(step.Scale(float64(i)))).Dot(normal) >= extent
	}
	for i := s.from; i < s.to; i++ {
		to := i
		for to < s.to && whole(to) {
			to++
		}
		if to > i {
			l.open(dst, r.work, first, step, normal, span{from: i, to: to, passes: s.passes})
			i = to - 1
			continue
		}
		p, cutters := first.Add(step.Scale(float64(i))), r.cuttersAt(i)
		r.parts = l.front(r.parts[:0], p, normal)
		for k := range r.parts {
			dst[i] += s.passes * r.parts[k].once(p, normal, cutters, r.work)
		}
	}
}

const (
	block     = 32  // points that share a subdivision
	longBlock = 128 // and as many where the luminaire is
	longRatio = 2.5 // times its size away, where two pieces are enough
)

// open adds a luminaire that no rack cuts to a stretch of a row.
func (l *lamp) open(dst []float64, work *workspace, first, step, normal room.Vec, s span) {
	o := l.opening
	for s.from < s.to {
		end := min(s.to, s.from/longBlock*longBlock+longBlock)
		size := longBlock
		if end-s.from > block &&
			l.nearest(first.Add(step.Scale(float64(s.from))), step, end-s.from) < longRatio*max(o.length, o.high) {
			size = block
		}
		for s.from < end {
			to := min(end, s.from/size*size+size)
			l.block(dst, work, first, step, normal, span{from: s.from, to: to, passes: s.passes})
			s.from = to
		}
	}
}

// block adds a luminaire to a few points by pieces that suit the nearest of them.
func (l *lamp) block(dst []float64, work *workspace, first, step, normal room.Vec, s span) {
	o := l.opening
	start := first.Add(step.Scale(float64(s.from)))
	near := l.nearest(start, step, s.to-s.from)
	if near < max(o.length, o.high)/2 {
		for i := s.from; i < s.to; i++ {
			p := first.Add(step.Scale(float64(i)))
			dst[i] += s.passes * l.once(p, normal, nil, work)
		}
		return
	}
	finer := 1
	if normal == room.AllRound {
		finer = l.underneath(start, step, s.to-s.from)
	}
	low, high := l.cosines(start, step, s.to-s.from)
	d := division{near: near, refine: l.refine.at(near, low, high), finer: finer}
	work.pieces = l.divide(work.pieces[:0], d)
	for _, q := range work.pieces {
		t := l.track(start.Sub(q.at), step, normal, s.passes*q.share)
		if normal == room.AllRound {
			l.field.addAllRound(dst[s.from:s.to], &t)
			continue
		}
		l.field.add(dst[s.from:s.to], points[:], &t)
	}
}

// mostAcross is how many times more pieces there may be across and down an opening: enough, as there are many
// along it.
const mostAcross = 4

// underneath returns how many times more pieces a cylinder takes: below or above a luminaire each end of it
// gives the one half of the cylinder light, and that has a kink in the middle.
func (l *lamp) underneath(start, step room.Vec, n int) int {
	const steep, times = 0.8, 4
	low, high := l.cosines(start, step, n)
	if max(math.Abs(low), math.Abs(high)) > steep {
		return times
	}
	return 1
}

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
				some = append(some, piece{from.Add(length.Scale(g.x)), l.share * h.w * weight * g.w})
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

// cosines returns the range of the cosines from nadir at which the luminaire sees a row of n points: between
// its ends and the point nearest in plan.
func (l *lamp) cosines(start, step room.Vec, n int) (low, high float64) {
	k := 0.0
	if square := step.X*step.X + step.Y*step.Y; square > 0 {
		v := l.pose.at.Sub(start)
		k = max(0, min(float64(n-1), (v.X*step.X+v.Y*step.Y)/square))
	}
	a, b, c := l.cosine(start), l.cosine(start.Add(step.Scale(k))), l.cosine(start.Add(step.Scale(float64(n-1))))
	return min(a, b, c), max(a, b, c)
}

// nearest returns at most the distance, m, from the opening to a row of n points.
func (l *lamp) nearest(start, step room.Vec, n int) float64 {
	v := l.pose.at.Sub(start)
	k := 0.0
	if square := step.Dot(step); square > 0 {
		k = max(0, min(float64(n-1), v.Dot(step)/square))
	}
	o, row := l.opening, room.Box{Low: start, High: start}.With(start.Add(step.Scale(float64(n-1))))
	about := v.Sub(step.Scale(k)).Length() - math.Sqrt(o.length*o.length+o.width*o.width+o.high*o.high)/2
	return max(about, math.Sqrt(row.SquareGap(l.box())))
}
