package survey

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// good are conditions that leave nothing in doubt.
func good() Conditions {
	return Conditions{HoursBurnt: 120, WarmUpMinutes: 45, MonthsSinceCleaning: 0, SupplyVolts: 276, RatedVolts: 277, AmbientCelsius: 24,
		RatedCelsius: 25, FailedShare: 0, Daylight: Dark, MinutesAfterSunset: 90, MonthsSinceCalibration: 8, AgainstInitial: true}
}

func TestGoodConditionsAreNotWarnedOf(t *testing.T) { assert.Empty(t, good().Warnings()) }

// Each row spoils one condition; what it says then is one warning with a source.
func TestConditionsWarn(t *testing.T) {
	for _, c := range []struct {
		spoil     func(*Conditions)
		key, says string
	}{
		{func(c *Conditions) { c.HoursBurnt = 40 }, "hours_burnt", "burnt 40 h: the initial lumens of fluorescent lamps are those at 100 h"},
		{func(c *Conditions) { c.WarmUpMinutes = 10 }, "warm_up", "on for 10 min before the first reading: wait for 30 min"},
		{func(c *Conditions) { c.MonthsSinceCleaning = 18 }, "cleaning", "cleaned 18 months ago"},
		{func(c *Conditions) { c.FailedShare = 0.05 }, "failed_lamps", "5 percent of the lamps were out"},
		{func(c *Conditions) { c.SupplyVolts = 263 }, "voltage", "263 V where 277 V is rated, -5.1 percent"},
		{func(c *Conditions) { c.AmbientCelsius = 10 }, "temperature", "at 10 °C (50 °F), and the lamps' lumens are rated at 25 °C (77 °F)"},
		{func(c *Conditions) { c.AmbientCelsius = 10; c.RatedCelsius = NotNoted().RatedCelsius }, "temperature", "rated at 25 °C (77 °F)"},
		{func(c *Conditions) { c.Daylight = DaylightPresent }, "daylight", "daylight is in the readings"},
		{func(c *Conditions) { c.Daylight = DaylightSubtracted }, "daylight", "daylight was subtracted"},
		{func(c *Conditions) { c.MinutesAfterSunset = 20 }, "daylight", "20 min after sunset: wait for 60 min"},
		{func(c *Conditions) { c.MonthsSinceCalibration = 40 }, "calibration", "calibrated 40 months ago"},
		{func(c *Conditions) { c.Daylight = DaylightUnknown }, "not_noted", "not written down, and so not counted: daylight"},
	} {
		conditions := good()
		c.spoil(&conditions)
		all := conditions.Warnings()
		if assert.Len(t, all, 1, c.key) {
			assert.Equal(t, c.key, all[0].Key)
			assert.Contains(t, all[0].Text, c.says)
			assert.NotEmpty(t, all[0].Source)
		}
	}
}

func TestConditionsThatDoNotMatter(t *testing.T) {
	led := good()
	led.LED, led.HoursBurnt, led.RatedCelsius, led.AmbientCelsius = true, 2, NotNoted().RatedCelsius, 0
	if all := led.Warnings(); assert.Len(t, all, 1, "LED lamps need no seasoning, and hardly mind the cold") {
		assert.Equal(t, "spectrum", all[0].Key, "but a meter minds their spectrum")
	}
	dirty := good()
	dirty.AgainstInitial, dirty.MonthsSinceCleaning = false, 30
	assert.Empty(t, dirty.Warnings(), "compared with the level of that day")
	inside := good()
	inside.MinutesAfterSunset = NotNoted().MinutesAfterSunset
	assert.Empty(t, inside.Warnings(), "a room without openings")
}

func TestNotNotedAsksForEverything(t *testing.T) {
	all := NotNoted().Warnings()
	assert.Len(t, all, 1)
	assert.Equal(t, "not written down, and so not counted: hours the lamps have burnt, warm-up, months since cleaning, supply voltage, temperature, "+
		"daylight, lamps that were out, what the meter shows, fc or lx, the meter's calibration", all[0].Text)
}

func TestPreparation(t *testing.T) {
	all := strings.Join(Preparation(), "\n")
	assert.Contains(t, all, "burnt 100 h")   // EPA primer 1997
	assert.Contains(t, all, "on for 30 min") // public outdoor-lighting guideline
	assert.Contains(t, all, "60 min after sunset")
}
