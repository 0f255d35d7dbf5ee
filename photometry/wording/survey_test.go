package wording

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"lampswap/photometry"
	"lampswap/photometry/job"
	"lampswap/photometry/metrology"
	"lampswap/photometry/study"
	"lampswap/photometry/survey"
	"lampswap/photometry/verification"
)

func TestSurveyNotes(t *testing.T) {
	for want, n := range map[string]survey.Note{
		"no reading at r3: what was read at r7, midway as well, counts there too": {Code: survey.StoodFor, Names: []string{"r3"}, Others: []string{"r7"}, Of: "midway"},
		"no reading at g1, g2: the mean is that of the other 36 points":           {Code: survey.MeanOfOthers, Names: []string{"g1", "g2"}, Count: 36},
		"4 of 9 aisles are read; if 1 of them were dark, the chance to see one of those is 44 percent, as if drawn at random": {Code: survey.SomeAisles,
			Count: 4, All: 9, Dead: 1, Share: 0.444},
		"inside racks, too far in to be moved, and dropped: r1, r2":                        {Code: survey.TooFarIn, Names: []string{"r1", "r2"}},
		"r2 was read 2 ft from its station; it is compared at the place where it was read": {Code: survey.ReadElsewhere, Of: "r2", Meters: 2 * photometry.Foot},
	} {
		assert.Equal(t, want, SurveyNote(n, true))
	}
	assert.Contains(t, SurveyNote(survey.Note{Code: survey.ReadElsewhere, Of: "r2", Meters: 0.5}, false), "read 0.5 m from")
	assert.Contains(t, SurveyNote(survey.Note{Code: survey.OffAtEnds, Share: 1.13}, false), "hang 1.1 of a spacing from the walls at the ends of the rows")
	assert.Contains(t, strings.Join(Preparation(), "\n"), "on for 30 min, longer in a cold room (")
}

func TestConditionWarnings(t *testing.T) {
	c := survey.Conditions{HoursBurnt: 40, WarmUpMinutes: 10, MonthsSinceCleaning: 18, SupplyVolts: 263, RatedVolts: 277, AmbientCelsius: 10, RatedCelsius: 25,
		FailedShare: 0.05, Daylight: survey.Dark, MinutesAfterSunset: 20, MonthsSinceCalibration: 40, AgainstInitial: true}
	v := &verification.Verification{Warnings: c.Warnings(), Doubts: c.Doubts(), Result: &study.Result{Job: &job.Job{}}}
	all := ConditionWarnings(v)
	for i, says := range []string{"burnt 40 h: the initial lumens of fluorescent lamps are those at 100 h", "on for 10 min before the first reading: wait for 30 min",
		"cleaned 18 months ago", "5 percent of the lamps were out", "263 V where 277 V is rated, -5.1 percent",
		"at 10 °C (50 °F), and the lamps' lumens are rated at 25 °C (77 °F)", "20 min after sunset: wait for 60 min", "calibrated 40 months ago"} {
		assert.Contains(t, all[i].Text, says)
	}
	assert.Equal(t, []string{"the lamps were on for 10 min only", "the lamps had burnt 40 h only"}, Doubts(v))
}

func TestRatioNotes(t *testing.T) {
	pair := func(name string, predicted float64) metrology.Pair {
		return metrology.Pair{Station: name, Predicted: predicted, Measured: 3}
	}
	assert.Equal(t, []string{"z: no light is predicted there, so there is no ratio", "stations with a ratio: 1, too few to tell an outlier from the others"},
		RatioNotes(metrology.Compare([]metrology.Pair{pair("a", 2), pair("z", 0)}, 0)))
	assert.Empty(t, RatioNotes(metrology.Compare([]metrology.Pair{pair("a", 2), pair("b", 3), pair("c", 3)}, 0)))
}
