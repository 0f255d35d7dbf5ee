package direct

import (
	"math"

	"lampswap/photometry/room"
)

// A span is a stretch of a row, points from to to-1.
type span struct{ from, to int }

// A rower computes rows of one grid; it holds what a row needs to work in, so each worker has its own.
type rower struct {
	*Prepared
	grid   room.Grid
	work   *workspace
	close  []shade // those that may touch one luminaire's light on the row
	lit    []span  // not wholly hidden
	cut    []span  // perhaps partly hidden, in order and apart
	spare  []span
	hidden int // the rack that hid a whole row last
}

func (e *Prepared) rower(g room.Grid) *rower {
	n := 2*len(e.shades) + 2
	return &rower{Prepared: e, grid: g, work: newWorkspace(len(e.shades)), close: make([]shade, 0, len(e.shades)),
		lit: make([]span, 0, n), cut: make([]span, 0, n), spare: make([]span, 0, n)}
}

// row adds the light of every luminaire to a row of points. It finds for each luminaire the stretches that a rack hides wholly,
// those where one may cut it, and the rest, which is open.
func (r *rower) row(iy int, dst []float64) {
	g := &r.grid
	first := g.Point(0, iy)
	step := g.U.Scale(g.StepX)
	for k := range r.kinds {
		kind := &r.kinds[k]
		for i := range kind.lamps {
			l := &kind.lamps[i]
			if l.behind(first, g.Normal, step, g.NX) || l.unlit(first, step, g.NX) {
				continue
			}
			r.shadows(l, first, step)
			for _, open := range r.lit {
				r.stretch(dst, l, first, step, open)
			}
		}
	}
}

// behind tells whether the whole opening lies behind the surface at both ends of the row.
func (l *lamp) behind(first, normal, step room.Vec, n int) bool {
	reach := l.pose.reach()
	depth := math.Abs(normal.X)*reach.X + math.Abs(normal.Y)*reach.Y + math.Abs(normal.Z)*reach.Z
	a := l.pose.at.Sub(first).Dot(normal) + depth
	b := a - float64(n-1)*step.Dot(normal)
	return a <= 0 && b <= 0
}

// unlit tells whether the luminaire sends nothing to the side of the horizontal on which the whole row lies.
func (l *lamp) unlit(first, step room.Vec, n int) bool {
	if step.Z != 0 || n == 0 {
		return false
	}
	low, high := l.pose.at.Z-l.pose.halfHigh, l.pose.at.Z+l.pose.halfHigh
	return l.field.belowOnly && first.Z > high || l.field.aboveOnly && first.Z < low
}

// shadows fills lit and cut for one luminaire.
func (r *rower) shadows(l *lamp, first, step room.Vec) {
	n := r.grid.NX
	r.lit, r.cut, r.close = append(r.lit[:0], span{0, n}), r.cut[:0], r.close[:0]
	if len(r.shades) == 0 {
		return
	}
	a, b := first.Sub(step.Scale(0.5)), first.Add(step.Scale(float64(n)-0.5))
	reach := l.pose.reach()
	for i := range r.shades {
		at := i + r.hidden // the order changes nothing in the result
		if at >= len(r.shades) {
			at -= len(r.shades)
		}
		from, to, ok := r.shades[at].box.Grown(reach).Shadow(l.pose.at, a, b)
		if !ok {
			continue
		}
		touched := span{max(0, int(from*float64(n)-0.5)), min(n, int(to*float64(n)+0.5)+1)}
		if r.shades[at].passes == 0 {
			r.lit = r.without(r.lit, l.wholly(&r.shades[at].box, a, b, n))
			if len(r.lit) == 0 {
				r.hidden = at
				return
			}
		}
		r.cut = r.with(r.cut, touched)
		r.close = append(r.close, r.shades[at])
	}
}

// wholly returns the points from which a rack hides every corner of the opening, and so all of it: both are convex.
func (l *lamp) wholly(box *room.Box, a, b room.Vec, n int) span {
	from, to := 0.0, 1.0
	o := l.opening
	for c := range 8 {
		if c&1 != 0 && o.length == 0 || c&2 != 0 && o.width == 0 || c&4 != 0 && o.high == 0 {
			continue
		}
		eye := l.place((float64(c&1)-0.5)*o.length, (float64(c&2)/2-0.5)*o.width)
		eye.Z += (float64(c&4)/4 - 0.5) * o.high
		f, t, ok := box.Shadow(eye, a, b)
		from, to = max(from, f), min(to, t)
		if !ok || from >= to {
			return span{}
		}
	}
	return span{int(math.Ceil(from*float64(n) - 0.5)), int(to*float64(n) + 0.5)}
}

