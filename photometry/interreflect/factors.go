package interreflect

import (
	"math"

	"lampswap/photometry/room"
)

// facing is the antiderivative for two parallel rectangles at a distance h, by their offsets x and y:
//
//	π A F = ½ ΔxΔxΔyΔy [ x √(y²+h²) atan(x/√(y²+h²)) + y √(x²+h²) atan(y/√(x²+h²)) - h²/2 ln(x²+y²+h²) ]
//
// Source: Howell, parallel rectangles of any size and place.
func facing(x, y, h float64) float64 {
	p, q := math.Sqrt(y*y+h*h), math.Sqrt(x*x+h*h)
	return (x*p*math.Atan(x/p) + y*q*math.Atan(y/q) - h*h/2*math.Log(x*x+y*y+h*h)) / (2 * math.Pi)
}

// square is the antiderivative for two rectangles in perpendicular planes, by their offset s along the
// planes' common line and the distances y and z from it:
//
//	π A F = ΔsΔsΔyΔz [ (ρ²-s²)/8 ln(ρ²+s²) - ρ s/2 atan(s/ρ) ],  ρ² = y² + z²
//
// Source: our derivation: y z / q² is ∂²/∂y∂z of -¼ ln q, q = s² + y² + z², integrated twice over s; what
// does not depend on ρ cancels. It agrees with Howell, perpendicular rectangles.
func square(s, y, z float64) float64 {
	rho := y*y + z*z
	if rho == 0 {
		if s == 0 {
			return 0
		}
		return -s * s / 8 * math.Log(s*s) / math.Pi
	}
	r := math.Sqrt(rho)
	return ((rho-s*s)/8*math.Log(rho+s*s) - r*s/2*math.Atan(s/r)) / math.Pi
}

// configuration returns the configuration factor of a convex quadrangle seen from p on a surface with the
// unit normal: the illuminance it gives for one lm/m². What lies behind the surface is cut off.
//
//	C = 1/(2π) Σ β (n · Γ)
//
// over the edges; β the angle an edge subtends at p, Γ the unit normal of its plane with p.
//
// Source: Lambert, Photometria (1760); as usual for polygons.
func configuration(corners *[4]room.Vec, p, normal room.Vec) float64 {
	var seen [8]room.Vec
	n := 0
	last := corners[3].Sub(p)
	before := last.Dot(normal)
	for i := range corners { // clip by the point's own plane (Sutherland and Hodgman)
		here := corners[i].Sub(p)
		height := here.Dot(normal)
		if (before > 0) != (height > 0) {
			t := before / (before - height)
			seen[n] = last.Add(here.Sub(last).Scale(t))
			n++
		}
		if height > 0 {
			seen[n] = here
			n++
		}
		last, before = here, height
	}
	if n < 3 {
		return 0
	}
	sum := 0.0 // Lambert's formula, edge by edge
	a := seen[n-1]
	for i := range n {
		b := seen[i]
		cross := room.Vec{X: a.Y*b.Z - a.Z*b.Y, Y: a.Z*b.X - a.X*b.Z, Z: a.X*b.Y - a.Y*b.X}
		if size := cross.Length(); size > 0 {
			sum += math.Atan2(size, a.Dot(b)) * cross.Dot(normal) / size
		}
		a = b
	}
	return math.Abs(sum) / (2 * math.Pi)
}
