package job

import (
	"math"
	"slices"

	"lampswap/photometry"
	"lampswap/photometry/catalog"
	"lampswap/photometry/fixture"
	"lampswap/photometry/glare"
	"lampswap/photometry/levels"
	"lampswap/photometry/lifecycle"
	"lampswap/photometry/losses"
	"lampswap/photometry/room"
	"lampswap/photometry/spaces"
)

// A Job is a checked job file in SI units.
type Job struct {
	Title           string
	Imperial        bool // the file and every result are in feet and footcandles, else in metres and lux
	Room            room.Room
	Space           *spaces.Space // what kind of space the room is; nil if the job does not say
	Racks           []room.Rack
	Existing        System
	Proposed        System
	Replacement     *System // the third way, new fixtures in place of the old; nil if the job does not ask for it
	Upkeep          Upkeep
	Spacing         float64 // of the work-plane grid, m
	Interreflection bool
	Grids           []room.Grid      // besides the work plane
	Groups          []string         // names of the groups of luminaires, in the job's order; "all" alone where it has one layout
	Observers       []glare.Observer // those that the job names, or those by rule
	ObserversNamed  bool
	Criteria        []levels.Criterion
	Egress          *Egress // nil if the job does not ask for it
	Tariff          Tariff
	Currency        string // three letters; "" where it is not known
	CurrencyGiven   bool   // the job names it
	LifeCycle       lifecycle.Terms
	Facts           Facts
	Uncertainty     Uncertainty
	Defaults        []Default
	Warnings        []string
	InputsDigest    string   // of the job file and of every file that it names: see Sources
	InputNames      []string // of the files that it names, as it names them, sorted

	shelf *Shelf // with which it was read; nil keeps nothing
}

// Solve is what a cross-section makes of lamps, from the shelf with which the job was read if that has it, and errs as Section.Solve does.
func (j *Job) Solve(section *fixture.Section, tubes fixture.Tubes) (photometry.Luminaire, fixture.Result, error) {
	return j.shelf.section(section, tubes)
}

// A Default is a key that was left out, with the value it took, as the file would have it, and why.
type Default struct{ Key, Value, Reason string }

// A System is the lighting before or after the swap: luminaires of one kind, or several groups of them, each a System of one kind.
type System struct {
	Group     string   // the name of the luminaires; "all" where a job has one layout
	Kind      string   // of the job's kinds; "" where the system itself tells what its luminaires are
	Use       Use      // how these luminaires are used, where not as [upkeep] has it
	Emergency []Pack   // luminaires of this kind that stay lit on emergency power, by their places; nil without [egress]
	Parts     []System // groups of more than one kind, whose lamps and places stand with each; nil for luminaires of one kind

	Photometry    string               // where the intensity comes from
	Luminaire     photometry.Luminaire // as photometered: its own lamp lumens, ballast factor 1
	Layout        Layout
	Lamp          *catalog.Lamp    // nil if the job names none
	Ballast       *catalog.Ballast // nil if the job names none
	BallastOrigin string           // where the ballast factor comes from: losses.FromTable and so on
	BallastFrom   any              // what it rests on: losses.Factor.Why
	Lamps         int              // in one luminaire
	LampLumens    float64          // initial lumens of one lamp, lm
	BallastFactor float64
	InputWatts    float64 // of one luminaire
	Losses        Overrides
	Category      losses.Category
	Costs         Costs
	Care          Care
	OutputPoints  []losses.OutputPoint // of the lamp's own data sheet; nil if the job gives none

	// SuggestedCategory is what a fixture's section says of it; "" without one.
	SuggestedCategory string

	// Section is the cross-section that the luminaire was computed from and Tubes the lamps in it; nil with a photometric file.
	Section *fixture.Section
	Tubes   fixture.Tubes
}

// Boxes are all that stands in the way of light: the racks, and what is outside the room's outline.
func (j *Job) Boxes() []room.Rack { return j.Room.Boxes(j.Racks) }

