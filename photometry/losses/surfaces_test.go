package losses

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

var distributions = rapid.SampledFrom([]DistributionType{Direct, SemiDirect, DirectIndirect, SemiIndirect, Indirect})

func TestDistributionOf(t *testing.T) { // CIE classes, from memory, unverified
	for share, want := range map[float64]DistributionType{
		0: Direct, 0.10: Direct, 0.11: SemiDirect, 0.40: SemiDirect, 0.5: DirectIndirect, 0.60: DirectIndirect, 0.75: SemiIndirect,
		0.90: SemiIndirect, 0.95: Indirect, 1: Indirect,
	} {
		assert.Equal(t, want, DistributionOf(share), share)
	}
}

func TestRoomSurfaceDirtTableIsWhole(t *testing.T) {
	require.Len(t, roomSurfaceDirt(), 5)
	for d, table := range roomSurfaceDirt() {
		require.Equal(t, []float64{0, 10, 20, 30, 40}, table.percents)
		require.Equal(t, []float64{1, 2, 3, 4, 5, 6, 7, 8, 9, 10}, table.ratios)
		for i, row := range table.factors {
			for j, factor := range row {
				assert.True(t, factor >= 0.5 && factor <= 1, "%v, %v percent, ratio %v: %v", d, table.percents[i], table.ratios[j], factor)
				if i > 0 {
					assert.Less(t, factor, table.factors[i-1][j], "more dirt, less light")
				}
				if j > 0 {
					assert.LessOrEqual(t, factor, row[j-1], "a taller room loses more")
				}
			}
		}
	}
}

// Cells from memory, unverified: a check of the copy only.
func TestRoomSurfaceDirtCells(t *testing.T) {
	for _, c := range []struct {
		distribution DistributionType
		percent      int // row of the table, tens
		ratio        int
		want         float64
	}{{Direct, 10, 1, .98}, {Direct, 40, 10, .83}, {SemiDirect, 20, 5, .90}, {DirectIndirect, 30, 7, .77}, {SemiIndirect, 40, 2, .72}, {Indirect, 40, 10, .50}} {
		assert.Equal(t, c.want, roomSurfaceDirt()[c.distribution].factors[c.percent/10][c.ratio-1])
	}
}

// The percents at 12 months are from memory to about 2 points; the one for clean agrees with a published example that reads 12 percent.
func TestExpectedDirt(t *testing.T) {
	for atmosphere, want := range map[Atmosphere]float64{VeryClean: 6, Clean: 12, Medium: 18, Dirty: 25, VeryDirty: 33} {
		assert.InEpsilon(t, want, ExpectedDirt(atmosphere, 1), 1e-12) // rounding
		assert.Zero(t, ExpectedDirt(atmosphere, 0))
	}
	// Our own law, worked out by hand: 2^0.7 = 1.6245, 0.88^1.6245 = 0.81248; print.
	assert.InDelta(t, 18.752, ExpectedDirt(Clean, 2), 0.0005)
	assert.PanicsWithValue(t, errCategory, func() { ExpectedDirt(0, 1) })
	assert.PanicsWithValue(t, errYears, func() { ExpectedDirt(Clean, -1) })
}

func TestRoomSurfaceDirtInterpolates(t *testing.T) {
	// Medium at 12 months is 18 percent; direct, ratio 3: .98 at 10, .95 at 20, so .956.
	f := RoomSurfaceDirt(Direct, Medium, 1, 3)
	assert.InDelta(t, 0.98-0.8*0.03, f.Value, 1e-12) // rounding
	assert.Equal(t, FromTable, f.From)
	why := f.Why.(SurfaceDirt)
	assert.Contains(t, why.Source, "from memory, unverified")
	assert.Zero(t, why.MostPercent+why.LeastRatio+why.MostRatio, "inside the table")
	// Very clean is 6 percent, between no dirt (1) and 10 percent (.98).
	assert.InDelta(t, 1-0.6*0.02, RoomSurfaceDirt(Direct, VeryClean, 1, 2).Value, 1e-12) // rounding
	// Ratio 2.5 at 25 percent, semi-direct: means of .92, .88 and .91, .87.
	assert.InDelta(t, 0.895, RoomSurfaceDirt(SemiDirect, Dirty, 1, 2.5).Value, 1e-12) // rounding
}

func TestRoomSurfaceDirtSaysWhereTheTableEnds(t *testing.T) {
	low := RoomSurfaceDirt(Direct, Clean, 1, 0.4)
	assert.Equal(t, RoomSurfaceDirt(Direct, Clean, 1, 1).Value, low.Value)
	assert.Equal(t, 10.0, low.Why.(SurfaceDirt).MostRatio)
	assert.Equal(t, RoomSurfaceDirt(Direct, Clean, 1, 10).Value, RoomSurfaceDirt(Direct, Clean, 1, 14).Value)
	filthy := RoomSurfaceDirt(Indirect, VeryDirty, 5, 10)
	assert.Equal(t, 0.50, filthy.Value)
	assert.Equal(t, 40.0, filthy.Why.(SurfaceDirt).MostPercent)
	assert.PanicsWithValue(t, "losses: no such distribution type", func() { RoomSurfaceDirt(0, Clean, 1, 1) })
	assert.Panics(t, func() { RoomSurfaceDirt(Direct, Clean, 1, math.NaN()) })
}

func TestRoomSurfaceDirtGrows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, a := distributions.Draw(t, "distribution"), atmospheres.Draw(t, "atmosphere")
		years, ratio := rapid.Float64Range(0, 6).Draw(t, "years"), rapid.Float64Range(0.2, 12).Draw(t, "ratio")
		value := RoomSurfaceDirt(d, a, years, ratio).Value
		require.True(t, value >= 0.5 && value <= 1)
		const rounding = 1e-15
		require.LessOrEqual(t, RoomSurfaceDirt(d, a, years+rapid.Float64Range(0, 3).Draw(t, "later"), ratio).Value, value+rounding)
		require.LessOrEqual(t, RoomSurfaceDirt(d, a, years, ratio+rapid.Float64Range(0, 3).Draw(t, "taller")).Value, value+rounding)
		require.Equal(t, 1.0, RoomSurfaceDirt(d, a, 0, ratio).Value)
		if a > VeryClean {
			require.LessOrEqual(t, value, RoomSurfaceDirt(d, a-1, years, ratio).Value+rounding)
		}
	})
}
