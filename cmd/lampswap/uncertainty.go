package main

import (
	"lampswap/photometry/levels"
	"lampswap/photometry/study"
)

// jsonUncertainty is the prediction's uncertainty in the job's units; absent unless it was asked for.
type jsonUncertainty struct {
	Seed       uint64               `json:"seed"`
	Samples    int                  `json:"samples"`
	Confidence number               `json:"confidence"`
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
	Predicted         number `json:"predicted"`
	Low               number `json:"low"`
	High              number `json:"high"`
	LowError          number `json:"low_standard_error"`
	HighError         number `json:"high_standard_error"`
	Median            number `json:"median"`
	Mean              number `json:"mean"`
	StandardDeviation number `json:"standard_deviation"`
}

type jsonProbability struct {
	Value         number `json:"value"`
	StandardError number `json:"standard_error"`
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
	Low         number            `json:"proposed_average_low"`
	High        number            `json:"proposed_average_high"`
	Share       number            `json:"share_of_variance"`
	ChangeShare number            `json:"share_of_variance_of_change"`
	Standard    map[string]number `json:"relative_standard_uncertainty"`
	Tolerances  map[string]string `json:"tolerances"`
}

func (v view) jsonUncertainty(r *study.Result) *jsonUncertainty {
	u := r.Uncertainty
	if u == nil {
		return nil
	}
	out := &jsonUncertainty{Seed: u.Seed, Samples: u.Samples, Confidence: number(u.Confidence), Interval: "probabilistically symmetric",
		Inputs: []jsonInput{}, Solves: u.Solves, Coarse: u.Coarse, Words: r.UncertaintyWords()}
	for _, s := range u.Sides {
		system := jsonDoubtfulSystem{Name: s.Name, Average: v.jsonInterval(s.Average, v.lux), Minimum: v.jsonInterval(s.Minimum, v.lux),
			Criteria: []jsonDoubtfulCriterion{}, AllMet: jsonProbabilityOf(s.AllMet)}
		for _, c := range s.Criteria {
			system.Criteria = append(system.Criteria, jsonDoubtfulCriterion{c.Name, c.Grid, c.Statistic.String(),
				v.jsonInterval(c.Interval, v.unitOf(c.Statistic)), jsonProbabilityOf(c.Met)})
		}
		if s.Change != nil {
			change, darker := v.jsonInterval(*s.Change, 1), jsonProbabilityOf(s.Darker)
			system.Change, system.Darker = &change, &darker
		}
		out.Systems = append(out.Systems, system)
	}
	for _, e := range u.Inputs {
		input := jsonInput{Key: e.Input.Key(), Name: e.Input.String(), Systems: e.Sides, Low: number(e.Low), High: number(e.High),
			Share: number(e.Share), ChangeShare: number(e.ChangeShare), Standard: map[string]number{}, Tolerances: map[string]string{}}
		for i, s := range u.Sides {
			input.Standard[s.Name] = number(e.Standard[i])
		}
		for i, name := range e.Sides {
			input.Tolerances[name] = e.Tolerances[i]
		}
		out.Inputs = append(out.Inputs, input)
	}
	return out
}

// unitOf is one of the job's unit of a statistic in SI.
func (v view) unitOf(which levels.Statistic) float64 {
	if which.Ratio() {
		return 1
	}
	return v.lux
}

func (v view) jsonInterval(i study.Interval, unit float64) jsonInterval {
	in := func(x float64) number { return number(x / unit) }
	return jsonInterval{in(i.Predicted), in(i.Low), in(i.High), in(i.LowError), in(i.HighError), in(i.Median), in(i.Mean), in(i.StandardDeviation)}
}

func jsonProbabilityOf(p study.Probability) jsonProbability {
	return jsonProbability{number(p.Value), number(p.StandardError)}
}
