// Package room holds the geometry of a job: the room, the racks in it, where the luminaires hang, and the
// grids of points on which light is asked for. It knows no light.
//
//	x_i = (i + ½) L / n                 luminaires, and cells of a grid: even, half a spacing from the ends
//	n   = ⌈L / spacing⌉                 cells of a grid along the length L
//	average, minimum, maximum, average/minimum, maximum/minimum, σ/average
//	                                    over the points of a grid that are not NaN
//
// Source: our derivation; the words for the ratios are those of the trade.
//
// Frame: the origin is one corner of the floor, x runs along the room's length, y along its width, z up from
// the floor, m. Angles in plan are counter-clockwise from +x seen from above, rad.
//
// Assumptions: the room is a box, or what a rectilinear outline holds of one; each rack is a box, with sides
// along x and y, that stands on the floor or hangs. What of the box lies outside the outline is filled with
// blocks of full height (Room.Outside), which to light are racks with the walls' reflectance. A grid counts
// every point alike, and its points are the middles of its cells.
//
// Limits: no sloped ceiling, no turned rack; an outline has no hole, for which a rack of full height stands.
// Nothing is checked here but the facing of a vertical grid: lengths are to be finite and above 0. NaN among
// the values of a grid means one thing: no point here, as inside a rack.
package room
