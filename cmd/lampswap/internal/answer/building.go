package answer

import (
	"io"
	"math"
	"time"

	"lampswap/cmd/lampswap/internal/origin"
	"lampswap/cmd/lampswap/internal/units"
	"lampswap/photometry/whole"
	"lampswap/photometry/wording"
)

// A Building is all that check answers of a building.
type Building struct {
	Building         jsonBuilding        `json:"building"`
	Spaces           []jsonSpaceOf       `json:"spaces"`
	Totals           jsonTotals          `json:"totals"`
	Verdict          string              `json:"verdict"`
	Energy           jsonEnergy          `json:"energy"`
	LifeCycle        *jsonLifeCycle      `json:"life_cycle"`
	Schedule         []jsonKind          `json:"schedule"`
	TakeOff          []string            `json:"take_off"` // sentences: what is counted, and what is to be done with what goes out
	ByPayback        []jsonStep          `json:"by_payback"`
	Phases           []jsonStage         `json:"phases,omitempty"`
	PhasedNetSavings *Number             `json:"phased_net_savings,omitempty"`
	Limits           jsonBuildingLimits  `json:"power_density_limits"`
	Defaults         []jsonSharedDefault `json:"defaults"`
	Warnings         []string            `json:"warnings"`
	Cautions         []string            `json:"cautions"`
	Firm             *jsonFirm           `json:"firm,omitempty"`
	Origin
}

type jsonBuilding struct {
	Title           string `json:"title"`
	Units           string `json:"units"`
	LengthUnit      string `json:"length_unit"`
	IlluminanceUnit string `json:"illuminance_unit"`
	State           string `json:"state,omitempty"`
}

type jsonFirm struct {
	Name    string   `json:"name"`
	Address []string `json:"address"`
	Phone   string   `json:"phone,omitempty"`
	Email   string   `json:"email,omitempty"`
	License string   `json:"license,omitempty"`
}

type jsonSpaceOf struct {
	Name              string  `json:"name"`
	Copies            int     `json:"copies"`
	Job               string  `json:"job,omitempty"` // the path of its job
	FloorArea         Number  `json:"floor_area"`    // of one copy, as all that follows
	Met               *bool   `json:"met"`           // null without criteria
	Verdict           string  `json:"verdict"`
	LuminairesChanged int     `json:"luminaires_changed"`
	SavingPerYear     *Number `json:"saving_per_year"` // of what is counted for the whole
	PowerLimit        *string `json:"power_density_limit_id"`
	Limit             *Number `json:"power_density_limit"`
	Check             Result  `json:"check"`
}

type jsonTotals struct {
	FloorArea            Number `json:"floor_area"`
	Luminaires           int    `json:"luminaires"`
	ProposedLuminaires   int    `json:"proposed_luminaires"`
	ExistingKW           Number `json:"existing_kw"`
	ProposedKW           Number `json:"proposed_kw"`
	ExistingConnectedKW  Number `json:"existing_connected_kw"`
	ProposedConnectedKW  Number `json:"proposed_connected_kw"`
	ExistingKWhPerYear   Number `json:"existing_kwh_per_year"`
	ProposedKWhPerYear   Number `json:"proposed_kwh_per_year"`
	ExistingPowerDensity Number `json:"existing_power_density"`
	ProposedPowerDensity Number `json:"proposed_power_density"`
	Spaces               int    `json:"spaces"`
	SpacesMet            int    `json:"spaces_met"`
	SpacesMissed         int    `json:"spaces_missed"`
	SpacesNotJudged      int    `json:"spaces_not_judged"`

	*jsonReplaced // left out where no space has a replacement
}

// jsonReplaced are the totals of a replacement; a space that has none counts in it as proposed.
type jsonReplaced struct {
	Luminaires   int    `json:"replacement_luminaires"`
	KW           Number `json:"replacement_kw"`
	ConnectedKW  Number `json:"replacement_connected_kw"`
	KWhPerYear   Number `json:"replacement_kwh_per_year"`
	PowerDensity Number `json:"replacement_power_density"`
	SpacesMet    int    `json:"replacement_spaces_met"`
	SpacesMissed int    `json:"replacement_spaces_missed"`
}

