package lifecycle

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Two air-conditioning systems over 20 years at 3 %, the example of the federal life-cycle-cost course that goes with NIST
// Handbook 135. The inputs are from memory, unverified; the results are exact arithmetic on them, redone by hand.
var airBase = Plan{
	Name: "constant volume", Investment: 103000, Replacements: []Payment{{12, 12000}}, Residual: 3500,
	EnergyPerYear: 20000, MaintenancePerYear: 7000,
}

var airAlternative = Plan{
	Name: "night setback", Investment: 110000, Replacements: []Payment{{12, 12500}}, Residual: 3700,
	EnergyPerYear: 13000, MaintenancePerYear: 8000,
}

const electricityUPV = 15.13 // UPV* of electricity in that example

// airTerms finds the even escalation whose UPV* is the example's, as its own rise differs from year to year.
func airTerms(t *testing.T) Terms {
	t.Helper()
	low, high := 0.0, 0.01
	for range 100 {
		if middle := (low + high) / 2; EscalatedUPV(0.03, middle, 20) < electricityUPV {
			low = middle
		} else {
			high = middle
		}
	}
	require.InEpsilon(t, electricityUPV, EscalatedUPV(0.03, low, 20), 1e-14) // rounding
	return Terms{Years: 20, DiscountRate: 0.03, EnergyEscalation: low}
}

func TestWorkedExampleOfTheCourse(t *testing.T) {
	m := Compare(airBase, airAlternative, airTerms(t))
	const cent = 0.005 // print
	assert.InDelta(t, 516221.02, m.Base.Total, cent)
	assert.InDelta(t, 432428.45, m.Alternative.Total, cent)
	assert.InDelta(t, 83792.57, m.NetSavings, cent)
	t.Logf("largest deviation %.4f of %.0f", max(math.Abs(m.Base.Total-516221.02), math.Abs(m.Alternative.Total-432428.45), math.Abs(m.NetSavings-83792.57)), m.Base.Total)
	assert.InDelta(t, 12.57, m.SIR, 0.005)         // print
	assert.InDelta(t, 0.169, m.AIRR, 0.0005)       // print
	assert.InDelta(t, 302600, m.Base.Energy, 1e-6) // rounding
	assert.Equal(t, 7000.0, m.AddedFirstCost)
	// By hand: the gain of year 1 is 7,000 x (1 + e) - 1,000 and nearly repays; e is about 0.0016.
	gain := func(year float64) float64 { return 7000*math.Pow(1+airTerms(t).EnergyEscalation, year) - 1000 }
	assert.InEpsilon(t, 1+(7000-gain(1))/gain(2), m.SimplePaybackYears, 1e-12) // rounding
}

// The same with the factors rounded as in print: .701, .554, 14.88.
func TestWorkedExampleOfTheCourseInPrint(t *testing.T) {
	round := func(x, unit float64) float64 { return math.Round(x/unit) * unit }
	spv12, spv20, upv := round(SPV(0.03, 12), 0.001), round(SPV(0.03, 20), 0.001), round(UPV(0.03, 20), 0.01)
	total := func(p Plan) float64 {
		return p.Investment + p.Replacements[0].Amount*spv12 - p.Residual*spv20 + p.EnergyPerYear*electricityUPV + p.MaintenancePerYear*upv
	}
	assert.InDelta(t, 516233, total(airBase), 1e-6)                                 // rounding
	assert.InDelta(t, 432442.70, total(airAlternative), 1e-6)                       // rounding
	assert.InDelta(t, 83790.30, total(airBase)-total(airAlternative), 1e-6)         // rounding
	assert.InDelta(t, 7239.70, 7000+500*spv12-200*round(SPV(0.03, 20), .001), 1e-6) // rounding
}

