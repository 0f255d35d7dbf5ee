package glare

import "math"

// PositionIndex returns the position index of Guth, by a fit (from memory, unverified):
//
//	p = exp( (35.2 - 0.31889 α - 1.22 exp(-2α/9)) β/1000 + (21 + 0.26667 α - 0.002963 α²) β²/100000 )
//
// α, degrees, is the angle of the plane that holds the source and the line of sight from the vertical, β that between the source and the
// line of sight.
func PositionIndex(alpha, beta float64) float64 {
	return math.Exp((35.2-0.31889*alpha-1.22*math.Exp(-2*alpha/9))*beta/1000 + (21+0.26667*alpha-0.002963*alpha*alpha)*beta*beta/100_000)
}

const mostAlpha = 90 // degrees: beyond, below the line of sight, the fit falls under 1
