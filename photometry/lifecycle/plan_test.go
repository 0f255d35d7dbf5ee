package lifecycle

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestCheckNamesEveryFault(t *testing.T) {
	require.NoError(t, Terms{Years: 100, DiscountRate: 0.03, EnergyEscalation: -0.01}.Check())
	err := Terms{Years: 0, DiscountRate: 3, EnergyEscalation: math.NaN()}.Check()
	assert.EqualError(t, err, strings.Join([]string{
		"study period: 0 years, want 1 to 100",
		"discount rate: 3, want a fraction above -1 and below 1",
		"energy price escalation: NaN, want a fraction above -1 and below 1",
	}, "\n"))

	terms := Terms{Years: 20}
	require.NoError(t, airBase.Check(terms))
	bad := Plan{Name: "bad", Investment: math.NaN(), EnergyPerYear: math.Inf(1), Replacements: []Payment{{0, 1}, {21, math.NaN()}}}
	err = bad.Check(terms)
	assert.EqualError(t, err, strings.Join([]string{
		`plan "bad": investment is NaN, want a finite number`,
		`plan "bad": energy a year is +Inf, want a finite number`,
		`plan "bad": a replacement in year 0, want one of the years 1 to 20`,
		`plan "bad": a replacement costs NaN, want a finite number`,
		`plan "bad": a replacement in year 21, want one of the years 1 to 20`,
	}, "\n"))
	assert.PanicsWithValue(t, badPlan, func() { bad.Cost(terms) })
	assert.PanicsWithValue(t, badPlan, func() { airBase.Cost(Terms{}) })
	assert.PanicsWithValue(t, badPlan, func() { Compare(airBase, bad, terms) })
}

func TestCostWithoutDiscountIsASum(t *testing.T) {
	assert.Equal(t, Cost{Investment: 103000, Replacements: 12000, Residual: 3500, Energy: 400000, Maintenance: 140000, Total: 651500},
		airBase.Cost(Terms{Years: 20}))
}

func TestRenewals(t *testing.T) {
	for _, c := range []struct {
		name  string
		life  float64
		years int
		want  []Payment
	}{
		{"every 4 years", 4, 15, []Payment{{4, 10}, {8, 10}, {12, 10}}},
		{"none at the very end", 4, 12, []Payment{{4, 10}, {8, 10}}},
		{"inside a year: at its end", 4.5, 15, []Payment{{5, 10}, {9, 10}, {14, 10}}},
		{"inside the last year", 4.5, 5, []Payment{{5, 10}}},
		{"several a year", 0.5, 3, []Payment{{1, 20}, {2, 20}, {3, 10}}},
		{"outlasts the period", 16, 15, nil},
		{"16,000 h at 4,380 h a year", 16000.0 / 4380, 12, []Payment{{4, 10}, {8, 10}, {11, 10}}},
	} {
		assert.Equal(t, c.want, Renewals(c.life, 10, Terms{Years: c.years}), c.name)
	}
	assert.Panics(t, func() { Renewals(0, 10, Terms{Years: 5}) })
}

// Counted one by one, the ends of life before the end of the period are as many as Renewals pays for.
func TestRenewalsCountsEveryEndOfLife(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		terms := Terms{Years: rapid.IntRange(1, 40).Draw(t, "years")}
		tenths := rapid.IntRange(1, 60).Draw(t, "life in tenths of a year")
		want := map[int]float64{}
		for end := tenths; end < 10*terms.Years; end += tenths {
			want[(end+9)/10]++
		}
		got := map[int]float64{}
		for _, p := range Renewals(float64(tenths)/10, 1, terms) {
			got[p.Year] = p.Amount
		}
		if !assert.ObjectsAreEqual(want, got) {
			t.Fatalf("life %v of %d years: got %v, want %v", float64(tenths)/10, terms.Years, got, want)
		}
	})
}
