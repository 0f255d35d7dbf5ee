package job

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"lampswap/photometry/internal/tomlfile"
	"lampswap/photometry/lifecycle"
	"lampswap/photometry/utility"
)

// A Tariff is what energy costs, in the job's currency; nil is not given.
type Tariff struct {
	PricePerKWh           *float64
	Average               bool     // the price is revenue over energy: demand and fixed charges are in it
	PriceFrom             string   // its source, where the job gives no price itself
	Peak                  *Span    // when the tariff's peak is; nil is not given
	PeakPricePerKWh       *float64 // in the peak, where PricePerKWh is that outside it
	DemandPricePerKWMonth *float64
	DemandMonths          float64       // of a year in which demand is billed
	DemandShare           float64       // of the lighting load that burns at the building's peak
	HeatingCooling        float64       // what the building's cooling saves besides, less what its heating takes more, over the kWh that the lights save
	Emission              *EmissionRate // nil takes the published rate of the state or the country
}

// An EmissionRate is what a kWh not used spares, as the job gives it.
type EmissionRate struct {
	KilogramsPerKWh float64 // of CO2
	Name            string
}

// A Rebate is what is paid for the swap, by what it does.
type Rebate struct {
	Per                       string // "lamp", "luminaire", "kwh" saved in a year, "kw" saved
	Amount                    float64
	AtMost, AtMostShareOfCost *float64 // nil is not given
}

// A Line is one item of what the swap costs.
type Line struct {
	Text   string
	Amount float64
}

// Costs are what a system costs besides its energy, in the job's currency. 0 is no cost, nil is not given.
type Costs struct {
	InstalledCost, Rebate              *float64
	Lines                              []Line   // of which InstalledCost is the sum; nil where the job gives it as one
	Rebates                            []Rebate // besides Rebate
	LampPrice, LampLabor, LampDisposal float64  // of one lamp replaced
	Cleaning                           float64  // of one luminaire, once
	BallastCost, BallastLifeHours      float64  // of one ballast replaced, and how long it burns
	OtherPerYear, Residual             float64  // residual value at the end of the study
}

// Upkeep tells whether anything is known of what upkeep costs.
func (c Costs) Upkeep() bool {
	return c.LampPrice+c.LampLabor+c.LampDisposal+c.Cleaning+c.BallastCost+c.OtherPerYear > 0
}

func (r *reader) costs(t *tomlfile.Table) Costs {
	c := Costs{InstalledCost: sum(t, "installed_cost"), Rebate: sum(t, "rebate")}
	for key, to := range map[string]*float64{"lamp_price": &c.LampPrice, "lamp_labor": &c.LampLabor, "lamp_disposal": &c.LampDisposal, "cleaning": &c.Cleaning,
		"ballast_cost": &c.BallastCost, "other_per_year": &c.OtherPerYear, "residual": &c.Residual} {
		if x := sum(t, key); x != nil {
			*to = *x
		}
	}
	if hours, ok := t.Number("ballast_life_hours", tomlfile.Between(1, 1e6)); ok {
		c.BallastLifeHours = hours
	} else if c.BallastCost > 0 {
		r.need(t, "ballast_life_hours", "how long a ballast burns before it is replaced, beside ballast_cost")
	}
	t.Done()
	return c
}

// sum asks for an amount of money; nil if it is not given.
func sum(t *tomlfile.Table, key string) *float64 {
	if x, ok := t.Number(key, upTo(mostMoney)); ok {
		return &x
	}
	return nil
}