// SystemNames are those of the systems that are compared, in their order.
var SystemNames = []string{"existing", "proposed", "replacement"}

// Systems returns the systems that are compared: the existing, the proposed, and the replacement if there is one.
func (j *Job) Systems() []*System {
	all := []*System{&j.Existing, &j.Proposed}
	if j.Replacement != nil {
		all = append(all, j.Replacement)
	}
	return all
}

// Kinds returns the luminaires of a system group by group, each of one kind: the system itself where it has no more.
func (s *System) Kinds() []*System {
	if s.Parts == nil {
		return []*System{s}
	}
	all := make([]*System, len(s.Parts))
	for i := range s.Parts {
		all[i] = &s.Parts[i]
	}
	return all
}

// Find returns the luminaires of a group; nil where it does not hang in the system.
func (s *System) Find(group string) *System {
	for _, kind := range s.Kinds() {
		if kind.Group == group {
			return kind
		}
	}
	return nil
}

// Kinds returns those of all systems.
func (j *Job) Kinds() []*System {
	var all []*System
	for _, s := range j.Systems() {
		all = append(all, s.Kinds()...)
	}
	return all
}

// OneKind tells that every system has luminaires of one kind, all lit and at full output.
func (j *Job) OneKind() bool {
	for _, s := range j.Systems() {
		if s.Parts != nil || len(s.Use.Failed) > 0 || s.Use.DimmedTo > 0 {
			return false
		}
	}
	return true
}

// A Use is what is particular to the luminaires of one group. Its zero value is that of a first edition's job: all lit, at full output, the
// hours of [upkeep], no control.
type Use struct {
	Failed        []int     // places of luminaires that give no light, from 0, ascending; before the swap only
	FailedWatts   float64   // what each of those draws
	HoursPerYear  *float64  // nil: those of [upkeep]
	Schedule      *Schedule // the shifts that make these hours; nil without
	Control       string    // its name; "" or "none" without; after the swap only
	ControlSaving float64   // share of its hours that the control saves
	DimmedTo      float64   // share of the light at which the luminaires are set; 0 is not dimmed
	DimmedWatts   float64   // of one luminaire then
	Note          string    // what whoever walked through noted; nothing follows from it
}

// Number returns how many luminaires there are, the failed ones too.
func (s *System) Number() int {
	n := 0
	for _, k := range s.Kinds() {
		n += len(k.Layout.Placements)
	}
	return n
}

// Lit returns the places of the luminaires that give light; of one kind.
func (s *System) Lit() []room.Placement {
	if len(s.Use.Failed) == 0 {
		return s.Layout.Placements
	}
	return without(s.Layout.Placements, s.Use.Failed)
}

// Dark returns the places of those that do not.
func (s *System) Dark() []room.Placement {
	var all []room.Placement
	for _, i := range s.Use.Failed {
		all = append(all, s.Layout.Placements[i])
	}
	return all
}

func without(all []room.Placement, some []int) []room.Placement {
	var rest []room.Placement
	for i, p := range all {
		if _, is := slices.BinarySearch(some, i); !is {
			rest = append(rest, p)
		}
	}
	return rest
}

// Output returns the share of its light that each luminaire gives: below 1 where it is dimmed.
func (s *System) Output() float64 {
	if s.Use.DimmedTo > 0 {
		return s.Use.DimmedTo
	}
	return 1
}

// Watts returns what all luminaires of one kind draw: as found, dimmed, with those that failed, W.
func (s *System) Watts() float64 {
	each := s.InputWatts
	if s.Use.DimmedTo > 0 {
		each = s.Use.DimmedWatts
	}
	failed := len(s.Use.Failed)
	return float64(len(s.Layout.Placements)-failed)*each + float64(failed)*s.Use.FailedWatts
}

