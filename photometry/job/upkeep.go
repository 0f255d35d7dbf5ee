package job

import (
	"fmt"
	"strconv"
	"strings"

	"lampswap/photometry"
	"lampswap/photometry/internal/tomlfile"
	"lampswap/photometry/losses"
	"lampswap/photometry/number"
)

// What is assumed of the upkeep where the job does not say.
const (
	usualHoursPerYear = 4000.0
	usualCleanMonths  = 24.0
	usualAmbient      = 25.0 // Celsius, at which T8 and T12 lamps are rated
	usualAtmosphere   = losses.Medium
)

// upkeep reads how the installation is used and cared for; shifts, where the job has some, are its hours.
func (r *reader) upkeep(t *tomlfile.Table, shifts *Schedule) Upkeep {
	u := Upkeep{Schedule: shifts}
	ask := func(key string, rule tomlfile.Rule, usual float64, reason string) float64 {
		if x, ok := t.Number(key, rule); ok {
			return x
		}
		if !t.Has(key) {
			r.default_(t, key, strconv.FormatFloat(usual, 'g', -1, 64), reason)
		}
		return usual
	}
	if shifts != nil {
		u.HoursPerYear = shifts.HoursPerYear
		t.Number("hours_per_year", tomlfile.Any) // a fault tells that it stands beside them
	} else {
		u.HoursPerYear = ask("hours_per_year", tomlfile.Between(0, 8784), usualHoursPerYear, "two shifts on weekdays, assumed")
	}
	u.Care.CleanYears = ask("clean_months", cleanRule, usualCleanMonths, "luminaires are cleaned every two years, assumed") / 12
	r.relamping(t, &u)
	r.judgedAt(t, &u)
	r.atmosphere(t, &u)
	if r.job.Imperial {
		u.AmbientCelsius = photometry.CelsiusFromFahrenheit(ask("ambient_temperature", tomlfile.Between(-60, 180),
			photometry.FahrenheitFromCelsius(usualAmbient), "°F at which most lamps are rated"))
	} else {
		u.AmbientCelsius = ask("ambient_temperature", tomlfile.Between(-50, 80), usualAmbient, "°C at which most lamps are rated")
	}
	t.Done()
	return u
}

// Bounds of what systems may have of their own too.
var (
	relampRule = tomlfile.Between(1, 200_000)
	cleanRule  = orZero(leastMonths, 240)
)

func (r *reader) relamping(t *tomlfile.Table, u *Upkeep) {
	u.Care.RelampHours, _ = t.Number("relamp_hours", relampRule)
	word, ok := t.Word("relamping", "group", "spot")
	switch {
	case ok && word == "group" && !t.Has("relamp_hours"):
		t.Missing("relamp_hours", "the hours after which the lamps are replaced as a group")
	case word == "spot" && t.Has("relamp_hours"):
		u.Care.RelampHours = 0
		r.warn(t, `relamp_hours counts for nothing beside relamping = "spot": each lamp is replaced as it fails; judged_at says at what age of the lamps light is judged`)
	}
}

// care reads how one system is kept up, where that is not as [upkeep] has it.
func (r *reader) care(t *tomlfile.Table) Care {
	c := r.job.Upkeep.Care
	if hours, ok := t.Number("relamp_hours", relampRule); ok {
		c.RelampHours = hours
	}
	if months, ok := t.Number("clean_months", cleanRule); ok {
		c.CleanYears = months / 12
	}
	t.Done()
	return c
}

// mostLives is after how many rated lives no lamp may be judged any more.
const mostLives = 10

func (r *reader) judgedAt(t *tomlfile.Table, u *Upkeep) {
	names := losses.PointNames()
	rule := tomlfile.Between(0, mostLives*1e6)
	rule.Want = fmt.Sprintf("%q, %q, or a number of hours burnt, the same for all lamps, 0 or more", names[0], names[1])
	word, hours, ok := t.WordOrNumber("judged_at", rule, names...)
	switch {
	case !ok:
	case word == names[1]:
		u.JudgedAt.At = losses.End
	case word == "":
		u.JudgedAt = losses.Basis{At: losses.AtHours, Hours: hours}
	}
}

// ages settles, once the systems are known, at what age their lamps are judged, and lists what was not said of it.
func (r *reader) ages(t *tomlfile.Table) {
	basis := &r.job.Upkeep.JudgedAt
	singly := 0 // systems whose lamps are replaced as they fail
	var lives []string
	for _, s := range r.job.Kinds() {
		if s.Care.RelampHours == 0 {
			singly++
		}
		if life := s.RatedLifeHours(); basis.At == losses.AtHours && life > 0 && basis.Hours > mostLives*life {
			lives = append(lives, fmt.Sprintf("%s of %s h", s.Lamp.Name, number.Thousands(life)))
		}
	}
	if len(lives) > 0 {
		t.Fault("judged_at", fmt.Sprintf("is more than %d rated lives (%s)", mostLives, strings.Join(lives, ", ")), "hours that such lamps may burn")
	}
	if singly > 0 && !t.Has("relamp_hours") {
		r.default_(t, "relamp_hours", "not given", "fluorescent lamps are replaced as they fail, LED tubes at the end of their L70 life")
	}
	switch {
	case t.Has("judged_at"):
	case singly == 0:
		basis.At = losses.End
		r.default_(t, "judged_at", strconv.Quote(basis.At.String()), "all lamps are replaced together at an interval: each system is judged at the end of its own")
	default:
		r.default_(t, "judged_at", strconv.Quote(basis.At.String()),
			"every lamp at 40 percent of its own rated life: fluorescent by its mean lumens, LED at 0.70^0.40 = 0.867 of its lumens, exponential through L70, assumed")
	}
}

func (r *reader) atmosphere(t *tomlfile.Table, u *Upkeep) {
	u.Atmosphere = usualAtmosphere
	if word, ok := t.Word("atmosphere", losses.AtmosphereNames()...); ok {
		u.Atmosphere, _ = losses.ParseAtmosphere(word)
	} else if !t.Has("atmosphere") {
		r.default_(t, "atmosphere", strconv.Quote(u.Atmosphere.String()), "assumed; sources differ, from clean to dirty, for one and the same kind of room")
	}
}

// overrides asks for the loss factors that replace the computed ones.
func (r *reader) overrides(t *tomlfile.Table) Overrides {
	ask := func(key string) *float64 {
		if x, ok := t.Number(key, tomlfile.Between(leastShare, 1.5)); ok {
			return &x
		}
		return nil
	}
	o := Overrides{
		LampLumenDepreciation: ask("lamp_lumen_depreciation"), LuminaireDirtDepreciation: ask("luminaire_dirt_depreciation"),
		RoomSurfaceDirtDepreciation: ask("room_surface_dirt_depreciation"), LampBurnout: ask("lamp_burnout"),
		Temperature: ask("temperature"), Voltage: ask("voltage"), Other: ask("other"), Total: ask("total"),
	}
	t.Done()
	return o
}
