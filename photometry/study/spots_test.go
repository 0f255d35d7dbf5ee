package study_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry/job"
	"lampswap/photometry/room"
	"lampswap/photometry/study"
)

// A spot at a point of a grid has the light of that point, whichever way it faces, and the result is that of Run.
func TestSpotsAreGridPoints(t *testing.T) {
	const face = "[[grids]]\nname = \"face\"\nfrom = [4.0, 3.0]\nto = [8.0, 3.0]\nheights = [0.5, 2.0]\nfacing = 90.0\nspacing = 1.0\n"
	plain := run(t, upkeep, face+upkeep, "interreflection = false", "interreflection = true")
	var spots []study.Spot
	var want []float64
	for _, g := range plain.Proposed().Grids {
		for _, at := range [][2]int{{0, 0}, {1, 1}, {3, 1}} {
			spots = append(spots, study.Spot{Position: g.Point(at[0], at[1]), Normal: g.Normal})
			i := at[1]*g.NX + at[0]
			want = append(want, g.Direct[i]+g.Interreflected[i])
		}
	}
	r, light, err := study.RunAt(t.Context(), plain.Job, spots, nil)
	require.NoError(t, err)
	require.Len(t, light, 2)
	for i, w := range want {
		assert.InEpsilon(t, w, light[1][i], 0.002, "%v: fast and plain paths agree within 0.2 percent", spots[i])
	}
	assert.Len(t, r.Proposed().Grids, len(plain.Proposed().Grids))
	assert.Equal(t, plain.Proposed().Grids[1].Statistics, r.Proposed().Grids[1].Statistics)
	inside, light, err := study.RunAt(t.Context(), withRack(t), []study.Spot{{Position: room.Vec{X: 5, Y: 5, Z: 1}, Normal: room.Vec{Z: 1}}}, nil)
	require.NoError(t, err)
	assert.NotNil(t, inside)
	assert.True(t, math.IsNaN(light[0][0]), "inside a rack")
}

func withRack(t *testing.T) *job.Job {
	t.Helper()
	return run(t, upkeep, "[[racks]]\ncorner = [4.0, 4.0]\nsize = [4.0, 2.0, 2.0]\nreflectance = 0.3\n"+upkeep).Job
}
