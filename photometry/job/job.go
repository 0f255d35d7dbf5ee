package job

import (
	"math"

	"lampswap/photometry"
	"lampswap/photometry/catalog"
	"lampswap/photometry/fixture"
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
	Grids           []room.Grid // besides the work plane
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
}

// A Default is a key that was left out, with the value it took, as the file would have it, and why.
type Default struct{ Key, Value, Reason string }

// A System is the lighting before or after the swap.
type System struct {
	Photometry    string               // where the intensity comes from
	Luminaire     photometry.Luminaire // as photometered: its own lamp lumens, ballast factor 1
	Layout        Layout
	Lamp          *catalog.Lamp    // nil if the job names none
	Ballast       *catalog.Ballast // nil if the job names none
	BallastOrigin string           // where the ballast factor comes from: losses.FromTable and so on
	BallastFrom   string           // the same in words
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

// Systems returns the systems that are compared: the existing, the proposed, and the replacement if there is one.
func (j *Job) Systems() []*System {
	all := []*System{&j.Existing, &j.Proposed}
	if j.Replacement != nil {
		all = append(all, j.Replacement)
	}
	return all
}

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
	Care           Care // of systems that have none of their own
	JudgedAt       losses.Basis
	Atmosphere     losses.Atmosphere
	AmbientCelsius float64
}

// Care is how often lamps are replaced and luminaires cleaned.
type Care struct {
	RelampHours float64 // burnt, after which all lamps are replaced together; 0 where each is replaced as it fails
	CleanYears  float64
}
