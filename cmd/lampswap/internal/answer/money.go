package answer

import (
	"lampswap/photometry/job"
	"lampswap/photometry/study"
	"lampswap/photometry/wording"
)

type jsonEnergy struct {
	ExistingKW          Number         `json:"existing_kw"`
	ProposedKW          Number         `json:"proposed_kw"`
	ExistingKWhPerYear  Number         `json:"existing_kwh_per_year"`
	ProposedKWhPerYear  Number         `json:"proposed_kwh_per_year"`
	SavedKW             Number         `json:"saved_kw"`
	SavedKWhPerYear     Number         `json:"saved_kwh_per_year"`
	SavedShare          Number         `json:"saved_share"`
	EnergySavingPerYear *Number        `json:"energy_saving_per_year"`
	DemandSavingPerYear *Number        `json:"demand_saving_per_year"`
	UpkeepSavingPerYear *Number        `json:"upkeep_saving_per_year"`
	SavingPerYear       *Number        `json:"saving_per_year"`
	NetCost             *Number        `json:"net_cost"`
	SimplePaybackYears  *Number        `json:"simple_payback_years"`
	Accounts            []jsonAccount  `json:"accounts"`
	LampsOut            []jsonLampsOut `json:"lamps_out"`
	Emissions           []jsonEmission `json:"emissions"`
	AllLitKW            Number         `json:"all_lit_kw"`
	AllLitKWh           Number         `json:"all_lit_kwh_per_year"`
	Currency            *string        `json:"currency"`
	HeatingCooling      Number         `json:"heating_cooling_factor"`
	InstalledCost       *Number        `json:"installed_cost"`
	Lines               [][2]any       `json:"lines"` // of the installed cost: text, amount
	Rebates             []jsonRebate   `json:"rebates"`

	ReplacementKW         *Number `json:"replacement_kw,omitempty"`
	ReplacementKWhPerYear *Number `json:"replacement_kwh_per_year,omitempty"`
}

type jsonRebate struct {
	Per      string `json:"per"`
	Amount   Number `json:"amount"`
	Units    Number `json:"units"`
	Uncapped Number `json:"uncapped"`
	Paid     Number `json:"paid"`
}

// jsonLampsOut is what a lamp burnout factor other than 1 makes of a system.
type jsonLampsOut struct {
	System  string `json:"system"`
	Burnout Number `json:"lamp_burnout"`
	AllLit  Number `json:"all_lit_average"`
	KW      Number `json:"kw"`
	LeastKW Number `json:"kw_if_lamps_out_draw_nothing"`
}

type jsonAccount struct {
	System       string  `json:"system"`
	KW           Number  `json:"kw"`
	KWhPerYear   Number  `json:"kwh_per_year"`
	Energy       *Number `json:"energy_cost_per_year"`
	Demand       *Number `json:"demand_cost_per_year"`
	Lamps        Number  `json:"lamps_cost_per_year"`
	Ballasts     Number  `json:"ballasts_cost_per_year"`
	Cleaning     Number  `json:"cleaning_cost_per_year"`
	Other        Number  `json:"other_cost_per_year"`
	NetCost      *Number `json:"net_cost"`
	LampsPerYear Number  `json:"lamps_replaced_per_year"`
	PeakKWh      *Number `json:"peak_kwh_per_year,omitempty"` // where the tariff's peak has a price of its own

	Saving *jsonAgainst `json:"saving,omitempty"` // against the existing system
}

// jsonAgainst is what a system saves in a year against the existing one; null where the job gives no price for it.
type jsonAgainst struct {
	KW          Number  `json:"kw"`
	KWhPerYear  Number  `json:"kwh_per_year"`
	Energy      *Number `json:"energy_per_year"`
	Demand      *Number `json:"demand_per_year"`
	Upkeep      *Number `json:"upkeep_per_year"`
	PerYear     *Number `json:"per_year"`
	NetCost     *Number `json:"net_cost"`
	PaybackYear *Number `json:"simple_payback_years"`
}

func jsonAgainstOf(s study.Saving) *jsonAgainst {
	return &jsonAgainst{Number(s.SavedKW), Number(s.SavedKWhPerYear), money(s.EnergySavingPerYear), money(s.DemandSavingPerYear), money(s.UpkeepSavingPerYear),
		money(s.SavingPerYear), money(s.NetCost), money(s.SimplePaybackYears)}
}

