package photometry_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"lampswap/photometry"
)

// Tolerance of two ways to the same number: rounding only, relative.
const rounding = 1e-12

func radians(degrees float64) float64 { return degrees * math.Pi / 180 }

// steps returns the angles from 0 to the last, degrees, in equal steps.
func steps(last float64, count int) []float64 {
	angles := make([]float64, count+1)
	for i := range angles {
		angles[i] = last * float64(i) / float64(count)
	}
	return angles
}

// alike makes a distribution that is the same in every plane.
func alike(tb testing.TB, verticalDeg []float64, intensity func(vertical float64) float64) *photometry.Distribution {
	tb.Helper()
	row := make([]float64, len(verticalDeg))
	for i, v := range verticalDeg {
		row[i] = intensity(radians(v))
	}
	d, err := photometry.NewDistribution([]float64{0}, verticalDeg, [][]float64{row})
	require.NoError(tb, err)
	return d
}

// cosinePower is an intensity cos^n from nadir, nothing above the horizontal, 1 cd straight down.
func cosinePower(n float64) func(float64) float64 {
	return func(g float64) float64 {
		if g >= math.Pi/2 {
			if n == 0 && g < math.Pi/2+1e-9 {
				return 1
			}
			return 0
		}
		return math.Pow(math.Cos(g), n)
	}
}
