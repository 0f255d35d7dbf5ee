package study

import (
	"math"

	"lampswap/photometry"
	"lampswap/photometry/job"
	"lampswap/photometry/lighting"
	"lampswap/photometry/losses"
)

// Energy is what the systems draw and cost, and what the difference is worth. Money is in the job's currency; nil where the job gives no
// price for it.
type Energy struct {
	ExistingKW, ProposedKW                 float64 // as found: what failed draws less, what is dimmed too
	AllLitKW, AllLitKWhPerYear             float64 // of the existing if no luminaire had failed
	ExistingKWhPerYear, ProposedKWhPerYear float64
	SavedShare                             float64 // of the load
	HeatingCooling                         float64 // the factor of the job for what the building's cooling and heating save besides
	Saving                                         // of the proposed system

	Rebates   []RebatePaid // of the proposed system, in the job's order
	Accounts  []Account    // one a side, in their order
	Emissions []Emission   // what the saving spares, by every rate that may be meant
}

// A Saving is what a system draws and costs less than the existing one. Money is in the job's currency; nil where the job gives no price for it.
type Saving struct {
	SavedKW               float64
	SavedKWhPerYear       float64 // with what the building's cooling and heating save besides
	LightsSavedKWhPerYear float64 // without
	EnergySavingPerYear   *float64
	DemandSavingPerYear   *float64
	UpkeepSavingPerYear   *float64 // relamping, ballasts, cleaning and the like
	SavingPerYear         *float64 // of all that is priced
	NetCost               *float64 // installed cost less every rebate
	SimplePaybackYears    *float64 // net cost, less that of leaving things as they are, over saving a year; nil where nothing is saved
}

// An Account is what one system draws and costs in a year.
type Account struct {
	KW, KWhPerYear            float64
	PeakKWhPerYear            float64 // of KWhPerYear, where the peak has a price of its own
	AllLitKW                  float64 // if none had failed
	AllLitKWhPerYear          float64
	Spared                    float64          // a year: what the building's cooling and heating cost less than with the existing lights
	Energy, Demand            *float64         // a year; nil without a price
	Lamps, Ballasts           float64          // replaced in a year, price, work and disposal
	Cleaning, Other           float64          // a year
	NetCost                   *float64         // installed cost less every rebate; nil if the job does not say
	LampsReplaced             float64          // a year
	groupLamps                []groupRelamping // of Lamps, what is replaced as a group
	upkeepKnown, lampsUnknown bool
}

// Upkeep is the cost of a year besides energy and demand, in the job's currency.
func (a Account) Upkeep() float64 { return a.Lamps + a.Ballasts + a.Cleaning + a.Other }

// UpkeepKnown tells that the job says what the system's upkeep costs.
func (a Account) UpkeepKnown() bool { return a.upkeepKnown }

// Power is what energy and demand cost in a year; ok is false without a price.
func (a Account) Power() (cost float64, ok bool) {
	if a.Energy != nil {
		cost, ok = cost+*a.Energy, true
	}
	if a.Demand != nil {
		cost, ok = cost+*a.Demand, true
	}
	return cost, ok
}

// AccountOf prices one system: kWh at the energy price, the load at the demand price, lamps at the end of their time. The load is as found: what
// failed draws what the job says, what is dimmed less; a control saves hours.
func AccountOf(j *job.Job, from *job.System, s *lighting.System) Account {
	a := Account{upkeepKnown: true}
	for _, side := range (lighting.Side{From: from, System: s}).Kinds() {
		a.add(j, side.From)
	}
	if from.Parts != nil && from.Costs.OtherPerYear > 0 {
		a.upkeepKnown = true
	}
	price := func(rate *float64, amount float64) *float64 {
		if rate == nil {
			return nil
		}
		cost := *rate * amount
		return &cost
	}
	t, c := j.Tariff, from.Costs
	a.Energy, a.Demand = price(t.PricePerKWh, a.KWhPerYear-a.PeakKWhPerYear), price(t.DemandPricePerKWMonth, a.KW*t.DemandMonths*t.DemandShare)
	if inPeak := price(t.PeakPricePerKWh, a.PeakKWhPerYear); inPeak != nil {
		*a.Energy += *inPeak
	}
	a.Other = c.OtherPerYear
	if c.InstalledCost != nil {
		net := *c.InstalledCost
		if c.Rebate != nil {
			net -= *c.Rebate
		}
		a.NetCost = &net
	}
	return a
}

// add adds what luminaires of one kind draw, and what their upkeep costs: of those that are lit, as failed ones are neither cleaned nor relamped.
func (a *Account) add(j *job.Job, from *job.System) {
	kw, lit := from.Watts()/1000, len(from.Lit())
	a.KW += kw
	a.AllLitKW += from.AllLitWatts() / 1000
	a.AllLitKWhPerYear += from.AllLitWatts() / 1000 * from.HoursBurnt(j)
	a.KWhPerYear += kw * from.HoursBurnt(j)
	if share, ok := from.PeakShare(j); ok && j.Tariff.PeakPricePerKWh != nil {
		a.PeakKWhPerYear += share * kw * from.HoursBurnt(j)
	}
	c := from.Costs
	a.upkeepKnown = a.upkeepKnown && c.Upkeep()
	a.lamps(j, from)
	if c.BallastCost > 0 {
		a.Ballasts += c.BallastCost * float64(lit*ballastsOf(from)) * from.HoursBurnt(j) / c.BallastLifeHours
	}
	if from.Care.CleanYears > 0 {
		a.Cleaning += c.Cleaning * float64(lit) / from.Care.CleanYears
	}
}

