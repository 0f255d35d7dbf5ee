// Package interreflect finds the light that reaches a point by way of diffuse surfaces: floor, walls, ceiling
// and the faces of racks.
//
//	E = D + F ρ E        on the patches; D direct, E total, ρ reflectance, F the form factors
//	e = Σ C ρ E          at a point; C the configuration factors, e the interreflected illuminance
//
// That is the radiosity equation, solved by its Neumann series, a bounce a term, and final gathering at
// points.
//
// An empty room has exact factors between rectangles, in closed form (Howell, A Catalog of Radiation Heat
// Transfer Configuration Factors, parallel and perpendicular rectangles; our derivation as differences of one
// antiderivative), that depend on offsets only: a bounce is a convolution. With racks form factors are
// sampled by cosine-distributed rays, laid out by a fixed rule and traced from cell to cell of the racks'
// plan. A point, with racks or without, takes every surface in bands, cuts them where the shadows of racks
// end, and gives what is left, by blocks of a summed-area table of exitance and its first moments, its exact
// factors; points of a grid between which nothing happens are interpolated. Bounces stop when one carries
// less than a given part of the first flux, and those that would follow are added as a geometric series.
//
// Assumptions: surfaces are diffuse, of one reflectance each, and the light of a patch is even over it, but
// for points near it. A rack that lets light through passes its transmittance and reflects its reflectance of
// the rest; volume that racks share counts once (room.Obstructions). Luminaires neither block nor reflect.
//
// Limits: among racks, what the direct light on the patches misses of the luminaires' flux is missing here
// too; Balance tells how much.
package interreflect
