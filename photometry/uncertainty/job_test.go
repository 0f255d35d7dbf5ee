package uncertainty_test

import (
	"cmp"
	"fmt"
	"math"
	"runtime"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lampswap/photometry/job"
	"lampswap/photometry/longtest"
	"lampswap/photometry/number"
	"lampswap/photometry/study"
	"lampswap/photometry/uncertainty"
	"lampswap/photometry/wording"
)

func linear(seed uint64, samples int, rectangular, deviations []float64) uncertainty.Interval {
	return uncertainty.LinearModel(seed, samples, 0.95, rectangular, deviations)
}

func samples1(seed uint64, samples int) []float64 {
	return uncertainty.LinearSamples(seed, samples, []float64{0.5}, nil)
}

// certain is a table without doubts; a test adds its own, which stand before it in the list of replacements.
const certain = "lamp_lumens = 0\nballast_factor = 0\nlamp_depreciation = 0\nluminaire_dirt = 0\nroom_surface_dirt = 0\ntemperature = 0\nambient_temperature = 0\n" +
	"voltage = 0\nphotometry = 0\nmounting_height = 0\nreflectance = { ceiling = 0, walls = 0, floor = 0 }\n"

// doubtful runs the bay with a table [uncertainty] in which the given lines replace those of certain.
func doubtful(tb testing.TB, lines string, pairs ...string) *study.Result {
	tb.Helper()
	table := certain
	for line := range strings.Lines(lines) {
		key, _, _ := strings.Cut(line, " =")
		base := strings.TrimSuffix(key, "_standard")
		kept := ""
		for old := range strings.Lines(table) {
			if !strings.HasPrefix(old, base+" =") {
				kept += old
			}
		}
		table = kept + strings.TrimSuffix(line, "\n") + "\n"
	}
	return run(tb, append([]string{upkeep, "[uncertainty]\n" + table + upkeep}, pairs...)...)
}

// otherLamps has other lamps after the swap, with the same lumens.
var otherLamps = []string{"input_watts = 60.0", "input_watts = 50.0"}

// bounced has light bounce in the bay, seen at a quarter of its points.
var bounced = []string{"interreflection = false", "interreflection = true", "spacing = 0.5", "spacing = 1.0"}

// repainted has other reflectances there.
func repainted(off [4]float64) []string {
	return []string{"{ ceiling = 0.7, walls = 0.5, floor = 0.2 }",
		fmt.Sprintf("{ ceiling = %g, walls = %g, floor = %g }", 0.7+off[0], 0.5+off[1], 0.2+off[2])}
}

func width(i uncertainty.Interval) float64 { return i.High - i.Low }

func TestNoToleranceNoWidth(t *testing.T) {
	u := doubtful(t, "").Uncertainty
	require.Len(t, u.Sides, 2)
	assert.Empty(t, u.Inputs)
	assert.Zero(t, u.Solves)
	for _, s := range u.Sides {
		for _, i := range []uncertainty.Interval{s.Average, s.Minimum} {
			assert.Equal(t, i.Predicted, i.Low)
			assert.Equal(t, i.Predicted, i.High)
			assert.Zero(t, i.HighError)
		}
	}
	assert.Nil(t, u.Sides[0].Change)
	assert.Zero(t, u.Sides[1].Darker.Value, "equal light is not darker")
	assert.Equal(t, 1.0, u.Sides[1].AllMet.Value)
	assert.Nil(t, run(t).Uncertainty, "not asked for")
	assert.Empty(t, wording.Uncertainty(run(t).Uncertainty, run(t).Job))
}

// The light is linear in what scales it, and the same samples are drawn: twice the tolerance, twice the width but for rounding.
func TestTwiceTheToleranceTwiceTheWidth(t *testing.T) {
	for _, key := range []string{"lamp_lumens", "ballast_factor", "lamp_depreciation", "voltage", "photometry", "photometry_standard"} {
		one, two := doubtful(t, key+" = 2").Uncertainty, doubtful(t, key+" = 4").Uncertainty
		for s := range one.Sides {
			assert.InEpsilon(t, 2*width(one.Sides[s].Average), width(two.Sides[s].Average), 1e-10, key)
			assert.InEpsilon(t, 2*width(one.Sides[s].Minimum), width(two.Sides[s].Minimum), 1e-10, key)
		}
	}
}

