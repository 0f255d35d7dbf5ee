package room

import "math"

// A Vec is a point or a direction in the room's frame, m.
type Vec struct{ X, Y, Z float64 }

// Add returns a + b.
func (a Vec) Add(b Vec) Vec { return Vec{a.X + b.X, a.Y + b.Y, a.Z + b.Z} }

// Sub returns a - b.
func (a Vec) Sub(b Vec) Vec { return Vec{a.X - b.X, a.Y - b.Y, a.Z - b.Z} }

// Scale returns a times the factor.
func (a Vec) Scale(factor float64) Vec { return Vec{a.X * factor, a.Y * factor, a.Z * factor} }

// Dot returns the scalar product of a and b.
func (a Vec) Dot(b Vec) float64 { return a.X*b.X + a.Y*b.Y + a.Z*b.Z }

// Length returns the length of a.
func (a Vec) Length() float64 { return math.Sqrt(a.Dot(a)) }
