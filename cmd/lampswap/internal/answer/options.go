package answer

import (
	"io"

	"lampswap/cmd/lampswap/internal/origin"
	"lampswap/photometry/glare"
	"lampswap/photometry/job"
	"lampswap/photometry/lighting"
	"lampswap/photometry/options"
	"lampswap/photometry/wording"
)

type jsonOptions struct {
	Job      Job           `json:"job"`
	Group    string        `json:"group"` // whose luminaires vary
	Choice   []string      `json:"choice"`
	Rule     string        `json:"rule"`
	Beyond   []string      `json:"criteria_no_swap_meets"`
	JudgedAt string        `json:"judged_at"`
	Rows     []jsonOption  `json:"rows"`
	LeftOut  []string      `json:"left_out"`
	Solves   int           `json:"photometric_solves"`
	Defaults []jsonDefault `json:"defaults"`
	Warnings []string      `json:"warnings"`
	Origin
}

type jsonOption struct {
	Existing        bool                  `json:"existing"`
	Proposed        bool                  `json:"proposed"`
	Replacement     bool                  `json:"replacement"`
	Verdict         string                `json:"verdict"`
	NotAllowed      string                `json:"not_allowed,omitempty"`
	MeetsRest       bool                  `json:"meets_all_that_a_swap_can"`
	Front           bool                  `json:"front"`
	Fixture         string                `json:"fixture"`
	Lamp            string                `json:"lamp,omitempty"`
	Lamps           int                   `json:"lamps"`
	LampsAcross     int                   `json:"lamps_across,omitempty"`
	LampsEndToEnd   int                   `json:"lamps_end_to_end,omitempty"`
	PlacesEmpty     bool                  `json:"part_of_the_places_empty"`
	Ballast         string                `json:"ballast,omitempty"`
	Ballasts        int                   `json:"ballasts,omitempty"`
	BallastSet      string                `json:"ballast_set,omitempty"` // of several: "2-lamp + 1-lamp"
	BallastFactor   Number                `json:"ballast_factor"`
	LampLumensEach  Number                `json:"lamp_lumens_each"`
	Luminaires      int                   `json:"luminaires"`
	InputWattsEach  Number                `json:"input_watts_each"`
	LoadKW          Number                `json:"load_kw"`
	PowerDensity    Number                `json:"power_density"`
	KWhPerYear      Number                `json:"energy_kwh_per_year"`
	EnergyCost      *Number               `json:"energy_cost_per_year"` // of power: demand too, which check tells apart
	PowerCost       *Number               `json:"power_cost_per_year"`  // the same by its right name
	Efficiency      Number                `json:"luminaire_efficiency"`
	LightLoss       Number                `json:"light_loss_total"`
	JudgedAtHours   Number                `json:"judged_at_hours"`
	LumenMethod     Number                `json:"lumen_method_average"`
	Average         Number                `json:"average"`
	Minimum         Number                `json:"minimum"`
	UGR             *Number               `json:"ugr,omitempty"` // of the observer who has most; left out where nobody has a rating
	PercentExisting Number                `json:"percent_of_existing"`
	Darker          bool                  `json:"darker_than_existing"`
	Criteria        []jsonOptionCriterion `json:"criteria"`
	Grids           []jsonGrid            `json:"grids"`
	Notes           []jsonNote            `json:"notes"`
	Keys            []string              `json:"keys"` // what a job writes to have it; empty for a system of the job
}

type jsonOptionCriterion struct {
	Name      string `json:"name"`
	Grid      string `json:"grid"`
	Statistic string `json:"statistic"`
	Required  Number `json:"required"`
	Direction string `json:"direction"`
	Value     Number `json:"value"`
	Met       bool   `json:"met"`
}

type jsonNote struct {
	Sign options.Sign `json:"sign"`
	Text string       `json:"text"`
}