// A dirt tolerance scales the exponent of the dirt law: its ends are powers of the factor.
func TestDirtIsAPowerOfItsFactor(t *testing.T) {
	r := doubtful(t, "luminaire_dirt = 40")
	factor := r.Proposed().Losses.LuminaireDirtDepreciation.Value
	e := r.Uncertainty.Inputs[0]
	assert.Equal(t, job.LuminaireDirt, e.Input)
	assert.Equal(t, []string{"existing", "proposed"}, e.Sides)
	assert.InEpsilon(t, math.Pow(factor, -0.4), 1+e.Low, rounding)
	assert.InEpsilon(t, math.Pow(factor, 0.4), 1+e.High, rounding)
	assert.Negative(t, e.Standard[1], "more dirt, less light")
}

// What both systems share cancels in their comparison; what is their own does not, and adds as independent errors do (JCGM 100, 5.1.6, quotient).
func TestSharedErrorsCancelInTheChange(t *testing.T) {
	u := doubtful(t, "luminaire_dirt = 40\nroom_surface_dirt = 40\nphotometry_standard = 3\nmounting_height = 0.2").Uncertainty
	assert.Less(t, width(*u.Sides[1].Change), 1e-12, "the same fixture in the same place")
	assert.Greater(t, width(u.Sides[1].Average), 0.05*u.Sides[1].Average.Predicted)
	for _, e := range u.Inputs {
		assert.Len(t, e.Sides, 2, e.Input)
	}
	own := doubtful(t, "lamp_lumens_standard = 2", otherLamps...).Uncertainty
	require.Len(t, own.Inputs, 2, "no lamp is named, and they draw other watts: two kinds for all we know")
	change := own.Sides[1].Change
	assert.InEpsilon(t, math.Sqrt2*0.02, change.StandardDeviation, chance/math.Sqrt(2*10_000)+0.001, "0.001 for the second order")
	assert.InDelta(t, 0.5, own.Sides[1].Darker.Value, chance*own.Sides[1].Darker.StandardError)
	other := doubtful(t, "photometry_standard = 2", "[proposed]\nphotometry = \"diffuse.ies\"", "[proposed]\nphotometry = \"narrow.ies\"")
	assert.Len(t, other.Uncertainty.Inputs, 2, "two files, two errors")
}

// The probability of being met is the normal integral where one normal input is all (JCGM 106, one-sided), within the counting error, and falls as more
// is asked.
func TestProbabilityOfBeingMet(t *testing.T) {
	average := run(t).Proposed().Grids[0].Statistics.Average
	before := 1.1
	for _, c := range []struct{ off, want float64 }{{-3, 0.99865}, {-1, 0.84134}, {0, 0.5}, {1, 0.15866}, {3, 0.00135}} {
		text := sprintf("[[criteria]]\nstatistic = \"average\"\nat_least = %s\n", average*(1+0.02*c.off))
		u := doubtful(t, "photometry_standard = 2", upkeep, text+upkeep).Uncertainty
		met := u.Sides[1].Criteria[0].Met
		assert.InDelta(t, c.want, met.Value, chance*math.Sqrt(c.want*(1-c.want)/10_000), "at %g standard deviations", c.off)
		assert.Less(t, met.Value, before)
		assert.Equal(t, met, u.Sides[1].AllMet)
		before = met.Value
	}
	asked := func(rules string) *uncertainty.Uncertainty {
		return doubtful(t, "photometry_standard = 2", upkeep, rules+upkeep).Uncertainty
	}
	most := asked(sprintf("[[criteria]]\nstatistic = \"maximum\"\nat_most = %s\n", average/2))
	assert.Zero(t, most.Sides[1].AllMet.Value)
	even := asked("[[criteria]]\nstatistic = \"maximum_to_minimum\"\nat_most = 30.0\n[[criteria]]\nstatistic = \"power_density\"\nat_most = 1.0\n")
	require.Len(t, even.Sides[1].Criteria, 1, "power density is not in doubt")
	assert.InDelta(t, 0, width(even.Sides[1].Criteria[0].Interval), 1e-9, "a ratio does not see what scales the light")
}

