package interreflect

import "lampswap/photometry/room"

// Bytes returns about how much memory an enclosure of the room and its racks takes, so that several can share what there is. It is an
// estimate: racks that let light through make rays see more than one surface.
func Bytes(r room.Room, racks []room.Rack, options Options) int64 {
	e := newEnclosure(r, racks, options)
	patches := int64(0)
	for i := range e.faces {
		patches += int64(e.faces[i].columns()) * int64(e.faces[i].rows())
	}
	const each = 20 * 8 // of a patch: area, light, what leaves it, the trees of surfaces
	total := each * patches
	switch {
	case len(racks) == 0:
		return total + e.spectraBytes()
	case e.seesThrough():
		const surfaces = 2 // that a ray meets first among those of its eye, typical
		return total + patches*(int64(e.options.Rays)*surfaces*bytesOfSight+bytesOfEye)
	}
	return total + 4*patches*int64(e.options.Rays)
}
