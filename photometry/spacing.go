package photometry

import "math"

// SpacingCriterion returns the largest ratio of spacing to mounting height above the work plane at which the point midway
// between two luminaires, lined up in the given plane (rad), still gets as much direct light from both as a point under one
// luminaire gets from that one alone:
//
//	I(γ) cos³γ = I(0) / 2,  criterion = 2 tan γ,  I(γ) the mean of the plane and of the plane opposite
//
// The largest γ that solves it counts, so that a hollow under the luminaire does not. ok is false where there is no such
// angle: no light straight down. Source: IES handbook, lighting calculations, from memory, unverified as text; the definition in
// words: ANSI/IES LS-1.
func (d *Distribution) SpacingCriterion(plane float64) (criterion float64, ok bool) {
	nadir := (d.Intensity(plane, 0) + d.Intensity(plane+math.Pi, 0)) / 2
	if nadir <= 0 {
		return 0, false
	}
	excess := func(g float64) float64 {
		c := math.Cos(g)
		return (d.Intensity(plane, g)+d.Intensity(plane+math.Pi, g))/2*c*c*c - nadir/2
	}
	const step = math.Pi / 1800 // 0.1 degree, finer than any table
	for i := 899; i >= 0; i-- {
		low := float64(i) * step
		if excess(low) < 0 {
			continue
		}
		high := low + step
		for range 60 { // bisection, to the last bit
			if middle := (low + high) / 2; excess(middle) >= 0 {
				low = middle
			} else {
				high = middle
			}
		}
		return 2 * math.Tan(low), true
	}
	return 0, false
}
