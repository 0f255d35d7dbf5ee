package photometry_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lampswap/photometry"
)

// planes makes a table of two vertical angles whose rows hold the plane's own angle (at nadir) and 1000 more (at 90 degrees).
func planes(horizontalDeg ...float64) [][]float64 {
	rows := make([][]float64, len(horizontalDeg))
	for i, h := range horizontalDeg {
		rows[i] = []float64{h, h + 1000}
	}
	return rows
}

// Every symmetric kind of ANSI/IES LM-63, type C, unfolds to the whole circle: shown holds the tabulated plane that each plane of the circle shows.
func TestUnfolding(t *testing.T) {
	for name, c := range map[string]struct {
		horizontal, circle, shown []float64
		quadrant                  bool
	}{
		"one plane":                     {[]float64{0}, []float64{0, 360}, []float64{0, 0}, true},
		"0-90":                          {[]float64{0, 30, 90}, []float64{0, 30, 90, 150, 180, 210, 270, 330, 360}, []float64{0, 30, 90, 30, 0, 30, 90, 30, 0}, true},
		"0-90, its ends alone":          {[]float64{0, 90}, []float64{0, 90, 180, 270, 360}, []float64{0, 90, 0, 90, 0}, true},
		"0-180":                         {[]float64{0, 45, 180}, []float64{0, 45, 180, 315, 360}, []float64{0, 45, 180, 45, 0}, false},
		"90-270":                        {[]float64{90, 120, 180, 210, 270}, []float64{0, 60, 90, 120, 180, 210, 270, 330, 360}, []float64{180, 120, 90, 120, 180, 210, 270, 210, 180}, false},
		"90-270, no plane at 180":       {[]float64{90, 120, 200, 270}, []float64{0, 60, 90, 120, 180, 200, 270, 340, 360}, []float64{180, 120, 90, 120, 180, 200, 270, 200, 180}, false},
		"90-270, its ends alone":        {[]float64{90, 270}, []float64{0, 90, 180, 270, 360}, []float64{180, 90, 180, 270, 180}, false},
		"0-360, closing plane":          {[]float64{0, 100, 200, 360}, []float64{0, 100, 200, 360}, []float64{0, 100, 200, 0}, false},
		"0-360, no closing plane":       {[]float64{0, 90, 180, 270}, []float64{0, 90, 180, 270, 360}, []float64{0, 90, 180, 270, 0}, false},
		"0-360, angles printed rounded": {[]float64{0.0005, 120, 240, 359.9995}, []float64{0, 120, 240, 360}, []float64{0.0005, 120, 240, 0.0005}, false},
	} {
		t.Run(name, func(t *testing.T) {
			d, err := photometry.NewDistribution(c.horizontal, []float64{0, 90}, planes(c.horizontal...))
			require.NoError(t, err)
			angles := d.HorizontalAngles()
			require.Len(t, angles, len(c.circle))
			for i, a := range angles {
				assert.InDelta(t, radians(c.circle[i]), a, rounding)
				assert.InDelta(t, c.shown[i], d.Candela(i, 0), 1e-9, "plane %v", c.circle[i])
				assert.InDelta(t, c.shown[i]+1000, d.Candela(i, 1), 1e-9, "plane %v", c.circle[i])
			}
			assert.Equal(t, c.quadrant, d.QuadrantSymmetric())
			assert.Equal(t, []float64{0, math.Pi / 2}, d.VerticalAngles())
		})
	}
}

