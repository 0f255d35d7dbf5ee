package direct

import (
	"math"
	"slices"

	"lampswap/photometry/room"
)

// A span is a stretch of a row, points from one on and before another, that sees one luminaire alike.
type span struct {
	from, to int
	passes   float64 // share of the light that the racks let through which hide the luminaire wholly
	cut      bool    // racks may hide a part of it
}

// span is the points of a stretch of the row, 0 to 1, that begins and ends between points.
func (r *rowIntegrator) span(from, to, passes float64, cut bool) span {
	n := float64(r.grid.NX)
	return span{int(math.Round(from * n)), int(math.Round(to * n)), passes, cut}
}

// A shadow is what a rack does to one luminaire's light on a row.
type shadow struct {
	occluder
	touched, umbra stretch // points from which it may hide a part, and all
	from, to       float64 // between which places, 0 to 1, it hides all
}

// A stretch is points from one on and before another.
type stretch struct{ from, to int }

func (s stretch) holds(i int) bool { return s.from <= i && i < s.to }

// faintest is the share of a luminaire's light that counts behind racks.
const faintest = 1e-5

// cast finds the shadows of one luminaire on a row from a to b.
func (r *rowIntegrator) cast(l *lamp, a, b room.Vec) {
	r.passes.Clear()
	r.uncut.Clear()
	r.shadows = r.shadows[:0]
	n, reach, way := float64(r.grid.NX), l.pose.reach(), l.way(a, b)
	for i := range r.order {
		// the shadow of the middle behind the rack grown by the opening is where it may hide a part
		s := &r.order[i]
		if !s.Meets(way) {
			continue
		}
		from, to, ok := s.Grown(reach).Shadow(l.pose.at, a, b)
		if !ok || slices.ContainsFunc(r.shadows, func(c shadow) bool {
			return c.Passes == 0 && c.from <= from && to <= c.to // in the shadow of another
		}) {
			continue
		}
		// points from which it hides a part and all
		c := shadow{
			occluder: *s,
			touched:  stretch{max(0, int(from*n-0.5)), min(r.grid.NX, int(to*n+0.5)+1)},
		}
		c.umbra = stretch{c.touched.to, c.touched.to}
		if c.from, c.to = l.umbra(&s.Box, a, b); c.from < c.to {
			c.umbra = stretch{int(math.Ceil(c.from*n - 0.5)), int(c.to*n + 0.5)}
		}
		r.passes.Dim(float64(c.umbra.from)/n, float64(c.umbra.to)/n, c.Passes)
		r.uncut.Dim(float64(c.touched.from)/n, float64(c.umbra.from)/n, 0)
		r.uncut.Dim(float64(c.umbra.to)/n, float64(c.touched.to)/n, 0)
		if len(r.passes.Stretches) == 0 {
			return
		}
		r.shadows = append(r.shadows, c)
	}
	r.passes.Merge()
}

// cuttersAt returns the racks that may hide a part of the luminaire from a point.
func (r *rowIntegrator) cuttersAt(i int) []occluder {
	r.cutters = r.cutters[:0]
	for k := range r.shadows {
		if c := &r.shadows[k]; c.touched.holds(i) && !c.umbra.holds(i) {
			r.cutters = append(r.cutters, c.occluder)
		}
	}
	return r.cutters
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
