package study

import (
	"math"
	"slices"
	"strings"

	"lampswap/photometry/catalog"
	"lampswap/photometry/codes"
	"lampswap/photometry/job"
	"lampswap/photometry/lighting"
	"lampswap/photometry/lm63"
	"lampswap/photometry/losses"
)

// A Warning is a fact that a reader must know before trusting the numbers. What it is about stands in the Result, in its side, or beside its code here.
// Package wording has the sentences.
type Warning struct {
	Code  Code
	Side  lighting.Side // the system, or the luminaires of one kind in it; none of what is about all
	Count int           // of things
	Of    int           // among so many
	Value float64       // SI, or the job's money
	Names []string
	Text  string // as the job's reader or a table has it
	Air   losses.Concern
	Ban   codes.Notice
	Rule  codes.Alteration
}

// A Code is what a warning is about; scripts rely on it.
type Code string

// The codes, with what a warning has beside its side.
const (
	Imbalance        Code = "imbalance"             //
	MuchLight        Code = "slip_much_light"       // Value: lm/W
	LittleLight      Code = "slip_little_light"     // Value: lm/W
	MuchLoad         Code = "slip_load"             // Value: W/m²
	FewHours         Code = "slip_hours"            // Value: of a year
	DearEnergy       Code = "slip_energy_price"     // Value: a kWh
	DearDemand       Code = "slip_demand_price"     // Value: a kW and month
	CheapSwap        Code = "slip_cost"             // Value: of all; Count: of luminaires
	OfJob            Code = "job"                   // Text
	Simulated        Code = "simulated"             // Text
	WideSpacing      Code = "spacing"               //
	RacksUnseen      Code = "racks_unseen"          //
	MethodsApart     Code = "methods_differ"        //
	ColorsDiffer     Code = "colors_differ"         //
	ThroughWall      Code = "through_wall"          // Count: of luminaires; Value: by how far at most, m
	IntoBox          Code = "into_box"              // the same
	Overlap          Code = "overlap"               // Names: the first two luminaires
	NoRating         Code = "no_glare_rating"       //
	UntriedSizes     Code = "glare_sizes"           //
	LightUncounted   Code = "temperature_uncounted" // Air
	BeyondPoints     Code = "temperature_points"    // Air
	LightEstimated   Code = "temperature_estimated" // Air
	Starting         Code = "temperature_start"     // Air
	MayStart         Code = "temperature_unsure"    // Air
	Age              Code = "age"                   //
	Relamping        Code = "relamping"             //
	LumensUnverified Code = "lumens_unverified"     //
	WattsUnverified  Code = "watts_unverified"      //
	AboveCeiling     Code = "above_federal"         //
	BeamUnknown      Code = "beam_unknown"          //
	HiddenPoints     Code = "points_left_out"       // Names: the grid; Count of Of points
	LampLifeUnknown  Code = "lamp_life_unknown"     //
	RebateAboveCost  Code = "rebate_above_cost"     // Value: net cost
	HeatingCooling   Code = "heating_cooling"       //
	RebateOfNothing  Code = "rebate_of_nothing"     //
	UpkeepUnknown    Code = "upkeep_unknown"        // Names: of systems
	SaleBan          Code = "sale_ban"              // Ban
	Altered          Code = "alteration"            // Names: the criterion; Rule
	Caveat           Code = "caveat"                // Names: the criteria; Text
)

// gravity are codes that could mislead the verdict, the gravest first: light that is lost or found, slips on
// which the verdict rests, light that lamps may not give, luminaires that hang otherwise, methods that disagree,
// dark places, lamps that cannot be had, an age that is none, money. All others weigh less, and least those that
// hold of nearly every job.
var (
	gravity = [][]Code{{Imbalance}, {MuchLight, LittleLight, MuchLoad}, {LightUncounted}, {BeyondPoints},
		{LightEstimated}, {Starting}, {Overlap}, {ThroughWall}, {IntoBox}, {MethodsApart}, {WideSpacing},
		{HiddenPoints}, {SaleBan}, {Age}, {AboveCeiling, RebateAboveCost}}
	usual = []Code{LumensUnverified, WattsUnverified, Simulated, RacksUnseen, UntriedSizes}
)

// Gravity is the place of a code among others: the less, the more it could mislead the verdict.
func (c Code) Gravity() int {
	if i := slices.IndexFunc(gravity, func(alike []Code) bool { return slices.Contains(alike, c) }); i >= 0 {
		return i
	}
	if slices.Contains(usual, c) {
		return len(gravity) + 1
	}
	return len(gravity)
}

