package interreflect

import (
	"math"

	"lampswap/photometry/room"
)

// A kernel is how a surface lies to that of a point, and the part of it that the point can see if nothing is
// in the way.
type kernel struct {
	orientation    orientation
	h              float64 // distance of the point from the surface's plane, m
	side           float64 // of the point's normal, where it runs along or across the surface
	ahead          float64 // the normal's components along the surface, across it and towards it
	across         float64
	towards        float64
	x0, x1, y0, y1 float64 // what lies before the point's surface
	level, upAlong bool    // for a cylinder: the surface is level, or else the way up is along it
}

// An orientation is how the point's normal runs to a surface.
type orientation int

const (
	parallel orientation = iota
	squareAcross
	squareAlong
	askew
	allRound // there is none: an upright cylinder receives light from all sides
)

// kernel tells how a surface lies to a point; ok is false where it turns its back or lies behind.
func (s *surface) kernel(p, normal room.Vec) (k kernel, ok bool) {
	f := s.face
	k = kernel{
		h:  (along(p, f.normal) - f.at) * f.sign,
		x0: s.xs[0],
		x1: s.xs[len(s.xs)-1],
		y0: s.ys[0],
		y1: s.ys[len(s.ys)-1],
	}
	if k.h < -inPlane {
		return k, false
	}
	if normal == room.AllRound {
		k.orientation, k.h = allRound, max(k.h, nearCylinder)
		k.level, k.upAlong = f.normal == axisZ, s.along == axisZ
		return k, true
	}
	k.h = max(k.h, inPlane)
	across, ahead := along(normal, s.across), along(normal, s.along)
	k.ahead, k.across, k.towards = ahead, across, -along(normal, f.normal)*f.sign
	// which closed form there is, and what of the surface lies before the point's own
	switch {
	case square1(along(normal, f.normal)):
		return k, along(normal, f.normal)*f.sign < 0
	case square1(across):
		k.orientation, k.side = squareAcross, across
		k.y0, k.y1 = before(k.y0, k.y1, along(p, s.across), across)
	case square1(ahead):
		k.orientation, k.side = squareAlong, ahead
		k.x0, k.x1 = before(k.x0, k.x1, along(p, s.along), ahead)
	default:
		k.orientation = askew
	}
	return k, true
}

// A point in a surface's plane, to so many m, counts as just before it: if it lies on the surface, that fills
// half its view.
const inPlane = 1e-9

// A cylinder keeps so far from a surface, m: what it receives from right beside it is summed in ever smaller
// parts.
const nearCylinder = 1e-5

// before cuts off what lies behind a point.
func before(low, high, p, side float64) (from, to float64) {
	if side > 0 {
		return max(low, p), high
	}
	return low, min(high, p)
}

// A factor is what the configuration factors of all blocks of a band share.
type factor struct {
	y0, y1     float64
	fall, rise float64 // distance of both borders from the point, √(h²+y²)
	low, high  float64 // what both borders weigh
}

func (k *kernel) factor(y0, y1 float64) factor {
	f := factor{y0: y0, y1: y1}
	if k.orientation == squareAcross && k.side < 0 {
		f.y0, f.y1 = -y1, -y0
	}
	f.fall, f.rise = math.Sqrt(k.h*k.h+f.y0*f.y0), math.Sqrt(k.h*k.h+f.y1*f.y1)
	if k.orientation == parallel {
		f.low, f.high = f.y0/f.fall, f.y1/f.rise
	} else {
		f.low, f.high = k.h/f.fall, k.h/f.rise
	}
	return f
}

// edge returns what a block's factor takes from each of its two ends, at x from the point's foot: see block.
func (k *kernel) edge(f *factor, x float64) float64 {
	if k.orientation == squareAcross || k.orientation == allRound {
		return 0
	}
	a := math.Sqrt(x*x + k.h*k.h)
	if k.orientation == parallel {
		return x / a * angle(f.y0, f.y1, a)
	}
	return -k.side * k.h / a * angle(f.y0, f.y1, a)
}

// block returns 2π times the configuration factor of a block of a band from x0 to x1; ends is the difference
// of what both edges give, y0 and y1 are the band's borders, all from the point's foot (Howell, differential
// element to parallel and to perpendicular rectangle):
//
//	parallel         Δ[ x/√(x²+h²) Δatan(y/√(x²+h²)) ] + Δ[ y/√(y²+h²) Δatan(x/√(y²+h²)) ]
//	normal across    -Δ[ h/√(h²+y²) Δatan(x/√(h²+y²)) ],  for y > 0
//	normal along     -Δ[ h/√(h²+x²) Δatan(y/√(h²+x²)) ],  for x > 0
func (k *kernel) block(f *factor, x0, x1, ends float64) float64 {
	switch k.orientation {
	case parallel:
		return ends + f.high*angle(x0, x1, f.rise) - f.low*angle(x0, x1, f.fall)
	case squareAcross:
		return f.low*angle(x0, x1, f.fall) - f.high*angle(x0, x1, f.rise)
	case allRound:
		const short = 0.5
		return k.integral(x0, x1, f.y0, f.y1, short).flux
	case squareAlong, askew:
	}
	return ends
}

