package survey

import (
	"fmt"
	"math"
	"strings"

	"lampswap/photometry"
)

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
	// TakenInstead is what a prediction took where nothing was written down, in words, by the condition's key: that of its warning.
	TakenInstead map[string]string
}

// NotNoted returns conditions of which nothing was written down.
func NotNoted() Conditions {
	n := math.NaN()
	return Conditions{HoursBurnt: n, WarmUpMinutes: n, MonthsSinceCleaning: n, SupplyVolts: n, RatedVolts: n,
		AmbientCelsius: n, RatedCelsius: n, FailedShare: n, MinutesAfterSunset: n, MonthsSinceCalibration: n, MeterUnitNotNoted: true}
}

// A Warning says what makes readings prove less than they seem to.
type Warning struct {
	Key    string // the condition: "hours_burnt", "warm_up"; stable, for scripts
	Text   string
	Source string
}

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
	practice       = "general practice, from memory, unverified"
)

// Warnings returns what the conditions leave in doubt; what was not written down is asked for, in one warning.
func (c Conditions) Warnings() []Warning {
	var all []Warning
	warn := func(key, source, text string, values ...any) {
		all = append(all, Warning{key, fmt.Sprintf(text, values...), source})
	}
	if season := rule("seasoning"); !c.LED && c.HoursBurnt < season.value {
		warn("hours_burnt", season.source, "the lamps have burnt %.0f h: the initial lumens of fluorescent lamps are those at %.0f h; "+
			"readings before prove no initial level", c.HoursBurnt, season.value)
	}
	if warm := rule("warm-up"); c.WarmUpMinutes < warm.value {
		warn("warm_up", warm.source, "the lamps were on for %.0f min before the first reading: wait for %.0f min, "+
			"and longer in a cold room", c.WarmUpMinutes, warm.value)
	}
	if c.LED {
		warn("spectrum", practice, "the lamps are LED: a meter is calibrated on incandescent light, and how far its eye differs from the standard observer's shows most under "+
			"other spectra; apply the maker's factor for LED if there is one, and count on the spectral mismatch of its class at least")
	}
	c.asFound(warn)
	c.surroundings(warn)
	if c.MonthsSinceCalibration > oldCalibration {
		warn("calibration", ours, "the meter was calibrated %.0f months ago", c.MonthsSinceCalibration)
	}
	if missing := c.missing(); len(missing) > 0 {
		if len(c.TakenInstead) > 0 {
			warn("not_noted", practice, "not written down, and what was taken instead: %s", strings.Join(missing, "; "))
		} else {
			warn("not_noted", practice, "not written down, and so not counted: %s", strings.Join(missing, ", "))
		}
	}
	return all
}

// Doubts returns, in a few words each, what of the readings themselves takes from what they prove. They go on from "as to the
// readings, ". What else was not written down is in the warnings only.
func (c Conditions) Doubts() []string {
	var all []string
	switch c.Daylight {
	case DaylightUnknown:
		all = append(all, "whether daylight was in them is not noted")
	case DaylightPresent:
		all = append(all, "daylight was in them")
	case Dark, DaylightSubtracted:
	}
	if c.WarmUpMinutes < rule("warm-up").value {
		all = append(all, fmt.Sprintf("the lamps were on for %.0f min only", c.WarmUpMinutes))
	}
	if !c.LED && c.HoursBurnt < rule("seasoning").value {
		all = append(all, fmt.Sprintf("the lamps had burnt %.0f h only", c.HoursBurnt))
	}
	return all
}

// Preparation returns what has to be so before the first reading, a sentence each, with its source.
func Preparation() []string {
	season, warm, sunset := rule("seasoning"), rule("warm-up"), rule("after sunset")
	return []string{
		fmt.Sprintf("Fluorescent lamps have burnt %.0f h (%s).", season.value, season.source),
		fmt.Sprintf("The lamps are on for %.0f min, longer in a cold room (%s).", warm.value, warm.source),
		fmt.Sprintf("It is dark: %.0f min after sunset (%s).", sunset.value, sunset.source),
		"Clean and level the sensor, keep your body and bright clothing out of its light; write down line voltage, temperature and lamps that are out (" + practice + ").",
	}
}

// asFound warns of readings that are no initial ones.
func (c Conditions) asFound(warn func(key, source, text string, values ...any)) {
	if c.AgainstInitial && c.MonthsSinceCleaning > freshlyCleaned {
		warn("cleaning", "survey practice: a dirty installation does not show its initial value",
			"the luminaires were cleaned %.0f months ago: readings prove the level of that day, not the initial one", c.MonthsSinceCleaning)
	}
	if c.FailedShare > 0 {
		warn("failed_lamps", "survey practice: compare with that day's level, burning lamps only",
			"%.0f percent of the lamps were out: compare with what is predicted for the burning ones, at their places", 100*c.FailedShare)
	}
}

func (c Conditions) surroundings(warn func(key, source, text string, values ...any)) {
	if off := c.SupplyVolts/c.RatedVolts - 1; math.Abs(off) > mostVoltageOff {
		warn("voltage", "light loss factor for voltage, IES; from memory, unverified",
			"the supply was %.0f V where %.0f V is rated, %+.1f percent: the light changes with it, "+
				"by how much depends on the ballast", c.SupplyVolts, c.RatedVolts, 100*off)
	}
	rated, source := c.RatedCelsius, "ambient of rating as given"
	if math.IsNaN(rated) && !c.LED {
		rated, source = rule("rated ambient").value, rule("rated ambient").source
	}
	if off := c.AmbientCelsius - rated; math.Abs(off) > mostAmbientOff {
		warn("temperature", source, "the air at the luminaires was at %s, and the lamps' lumens are rated at %s: "+
			"the light is not that of the rating", photometry.Degrees(c.AmbientCelsius), photometry.Degrees(rated))
	}
	switch sunset := rule("after sunset"); {
	case c.Daylight == DaylightPresent:
		warn("daylight", practice, "daylight is in the readings: read after dark, or read daylight alone and subtract it")
	case c.Daylight == DaylightSubtracted:
		warn("daylight", practice, "daylight was subtracted: it changes between two readings, and that is not in the uncertainty")
	case c.MinutesAfterSunset < sunset.value && c.Daylight == Dark:
		warn("daylight", sunset.source, "readings began %.0f min after sunset: wait for %.0f min", c.MinutesAfterSunset, sunset.value)
	}
}

// missing names what was not written down and matters, with what was taken instead.
func (c Conditions) missing() []string {
	var names []string
	ask := func(key, name string, unknown bool) {
		if !unknown {
			return
		}
		if taken := c.TakenInstead[key]; taken != "" {
			name += " (" + taken + ")"
		}
		names = append(names, name)
	}
	ask("hours_burnt", "hours the lamps have burnt", math.IsNaN(c.HoursBurnt) && !c.LED)
	ask("warm_up", "warm-up", math.IsNaN(c.WarmUpMinutes))
	ask("cleaning", "months since cleaning", math.IsNaN(c.MonthsSinceCleaning))
	ask("voltage", "supply voltage", math.IsNaN(c.SupplyVolts) || math.IsNaN(c.RatedVolts))
	ask("temperature", "temperature", math.IsNaN(c.AmbientCelsius))
	ask("daylight", "daylight", c.Daylight == DaylightUnknown)
	ask("failed_lamps", "lamps that were out", math.IsNaN(c.FailedShare))
	ask("meter_unit", "what the meter shows, fc or lx", c.MeterUnitNotNoted)
	ask("calibration", "the meter's calibration", math.IsNaN(c.MonthsSinceCalibration))
	return names
}
