package answer

import (
	"io"
	"math"

	"lampswap/cmd/lampswap/internal/origin"
	"lampswap/cmd/lampswap/internal/units"
	"lampswap/photometry/job"
	"lampswap/photometry/lighting"
	"lampswap/photometry/room"
	"lampswap/photometry/study"
	"lampswap/photometry/wording"
)

// A Result is all that check answers.
type Result struct {
	Job         Job              `json:"job"`
	Room        jsonRoom         `json:"room"`
	Existing    jsonSystem       `json:"existing"`
	Proposed    jsonSystem       `json:"proposed"`
	Replacement *jsonSystem      `json:"replacement,omitempty"`
	Criteria    []jsonCriterion  `json:"criteria"`
	Verdict     string           `json:"verdict"`
	Methods     []string         `json:"methods_compared"`
	Effects     jsonEffects      `json:"effects"`
	Energy      jsonEnergy       `json:"energy"`
	LifeCycle   *jsonLifeCycle   `json:"life_cycle"`
	PowerLimits []jsonPowerLimit `json:"power_density_limits"`
	Alterations []jsonAlteration `json:"alterations"`
	Years       []jsonYears      `json:"light_through_years"`
	Uncertainty *jsonUncertainty `json:"uncertainty,omitempty"`
	Space       *jsonSpace       `json:"space,omitempty"`
	Binding     []string         `json:"binding_levels"`
	Comfort     []string         `json:"comfort"`
	Defaults    []jsonDefault    `json:"defaults"`
	Warnings    []string         `json:"warnings"`
	Codes       []study.Code     `json:"warning_codes"` // of each warning, what it is about
	Cautions    []string         `json:"cautions"`
	Origin
}

// An Origin is where an answer comes from; every answer has it.
type Origin struct {
	Version      string `json:"version"`       // of lampswap
	InputsDigest string `json:"inputs_digest"` // SHA-256 of all that it was made from: the job file and every file that it names, or the like
}

// OriginOf is an origin as every answer tells it.
func OriginOf(o origin.Origin) Origin { return Origin{Version: o.Version, InputsDigest: o.Digest} }

// A Job is what every answer says of its job.
type Job struct {
	Title           string `json:"title"`
	Space           string `json:"space,omitempty"` // what kind of space the room is
	Units           string `json:"units"`
	LengthUnit      string `json:"length_unit"`
	IlluminanceUnit string `json:"illuminance_unit"`
}

// A jsonRoom is the room in plan, in the job's unit of length and its square.
type jsonRoom struct {
	Length    Number      `json:"length"`
	Width     Number      `json:"width"`
	Height    Number      `json:"height"`
	FloorArea Number      `json:"floor_area"`
	Perimeter Number      `json:"perimeter"`
	Outline   [][2]Number `json:"outline,omitempty"` // corners in order, as the job has them
}

type jsonSystem struct {
	Photometry string `json:"photometry"`
	jsonLamp
	Luminaires          int                       `json:"luminaires"`
	InputWattsEach      Number                    `json:"input_watts_each"`
	PowerDensity        Number                    `json:"power_density"`
	LampLumensEach      Number                    `json:"lamp_lumens_each"`
	LuminaireEfficiency Number                    `json:"luminaire_efficiency"`
	LightLoss           map[string]Number         `json:"light_loss"`
	Outside             bool                      `json:"outside_rating"`
	OutsideBecause      string                    `json:"outside_rating_because,omitempty"`
	JudgedAt            string                    `json:"judged_at"` // "mid-life", "end" or "hours"
	LightLossFrom       map[string]jsonLossOrigin `json:"light_loss_from"`
	LumenMethod         jsonLumenMethod           `json:"lumen_method"`
	Balance             *jsonBalance              `json:"interreflection"`
	Grids               []jsonGrid                `json:"grids"`
	Observers           []jsonObserver            `json:"observers"`
	Luminances          []jsonLuminance           `json:"luminances"`
	Groups              []jsonGroup               `json:"groups"`
	AllLit              *jsonAllLit               `json:"all_lit,omitempty"` // of the existing
}

// jsonLamp is what the job and the lists say of a system's lamps and ballasts; what they don't say is left out.
type jsonLamp struct {
	Lamp       string `json:"lamp,omitempty"`
	LampWords  string `json:"lamp_description,omitempty"`
	LampKind   string `json:"lamp_kind,omitempty"` // fluorescent or led
	LEDType    string `json:"led_type,omitempty"`  // A, B or C
	Lamps      *int   `json:"lamps"`               // in one luminaire; null where kinds differ
	CRI        Number `json:"cri,omitempty"`
	CCT        Number `json:"cct,omitempty"` // K
	Ballast    string `json:"ballast,omitempty"`
	Ballasts   int    `json:"ballasts,omitempty"`
	BallastSet string `json:"ballast_set,omitempty"` // of several: "2-lamp + 1-lamp"
}

