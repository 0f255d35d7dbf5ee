package survey

import "math"

// Daylight is what the readings have of it.
type Daylight int

// The states of daylight.
const (
	DaylightUnknown Daylight = iota
	Dark                     // read after dark, or in a room without openings
	DaylightSubtracted
	DaylightPresent
)

// Conditions are those under which readings were taken. NaN is what was not written down; start from NotNoted.
type Conditions struct {
	LED                    bool    // LED lamps need no seasoning
	HoursBurnt             float64 // since the lamps were new
	WarmUpMinutes          float64 // on before the first reading
	MonthsSinceCleaning    float64 // of the luminaires
	SupplyVolts            float64 // at the luminaires
	RatedVolts             float64 // of ballasts or drivers
	AmbientCelsius         float64 // at the luminaires
	RatedCelsius           float64 // ambient at which the lamps' lumens are rated; NaN: 25 C for fluorescent lamps, none for LED
	FailedShare            float64 // share of the lamps that were out, 0 to 1
	Daylight               Daylight
	MinutesAfterSunset     float64
	MonthsSinceCalibration float64 // of the meter
	MeterUnitNotNoted      bool    // nobody wrote down whether the meter showed fc or lx
	AgainstInitial         bool    // the readings are to prove an initial level; else the level of that day
}

// NotNoted returns conditions of which nothing was written down.
func NotNoted() Conditions {
	n := math.NaN()
	return Conditions{HoursBurnt: n, WarmUpMinutes: n, MonthsSinceCleaning: n, SupplyVolts: n, RatedVolts: n,
		AmbientCelsius: n, RatedCelsius: n, FailedShare: n, MinutesAfterSunset: n, MonthsSinceCalibration: n, MeterUnitNotNoted: true}
}

// A Warning says what makes readings prove less than they seem to.
type Warning struct {
	Key      string // the condition: "hours_burnt", "warm_up"; stable, for scripts
	Code     WarningCode
	Is, Want float64
	Missing  []string // keys of what was not written down
	Source   string
}

// A WarningCode is what a warning is about.
type WarningCode int

// The codes, with what a warning has beside its own.
const (
	Unseasoned        WarningCode = iota // hours that fluorescent lamps have burnt, and want
	ShortWarmUp                          // minutes
	Spectrum                             // of LED lamps
	CleanedLongAgo                       // months
	LampsOut                             // share
	SupplyOff                            // volts, and rated
	AmbientOff                           // degrees Celsius, and rated
	DaylightIn                           // the readings
	DaylightTakenOff                     // from them
	EarlyInTheNight                      // minutes after sunset
	CalibratedLongAgo                    // months
	NotWrittenDown                       // Missing
)

// A Doubt is what of the readings themselves takes from what they prove.
type Doubt struct {
	Code DoubtCode
	Is   float64 // minutes or hours
}

// A DoubtCode is the kind of a doubt.
type DoubtCode int

// The kinds.
const (
	DaylightNotNoted DoubtCode = iota
	DaylightWasIn
	OnTooShort
	BurntTooShort
)

const (
	// The supply may be off its rating by this share without a word: our choice. How light follows voltage depends on the ballast.
	mostVoltageOff = 0.02
	// The ambient may be off that of the rating by this, K, without a word: our choice, the same as for the predicted level.
	mostAmbientOff = 5
	// A calibration older than this, months, is worth a word: our choice, common practice.
	oldCalibration = 24
	// Luminaires cleaned longer ago than this, months, are not clean: our choice.
	freshlyCleaned = 1
	ours           = "our choice"
	// Practice is a source where nothing better is known.
	Practice = "general practice, from memory, unverified"
)

