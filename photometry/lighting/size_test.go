package lighting_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry/interreflect"
	"lampswap/photometry/lighting"
)

// A job that would take hours is refused at once, with what would fit, and that does; one that takes minutes
// is not.
func TestTooLarge(t *testing.T) {
	const racks = "[[racks]]\ncorner = [80.0, 15.0]\nsize = [340.0, 8.0, 24.0]\nreflectance = 0.3\n" +
		"transmittance = %g\nrepeat = { count = 30, step = [0.0, 32.0] }\n"
	centre := func(spacing float64) pinned {
		return pinned{
			"centre",
			pinnedText(
				"imperial", 2000, 1000, 36, 2.5, spacing, "mounting_height = 33\nrows = 80\ncolumns = 125",
				fmt.Sprintf(racks, 0.0),
			),
		}
	}
	_, err := lighting.NewSpace(t.Context(), read(t, centre(0.75)), interreflect.Options{})
	var large *lighting.TooLargeError
	require.ErrorAs(t, err, &large)
	assert.Contains(
		t, err.Error(),
		"minutes, and 20 is the most: points on the work plane every 1.12 ft ([calculation] spacing) would fit",
	)
	_, err = lighting.NewCache(1<<20).Space(read(t, centre(0.75))).Solve(
		t.Context(), &read(t, centre(0.75)).Existing,
	)
	require.ErrorAs(t, err, &large)
	for _, spacing := range []float64{1.125, 10} {
		assert.NoError(t, lighting.Fits(read(t, centre(spacing)), interreflect.Options{}), "every %g ft", spacing)
	}
	// no spacing would do
	wide := pinned{
		"wide",
		pinnedText(
			"imperial", 9000, 9000, 36, 2.5, 60, "mounting_height = 33\nrows = 200\ncolumns = 200",
			fmt.Sprintf(racks, 0.3),
		),
	}
	err = lighting.Fits(read(t, wide), interreflect.Options{})
	require.ErrorAs(t, err, &large)
	assert.Contains(
		t, err.Error(), "work out a part of the floor by itself, or leave out the light that bounces",
	)
}