// warnings tells what a reader must know before trusting the numbers.
func warnings(r *Result) []Warning {
	var all []Warning
	for _, side := range r.Sides { // first, as all that follows rests on it
		if side.Unbalanced() {
			all = append(all, Warning{Code: Imbalance, Side: side})
		}
	}
	light, money := r.Slips()
	all = slices.Concat(all, light, money, ofJob(r))
	for _, side := range r.Sides {
		all = append(all, systemWarnings(r, side)...)
		for _, kind := range side.Kinds() {
			all = append(all, kindWarnings(r, kind)...)
		}
	}
	return slices.Concat(all, hiddenPoints(r), moneyWarnings(r), supplyWarnings(r), alterationWarnings(r), caveats(r))
}

// ofJob are those that the reader of the job has, of a system where one is about its table.
func ofJob(r *Result) []Warning {
	var all []Warning
	for _, text := range r.Job.Warnings {
		w := Warning{Code: OfJob, Text: text}
		for _, side := range r.Sides {
			if of, found := strings.CutPrefix(text, side.Name+": "); found {
				w.Side, w.Text = side, of
			}
		}
		if strings.HasSuffix(text, lm63.Simulation) {
			w.Code = Simulated
		}
		all = append(all, w)
	}
	return all
}

// systemWarnings are those of a system as a whole.
func systemWarnings(r *Result, side lighting.Side) []Warning {
	var all []Warning
	if along, across := side.LumenMethod.TooWide(); along || across {
		all = append(all, Warning{Code: WideSpacing, Side: side})
	}
	switch lumen, point := Averages(side.System); {
	case len(r.Job.Racks) > 0:
		all = append(all, Warning{Code: RacksUnseen, Side: side})
	case !Confirm(lumen, point):
		all = append(all, Warning{Code: MethodsApart, Side: side})
	}
	if temperatures, indices := Differing(side); temperatures != nil || indices != nil {
		all = append(all, Warning{Code: ColorsDiffer, Side: side})
	}
	return slices.Concat(all, r.fitWarnings(side), r.glareWarnings(side))
}

// hiddenPoints tells which grids are partly inside racks, but for the work plane, which always is.
func hiddenPoints(r *Result) []Warning {
	var all []Warning
	for _, g := range r.Existing().Grids[1:] {
		hidden := 0
		for _, v := range g.Maintained {
			if math.IsNaN(v) {
				hidden++
			}
		}
		if hidden > 0 && !g.Emergency {
			all = append(all, Warning{Code: HiddenPoints, Names: []string{g.Name}, Count: hidden, Of: len(g.Maintained)})
		}
	}
	return all
}

// caveats tells what goes with the criteria, those that share it together.
func caveats(r *Result) []Warning {
	var all []Warning
	for i := 0; i < len(r.Verdicts); {
		names, caveat := []string{r.Verdicts[i].Name}, r.Verdicts[i].Caveat
		for i++; i < len(r.Verdicts) && r.Verdicts[i].Caveat == caveat; i++ {
			if r.Verdicts[i].Name != r.Verdicts[i-1].Name {
				names = append(names, r.Verdicts[i].Name)
			}
		}
		if caveat != "" {
			all = append(all, Warning{Code: Caveat, Names: names, Text: caveat})
		}
	}
	return all
}

// concerns are the codes of what the temperature leaves in doubt.
var concerns = map[losses.Concern]Code{losses.SourceUnknown: LightUncounted, losses.BeyondPoints: BeyondPoints, losses.PointsOffOne: BeyondPoints,
	losses.Estimated: LightEstimated, losses.LampTooCold: Starting, losses.BallastTooCold: Starting, losses.BallastUnsure: MayStart, losses.BallastUntold: MayStart}

// kindWarnings are those of luminaires of one kind.
func kindWarnings(r *Result, side lighting.Side) []Warning {
	var all []Warning
	add := func(when bool, code Code) {
		if when {
			all = append(all, Warning{Code: code, Side: side})
		}
	}
	from, lamp := side.From, side.From.Lamp
	given := from.Losses.Temperature != nil || from.Losses.Total != nil
	for _, c := range lighting.Temperature(r.Job, from).Concerns {
		if !given || !c.OfLight() { // a factor that the job gives does not start a lamp
			all = append(all, Warning{Code: concerns[c], Side: side, Air: c})
		}
	}
	if lamp != nil {
		add(AgeOf(r.Job, from) != AgeReached, Age)
		add(RelampingOf(from) != losses.InTime, Relamping)
		add(lamp.FromMemory() && from.LampLumens == lamp.InitialLumens, LumensUnverified)
		ceiling, _, ok := from.LegalCeiling()
		add(ok && r.Job.InUnitedStates() && from.InputWatts > ceiling*(1+1e-3), AboveCeiling)
		add(lamp.LED && lamp.BeamDeg == 0 && from.SuggestedCategory != "", BeamUnknown)
	}
	add(from.Ballast != nil && from.Ballast.FromMemory(), WattsUnverified)
	return all
}

