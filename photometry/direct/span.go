package direct

import (
	"cmp"
	"math"
	"slices"

	"lampswap/photometry/room"
)

// A span is a stretch of a row, points from to to-1, that sees one luminaire alike: through the same racks,
// or cut by one.
type span struct {
	from, to int
	passes   float64 // share of the light that the racks let through which hide the luminaire wholly
	cut      bool    // racks may hide a part of it
}

// joins tells whether the next stretch goes on as this one, which no rack cuts.
func (s span) joins(next span) bool {
	return s.passes == next.passes && (s.passes == 0 || !s.cut && !next.cut)
}

func (s span) holds(other span) bool { return s.from <= other.from && other.to <= s.to }

// A shadow is what a rack does to one luminaire's light on a row.
type shadow struct {
	occluder
	touched, umbra span    // where it may hide a part, and all
	from, to       float64 // between which places, 0 to 1, it hides all
}

// faintest is the share of a luminaire's light that counts behind racks.
const faintest = 1e-5

// spansPerShade is how many stretches more a rack can make: its shadow and the umbra within have two ends
// each.
const spansPerShade = 4

// rank puts the racks in the order of their distance from a row: the nearest throw the largest shadows on it.
func (r *rowIntegrator) rank(a, b room.Vec) {
	row := room.Box{Low: a, High: a}.With(b)
	for i := range r.occluders {
		r.order[i] = ranked{row.SquareGap(r.occluders[i].Box), i}
	}
	slices.SortFunc(
		r.order,
		func(x, y ranked) int { return cmp.Or(cmp.Compare(x.square, y.square), cmp.Compare(x.rack, y.rack)) },
	)
}

// A ranked rack is so far from a row, the square of it, m².
type ranked struct {
	square float64
	rack   int
}

// shadows divides a row from a to b into stretches for one luminaire.
func (r *rowIntegrator) shadows(l *lamp, a, b room.Vec) {
	n := r.grid.NX
	r.spans, r.close = append(r.spans[:0], span{0, n, 1, false}), r.close[:0]
	reach := l.pose.reach()
	way := l.way(a, b)
	for _, o := range r.order {
		s := &r.occluders[o.rack]
		if !s.Meets(way) {
			continue
		}
		from, to, ok := s.Grown(reach).Shadow(l.pose.at, a, b)
		if !ok {
			continue
		}
		if slices.ContainsFunc(
			r.close,
			func(c shadow) bool { return c.Passes == 0 && c.from <= from && to <= c.to },
		) {
			continue // in the shadow of another
		}
		c := shadow{
			occluder: *s,
			touched:  span{from: max(0, int(from*float64(n)-0.5)), to: min(n, int(to*float64(n)+0.5)+1)},
		}
		if c.from, c.to = l.umbra(&s.Box, a, b); c.from < c.to {
			c.umbra = span{from: int(math.Ceil(c.from*float64(n) - 0.5)), to: int(c.to*float64(n) + 0.5)}
		}
		if r.dim(&c) {
			return
		}
		r.close = append(r.close, c)
	}
}

// umbra returns the part of a row, 0 to 1, from which a rack hides every corner of the opening, and so all of
// it: both are convex.
func (l *lamp) umbra(box *room.Box, a, b room.Vec) (from, to float64) {
	from, to = 0, 1
	for eye := range l.corners {
		f, t, ok := box.Shadow(eye, a, b)
		from, to = max(from, f), min(to, t)
		if !ok || from >= to {
			return 0, 0
		}
	}
	return from, to
}

// corners goes over the corners of the opening.
func (l *lamp) corners(yield func(room.Vec) bool) {
	o := l.opening
	for c := range 8 {
		if c&1 != 0 && o.length == 0 || c&2 != 0 && o.width == 0 || c&4 != 0 && o.high == 0 {
			continue
		}
		eye := l.place((float64(c&1)-0.5)*o.length, (float64(c&2)/2-0.5)*o.width)
		eye.Z += (float64(c&4)/4 - 0.5) * o.high
		if !yield(eye) {
			return
		}
	}
}

// dim enters a rack: what it touches is cut but for its umbra, which it dims. It tells whether the whole row
// is dark.
func (r *rowIntegrator) dim(c *shadow) bool {
	for _, at := range [...]int{c.touched.from, c.touched.to, c.umbra.from, c.umbra.to} {
		r.split(at)
	}
	dark := true
	for i := range r.spans {
		s := &r.spans[i]
		switch {
		case c.umbra.holds(*s):
			if s.passes *= c.Passes; s.passes < faintest && !r.paysBack {
				s.passes = 0
			}
		case c.touched.holds(*s):
			s.cut = true
		}
		dark = dark && s.passes == 0
	}
	return dark
}

// split makes a point the first of a stretch, unless it is dark there.
func (r *rowIntegrator) split(at int) {
	for i := range r.spans {
		s := &r.spans[i]
		if s.from < at && at < s.to {
			if s.passes > 0 {
				r.spans = append(r.spans, span{})
				copy(r.spans[i+1:], r.spans[i:])
				r.spans[i].to, r.spans[i+1].from = at, at
			}
			return
		}
	}
}
