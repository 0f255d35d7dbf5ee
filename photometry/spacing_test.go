package photometry_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry"
)

// Intensity cos^n: cos t = (1/2)^(1/(n+3)), criterion 2 tan t. The numbers are our reference sheet's (computed, not published), print;
// the table of 0.05 degree adds less (discretisation, below 1e-6).
func TestSpacingCriterionOfCosinePowers(t *testing.T) {
	for n, want := range []float64{1.53284, 1.28719, 1.13050, 1.01965, 0.93598} {
		got, ok := alike(t, steps(90, 1800), cosinePower(float64(n))).SpacingCriterion(0)
		require.True(t, ok)
		assert.InDelta(t, want, got, 0.5e-5+1e-6, "cos^%d", n)
		assert.InDelta(t, 2*math.Tan(math.Acos(math.Pow(0.5, 1/float64(n+3)))), got, 1e-6, "cos^%d", n)
	}
	// A usual table of 5 degrees: near enough for the one decimal that reports print.
	coarse, ok := alike(t, steps(90, 18), cosinePower(1)).SpacingCriterion(math.Pi / 2)
	require.True(t, ok)
	assert.InDelta(t, 1.287, coarse, 0.005)
}

// A batwing meets the condition more than once; the largest angle counts. Twin beams at 45 degrees give 4 cos³ 45° = 1.41 of the nadir there,
// so that the last crossing lies between 45 and 60 degrees, far beyond the first near 30.
func TestSpacingCriterionOfABatwing(t *testing.T) {
	d, err := photometry.NewDistribution([]float64{0}, []float64{0, 25, 35, 45, 60, 90}, [][]float64{{100, 50, 60, 400, 100, 0}})
	require.NoError(t, err)
	require.Less(t, d.Intensity(0, radians(30))*math.Pow(math.Cos(radians(30)), 3), 50.0, "a hollow")
	got, ok := d.SpacingCriterion(0)
	require.True(t, ok)
	g := math.Atan(got / 2)
	assert.InDelta(t, 50, d.Intensity(0, g)*math.Pow(math.Cos(g), 3), 1e-9, "the equation holds")
	assert.Greater(t, g, radians(45))
	for angle := g + 1e-6; angle < math.Pi/2; angle += 1e-3 {
		assert.Less(t, d.Intensity(0, angle)*math.Pow(math.Cos(angle), 3), 50.0, "nothing beyond")
	}
}

// Each plane has its own criterion, and a lopsided plane takes the mean of its two sides: one side faces the one luminaire, the other the other.
func TestSpacingCriterionByPlane(t *testing.T) {
	vertical := steps(90, 900)
	rows := make([][]float64, 4)
	for i, n := range []float64{1, 3, 1, 3} {
		for _, v := range vertical {
			rows[i] = append(rows[i], cosinePower(n)(radians(v)))
		}
	}
	d, err := photometry.NewDistribution([]float64{0, 90, 180, 270}, vertical, rows)
	require.NoError(t, err)
	along, ok := d.SpacingCriterion(0)
	require.True(t, ok)
	across, ok := d.SpacingCriterion(math.Pi / 2)
	require.True(t, ok)
	assert.InDelta(t, 1.28719, along, 1e-5)
	assert.InDelta(t, 1.01965, across, 1e-5)

	for v := range vertical { // all light of planes 0 and 180 in plane 0
		rows[0][v], rows[2][v] = 2*rows[0][v], 0
	}
	lopsided, err := photometry.NewDistribution([]float64{0, 90, 180, 270}, vertical, rows)
	require.NoError(t, err)
	for _, plane := range []float64{0, math.Pi} {
		got, ok := lopsided.SpacingCriterion(plane)
		require.True(t, ok)
		assert.InDelta(t, along, got, 1e-9)
	}
}

func TestSpacingCriterionOfIndirectLight(t *testing.T) {
	up, err := photometry.NewDistribution([]float64{0}, []float64{0, 90, 180}, [][]float64{{0, 0, 100}})
	require.NoError(t, err)
	got, ok := up.SpacingCriterion(0)
	assert.False(t, ok)
	assert.Zero(t, got)
	above, err := photometry.NewDistribution([]float64{0}, []float64{90, 180}, [][]float64{{10, 100}})
	require.NoError(t, err)
	_, ok = above.SpacingCriterion(0)
	assert.False(t, ok, "a table that starts at the horizontal")
}