// without returns the spans less one.
func (r *rower) without(spans []span, gone span) []span {
	if gone.from >= gone.to {
		return spans
	}
	out := r.spare[:0]
	for _, s := range spans {
		if s.from < min(s.to, gone.from) {
			out = append(out, span{s.from, min(s.to, gone.from)})
		}
		if max(s.from, gone.to) < s.to {
			out = append(out, span{max(s.from, gone.to), s.to})
		}
	}
	r.spare = spans
	return out
}

// with returns the spans and one more, merged and in order.
func (r *rower) with(spans []span, more span) []span {
	out := r.spare[:0]
	for _, s := range spans {
		switch {
		case s.to < more.from:
			out = append(out, s)
		case more.to < s.from:
			out = append(out, more)
			more = s
		default:
			more = span{min(s.from, more.from), max(s.to, more.to)}
		}
	}
	r.spare = spans
	return append(out, more)
}

// stretch adds one luminaire to points that no rack hides wholly: the cut ones one by one, the open ones in blocks.
func (r *rower) stretch(dst []float64, l *lamp, first, step room.Vec, lit span) {
	at := lit.from
	for _, c := range r.cut {
		if c.to <= at || c.from >= lit.to {
			continue
		}
		l.open(dst, r.work, first, step, r.grid.Normal, span{at, max(at, c.from)})
		at = max(at, c.from)
		for ; at < min(c.to, lit.to); at++ {
			p := first.Add(step.Scale(float64(at)))
			dst[at] += l.once(p, r.grid.Normal, r.close, r.work)
		}
	}
	l.open(dst, r.work, first, step, r.grid.Normal, span{at, lit.to})
}

const (
	block     = 32  // points that share a subdivision
	longBlock = 128 // and as many where the luminaire is
	longRatio = 2.5 // times its size away, where two pieces are enough
)

// open adds a luminaire that nothing hides to a stretch of a row.
func (l *lamp) open(dst []float64, work *workspace, first, step, normal room.Vec, s span) {
	o := l.opening
	for s.from < s.to {
		end := min(s.to, s.from/longBlock*longBlock+longBlock)
		size := longBlock
		if end-s.from > block && l.nearest(first.Add(step.Scale(float64(s.from))), step, end-s.from) < longRatio*max(o.length, o.high) {
			size = block
		}
		for s.from < end {
			to := min(end, s.from/size*size+size)
			l.block(dst, work, first, step, normal, span{s.from, to})
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
			dst[i] += l.once(p, normal, nil, work)
		}
		return
	}
	low, high := l.cosines(start, step, s.to-s.from)
	refine := l.refine.at(near, low, high)
	across := o.strips(pieces(o.width, near, o.refined(o.width, refine)), true)
	down := rules()[pieces(o.high, near, o.refined(o.high, refine))]
	for _, h := range down {
		for _, a := range across {
			offset, half, weight := o.strip(a)
			from, to := l.ends(offset, (h.x-0.5)*o.high, half)
			length := to.Sub(from)
			for _, g := range rules()[pieces(2*half, near, refine)] {
				t := l.track(start.Sub(from.Add(length.Scale(g.x))), step, normal, h.w*weight*g.w)
				l.field.add(dst[s.from:s.to], &t)
			}
		}
	}
}

// track turns a row as one piece sees it into the luminaire's frame. No point of a block is so near that the bound on the distance
// of a piece would count.
func (l *lamp) track(v, step, normal room.Vec, share float64) track {
	t := track{z: v.Z, stepZ: step.Z, facing: -v.Dot(normal), stepFacing: -step.Dot(normal), weight: share}
	t.x, t.y = l.pose.local(v)
	t.stepX, t.stepY = l.pose.local(step)
	return t
}

// cosines returns the range of the cosines from nadir at which the luminaire sees a row of n points: between its ends and the point
// nearest in plan.
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
	o := l.opening
	return v.Sub(step.Scale(k)).Length() - math.Sqrt(o.length*o.length+o.width*o.width+o.high*o.high)/2
}
