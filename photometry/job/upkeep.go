package job

import (
	"strconv"

	"lampswap/photometry"
	"lampswap/photometry/internal/tomlfile"
	"lampswap/photometry/losses"
)

// What is assumed of the upkeep where the job does not say.
const (
	usualHoursPerYear = 4000.0
	usualCleanMonths  = 24.0
	usualAmbient      = 25.0 // Celsius, at which T8 and T12 lamps are rated
	usualAtmosphere   = losses.Medium
)

func (r *reader) upkeep(t *tomlfile.Table) Upkeep {
	u := Upkeep{}
	ask := func(key string, rule tomlfile.Rule, usual float64, reason string) float64 {
		if x, ok := t.Number(key, rule); ok {
			return x
		}
		if !t.Has(key) {
			r.default_(t, key, strconv.FormatFloat(usual, 'g', -1, 64), reason)
		}
		return usual
	}
	u.HoursPerYear = ask("hours_per_year", tomlfile.Between(0, 8784), usualHoursPerYear, "two shifts on weekdays, assumed")
	u.CleanYears = ask("clean_months", orZero(leastMonths, 240), usualCleanMonths, "luminaires are cleaned every two years, assumed") / 12
	var given bool
	if u.RelampHours, given = t.Number("relamp_hours", tomlfile.Between(1, 200_000)); !given && !t.Has("relamp_hours") {
		r.default_(t, "relamp_hours", "not given", "lamps are judged at 40 percent of rated life, where mean lumens are stated")
	}
	r.relamping(t, &u)
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

func (r *reader) relamping(t *tomlfile.Table, u *Upkeep) {
	word, ok := t.Word("relamping", "group", "spot")
	switch {
	case ok && word == "group" && !t.Has("relamp_hours"):
		t.Missing("relamp_hours", "the hours after which the lamps are replaced as a group")
	case ok:
		u.Spot = word == "spot"
	case !t.Has("relamping"):
		u.Spot = !t.Has("relamp_hours")
	}
}

func (r *reader) atmosphere(t *tomlfile.Table, u *Upkeep) {
	u.Atmosphere = usualAtmosphere
	if word, ok := t.Word("atmosphere", losses.AtmosphereNames()...); ok {
		u.Atmosphere, _ = losses.ParseAtmosphere(word)
	} else if !t.Has("atmosphere") {
		r.default_(t, "atmosphere", strconv.Quote(u.Atmosphere.String()), "assumed; sources call warehouses anything from clean to dirty")
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