func TestMoreAskedLessProbable(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		values := uncertainty.LinearSamples(rapid.Uint64().Draw(t, "seed"), 1000, []float64{0.1}, nil)
		a, b := rapid.Float64Range(0.8, 1.2).Draw(t, "a"), rapid.Float64Range(0.8, 1.2).Draw(t, "b")
		low, high := min(a, b), max(a, b)
		above := func(limit float64) (n int) {
			for _, x := range values {
				if x >= limit {
					n++
				}
			}
			return n
		}
		if above(low) < above(high) {
			t.Fatalf("%d samples of at least %v, %d of at least %v", above(low), low, above(high), high)
		}
	})
}

const everything = "lamp_lumens = 5\nballast_factor = 5\nlamp_depreciation = 3\nluminaire_dirt = 40\nroom_surface_dirt = 40\nambient_temperature = 10\nvoltage = 2\n" +
	"photometry_standard = 2\nmounting_height = 0.15\nreflectance = { ceiling = 0.1, walls = 0.1, floor_standard = 0.03 }"

// The same job and seed give the same bits on any number of processors; another seed gives others.
func TestSameBitsOnAnyNumberOfProcessors(t *testing.T) {
	r := doubtful(t, everything, longtest.Pick(otherLamps, append(otherLamps, bounced...))...)
	before := runtime.GOMAXPROCS(1)
	defer runtime.GOMAXPROCS(before)
	one, err := uncertainty.Run(t.Context(), r.Job, r.Sides, nil)
	require.NoError(t, err)
	runtime.GOMAXPROCS(8)
	eight, err := uncertainty.Run(t.Context(), r.Job, r.Sides, nil)
	require.NoError(t, err)
	assert.Equal(t, one, eight)
	assert.Equal(t, one, r.Uncertainty)
	r.Job.Uncertainty.Seed = 2
	other, err := uncertainty.Run(t.Context(), r.Job, r.Sides, nil)
	require.NoError(t, err)
	assert.NotEqual(t, one.Sides[1].Average.Low, other.Sides[1].Average.Low)
	assert.InDelta(t, one.Sides[1].Average.Low, other.Sides[1].Average.Low, chance*math.Sqrt2*one.Sides[1].Average.LowError)
}

// The first-order law of propagation (JCGM 100, 5.1.2) with the standard uncertainties that the inputs have alone agrees with the whole, and the shares add
// up to 1. Both systems and their correlation are in it.
func TestInputsAddUpToTheWhole(t *testing.T) {
	u := doubtful(t, everything, append(otherLamps, bounced...)...).Uncertainty
	require.NotEmpty(t, u.Inputs)
	share, changeShare := 0.0, 0.0
	squares, difference := make([]float64, 2), 0.0
	for _, e := range u.Inputs {
		share, changeShare = share+e.Share, changeShare+e.ChangeShare
		for s := range squares {
			squares[s] += e.Standard[s] * e.Standard[s]
		}
		difference += (e.Standard[1] - e.Standard[0]) * (e.Standard[1] - e.Standard[0])
	}
	assert.InEpsilon(t, 1, share, rounding)
	assert.InEpsilon(t, 1, changeShare, rounding)
	noise := chance / math.Sqrt(2*10_000)
	for s := range squares {
		i := u.Sides[s].Average
		assert.InEpsilon(t, math.Sqrt(squares[s]), i.StandardDeviation/i.Mean, noise+0.02, "0.02 for the second order: each input moves the light by up to 10 percent")
	}
	change := u.Sides[1].Change
	assert.InEpsilon(t, math.Sqrt(difference), change.StandardDeviation/(1+change.Mean), noise+0.02)
	assert.Less(t, change.StandardDeviation, u.Sides[1].Average.StandardDeviation/u.Sides[1].Average.Mean, "what they share cancels")
	assert.True(t, slices.IsSortedFunc(u.Inputs, func(a, b uncertainty.Effect) int { return cmp.Compare(b.Share, a.Share) }))
}

