package photometry

// A Shape is the outline of a luminous opening, seen along its vertical axis.
type Shape int

// The outlines that the methods tell apart. A point has no extent.
const (
	Rectangular Shape = iota
	Elliptic
)

// An Opening is the luminous opening of a luminaire, m: Length along the 0-degree plane (along the lamps of a linear
// luminaire), Width along the 90-degree plane, Height of its luminous sides. All three 0 is a point.
type Opening struct {
	Shape                 Shape
	Length, Width, Height float64
}

// A Luminaire is what a photometric file or a cross-section tells of a luminaire: its intensity with lamps that give
// LampLumens in all, at ballast factor 1.
type Luminaire struct {
	Distribution *Distribution
	Opening      Opening
	LampLumens   float64 // lm, all lamps together; with Absolute it is the luminaire's own flux
	Absolute     bool    // measured as a whole: the lamps' own lumens are not known and do not matter
}

// Efficiency returns the share of the lamps' lumens that leaves the luminaire; 1 for absolute photometry. It is no finite number
// where the photometry is relative and LampLumens is 0.
func (l Luminaire) Efficiency() float64 {
	if l.Absolute {
		return 1
	}
	return l.Distribution.Flux() / l.LampLumens
}
