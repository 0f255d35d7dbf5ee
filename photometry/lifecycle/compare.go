package lifecycle

import "math"

// Measures tell what an alternative is worth against a base. Money is in the plans' currency, present values. A measure that has no
// value is NaN, as its line says.
type Measures struct {
	Base, Alternative Cost

	AddedFirstCost  float64 // what the alternative costs more at the start
	AddedInvestment float64 // the same with replacements, less residual value; present value
	Savings         float64 // of energy, less what maintenance costs more; present value
	NetSavings      float64 // NS: Savings - AddedInvestment, or life-cycle cost of the base - that of the alternative

	SIR  float64 // Savings over AddedInvestment; NaN if AddedInvestment is not above 0
	AIRR float64 // a fraction a year; NaN where SIR is, or is negative (no root)

	SimplePaybackYears     float64 // NaN if AddedFirstCost is not above 0, or is not repaid within the study period
	DiscountedPaybackYears float64 // the same
}

// Compare returns what the alternative is worth against the base. It panics if terms or plans do not pass Check.
//
// A payback counts the gain of each year: energy at that year's price, maintenance, replacements, and in the last year the
// residual value. Inside the year in which the added first cost is repaid the gain is taken to come evenly, so the time is
// interpolated linearly. The first such time counts, even if a later replacement undoes it. With no escalation and even gains the
// simple payback is added first cost over yearly gain.
func Compare(base, alternative Plan, t Terms) Measures {
	m := Measures{Base: base.Cost(t), Alternative: alternative.Cost(t)}
	b, a := m.Base, m.Alternative
	m.AddedFirstCost = a.Investment - b.Investment
	m.AddedInvestment = m.AddedFirstCost + (a.Replacements - b.Replacements) - (a.Residual - b.Residual)
	m.Savings = (b.Energy - a.Energy) - (a.Maintenance - b.Maintenance)
	m.NetSavings = b.Total - a.Total
	m.SIR, m.AIRR = math.NaN(), math.NaN()
	if m.AddedInvestment > 0 {
		m.SIR = m.Savings / m.AddedInvestment
	}
	if m.SIR >= 0 {
		m.AIRR = (1+t.DiscountRate)*math.Pow(m.SIR, 1/float64(t.Years)) - 1
	}
	gains := gains(base, alternative, t)
	m.SimplePaybackYears = payback(m.AddedFirstCost, gains)
	for i := range gains {
		gains[i] *= SPV(t.DiscountRate, i+1)
	}
	m.DiscountedPaybackYears = payback(m.AddedFirstCost, gains)
	return m
}

// gains returns what the alternative costs less than the base in each year after the start, not discounted.
func gains(base, alternative Plan, t Terms) []float64 {
	all := make([]float64, t.Years)
	for i := range all {
		rise := math.Pow(1+t.EnergyEscalation, float64(i+1))
		all[i] = (base.EnergyPerYear-alternative.EnergyPerYear)*rise + base.MaintenancePerYear - alternative.MaintenancePerYear
	}
	for _, r := range base.Replacements {
		all[r.Year-1] += r.Amount
	}
	for _, r := range alternative.Replacements {
		all[r.Year-1] -= r.Amount
	}
	all[t.Years-1] += alternative.Residual - base.Residual
	return all
}

// payback returns the years after which the yearly gains have repaid the outlay, or NaN.
func payback(outlay float64, gains []float64) float64 {
	if outlay <= 0 {
		return math.NaN()
	}
	for i, gain := range gains {
		if gain >= outlay {
			return float64(i) + outlay/gain
		}
		outlay -= gain
	}
	return math.NaN()
}
