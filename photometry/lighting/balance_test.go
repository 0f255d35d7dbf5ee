package lighting_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lampswap/photometry/interreflect"
	"lampswap/photometry/lighting"
	"lampswap/photometry/longtest"
)

// Ordinary jobs are far within what would be told of them: all that is emitted is absorbed, in halls and in
// closets, with luminaires at the ceiling, under it and beside walls, in rows and anyhow, among racks and
// without.
func TestOrdinaryJobsAreBalanced(t *testing.T) {
	worst, arrived := 0.0, 0.0
	longtest.Check(t, 4, func(rt *rapid.T) {
		number := func(
			name string, low, high float64,
		) float64 {
			return rapid.Float64Range(low, high).Draw(rt, name)
		}
		length, width, height := number("length", 8, 90), number("width", 8, 60), number("height", 8, 30)
		hang := height - rapid.OneOf(
			rapid.Just(0.0), rapid.Float64Range(0, 0.5), rapid.Float64Range(0, 3),
		).Draw(rt, "gap")
		layout := fmt.Sprintf("mounting_height = %g\n", hang)
		if rapid.Bool().Draw(rt, "rows") {
			layout += fmt.Sprintf(
				"rows = %d\ncolumns = %d", rapid.IntRange(1, 6).Draw(rt, "in y"), rapid.IntRange(1, 8).Draw(rt, "in x"),
			)
		} else {
			x, y := number("x", 0, length), number("y", 0, width)
			layout += fmt.Sprintf(
				"positions = [[%g, %g, %g], [%g, %g]]", x, y, number("turn", 0, 180), length-x, width/2,
			)
		}
		racks := ""
		if length > 20 && width > 20 && rapid.Bool().Draw(rt, "racks") {
			racks = fmt.Sprintf("[[racks]]\ncorner = [4, 6]\nsize = [%g, 3, %g]\nreflectance = 0.3\n"+
				"transmittance = %g\nrepeat = { count = 2, step = [0, 8] }\n",
				length-8, number("rack", 2, hang-3), rapid.SampledFrom([]float64{0, 0.3}).Draw(rt, "passes"))
		}
		j := read(t, pinned{"drawn", pinnedText("imperial", length, width, height, 2.5, 5, layout, racks)})
		space, err := lighting.NewSpace(t.Context(), j, interreflect.Options{})
		require.NoError(rt, err)
		s, err := space.Solve(t.Context(), &j.Existing)
		require.NoError(rt, err)
		worst = max(worst, math.Abs(s.Balance.Imbalance()))
		arrived = max(arrived, math.Abs(s.Balance.Arrived/s.Balance.Emitted-1))
		require.InDelta(rt, 0, s.Balance.Imbalance(), 3e-3)
		require.InEpsilon(rt, s.Balance.Emitted, s.Balance.Arrived, 1e-2)
		require.False(rt, s.Unbalanced())
	})
	t.Logf(
		"largest imbalance %.3f percent; at most %.2f percent fell between the points", 100*worst, 100*arrived,
	)
}

// Between what is told and what is an error stands a sentence with both numbers.
func TestUnbalanced(t *testing.T) {
	s := lighting.System{Balance: &interreflect.Balance{Emitted: 1000, Absorbed: 1004}}
	assert.True(t, s.Unbalanced())
	assert.Equal(
		t, "the luminaires emit 1,000 lm and the surfaces absorb 1,004 lm, 0.4 percent more",
		lighting.FluxWords(1000, 1004),
	)
	assert.Contains(t, lighting.FluxWords(0.2, 0.1978), "emit 0.2 lm and the surfaces absorb 0.198 lm, 1.1 percent less")
	s.Balance.Absorbed = 998
	assert.False(t, s.Unbalanced())
	assert.False(t, lighting.System{}.Unbalanced(), "no light bounces")
	s.Balance = &interreflect.Balance{}
	assert.False(t, s.Unbalanced(), "nothing is emitted")
	assert.Equal(t, "the light is not trusted: the luminaires emit 1,000 lm and the surfaces absorb 980 lm, "+
		"2.0 percent less, and 1 percent is the most that may be; "+
		"nothing is concluded from it. Does a luminaire, as it is turned, not fit into the room? If all do, "+
		"please report this with the job's files",
		(&lighting.ImbalanceError{Emitted: 1000, Absorbed: 980}).Error())
}