func totalsOf(t whole.Totals, u units.Units) jsonTotals {
	e, p := t.Sides[0], t.Sides[1]
	out := jsonTotals{
		FloorArea: Number(t.FloorArea / (u.Meter * u.Meter)), Luminaires: e.Luminaires, ProposedLuminaires: p.Luminaires, ExistingKW: Number(e.KW), ProposedKW: Number(p.KW),
		ExistingConnectedKW: Number(e.Connected / 1000), ProposedConnectedKW: Number(p.Connected / 1000), ExistingKWhPerYear: Number(e.KWhPerYear),
		ProposedKWhPerYear: Number(p.KWhPerYear), ExistingPowerDensity: Number(e.Density / u.PerArea), ProposedPowerDensity: Number(p.Density / u.PerArea),
		Spaces: t.Spaces, SpacesMet: p.Met, SpacesMissed: p.Missed, SpacesNotJudged: t.Unjudged}
	for _, r := range t.Sides[2:] {
		out.jsonReplaced = &jsonReplaced{r.Luminaires, Number(r.KW), Number(r.Connected / 1000), Number(r.KWhPerYear), Number(r.Density / u.PerArea), r.Met, r.Missed}
	}
	return out
}

type jsonKind struct {
	Kind        string        `json:"kind"`
	Lamp        string        `json:"lamp"` // those in one luminaire
	Ballast     string        `json:"ballast,omitempty"`
	Existing    int           `json:"existing"`
	Proposed    int           `json:"proposed"`
	Replacement *int          `json:"replacement,omitempty"` // where the building has one
	Lamps       int           `json:"lamps"`
	Ballasts    int           `json:"ballasts"`
	Sockets     int           `json:"sockets"`
	LampsOut    int           `json:"lamps_out"`
	BallastsOut int           `json:"ballasts_out"`
	Mounted     int           `json:"luminaires_in"`
	Dismounted  int           `json:"luminaires_out"`
	Length      Number        `json:"length"` // of strip with new lamps
	Mercury     bool          `json:"lamps_out_hold_mercury"`
	MayHoldPCB  bool          `json:"ballasts_out_may_hold_pcb"`
	LampsCost   *Number       `json:"lamps_cost,omitempty"`    // of those that come in, by the kind's lamp_price
	Disposal    *Number       `json:"disposal_cost,omitempty"` // of the lamps that go out, by its lamp_disposal
	Spaces      []jsonInSpace `json:"spaces"`
}

type jsonInSpace struct {
	Name        string `json:"name"`
	Existing    int    `json:"existing"`
	Proposed    int    `json:"proposed"`
	Replacement *int   `json:"replacement,omitempty"`
}

type jsonStep struct {
	Space          string `json:"space"`
	Cost           Number `json:"cost"`
	SavingPerYear  Number `json:"saving_per_year"`
	PaybackYears   Number `json:"simple_payback_years"`
	CostSoFar      Number `json:"cost_so_far"`
	SavingSoFar    Number `json:"saving_per_year_so_far"`
	SavedKWhSoFar  Number `json:"saved_kwh_per_year_so_far"`
	KW             Number `json:"kw_of_the_building_then"`
	SpacesSoFar    int    `json:"spaces_so_far"`
	SpacesMetSoFar int    `json:"spaces_met_so_far"`
}

type jsonStage struct {
	Name        string   `json:"name"`
	Date        string   `json:"date,omitempty"` // the first has none: as it is now
	Spaces      []string `json:"spaces"`
	KW          Number   `json:"kw"`
	KWhPerYear  Number   `json:"kwh_per_year"`
	Met         int      `json:"spaces_met"`
	Missed      int      `json:"spaces_missed"`
	CostSoFar   Number   `json:"cost_so_far"`
	SavingSoFar Number   `json:"saving_per_year_so_far"`
}

type jsonBuildingLimits struct {
	SpaceBySpace []jsonLimitSum  `json:"space_by_space"`
	BuildingArea []jsonAreaLimit `json:"building_area"`
	Unknown      []string        `json:"spaces_without_a_listed_limit"`
}