// A lamp swap constructed for our working notes, not published; results there are computed by hand, to the digits given.
// 72 luminaires from 158 to 112 W, 4,000 h a year at 0.11 a kWh, 9.00 a kW-month, 21,000 installed less 4,000 of rebate.
func TestWorkedLampSwap(t *testing.T) {
	const kW, energyOnly, both = 72 * 0.046, 4000 * 0.11, 4000*0.11 + 12*9
	for _, c := range []struct {
		name                     string
		years                    int
		price                    float64 // a year for each kW saved
		savings, net, sir        float64
		airr, simple, discounted float64
	}{
		{"10 years", 10, both, 15482.11, -1517.89, 0.91071, 0.020412, 9.3665, math.NaN()},
		{"15 years", 15, both, 21667.07, 4667.07, 1.27453, 0.046793, 9.3665, 11 + (17000-16793.29)/(18066.28-16793.29)},
		{"15 years, energy alone", 15, energyOnly, 17396.91, 396.91, 1.02335, math.NaN(), 11.6656, math.NaN()},
	} {
		t.Run(c.name, func(t *testing.T) {
			m := Compare(Plan{EnergyPerYear: kW * c.price}, Plan{Investment: 17000}, Terms{Years: c.years, DiscountRate: 0.03})
			assert.InDelta(t, c.savings, m.Savings, 0.005) // print
			assert.InDelta(t, c.net, m.NetSavings, 0.005)  // print
			assert.InDelta(t, c.sir, m.SIR, 0.5e-5)        // print
			if !math.IsNaN(c.airr) {
				assert.InDelta(t, c.airr, m.AIRR, 0.5e-6) // print
			}
			assert.InDelta(t, c.simple, m.SimplePaybackYears, 0.5e-4) // print
			switch {
			case c.years == 10:
				assert.True(t, math.IsNaN(m.DiscountedPaybackYears), "not within the period")
			case c.price == both:
				assert.InDelta(t, c.discounted, m.DiscountedPaybackYears, 2e-5) // print: cents over 1,273 a year
			default:
				assert.Equal(t, 14.0, math.Floor(m.DiscountedPaybackYears), "within year 15")
			}
		})
	}
	assert.InDelta(t, 1814.976, kW*both, 1e-9)      // rounding
	assert.InDelta(t, 1457.28, kW*energyOnly, 1e-9) // rounding
}

func TestMeasuresWithoutAValue(t *testing.T) {
	terms := Terms{Years: 10, DiscountRate: 0.03}
	keep := Plan{EnergyPerYear: 1000}
	for _, c := range []struct {
		name                          string
		alternative                   Plan
		sir, airr, simple, discounted bool // has a value
	}{
		{"costs nothing more", Plan{EnergyPerYear: 500}, false, false, false, false},
		{"costs less", Plan{Investment: -100, EnergyPerYear: 500}, false, false, false, false},
		{"saves too little", Plan{Investment: 10000, EnergyPerYear: 500}, true, true, false, false},
		{"saves nothing", Plan{Investment: 100, EnergyPerYear: 1000}, true, true, false, false},
		{"costs more every year", Plan{Investment: 100, EnergyPerYear: 1100}, true, false, false, false},
		{"pays back before discounting only", Plan{Investment: 4800, EnergyPerYear: 500}, true, true, true, false},
		{"pays back", Plan{Investment: 1000, EnergyPerYear: 500}, true, true, true, true},
		{"the residual value repays the rest", Plan{Investment: 6000, Residual: 5000, EnergyPerYear: 500}, true, true, true, true},
	} {
		m := Compare(keep, c.alternative, terms)
		assert.Equal(t, c.sir, !math.IsNaN(m.SIR), "%s: SIR", c.name)
		assert.Equal(t, c.airr, !math.IsNaN(m.AIRR), "%s: AIRR", c.name)
		assert.Equal(t, c.simple, !math.IsNaN(m.SimplePaybackYears), "%s: simple payback", c.name)
		assert.Equal(t, c.discounted, !math.IsNaN(m.DiscountedPaybackYears), "%s: discounted payback", c.name)
	}
	one := Compare(keep, Plan{Investment: 100, EnergyPerYear: 1100}, Terms{Years: 1})
	assert.True(t, math.IsNaN(one.AIRR), "the first root of a negative number is not taken either")
	nothing := Compare(keep, Plan{Investment: 100, EnergyPerYear: 1000}, terms)
	assert.Equal(t, -1.0, nothing.AIRR, "all is lost")
}

// A replacement delays the payback, one that is saved brings it forward, and one that falls due later cannot undo it.
func TestPaybackCountsReplacements(t *testing.T) {
	terms := Terms{Years: 10}
	keep := Plan{EnergyPerYear: 1000}
	swap := Plan{Investment: 2500}
	years := func(base, alternative Plan) float64 { return Compare(base, alternative, terms).SimplePaybackYears }
	assert.Equal(t, 2.5, years(keep, swap))
	swap.Replacements = []Payment{{2, 700}}
	assert.InEpsilon(t, 3.2, years(keep, swap), 1e-12) // rounding
	keep.Replacements = []Payment{{2, 1000}, {1, 200}}
	assert.InEpsilon(t, 2, years(keep, swap), 1e-12) // rounding: 1,200 + 1,300
	keep.Replacements, swap.Replacements = nil, []Payment{{3, 9000}}
	assert.True(t, math.IsNaN(years(keep, swap)), "it falls due within the year of payback")
	swap.Replacements[0].Year = 4
	assert.Equal(t, 2.5, years(keep, swap))
	assert.Less(t, Compare(keep, swap, terms).NetSavings, 0.0, "though it never pays in the end")
}

