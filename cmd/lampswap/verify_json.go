package main

import (
	"io"
	"math"

	"lampswap/photometry/job"
	"lampswap/photometry/study"
	"lampswap/photometry/survey"
)

type jsonVerify struct {
	Job            jsonJob             `json:"job"`
	System         string              `json:"system"`
	Verdict        string              `json:"verdict"`
	Proven         bool                `json:"proven"`
	Doubts         []string            `json:"doubts"`
	Confidence     number              `json:"confidence"`
	Stations       []jsonDeviation     `json:"stations"`
	MeanRatio      number              `json:"mean_ratio"`
	MeanStandard   number              `json:"mean_ratio_standard_uncertainty"`
	KeptRatio      number              `json:"mean_ratio_without_outliers"`
	Areas          []jsonArea          `json:"areas"`
	ReadingStdShr  number              `json:"reading_standard_uncertainty"`
	Budget         []jsonContribution  `json:"budget"`
	LossesOnTheDay map[string]number   `json:"light_loss_on_the_day"`
	Correction     *jsonCorrection     `json:"correction,omitempty"`
	Warnings       []jsonSurveyWarning `json:"warnings"`
	Notes          []string            `json:"notes"`
	Cautions       []string            `json:"cautions"`
}

type jsonDeviation struct {
	Station         string `json:"station"`
	X               number `json:"x"`
	Y               number `json:"y"`
	Height          number `json:"height"`
	Predicted       number `json:"predicted"`
	Measured        number `json:"measured"`
	Ratio           number `json:"ratio"`
	NormalizedError number `json:"normalized_error"`
	Outlier         bool   `json:"outlier"`
	Disagrees       bool   `json:"disagrees"`
}

type jsonArea struct {
	Grid      string         `json:"grid"`
	Measured  number         `json:"measured_average"`
	Predicted number         `json:"predicted_average"`
	Ratio     number         `json:"measured_over_predicted"`
	Standard  number         `json:"standard_uncertainty"`
	Missing   []string       `json:"stations_not_read"`
	Decisions []jsonDecision `json:"decisions"`
}

type jsonDecision struct {
	Name      string   `json:"name"`
	Statistic string   `json:"statistic"`
	Station   string   `json:"station,omitempty"`
	Required  number   `json:"required"`
	Direction string   `json:"direction"`
	AsFound   jsonTest `json:"as_found"`
	CarriedOn jsonTest `json:"carried_on"`
	Reason    string   `json:"reason,omitempty"` // why readings do not decide, where it is not their uncertainty
	Source    string   `json:"source"`
}

type jsonTest struct {
	Value           number `json:"value"`
	Standard        number `json:"standard_uncertainty"`
	Outcome         string `json:"outcome"`     // "conforms", "does not conform", "not proven either way"
	Probability     number `json:"probability"` // null where something else than the uncertainty keeps readings from deciding
	AcceptanceLimit number `json:"acceptance_limit"`
}

type jsonContribution struct {
	Name     string `json:"name"`
	Value    number `json:"value"`
	Shape    string `json:"distribution"`
	Divisor  number `json:"divisor"`
	Standard number `json:"standard_uncertainty"`
	Source   string `json:"source"`
}

type jsonCorrection struct {
	Factor            number `json:"factor"`
	FactorStandard    number `json:"factor_standard_uncertainty"`
	Predicted         number `json:"predicted_average"`
	PredictedStandard number `json:"predicted_standard_uncertainty"`
	Corrected         number `json:"corrected_average"`
	CorrectedStandard number `json:"corrected_standard_uncertainty"`
	CorrectedMinimum  number `json:"corrected_minimum"`
	Better            bool   `json:"better"`
}

type jsonSurveyWarning struct {
	Key    string `json:"key"`
	Text   string `json:"text"`
	Source string `json:"source"`
}

func writeVerifyJSON(w io.Writer, j *job.Job, of *study.Verification) error {
	v := viewOfJob(j)
	c := of.Comparison
	out := jsonVerify{Job: v.jsonJob(j), System: of.System, Verdict: of.Sentence(), Proven: of.Proven(), Doubts: append([]string{}, of.Doubts...), Confidence: number(of.Confidence), Stations: []jsonDeviation{},
		MeanRatio: number(c.Mean), MeanStandard: number(c.Standard), KeptRatio: number(c.KeptMean), Areas: []jsonArea{},
		ReadingStdShr: number(of.Budget.Standard()), LossesOnTheDay: map[string]number{"total": number(of.Day.Total())},
		Warnings: []jsonSurveyWarning{}, Notes: append(append([]string{}, of.Notes...), c.Notes...), Cautions: onSite}
	for _, d := range c.Stations {
		at := of.Positions[d.Station].Position
		out.Stations = append(out.Stations, jsonDeviation{d.Station, number(at.X / v.meter), number(at.Y / v.meter), number(at.Z / v.meter),
			v.light(d.Predicted), v.light(d.Measured), number(d.Ratio), number(d.NormalizedError), d.Outlier, d.Disagrees})
	}
	for _, b := range of.Budget {
		out.Budget = append(out.Budget, jsonContribution{b.Name, number(b.Value), b.Shape.String(), number(b.Divisor), number(b.Standard()), b.Source})
	}
	for _, f := range of.Day.List() {
		out.LossesOnTheDay[f.Key] = number(f.Value)
	}
	for _, a := range of.Areas {
		out.Areas = append(out.Areas, v.jsonArea(a))
	}
	if k := of.Correction; k != nil {
		out.Correction = &jsonCorrection{number(k.Factor), number(k.FactorStandard), v.light(k.Predicted), v.light(k.PredictedStandard), v.light(k.Value),
			v.light(k.Standard), v.light(k.Minimum), k.Better}
	}
	for _, n := range of.Warnings {
		out.Warnings = append(out.Warnings, jsonSurveyWarning(n))
	}
	return encodeJSON(w, out)
}

func (v view) jsonArea(a study.VerifiedArea) jsonArea {
	ratio, _ := a.Ratio()
	out := jsonArea{Grid: a.Grid, Measured: v.light(a.Measured.Value), Predicted: v.light(a.Predicted.Value), Ratio: number(ratio),
		Standard: v.light(a.Budget.Standard() * a.Measured.Value), Missing: append([]string{}, a.Missing...), Decisions: []jsonDecision{}}
	for _, d := range a.Decisions {
		test := func(x survey.Decision) jsonTest {
			likely := x.Probability
			if d.Doubt != "" && x.Outcome == survey.NotProven {
				likely = math.NaN()
			}
			return jsonTest{v.statistic(d.Statistic, x.Measured), v.statistic(d.Statistic, x.Standard), x.Outcome.String(), number(likely),
				v.statistic(d.Statistic, x.AcceptanceLimit)}
		}
		reason := ""
		if d.Found.Outcome == survey.NotProven {
			reason = d.Doubt
		}
		out.Decisions = append(out.Decisions, jsonDecision{d.Name, d.Statistic.String(), d.Station, v.statistic(d.Statistic, d.Found.Limit),
			d.Direction(), test(d.Found), test(d.Carried), reason, d.Source})
	}
	nothing := number(math.NaN())
	none := jsonTest{nothing, nothing, survey.NotProven.String(), nothing, nothing}
	for _, u := range a.Undecided {
		out.Decisions = append(out.Decisions, jsonDecision{u.Name, u.Statistic.String(), "", v.statistic(u.Statistic, u.RequiredIn(false)),
			u.Direction(), none, none, u.Reason, u.Source})
	}
	return out
}
