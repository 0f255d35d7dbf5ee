package survey

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lampswap/photometry/room"
)

// EN 12464-1, p = 0.2 · 5^log10(d): values of the formula to four decimals; and the standard's table, printed rounded, as a public
// lighting knowledge page shows it. Its first two rows are not the formula's and are left out.
func TestGridSpacingAgainstTheTable(t *testing.T) {
	for _, c := range []struct{ d, formula, printed, half float64 }{
		{0.4, 0.1054, math.NaN(), 0}, {0.6, 0.1399, math.NaN(), 0}, {1, 0.2, 0.2, 0.05}, {2, 0.3247, 0.3, 0.05}, {5, 0.6160, 0.6, 0.05},
		{10, 1, 1, 0.05}, {25, 1.8974, 2, 0.5}, {50, 3.0801, 3, 0.5}, {100, 5, 5, 0.5},
	} {
		p := GridSpacing(c.d, c.d)
		assert.InDelta(t, c.formula, p, 5e-5, "print, d %v", c.d)
		if !math.IsNaN(c.printed) {
			assert.InDelta(t, c.printed, p, c.half, "print, d %v", c.d)
		}
	}
	assert.Equal(t, 10.0, GridSpacing(1000, 400), "the cap")
	assert.InEpsilon(t, 0.2*math.Pow(5, math.Log10(49.9)), GridSpacing(49.9, 10), rounding, "not yet 5 times as long: the longer side counts")
	assert.InEpsilon(t, 1, GridSpacing(50, 10), rounding, "5 times as long: the shorter side counts")
	assert.InEpsilon(t, GridSpacing(49.9, 49.9), GridSpacing(10, 49.9), rounding)
	assert.Panics(t, func() { GridSpacing(0, 1) })
	assert.Panics(t, func() { GridSpacing(1, math.NaN()) })
}

// 120 ft x 60 ft, worked out by hand from the formula: with and without the band of 0.5 m.
func TestRoomGrid(t *testing.T) {
	r := room.Room{Length: 36.576, Width: 18.288, WorkPlane: 0.762}
	g := RoomGrid("work plane", r, true)
	assert.Equal(t, [2]int{15, 8}, [2]int{g.NX, g.NY})
	assert.InDelta(t, 2.372, g.StepX, 0.0005, "print")
	assert.InDelta(t, 2.161, g.StepY, 0.0005, "print")
	assert.InDelta(t, 2.428, GridSpacing(35.576, 17.288), 0.0005, "print")
	assert.InDelta(t, 0.5+g.StepX/2, g.Point(0, 0).X, 1e-12)
	assert.InDelta(t, 0.762, g.Point(0, 0).Z, 1e-12)
	whole := RoomGrid("work plane", r, false)
	assert.Equal(t, [2]int{15, 8}, [2]int{whole.NX, whole.NY})
	assert.InDelta(t, 2.475, GridSpacing(36.576, 18.288), 0.0005, "print")
	assert.InDelta(t, 36.576/15, whole.StepX, 1e-12)
	narrow := RoomGrid("corridor", room.Room{Length: 20, Width: 1.4}, true)
	assert.InDelta(t, 20, float64(narrow.NX)*narrow.StepX, 1e-9, "a corridor keeps its band")
}

// Cells of any area are no larger than the formula's, and their sides lie between 1:2 and 2:1.
func TestAreaGridOfAnyArea(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := rapid.Float64Range(0.1, 300).Draw(t, "a"), rapid.Float64Range(0.1, 300).Draw(t, "b")
		g := AreaGrid("any", room.Vec{X: a, Y: 0}, room.Vec{X: 0, Y: b}, 1)
		assert.LessOrEqual(t, g.StepX/g.StepY, 2+1e-9)
		assert.GreaterOrEqual(t, g.StepX/g.StepY, 0.5-1e-9)
		assert.LessOrEqual(t, max(g.StepX, g.StepY), 10+1e-9)
		assert.InEpsilon(t, a*b, float64(g.NX*g.NY)*g.StepX*g.StepY, 1e-9)
	})
}

