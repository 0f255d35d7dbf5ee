package uncertainty_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// chance is how many standard errors of the Monte Carlo a test allows: beyond 4 is one seed in 16,000, and the seeds are fixed.
const chance = 4

// tiny is a relative tolerance so small that a product of shares is their sum but for 1e-8.
const tiny = 1e-4

// The additive model of JCGM 101:2008, 9.2, in units of tiny: the 95 percent intervals of sums. Those of one and two rectangular inputs are elementary
// (rectangle, triangle, trapezoid); that of four equal ones is by Irwin and Hall, P(Y > 4a - 2ax) = x⁴/24; the standard prints 3.92 and 3.88 for four
// normal and four rectangular inputs of standard uncertainty 1, and 17.0 where one of the latter has 10 (9.2.2 to 9.2.4, from memory, unverified).
func TestIntervalOfASumInClosedForm(t *testing.T) {
	unit := math.Sqrt(3) // half-width of standard uncertainty 1
	four := 2 * unit * (2 - math.Pow(24*0.025, 0.25))
	normal := 2 * distuv.UnitNormal.Quantile(0.975)
	assert.InDelta(t, 3.88, four, 0.005, "as printed")
	assert.InDelta(t, 3.92, normal, 0.005, "as printed")
	const samples = 200_000
	for _, c := range []struct {
		name                 string
		rect, deviations     []float64 // half-widths, standard deviations
		half, standard, last float64   // last is half the last digit of a printed value
	}{
		{"rectangle", []float64{2}, nil, 0.95 * 2, 2 / unit, 0},
		{"triangle", []float64{1.5, 1.5}, nil, 3 * (1 - math.Sqrt(0.05)), math.Sqrt2 * 1.5 / unit, 0},
		{"trapezoid", []float64{2, 1}, nil, 3 - math.Sqrt(8*2*0.025), math.Sqrt(5.0 / 3), 0},
		{"four rectangular", []float64{unit, unit, unit, unit}, nil, four, 2, 0},
		{"four normal", nil, []float64{1, 1, 1, 1}, normal, 2, 0},
		{"one dominates", []float64{unit, unit, unit, 10 * unit}, nil, 17.0, math.Sqrt(103), 0.05},
	} {
		i := linear(1, samples, scaled(c.rect), scaled(c.deviations))
		assert.InDelta(t, 1+c.half*tiny, i.High, chance*i.HighError+c.last*tiny, c.name)
		assert.InDelta(t, 1-c.half*tiny, i.Low, chance*i.LowError+c.last*tiny, c.name)
		t.Logf("%s: deviation of the ends %.2f percent of the half-width, %.1f standard errors", c.name, 100*math.Abs((i.High-i.Low)/2/tiny/c.half-1),
			max(math.Abs(i.High-1-c.half*tiny)/i.HighError, math.Abs(1-c.half*tiny-i.Low)/i.LowError))
		assert.Less(t, i.HighError, 0.01*c.standard*tiny, "%s: the allowance is small", c.name)
		assert.InDelta(t, c.standard*tiny, i.StandardDeviation, chance*c.standard*tiny/math.Sqrt(2*samples), c.name)
		assert.InDelta(t, 1, i.Mean, chance*c.standard*tiny/math.Sqrt(samples), c.name)
		assert.InDelta(t, 1, i.Median, chance*3*c.standard*tiny/math.Sqrt(samples), c.name)
	}
}

func scaled(shares []float64) []float64 {
	all := make([]float64, len(shares))
	for i, x := range shares {
		all[i] = x * tiny
	}
	return all
}

// A product of independent shares has the relative variance Π (1 + u²) - 1, which the law of propagation (JCGM 100:2008, 5.1.6, product) takes as Σ u².
func TestProductAgainstTheLawOfPropagation(t *testing.T) {
	const samples = 200_000
	deviations, halfWidths := []float64{0.02, 0.03}, []float64{0.05, 0.04, 0.03}
	sum, product := 0.0, 1.0
	for _, u := range deviations {
		sum, product = sum+u*u, product*(1+u*u)
	}
	for _, a := range halfWidths {
		sum, product = sum+a*a/3, product*(1+a*a/3)
	}
	i := linear(3, samples, halfWidths, deviations)
	assert.InDelta(t, math.Sqrt(product-1), i.StandardDeviation, chance*i.StandardDeviation/math.Sqrt(2*samples))
	t.Logf("deviation of the standard uncertainty %.2f percent", 100*math.Abs(i.StandardDeviation/math.Sqrt(product-1)-1))
	assert.InEpsilon(t, math.Sqrt(sum), math.Sqrt(product-1), sum, "the first order is good to the square of itself")
	assert.InDelta(t, 1, i.Mean, chance*i.StandardDeviation/math.Sqrt(samples))
}

// The Monte Carlo's own standard error is what the ends scatter by from seed to seed.
func TestStandardErrorOfTheEnds(t *testing.T) {
	const seeds = 200
	var ends, claimed []float64
	for seed := range uint64(seeds) {
		i := linear(seed, 2000, nil, []float64{tiny})
		ends, claimed = append(ends, (i.High-1)/tiny), append(claimed, i.HighError/tiny)
	}
	scatter := stat.StdDev(ends, nil)
	assert.InDelta(t, scatter, stat.Mean(claimed, nil), chance*scatter/math.Sqrt(2*seeds), "a standard deviation of %d values is known to 1/√(2n)", seeds)
}

// Neighbouring samples come from neighbouring streams: they must not know of each other, nor one seed of the next.
func TestStreamsAreIndependent(t *testing.T) {
	const samples = 100_000
	x := samples1(1, samples)
	assert.InDelta(t, 0, stat.Correlation(x[:samples-1], x[1:], nil), chance/math.Sqrt(samples))
	assert.InDelta(t, 0, stat.Correlation(x, samples1(2, samples), nil), chance/math.Sqrt(samples))
}
