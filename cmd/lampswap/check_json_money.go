package main

import (
	"lampswap/photometry/study"
)

type jsonEnergy struct {
	ExistingKW          number         `json:"existing_kw"`
	ProposedKW          number         `json:"proposed_kw"`
	ExistingKWhPerYear  number         `json:"existing_kwh_per_year"`
	ProposedKWhPerYear  number         `json:"proposed_kwh_per_year"`
	SavedKW             number         `json:"saved_kw"`
	SavedKWhPerYear     number         `json:"saved_kwh_per_year"`
	SavedShare          number         `json:"saved_share"`
	EnergySavingPerYear *number        `json:"energy_saving_per_year"`
	DemandSavingPerYear *number        `json:"demand_saving_per_year"`
	UpkeepSavingPerYear *number        `json:"upkeep_saving_per_year"`
	SavingPerYear       *number        `json:"saving_per_year"`
	NetCost             *number        `json:"net_cost"`
	SimplePaybackYears  *number        `json:"simple_payback_years"`
	Accounts            []jsonAccount  `json:"accounts"`
	Emissions           []jsonEmission `json:"emissions"`
}

type jsonAccount struct {
	System       string  `json:"system"`
	KW           number  `json:"kw"`
	KWhPerYear   number  `json:"kwh_per_year"`
	Energy       *number `json:"energy_cost_per_year"`
	Demand       *number `json:"demand_cost_per_year"`
	Lamps        number  `json:"lamps_cost_per_year"`
	Ballasts     number  `json:"ballasts_cost_per_year"`
	Cleaning     number  `json:"cleaning_cost_per_year"`
	Other        number  `json:"other_cost_per_year"`
	NetCost      *number `json:"net_cost"`
	LampsPerYear number  `json:"lamps_replaced_per_year"`
}

type jsonEmission struct {
	Rate           string `json:"rate"`
	KgPerKWh       number `json:"kg_per_kwh"`
	SavedKgPerYear number `json:"saved_kg_per_year"`
	Source         string `json:"source"`
	Caveat         string `json:"caveat,omitempty"`
}

func jsonEnergyOf(r *study.Result) jsonEnergy {
	e := r.Energy
	out := jsonEnergy{number(e.ExistingKW), number(e.ProposedKW), number(e.ExistingKWhPerYear), number(e.ProposedKWhPerYear),
		number(e.SavedKW), number(e.SavedKWhPerYear), number(e.SavedShare), money(e.EnergySavingPerYear), money(e.DemandSavingPerYear),
		money(e.UpkeepSavingPerYear), money(e.SavingPerYear), money(e.NetCost), money(e.SimplePaybackYears), []jsonAccount{}, []jsonEmission{}}
	for i, side := range r.Sides() {
		a := e.Accounts[i]
		out.Accounts = append(out.Accounts, jsonAccount{side.Name, number(a.KW), number(a.KWhPerYear), money(a.Energy), money(a.Demand), number(a.Lamps),
			number(a.Ballasts), number(a.Cleaning), number(a.Other), money(a.NetCost), number(a.LampsReplaced)})
	}
	for _, m := range e.Emissions {
		out.Emissions = append(out.Emissions, jsonEmission{m.Rate, number(m.KgPerKWh), number(m.SavedKgPerYear), m.Source, m.Caveat})
	}
	return out
}

type jsonLifeCycle struct {
	Years            int       `json:"years"`
	DiscountRate     number    `json:"discount_rate"`
	EnergyEscalation number    `json:"energy_escalation"`
	Ways             []jsonWay `json:"ways"`
}

type jsonWay struct {
	Name         string        `json:"name"`
	Investment   number        `json:"investment"`
	Replacements number        `json:"replacements"`
	Residual     number        `json:"residual"`
	Energy       number        `json:"energy"`
	Maintenance  number        `json:"maintenance"`
	Total        number        `json:"life_cycle_cost"`
	Measures     *jsonMeasures `json:"measures,omitempty"`
}

type jsonMeasures struct {
	NetSavings             number `json:"net_savings"`
	SavingsToInvestment    number `json:"savings_to_investment_ratio"`
	AdjustedReturn         number `json:"adjusted_internal_rate_of_return"`
	SimplePaybackYears     number `json:"simple_payback_years"`
	DiscountedPaybackYears number `json:"discounted_payback_years"`
}

func jsonLifeCycleOf(r *study.Result) *jsonLifeCycle {
	l := r.LifeCycle
	if l == nil {
		return nil
	}
	out := jsonLifeCycle{l.Terms.Years, number(l.Terms.DiscountRate), number(l.Terms.EnergyEscalation), nil}
	for _, w := range l.Ways {
		c := w.Cost
		out.Ways = append(out.Ways, jsonWay{w.Name, number(c.Investment), number(c.Replacements), number(c.Residual), number(c.Energy), number(c.Maintenance),
			number(c.Total), jsonMeasuresOf(w)})
	}
	return &out
}

func jsonMeasuresOf(w study.Way) *jsonMeasures {
	m := w.Measures
	if m == nil {
		return nil
	}
	return &jsonMeasures{number(m.NetSavings), number(m.SIR), number(m.AIRR), number(w.SimplePaybackYears), number(m.DiscountedPaybackYears)}
}

type jsonPowerLimit struct {
	ID          string `json:"id"`
	Code        string `json:"code"`
	Edition     string `json:"edition"`
	Method      string `json:"method"`
	Space       string `json:"space"`
	Limit       number `json:"limit"`
	ExistingMet bool   `json:"existing_met"`
	ProposedMet bool   `json:"proposed_met"`
	Source      string `json:"source"`
	Confidence  string `json:"confidence"`
}

func (v view) jsonPowerLimits(r *study.Result) []jsonPowerLimit {
	var all []jsonPowerLimit
	for _, l := range r.PowerLimits() {
		all = append(all, jsonPowerLimit{l.ID, l.Code, l.Year, l.Method, l.Space, number(l.WattsPerSquareMetre() / v.perArea), l.ExistingMet, l.ProposedMet,
			l.Citation(), l.Confidence})
	}
	return all
}

type jsonYears struct {
	System     string      `json:"system"`
	Horizon    number      `json:"horizon_years"`
	Lowest     number      `json:"lowest_average"`
	FirstBelow []jsonBelow `json:"first_below"`
	Notes      []string    `json:"notes"`
	Years      []number    `json:"years,omitempty"`
	Average    []number    `json:"average,omitempty"`
}

type jsonBelow struct {
	Criterion string `json:"criterion"`
	Grid      string `json:"grid"`
	Statistic string `json:"statistic"`
	Years     number `json:"years"`
}

func (v view) jsonYears(r *study.Result, points bool) []jsonYears {
	var all []jsonYears
	for _, y := range r.Years {
		out := jsonYears{System: y.Name, Horizon: number(y.Horizon), Lowest: v.light(y.Lowest), FirstBelow: []jsonBelow{}, Notes: y.Notes}
		for _, b := range y.Below {
			out.FirstBelow = append(out.FirstBelow, jsonBelow{b.Criterion.Name, b.Criterion.Grid, b.Criterion.Statistic.String(), number(b.Years)})
		}
		for i, m := range y.Moments {
			if points {
				out.Years, out.Average = append(out.Years, number(m.Years)), append(out.Average, v.light(y.Light[i]))
			}
		}
		all = append(all, out)
	}
	return all
}
