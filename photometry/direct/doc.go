// Package direct finds the light that comes straight from the luminaires, point by point.
//
//	E = Σ I(C, γ) cos ε / d²    over the pieces of every luminous opening that the point sees
//
// I is the intensity of a piece towards the point, cd, which is the luminaire's shared out by area; C is the
// azimuth of the point seen from the piece less the luminaire's rotation, γ its angle from nadir, ε its angle
// to the normal of the lit side, d its distance, m. Light from behind the normal counts nothing: an opening
// that the surface's plane cuts is cut there.
//
// Source: inverse-square and cosine law; the five-times rule (a source may be taken as a point from five
// times its largest dimension) is common practice. Pieces are the nodes of a Gauss-Legendre rule along,
// across and down the opening, as many as equal pieces of a fifth of the distance would be, and at least two
// from a twentieth on; the number is doubled until the result stands within 0.1 percent. A rack hides by its
// exact outline: what it leaves visible of each line of the opening is integrated by itself. Light that
// crosses racks is multiplied by the transmittance of each. Means over patches (Prepared.Means) are fluxes,
// from the distribution's summed-area table: no light is lost however near a luminaire is. Among racks
// (TileIntegrator) a patch is cut into cells, each of which counts as far as it is lit along its row.
//
// Assumptions: the far-field intensity holds for every piece; an opening with a height glows throughout its
// volume; luminaires do not shade each other.
//
// A luminaire whose opening would reach through a surface of the room (Scene.Room), as one does that is
// mounted at the height of its ceiling, lies as far inside as that takes; what it sends to that surface falls
// there at once.
//
// Limits: the light that bounces is not here (package interreflect). Near a luminaire, below about its own
// size, the far-field intensity is a poor guide to where its light leaves. The smallest step of the
// subdivision is bounded: a piece is never nearer than the radius of the disc that has its area, and a piece
// that coincides with the point gives nothing, so that the result is always finite.
package direct