// A table that is folded is the table that is not.
func TestFoldedIsUnfolded(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		candela := rapid.SliceOfN(rapid.Float64Range(0, 1000), 6, 6).Draw(t, "candela")
		a, b, c := candela[:2], candela[2:4], candela[4:]
		vertical := []float64{0, 180}
		make360 := func(rows ...[]float64) *photometry.Distribution {
			d, err := photometry.NewDistribution([]float64{0, 90, 180, 270}, vertical, rows)
			require.NoError(t, err)
			return d
		}
		fold := func(horizontal []float64, rows ...[]float64) *photometry.Distribution {
			d, err := photometry.NewDistribution(horizontal, vertical, rows)
			require.NoError(t, err)
			return d
		}
		h := rapid.Float64Range(-10, 10).Draw(t, "horizontal, rad")
		v := rapid.Float64Range(0, math.Pi).Draw(t, "vertical, rad")
		for _, pair := range [][2]*photometry.Distribution{
			{fold([]float64{0}, a), make360(a, a, a, a)},
			{fold([]float64{0, 90}, a, b), make360(a, b, a, b)},
			{fold([]float64{0, 90, 180}, a, b, c), make360(a, b, c, b)},
			{fold([]float64{90, 180, 270}, a, b, c), make360(b, a, b, c)},
			{fold([]float64{0, 90, 180, 270, 360}, a, b, c, a, a), make360(a, b, c, a)},
		} {
			assert.InDelta(t, pair[1].Intensity(h, v), pair[0].Intensity(h, v), 1e-9)
			assert.InDelta(t, pair[1].Flux(), pair[0].Flux(), 1e-9)
		}
		assert.InDelta(t, fold([]float64{0, 90}, a, b).Intensity(h, v), fold([]float64{0, 90}, a, b).Intensity(-h, v), 1e-9, "mirrored about 0-180")
		assert.InDelta(t, fold([]float64{90, 180, 270}, a, b, c).Intensity(h, v),
			fold([]float64{90, 180, 270}, a, b, c).Intensity(math.Pi-h, v), 1e-9, "mirrored about 90-270")
	})
}

func TestIntensityIsTabulatedAtNodesAndLinearBetween(t *testing.T) {
	horizontal, vertical := []float64{0, 30, 90, 200}, []float64{10, 20, 50, 120}
	candela := [][]float64{{1, 2, 4, 8}, {3, 9, 27, 81}, {5, 25, 125, 625}, {7, 49, 343, 2401}}
	d, err := photometry.NewDistribution(horizontal, vertical, candela)
	require.NoError(t, err)
	for h, row := range candela {
		for v, c := range row {
			assert.InEpsilon(t, c, d.Intensity(radians(horizontal[h]), radians(vertical[v])), rounding, "node %v, %v", horizontal[h], vertical[v])
		}
	}
	for _, c := range []struct{ h, v, want float64 }{
		{0, 15, 1.5},                    // half way between 1 and 2
		{0, 35, 3},                      // 2 and 4
		{15, 10, 2},                     // 1 and 3
		{15, 15, (1 + 2 + 3 + 9) / 4.0}, // the middle of a cell
		{50, 30, (2*(2*9+27) + (2*25 + 125)) / 9.0}, // a third of the way on both
		{280, 10, 4},       // 200 to the closing plane: 7 and 1
		{-80, 10, 4},       // the same, another turn
		{280 + 720, 10, 4}, //
	} {
		assert.InEpsilon(t, c.want, d.Intensity(radians(c.h), radians(c.v)), 1e-11, "%+v", c)
	}
	assert.Zero(t, d.Intensity(0, radians(9.99)), "below the table")
	assert.Zero(t, d.Intensity(0, radians(120.01)), "above the table")
	assert.Equal(t, 2401.0, d.Peak())
}

func TestScaled(t *testing.T) {
	d, err := photometry.NewDistribution([]float64{0, 90}, []float64{0, 40, 90}, [][]float64{{100, 80, 0}, {100, 120, 5}})
	require.NoError(t, err)
	twice := d.Scaled(2)
	assert.Equal(t, 2*d.Flux(), twice.Flux(), "exact: a power of two")
	assert.Equal(t, 2*d.Peak(), twice.Peak())
	assert.Equal(t, 2*d.Intensity(1, 1), twice.Intensity(1, 1))
	assert.Equal(t, d.QuadrantSymmetric(), twice.QuadrantSymmetric())
	assert.Equal(t, 120.0, d.Peak(), "the original stays")
}

// What is handed out is a copy, and what came in may change later.
func TestDistributionNeverChanges(t *testing.T) {
	row := []float64{100, 50}
	d, err := photometry.NewDistribution([]float64{0}, []float64{0, 90}, [][]float64{row})
	require.NoError(t, err)
	row[0] = 7
	d.VerticalAngles()[0], d.HorizontalAngles()[0] = 9, 9
	assert.Equal(t, 100.0, d.Intensity(0, 0))
	assert.Zero(t, d.VerticalAngles()[0])
	assert.Zero(t, d.HorizontalAngles()[0])

	horizontal, table := []float64{90, 270}, planes(90, 270)
	_, err = photometry.NewDistribution(horizontal, []float64{0, 90}, table)
	require.NoError(t, err)
	assert.Equal(t, []float64{90, 270}, horizontal, "the plane at 180 is put into a copy")
	assert.Equal(t, planes(90, 270), table)
}

