package losses

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// A lamp of 94 percent mean over initial lumens, as a public data sheet of a 4-ft T8 has it (seen); an LED tube; times in rated lives.
var (
	fluorescent = &works{Course: Course{InitialLumens: 2950, MeanLumens: 2773}}
	led         = &works{Course: Course{L70: true}}
)

// As many lamps burn as there are places: S(t) + ∫ S(a) h(t-a) da = 1, the renewal equation, but for the share of lives below 0.
func TestEveryPlaceHasOneLamp(t *testing.T) {
	below := 1 - survival(0)
	assert.InDelta(t, 2.87e-7, below, 0.005e-7) // normal tail beyond 5 standard deviations, 2.87e-7 by any table: print
	for time := 0.0; time < settled; time += 0.05 {
		_, lamps := fluorescent.overAges(time, ageRule())
		assert.InDelta(t, 1, lamps, 2*below, "at %v lives", time)
	}
	_, lamps := fluorescent.overAges(settled, ageRule())
	assert.InDelta(t, 1, lamps, 2*below, "∫ S = the mean life = 1")
}

func TestMoreNodesChangeNothing(t *testing.T) {
	fine := legendre(3 * ageNodes)
	for _, w := range []*works{fluorescent, led} {
		for _, time := range []float64{0, 0.01, 0.3, 0.99, 1, 1.7, 2.8, 2.9, 7.3, 44.9, 45, 300} {
			light, lamps := w.overAges(time, fine)
			assert.InEpsilon(t, light/lamps, w.mixedAges(time), 1e-12, "at %v lives", time) // discretisation, below rounding
		}
	}
	assert.InEpsilon(t, fluorescent.mixedAges(settled), fluorescent.mixedAges(settled-1e-9), 1e-13, "the waves have faded")
}

// In the long run lamps are of all ages a with density S(a): for 0.7^a = exp(-ka) the mean is (1 - E exp(-kX)) / k over the mean life 1, with
// E exp(-kX) = exp(-k + k²σ²/2) for lives X normal about 1.
func TestLongRunInClosedForm(t *testing.T) {
	k := -math.Log(0.7)
	want := (1 - math.Exp(-k+k*k*LifeSpread*LifeSpread/2)) / k
	assert.InDelta(t, want, led.mixedAges(100), 1e-6) // lives below 0, 3e-7 of them
}

// Before any lamp has failed the lamps are of one age.
func TestFirstMonthsAreThoseOfOneAge(t *testing.T) {
	for _, time := range []float64{0, 1e-6, 0.01, 0.05} {
		const failed = 1e-6 // or fewer so far, each worth less than 0.1 of the light
		assert.InDelta(t, LumenMaintenance(2950, 2773, 1, time, false), fluorescent.mixedAges(time), failed/5, "at %v lives", time)
	}
	assert.Equal(t, 1.0, fluorescent.mixedAges(0))
}

// Against lamps thrown at random, 100,000 places: four standard errors.
func TestAgainstSimulatedLamps(t *testing.T) {
	const places = 100_000
	for i, time := range []float64{0.6, 1.0, 1.4, 2.5, 6.2} {
		rng := rand.New(rand.NewPCG(5, uint64(i)))
		sum, squares := 0.0, 0.0
		for range places {
			put, next := 0.0, 0.0
			for next <= time {
				put = next
				next += 1 + LifeSpread*rng.NormFloat64()
			}
			m := LumenMaintenance(2950, 2773, 1, time-put, false)
			sum += m
			squares += m * m
		}
		mean := sum / places
		wide := 4 * math.Sqrt((squares/places-mean*mean)/places)
		t.Logf("at %v lives: simulated %.5f ± %.5f, computed %.5f", time, mean, wide, fluorescent.mixedAges(time))
		assert.InDelta(t, mean, fluorescent.mixedAges(time), wide)
	}
}

func TestMixedAgesStayWithinThoseOfALife(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := &works{Course: Course{InitialLumens: 1, MeanLumens: rapid.Float64Range(0.7, 0.99).Draw(t, "mean")}}
		time := rapid.Float64Range(0, 60).Draw(t, "time")
		m := w.mixedAges(time)
		require.LessOrEqual(t, m, 1.0)
		require.GreaterOrEqual(t, m, LumenMaintenance(1, w.MeanLumens, 1, min(time, 1+farOut*LifeSpread), false)-1e-12)
	})
}

// What is kept is what would be worked out, to the bit, for each lamp its own, and never more than the bound.
func TestKeptAgesAreExact(t *testing.T) {
	other := &works{Course: Course{InitialLumens: 2950, MeanLumens: 2600}}
	for range 2 {
		for _, w := range []*works{fluorescent, led, other} {
			for _, time := range []float64{0, 0.25, 1.5, 7.3, 60} {
				light, lamps := w.overAges(time, ageRule())
				assert.Equal(t, light/lamps, w.mixedAges(time), "at %v lives", time)
			}
		}
	}
	table := ageTable{kept: map[ageKey]float64{}}
	for i := range mostAges + 10 {
		table.keep(ageKey{t: float64(i)}, float64(i))
		require.LessOrEqual(t, len(table.kept), mostAges)
	}
	m, ok := table.find(ageKey{t: mostAges + 9})
	assert.True(t, ok)
	assert.Equal(t, mostAges+9.0, m)
}

// A place needs no lamp before the first can fail, and in the long run one a life.
func TestFailures(t *testing.T) {
	assert.Zero(t, Failures(0, 20000))
	assert.Zero(t, Failures(1000, 0), "a life that is not known")
	below := func(x float64) float64 { return math.Erfc(-x/math.Sqrt2) / 2 } // normal distribution
	second := LifeSpread * math.Sqrt2                                        // spread of two lives
	assert.InDelta(t, 0.5+below(-1/second), Failures(20000, 20000), 1e-6, "half have failed at rated life, by its definition; twice hardly any")
	assert.InDelta(t, 1, Failures(400*20000, 20000)-Failures(399*20000, 20000), 1e-6)
	assert.InEpsilon(t, below(-0.5/LifeSpread)+below(-1.5/second), Failures(10000, 20000), 1e-9)
	rapid.Check(t, func(t *rapid.T) { // it grows by the lamps replaced in unit time
		at := rapid.Float64Range(0.3, 5).Draw(t, "lives")
		const step = 1e-4
		slope := (Failures(at+step, 1) - Failures(at-step, 1)) / (2 * step)
		assert.InDelta(t, renewals(at), slope, 1e-5) // step: its square times the third derivative
	})
}
