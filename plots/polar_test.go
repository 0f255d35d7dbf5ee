package plots

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/plot/vg"

	"lampswap/photometry"
)

func TestPolarScale(t *testing.T) {
	for peak, want := range map[float64][2]float64{1106: {500, 3}, 1760: {500, 4}, 2500: {500, 5}, 90: {20, 5}, 0: {1, 1}} {
		d, err := photometry.NewDistribution([]float64{0}, []float64{0, 90}, [][]float64{{peak, 0}})
		require.NoError(t, err)
		step, circles := Polar{Distribution: d}.polarScale()
		assert.Equal(t, want, [2]float64{step, float64(circles)}, "%v cd", peak)
		assert.GreaterOrEqual(t, step*float64(circles), peak)
	}
}

func TestPolarShowsUpwardLightOnlyWhereThereIsSome(t *testing.T) {
	assert.False(t, Polar{Distribution: downlight(t, 0)}.upward())
	assert.True(t, Polar{Distribution: downlight(t, 50)}.upward())
	assert.False(t, Polar{Distribution: downlight(t, 1)}.upward(), "a thousandth of the peak is not drawn")
}

func downlight(t *testing.T, upward float64) *photometry.Distribution {
	t.Helper()
	d, err := photometry.NewDistribution([]float64{0}, []float64{0, 90, 95, 180}, [][]float64{{1000, 0, upward, upward}})
	require.NoError(t, err)
	return d
}

// TestPolarSides checks which plane is on which side with a luminaire that sends light to one side only.
func TestPolarSides(t *testing.T) {
	horizontal := []float64{0, 90, 180, 270}
	d, err := photometry.NewDistribution(horizontal, []float64{0, 90}, [][]float64{{100, 10}, {100, 20}, {100, 30}, {100, 40}})
	require.NoError(t, err)
	p := Polar{Distribution: d}
	assert.InDelta(t, 10, p.intensity(curves[0], 90), 1e-9, "along: right is 0 degrees")
	assert.InDelta(t, 30, p.intensity(curves[0], -90), 1e-9, "and left 180")
	assert.InDelta(t, 20, p.intensity(curves[2], 90), 1e-9, "across: right is 90 degrees")
	assert.InDelta(t, 40, p.intensity(curves[2], -90), 1e-9, "and left 270")
	assert.InDelta(t, 15, p.intensity(curves[1], 90), 1e-9, "between: linear")

	down := direction(vg.Point{X: 5, Y: 5}, 2, 0)
	assert.InDelta(t, 3, float64(down.Y), 1e-12, "nadir is down")
	assert.InDelta(t, 7, float64(direction(vg.Point{X: 5, Y: 5}, 2, 90).X), 1e-12, "positive angles are right")
}

func TestTextOfAPolar(t *testing.T) {
	texts := recordFigure(Polar{Title: "Strip", Distribution: downlight(t, 50)}, 3*vg.Inch).texts
	for _, want := range []string{"Strip", "0°", "180°", "200 cd", "1,000", "along the lamps, 0–180°", "at 45–225°", "across the lamps, 90–270°"} {
		assert.Contains(t, texts, want)
	}
}

func TestDarkLuminaire(t *testing.T) {
	d, err := photometry.NewDistribution([]float64{0}, []float64{0, 90}, [][]float64{{0, 0}})
	require.NoError(t, err)
	p := Polar{Distribution: d}
	assert.NotContains(t, p.Describe(), "NaN")
	for _, s := range recordFigure(p, 3*vg.Inch).texts {
		assert.NotContains(t, s, "NaN")
	}
}
