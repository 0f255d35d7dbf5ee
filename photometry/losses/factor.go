package losses

import "math"

// Where a factor comes from, as it is shown.
const (
	FromTable    = "table"
	FromJobFile  = "job file"
	FromDefault  = "default"
	FromEstimate = "estimate" // between a few published points, with a doubt
)

// A Factor is one light loss factor with its origin.
type Factor struct {
	Value float64 // 1 is no loss; may exceed 1 (ballast factor, temperature)
	From  string  // one of the constants above
	Why   any     // what it rests on: a Because, or an Aged, Dirt, SurfaceDirt, Sheet, Guess or Listed, whose figures belong to it
}

// Because is what a factor rests on that has no figures.
type Because int

// The reasons: of the defaults, of the ballast factor, of lamps and of the temperature.
const (
	NoBallastNamed Because = iota
	NothingKnown
	ReplacedSingly // failed lamps, as they fail
	AtRating       // the ambient is that of the lamp's rating
	RatedVoltage
	NoOtherLoss
	AsGiven
	SeveralKinds // of luminaire, each by its own rule
	BallastGiven
	BallastOfFile
	InsideAbsolute // absolute photometry has it inside
	DriverOutside  // LED tubes of type C
	DriverInside   // type B
	NewLamps
	LampUnlisted // and how its light falls with the hours burnt not known
	LampsOut     // on the day
	LEDLight     // hardly depends on the ambient
	AmbientUnknown
	NearRating // the ambient, to OffRating
	KindUnknown
)

// Listed is a factor's origin as a table has it, with its status.
type Listed string

// Given is a factor that the job file states.
func Given(value float64) Factor {
	return Factor{Value: value, From: FromJobFile, Why: AsGiven}
}

// Factors are the light loss factors of one system. Start from Defaults: the zero value loses all light.
type Factors struct {
	BallastFactor               Factor
	LampLumenDepreciation       Factor
	LuminaireDirtDepreciation   Factor
	RoomSurfaceDirtDepreciation Factor
	LampBurnout                 Factor
	Temperature                 Factor
	Voltage                     Factor
	Other                       Factor
	TotalOverride               *Factor // replaces them all, the ballast factor too; nil for none
}

// Defaults returns factors that lose nothing, each with the reason why 1 is assumed.
func Defaults() Factors {
	one := func(why Because) Factor { return Factor{1, FromDefault, why} }
	return Factors{
		BallastFactor:               one(NoBallastNamed),
		LampLumenDepreciation:       one(NothingKnown),
		LuminaireDirtDepreciation:   one(NothingKnown),
		RoomSurfaceDirtDepreciation: one(NothingKnown),
		LampBurnout:                 one(ReplacedSingly),
		Temperature:                 one(AtRating),
		Voltage:                     one(RatedVoltage),
		Other:                       one(NoOtherLoss),
	}
}

// An Entry is one factor with the contract's key for it.
type Entry struct {
	Key string
	Factor
}

// List returns the factors in the contract's order, the override not among them.
func (f Factors) List() []Entry {
	return []Entry{
		{"ballast_factor", f.BallastFactor},
		{"lamp_lumen_depreciation", f.LampLumenDepreciation},
		{"luminaire_dirt_depreciation", f.LuminaireDirtDepreciation},
		{"room_surface_dirt_depreciation", f.RoomSurfaceDirtDepreciation},
		{"lamp_burnout", f.LampBurnout},
		{"temperature", f.Temperature},
		{"voltage", f.Voltage},
		{"other", f.Other},
	}
}

// Total returns the product of all factors, or the override if there is one.
func (f Factors) Total() float64 {
	if f.TotalOverride != nil {
		return f.TotalOverride.Value
	}
	total := 1.0
	for _, e := range f.List() {
		total *= e.Value
	}
	return total
}

// Common returns the factors on which two systems agree, and NaN for the others and for a total on which they do not.
func (f Factors) Common(g Factors) Factors {
	common := func(a, b Factor) Factor {
		switch {
		case a == b:
			return a
		case a.Value == b.Value && a.From == b.From:
			return Factor{a.Value, a.From, SeveralKinds}
		case a.Value == b.Value:
			return Factor{a.Value, "", SeveralKinds}
		}
		return Factor{math.NaN(), "", SeveralKinds}
	}
	c := Factors{
		BallastFactor:               common(f.BallastFactor, g.BallastFactor),
		LampLumenDepreciation:       common(f.LampLumenDepreciation, g.LampLumenDepreciation),
		LuminaireDirtDepreciation:   common(f.LuminaireDirtDepreciation, g.LuminaireDirtDepreciation),
		RoomSurfaceDirtDepreciation: common(f.RoomSurfaceDirtDepreciation, g.RoomSurfaceDirtDepreciation),
		LampBurnout:                 common(f.LampBurnout, g.LampBurnout),
		Temperature:                 common(f.Temperature, g.Temperature),
		Voltage:                     common(f.Voltage, g.Voltage),
		Other:                       common(f.Other, g.Other),
	}
	if f.TotalOverride != nil || g.TotalOverride != nil {
		total := common(Factor{Value: f.Total(), From: FromJobFile}, Factor{Value: g.Total(), From: FromJobFile})
		c.TotalOverride = &total
	}
	return c
}
