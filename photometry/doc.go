// Package photometry holds the light of one luminaire: the intensity in every direction, the flux that follows from it, and
// how far apart such luminaires may hang.
//
// Frame (ANSI/IES LM-63, type C coordinates): the vertical angle γ runs from nadir (0) to zenith (π); the horizontal angle C
// is 0 along the lamps and π/2 across them, counter-clockwise seen from above.
//
//	Φ = ∫∫ I(C, γ) sin γ dγ dC
//
// Units are SI throughout: cd, lm, lx, m, rad. What is not says so in its name (AnglesDeg). The intensity is far-field: a
// luminaire is one point that sends it all, or several points along its opening that share it.
package photometry