// RelampingOf tells how far from the end of their life the lamps of the list in luminaires are replaced together.
func RelampingOf(from *job.System) losses.Relamping {
	return losses.RelampingOf(from.Care.RelampHours, from.RatedLifeHours(), from.Lamp.L70, from.Losses.LampBurnout != nil || from.Losses.Total != nil)
}

// An AgeAt is how the age at which a system is judged stands to the lives of its lamps.
type AgeAt int

// Ages that lamps reach, and those that they don't, or not all at once.
const (
	AgeReached      AgeAt = iota
	BeyondRelamping       // all are replaced before
	BeyondLife            // most are replaced before
	AllAtEnd              // each is replaced as it fails, and few are so old at once
)

// AgeOf compares the age at which luminaires with a lamp of the list are judged with the lives of their lamps.
func AgeOf(j *job.Job, from *job.System) AgeAt {
	age, interval, life := lighting.LampAge(j, from), from.Care.RelampHours, from.RatedLifeHours()
	const rounding = 1 + 1e-9
	switch {
	case interval > 0 && age.Hours > interval*rounding:
		return BeyondRelamping
	case interval == 0 && life > 0 && age.Hours > life*rounding:
		return BeyondLife
	case interval == 0 && life > 0 && age.OfLife == 1 && !from.Lamp.L70:
		return AllAtEnd
	}
	return AgeReached
}

// moneyWarnings tells which costs are left out of the comparison.
func moneyWarnings(r *Result) []Warning {
	var all []Warning
	var unknown []string
	for i, side := range r.Sides {
		a := r.Energy.Accounts[i]
		if a.lampsUnknown {
			all = append(all, Warning{Code: LampLifeUnknown, Side: side})
		}
		if cost := side.From.Costs.InstalledCost; cost != nil && *a.NetCost < 0 {
			all = append(all, Warning{Code: RebateAboveCost, Side: side, Value: *a.NetCost})
		}
		if !a.upkeepKnown {
			unknown = append(unknown, side.Name)
		}
	}
	if r.Energy.HeatingCooling != 0 {
		all = append(all, Warning{Code: HeatingCooling})
	}
	if len(r.Job.Proposed.Costs.Rebates) > 0 && r.Energy.NetCost == nil {
		all = append(all, Warning{Code: RebateOfNothing})
	}
	if len(unknown) > 0 && len(unknown) < len(r.Energy.Accounts) {
		all = append(all, Warning{Code: UpkeepUnknown, Names: unknown})
	}
	return all
}

// alterationWarnings say when a swap has to meet the codes that the job's criteria name.
func alterationWarnings(r *Result) []Warning {
	var all []Warning
	for _, v := range r.Verdicts {
		limit, ok := codes.Find(v.Level)
		if !ok || math.IsNaN(v.Proposed().Value) {
			continue
		}
		for _, a := range codes.WhenAltered(limit.Edition()) {
			all = append(all, Warning{Code: Altered, Names: []string{v.Name}, Rule: a})
		}
	}
	return all
}

// Differing are lamps that give light in one system and of which each has another color temperature, and another color rendering index; none where all
// have one.
func Differing(side lighting.Side) (temperatures, indices []*catalog.Lamp) {
	of := func(color func(*catalog.Lamp) float64) (all []*catalog.Lamp) {
		for _, kind := range side.Kinds() {
			l := kind.From.Lamp
			if l != nil && color(l) > 0 && len(kind.From.Lit()) > 0 && !slices.ContainsFunc(all, func(a *catalog.Lamp) bool { return color(a) == color(l) }) {
				all = append(all, l)
			}
		}
		if len(all) < 2 {
			return nil
		}
		return all
	}
	return of(func(l *catalog.Lamp) float64 { return l.ColorTemperature }), of(func(l *catalog.Lamp) float64 { return l.ColorRendering })
}
