package lifecycle

import (
	"errors"
	"fmt"
	"math"
)

const mostYears = 100

// Terms are what all plans of a comparison share. Rates are fractions a year: 0.03 is 3 percent.
type Terms struct {
	Years            int     // study period, 1 to 100; the federal one is at most FederalMostYears
	DiscountRate     float64 // real; 0 counts every year alike
	EnergyEscalation float64 // real; how much faster than general prices the price of energy rises; 0 is not at all
}

// Check returns an error if the study period is not from 1 to 100 years or a rate is not between -1 and 1.
func (t Terms) Check() error {
	var faults []error
	if t.Years < 1 || t.Years > mostYears {
		faults = append(faults, fmt.Errorf("study period: %d years, want 1 to %d", t.Years, mostYears))
	}
	for _, rate := range []struct {
		name  string
		value float64
	}{{"discount rate", t.DiscountRate}, {"energy price escalation", t.EnergyEscalation}} {
		if !(rate.value > -1 && rate.value < 1) {
			faults = append(faults, fmt.Errorf("%s: %g, want a fraction above -1 and below 1", rate.name, rate.value))
		}
	}
	return errors.Join(faults...)
}

// A Payment falls due once, at the end of a year of the study period; years count from 1.
type Payment struct {
	Year   int
	Amount float64
}

// A Plan is one course of action, such as leaving the fixtures as they are. All amounts are costs in today's money.
type Plan struct {
	Name               string
	Investment         float64   // at the start, after rebates
	Replacements       []Payment // of what does not last the study period; in any order, several a year allowed
	Residual           float64   // what is left of the value at the end of the study period
	EnergyPerYear      float64   // energy and demand, at today's prices
	MaintenancePerYear float64   // operation, maintenance and repair
}

// Check returns an error if an amount is not a finite number or a replacement falls outside the study period.
func (p Plan) Check(t Terms) error {
	var faults []error
	for _, amount := range []struct {
		name  string
		value float64
	}{
		{"investment", p.Investment}, {"residual value", p.Residual},
		{"energy a year", p.EnergyPerYear}, {"maintenance a year", p.MaintenancePerYear},
	} {
		if !finite(amount.value) {
			faults = append(faults, fmt.Errorf("plan %q: %s is %g, want a finite number", p.Name, amount.name, amount.value))
		}
	}
	for _, r := range p.Replacements {
		if !finite(r.Amount) {
			faults = append(faults, fmt.Errorf("plan %q: a replacement costs %g, want a finite number", p.Name, r.Amount))
		}
		if r.Year < 1 || r.Year > t.Years {
			faults = append(faults, fmt.Errorf("plan %q: a replacement in year %d, want one of the years 1 to %d", p.Name, r.Year, t.Years))
		}
	}
	return errors.Join(faults...)
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// A Cost is the present value of each part of a plan, and of all.
type Cost struct {
	Investment   float64
	Replacements float64
	Residual     float64 // subtracted from the total
	Energy       float64
	Maintenance  float64
	Total        float64 // the life-cycle cost, LCC
}

const badPlan = "lifecycle: the terms or a plan do not pass Check"

// Cost returns the plan's life-cycle cost. It panics if terms or plan do not pass Check.
func (p Plan) Cost(t Terms) Cost {
	if t.Check() != nil || p.Check(t) != nil {
		panic(badPlan)
	}
	c := Cost{
		Investment:  p.Investment,
		Residual:    p.Residual * SPV(t.DiscountRate, t.Years),
		Energy:      p.EnergyPerYear * EscalatedUPV(t.DiscountRate, t.EnergyEscalation, t.Years),
		Maintenance: p.MaintenancePerYear * UPV(t.DiscountRate, t.Years),
	}
	for _, r := range p.Replacements {
		c.Replacements += r.Amount * SPV(t.DiscountRate, r.Year)
	}
	c.Total = c.Investment + c.Replacements - c.Residual + c.Energy + c.Maintenance
	return c
}

// Renewals returns the replacements of a part that lasts the given years, new at the start: one at each end of its life that falls
// before the end of the study period, paid at the end of the year in which it falls. A relamping every 4 years costs in years 4, 8
// and 12 of 15. Several in a year are one payment. It panics if life is not positive.
func Renewals(life, amount float64, t Terms) []Payment {
	if !(life > 0) {
		panic("lifecycle: a life must be positive")
	}
	const rounding = 1e-9 // of a life: 3 x 0.1 years end with tenth 3, not after it
	var all []Payment
	before := 0.0 // renewals up to the end of the year before
	for year := 1; year <= t.Years; year++ {
		until := math.Floor(float64(year)/life + rounding)
		if year == t.Years {
			until = math.Max(before, math.Ceil(float64(year)/life-rounding)-1) // at the very end nobody renews
		}
		if until > before {
			all = append(all, Payment{Year: year, Amount: (until - before) * amount})
		}
		before = until
	}
	return all
}
