package uncertainty_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lampswap/photometry/internal/bay"
	"lampswap/photometry/study"
	"lampswap/photometry/uncertainty"
)

// coarse has light bounce in the bay, and fewer points.
var coarse = append([]string{"spacing = 0.5", "spacing = 2.0"}, bounced[:2]...)

// Groups of the same luminaires are off by the same, as one group of them is.
func TestUncertaintyOfGroupsOfOneKind(t *testing.T) {
	const doubts = "lamp_lumens = 5\nluminaire_dirt = 40\nroom_surface_dirt = 40\nmounting_height = 0.3\nphotometry = 2\n"
	same := append(bay.InHalves(`proposed = "b"`, `proposed = "a"`, `proposed = "c"`, `proposed = "a"`), coarse...)
	one, two := doubtful(t, doubts, coarse...).Uncertainty, doubtful(t, doubts, same...).Uncertainty
	for i := range one.Sides {
		for k, pair := range [][2]uncertainty.Interval{{one.Sides[i].Average, two.Sides[i].Average}, {one.Sides[i].Minimum, two.Sides[i].Minimum}} {
			assert.InEpsilon(t, pair[0].Predicted, pair[1].Predicted, 1e-6, "single precision")
			assert.InEpsilon(t, pair[0].Low, pair[1].Low, 1e-4, "%d %d", i, k)
			assert.InEpsilon(t, pair[0].High, pair[1].High, 1e-4, "%d %d", i, k)
		}
	}
	require.Len(t, two.Inputs, len(one.Inputs))
	for i, e := range one.Inputs {
		assert.Equal(t, e.Input, two.Inputs[i].Input)
		assert.InDelta(t, e.Share, two.Inputs[i].Share, 1e-3)
	}
	assert.InDelta(t, 0, width(*two.Sides[1].Change), 1e-9, "all is shared")
}

// By hand: kinds whose lumens are off independently of each other make less of it together than one kind does; their variances add up.
func TestUncertaintyOfGroupsOfTwoKinds(t *testing.T) {
	r := doubtful(t, "lamp_lumens_standard = 4\n", bay.InHalves()...)
	u := r.Uncertainty
	whole, squares := 0.0, 0.0
	for _, part := range r.Proposed().Parts {
		x := part.Grids[0].Statistics.Average
		whole, squares = whole+x, squares+0.04*0.04*x*x
	}
	assert.InEpsilon(t, whole, u.Sides[1].Average.Predicted, rounding)
	assert.InEpsilon(t, math.Sqrt(squares), u.Sides[1].Average.StandardDeviation, 0.03, "10,000 samples: 0.7 percent is one standard error")
	assert.InEpsilon(t, 0.04*u.Sides[0].Average.Predicted, u.Sides[0].Average.StandardDeviation, 0.03, "one kind before the swap")
	require.Len(t, u.Inputs, 3)
	var names []string
	for _, e := range u.Inputs {
		names = append(names, e.Name())
	}
	assert.ElementsMatch(t, []string{"lamp lumens", "lamp lumens, proposed, west", "lamp lumens, proposed, east"}, names, "shared by both groups before the swap")
	assert.InDelta(t, 1, u.Inputs[0].Share+u.Inputs[1].Share+u.Inputs[2].Share, 1e-9)
	assert.Less(t, u.Sides[1].Minimum.Low, u.Sides[1].Minimum.Predicted)

	dark := doubtful(t, "lamp_lumens_standard = 4\n", append(bay.InHalves(), "existing = \"a\"\nproposed = \"c\"", "existing = \"a\"\nproposed = \"c\"\nfailed = [1, 5]\ndimmed_to = 0.5")...)
	assert.InEpsilon(t, 0.04*dark.Existing().Grids[0].Statistics.Average, dark.Uncertainty.Sides[0].Average.StandardDeviation, 0.03, "as found")
	assert.Less(t, dark.Existing().Grids[0].Statistics.Average, r.Existing().Grids[0].Statistics.Average)
}

// What moves reflectances and heights of groups agrees with what the study finds of the room as it then is.
func TestGeometryOfGroups(t *testing.T) {
	of := func(r *study.Result) float64 { return r.Proposed().Grids[0].Statistics.Average }
	as := of(run(t, bay.InHalves(coarse...)...))
	r := doubtful(t, "reflectance = { ceiling = 0.1, walls = 0.1, floor = 0.1 }\n", bay.InHalves(coarse...)...)
	for _, e := range r.Uncertainty.Inputs {
		off := [4]float64{}
		switch e.Name() {
		case "ceiling reflectance":
			off[0] = 0.1
		case "wall reflectance":
			off[1] = 0.1
		case "floor reflectance":
			off[2] = 0.1
		}
		got := of(run(t, append(bay.InHalves(coarse...), repainted(off)...)...))
		assert.InDelta(t, got/as-1, e.High, 1e-3, e.Name())
	}
	require.Len(t, r.Uncertainty.Inputs, 3)
}

// The least and the greatest sum are those of all points, whatever points are left out.
func TestExtremesAreThoseOfAllPoints(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		points, samples, kinds := rapid.IntRange(1, 40).Draw(rt, "points"), rapid.IntRange(1, 20).Draw(rt, "samples"), rapid.IntRange(2, 4).Draw(rt, "kinds")
		values := func(name string, n int, low float64) [][]float64 {
			all := make([][]float64, kinds)
			for i := range all {
				all[i] = rapid.SliceOfN(rapid.Float64Range(low, 2), n, n).Draw(rt, name)
			}
			return all
		}
		parts, light := values("parts", points, 0), values("light", samples, 0)
		if points > 1 {
			for i := range parts {
				parts[i][0] = math.NaN() // inside a rack
			}
		}
		for k := range samples {
			least, most := math.Inf(1), math.Inf(-1)
			for p := range points {
				sum := 0.0
				for i := range parts {
					sum += parts[i][p] * light[i][k]
				}
				if !math.IsNaN(sum) {
					least, most = min(least, sum), max(most, sum)
				}
			}
			require.InDelta(rt, least, uncertainty.Extreme(parts, light, false, k), 1e-12)
			require.InDelta(rt, most, uncertainty.Extreme(parts, light, true, k), 1e-12)
		}
	})
}
