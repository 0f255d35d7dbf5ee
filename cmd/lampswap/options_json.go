package main

import (
	"io"

	"lampswap/photometry/catalog"
	"lampswap/photometry/study"
)

type jsonOptions struct {
	Job      jsonJob       `json:"job"`
	Choice   []string      `json:"choice"`
	Rule     string        `json:"rule"`
	Rows     []jsonOption  `json:"rows"`
	LeftOut  []string      `json:"left_out"`
	Solves   int           `json:"photometric_solves"`
	Defaults []jsonDefault `json:"defaults"`
	Warnings []string      `json:"warnings"`
}

type jsonOption struct {
	Existing        bool                  `json:"existing"`
	Proposed        bool                  `json:"proposed"`
	Replacement     bool                  `json:"replacement"`
	Verdict         string                `json:"verdict"`
	NotAllowed      string                `json:"not_allowed,omitempty"`
	Front           bool                  `json:"front"`
	Fixture         string                `json:"fixture"`
	Lamp            string                `json:"lamp,omitempty"`
	Lamps           int                   `json:"lamps"`
	LampsAcross     int                   `json:"lamps_across,omitempty"`
	LampsEndToEnd   int                   `json:"lamps_end_to_end,omitempty"`
	PlacesEmpty     bool                  `json:"part_of_the_places_empty"`
	Ballast         string                `json:"ballast,omitempty"`
	Ballasts        int                   `json:"ballasts,omitempty"`
	BallastFactor   number                `json:"ballast_factor"`
	LampLumensEach  number                `json:"lamp_lumens_each"`
	Luminaires      int                   `json:"luminaires"`
	InputWattsEach  number                `json:"input_watts_each"`
	LoadKW          number                `json:"load_kw"`
	PowerDensity    number                `json:"power_density"`
	KWhPerYear      number                `json:"energy_kwh_per_year"`
	EnergyCost      *number               `json:"energy_cost_per_year"`
	Efficiency      number                `json:"luminaire_efficiency"`
	LightLoss       number                `json:"light_loss_total"`
	LumenMethod     number                `json:"lumen_method_average"`
	Average         number                `json:"average"`
	Minimum         number                `json:"minimum"`
	PercentExisting number                `json:"percent_of_existing"`
	Darker          bool                  `json:"darker_than_existing"`
	Criteria        []jsonOptionCriterion `json:"criteria"`
	Grids           []jsonGrid            `json:"grids"`
	Notes           []jsonNote            `json:"notes"`
}

type jsonOptionCriterion struct {
	Name      string `json:"name"`
	Grid      string `json:"grid"`
	Statistic string `json:"statistic"`
	Required  number `json:"required"`
	Direction string `json:"direction"`
	Value     number `json:"value"`
	Met       bool   `json:"met"`
}

type jsonNote struct {
	Sign string `json:"sign"`
	Text string `json:"text"`
}

// writeOptionsJSON writes every row in the job's units at full precision.
func writeOptionsJSON(w io.Writer, o *study.Options) error {
	v := viewOfJob(o.Job)
	out := jsonOptions{
		Job:    jsonJob{Title: o.Job.Title, Units: v.system, LengthUnit: v.length, IlluminanceUnit: v.illuminance},
		Choice: o.Sentences(), Rule: o.Rule(), Rows: []jsonOption{}, LeftOut: append([]string{}, o.LeftOut...), Solves: o.Solves,
		Defaults: []jsonDefault{}, Warnings: append([]string{}, o.Job.Warnings...),
	}
	for i := range o.List {
		out.Rows = append(out.Rows, v.jsonOption(o, &o.List[i]))
	}
	for _, d := range o.Job.Defaults {
		out.Defaults = append(out.Defaults, jsonDefault(d))
	}
	return encodeJSON(w, out)
}

func optionVerdict(p *study.Option) string {
	switch {
	case p.NotAllowed != "":
		return "not allowed"
	case p.Outside:
		return "compared"
	case p.Meets:
		return "met"
	}
	return "missed"
}

func (v view) jsonOption(o *study.Options, p *study.Option) jsonOption {
	from, s := &p.From, &p.Light
	row := jsonOption{
		Existing: p.Existing, Proposed: p.Proposed, Replacement: p.Replacement, Verdict: optionVerdict(p), NotAllowed: p.NotAllowed, Front: p.Front, Fixture: p.Fixture,
		Lamps: from.Lamps, LampsAcross: from.Tubes.Across, LampsEndToEnd: from.Tubes.EndToEnd, PlacesEmpty: p.Empty(),
		BallastFactor: number(from.BallastFactor), LampLumensEach: number(s.LampLumensEach), Luminaires: s.Luminaires,
		InputWattsEach: number(from.InputWatts), LoadKW: number(p.KW), PowerDensity: number(s.PowerDensity / v.perArea),
		KWhPerYear: number(p.KWhPerYear), EnergyCost: money(p.EnergyCost), Efficiency: number(s.Efficiency), LightLoss: number(s.Losses.Total()),
		LumenMethod: v.light(s.LumenMethod.MaintainedAverage), Average: v.light(p.Average()), Minimum: v.light(p.Minimum()),
		PercentExisting: number(100 * p.OfExisting), Darker: p.Darker, Criteria: []jsonOptionCriterion{}, Notes: []jsonNote{},
	}
	if from.Lamp != nil {
		row.Lamp = from.Lamp.Name
	}
	if from.Ballast != nil {
		row.Ballast = from.Ballast.Kind
		if row.Ballast != catalog.KindNone {
			row.Ballasts = from.Ballast.Count
		}
	}
	for i, c := range o.Job.Criteria {
		value := p.Verdicts[i]
		row.Criteria = append(row.Criteria, jsonOptionCriterion{Name: c.Name, Grid: c.Grid, Statistic: c.Statistic.String(),
			Required: number(c.RequiredIn(o.Job.Imperial)), Direction: c.Direction(), Value: v.statistic(c.Statistic, value.Value), Met: value.Met})
	}
	for _, g := range s.Grids {
		row.Grids = append(row.Grids, v.jsonGrid(g, false))
	}
	for _, n := range p.Notes {
		row.Notes = append(row.Notes, jsonNote(n))
	}
	return row
}
