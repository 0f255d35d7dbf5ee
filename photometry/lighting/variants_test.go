package lighting_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"lampswap/photometry/interreflect"
	"lampswap/photometry/lighting"
	"lampswap/photometry/room"
)

// The light of each variant is that of a job that is so: where no light bounces, among racks, in an L.
func TestVariantsAreJobsOfTheirOwn(t *testing.T) {
	const rack = "[[racks]]\ncorner = [2.0, 2.0]\nsize = [4.0, 2.0, 2.0]\nreflectance = 0.3\n"
	for _, pairs := range [][]string{
		{},
		{still, bounces, upkeep, rack + wayOut + upkeep},
		{still, bounces, "length = 24.0\nwidth = 12.0", "outline = [[0, 0], [24, 0], [24, 11], [23, 11], [23, 12], [0, 12]]"},
	} {
		j := run(t, pairs...).Job
		space, err := lighting.NewSpace(t.Context(), j, interreflect.Options{})
		require.NoError(t, err)
		as := j.Room.Reflectance
		variants := []lighting.Variant{
			{Reflectance: as},
			{Reflectance: as, Raised: -0.3},
			{Reflectance: room.Reflectances{Ceiling: 0.6, Walls: 0.2, Floor: as.Floor}},
			{Reflectance: room.Reflectances{Ceiling: as.Ceiling, Walls: as.Walls, Floor: 0.4}, Raised: 0.1},
		}
		for v, space := range space.Variants(variants) {
			other, system := *j, *j.Existing.Kinds()[0]
			other.Room.Reflectance = variants[v].Reflectance
			got, balance, err := space.Grids(t.Context(), &system, 1)
			require.NoError(t, err)
			system.Layout.Placements = append([]room.Placement(nil), system.Layout.Placements...)
			for i := range system.Layout.Placements {
				system.Layout.Placements[i].Position.Z += variants[v].Raised
			}
			alone, err := lighting.NewSpace(t.Context(), &other, interreflect.Options{})
			require.NoError(t, err)
			want, account, err := alone.Grids(t.Context(), &system, 1)
			require.NoError(t, err)
			require.Len(t, got, len(want))
			for g := range want {
				for i, light := range want[g].Maintained {
					if !math.IsNaN(light) { // in the rack
						require.InEpsilon(t, light, got[g].Maintained[i], 1e-9, "%v, variant %d, %s", pairs, v, want[g].Name)
					}
				}
			}
			if account != nil {
				require.InEpsilon(t, account.Absorbed, balance.Absorbed, 1e-9)
			}
		}
	}
}
