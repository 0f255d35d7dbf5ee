package lighting_test

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry"
	"lampswap/photometry/interreflect"
	"lampswap/photometry/lighting"
)

// shaped is an L of 4,160 ft2 within walls of 304 ft, with a mezzanine in its upper arm and what more is
// given.
func shaped(layout, more string) pinned {
	text := pinnedText("imperial", 80, 72, 14, 2.5, 4, layout, more)
	text = strings.Replace(
		text, "height = 14\n", "height = 14\noutline = [[0, 0], [80, 0], [80, 32], [40, 32], [40, 72], [0, 72]]\n",
		1,
	)
	return pinned{
		"L", text + "[[racks]]\ncorner = [0, 52]\nsize = [40, 20, 1]\nbottom = 8.0\nreflectance = 0.6\n",
	}
}

// In an L area, perimeter and cavity ratios are those of its plan, points outside are none, and all that is
// emitted is absorbed: by luminaires at inner walls and through them, in the inner corner, at the underside
// of a mezzanine, on it and across its edge.
func TestLightInAnL(t *testing.T) {
	j := read(
		t,
		shaped(
			"mounting_height = 12.8\npositions = [[20, 16], [60, 16, 90], [60, 31.9], [39.9, 50], [40, 32], [38, "+
				"34, 45], [20, 60, 0, 8.0], [20, 68, 90, 7.1], [10, 62, 0, 9.0], [20, 49, 90, 8.5], [1, 71, 0, 14.0]]",
			"",
		),
	)
	assert.Empty(t, j.Existing.Use.Failed)
	space, err := lighting.NewSpace(t.Context(), j, interreflect.Options{})
	require.NoError(t, err)
	s, err := space.Solve(t.Context(), &j.Existing)
	require.NoError(t, err)
	assert.InDelta(t, 0, s.Balance.Imbalance(), 1e-3)
	assert.InEpsilon(t, s.Balance.Emitted, s.Balance.Arrived, 1e-2)
	area := 4160 * photometry.Foot * photometry.Foot
	assert.InEpsilon(t, area, j.Room.Area(), 1e-9)
	assert.InEpsilon(t, 11*j.Existing.InputWatts/area, s.PowerDensity, 1e-9)
	height := j.Existing.Layout.MountingHeight / photometry.Foot
	assert.InEpsilon(t, 2.5*(height-2.5)*304/4160, s.LumenMethod.RoomCavityRatio, 1e-9)
	assert.InEpsilon(t, 2.5*(14-height)*304/4160, s.LumenMethod.CeilingCavityRatio, 1e-9)
	assert.InEpsilon(t, 2.5*2.5*304/4160, s.LumenMethod.FloorCavityRatio, 1e-9)
	g, points := s.Grids[0], 0
	require.Equal(t, []int{20, 18}, []int{g.NX, g.NY})
	for i, x := range g.Maintained {
		require.Equal(t, !j.Room.Holds(g.Point(i%g.NX, i/g.NX)), math.IsNaN(x), "point %d", i)
		if !math.IsNaN(x) {
			points++
		}
	}
	assert.Equal(t, 4160/16, points)
	t.Logf(
		"balance %+.3f percent, %.2f percent found on the surfaces", 100*s.Balance.Imbalance(),
		100*s.Balance.Arrived/s.Balance.Emitted,
	)
}

// A cache keeps rooms apart that differ in their outline alone, or in how high a box hangs.
func TestCacheKnowsShapes(t *testing.T) {
	cache := lighting.NewCache(64 << 20)
	layout := "mounting_height = 12.8\npositions = [[20, 16]]"
	texts := []string{shaped(layout, "").text}
	texts = append(
		texts, strings.Replace(texts[0], "[40, 32], [40, 72]", "[44, 32], [44, 72]", 1),
		strings.Replace(texts[0], "bottom = 8.0", "bottom = 7.5", 1),
	)
	var averages []float64
	for _, text := range texts {
		j := read(t, pinned{"shape", text})
		s, err := cache.Space(j).Solve(t.Context(), &j.Existing)
		require.NoError(t, err)
		assert.NotContains(t, averages, s.Grids[0].Statistics.Average)
		averages = append(averages, s.Grids[0].Statistics.Average)
	}
}
