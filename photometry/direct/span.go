package direct

import (
	"math"

	"lampswap/photometry/room"
)

// A span is a stretch of a row, points from to to-1, that sees one luminaire alike: through the same racks, or cut by one.
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
	shade
	touched, umbra span // where it may hide a part, and all
}

// faintest is the share of a luminaire's light that counts behind racks.
const faintest = 1e-5

// spansPerShade is how many stretches more a rack can make: its shadow and the umbra within have two ends each.
const spansPerShade = 4

// shadows divides the row into stretches for one luminaire.
func (r *rower) shadows(l *lamp, first, step room.Vec) {
	n := r.grid.NX
	r.spans, r.close = append(r.spans[:0], span{0, n, 1, false}), r.close[:0]
	a, b := first.Sub(step.Scale(0.5)), first.Add(step.Scale(float64(n)-0.5))
	reach := l.pose.reach()
	for i := range r.shades {
		at := i + r.hidden // the order changes nothing in the result
		if at >= len(r.shades) {
			at -= len(r.shades)
		}
		s := &r.shades[at]
		from, to, ok := s.box.Grown(reach).Shadow(l.pose.at, a, b)
		if !ok {
			continue
		}
		touched := span{from: max(0, int(from*float64(n)-0.5)), to: min(n, int(to*float64(n)+0.5)+1)}
		c := shadow{*s, touched, l.umbra(&s.box, a, b, n)}
		if r.dim(&c) {
			r.hidden = at
			return
		}
		r.close = append(r.close, c)
	}
}

// umbra returns the points from which a rack hides every corner of the opening, and so all of it: both are convex.
func (l *lamp) umbra(box *room.Box, a, b room.Vec, n int) span {
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
	return span{from: int(math.Ceil(from*float64(n) - 0.5)), to: int(to*float64(n) + 0.5)}
}

// dim enters a rack: what it touches is cut but for its umbra, which it dims. It tells whether the whole row is dark.
func (r *rower) dim(c *shadow) bool {
	for _, at := range [...]int{c.touched.from, c.touched.to, c.umbra.from, c.umbra.to} {
		r.split(at)
	}
	dark := true
	for i := range r.spans {
		s := &r.spans[i]
		switch {
		case c.umbra.holds(*s):
			if s.passes *= c.passes; s.passes < faintest {
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
func (r *rower) split(at int) {
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