type jsonEmission struct {
	Rate           string `json:"rate"`
	KgPerKWh       Number `json:"kg_per_kwh"`
	SavedKgPerYear Number `json:"saved_kg_per_year"`
	Source         string `json:"source"`
	Caveat         string `json:"caveat,omitempty"`

	ReplacementKg *Number `json:"replacement_saved_kg_per_year,omitempty"`
}

func (v view) jsonEnergyOf(r *study.Result) jsonEnergy {
	e := r.Energy
	out := jsonEnergy{Number(e.ExistingKW), Number(e.ProposedKW), Number(e.ExistingKWhPerYear), Number(e.ProposedKWhPerYear),
		Number(e.SavedKW), Number(e.SavedKWhPerYear), Number(e.SavedShare), money(e.EnergySavingPerYear), money(e.DemandSavingPerYear),
		money(e.UpkeepSavingPerYear), money(e.SavingPerYear), money(e.NetCost), money(e.SimplePaybackYears), []jsonAccount{}, []jsonLampsOut{}, []jsonEmission{},
		Number(e.AllLitKW), Number(e.AllLitKWhPerYear), currency(r.Job), Number(e.HeatingCooling), money(r.Job.Proposed.Costs.InstalledCost), [][2]any{}, []jsonRebate{}, nil, nil}
	for _, l := range r.Job.Proposed.Costs.Lines {
		out.Lines = append(out.Lines, [2]any{l.Text, Number(l.Amount)})
	}
	for _, p := range e.Rebates {
		out.Rebates = append(out.Rebates, jsonRebate{p.Per, Number(p.Amount), Number(p.Units), Number(p.Uncapped), Number(p.Paid)})
	}
	for i, side := range r.Sides {
		a := e.Accounts[i]
		account := jsonAccount{side.Name, Number(a.KW), Number(a.KWhPerYear), money(a.Energy), money(a.Demand), Number(a.Lamps),
			Number(a.Ballasts), Number(a.Cleaning), Number(a.Other), money(a.NetCost), Number(a.LampsReplaced), nil, nil}
		if i > 0 {
			account.Saving = jsonAgainstOf(e.SavingOf(i))
		}
		if r.Job.Tariff.PeakPricePerKWh != nil {
			account.PeakKWh = money(&a.PeakKWhPerYear)
		}
		out.Accounts = append(out.Accounts, account)
	}
	for _, a := range e.Accounts[2:] {
		out.ReplacementKW, out.ReplacementKWhPerYear = money(&a.KW), money(&a.KWhPerYear)
	}
	for _, o := range r.Outages() {
		out.LampsOut = append(out.LampsOut, jsonLampsOut{o.Name, Number(o.Factor), v.light(o.AllLit), Number(o.KW), Number(o.LeastKW)})
	}
	for _, m := range e.Emissions {
		emission := jsonEmission{m.Rate, Number(m.KgPerKWh), Number(m.SavedKgPerYear), m.Source, m.Caveat, nil}
		if r.ThreeWays() {
			saved := m.Of(e.SavingOf(2))
			emission.ReplacementKg = money(&saved)
		}
		out.Emissions = append(out.Emissions, emission)
	}
	return out
}

// currency is null where it is not known.
func currency(j *job.Job) *string {
	if j.Currency == "" {
		return nil
	}
	return &j.Currency
}

type jsonLifeCycle struct {
	Years            int       `json:"years"`
	DiscountRate     Number    `json:"discount_rate"`
	EnergyEscalation Number    `json:"energy_escalation"`
	Ways             []jsonWay `json:"ways"`
	Notes            []string  `json:"notes"`
}

type jsonWay struct {
	System       string        `json:"system"`
	Name         string        `json:"name"` // of the same, in older words
	Investment   Number        `json:"investment"`
	Replacements Number        `json:"replacements"`
	Residual     Number        `json:"residual"`
	Energy       Number        `json:"energy"`
	Maintenance  Number        `json:"maintenance"`
	Total        Number        `json:"life_cycle_cost"`
	Measures     *jsonMeasures `json:"measures,omitempty"`
}

