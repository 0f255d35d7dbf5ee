package plots

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"lampswap/photometry"
	"lampswap/plots/internal/palette"
)

func TestLevels(t *testing.T) {
	nan := math.NaN()
	fc := photometry.Footcandle
	for _, c := range []struct {
		name     string
		imperial bool
		grids    [][]float64
		want     []float64
	}{
		{"shared by two grids", false, [][]float64{{110, 240}, {180, 459, nan}}, []float64{100, 150, 200, 250, 300, 350, 400, 450, 500}},
		{"footcandles", true, [][]float64{{8.5 * fc, 26.8 * fc}}, []float64{5, 10, 15, 20, 25, 30}},
		{"ends on levels", false, [][]float64{{10, 50}}, []float64{10, 15, 20, 25, 30, 35, 40, 45, 50}},
		{"even light", false, [][]float64{{300, 300}}, []float64{300, 305}},
		{"dark", false, [][]float64{{0, 0}}, []float64{0, 1}},
		{"small", true, [][]float64{{0, 0.7 * fc}}, []float64{0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7}},
		{"no point", true, [][]float64{{nan}, nil}, nil},
	} {
		assert.Equal(t, c.want, Levels(c.imperial, c.grids...), c.name)
	}
}

func TestChangeLevels(t *testing.T) {
	assert.Equal(t, []float64{-3, -2, -1, 0, 1, 2, 3}, ChangeLevels(false, []float64{-2.9, 2.9}))
	assert.Equal(t, []float64{0, 10, 20, 30, 40, 50, 60, 70}, ChangeLevels(false, []float64{18, 69}), "from 0, also where all gain")
	assert.Equal(t, []float64{0, 1}, ChangeLevels(false, []float64{0}))
	assert.Equal(t, []float64{-0.5, -0.4, -0.3, -0.2, -0.1, 0}, ChangeLevels(false, []float64{-0.5}), "up to 0, also where all lose")
}

func TestLevelsCoverAndAreRound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		values := rapid.SliceOfN(rapid.Float64Range(0, 2e4), 1, 20).Draw(t, "values")
		imperial := rapid.Bool().Draw(t, "imperial")
		levels := Levels(imperial, values)
		n, size := len(levels), illuminanceUnit(imperial).size
		if n < 2 || n > palette.MostBands+1 {
			t.Fatalf("%d levels", n)
		}
		for _, v := range values {
			if slack := 1e-8 * levels[n-1]; v/size < levels[0]-slack || v/size > levels[n-1]+slack {
				t.Fatalf("%v is outside of %v", v/size, levels)
			}
		}
		step := levels[1] - levels[0]
		mantissa := step / math.Pow(10, math.Floor(math.Log10(step)+1e-9))
		if near := func(x float64) bool { return math.Abs(mantissa-x) < 1e-6 }; !near(1) && !near(2) && !near(5) {
			t.Fatalf("the step %v is not round", step)
		}
		for _, l := range levels {
			if k := l / step; math.Abs(k-math.Round(k)) > 1e-6 {
				t.Fatalf("%v is not a multiple of %v", l, step)
			}
		}
	})
}