type jsonLimitSum struct {
	Code        string   `json:"code"`
	Edition     string   `json:"edition"`
	Spaces      []string `json:"spaces"`
	NotListed   []string `json:"spaces_not_listed"`
	FloorArea   Number   `json:"floor_area"`
	AllowedKW   Number   `json:"allowed_kw"`
	ExistingKW  Number   `json:"existing_kw"`
	ProposedKW  Number   `json:"proposed_kw"`
	ExistingMet bool     `json:"existing_met"`
	ProposedMet bool     `json:"proposed_met"`

	ReplacementKW  *Number `json:"replacement_kw,omitempty"`
	ReplacementMet *bool   `json:"replacement_met,omitempty"`
}

type jsonAreaLimit struct {
	ID          string `json:"id"`
	Code        string `json:"code"`
	Edition     string `json:"edition"`
	Building    string `json:"building"`
	Limit       Number `json:"limit"`
	ExistingMet bool   `json:"existing_met"`
	ProposedMet bool   `json:"proposed_met"`
	Source      string `json:"source"`
	Confidence  string `json:"confidence"`

	ReplacementMet *bool `json:"replacement_met,omitempty"`
}

type jsonSharedDefault struct {
	jsonDefault
	Spaces []string `json:"spaces,omitempty"` // that took it; none is the building, or all
}

// WriteBuilding writes the result of a building in its units at full precision.
func WriteBuilding(w io.Writer, r *whole.Result, points bool) error {
	return Encode(w, OfBuilding(r, points))
}

// OfBuilding puts the result of a building into its units; with the points of its grids if they are asked for.
func OfBuilding(r *whole.Result, points bool) Building {
	b, u := r.Building, units.Of(r.Building.Whole)
	v := view{Units: u}
	out := Building{
		Building: jsonBuilding{b.Title, u.System, u.Length, u.Illuminance, b.Whole.Facts.State},
		Totals:   totalsOf(r.Totals, u),
		Verdict:  wording.Building(r), Energy: v.jsonEnergyOf(r.Whole), LifeCycle: jsonLifeCycleOf(r.Whole), TakeOff: wording.TakeOff(r),
		Schedule: []jsonKind{}, ByPayback: []jsonStep{}, Limits: limitsOf(r, u), Defaults: []jsonSharedDefault{}, Warnings: []string{},
		Cautions: append([]string{}, wording.Cautions(r.Whole)...), Origin: OriginOf(origin.Of(b.InputsDigest)),
	}
	for i, s := range r.Spaces {
		out.Spaces = append(out.Spaces, spaceOf(r, i, s, u, points))
	}
	for _, k := range r.Schedule {
		out.Schedule = append(out.Schedule, kindOf(k, u, len(r.Whole.Sides)))
	}
	for _, s := range r.Order {
		out.ByPayback = append(out.ByPayback, jsonStep{r.Spaces[s.Space].Name, Number(s.Cost), Number(s.Saving), Number(s.Payback), Number(s.CostSoFar), Number(s.SavingSoFar),
			Number(s.SavedKWhSoFar), Number(s.KWThen), s.SpacesSoFar, s.MetSoFar})
	}
	for _, s := range r.Stages {
		stage := jsonStage{s.Name, "", append([]string{}, s.Spaces...), Number(s.KW), Number(s.KWhPerYear), s.Met, s.Missed, Number(s.CostSoFar), Number(s.SavingSoFar)}
		if !s.Date.IsZero() {
			stage.Date = s.Date.Format(time.DateOnly)
		}
		out.Phases = append(out.Phases, stage)
	}
	if net, ok := r.PhasedNetSavings(); ok {
		out.PhasedNetSavings = money(&net)
	}
	for _, d := range r.Defaults() {
		out.Defaults = append(out.Defaults, jsonSharedDefault{jsonDefault(d.Default), d.Spaces})
	}
	for _, w := range wording.BuildingWarnings(r) {
		out.Warnings = append(out.Warnings, w.Shown())
	}
	if f := b.Firm; f.Name != "" {
		out.Firm = &jsonFirm{f.Name, append([]string{}, f.Address...), f.Phone, f.Email, f.License}
	}
	return out
}

