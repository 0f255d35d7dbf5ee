package direct

import (
	"context"

	"lampswap/photometry/room"
)

// ShareBefore is the share of its light that a scene's first luminaire sends from before a plane.
func ShareBefore(s Scene, point, normal room.Vec) float64 {
	share := 0.0
	for _, part := range s.Prepare().kinds[0].lamps[0].front(nil, point, normal) {
		share += part.share
	}
	return share
}

// Means is the mean light of the cells of a grid by one scene.
func Means(ctx context.Context, s Scene, g room.Grid) ([]float64, error) {
	if len(s.Racks) > 0 {
		return s.Prepare().Tree().Integrator().Means(g, false, 1)[0], nil
	}
	values, err := s.Prepare().Means(ctx, g)
	if err != nil {
		return nil, err
	}
	return values[0], nil
}