func TestNewDistributionRefuses(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for name, c := range map[string]struct {
		horizontal, vertical []float64
		candela              [][]float64
		says                 string
	}{
		"no plane":               {nil, []float64{0, 90}, nil, `photometry: a distribution needs at least one horizontal and two vertical angles`},
		"one vertical angle":     {[]float64{0}, []float64{0}, [][]float64{{1}}, `photometry: a distribution needs at least one horizontal and two vertical angles`},
		"0 to 120":               {[]float64{0, 60, 120}, []float64{0, 90}, planes(0, 60, 120), `photometry: horizontal angles from 0 to 120 degrees are none of 0 alone, 0-90, 0-180, 90-270, 0-360`},
		"one plane at 45":        {[]float64{45}, []float64{0, 90}, planes(45), `photometry: horizontal angles from 45 to 45 degrees are none of 0 alone, 0-90, 0-180, 90-270, 0-360`},
		"45 to 135":              {[]float64{45, 135}, []float64{0, 90}, planes(45, 135), `photometry: horizontal angles from 45 to 135 degrees are none of 0 alone, 0-90, 0-180, 90-270, 0-360`},
		"beyond 360":             {[]float64{0, 370}, []float64{0, 90}, planes(0, 370), `photometry: horizontal angle 370 is outside 0 to 360 degrees`},
		"negative":               {[]float64{-90, 90}, []float64{0, 90}, planes(-90, 90), `photometry: horizontal angle -90 is outside 0 to 360 degrees`},
		"horizontal not rising":  {[]float64{0, 90, 90}, []float64{0, 90}, planes(0, 90, 90), `photometry: horizontal angle 90 does not follow 90 in ascending order`},
		"vertical falling":       {[]float64{0}, []float64{0, 90, 80}, [][]float64{{1, 1, 1}}, `photometry: vertical angle 80 does not follow 90 in ascending order`},
		"vertical beyond zenith": {[]float64{0}, []float64{0, 181}, [][]float64{{1, 1}}, `photometry: vertical angle 181 is outside 0 to 180 degrees`},
		"vertical unknown":       {[]float64{0}, []float64{0, nan}, [][]float64{{1, 1}}, `photometry: vertical angle NaN is outside 0 to 180 degrees`},
		"negative candela":       {[]float64{0}, []float64{0, 90}, [][]float64{{1, -2}}, `photometry: candela -2 at horizontal 0, vertical 90 is not a finite number of at least 0`},
		"candela unknown":        {[]float64{0}, []float64{0, 90}, [][]float64{{nan, 2}}, `photometry: candela NaN at horizontal 0, vertical 0 is not a finite number of at least 0`},
		"endless candela":        {[]float64{0}, []float64{0, 90}, [][]float64{{1, inf}}, `photometry: candela +Inf at horizontal 0, vertical 90 is not a finite number of at least 0`},
	} {
		t.Run(name, func(t *testing.T) {
			d, err := photometry.NewDistribution(c.horizontal, c.vertical, c.candela)
			require.EqualError(t, err, c.says)
			assert.Nil(t, d)
		})
	}
	assert.PanicsWithValue(t, "photometry: candela rows do not match the horizontal angles",
		func() { _, _ = photometry.NewDistribution([]float64{0, 90}, []float64{0, 90}, planes(0)) })
	assert.PanicsWithValue(t, "photometry: candela columns do not match the vertical angles",
		func() { _, _ = photometry.NewDistribution([]float64{0}, []float64{0, 45, 90}, planes(0)) })
}

func BenchmarkIntensity(b *testing.B) {
	horizontal, vertical := steps(90, 9), steps(90, 36)
	rows := make([][]float64, len(horizontal))
	for i := range rows {
		rows[i] = make([]float64, len(vertical))
		for j := range rows[i] {
			rows[i][j] = float64(i + j)
		}
	}
	d, err := photometry.NewDistribution(horizontal, vertical, rows)
	require.NoError(b, err)
	b.ReportAllocs()
	sum := 0.0
	for b.Loop() {
		sum += d.Intensity(2.1, 0.7)
	}
	require.Positive(b, sum)
}
