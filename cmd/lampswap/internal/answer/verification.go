package answer

import (
	"io"
	"math"
	"slices"

	"lampswap/cmd/lampswap/internal/ledger"
	"lampswap/cmd/lampswap/internal/origin"
	"lampswap/photometry/job"
	"lampswap/photometry/metrology"
	"lampswap/photometry/realised"
	"lampswap/photometry/verification"
	"lampswap/photometry/wording"
)

type jsonVerify struct {
	Job            Job                 `json:"job"`
	System         string              `json:"system"`
	Verdict        string              `json:"verdict"`
	Proven         bool                `json:"proven"`
	Doubts         []string            `json:"doubts"`
	Unresolved     []jsonUnresolved    `json:"unresolved"` // while there are any, no criterion is proven
	StruckOut      []jsonStruck        `json:"struck_out"`
	Confidence     Number              `json:"confidence"`
	Stations       []jsonDeviation     `json:"stations"`
	MeanRatio      Number              `json:"mean_ratio"`
	MeanStandard   Number              `json:"mean_ratio_standard_uncertainty"`
	KeptRatio      Number              `json:"mean_ratio_without_outliers"`
	Areas          []jsonArea          `json:"areas"`
	ReadingStdShr  Number              `json:"reading_standard_uncertainty"`
	Budget         []jsonContribution  `json:"budget"`
	LossesOnTheDay map[string]Number   `json:"light_loss_on_the_day"`
	Correction     *jsonCorrection     `json:"correction,omitempty"`
	Warnings       []jsonSurveyWarning `json:"warnings"`
	WouldProve     []string            `json:"would_prove"`
	Notes          []string            `json:"notes"`
	Cautions       []string            `json:"cautions"`
	Power          *jsonSaving         `json:"power,omitempty"` // watts and hours that were read besides
	Beside         string              `json:"light_beside_power,omitempty"`
	Origin
}

type jsonUnresolved struct {
	Key      verification.Key `json:"key"`
	Stations []string         `json:"stations"`
	Text     string           `json:"text"`
}

type jsonStruck struct {
	Station string `json:"station"`
	Reading Number `json:"reading"`
	Reason  string `json:"reason"`
}

type jsonDeviation struct {
	Station         string `json:"station"`
	X               Number `json:"x"`
	Y               Number `json:"y"`
	Height          Number `json:"height"`
	Predicted       Number `json:"predicted"`
	Measured        Number `json:"measured"`
	Ratio           Number `json:"ratio"`
	NormalizedError Number `json:"normalized_error"`
	Outlier         bool   `json:"outlier"`
	Disagrees       bool   `json:"disagrees"`
	Unresolved      bool   `json:"unresolved"` // unlike the others, and not read again
}

type jsonArea struct {
	Grid      string         `json:"grid"`
	Measured  Number         `json:"measured_average"`
	Predicted Number         `json:"predicted_average"`
	Ratio     Number         `json:"measured_over_predicted"`
	Standard  Number         `json:"standard_uncertainty"`
	Coverage  Number         `json:"coverage_factor"`
	Expanded  Number         `json:"expanded_uncertainty"`
	Without   Number         `json:"measured_average_without"` // the stations unlike the others
	Missing   []string       `json:"stations_not_read"`
	Decisions []jsonDecision `json:"decisions"`
}

type jsonDecision struct {
	Name      string   `json:"name"`
	Statistic string   `json:"statistic"`
	Station   string   `json:"station,omitempty"`
	Claimed   Number   `json:"claimed"` // maintained light of the grid by the job
	Required  Number   `json:"required"`
	Direction string   `json:"direction"`
	AsFound   jsonTest `json:"as_found"`
	CarriedOn jsonTest `json:"carried_on"`
	Reason    string   `json:"reason,omitempty"` // why readings do not decide, where it is not their uncertainty
	Source    string   `json:"source"`
}

type jsonTest struct {
	Value           Number `json:"value"`
	Standard        Number `json:"standard_uncertainty"`
	Freedom         Number `json:"degrees_of_freedom"` // null: not in doubt
	Coverage        Number `json:"coverage_factor"`
	Expanded        Number `json:"expanded_uncertainty"`
	Decision        string `json:"decision"`    // "met", "missed", "not proven"
	Outcome         string `json:"outcome"`     // the same, in older words
	Probability     Number `json:"probability"` // null where something else than the uncertainty keeps readings from deciding
	AcceptanceLimit Number `json:"acceptance_limit"`
}

// olderOutcomes are the words for a decision before criteria were met or missed everywhere; scripts may rely on them.
var olderOutcomes = map[metrology.Outcome]string{metrology.Conforms: "conforms", metrology.DoesNotConform: "does not conform", metrology.NotProven: "not proven either way"}

type jsonContribution struct {
	Name     string `json:"name"`
	Value    Number `json:"value"`
	Shape    string `json:"distribution"`
	Divisor  Number `json:"divisor"`
	Standard Number `json:"standard_uncertainty"`
	Source   string `json:"source"`
}

type jsonCorrection struct {
	Factor            Number `json:"factor"`
	FactorStandard    Number `json:"factor_standard_uncertainty"`
	Predicted         Number `json:"predicted_average"`
	PredictedStandard Number `json:"predicted_standard_uncertainty"`
	Corrected         Number `json:"corrected_average"`
	CorrectedStandard Number `json:"corrected_standard_uncertainty"`
	CorrectedMinimum  Number `json:"corrected_minimum"`
	Better            bool   `json:"better"`
}

type jsonSurveyWarning struct {
	Key    string `json:"key"`
	Text   string `json:"text"`
	Source string `json:"source"`
}

