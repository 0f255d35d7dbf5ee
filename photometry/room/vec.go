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

// Dot returns the scalar product of a and b, m² for two lengths.
func (a Vec) Dot(b Vec) float64 { return a.X*b.X + a.Y*b.Y + a.Z*b.Z }

// Length returns the length of a, m.
func (a Vec) Length() float64 { return math.Sqrt(a.Dot(a)) }

// Snap returns a length as a whole number of nanometres, m. Lengths that are equal on paper, one read and
// another the sum of several, or each from feet, are then equal: a grid on the face of a rack lies on it, not
// a rounding inside.
func Snap(x float64) float64 { return math.Round(x*nanometres) / nanometres }

const nanometres = 1e9 // in a metre

// Snap returns a with its coordinates snapped to whole nanometres.
func (a Vec) Snap() Vec { return Vec{Snap(a.X), Snap(a.Y), Snap(a.Z)} }