func (r *reader) money(top *tomlfile.Table) {
	energy := top.Table("energy")
	r.currency(top)
	r.tariff(energy)
	proposed := &r.job.Proposed.Costs
	for key, to := range map[string]**float64{"installed_cost": &proposed.InstalledCost, "rebate": &proposed.Rebate} {
		amount := sum(energy, key)
		switch {
		case amount != nil && *to != nil:
			energy.Fault(key, "stands in [proposed.costs] too", "one of the two")
		case amount != nil:
			*to = amount
		}
	}
	r.heatingCooling(energy)
	r.peak(energy)
	energy.Done()
	costs := top.Table("costs")
	if r.fed != nil || r.building { // else they stand with the systems
		r.wholeCosts(costs)
	}
	r.lines(costs, energy)
	r.rebates(top)
	if r.job.Imperial && !top.Has("currency") && r.job.counted() {
		r.default_(top, "currency", strconv.Quote(r.job.Currency), "of a job in feet; amounts count as they stand")
	}
	r.lifeCycle(top.Table("life_cycle"))
}

// currency reads in what money the job counts; nothing is converted.
func (r *reader) currency(top *tomlfile.Table) {
	code, ok := top.Text("currency")
	letters := func(c rune) bool { return c >= 'A' && c <= 'Z' }
	switch {
	case ok && (len(code) != 3 || strings.ContainsFunc(code, func(c rune) bool { return !letters(c) })):
		top.Fault("currency", "is "+strconv.Quote(code), "its three letters, as USD or CAD")
	case ok:
		r.job.Currency, r.job.CurrencyGiven = code, true
	case r.job.Imperial:
		r.job.Currency = dollars
	}
}

// dollars are what money in the United States counts in.
const dollars = "USD"

// counted tells that the job has an amount of money.
func (j *Job) counted() bool {
	if j.Tariff.PricePerKWh != nil || j.Tariff.DemandPricePerKWMonth != nil {
		return true
	}
	for _, s := range append(j.Systems(), j.Kinds()...) {
		if c := s.Costs; c.InstalledCost != nil || c.Rebate != nil || len(c.Rebates) > 0 || c.Upkeep() || c.Residual > 0 {
			return true
		}
	}
	return false
}

// heatingCooling reads how much more than the lights' own kWh a swap saves in the building.
func (r *reader) heatingCooling(t *tomlfile.Table) {
	const key = "heating_cooling_factor"
	f := &r.job.Tariff
	var ok bool
	if f.HeatingCooling, ok = t.Number(key, tomlfile.Between(-0.9, 1)); !ok && !t.Has(key) && f.PricePerKWh != nil {
		r.default_(t, key, "0", "what cooler lights spare the cooling and cost the heating is left out: it takes a figure of this building")
	}
}

// wholeCosts reads what systems of several groups cost as a whole, besides what goes with each kind of luminaire: [costs.replacement] and the like.
func (r *reader) wholeCosts(t *tomlfile.Table) {
	for i, s := range r.job.Systems() {
		sub := t.Table(SystemNames[i])
		for key, to := range map[string]**float64{"installed_cost": &s.Costs.InstalledCost, "rebate": &s.Costs.Rebate} {
			if amount := sum(sub, key); amount != nil && *to != nil {
				sub.Fault(key, "stands in [energy] too", "one of the two")
			} else if amount != nil {
				*to = amount
			}
		}
		for key, to := range map[string]*float64{"other_per_year": &s.Costs.OtherPerYear, "residual": &s.Costs.Residual} {
			if amount := sum(sub, key); amount != nil {
				*to = *amount
			}
		}
		sub.Done()
	}
}

const mostLineItems = 1000

// lines reads what the swap costs item by item.
func (r *reader) lines(t, energy *tomlfile.Table) {
	defer t.Done()
	items, ok := t.NamedNumbers("lines", mostLineItems, upTo(mostMoney))
	c := &r.job.Proposed.Costs
	switch {
	case t.Exists() && !t.Has("lines") && !slices.ContainsFunc(SystemNames, t.Has):
		t.Missing("lines", `what the swap costs, [["material", 9200.0], ["labor", 6400.0]]`)
	case ok && c.InstalledCost != nil:
		at := "[energy]"
		if !energy.Has("installed_cost") {
			at = "[proposed.costs]"
			if t.Has("proposed") {
				at = "[costs.proposed]"
			}
		}
		t.Fault("lines", "stand beside installed_cost in "+at, "one of the two: installed_cost is then their sum")
	case ok:
		c.InstalledCost = new(float64)
		for _, item := range items {
			c.Lines = append(c.Lines, Line{item.Name, item.Number})
			*c.InstalledCost += item.Number
		}
	}
}

