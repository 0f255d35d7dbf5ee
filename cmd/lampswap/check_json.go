package main

import (
	"encoding/json"
	"io"
	"math"

	"lampswap/photometry"
	"lampswap/photometry/job"
	"lampswap/photometry/levels"
	"lampswap/photometry/room"
	"lampswap/photometry/study"
)

// A number is a float64 that JSON shows as null where it is NaN or infinite.
type number float64

// MarshalJSON implements json.Marshaler.
func (n number) MarshalJSON() ([]byte, error) {
	if math.IsNaN(float64(n)) || math.IsInf(float64(n), 0) {
		return []byte("null"), nil
	}
	return json.Marshal(float64(n))
}

// money is a sum that may not be known.
func money(x *float64) *number {
	if x == nil {
		return nil
	}
	n := number(*x)
	return &n
}

type jsonResult struct {
	Job          jsonJob          `json:"job"`
	Existing     jsonSystem       `json:"existing"`
	Proposed     jsonSystem       `json:"proposed"`
	Replacement  *jsonSystem      `json:"replacement,omitempty"`
	Criteria     []jsonCriterion  `json:"criteria"`
	Verdict      string           `json:"verdict"`
	Methods      []string         `json:"methods_compared"`
	Effects      jsonEffects      `json:"effects"`
	Energy       jsonEnergy       `json:"energy"`
	LifeCycle    *jsonLifeCycle   `json:"life_cycle"`
	PowerLimits  []jsonPowerLimit `json:"power_density_limits"`
	Years        []jsonYears      `json:"light_through_years"`
	Uncertainty  *jsonUncertainty `json:"uncertainty,omitempty"`
	Binding      []string         `json:"binding_levels"`
	Defaults     []jsonDefault    `json:"defaults"`
	Warnings     []string         `json:"warnings"`
	Cautions     []string         `json:"cautions"`
	Version      string           `json:"version"`       // of lampswap
	InputsDigest string           `json:"inputs_digest"` // SHA-256 of the job file and every file that it names
}

type jsonJob struct {
	Title           string `json:"title"`
	Units           string `json:"units"`
	LengthUnit      string `json:"length_unit"`
	IlluminanceUnit string `json:"illuminance_unit"`
}

type jsonSystem struct {
	Photometry          string                    `json:"photometry"`
	Luminaires          int                       `json:"luminaires"`
	InputWattsEach      number                    `json:"input_watts_each"`
	PowerDensity        number                    `json:"power_density"`
	LampLumensEach      number                    `json:"lamp_lumens_each"`
	LuminaireEfficiency number                    `json:"luminaire_efficiency"`
	LightLoss           map[string]number         `json:"light_loss"`
	LightLossFrom       map[string]jsonLossOrigin `json:"light_loss_from"`
	LumenMethod         jsonLumenMethod           `json:"lumen_method"`
	Balance             *jsonBalance              `json:"interreflection"`
	Grids               []jsonGrid                `json:"grids"`
}

// jsonBalance is the account of the initial light, lm.
type jsonBalance struct {
	Emitted  number `json:"emitted"`
	Absorbed number `json:"absorbed"`
	Bounces  int    `json:"bounces"`
}

type jsonLossOrigin struct {
	From   string `json:"from"`
	Detail string `json:"detail"`
}

type jsonLumenMethod struct {
	RoomCavityRatio             number `json:"room_cavity_ratio"`
	CeilingCavityRatio          number `json:"ceiling_cavity_ratio"`
	FloorCavityRatio            number `json:"floor_cavity_ratio"`
	EffectiveCeilingReflectance number `json:"effective_ceiling_reflectance"`
	EffectiveFloorReflectance   number `json:"effective_floor_reflectance"`
	CoefficientOfUtilization    number `json:"coefficient_of_utilization"`
	InitialAverage              number `json:"initial_average"`
	MaintainedAverage           number `json:"maintained_average"`
	SpacingCriterionAlong       number `json:"spacing_criterion_along"`
	SpacingCriterionAcross      number `json:"spacing_criterion_across"`
	SpacingToHeightAlong        number `json:"spacing_to_height_along"`
	SpacingToHeightAcross       number `json:"spacing_to_height_across"`
}

