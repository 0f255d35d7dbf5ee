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

// A Box is a solid with its sides along the axes, between its lowest and its highest corner, m.
type Box struct{ Low, High Vec }

// Grown returns the box with every side moved outwards, by as much in m along each axis.
func (b Box) Grown(by Vec) Box { return Box{b.Low.Sub(by), b.High.Add(by)} }

// Meets tells whether two boxes have more than their faces in common.
func (b Box) Meets(o Box) bool {
	return b.Low.X < o.High.X && b.High.X > o.Low.X && b.Low.Y < o.High.Y && b.High.Y > o.Low.Y &&
		b.Low.Z < o.High.Z &&
		b.High.Z > o.Low.Z
}

// With returns the least box that holds a point too.
func (b Box) With(p Vec) Box {
	return Box{
		Vec{min(b.Low.X, p.X), min(b.Low.Y, p.Y), min(b.Low.Z, p.Z)},
		Vec{max(b.High.X, p.X), max(b.High.Y, p.Y), max(b.High.Z, p.Z)},
	}
}

// Ahead tells whether any of the box lies before the plane through a point, on the side of its normal.
func (b Box) Ahead(p, normal Vec) bool {
	furthest := math.Max(
		b.Low.X*normal.X,
		b.High.X*normal.X,
	) + math.Max(
		b.Low.Y*normal.Y,
		b.High.Y*normal.Y,
	) + math.Max(
		b.Low.Z*normal.Z,
		b.High.Z*normal.Z,
	)
	return furthest > p.Dot(normal)+1e-9
}

// SquareDistance returns the square of the distance from a point to the box, m²; 0 inside it.
func (b Box) SquareDistance(p Vec) float64 {
	x, y, z := max(
		b.Low.X-p.X,
		p.X-b.High.X,
		0,
	), max(
		b.Low.Y-p.Y,
		p.Y-b.High.Y,
		0,
	), max(
		b.Low.Z-p.Z,
		p.Z-b.High.Z,
		0,
	)
	return x*x + y*y + z*z
}

// SquareGap returns the square of the distance between two boxes, m²; 0 where they meet.
func (b Box) SquareGap(o Box) float64 {
	x, y, z := max(
		b.Low.X-o.High.X,
		o.Low.X-b.High.X,
		0,
	), max(
		b.Low.Y-o.High.Y,
		o.Low.Y-b.High.Y,
		0,
	), max(
		b.Low.Z-o.High.Z,
		o.Low.Z-b.High.Z,
		0,
	)
	return x*x + y*y + z*z
}

// Hides tells whether any point of the segment from p to q lies in the box.
func (b Box) Hides(p, q Vec) bool {
	d := q.Sub(p)
	enter, leave := 0.0, 1.0
	x, y, z := newRay(p.X, d.X), newRay(p.Y, d.Y), newRay(p.Z, d.Z)
	return x.clip(b.Low.X, b.High.X, &enter, &leave) && y.clip(b.Low.Y, b.High.Y, &enter, &leave) &&
		z.clip(b.Low.Z, b.High.Z, &enter, &leave)
}

// A corner is a point of the triangle of sight lines: u along the line from the eye, v = u t.
type corner struct{ u, v float64 }

// A polygon of sight lines: a triangle gains at most one corner a cut.
type polygon struct {
	n       int
	corners [10]corner
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

// corners goes over the corners of a box, once over those that a flat one has.
func (b *Box) corners(yield func(Vec) bool) {
	ends := [2]Vec{b.High, b.Low}
	for c := range 8 {
		if c&1 != 0 && b.Low.X == b.High.X || c&2 != 0 && b.Low.Y == b.High.Y || c&4 != 0 && b.Low.Z == b.High.Z {
			continue
		}
		if !yield(Vec{ends[c&1].X, ends[c>>1&1].Y, ends[c>>2].Z}) {
			return
		}
	}
}

// Shadow returns which part of the segment from a to q the box hides from p, as Rack.Shadow does for a rack.
func (b Box) Shadow(p, a, q Vec) (from, to float64, ok bool) {
	f := newFan(p, a, q)
	return f.shadow(&b)
}

// A fan is the sight lines from a place to all of a segment.
type fan struct {
	p, along, across    Vec // the place, from it to the segment's first end, and from there to the other
	way                 Box // about all of them
	axis                int // along which the segment runs, X being 0; askew if along none
	first, one, another ray // along that axis, the next and the one after
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
	x, y, z := newRay(p.X, f.along.X), newRay(p.Y, f.along.Y), newRay(p.Z, f.along.Z)
	switch c := f.across; {
	case c.Y == 0 && c.Z == 0 && c.X != 0:
		f.axis, f.first, f.one, f.another, f.perAcross = 0, x, y, z, 1/c.X
	case c.X == 0 && c.Z == 0 && c.Y != 0:
		f.axis, f.first, f.one, f.another, f.perAcross = 1, y, z, x, 1/c.Y
	case c.X == 0 && c.Y == 0 && c.Z != 0:
		f.axis, f.first, f.one, f.another, f.perAcross = 2, z, x, y, 1/c.Z
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
	low, high = (low-f.first.p)*f.perAcross, (high-f.first.p)*f.perAcross
	if low > high {
		low, high = high, low
	}
	if enter == 0 && low <= 0 && high >= 0 { // the eye itself is in the box
		return 0, 1, true
	}
	first, last, d := 1/enter, 1/leave, f.first.d*f.perAcross
	from, to = max(min(low*first, low*last)-d, 0), min(max(high*first, high*last)-d, 1)
	return from, to, from < to
}

// A ray is one coordinate of a sight line: it starts at p and goes d, of which inverse is 1 over.
type ray struct{ p, d, inverse float64 }

func newRay(p, d float64) ray { return ray{p, d, 1 / d} }

// clip narrows the stretch of a ray to what lies between two sides, and tells whether anything is left.
func (r *ray) clip(low, high float64, enter, leave *float64) bool {
	if r.d == 0 {
		return r.p >= low && r.p <= high
	}
	t0, t1 := (low-r.p)*r.inverse, (high-r.p)*r.inverse
	if t0 > t1 {
		t0, t1 = t1, t0
	}
	*enter, *leave = max(*enter, t0), min(*leave, t1)
	return *enter <= *leave
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