// integral returns the integral of the density over a block, and its first moments from the point's foot, by
// Gauss's rule of three points along each side, in halves until each part is short beside its distance. At
// half of that the rule errs by 5e-4 at most, as the sixth power of the ratio.
func (k *kernel) integral(x0, x1, y0, y1, short float64) (sum moments) {
	dx, dy := max(x0, -x1, 0), max(y0, -y1, 0)
	length, width := x1-x0, y1-y0
	x, y := (x0+x1)/2, (y0+y1)/2
	switch h := max(k.h, nearCylinder); {
	case max(length, width) <= short*math.Sqrt(dx*dx+dy*dy+h*h)+rounding:
	case length > width:
		return k.integral(x0, x, y0, y1, short).plus(1, k.integral(x, x1, y0, y1, short))
	default:
		return k.integral(x0, x1, y0, y, short).plus(1, k.integral(x0, x1, y, y1, short))
	}
	nodes := [3][2]float64{{-gauss, 5.0 / 18}, {0, 8.0 / 18}, {gauss, 5.0 / 18}} // places and weights
	for _, u := range nodes {
		for _, v := range nodes {
			at := moments{1, x + u[0]*length, y + v[0]*width}
			sum = sum.plus(u[1]*v[1]*length*width*k.density(at.x, at.y), at)
		}
	}
	return sum
}

// gauss is how far the outer of three Gaussian points is from a side's middle, as a part of it: √(3/5)/2.
const gauss = 0.38729833462074168852

// slopes returns how the density rises over a block with a factor, along and across: as a line fitted to it by
// least squares, which is what its first moments say where a patch fills much of the view,
//
//	∂f/∂x = 12/(A Δx²) ∫ (x - x̄) f dA,   ∫ x̄ f dA = x̄ F
//
// or further away as the difference between Gaussian points.
func (k *kernel) slopes(x0, x1, y0, y1, factor float64) (alongIt, across float64) {
	length, width := x1-x0, y1-y0
	x, y := (x0+x1)/2, (y0+y1)/2
	nearX, nearY := max(x0, -x1, 0), max(y0, -y1, 0)
	if longest := max(length, width); longest*longest > nearX*nearX+nearY*nearY+k.h*k.h+rounding {
		m, scale := k.integral(x0, x1, y0, y1, 1), 12/(length*width)
		return scale * (m.x - x*factor) / (length * length), scale * (m.y - y*factor) / (width * width)
	}
	dx, dy := gauss*length, gauss*width
	return (k.density(x+dx, y) - k.density(x-dx, y)) / (2 * dx), (k.density(x, y+dy) - k.density(x, y-dy)) / (2 * dy)
}

// density returns 2π times the configuration factor per area, 1/m², of a place from the point's foot:
//
//	2 cos ε h / r³,   r² = x² + y² + h²,  ε its angle to the point's normal
func (k *kernel) density(x, y float64) float64 {
	square := x*x + y*y + k.h*k.h
	if k.orientation == allRound {
		return 2 * k.h * k.plan(x, y) / math.Pi / (square * square)
	}
	return 2 * k.h * max(0, k.ahead*x+k.across*y+k.towards*k.h) / (square * square)
}

// plan returns how far a place from the point's foot is from the point in plan, m.
func (k *kernel) plan(x, y float64) float64 {
	if k.level {
		return math.Sqrt(x*x + y*y)
	}
	if k.upAlong {
		x = y
	}
	return math.Sqrt(x*x + k.h*k.h)
}

// askew returns the same where the point's normal runs askew to all sides of the block: by its corners.
func (l *gatherer) askew(s *surface, k *kernel, b *band, x0, x1 float64) float64 {
	x, y := along(l.p, s.along), along(l.p, s.across)
	corners := [4]room.Vec{
		s.corner(x+x0, y+b.y0),
		s.corner(x+x1, y+b.y0),
		s.corner(x+x1, y+b.y1),
		s.corner(x+x0, y+b.y1),
	}
	eye := s.corner(x, y).Add(s.face.inward().Scale(k.h))
	return 2 * math.Pi * configuration(&corners, eye, l.normal)
}

// square1 tells whether a direction cosine is that of an axis, but for rounding.
func square1(cosine float64) bool { return math.Abs(cosine) > 1-1e-13 }

// angle returns atan(to/r) - atan(from/r), by the arctangent's series where that is short: what it leaves out
// is below 4e-12.
func angle(from, to, r float64) float64 {
	y, x := (to-from)*r, r*r+from*to
	if y > longestArc*x {
		return math.Atan2(y, x)
	}
	q := y / x
	w := q * q
	if w < 0.01 {
		return q * (1 - w*(1.0/3-w*(1.0/5-w*(1.0/7-w*(1.0/9-w/11)))))
	}
	low := 1.0/3 - w*(1.0/5-w*(1.0/7-w*(1.0/9-w*(1.0/11))))
	high := 1.0/13 - w*(1.0/15-w*(1.0/17-w*(1.0/19-w*(1.0/21-w*(1.0/23)))))
	w5 := w * w * w * w * w
	return q * (1 - w*(low-w5*high))
}

const longestArc = 0.4