func jsonLampOf(from *job.System) jsonLamp {
	out := jsonLamp{Lamps: &from.Lamps}
	if l := from.Lamp; l != nil {
		out.Lamp, out.LampWords, out.LampKind, out.LEDType = l.Name, l.Words(), "fluorescent", string(l.LEDType)
		out.CRI, out.CCT = Number(l.ColorRendering), Number(l.ColorTemperature)
		if l.LED {
			out.LampKind = "led"
		}
	}
	if b := from.Ballast; b != nil {
		out.Ballast, out.Ballasts, out.BallastSet = b.Name, b.Count, b.Set()
	}
	return out
}

// jsonBalance is the account of the initial light, lm.
type jsonBalance struct {
	Emitted  Number `json:"emitted"`
	Absorbed Number `json:"absorbed"`
	Bounces  int    `json:"bounces"`
}

type jsonLossOrigin struct {
	From   string `json:"from"`
	Detail string `json:"detail"`
}

type jsonLumenMethod struct {
	RoomCavityRatio             Number `json:"room_cavity_ratio"`
	CeilingCavityRatio          Number `json:"ceiling_cavity_ratio"`
	FloorCavityRatio            Number `json:"floor_cavity_ratio"`
	EffectiveCeilingReflectance Number `json:"effective_ceiling_reflectance"`
	EffectiveFloorReflectance   Number `json:"effective_floor_reflectance"`
	CoefficientOfUtilization    Number `json:"coefficient_of_utilization"`
	InitialAverage              Number `json:"initial_average"`
	MaintainedAverage           Number `json:"maintained_average"`
	SpacingCriterionAlong       Number `json:"spacing_criterion_along"`
	SpacingCriterionAcross      Number `json:"spacing_criterion_across"`
	SpacingToHeightAlong        Number `json:"spacing_to_height_along"`
	SpacingToHeightAcross       Number `json:"spacing_to_height_across"`
	NoRacks                     bool   `json:"no_racks,omitempty"` // the job has racks, which the method does not see
}

type jsonGrid struct {
	Name                   string     `json:"name"`
	Plane                  string     `json:"plane"`
	Quantity               string     `json:"quantity"`
	Facing                 *Number    `json:"facing,omitempty"` // degrees, of upright surfaces
	Height                 *Number    `json:"height,omitempty"` // of points that lie level
	Modeling               *Number    `json:"modeling,omitempty"`
	Emergency              bool       `json:"emergency,omitempty"`
	NX                     int        `json:"nx"`
	NY                     int        `json:"ny"`
	Average                Number     `json:"average"`
	Minimum                Number     `json:"minimum"`
	Maximum                Number     `json:"maximum"`
	AverageToMinimum       Number     `json:"average_to_minimum"`
	MaximumToMinimum       Number     `json:"maximum_to_minimum"`
	CoefficientOfVariation Number     `json:"coefficient_of_variation"`
	X                      []Number   `json:"x,omitempty"`
	Y                      []Number   `json:"y,omitempty"`
	InitialDirect          [][]Number `json:"initial_direct,omitempty"`
	InitialInterreflected  [][]Number `json:"initial_interreflected,omitempty"`
	Maintained             [][]Number `json:"maintained,omitempty"`
}

type jsonCriterion struct {
	Name           string  `json:"name"`
	Level          string  `json:"level,omitempty"`
	Grid           string  `json:"grid"`
	Statistic      string  `json:"statistic"`
	Required       Number  `json:"required"`
	Direction      string  `json:"direction"`
	Existing       Number  `json:"existing"`
	Proposed       Number  `json:"proposed"`
	ExistingMet    bool    `json:"existing_met"`
	ProposedMet    bool    `json:"proposed_met"`
	ExistingMargin Number  `json:"existing_margin"`
	ProposedMargin Number  `json:"proposed_margin"`
	Replacement    *Number `json:"replacement,omitempty"`
	ReplacementMet *bool   `json:"replacement_met,omitempty"`
	ReplacedMargin *Number `json:"replacement_margin,omitempty"`
	Source         string  `json:"source"`
	Confidence     string  `json:"confidence,omitempty"`
	Caveat         string  `json:"caveat,omitempty"`
}

