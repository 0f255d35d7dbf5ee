package survey

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lampswap/photometry"
	"lampswap/photometry/room"
)

const rounding = 1e-12 // relative

// even gives every station of a role the same reading.
func even(p Plan, r, q, t, c float64) map[string]float64 {
	byRole := map[Role]float64{R: r, Q: q, T: t, P: c}
	values := map[string]float64{}
	for _, s := range p.Stations {
		values[s.Name] = byRole[s.Role]
	}
	return values
}

// Worked numbers of our own for the handbook's formulas (from memory, unverified), in fc; each is a fraction worked out by hand.
func TestAverageWorkedNumbers(t *testing.T) {
	const ft = photometry.Foot
	for name, c := range map[string]struct {
		lattice    Lattice
		r, q, t, p float64
		want       float64
	}{
		"A, 4 rows of 5": {Lattice{Length: 50, Width: 24, Rows: 4, Columns: 5}, 22.4, 18.1, 19.0, 14.6, 412.8 / 20},
		"B":              {Lattice{Length: 5, Width: 4, Rows: 1, Columns: 1}, 0, 0, 0, 14.6, 14.6},
		"C, 8":           {Lattice{Length: 40, Width: 4, Rows: 1, Columns: 8}, 0, 20, 0, 15, 19.375},
		"D, 3 rows of 8": {Lattice{Length: 20, Width: 9, Rows: 3, Columns: 8, LuminousLength: 2.4}, 24, 20, 18, 15, 595.0 / 27},
		"E, 8":           {Lattice{Length: 20, Width: 4, Rows: 1, Columns: 8, LuminousLength: 2.4}, 0, 20, 0, 15, 175.0 / 9},
		"F, 40 x 24 ft":  {Lattice{Length: 40 * ft, Width: 24 * ft, LuminousCeiling: true}, 24, 20, 18, 15, 20672.0 / 960},
	} {
		p := plan(t, c.lattice)
		a, err := p.Average(even(p, c.r, c.q, c.t, c.p))
		require.NoError(t, err, name)
		assert.InEpsilon(t, c.want, a.Value, rounding, name)
		assert.Empty(t, a.Notes)
	}
}

// The weights of every formula add to 1, so a uniform room returns its own value, and the average lies between the extreme readings.
// It is linear: twice the light, twice the average, exactly.
func TestAverageOfAnyRoom(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := plan(t, drawLattice(t))
		sum := 0.0
		for _, w := range p.Weights() {
			assert.GreaterOrEqual(t, w, 0.0)
			sum += w
		}
		assert.InEpsilon(t, 1, sum, rounding)

		values, twice := map[string]float64{}, map[string]float64{}
		low, high := math.Inf(1), math.Inf(-1)
		for _, s := range p.Stations {
			v := rapid.Float64Range(1, 1000).Draw(t, s.Name)
			values[s.Name], twice[s.Name] = v, 2*v
			low, high = min(low, v), max(high, v)
		}
		a, err := p.Average(values)
		require.NoError(t, err)
		sum = 0
		for _, w := range a.Weights {
			sum += w
		}
		assert.InEpsilon(t, 1, sum, rounding)
		assert.GreaterOrEqual(t, a.Value, low*(1-rounding))
		assert.LessOrEqual(t, a.Value, high*(1+rounding))
		double, err := p.Average(twice)
		require.NoError(t, err)
		assert.Equal(t, 2*a.Value, double.Value, "a power of two")
		uniform, err := p.Average(even(p, 7, 7, 7, 7))
		require.NoError(t, err)
		assert.InEpsilon(t, 7, uniform.Value, rounding)
	})
}

// With all readings there, the average is the formula on plain means of the roles.
func TestAverageIsOfPlainMeans(t *testing.T) {
	p := plan(t, Lattice{Length: 20, Width: 4, Rows: 1, Columns: 8, LuminousLength: 2.4})
	a, err := p.Average(map[string]float64{"q1": 1, "q2": 2, "q3": 3, "q4": 4, "q5": 5, "q6": 6, "p1": 10, "p2": 20})
	require.NoError(t, err)
	assert.InEpsilon(t, (3.5*8+15)/9, a.Value, rounding)
}

func TestMissingReadings(t *testing.T) {
	p := plan(t, Lattice{Length: 50, Width: 24, Rows: 4, Columns: 5})
	values := even(p, 22.4, 18.1, 19.0, 14.6)
	values["r3"] = math.NaN()
	values["r7"] = 10
	a, err := p.Average(values)
	require.NoError(t, err)
	require.Len(t, a.Notes, 1)
	assert.Equal(t, Note{Code: StoodFor, Names: []string{"r3"}, Others: []string{"r7"}, Of: betweenRows}, a.Notes[0])
	assert.InEpsilon(t, (12*(22.4*3+10)/4+72.4+57.0+14.6)/20, a.Value, rounding)
	assert.NotContains(t, a.Weights, "r3")

	delete(values, "r7")
	delete(values, "p1")
	delete(values, "p2")
	_, err = p.Average(values)
	var missing *MissingError
	require.ErrorAs(t, err, &missing)
	assert.Equal(t, []string{"r3", "r7", "p1", "p2"}, missing.Stations)
	assert.EqualError(t, err, "survey: no average: no reading at r3, r7, p1, p2")

	p.Stations = p.Stations[:8]
	_, err = p.Average(values)
	require.ErrorAs(t, err, &missing)
	assert.Contains(t, missing.Stations, "any Q station")

	dropped := plan(t, Lattice{Length: 50, Width: 24, Rows: 4, Columns: 5})
	values = even(dropped, 1, 1, 1, 1)
	dropped.Dropped, dropped.Stations = dropped.Stations[:1], dropped.Stations[1:]
	delete(values, "r1")
	a, err = dropped.Average(values)
	require.NoError(t, err)
	assert.Equal(t, [][]string{{"r1"}, {"r5"}}, [][]string{a.Notes[0].Names, a.Notes[0].Others})
}

func TestGridAverage(t *testing.T) {
	p := GridPlan(room.HorizontalGrid("aisle", room.Vec{}, room.Vec{X: 10, Y: 4}, 0, 1), "g", nil)
	require.Len(t, p.Stations, 40)
	assert.Equal(t, map[Role]float64{GridPoint: 1}, p.Weights())
	values := map[string]float64{}
	for i, s := range p.Stations {
		values[s.Name] = float64(i)
	}
	a, err := p.Average(values)
	require.NoError(t, err)
	assert.InEpsilon(t, 19.5, a.Value, rounding)
	for i := range 4 {
		delete(values, p.Stations[i].Name)
	}
	a, err = p.Average(values)
	require.NoError(t, err, "10 percent may be missing")
	assert.InEpsilon(t, (39*40/2-6)/36.0, a.Value, rounding)
	assert.Equal(t, []Note{{Code: MeanOfOthers, Names: []string{"g1-1", "g1-2", "g1-3", "g1-4"}, Count: 36}}, a.Notes)
	delete(values, "g4-10")
	_, err = p.Average(values)
	require.ErrorAs(t, err, new(*MissingError))
	_, err = Plan{Arrangement: PointGrid}.Average(nil)
	require.ErrorAs(t, err, new(*MissingError))
}
