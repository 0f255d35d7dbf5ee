package room

import "math"

// The share of a rack's size by which it is drawn in for sight lines, so that light may graze a face and a
// point on a face is not hidden by the rack it stands on.
const graze = 1e-7

// Shadow returns which part of the segment from a to b the rack hides from p: the interval [from, to] of t in
// a + t (b - a), within 0 to 1; ok is false if it hides nothing. A segment that only touches the rack is not
// hidden.
//
// A point p + u (a - p) + v (b - a) with 0 ≤ v ≤ u ≤ 1 lies on the sight line to t = v/u. The six sides of
// the box are straight lines in (u, v): clipped by them, the triangle becomes a convex polygon, and t is
// extreme at its corners. Source: our derivation; the clipping is Sutherland and Hodgman's, Comm. ACM 17
// (1974) 32-42.
func (r Rack) Shadow(p, a, b Vec) (from, to float64, ok bool) {
	return r.Sides().Shadow(p, a, b)
}

// Hides tells whether the rack stands between p and q.
func (r Rack) Hides(p, q Vec) bool { return r.Sides().Hides(p, q) }

// Sides returns the box that hides: the rack, drawn in by a ten-millionth on every side but the floor's, so
// that light may graze a face.
func (r Rack) Sides() Box {
	in := r.Size.Scale(graze)
	b := Box{Low: r.Corner.Add(in), High: r.Far().Sub(in)}
	if !r.Hangs() {
		b.Low.Z = r.Corner.Z - in.Z
	}
	return b
}

// Hides tells whether any point of the segment from p to q lies in the box.
func (b Box) Hides(p, q Vec) bool {
	r := NewRay(p, q.Sub(p))
	enter, leave := 0.0, 1.0
	return r.X.clip(b.Low.X, b.High.X, &enter, &leave) && r.Y.clip(b.Low.Y, b.High.Y, &enter, &leave) &&
		r.Z.clip(b.Low.Z, b.High.Z, &enter, &leave)
}

// HidesBox tells whether the box hides the whole of another from p: then it hides its corners, as what it
// hides is convex.
func (b *Box) HidesBox(p Vec, other Box) bool {
	for q := range other.corners {
		if !b.Hides(p, q) {
			return false
		}
	}
	return true
}

// HidesAll tells whether the box hides all of one box from all of another.
func (b *Box) HidesAll(one, other Box) bool {
	for p := range one.corners {
		if !b.HidesBox(p, other) {
			return false
		}
	}
	return true
}

// Shadow returns which part of the segment from a to q the box hides from p, as Rack.Shadow does for a rack.
func (b Box) Shadow(p, a, q Vec) (from, to float64, ok bool) {
	f := newFan(p, a, q)
	return f.shadow(&b)
}

// A fan is the sight lines from a place to all of a segment.
type fan struct {
	p, along, across    Vec        // the place, from it to the segment's first end, and from there to the other
	way                 Box        // about all of them
	axis                int        // along which the segment runs, X being 0; askew if along none
	first, one, another Coordinate // along that axis, the next and the one after
	perAcross           float64
}

// askew is in place of an axis.
const askew = 3

func newFan(p, a, q Vec) fan {
	f := fan{
		p: p, along: a.Sub(p), across: q.Sub(a), axis: askew,
		way: Box{
			Vec{min(p.X, a.X, q.X), min(p.Y, a.Y, q.Y), min(p.Z, a.Z, q.Z)},
			Vec{max(p.X, a.X, q.X), max(p.Y, a.Y, q.Y), max(p.Z, a.Z, q.Z)},
		},
	}
	r := NewRay(p, f.along)
	switch c := f.across; {
	case c.Y == 0 && c.Z == 0 && c.X != 0:
		f.axis, f.first, f.one, f.another, f.perAcross = 0, r.X, r.Y, r.Z, 1/c.X
	case c.X == 0 && c.Z == 0 && c.Y != 0:
		f.axis, f.first, f.one, f.another, f.perAcross = 1, r.Y, r.Z, r.X, 1/c.Y
	case c.X == 0 && c.Y == 0 && c.Z != 0:
		f.axis, f.first, f.one, f.another, f.perAcross = 2, r.Z, r.X, r.Y, 1/c.Z
	}
	return f
}