type jsonEffects struct {
	Number        Number `json:"luminaires"`
	LampLumens    Number `json:"lamp_lumens"`
	BallastFactor Number `json:"ballast_factor"`
	Efficiency    Number `json:"luminaire_efficiency"`
	Distribution  Number `json:"distribution"`
	Time          Number `json:"other_losses"`
}

type jsonDefault struct {
	Key    string `json:"key"`
	Value  string `json:"value"`
	Reason string `json:"reason"`
}

// Write writes the result in the job's units at full precision.
func Write(w io.Writer, r *study.Result, points bool) error {
	return Encode(w, Of(r, points))
}

// Of puts a result into the job's units; with the points of its grids if they are asked for.
func Of(r *study.Result, points bool) Result {
	v := viewOf(r.Job)
	var systems []jsonSystem
	for _, side := range r.Sides {
		systems = append(systems, v.jsonSystem(r.Job, side, points))
	}
	systems[0].AllLit = &jsonAllLit{v.light(r.Existing().AllLit), Number(r.Energy.AllLitKW)} // it may have luminaires that failed
	view := Result{
		Job:      JobOf(r.Job),
		Room:     v.jsonRoom(r.Job.Room),
		Existing: systems[0],
		Proposed: systems[1],
		Criteria: []jsonCriterion{}, Defaults: []jsonDefault{}, Codes: []study.Code{},
		Verdict: wording.Verdict(r), Methods: wording.Methods(r), Binding: wording.Binding(r), Comfort: wording.Comfort(r),
		Warnings: append([]string{}, wording.Warnings(r)...), Cautions: wording.Cautions(r),
	}
	for _, c := range r.Verdicts {
		view.Criteria = append(view.Criteria, v.jsonCriterion(r, c))
	}
	for _, w := range r.Warnings {
		view.Codes = append(view.Codes, w.Code)
	}
	for _, d := range r.Job.Defaults {
		view.Defaults = append(view.Defaults, jsonDefault(d))
	}
	parts := r.Effects()
	view.Effects = jsonEffects{Number(parts.Number), Number(parts.LampLumens), Number(parts.BallastFactor), Number(parts.Efficiency),
		Number(parts.Distribution), Number(parts.Time)}
	view.Energy, view.LifeCycle, view.PowerLimits, view.Years = v.jsonEnergyOf(r), jsonLifeCycleOf(r), v.jsonPowerLimits(r), v.jsonYears(r, points)
	view.Alterations = jsonAlterations(r)
	view.Uncertainty, view.Space = v.jsonUncertainty(r), v.jsonSpaceOf(r)
	for i := range systems[2:] {
		view.Replacement = &systems[2+i]
	}
	view.Origin = OriginOf(origin.Of(r.Job.InputsDigest))
	return view
}

// JobOf is a job as every answer names it.
func JobOf(j *job.Job) Job {
	v := units.Of(j)
	return Job{Title: j.Title, Space: idOf(j.Space), Units: v.System, LengthUnit: v.Length, IlluminanceUnit: v.Illuminance}
}

func (v view) jsonRoom(r room.Room) jsonRoom {
	long := func(meters float64) Number { return Number(meters / v.Meter) }
	out := jsonRoom{Length: long(r.Length), Width: long(r.Width), Height: long(r.Height),
		FloorArea: Number(r.Area() / (v.Meter * v.Meter)), Perimeter: long(r.Perimeter())}
	for _, c := range r.Outline {
		out.Outline = append(out.Outline, [2]Number{long(c.X), long(c.Y)})
	}
	return out
}

func (v view) jsonCriterion(r *study.Result, c study.Verdict) jsonCriterion {
	before, after := c.By[0], c.Proposed()
	out := jsonCriterion{
		Name: c.Name, Level: c.Level, Grid: c.Grid, Statistic: c.Statistic.String(), Required: Number(c.RequiredIn(r.Job.Imperial)),
		Direction: c.Direction(), Existing: v.statistic(c.Statistic, before.Value), Proposed: v.statistic(c.Statistic, after.Value),
		ExistingMet: before.Met, ProposedMet: after.Met, ExistingMargin: margin(c, before), ProposedMargin: margin(c, after),
		Source: c.Source, Confidence: c.Confidence, Caveat: c.Caveat}
	if r.ThreeWays() {
		value := v.statistic(c.Statistic, c.By[2].Value)
		spare := margin(c, c.By[2])
		out.Replacement, out.ReplacementMet, out.ReplacedMargin = &value, &c.By[2].Met, &spare
	}
	return out
}