// WriteVerification writes what readings prove, in the job's units at full precision, and what power and hours do where they were read.
func WriteVerification(w io.Writer, j *job.Job, of *verification.Verification, power *realised.Result, from origin.Origin) error {
	out := verifyOf(j, of, from)
	if power != nil {
		saving := savingOf(power)
		out.Power, out.Beside = &saving, ledger.Beside(power, ledger.SpaceLight{Space: power.Building.Spaces[0].Name, Job: j, Found: of})
	}
	return Encode(w, out)
}

// verifyOf is what readings of the light of a room prove.
func verifyOf(j *job.Job, of *verification.Verification, from origin.Origin) jsonVerify {
	v := viewOf(j)
	c := of.Comparison
	out := jsonVerify{Job: JobOf(j), System: of.System, Verdict: wording.Readings(of), Proven: of.Proven(), Doubts: append([]string{}, wording.Doubts(of)...), Unresolved: []jsonUnresolved{}, StruckOut: []jsonStruck{}, Confidence: Number(of.Confidence), Stations: []jsonDeviation{},
		MeanRatio: Number(c.Mean), MeanStandard: Number(c.Standard), KeptRatio: Number(c.KeptMean), Areas: []jsonArea{},
		ReadingStdShr: Number(of.Budget.Standard()), LossesOnTheDay: map[string]Number{"total": Number(of.Day.Total())},
		Warnings: []jsonSurveyWarning{}, WouldProve: append([]string{}, wording.WouldProve(of)...), Notes: append(append([]string{}, wording.ReadingNotes(of)...), wording.RatioNotes(c)...), Cautions: ledger.OnSite, Origin: OriginOf(from)}
	for _, u := range of.Unresolved {
		out.Unresolved = append(out.Unresolved, jsonUnresolved{u.Key, append([]string{}, u.Stations...), wording.Unresolved(of, u)})
	}
	for _, s := range of.Struck {
		out.StruckOut = append(out.StruckOut, jsonStruck{s.Station, v.light(s.Value), s.Reason})
	}
	for _, d := range c.Stations {
		at := of.Positions[d.Station].Position
		out.Stations = append(out.Stations, jsonDeviation{d.Station, Number(at.X / v.Meter), Number(at.Y / v.Meter), Number(at.Z / v.Meter),
			v.light(d.Predicted), v.light(d.Measured), Number(d.Ratio), Number(d.NormalizedError), d.Outlier, d.Disagrees, slices.Contains(of.Slips, d.Station)})
	}
	for _, b := range of.Budget {
		out.Budget = append(out.Budget, jsonContribution{b.Name, Number(b.Value), b.Shape.String(), Number(b.Divisor), Number(b.Standard()), b.Source})
	}
	for _, f := range of.Day.List() {
		out.LossesOnTheDay[f.Key] = Number(f.Value)
	}
	for _, a := range of.Areas {
		out.Areas = append(out.Areas, v.jsonArea(a))
	}
	if k := of.Correction; k != nil {
		out.Correction = &jsonCorrection{Number(k.Factor), Number(k.FactorStandard), v.light(k.Predicted), v.light(k.PredictedStandard), v.light(k.Value),
			v.light(k.Standard), v.light(k.Minimum), k.Better}
	}
	for _, n := range wording.ConditionWarnings(of) {
		out.Warnings = append(out.Warnings, jsonSurveyWarning(n))
	}
	return out
}

func (v view) jsonArea(a verification.VerifiedArea) jsonArea {
	ratio, _ := a.Ratio()
	off, k := a.Expanded()
	out := jsonArea{Grid: a.Grid, Measured: v.light(a.Measured.Value), Predicted: v.light(a.Predicted.Value), Ratio: Number(ratio),
		Standard: v.light(a.Budget.Standard() * a.Measured.Value),
		Coverage: Number(k), Expanded: v.light(off), Without: v.light(a.Without.Value), Missing: append([]string{}, a.Missing...), Decisions: []jsonDecision{}}
	for _, d := range a.Decisions {
		test := func(x metrology.Decision) jsonTest {
			likely := x.Probability
			if len(d.Doubts) > 0 && x.Outcome == metrology.NotProven {
				likely = math.NaN()
			}
			k := x.CoverageFactor(0.95)
			return jsonTest{v.statistic(d.Statistic, x.Measured), v.statistic(d.Statistic, x.Standard), Number(x.Freedom), Number(k), v.statistic(d.Statistic, k*x.Standard), x.Outcome.String(), olderOutcomes[x.Outcome], Number(likely),
				v.statistic(d.Statistic, x.AcceptanceLimit)}
		}
		reason := ""
		if d.Found.Outcome == metrology.NotProven {
			reason = wording.Doubt(d.Doubts...)
		}
		out.Decisions = append(out.Decisions, jsonDecision{d.Name, d.Statistic.String(), d.Station, v.statistic(d.Statistic, d.Claimed), v.statistic(d.Statistic, d.Found.Limit),
			d.Direction(), test(d.Found), test(d.Carried), reason, d.Source})
	}
	nothing := Number(math.NaN())
	none := jsonTest{nothing, nothing, nothing, nothing, nothing, metrology.NotProven.String(), olderOutcomes[metrology.NotProven], nothing, nothing}
	for _, u := range a.Undecided {
		out.Decisions = append(out.Decisions, jsonDecision{u.Name, u.Statistic.String(), "", v.statistic(u.Statistic, u.Claimed), v.statistic(u.Statistic, u.RequiredIn(false)),
			u.Direction(), none, none, wording.Doubt(u.Reason), u.Source})
	}
	return out
}