// Parabolas and pairs against full solves with all of reflectances and height moved at once. Tolerance: what is left of the third order, and of height with
// reflectances, stays below a twentieth of the change's own size.
func TestGeometryAgainstFullSolves(t *testing.T) {
	r := doubtful(t, "mounting_height = 0.15\nreflectance = { ceiling = 0.1, walls = 0.1, floor = 0.05 }", bounced...)
	g, err := uncertainty.GeometryOf(t.Context(), r.Job, r.Sides)
	require.NoError(t, err)
	assert.False(t, g.Coarse)
	assert.Equal(t, 2*(4*2+3), g.Solves, "two ends of four inputs and three pairs, of two systems")
	worst := [][4]float64{{0.1, 0.1, 0.05, -0.15}, {-0.1, -0.1, -0.05, 0.15}}
	for _, off := range longtest.Pick(worst, append(worst, [][4]float64{{0.1, 0, 0, 0}, {0, 0, 0, -0.15}, {0.1, 0.1, 0.05, 0.15},
		{-0.1, -0.1, -0.05, -0.15}, {0.1, -0.1, 0.05, 0.15}, {0.05, 0.03, -0.02, -0.1}}...)) {
		full := run(t, slices.Concat(bounced, repainted(off), []string{"mounting_height = 4.0", fmt.Sprintf("mounting_height = %g", 4+off[3])})...)
		before, after := r.Proposed().Grids[0].Statistics, full.Proposed().Grids[0].Statistics
		average, minimum := g.At(0, off)
		wantAverage, wantMinimum := after.Average/before.Average, after.Minimum/before.Minimum
		assert.InDelta(t, wantAverage, average, 0.05*math.Abs(wantAverage-1)+5e-4, "average at %v", off)
		assert.InDelta(t, wantMinimum, minimum, 0.05*math.Abs(wantMinimum-1)+5e-4, "minimum at %v", off)
	}
}

const shelf = "[[racks]]\ncorner = [4.0, 4.0]\nsize = [16.0, 1.0, 2.5]\n[[racks]]\ncorner = [4.0, 8.0]\nsize = [16.0, 1.0, 2.5]\n"

// Among racks the relative changes are found on larger patches with fewer rays: within 0.3 percent of the light at the ends of reflectances on the average.
func TestCoarseSolvesAmongRacks(t *testing.T) {
	lit := append([]string{"[layout]\n", shelf + "[layout]\n"}, bounced...)
	r := doubtful(t, "reflectance = { ceiling = 0.1, walls = 0.1, floor = 0.05 }", lit...)
	g, err := uncertainty.GeometryOf(t.Context(), r.Job, r.Sides)
	require.NoError(t, err)
	assert.True(t, g.Coarse)
	assert.True(t, r.Uncertainty.Coarse)
	for _, off := range longtest.Pick([][4]float64{{0.1, 0.1, 0.05, 0}}, [][4]float64{{0.1, 0, 0, 0}, {0, -0.1, 0, 0}, {0.1, 0.1, 0.05, 0}}) {
		full := run(t, slices.Concat(lit, repainted(off))...)
		average, _ := g.At(0, off)
		assert.InDelta(t, full.Proposed().Grids[0].Statistics.Average/r.Proposed().Grids[0].Statistics.Average, average, 0.003, "at %v", off)
	}
}