// margin is that of a value; null where it would be met but for light that is not known.
func margin(c study.Verdict, by study.Reached) Number {
	if c.Met(by.Value) && !by.Met {
		return Number(math.NaN())
	}
	return Number(c.Margin(by.Value))
}

func (v view) jsonSystem(j *job.Job, s lighting.Side, points bool) jsonSystem {
	m, from := s.LumenMethod, s.From
	out := jsonSystem{
		Photometry: from.Photometry, jsonLamp: jsonLampOf(from), Luminaires: s.Luminaires, InputWattsEach: Number(s.InputWattsEach), PowerDensity: Number(s.PowerDensity / v.PerArea),
		LampLumensEach: Number(s.LampLumensEach), LuminaireEfficiency: Number(s.Efficiency),
		Outside: s.Outside != nil, OutsideBecause: wording.Outside(s.Outside), JudgedAt: j.Upkeep.JudgedAt.At.String(), LightLoss: map[string]Number{"total": Number(s.Losses.Total()), "judged_at_hours": Number(lighting.LampAge(j, from).Hours)},
		LightLossFrom: map[string]jsonLossOrigin{},
		LumenMethod: jsonLumenMethod{Number(m.RoomCavityRatio), Number(m.CeilingCavityRatio), Number(m.FloorCavityRatio),
			Number(m.EffectiveCeilingReflectance), Number(m.EffectiveFloorReflectance), Number(m.CoefficientOfUtilization),
			v.light(m.InitialAverage), v.light(m.MaintainedAverage), Number(m.SpacingCriterionAlong), Number(m.SpacingCriterionAcross),
			Number(m.SpacingToHeightAlong), Number(m.SpacingToHeightAcross), v.racks},
	}
	for _, f := range s.Losses.List() {
		out.LightLoss[f.Key] = Number(f.Value)
		out.LightLossFrom[f.Key] = jsonLossOrigin{f.From, wording.Why(f.Factor)}
	}
	if t := s.Losses.TotalOverride; t != nil {
		out.LightLossFrom["total"] = jsonLossOrigin{t.From, wording.Why(*t)}
	}
	if b := s.Balance; b != nil {
		out.Balance = &jsonBalance{Number(b.Emitted), Number(b.Absorbed), b.Bounces}
	}
	out.Observers, out.Luminances = v.jsonObservers(*s.System), jsonLuminances(from)
	for _, g := range s.Grids {
		out.Grids = append(out.Grids, v.jsonGrid(g, points))
	}
	out.Groups = v.jsonGroups(j, from, s.System)
	if s.Parts != nil {
		out.Lamps = nil
	}
	return out
}

func (v view) jsonGrid(g lighting.Grid, points bool) jsonGrid {
	s := g.Statistics
	out := jsonGrid{Name: g.Name, Plane: g.Plane.String(), Quantity: g.Quantity().String(), Emergency: g.Emergency, NX: g.NX, NY: g.NY,
		Average: v.light(s.Average), Minimum: v.light(s.Minimum), Maximum: v.light(s.Maximum), AverageToMinimum: Number(s.AverageToMinimum),
		MaximumToMinimum: Number(s.MaximumToMinimum), CoefficientOfVariation: Number(s.CoefficientOfVariation)}
	if g.Plane == room.Horizontal {
		height := Number(g.Origin.Z / v.Meter)
		out.Height = &height
	}
	switch g.Quantity() {
	case room.Upright:
		facing := Number(g.Normal.Azimuth() * 180 / math.Pi)
		out.Facing = &facing
	case room.Cylindrical:
		modeling := Number(g.Modeling.Ratio())
		out.Modeling = &modeling
	case room.OnLevel:
	}
	if !points {
		return out
	}
	x, y := g.Coordinates()
	out.X, out.Y = v.lengths(x), v.lengths(y)
	out.InitialDirect, out.InitialInterreflected, out.Maintained = v.rows(g.Grid, g.Direct), v.rows(g.Grid, g.Interreflected), v.rows(g.Grid, g.Maintained)
	return out
}

func (v view) lengths(meters []float64) []Number {
	out := make([]Number, len(meters))
	for i, x := range meters {
		out[i] = Number(x / v.Meter)
	}
	return out
}

func (v view) rows(g room.Grid, lux []float64) [][]Number {
	out := make([][]Number, g.NY)
	for iy := range out {
		out[iy] = make([]Number, g.NX)
		for ix := range out[iy] {
			out[iy][ix] = v.light(lux[iy*g.NX+ix])
		}
	}
	return out
}