// shadow returns which part of the segment a box hides.
func (f *fan) shadow(b *Box) (from, to float64, ok bool) {
	if b.Low.X > f.way.High.X || b.High.X < f.way.Low.X || b.Low.Y > f.way.High.Y || b.High.Y < f.way.Low.Y ||
		b.Low.Z > f.way.High.Z || b.High.Z < f.way.Low.Z {
		return 0, 0, false
	}
	switch f.axis {
	case 0:
		return f.straight(b.Low.X, b.High.X, b.Low.Y, b.High.Y, b.Low.Z, b.High.Z)
	case 1:
		return f.straight(b.Low.Y, b.High.Y, b.Low.Z, b.High.Z, b.Low.X, b.High.X)
	case 2:
		return f.straight(b.Low.Z, b.High.Z, b.Low.X, b.High.X, b.Low.Y, b.High.Y)
	}
	return b.askew(f.p, f.along, f.across)
}

// straight is shadow for a segment along an axis, of a box from low to high along it, the next and the one
// after: two pairs of sides bound u alone, and the first bounds t between
//
//	(low - p)/(u across) - d/across    and    (high - p)/(u across) - d/across
//
// which run one way as u grows, so that both are extreme where u is.
func (f *fan) straight(low, high, low1, high1, low2, high2 float64) (from, to float64, ok bool) {
	enter, leave := 0.0, 1.0
	if !f.one.clip(low1, high1, &enter, &leave) || !f.another.clip(low2, high2, &enter, &leave) {
		return 0, 0, false
	}
	low, high = (low-f.first.From)*f.perAcross, (high-f.first.From)*f.perAcross
	if low > high {
		low, high = high, low
	}
	if enter == 0 && low <= 0 && high >= 0 { // the eye itself is in the box
		return 0, 1, true
	}
	first, last, d := 1/enter, 1/leave, f.first.Towards*f.perAcross
	from, to = max(min(low*first, low*last)-d, 0), min(max(high*first, high*last)-d, 1)
	return from, to, from < to
}

// A corner is a point of the triangle of sight lines: u along the line from the eye, v = u t.
type corner struct{ u, v float64 }

// A polygon of sight lines: a triangle gains at most one corner a cut.
type polygon struct {
	n       int
	corners [10]corner
}

// askew is shadow for any segment.
func (b *Box) askew(p, along, across Vec) (from, to float64, ok bool) {
	g := polygon{n: 3, corners: [10]corner{{0, 0}, {1, 0}, {1, 1}}}
	if !g.between(p.X, along.X, across.X, b.Low.X, b.High.X) ||
		!g.between(p.Y, along.Y, across.Y, b.Low.Y, b.High.Y) ||
		!g.between(p.Z, along.Z, across.Z, b.Low.Z, b.High.Z) {
		return 0, 0, false
	}
	from, to = math.Inf(1), math.Inf(-1)
	for _, c := range g.corners[:g.n] {
		if c.u == 0 { // the eye itself is in the box
			return 0, 1, true
		}
		t := c.v / c.u
		from, to = min(from, t), max(to, t)
	}
	return max(from, 0), min(to, 1), from < to
}

// between keeps the part of the polygon where low ≤ p + u du + v dv ≤ high, and tells whether anything is
// left.
func (g *polygon) between(p, du, dv, low, high float64) bool {
	least, most := math.Inf(1), math.Inf(-1)
	for _, c := range g.corners[:g.n] {
		x := p + c.u*du + c.v*dv
		least, most = min(least, x), max(most, x)
	}
	if most < low || least > high {
		return false
	}
	if least < low {
		g.cut(p-low, du, dv)
	}
	if most > high {
		g.cut(high-p, -du, -dv)
	}
	return g.n > 0
}

// cut keeps the part of the polygon where w + u wu + v wv ≥ 0.
func (g *polygon) cut(w, wu, wv float64) {
	var kept polygon
	if g.n == 0 {
		return
	}
	last := g.corners[g.n-1]
	before := w + last.u*wu + last.v*wv
	for _, c := range g.corners[:g.n] {
		here := w + c.u*wu + c.v*wv
		if (before >= 0) != (here >= 0) && kept.n < len(kept.corners) {
			s := before / (before - here)
			kept.corners[kept.n] = corner{last.u + s*(c.u-last.u), last.v + s*(c.v-last.v)}
			kept.n++
		}
		if here >= 0 && kept.n < len(kept.corners) {
			kept.corners[kept.n] = c
			kept.n++
		}
		last, before = c, here
	}
	*g = kept
}
