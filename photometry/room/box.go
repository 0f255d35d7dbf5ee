package room

import "math"

// A Box is a solid with its sides along the axes, between its lowest and its highest corner, m.
type Box struct{ Low, High Vec }

// Grown returns the box with every side moved outwards, by as much in m along each axis.
func (b Box) Grown(by Vec) Box { return Box{b.Low.Sub(by), b.High.Add(by)} }

// Meets tells whether two boxes have more than their faces in common.
func (b Box) Meets(o Box) bool {
	return b.Low.X < o.High.X && b.High.X > o.Low.X && b.Low.Y < o.High.Y && b.High.Y > o.Low.Y &&
		b.Low.Z < o.High.Z && b.High.Z > o.Low.Z
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
	furthest := math.Max(b.Low.X*normal.X, b.High.X*normal.X) + math.Max(b.Low.Y*normal.Y, b.High.Y*normal.Y) +
		math.Max(b.Low.Z*normal.Z, b.High.Z*normal.Z)
	return furthest > p.Dot(normal)+1e-9
}

// SquareDistance returns the square of the distance from a point to the box, m²; 0 inside it.
func (b Box) SquareDistance(p Vec) float64 { return b.SquareGap(Box{p, p}) }

// SquareGap returns the square of the distance between two boxes, m²; 0 where they meet.
func (b Box) SquareGap(o Box) float64 {
	x := max(b.Low.X-o.High.X, o.Low.X-b.High.X, 0)
	y := max(b.Low.Y-o.High.Y, o.Low.Y-b.High.Y, 0)
	z := max(b.Low.Z-o.High.Z, o.Low.Z-b.High.Z, 0)
	return x*x + y*y + z*z
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
