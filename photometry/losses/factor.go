package losses

import "math"

// Where a factor comes from, as it is shown.
const (
	FromTable    = "table"
	FromJobFile  = "job file"
	FromDefault  = "default"
	FromEstimate = "estimate" // between a few published points, with a doubt that Detail tells
)

// A Factor is one light loss factor with its origin.
type Factor struct {
	Value  float64 // 1 is no loss; may exceed 1 (ballast factor, temperature)
	From   string  // one of the constants above
	Detail string  // one line: what it rests on, with source and status
}

// Given is a factor that the job file states.
func Given(value float64) Factor {
	return Factor{Value: value, From: FromJobFile, Detail: "as given"}
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
	one := func(detail string) Factor { return Factor{Value: 1, From: FromDefault, Detail: detail} }
	return Factors{
		BallastFactor:               one("no ballast is named: lamps as on the reference ballast"),
		LampLumenDepreciation:       one("not known: no loss is counted"),
		LuminaireDirtDepreciation:   one("not known: no loss is counted"),
		RoomSurfaceDirtDepreciation: one("not known: no loss is counted"),
		LampBurnout:                 one("failed lamps are replaced as they fail"),
		Temperature:                 one("as at the ambient of the lamp's rating"),
		Voltage:                     one("line voltage is the rated voltage"),
		Other:                       one("no other loss"),
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
	const why = "of several kinds of luminaire, each by its own rule"
	common := func(a, b Factor) Factor {
		switch {
		case a == b:
			return a
		case a.Value == b.Value && a.From == b.From:
			return Factor{Value: a.Value, From: a.From, Detail: why}
		case a.Value == b.Value:
			return Factor{Value: a.Value, Detail: why}
		}
		return Factor{Value: math.NaN(), Detail: why}
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