// rebates reads what is paid for the swap by what it does.
func (r *reader) rebates(top *tomlfile.Table) {
	c := &r.job.Proposed.Costs
	for _, t := range top.Tables("rebates", mostTables) {
		rebate := Rebate{AtMost: sum(t, "at_most")}
		var per, amount bool
		if rebate.Per, per = t.Word("per", "lamp", "luminaire", "kwh", "kw"); !per {
			r.need(t, "per", `what it is paid for: "lamp", "luminaire", "kwh" saved in a year or "kw" saved`)
		}
		if rebate.Amount, amount = t.Number("amount", upTo(mostMoney)); !amount {
			r.need(t, "amount", "what is paid for each")
		}
		if share, ok := t.Number("at_most_share_of_cost", tomlfile.Fraction); ok {
			rebate.AtMostShareOfCost = &share
			if c.InstalledCost == nil {
				t.Fault("at_most_share_of_cost", "has no cost to be a share of", "energy.installed_cost or costs.lines beside it")
			}
		}
		for _, kind := range r.job.Proposed.Kinds() {
			if !per || rebate.Per != "lamp" || !kind.Luminaire.Absolute {
				continue
			}
			t.Fault("per", "is \"lamp\", and "+kind.Photometry+" does not tell how many lamps a luminaire has", "\"luminaire\": absolute photometry is of the luminaire as a whole")
		}
		t.Done()
		if per && amount {
			c.Rebates = append(c.Rebates, rebate)
		}
	}
	if len(c.Rebates) > 0 && r.job.Replacement != nil {
		at := "[replacement.costs]"
		if top.Has("groups") || top.Has("spaces") {
			at = "[costs.replacement]"
		}
		text := "rebates: they count for the proposed system; what is paid for the replacement is rebate in " + at
		r.job.Warnings = append(r.job.Warnings, text)
	}
}

func (r *reader) tariff(t *tomlfile.Table) {
	f := &r.job.Tariff
	f.PricePerKWh, f.DemandPricePerKWMonth = sum(t, "price_per_kwh"), sum(t, "demand_price_per_kw_month")
	if average := sum(t, "average_price_per_kwh"); average != nil {
		if f.PricePerKWh != nil {
			t.Fault("average_price_per_kwh", "stands beside price_per_kwh", "one of the two: the average price holds demand and fixed charges already")
		}
		f.PricePerKWh, f.Average = average, true
	}
	r.statePrice(t)
	f.DemandMonths, f.DemandShare = r.ofDemand(t, "demand_months", tomlfile.Between(0, 12), 12, "demand is billed every month"),
		r.ofDemand(t, "demand_share", tomlfile.Fraction, 1, "all the lights burn at the building's peak of every month, assumed")
	r.emission(t)
	r.doubleDemand(t)
}

// ofDemand asks for a number that matters only beside a demand price.
func (r *reader) ofDemand(t *tomlfile.Table, key string, rule tomlfile.Rule, usual float64, reason string) float64 {
	if x, ok := t.Number(key, rule); ok {
		return x
	}
	if !t.Has(key) && r.job.Tariff.DemandPricePerKWMonth != nil {
		r.default_(t, key, strconv.FormatFloat(usual, 'g', -1, 64), reason)
	}
	return usual
}