// WriteOptions writes every row in the job's units at full precision.
func WriteOptions(w io.Writer, o *options.Options) error {
	v := viewOf(o.Job)
	out := jsonOptions{
		Job: JobOf(o.Job), Group: o.Group,
		Choice: wording.Options(o), Rule: wording.Rule(o), JudgedAt: o.Job.Upkeep.JudgedAt.At.String(), Beyond: []string{}, Rows: []jsonOption{}, LeftOut: append([]string{}, wording.LeftOut(o)...), Solves: o.Solves,
		Defaults: []jsonDefault{}, Warnings: append([]string{}, o.Job.Warnings...),
		Origin: OriginOf(origin.Of(o.Job.InputsDigest)),
	}
	for i, c := range o.Job.Criteria {
		if o.Unmeetable[i] {
			out.Beyond = append(out.Beyond, c.Name)
		}
	}
	for i := range o.List {
		out.Rows = append(out.Rows, v.jsonOption(o, &o.List[i]))
	}
	for _, d := range o.Job.Defaults {
		out.Defaults = append(out.Defaults, jsonDefault(d))
	}
	return Encode(w, out)
}

func optionVerdict(p *options.Option) string {
	switch {
	case p.NotAllowed != nil:
		return "not allowed"
	case p.Outside:
		return "compared"
	case p.Meets:
		return "met"
	}
	return "missed"
}

func (v view) jsonOption(o *options.Options, p *options.Option) jsonOption {
	from, s := &p.From, &p.Light
	row := jsonOption{
		Existing: p.Existing, Proposed: p.Proposed, Replacement: p.Replacement, Verdict: optionVerdict(p), NotAllowed: wording.Outside(p.NotAllowed), MeetsRest: p.Meets || p.MeetsRest, Front: p.Front, Fixture: p.Fixture,
		Lamps: from.Lamps, LampsAcross: from.Tubes.Across, LampsEndToEnd: from.Tubes.EndToEnd, PlacesEmpty: p.Empty(),
		BallastFactor: Number(from.BallastFactor), LampLumensEach: Number(s.LampLumensEach), Luminaires: s.Luminaires,
		InputWattsEach: Number(from.InputWatts), LoadKW: Number(p.KW), PowerDensity: Number(s.PowerDensity / v.PerArea),
		KWhPerYear: Number(p.KWhPerYear), EnergyCost: money(p.EnergyCost), PowerCost: money(p.EnergyCost), Efficiency: Number(s.Efficiency), LightLoss: Number(s.Losses.Total()), JudgedAtHours: Number(lighting.LampAge(o.Job, from).Hours),
		LumenMethod: v.light(s.LumenMethod.MaintainedAverage), Average: v.light(p.Average()), Minimum: v.light(p.Minimum()),
		PercentExisting: Number(100 * p.OfExisting), Darker: p.Darker, Criteria: []jsonOptionCriterion{}, Notes: []jsonNote{}, Keys: append([]string{}, p.Keys()...),
	}
	if ugr, why := s.Glare(); why == glare.Rated {
		rating := Number(ugr)
		row.UGR = &rating
	}
	if from.Lamp != nil {
		row.Lamp = from.Lamp.Name
	}
	if from.Ballast != nil {
		row.Ballast, row.Ballasts, row.BallastSet = from.Ballast.Kind, from.Ballast.Count, from.Ballast.Set()
	}
	row.Criteria = append(row.Criteria, v.optionCriteria(o.Job, p)...)
	for _, g := range s.Grids {
		row.Grids = append(row.Grids, v.jsonGrid(g, false))
	}
	for _, n := range p.Notes {
		row.Notes = append(row.Notes, jsonNote{n.Sign, wording.Note(o.Job, n)})
	}
	return row
}

// optionCriteria is what an option reaches of the criteria of a job.
func (v view) optionCriteria(j *job.Job, p *options.Option) []jsonOptionCriterion {
	var all []jsonOptionCriterion
	for i, c := range j.Criteria {
		value := p.Verdicts[i]
		all = append(all, jsonOptionCriterion{Name: c.Name, Grid: c.Grid, Statistic: c.Statistic.String(),
			Required: Number(c.RequiredIn(j.Imperial)), Direction: c.Direction(), Value: v.statistic(c.Statistic, value.Value), Met: value.Met})
	}
	return all
}