type jsonGrid struct {
	Name                   string     `json:"name"`
	Plane                  string     `json:"plane"`
	Emergency              bool       `json:"emergency,omitempty"`
	NX                     int        `json:"nx"`
	NY                     int        `json:"ny"`
	Average                number     `json:"average"`
	Minimum                number     `json:"minimum"`
	Maximum                number     `json:"maximum"`
	AverageToMinimum       number     `json:"average_to_minimum"`
	MaximumToMinimum       number     `json:"maximum_to_minimum"`
	CoefficientOfVariation number     `json:"coefficient_of_variation"`
	X                      []number   `json:"x,omitempty"`
	Y                      []number   `json:"y,omitempty"`
	InitialDirect          [][]number `json:"initial_direct,omitempty"`
	InitialInterreflected  [][]number `json:"initial_interreflected,omitempty"`
	Maintained             [][]number `json:"maintained,omitempty"`
}

type jsonCriterion struct {
	Name           string  `json:"name"`
	Level          string  `json:"level,omitempty"`
	Grid           string  `json:"grid"`
	Statistic      string  `json:"statistic"`
	Required       number  `json:"required"`
	Direction      string  `json:"direction"`
	Existing       number  `json:"existing"`
	Proposed       number  `json:"proposed"`
	ExistingMet    bool    `json:"existing_met"`
	ProposedMet    bool    `json:"proposed_met"`
	ExistingMargin number  `json:"existing_margin"`
	ProposedMargin number  `json:"proposed_margin"`
	Replacement    *number `json:"replacement,omitempty"`
	ReplacementMet *bool   `json:"replacement_met,omitempty"`
	Source         string  `json:"source"`
	Confidence     string  `json:"confidence,omitempty"`
	Caveat         string  `json:"caveat,omitempty"`
}

type jsonEffects struct {
	Number        number `json:"luminaires"`
	LampLumens    number `json:"lamp_lumens"`
	BallastFactor number `json:"ballast_factor"`
	Efficiency    number `json:"luminaire_efficiency"`
	Distribution  number `json:"distribution"`
	Time          number `json:"other_losses"`
}

type jsonDefault struct {
	Key    string `json:"key"`
	Value  string `json:"value"`
	Reason string `json:"reason"`
}

// writeJSON writes the result in the job's units at full precision.
func writeJSON(w io.Writer, r *study.Result, points bool) error {
	return encodeJSON(w, jsonOf(r, points))
}

func jsonOf(r *study.Result, points bool) jsonResult {
	v := viewOf(r)
	view := jsonResult{
		Job:      v.jsonJob(r.Job),
		Existing: v.jsonSystem(r.Job.Existing.Photometry, r.Existing, points),
		Proposed: v.jsonSystem(r.Job.Proposed.Photometry, r.Proposed, points),
		Criteria: []jsonCriterion{}, Defaults: []jsonDefault{},
		Verdict: r.Sentence(), Methods: r.CrossCheck(), Binding: r.BindingRules(),
		Warnings: append([]string{}, r.Warnings...), Cautions: append([]string{}, r.Cautions...),
	}
	for _, c := range r.Verdicts {
		view.Criteria = append(view.Criteria, v.jsonCriterion(r, c))
	}
	for _, d := range r.Job.Defaults {
		view.Defaults = append(view.Defaults, jsonDefault(d))
	}
	parts := r.Effects()
	view.Effects = jsonEffects{number(parts.Number), number(parts.LampLumens), number(parts.BallastFactor), number(parts.Efficiency),
		number(parts.Distribution), number(parts.Time)}
	view.Energy, view.LifeCycle, view.PowerLimits, view.Years = jsonEnergyOf(r), jsonLifeCycleOf(r), v.jsonPowerLimits(r), v.jsonYears(r, points)
	view.Uncertainty = v.jsonUncertainty(r)
	if r.Replacement != nil {
		replacement := v.jsonSystem(r.Job.Replacement.Photometry, *r.Replacement, points)
		view.Replacement = &replacement
	}
	view.Version, view.InputsDigest = version(), r.Job.InputsDigest
	return view
}

func (v view) jsonJob(j *job.Job) jsonJob {
	return jsonJob{Title: j.Title, Units: v.system, LengthUnit: v.length, IlluminanceUnit: v.illuminance}
}

