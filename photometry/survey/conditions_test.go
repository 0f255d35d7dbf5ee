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
		spoil    func(*Conditions)
		key      string
		code     WarningCode
		is, want float64
	}{
		{func(c *Conditions) { c.HoursBurnt = 40 }, "hours_burnt", Unseasoned, 40, 100},
		{func(c *Conditions) { c.WarmUpMinutes = 10 }, "warm_up", ShortWarmUp, 10, 30},
		{func(c *Conditions) { c.MonthsSinceCleaning = 18 }, "cleaning", CleanedLongAgo, 18, 0},
		{func(c *Conditions) { c.FailedShare = 0.05 }, "failed_lamps", LampsOut, 0.05, 0},
		{func(c *Conditions) { c.SupplyVolts = 263 }, "voltage", SupplyOff, 263, 277},
		{func(c *Conditions) { c.AmbientCelsius = 10 }, "temperature", AmbientOff, 10, 25},
		{func(c *Conditions) { c.AmbientCelsius = 10; c.RatedCelsius = NotNoted().RatedCelsius }, "temperature", AmbientOff, 10, 25},
		{func(c *Conditions) { c.Daylight = DaylightPresent }, "daylight", DaylightIn, 0, 0},
		{func(c *Conditions) { c.Daylight = DaylightSubtracted }, "daylight", DaylightTakenOff, 0, 0},
		{func(c *Conditions) { c.MinutesAfterSunset = 20 }, "daylight", EarlyInTheNight, 20, 60},
		{func(c *Conditions) { c.MonthsSinceCalibration = 40 }, "calibration", CalibratedLongAgo, 40, 0},
		{func(c *Conditions) { c.Daylight = DaylightUnknown }, "not_noted", NotWrittenDown, 0, 0},
	} {
		conditions := good()
		c.spoil(&conditions)
		all := conditions.Warnings()
		if assert.Len(t, all, 1, c.key) {
			w := all[0]
			assert.Equal(t, c.key, w.Key)
			assert.Equal(t, c.code, w.Code)
			assert.Equal(t, [2]float64{c.is, c.want}, [2]float64{w.Is, w.Want})
			assert.NotEmpty(t, w.Source)
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
	assert.Equal(t, strings.Fields("hours_burnt warm_up cleaning voltage temperature daylight failed_lamps meter_unit calibration"), all[0].Missing)
}

func TestPreparation(t *testing.T) {
	season, warm, sunset := Preparation()
	assert.Equal(t, 100.0, season.Value) // EPA primer 1997
	assert.Equal(t, 30.0, warm.Value)    // public outdoor-lighting guideline
	assert.Equal(t, 60.0, sunset.Value)
}