// lamps prices the lamps of a year: each at its rated life where they are replaced as they fail; as a group all at the relamping interval,
// and those that fail earlier besides, unless the job says that they stay dark (a burnout factor of its own). An L70 life is no failure.
func (a *Account) lamps(j *job.Job, from *job.System) {
	life, spot := from.RatedLifeHours(), from.Care.RelampHours == 0
	at := from.Care.RelampHours
	if spot {
		at = life
	}
	each := from.Costs.LampPrice + from.Costs.LampLabor + from.Costs.LampDisposal
	if at == 0 {
		a.lampsUnknown = a.lampsUnknown || each > 0
		return
	}
	replaced := float64(len(from.Lit())*from.Lamps) * from.HoursBurnt(j) / at
	if !spot {
		if interval := at / from.HoursBurnt(j); each > 0 && photometry.Finite(interval) {
			a.groupLamps = append(a.groupLamps, groupRelamping{each * replaced, interval})
		}
		if fails := from.Lamp != nil && !from.Lamp.L70; fails && from.Losses.LampBurnout == nil {
			replaced *= 1 + losses.Failures(at, life)
		}
	}
	a.LampsReplaced += replaced
	a.Lamps += each * replaced
}

// A groupRelamping is what lamps cost in a year that are all replaced together, and every how many years they are.
type groupRelamping struct{ perYear, interval float64 }

func ballastsOf(from *job.System) int {
	if from.Ballast != nil {
		return from.Ballast.Count
	}
	return 1
}

// energy sets the accounts of the sides against each other.
func energy(r *Result) Energy {
	e := Energy{HeatingCooling: r.Job.Tariff.HeatingCooling}
	for _, side := range r.Sides {
		e.Accounts = append(e.Accounts, AccountOf(r.Job, side.From, side.System))
	}
	e.spare()
	before, after := e.Accounts[0], &e.Accounts[1]
	e.ExistingKW, e.ProposedKW, e.AllLitKW = before.KW, after.KW, before.AllLitKW
	e.AllLitKWhPerYear = before.AllLitKWhPerYear
	e.ExistingKWhPerYear, e.ProposedKWhPerYear = before.KWhPerYear, after.KWhPerYear
	e.SavedShare = (before.KW - after.KW) / before.KW
	e.Saving = e.SavingOf(1)
	if e.Rebates = rebates(r, &e); after.NetCost != nil {
		for _, paid := range e.Rebates {
			*after.NetCost -= paid.Paid
		}
	}
	e.Saving = e.SavingOf(1)
	return e
}

// SavingOf returns what a side saves against the existing one, by the accounts of both.
func (e *Energy) SavingOf(side int) Saving {
	before, after := e.Accounts[0], e.Accounts[side]
	s := Saving{SavedKW: before.KW - after.KW, LightsSavedKWhPerYear: before.KWhPerYear - after.KWhPerYear, NetCost: after.NetCost}
	s.SavedKWhPerYear = s.LightsSavedKWhPerYear * (1 + e.HeatingCooling)
	s.EnergySavingPerYear, s.DemandSavingPerYear = less(before.Energy, after.Energy), less(before.Demand, after.Demand)
	if s.EnergySavingPerYear != nil {
		*s.EnergySavingPerYear *= 1 + e.HeatingCooling
	}
	upkeepBefore, upkeepAfter := before.Upkeep(), after.Upkeep()
	if before.upkeepKnown && after.upkeepKnown {
		s.UpkeepSavingPerYear = less(&upkeepBefore, &upkeepAfter)
	}
	for _, saving := range []*float64{s.EnergySavingPerYear, s.DemandSavingPerYear, s.UpkeepSavingPerYear} {
		if saving != nil {
			if s.SavingPerYear == nil {
				s.SavingPerYear = new(float64)
			}
			*s.SavingPerYear += *saving
		}
	}
	if s.NetCost != nil && s.SavingPerYear != nil && *s.SavingPerYear > 0 {
		added := *s.NetCost
		if before.NetCost != nil {
			added -= *before.NetCost
		}
		if years := max(0, added) / *s.SavingPerYear; !math.IsInf(years, 0) { // of a saving next to nothing
			s.SimplePaybackYears = &years
		}
	}
	return s
}

// spare notes what the building's cooling and heating cost less with each system than with the existing one.
func (e *Energy) spare() {
	for i := range e.Accounts {
		if saved := less(e.Accounts[0].Energy, e.Accounts[i].Energy); saved != nil && *saved != 0 { // no times a loss were a zero with a sign
			e.Accounts[i].Spared = e.HeatingCooling * *saved
		}
	}
}

// less is the difference of two amounts that are known, else nil.
func less(before, after *float64) *float64 {
	if before == nil || after == nil {
		return nil
	}
	saved := *before - *after
	return &saved
}