func drawPlan(t *rapid.T, name string, years int) Plan {
	money := rapid.Float64Range(0, 1e5)
	p := Plan{
		Name: name, Investment: money.Draw(t, name+" investment"), Residual: money.Draw(t, name+" residual"),
		EnergyPerYear: money.Draw(t, name+" energy"), MaintenancePerYear: money.Draw(t, name+" maintenance"),
	}
	for range rapid.IntRange(0, 4).Draw(t, name+" replacements") {
		p.Replacements = append(p.Replacements, Payment{rapid.IntRange(1, years).Draw(t, "year"), money.Draw(t, "amount")})
	}
	return p
}

func TestMeasuresAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		terms := Terms{
			Years:            rapid.IntRange(1, 40).Draw(t, "years"),
			DiscountRate:     rapid.Float64Range(0, 0.2).Draw(t, "d"),
			EnergyEscalation: rapid.Float64Range(-0.1, 0.2).Draw(t, "e"),
		}
		base, alternative := drawPlan(t, "base", terms.Years), drawPlan(t, "alternative", terms.Years)
		m := Compare(base, alternative, terms)
		size := math.Abs(m.Base.Total) + math.Abs(m.Alternative.Total) + 1e5 // of the numbers that are subtracted
		rounding := 1e-12 * size
		assert.InDelta(t, m.Savings-m.AddedInvestment, m.NetSavings, rounding, "two ways to net savings")

		// All costs of each year, discounted, are the life-cycle cost: another way to the same.
		flows := -m.AddedFirstCost
		for i, gain := range gains(base, alternative, terms) {
			flows += gain / math.Pow(1+terms.DiscountRate, float64(i+1))
		}
		assert.InDelta(t, flows, m.NetSavings, rounding, "year by year")

		back := Compare(alternative, base, terms)
		assert.Equal(t, m.NetSavings, -back.NetSavings)

		if math.IsNaN(m.SIR) {
			assert.LessOrEqual(t, m.AddedInvestment, 0.0)
			return
		}
		if math.Abs(m.NetSavings) > rounding {
			assert.Equal(t, m.NetSavings > 0, m.SIR > 1)
		}
		if n := float64(terms.Years); m.SIR > 0 {
			compounded := m.Savings * math.Pow(1+terms.DiscountRate, n) // 10 CFR 436.22, first form
			assert.InDelta(t, math.Pow(compounded/m.AddedInvestment, 1/n)-1, m.AIRR, 1e-12*(1+math.Abs(m.AIRR)))
			if math.Abs(m.SIR-1) > 1e-9 {
				assert.Equal(t, m.SIR > 1, m.AIRR > terms.DiscountRate)
			}
		}
		if m.AddedFirstCost > 0 && m.NetSavings > rounding {
			assert.LessOrEqual(t, m.DiscountedPaybackYears, float64(terms.Years), "what pays within the period pays back in it")
		}
	})
}

// With gains alone, discounting delays the payback, and one within the period means that the plan pays.
func TestDiscountedPaybackIsLater(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		terms := Terms{Years: rapid.IntRange(1, 40).Draw(t, "years"), DiscountRate: rapid.Float64Range(0, 0.2).Draw(t, "d")}
		saving, cost := rapid.Float64Range(1, 1e4).Draw(t, "saving"), rapid.Float64Range(1, 1e5).Draw(t, "cost")
		m := Compare(Plan{EnergyPerYear: saving}, Plan{Investment: cost}, terms)
		simple := cost / saving
		if math.Abs(simple-float64(terms.Years)) > 1e-9 {
			assert.Equal(t, simple < float64(terms.Years), !math.IsNaN(m.SimplePaybackYears))
		}
		if !math.IsNaN(m.SimplePaybackYears) {
			assert.InEpsilon(t, simple, m.SimplePaybackYears, 1e-12) // rounding
		}
		if math.IsNaN(m.DiscountedPaybackYears) {
			assert.Less(t, m.NetSavings, 1e-9*cost)
			return
		}
		assert.GreaterOrEqual(t, m.DiscountedPaybackYears, m.SimplePaybackYears*(1-1e-12))
		assert.Greater(t, m.NetSavings, -1e-9*cost)
	})
}
