package answer

import (
	"lampswap/photometry/study"
	"lampswap/photometry/uncertainty"
	"lampswap/photometry/wording"
)

// jsonUncertainty is the prediction's uncertainty in the job's units; absent unless it was asked for.
type jsonUncertainty struct {
	Seed       uint64               `json:"seed"`
	Samples    int                  `json:"samples"`
	Confidence Number               `json:"confidence"`
	Interval   string               `json:"interval"`
	Systems    []jsonDoubtfulSystem `json:"systems"`
	Inputs     []jsonInput          `json:"inputs"`
	Solves     int                  `json:"more_solves"`
	Coarse     bool                 `json:"relative_effects_on_coarser_grids"`
	Words      []string             `json:"words"`
}

type jsonDoubtfulSystem struct {
	Name     string                  `json:"name"`
	Average  jsonInterval            `json:"average"`
	Minimum  jsonInterval            `json:"minimum"`
	Criteria []jsonDoubtfulCriterion `json:"criteria"`
	AllMet   jsonProbability         `json:"all_met"`
	Change   *jsonInterval           `json:"change,omitempty"`
	Darker   *jsonProbability        `json:"darker,omitempty"`
}

type jsonInterval struct {
	Predicted         Number `json:"predicted"`
	Low               Number `json:"low"`
	High              Number `json:"high"`
	LowError          Number `json:"low_standard_error"`
	HighError         Number `json:"high_standard_error"`
	Median            Number `json:"median"`
	Mean              Number `json:"mean"`
	StandardDeviation Number `json:"standard_deviation"`
}

type jsonProbability struct {
	Value         Number `json:"value"`
	StandardError Number `json:"standard_error"`
}

type jsonDoubtfulCriterion struct {
	Name      string          `json:"name"`
	Grid      string          `json:"grid"`
	Statistic string          `json:"statistic"`
	Value     jsonInterval    `json:"value"`
	Met       jsonProbability `json:"met"`
}

// jsonInput is what one input does alone.
type jsonInput struct {
	Key         string            `json:"key"`
	Name        string            `json:"name"`
	Systems     []string          `json:"systems"`
	Low         Number            `json:"proposed_average_low"`
	High        Number            `json:"proposed_average_high"`
	Share       Number            `json:"share_of_variance"`
	ChangeShare Number            `json:"share_of_variance_of_change"`
	Standard    map[string]Number `json:"relative_standard_uncertainty"`
	Tolerances  map[string]string `json:"tolerances"`
}

func (v view) jsonUncertainty(r *study.Result) *jsonUncertainty {
	u := r.Uncertainty
	if u == nil {
		return nil
	}
	out := &jsonUncertainty{Seed: u.Seed, Samples: u.Samples, Confidence: Number(u.Confidence), Interval: "probabilistically symmetric",
		Inputs: []jsonInput{}, Solves: u.Solves, Coarse: u.Coarse, Words: wording.Uncertainty(u, r.Job)}
	for _, s := range u.Sides {
		system := jsonDoubtfulSystem{Name: s.Name, Average: v.jsonInterval(s.Average, v.Lux), Minimum: v.jsonInterval(s.Minimum, v.Lux),
			Criteria: []jsonDoubtfulCriterion{}, AllMet: jsonProbabilityOf(s.AllMet)}
		for _, c := range s.Criteria {
			system.Criteria = append(system.Criteria, jsonDoubtfulCriterion{c.Name, c.Grid, c.Statistic.String(),
				v.jsonInterval(c.Interval, v.Scale(c.Statistic)), jsonProbabilityOf(c.Met)})
		}
		if s.Change != nil {
			change, darker := v.jsonInterval(*s.Change, 1), jsonProbabilityOf(s.Darker)
			system.Change, system.Darker = &change, &darker
		}
		out.Systems = append(out.Systems, system)
	}
	for _, e := range u.Inputs {
		input := jsonInput{Key: e.Input.Key(), Name: e.Input.String(), Systems: e.Sides, Low: Number(e.Low), High: Number(e.High),
			Share: Number(e.Share), ChangeShare: Number(e.ChangeShare), Standard: map[string]Number{}, Tolerances: map[string]string{}}
		for i, s := range u.Sides {
			input.Standard[s.Name] = Number(e.Standard[i])
		}
		for i, name := range e.Sides {
			input.Tolerances[name] = wording.Tolerance(e, i, r.Job.Imperial)
		}
		out.Inputs = append(out.Inputs, input)
	}
	return out
}

func (v view) jsonInterval(i uncertainty.Interval, unit float64) jsonInterval {
	in := func(x float64) Number { return Number(x / unit) }
	return jsonInterval{in(i.Predicted), in(i.Low), in(i.High), in(i.LowError), in(i.HighError), in(i.Median), in(i.Mean), in(i.StandardDeviation)}
}

func jsonProbabilityOf(p uncertainty.Probability) jsonProbability {
	return jsonProbability{Number(p.Value), Number(p.StandardError)}
}