// AllLitWatts returns what they would draw if none had failed, W.
func (s *System) AllLitWatts() float64 {
	all := *s
	all.Use.Failed = nil
	return all.Watts()
}

// ConnectedWatts returns what they draw all lit and at full output, W.
func (s *System) ConnectedWatts() float64 { return float64(len(s.Layout.Placements)) * s.InputWatts }

// Hours returns for how many hours a year luminaires of one kind would burn without a control.
func (s *System) Hours(j *Job) float64 {
	if s.Use.HoursPerYear != nil {
		return *s.Use.HoursPerYear
	}
	return j.Upkeep.HoursPerYear
}

// HoursBurnt returns for how many they burn: what a control saves is not burnt.
func (s *System) HoursBurnt(j *Job) float64 { return s.Hours(j) * (1 - s.Use.ControlSaving) }

// LampLumensEach returns the initial lumens of one luminaire's lamps, lm; of the luminaire itself for absolute photometry.
func (s System) LampLumensEach() float64 {
	if s.Luminaire.Absolute {
		return s.Luminaire.LampLumens
	}
	return float64(s.Lamps) * s.LampLumens
}

// Emitted returns the luminaire with the candela that it gives when new: lamps and ballast factor of the job.
func (s System) Emitted() photometry.Luminaire {
	emitted := s.Luminaire
	emitted.LampLumens = s.LampLumensEach()
	emitted.Distribution = s.Luminaire.Distribution.Scaled(s.BallastFactor * emitted.LampLumens / s.Luminaire.LampLumens)
	return emitted
}

// RatedLifeHours returns that of its lamps; 0 if it is not known.
func (s System) RatedLifeHours() float64 {
	if s.Lamp == nil || s.Luminaire.Absolute {
		return 0
	}
	return s.Lamp.RatedLifeHours
}

// LegalCeiling returns the most watts, W, that the federal floor of ballast efficacy leaves one luminaire with its lamps at its ballast
// factor, and the source of that floor. ok is false where no floor is known or the job names no lamp.
func (s System) LegalCeiling() (watts float64, source string, ok bool) {
	if s.Lamp == nil {
		return 0, "", false
	}
	parts := []catalog.Part{{Lamps: s.Lamps, Count: 1}}
	if s.Ballast != nil {
		parts = s.Ballast.Parts
	}
	for _, p := range parts {
		most, from, known := catalog.LegalCeiling(*s.Lamp, p.Lamps, s.BallastFactor)
		if !known {
			return 0, "", false
		}
		watts, source, ok = watts+float64(p.Count)*most, from, true
	}
	return watts, source, ok
}

// A Layout is where the luminaires of a system hang.
type Layout struct {
	Placements     []room.Placement
	MountingHeight float64 // m; the mean where luminaires hang at different heights
	Rows, Columns  int     // 0 for explicit positions
	LampsAlongY    bool    // lamp axes parallel to the room's width
}

// Heights returns those of the lowest and the highest luminaire, m.
func (l Layout) Heights() (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, p := range l.Placements {
		low, high = min(low, p.Position.Z), max(high, p.Position.Z)
	}
	return low, high
}

// Overrides are the loss factors that the job gives itself; nil is computed.
type Overrides struct {
	LampLumenDepreciation, LuminaireDirtDepreciation, RoomSurfaceDirtDepreciation *float64
	LampBurnout, Temperature, Voltage, Other, Total                               *float64
}

// Upkeep is how the installation is used and cared for, and at what age of the lamps it is judged.
type Upkeep struct {
	HoursPerYear   float64
	Schedule       *Schedule // the shifts that make these hours; nil without
	Care           Care      // of systems that have none of their own
	JudgedAt       losses.Basis
	Atmosphere     losses.Atmosphere
	AmbientCelsius float64
}

// Care is how often lamps are replaced and luminaires cleaned.
type Care struct {
	RelampHours float64 // burnt, after which all lamps are replaced together; 0 where each is replaced as it fails
	CleanYears  float64
}
