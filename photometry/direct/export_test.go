package direct

import "lampswap/photometry/room"

// ShareBefore is the share of its light that a scene's first luminaire sends from before a plane.
func ShareBefore(s Scene, point, normal room.Vec) float64 {
	share := 0.0
	for _, part := range s.Prepare().kinds[0].lamps[0].front(nil, point, normal) {
		share += part.share
	}
	return share
}
