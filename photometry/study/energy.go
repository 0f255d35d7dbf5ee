package study

// Energy is what the two systems draw and what the difference is worth. Money is in the job's currency; nil where the job gives no
// price for it.
type Energy struct {
	ExistingKW, ProposedKW                   float64
	ExistingKWhPerYear, ProposedKWhPerYear   float64
	SavedKWhPerYear, SavedKW, SavedShare     float64
	EnergySavingPerYear, DemandSavingPerYear *float64
	SavingPerYear                            *float64 // of energy and demand, as far as priced
	NetCost                                  *float64 // installed cost less rebate
	SimplePaybackYears                       *float64 // net cost over saving a year; nil where nothing is saved
}

// energy prices the difference: kWh at the energy price, the drop of connected load at the demand price, twelve months a year.
func energy(r *Result) Energy {
	t, hours := r.Job.Tariff, r.Job.Upkeep.HoursPerYear
	e := Energy{
		ExistingKW: float64(r.Existing.Luminaires) * r.Existing.InputWattsEach / 1000,
		ProposedKW: float64(r.Proposed.Luminaires) * r.Proposed.InputWattsEach / 1000,
	}
	e.ExistingKWhPerYear, e.ProposedKWhPerYear = e.ExistingKW*hours, e.ProposedKW*hours
	e.SavedKW, e.SavedKWhPerYear = e.ExistingKW-e.ProposedKW, e.ExistingKWhPerYear-e.ProposedKWhPerYear
	e.SavedShare = e.SavedKW / e.ExistingKW
	total, priced := 0.0, false
	price := func(rate *float64, amount float64) *float64 {
		if rate == nil {
			return nil
		}
		money := *rate * amount
		total, priced = total+money, true
		return &money
	}
	e.EnergySavingPerYear = price(t.PricePerKWh, e.SavedKWhPerYear)
	e.DemandSavingPerYear = price(t.DemandPricePerKWMonth, 12*e.SavedKW)
	if priced {
		e.SavingPerYear = &total
	}
	if t.InstalledCost == nil {
		return e
	}
	net := *t.InstalledCost
	if t.Rebate != nil {
		net -= *t.Rebate
	}
	e.NetCost = &net
	if priced && total > 0 {
		years := max(0, net) / total
		e.SimplePaybackYears = &years
	}
	return e
}
