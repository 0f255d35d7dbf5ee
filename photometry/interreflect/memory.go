package interreflect

import "lampswap/photometry/room"

// Bytes returns about how much memory an enclosure of the room and its racks takes, so that several can share
// what there is. It is an estimate: racks that let light through make rays see more than one surface.
func Bytes(r room.Room, racks []room.Rack, options Options) int64 {
	e, patches := sized(r, racks, options)
	const each = 20 * 8 // of a patch: area, light, what leaves it, the trees of surfaces
	total := each * patches
	switch {
	case len(e.racks) == 0:
		return total + e.spectraBytes()
	case e.seesThrough():
		const surfaces = 2 // that a ray meets first among those of its bundle, typical
		return total + patches*(int64(e.options.Rays)*surfaces*bytesOfFactor+bytesOfBundle)
	}
	return total + 4*patches*int64(e.options.Rays)
}

// Seconds returns about how long a processor takes to find whom the patches of a room and its racks see and
// their light from two systems that hang alike: an estimate from a slow virtual one, right to a factor of two
// or so.
func Seconds(r room.Room, racks []room.Rack, options Options) float64 {
	const (
		perPatch      = 1e-5 // in an empty room
		perRay        = 1e-7
		perRack       = 2e-8 // and one that a ray goes on through
		perShaded     = 5e-5 // light of the luminaires on a patch among racks
		perSeeThrough = 1e-4 // and where they can be seen through
	)
	e, patches := sized(r, racks, options)
	switch rays := float64(patches) * float64(e.options.Rays); {
	case len(e.racks) == 0:
		return perPatch * float64(patches)
	case e.seesThrough():
		return (perRay+perRack*float64(len(e.racks)))*rays + perSeeThrough*float64(patches)
	default:
		return perRay*rays + perShaded*float64(patches)
	}
}

// sized lays the borders of the patches and counts them.
func sized(r room.Room, racks []room.Rack, options Options) (e *Enclosure, patches int64) {
	e = newEnclosure(r, racks, options)
	for i := range e.faces {
		patches += int64(e.faces[i].columns()) * int64(e.faces[i].rows())
	}
	return e, patches
}
