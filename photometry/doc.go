// Package photometry holds the light of one luminaire: the intensity in every direction, the flux that follows from it, and
// how far apart such luminaires may hang.
//
//	Φ = ∫∫ I(C, γ) sin γ dγ dC        flux, lm, of the intensity I, cd
//	η = Φ / Φ lamps                   efficiency of the luminaire
//	I(γ) cos³γ = I(0) / 2             spacing criterion 2 tan γ
//
// Frame (ANSI/IES LM-63, type C coordinates): the vertical angle γ runs from nadir (0) to zenith (π); the horizontal angle C
// is 0 along the lamps and π/2 across them, counter-clockwise seen from above.
//
// Sources: the flux is the definition of luminous intensity, its integral over the table our derivation (FluxBetween). The
// spacing criterion: ANSI/IES LS-1 for the words, IES handbook from memory, unverified, for the formula. Conversions are exact.
//
// Assumptions: the intensity is far-field: a luminaire is one point that sends it all, or several points along its opening that
// share it (package direct). Between the tabulated directions it is linear in both angles.
//
// Limits: a table tells nothing of the directions outside its angles, where the intensity is taken as 0. There is no colour
// here, and no luminance.
//
// Units are SI throughout: cd, lm, lx, m, rad. What is not says so in its name (AnglesDeg).
//
// # The rooms of the library
//
// lm63 reads a Luminaire from a photometric file, fixture computes one from a cross-section. cavity answers with the average of
// a room (lumen method), direct and interreflect with the light at every point of a grid of package room. losses and levels say
// what time leaves of it and what is asked; catalog, codes and utility are tables; survey says where to measure, metrology what a
// reading proves. job reads a job file, lighting finds the light of its systems, and study works it out; uncertainty, options and
// verification ask further. The examples Example_coefficientOfUtilization, Example_pointGrid and Example_lightDistribution show the
// shortest ways.
package photometry