func (v view) jsonCriterion(r *study.Result, c study.Verdict) jsonCriterion {
	out := jsonCriterion{
		Name: c.Name, Level: c.Level, Grid: c.Grid, Statistic: c.Statistic.String(), Required: number(c.RequiredIn(r.Job.Imperial)),
		Direction: c.Direction(), Existing: v.statistic(c.Statistic, c.Existing), Proposed: v.statistic(c.Statistic, c.Proposed),
		ExistingMet: c.ExistingMet, ProposedMet: c.ProposedMet, ExistingMargin: number(c.Margin(c.Existing)), ProposedMargin: number(c.Margin(c.Proposed)),
		Source: c.Source, Confidence: c.Confidence, Caveat: c.Caveat}
	if r.Replacement != nil {
		value := v.statistic(c.Statistic, c.Replacement)
		out.Replacement, out.ReplacementMet = &value, &c.ReplacementMet
	}
	return out
}

func (v view) jsonSystem(source string, s study.System, points bool) jsonSystem {
	m := s.LumenMethod
	out := jsonSystem{
		Photometry: source, Luminaires: s.Luminaires, InputWattsEach: number(s.InputWattsEach), PowerDensity: number(s.PowerDensity / v.perArea),
		LampLumensEach: number(s.LampLumensEach), LuminaireEfficiency: number(s.Efficiency),
		LightLoss: map[string]number{"total": number(s.Losses.Total())}, LightLossFrom: map[string]jsonLossOrigin{},
		LumenMethod: jsonLumenMethod{number(m.RoomCavityRatio), number(m.CeilingCavityRatio), number(m.FloorCavityRatio),
			number(m.EffectiveCeilingReflectance), number(m.EffectiveFloorReflectance), number(m.CoefficientOfUtilization),
			v.light(m.InitialAverage), v.light(m.MaintainedAverage), number(m.SpacingCriterionAlong), number(m.SpacingCriterionAcross),
			number(m.SpacingToHeightAlong), number(m.SpacingToHeightAcross)},
	}
	for _, f := range s.Losses.List() {
		out.LightLoss[f.Key] = number(f.Value)
		out.LightLossFrom[f.Key] = jsonLossOrigin{f.From, f.Detail}
	}
	if t := s.Losses.TotalOverride; t != nil {
		out.LightLossFrom["total"] = jsonLossOrigin{t.From, t.Detail}
	}
	if b := s.Balance; b != nil {
		out.Balance = &jsonBalance{number(b.Emitted), number(b.Absorbed), b.Bounces}
	}
	for _, g := range s.Grids {
		out.Grids = append(out.Grids, v.jsonGrid(g, points))
	}
	return out
}

func (v view) jsonGrid(g study.Grid, points bool) jsonGrid {
	s := g.Statistics
	out := jsonGrid{Name: g.Name, Plane: g.Plane.String(), Emergency: g.Emergency, NX: g.NX, NY: g.NY,
		Average: v.light(s.Average), Minimum: v.light(s.Minimum), Maximum: v.light(s.Maximum), AverageToMinimum: number(s.AverageToMinimum),
		MaximumToMinimum: number(s.MaximumToMinimum), CoefficientOfVariation: number(s.CoefficientOfVariation)}
	if !points {
		return out
	}
	x, y := g.Coordinates()
	out.X, out.Y = v.lengths(x), v.lengths(y)
	out.InitialDirect, out.InitialInterreflected, out.Maintained = v.rows(g.Grid, g.Direct), v.rows(g.Grid, g.Interreflected), v.rows(g.Grid, g.Maintained)
	return out
}

func (v view) lengths(meters []float64) []number {
	out := make([]number, len(meters))
	for i, x := range meters {
		out[i] = number(x / v.meter)
	}
	return out
}

func (v view) rows(g room.Grid, lux []float64) [][]number {
	out := make([][]number, g.NY)
	for iy := range out {
		out[iy] = make([]number, g.NX)
		for ix := range out[iy] {
			out[iy][ix] = v.light(lux[iy*g.NX+ix])
		}
	}
	return out
}

// A view turns SI into the job's units.
type view struct {
	system, length, illuminance, power string
	meter, lux, perArea                float64 // one of the job's unit in SI: length, illuminance, "per area"
}

func viewOf(r *study.Result) view { return viewOfJob(r.Job) }

func viewOfJob(j *job.Job) view {
	if j.Imperial {
		return view{"imperial", "ft", "fc", "W/ft2", photometry.Foot, photometry.Footcandle, photometry.Footcandle}
	}
	return view{"metric", "m", "lx", "W/m2", 1, 1, 1}
}

func (v view) light(lux float64) number { return number(lux / v.lux) }

// statistic converts an illuminance or a power density, both per area; a ratio stays as it is.
func (v view) statistic(which levels.Statistic, value float64) number {
	if which.Ratio() {
		return number(value)
	}
	return v.light(value)
}
