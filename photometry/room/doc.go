// Package room holds the geometry of a job: the room, the racks in it, where the luminaires hang, and the grids of points on
// which light is asked for. It knows no light.
//
// Frame: the origin is one corner of the floor, x runs along the room's length, y along its width, z up from the floor, m.
// Angles in plan are counter-clockwise from +x seen from above, rad.
package room