func TestFaceGrid(t *testing.T) {
	g, err := FaceGrid("face", room.Vec{X: 2, Y: 3}, room.Vec{X: 12, Y: 3}, 0.5, 4.5, math.Pi/2)
	require.NoError(t, err)
	assert.Equal(t, [2]int{10, 4}, [2]int{g.NX, g.NY}, "d = 10 m, p = 1 m")
	_, err = FaceGrid("face", room.Vec{X: 2, Y: 3}, room.Vec{X: 12, Y: 3}, 0.5, 4.5, 0)
	require.ErrorIs(t, err, room.ErrFacing)
	p := GridPlan(g, "n", nil)
	assert.Equal(t, "n4-10", p.Stations[39].Name)
	assert.InDelta(t, 1, p.Stations[39].Normal.Y, 1e-12)
	assert.InDelta(t, 90, p.Stations[39].facingDeg(), 1e-9)
}

func TestGridPlanDropsPointsInRacks(t *testing.T) {
	g := room.HorizontalGrid("floor", room.Vec{}, room.Vec{X: 10, Y: 4}, 0.8, 1)
	p := GridPlan(g, "g", []room.Rack{{Corner: room.Vec{X: 2, Y: 1}, Size: room.Vec{X: 3, Y: 2, Z: 5}}})
	assert.Len(t, p.Stations, 34)
	assert.Len(t, p.Dropped, 6)
	assert.Equal(t, []Note{{Code: PointsLeftOut, Of: "floor", Count: 6, All: 40}}, p.Notes)
	assert.Equal(t, p, p.Clear(room.Room{}, []room.Rack{{Size: room.Vec{X: 100, Y: 100, Z: 9}}}), "nothing more to clear")
}

// The bureau's example, quoting CIBSE (seen): L = W = 5 m, Hm = 2.6 m, index 0.96, 8 points; and the printed table.
func TestPointsByRoomIndex(t *testing.T) {
	assert.InDelta(t, 0.96, RoomIndex(5, 5, 2.6), 0.005, "print")
	for _, c := range []struct {
		index     float64
		five, ten int
	}{{0.96, 8, 4}, {0.2, 8, 4}, {1, 18, 9}, {1.99, 18, 9}, {2, 32, 16}, {3, 32, 16}, {3.01, 50, 25}, {20, 50, 25}} {
		five, ten, source := PointsByRoomIndex(c.index)
		assert.Equal(t, [2]int{c.five, c.ten}, [2]int{five, ten}, "room index %v", c.index)
		assert.Contains(t, source, "room index")
	}
}

// At SpacingFor there are points enough, and at no wider spacing are there fewer and still enough.
func TestSpacingFor(t *testing.T) {
	assert.InEpsilon(t, 2.5, SpacingFor(8, 10, 5), rounding, "4 x 2")
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 50).Draw(t, "points")
		a, b := rapid.Float64Range(1, 100).Draw(t, "a"), rapid.Float64Range(1, 100).Draw(t, "b")
		s := SpacingFor(n, a, b)
		assert.GreaterOrEqual(t, room.Cells(a, s)*room.Cells(b, s), n)
		for wider := s; wider < 2*max(a, b); wider *= 1.01 {
			if points := room.Cells(a, wider) * room.Cells(b, wider); points != room.Cells(a, s)*room.Cells(b, s) {
				assert.Less(t, points, n, "fewer points would have done")
			}
		}
	})
	assert.Panics(t, func() { SpacingFor(0, 1, 1) })
}