// olderWayNames are what systems were called here before they had one name everywhere; scripts may rely on them.
var olderWayNames = map[string]string{"existing": "leave as is", "proposed": "convert in place", "replacement": "replace the fixtures"}

type jsonMeasures struct {
	NetSavings             Number `json:"net_savings"`
	SavingsToInvestment    Number `json:"savings_to_investment_ratio"`
	AdjustedReturn         Number `json:"adjusted_internal_rate_of_return"`
	SimplePaybackYears     Number `json:"simple_payback_years"`
	DiscountedPaybackYears Number `json:"discounted_payback_years"`
}

func jsonLifeCycleOf(r *study.Result) *jsonLifeCycle {
	l := r.LifeCycle
	if l == nil {
		return nil
	}
	out := jsonLifeCycle{l.Terms.Years, Number(l.Terms.DiscountRate), Number(l.Terms.EnergyEscalation), nil, append([]string{}, wording.Ratio(r)...)}
	for _, w := range l.Ways {
		c := w.Cost
		out.Ways = append(out.Ways, jsonWay{w.Name, olderWayNames[w.Name], Number(c.Investment), Number(c.Replacements), Number(c.Residual), Number(c.Energy), Number(c.Maintenance),
			Number(c.Total), jsonMeasuresOf(w)})
	}
	return &out
}

func jsonMeasuresOf(w study.Way) *jsonMeasures {
	m := w.Measures
	if m == nil {
		return nil
	}
	return &jsonMeasures{Number(m.NetSavings), Number(m.SIR), Number(m.AIRR), Number(w.SimplePaybackYears), Number(m.DiscountedPaybackYears)}
}

type jsonPowerLimit struct {
	ID          string `json:"id"`
	Code        string `json:"code"`
	Edition     string `json:"edition"`
	Method      string `json:"method"`
	Space       string `json:"space"`
	Limit       Number `json:"limit"`
	ExistingMet bool   `json:"existing_met"`
	ProposedMet bool   `json:"proposed_met"`
	Source      string `json:"source"`
	Confidence  string `json:"confidence"`

	ReplacementMet *bool `json:"replacement_met,omitempty"`
}

func (v view) jsonPowerLimits(r *study.Result) []jsonPowerLimit {
	all := []jsonPowerLimit{}
	for _, l := range r.PowerLimits() {
		limit := jsonPowerLimit{l.ID, l.Code, l.Year, l.Method, l.Space, Number(l.WattsPerSquareMetre() / v.PerArea), l.MetBy[0], l.MetBy[1],
			l.Citation(), l.Confidence, nil}
		for k := range l.MetBy[2:] {
			limit.ReplacementMet = &l.MetBy[2+k]
		}
		all = append(all, limit)
	}
	return all
}

type jsonYears struct {
	System     string      `json:"system"`
	Horizon    Number      `json:"horizon_years"`
	Lowest     Number      `json:"lowest_average"`
	Judged     Number      `json:"judged_after_years"`
	FirstBelow []jsonBelow `json:"first_below"`
	Notes      []string    `json:"notes"`
	Years      []Number    `json:"years,omitempty"`
	Average    []Number    `json:"average,omitempty"`
}

type jsonBelow struct {
	Criterion string `json:"criterion"`
	Grid      string `json:"grid"`
	Statistic string `json:"statistic"`
	Years     Number `json:"years"`
	Least     Number `json:"least"`
}

func (v view) jsonYears(r *study.Result, points bool) []jsonYears {
	var all []jsonYears
	for i, y := range r.Years {
		out := jsonYears{System: y.Name, Horizon: Number(y.Horizon), Lowest: v.light(y.Lowest), Judged: Number(y.Judged), FirstBelow: []jsonBelow{}, Notes: wording.Years(r, i)}
		for _, b := range y.Below {
			out.FirstBelow = append(out.FirstBelow, jsonBelow{b.Criterion.Name, b.Criterion.Grid, b.Criterion.Statistic.String(), Number(b.Years), v.light(b.Least)})
		}
		for i, m := range y.Moments {
			if points {
				out.Years, out.Average = append(out.Years, Number(m.Years)), append(out.Average, v.light(y.Light[i]))
			}
		}
		all = append(all, out)
	}
	return all
}