// Warnings returns what the conditions leave in doubt; what was not written down is asked for, in one warning.
func (c Conditions) Warnings() []Warning {
	var all []Warning
	warn := func(key, source string, code WarningCode, is, want float64) {
		all = append(all, Warning{key, code, is, want, nil, source})
	}
	if season := rule("seasoning"); !c.LED && c.HoursBurnt < season.Value {
		warn("hours_burnt", season.Source, Unseasoned, c.HoursBurnt, season.Value)
	}
	if warm := rule("warm-up"); c.WarmUpMinutes < warm.Value {
		warn("warm_up", warm.Source, ShortWarmUp, c.WarmUpMinutes, warm.Value)
	}
	if c.LED {
		warn("spectrum", Practice, Spectrum, 0, 0)
	}
	if c.AgainstInitial && c.MonthsSinceCleaning > freshlyCleaned {
		warn("cleaning", "survey practice: a dirty installation does not show its initial value", CleanedLongAgo, c.MonthsSinceCleaning, 0)
	}
	if c.FailedShare > 0 {
		warn("failed_lamps", "survey practice: compare with that day's level, burning lamps only", LampsOut, c.FailedShare, 0)
	}
	c.surroundings(warn)
	if c.MonthsSinceCalibration > oldCalibration {
		warn("calibration", ours, CalibratedLongAgo, c.MonthsSinceCalibration, 0)
	}
	if missing := c.missing(); len(missing) > 0 {
		all = append(all, Warning{Key: "not_noted", Code: NotWrittenDown, Missing: missing, Source: Practice})
	}
	return all
}

// Doubts returns what of the readings themselves takes from what they prove. What else was not written down is in the warnings only.
func (c Conditions) Doubts() []Doubt {
	var all []Doubt
	switch c.Daylight {
	case DaylightUnknown:
		all = append(all, Doubt{Code: DaylightNotNoted})
	case DaylightPresent:
		all = append(all, Doubt{Code: DaylightWasIn})
	case Dark, DaylightSubtracted:
	}
	if c.WarmUpMinutes < rule("warm-up").Value {
		all = append(all, Doubt{OnTooShort, c.WarmUpMinutes})
	}
	if !c.LED && c.HoursBurnt < rule("seasoning").Value {
		all = append(all, Doubt{BurntTooShort, c.HoursBurnt})
	}
	return all
}

// Preparation returns what has to be so before the first reading: hours that fluorescent lamps have burnt, minutes that lamps are on, minutes after sunset.
func Preparation() (season, warm, sunset Published) {
	return rule("seasoning"), rule("warm-up"), rule("after sunset")
}

func (c Conditions) surroundings(warn func(key, source string, code WarningCode, is, want float64)) {
	if off := c.SupplyVolts/c.RatedVolts - 1; math.Abs(off) > mostVoltageOff {
		warn("voltage", "light loss factor for voltage, IES; from memory, unverified", SupplyOff, c.SupplyVolts, c.RatedVolts)
	}
	rated, source := c.RatedCelsius, "ambient of rating as given"
	if math.IsNaN(rated) && !c.LED {
		rated, source = rule("rated ambient").Value, rule("rated ambient").Source
	}
	if off := c.AmbientCelsius - rated; math.Abs(off) > mostAmbientOff {
		warn("temperature", source, AmbientOff, c.AmbientCelsius, rated)
	}
	switch sunset := rule("after sunset"); {
	case c.Daylight == DaylightPresent:
		warn("daylight", Practice, DaylightIn, 0, 0)
	case c.Daylight == DaylightSubtracted:
		warn("daylight", Practice, DaylightTakenOff, 0, 0)
	case c.MinutesAfterSunset < sunset.Value && c.Daylight == Dark:
		warn("daylight", sunset.Source, EarlyInTheNight, c.MinutesAfterSunset, sunset.Value)
	}
}

// missing returns the keys of what was not written down and matters.
func (c Conditions) missing() []string {
	var keys []string
	ask := func(key string, unknown bool) {
		if unknown {
			keys = append(keys, key)
		}
	}
	ask("hours_burnt", math.IsNaN(c.HoursBurnt) && !c.LED)
	ask("warm_up", math.IsNaN(c.WarmUpMinutes))
	ask("cleaning", math.IsNaN(c.MonthsSinceCleaning))
	ask("voltage", math.IsNaN(c.SupplyVolts) || math.IsNaN(c.RatedVolts))
	ask("temperature", math.IsNaN(c.AmbientCelsius))
	ask("daylight", c.Daylight == DaylightUnknown)
	ask("failed_lamps", math.IsNaN(c.FailedShare))
	ask("meter_unit", c.MeterUnitNotNoted)
	ask("calibration", math.IsNaN(c.MonthsSinceCalibration))
	return keys
}