// The case of survey practice: rows 8 ft apart, a grid that comes out at nearly the same.
func TestInStep(t *testing.T) {
	l := Lattice{Length: 36.576, Width: 18.288, Rows: 8, Columns: 15}
	steps := l.InStep(RoomGrid("work plane", room.Room{Length: 36.576, Width: 18.288}, false))
	require.Len(t, steps, 2, "15 points over 15 luminaires, 8 over 8")
	assert.Equal(t, "x", steps[0].Direction)
	assert.InEpsilon(t, 1, steps[0].Ratio, rounding)
	assert.InDelta(t, 1, steps[0].Ripple, 1e-6)
	assert.Greater(t, steps[0].Better, 15)
	assert.Contains(t, steps[0].Words(), "15 points fall at like places among them, and the mean may keep 100 percent of the ripple; take ")

	half := l.InStep(room.HorizontalGrid("fine", room.Vec{}, room.Vec{X: 36.576, Y: 18.288}, 0, 36.576/30))
	require.Len(t, half, 1, "30 points over 15 luminaires; 15 over 8 drift through")
	assert.InDelta(t, 0, half[0].Ripple, 1e-9)
	assert.InDelta(t, 1, half[0].Second, 1e-6)
	assert.Contains(t, half[0].Words(), "take turns at two places only")

	assert.Empty(t, l.InStep(room.HorizontalGrid("finer", room.Vec{}, room.Vec{X: 36.576, Y: 18.288}, 0, 36.576/45)), "three places in turn")
	assert.Empty(t, l.InStep(room.HorizontalGrid("other", room.Vec{}, room.Vec{X: 36.576, Y: 18.288}, 0, 1.9)))
	assert.Empty(t, l.InStep(room.HorizontalGrid("aisle", room.Vec{X: 3, Y: 3}, room.Vec{X: 4.2, Y: 4.2}, 0, 0.3)), "within one bay")

	rows := l
	rows.LuminousLength = 2.4
	assert.Len(t, rows.InStep(RoomGrid("work plane", room.Room{Length: 36.576, Width: 18.288}, false)), 1, "no ripple along a continuous row")
	rows.LampsAlongY, rows.LuminousLength = true, 2.2
	steps = rows.InStep(RoomGrid("work plane", room.Room{Length: 36.576, Width: 18.288}, false))
	require.Len(t, steps, 1)
	assert.Equal(t, "x", steps[0].Direction)
	assert.Empty(t, Lattice{Length: 9, Width: 9, LuminousCeiling: true}.InStep(room.HorizontalGrid("g", room.Vec{}, room.Vec{X: 9, Y: 9}, 0, 1)))

	face, err := room.VerticalGrid("face", room.Vec{X: 0, Y: 3}, room.Vec{X: 36.576, Y: 3}, 0, 4, math.Pi/2, 36.576/15)
	require.NoError(t, err)
	assert.Len(t, l.InStep(face), 1, "along the face; heights have no luminaire spacing")
	slant, err := room.VerticalGrid("face", room.Vec{}, room.Vec{X: 10, Y: 10}, 0, 4, 3*math.Pi/4, 1)
	require.NoError(t, err)
	assert.Empty(t, l.InStep(slant))
}

// The closed form against the plain sum: points at the middle of n cells of ratio r, and the area's own mean by the same cells cut
// a thousandfold. Discretisation: the midpoint rule with step h is off by about (π r h)²/6, below 1e-5 here.
func TestLeftIsThePlainSum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, r := rapid.IntRange(2, 20).Draw(t, "n"), rapid.Float64Range(0.05, 2.2).Draw(t, "ratio")
		mean := func(n int, r float64) float64 {
			sum := 0.0
			for i := range n {
				sum += math.Cos(2 * math.Pi * r * (float64(i) + 0.5 - float64(n)/2))
			}
			return sum / float64(n)
		}
		const cut = 1000
		assert.InDelta(t, math.Abs(mean(n, r)-mean(cut*n, r/cut)), left(r, n), 1e-5)
	})
}

// Both tables and the rules have sources, and the rules are those that the code asks for.
func TestTables(t *testing.T) {
	for name := range rules() {
		assert.NotEmpty(t, rule(name).Source, name)
	}
	assert.Len(t, rules(), 11)
	assert.Len(t, pointCounts(), 4)
	assert.Panics(t, func() { rule("no such") })
}