// statePrice takes the state's average price where the job gives none.
func (r *reader) statePrice(t *tomlfile.Table) {
	f := &r.job.Tariff
	state, known := utility.FindState(r.job.Facts.State)
	if !known || f.PricePerKWh != nil || t.Has("price_per_kwh") || t.Has("average_price_per_kwh") {
		return
	}
	if r.job.CurrencyGiven && r.job.Currency != dollars {
		r.job.Warnings = append(r.job.Warnings, fmt.Sprintf("energy: no price is taken: the average price in %s is known in %s, and the job counts in %s: give price_per_kwh", state.Name, dollars, r.job.Currency))
		return
	}
	price := state.PricePerKWh()
	f.PricePerKWh, f.Average = &price, true
	source, _, _ := strings.Cut(state.Source, ";") // what follows is of its emissions
	f.PriceFrom = fmt.Sprintf("average price of commercial customers in %s, %d: %s", state.Name, state.Year, source)
	r.default_(t, "average_price_per_kwh", strconv.FormatFloat(price, 'g', -1, 64), f.PriceFrom)
}

// doubleDemand warns where demand may be counted twice.
func (r *reader) doubleDemand(t *tomlfile.Table) {
	f := r.job.Tariff
	if f.PricePerKWh == nil || f.DemandPricePerKWMonth == nil {
		return
	}
	state, known := utility.FindState(r.job.Facts.State)
	switch {
	case f.Average:
		r.warn(t, "an average price holds demand charges already: with demand_price_per_kw_month beside it demand is counted twice; take the energy part of the tariff")
	case known && *f.PricePerKWh >= state.PricePerKWh():
		r.warn(t, "price_per_kwh is no less than the average price in %s, %.4g, which holds demand charges: with demand_price_per_kw_month beside it demand may be counted twice; take the energy part of the tariff",
			state.Name, state.PricePerKWh())
	}
}

func (r *reader) emission(t *tomlfile.Table) {
	rate, ok := t.Number("co2_kg_per_kwh", tomlfile.Between(0, 3))
	name, named := t.Text("co2_rate")
	switch {
	case ok && !t.Has("co2_rate"):
		t.Missing("co2_rate", "the name and year of the rate, as \"utility's marginal rate, 2025\"")
	case !t.Has("co2_kg_per_kwh") && named:
		t.Missing("co2_kg_per_kwh", "the rate that co2_rate names")
	case ok && named:
		r.job.Tariff.Emission = &EmissionRate{rate, name}
	}
}

// What is assumed of a life cycle where the job does not say.
const (
	usualYears        = 15
	usualDiscountRate = lifecycle.FederalDiscountRate
)

func (r *reader) lifeCycle(t *tomlfile.Table) {
	terms := &r.job.LifeCycle
	priced := r.job.Tariff.PricePerKWh != nil && r.job.Proposed.Costs.InstalledCost != nil
	unlessGiven := func(key, value, reason string) {
		if !t.Has(key) && (priced || t.Exists()) {
			r.default_(t, key, value, reason)
		}
	}
	period, rate := "study period, assumed; at most 40 years (42 USC 8254(a))", "real, as federal projects take it (10 CFR 436; that it is the floor: from memory, unverified)"
	if !r.job.InUnitedStates() {
		period, rate = "study period, assumed; at most 40 years", "real, assumed"
	}
	var ok bool
	if terms.Years, ok = t.Count("years", 1, lifecycle.FederalMostYears); !ok {
		terms.Years = usualYears
		unlessGiven("years", strconv.Itoa(usualYears), period)
	}
	if terms.DiscountRate, ok = t.Number("discount_rate", tomlfile.Between(0, 0.5)); !ok {
		terms.DiscountRate = usualDiscountRate
		unlessGiven("discount_rate", strconv.FormatFloat(usualDiscountRate, 'g', -1, 64), rate)
	}
	if terms.EnergyEscalation, ok = t.Number("energy_escalation", tomlfile.Between(-0.2, 0.2)); !ok {
		unlessGiven("energy_escalation", "0", "energy grows no dearer than other goods, assumed")
	}
	t.Done()
}