// What the room does not allow is cut off: reflectances below 0, luminaires above the ceiling.
func TestTolerancesStayInTheRoom(t *testing.T) {
	u := doubtful(t, "mounting_height = 0.2\nreflectance = { ceiling = 0, walls = 0, floor = 0.3 }",
		append([]string{"mounting_height = 4.0", "mounting_height = 5.0"}, bounced...)...).Uncertainty
	require.Len(t, u.Inputs, 2)
	for _, e := range u.Inputs {
		if e.Input == job.MountingHeight {
			assert.Contains(t, wording.Tolerance(e, 0, false), "-0.2 to 0 m")
			assert.Zero(t, e.High)
		} else {
			assert.Contains(t, wording.Tolerance(e, 0, false), "-0.2 to +0.3,")
		}
	}
}

// A third system changes nothing for the other two: every input of every system has its own random number.
func TestReplacementDoesNotChangeTheOthers(t *testing.T) {
	two := doubtful(t, everything).Uncertainty
	third := "[replacement]\nphotometry = \"narrow.ies\"\nlamps = 2\nlamp_lumens = 1500.0\nballast_factor = 0.9\ninput_watts = 40.0\n" +
		"[uncertainty.replacement]\nlamp_lumens = 20\n"
	three := doubtful(t, everything, upkeep, third+upkeep).Uncertainty
	require.Len(t, three.Sides, 3)
	assert.Equal(t, two.Sides, three.Sides[:2])
	relative := func(s uncertainty.Side) float64 { return s.Change.StandardDeviation / (1 + s.Change.Predicted) }
	assert.Greater(t, relative(three.Sides[2]), relative(three.Sides[1]), "its lamps are in more doubt")
}

// Absolute photometry has lamps and ballast inside.
func TestAbsolutePhotometryHasNoLampsInDoubt(t *testing.T) {
	r := doubtful(t, "lamp_lumens = 5\nballast_factor = 5",
		"[proposed]\nphotometry = \"diffuse.ies\"\nlamps = 2\nlamp_lumens = 2000.0\nballast_factor = 0.9\n", "[proposed]\nphotometry = \"absolute.ies\"\n")
	assert.Zero(t, width(r.Uncertainty.Sides[1].Average))
	assert.NotZero(t, width(r.Uncertainty.Sides[0].Average))
}

func TestUncertaintyInWords(t *testing.T) {
	r := doubtful(t, "photometry_standard = 2\nluminaire_dirt = 40", upkeep, "[[criteria]]\nname = \"lease\"\nat_least = 100\n"+upkeep)
	words := strings.Join(wording.Uncertainty(r.Uncertainty, r.Job), "\n")
	a := r.Uncertainty.Sides[1].Average
	assert.Contains(t, words, fmt.Sprintf("the proposed average lies between %s and %s lx (95 percent); it meets \"lease\" with a probability of",
		number.Digits(a.Low), number.Digits(a.High)))
	assert.Contains(t, words, "what matters most: luminaire dirt, photometry.")
	assert.Contains(t, words, "photometry, existing and proposed: normal, standard deviation 2 percent, given by the job; the proposed average -3.9 to +3.9 percent")
	assert.Contains(t, words, "Monte Carlo (JCGM 101) of 10,000 samples, seed 1")
	assert.NotContains(t, words, "NaN")
}

func BenchmarkUncertaintyWithoutSolves(b *testing.B) {
	r := doubtful(b, "lamp_lumens = 5\nballast_factor = 5\nluminaire_dirt = 40\nphotometry_standard = 2")
	b.ReportAllocs()
	for b.Loop() {
		if _, err := uncertainty.Run(b.Context(), r.Job, r.Sides, nil); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(r.Uncertainty.Samples)*float64(b.N)/b.Elapsed().Seconds(), "samples/s")
}

func BenchmarkUncertaintyOfTheBay(b *testing.B) {
	r := doubtful(b, everything, bounced[:2]...)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := uncertainty.Run(b.Context(), r.Job, r.Sides, nil); err != nil {
			b.Fatal(err)
		}
	}
}
