package ledger

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"lampswap/photometry/job"
	"lampswap/photometry/levels"
	"lampswap/photometry/lighting"
	"lampswap/photometry/losses"
	"lampswap/photometry/room"
	"lampswap/photometry/study"
)

// The word of the verdict, how the whole stands, and the exit code by Met say one thing.
func TestAnswerWords(t *testing.T) {
	light := levels.Criterion{Name: "level", Required: 100, Unit: levels.Lux, AtLeast: true}
	power := levels.Criterion{Name: "code", Statistic: levels.PowerDensity, Required: 5, Unit: levels.WattsPerSquareMeter}
	of := func(c levels.Criterion, reached float64) study.Verdict {
		return study.Verdict{Criterion: c, By: []study.Reached{{}, {Value: reached, Met: c.Met(reached)}}}
	}
	for name, c := range map[string]struct {
		verdicts []study.Verdict
		outside  *losses.Outside
		word     string
		standing study.Standing
		met      bool
	}{
		"no criteria":                 {nil, nil, "NOT JUDGED", study.Unjudged, true},
		"no criteria, outside rating": {nil, &losses.Outside{}, "NOT JUDGED", study.Unjudged, false},
		"met":                         {[]study.Verdict{of(light, 120)}, nil, "ENOUGH", study.AllMet, true},
		"met by numbers alone":        {[]study.Verdict{of(light, 120)}, &losses.Outside{}, "NOT MET", study.OneMissed, false},
		"missed":                      {[]study.Verdict{of(light, 90)}, nil, "NOT ENOUGH", study.OneMissed, false},
		"too much power":              {[]study.Verdict{of(light, 120), of(power, 6)}, nil, "ENOUGH LIGHT, TOO MUCH POWER", study.Qualified, false},
		"both missed":                 {[]study.Verdict{of(light, 90), of(power, 6)}, nil, "NOT ENOUGH", study.OneMissed, false},
		"power alone":                 {[]study.Verdict{of(power, 4)}, nil, "LIGHT NOT JUDGED", study.Unjudged, true},
		"too much power alone":        {[]study.Verdict{of(power, 6)}, nil, "LIGHT NOT JUDGED, TOO MUCH POWER", study.Qualified, false},
	} {
		system := lighting.System{Grids: []lighting.Grid{{Statistics: room.Statistics{Average: 120}}}}
		r := study.Lit(&job.Job{}, system, system)
		r.Verdicts = c.verdicts
		r.Proposed().Outside = c.outside
		word, _ := Answer(r)
		assert.Equal(t, c.word, word, name)
		assert.Equal(t, c.standing, r.Standing(), name)
		assert.Equal(t, c.met, r.Met(), name)
	}
}