func spaceOf(r *whole.Result, i int, s whole.Space, u units.Units, points bool) jsonSpaceOf {
	out := jsonSpaceOf{Name: s.Name, Copies: s.Copies, Job: s.Path, FloorArea: Number(s.Area() / (u.Meter * u.Meter)), Verdict: wording.Verdict(s.Result),
		LuminairesChanged: s.Changed(), Check: Of(s.Result, points)}
	if met := s.Met(); s.Judged() || !met {
		out.Met = &met
	}
	if s.Energy.SavingPerYear != nil {
		saving := Number(r.SavingOf(s))
		out.SavingPerYear = &saving
	}
	if l := r.Limits.Spaces[i]; l.Known {
		limit := Number(l.WattsPerSquareMetre() / u.PerArea)
		out.PowerLimit, out.Limit = &l.ID, &limit
	}
	out.Check.withoutMoney()
	return out
}

// withoutMoney takes the money out of what a room answers: it is the building's.
func (r *Result) withoutMoney() {
	e := &r.Energy
	e.EnergySavingPerYear, e.DemandSavingPerYear, e.UpkeepSavingPerYear, e.SavingPerYear, e.NetCost, e.SimplePaybackYears, e.InstalledCost = nil, nil, nil, nil, nil, nil, nil
	unknown := Number(math.NaN())
	for i := range e.Accounts {
		a := &e.Accounts[i]
		a.Energy, a.Demand, a.NetCost, a.Saving = nil, nil, nil, nil
		a.Lamps, a.Ballasts, a.Cleaning, a.Other = unknown, unknown, unknown, unknown
	}
	r.LifeCycle = nil
}

func kindOf(k whole.Kind, u units.Units, sides int) jsonKind {
	out := jsonKind{Kind: k.Name, Lamp: k.System.LampWords(), Existing: k.By[0], Proposed: k.By[1], Lamps: k.Lamps, Ballasts: k.Ballasts, Sockets: k.Sockets,
		LampsOut: k.LampsOut, BallastsOut: k.BallastsOut, Mounted: k.Mounted, Dismounted: k.Dismounted, Length: Number(k.Length / u.Meter), Mercury: k.Mercury(),
		MayHoldPCB: k.MayHoldPCB(), LampsCost: money(k.LampsCost), Disposal: money(k.DisposalCost)}
	if b := k.System.Ballast; b != nil {
		out.Ballast = b.Name
	}
	third := func(by [3]int) (n *int) {
		for i := range by[2:sides] {
			n = &by[2+i]
		}
		return n
	}
	out.Replacement = third(k.By)
	for _, s := range k.Spaces {
		out.Spaces = append(out.Spaces, jsonInSpace{s.Name, s.By[0], s.By[1], third(s.By)})
	}
	return out
}

func limitsOf(r *whole.Result, u units.Units) jsonBuildingLimits {
	out := jsonBuildingLimits{[]jsonLimitSum{}, []jsonAreaLimit{}, append([]string{}, r.Limits.Unknown...)}
	for _, s := range r.Limits.Sums {
		before, after := s.Connected[0], s.Connected[1]
		sum := jsonLimitSum{Code: s.Code, Edition: s.Year, Spaces: s.Covered, NotListed: append([]string{}, s.Left...), FloorArea: Number(s.Area / (u.Meter * u.Meter)),
			AllowedKW: Number(s.Allowed / 1000), ExistingKW: Number(before / 1000), ProposedKW: Number(after / 1000), ExistingMet: s.Met(before), ProposedMet: s.Met(after)}
		for _, watts := range s.Connected[2:] {
			kW, met := Number(watts/1000), s.Met(watts)
			sum.ReplacementKW, sum.ReplacementMet = &kW, &met
		}
		out.SpaceBySpace = append(out.SpaceBySpace, sum)
	}
	for _, a := range r.Limits.Areas {
		limit := jsonAreaLimit{ID: a.ID, Code: a.Code, Edition: a.Year, Building: a.Space, Limit: Number(a.WattsPerSquareMetre() / u.PerArea), ExistingMet: a.MetBy[0],
			ProposedMet: a.MetBy[1], Source: a.Citation(), Confidence: a.Confidence}
		for i := range a.MetBy[2:] {
			limit.ReplacementMet = &a.MetBy[2+i]
		}
		out.BuildingArea = append(out.BuildingArea, limit)
	}
	return out
}
