package glare

import (
	"math"

	"lampswap/photometry"
	"lampswap/photometry/room"
)

// ProjectedArea returns the area of a luminous opening, m², as it is seen along a unit direction in the luminaire's frame: x along the lamps,
// y across them. An opening with a height is a box, or an upright cylinder, whose sides are seen too.
func ProjectedArea(o photometry.Opening, d room.Vec) float64 {
	if o.Shape == photometry.Elliptic {
		return math.Pi/4*o.Length*o.Width*math.Abs(d.Z) + o.Height*math.Hypot(o.Length*d.Y, o.Width*d.X)
	}
	return o.Length*o.Width*math.Abs(d.Z) + o.Height*(o.Length*math.Abs(d.Y)+o.Width*math.Abs(d.X))
}

// Luminance returns that of a luminaire as it is seen from a direction, cd/m²: its intensity there over its projected area. The azimuth is
// from the lamps' axis, the other angle from straight down, both rad. It is no number where the luminaire sends no light and has no extent.
func Luminance(l photometry.Luminaire, azimuth, vertical float64) float64 {
	sin, cos := math.Sincos(vertical)
	s, c := math.Sincos(azimuth)
	return l.Distribution.Intensity(azimuth, vertical) / ProjectedArea(l.Opening, room.Vec{X: sin * c, Y: sin * s, Z: -cos})
}

// OfTube returns the luminance of a bare lamp that shines alike all round, cd/m², seen square to its axis: Φ / (π² d l). At an angle θ from
// the axis a cylinder of even luminance L has the intensity L d l sin θ, and so it gives Φ = ∫ L d l sin θ 2π sin θ dθ = π² L d l.
func OfTube(lumens, diameter, length float64) float64 {
	return lumens / (math.Pi * math.Pi * diameter * length)
}
