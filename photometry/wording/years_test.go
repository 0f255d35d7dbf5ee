package wording

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"lampswap/photometry/losses"
)

func TestCourses(t *testing.T) {
	notes := func(change func(*losses.Course)) string {
		c := losses.Course{
			HoursPerYear: 4000, InitialLumens: 2950, MeanLumens: 2773, RatedLifeHours: 24000, RelampHours: 16000,
			Category: losses.CategoryIII, Atmosphere: losses.Clean, CleanYears: 2, Distribution: losses.SemiDirect, RoomCavityRatio: 2.5, ConstantShare: 0.88,
		}
		change(&c)
		return strings.Join(course(c), "; ")
	}
	assert.Equal(t, "day 0: all lamps new, all surfaces clean; lamps are replaced together every 16,000 h, 4 years; "+
		"one that fails earlier is replaced at once and counts as old as the rest; "+
		"luminaires and room surfaces are cleaned every 24 months, after which no dirt is left", notes(func(*losses.Course) {}))
	for _, c := range []struct {
		says   string
		change func(*losses.Course)
	}{
		{"standard deviation 20 percent of it, assumed", func(c *losses.Course) { c.Replacement = losses.Spot }},
		{"each lamp is replaced when it fails", func(c *losses.Course) { c.RelampHours = 0 }},
		{"stays dark until then; lives spread normally", func(c *losses.Course) { c.Replacement = losses.GroupOnly }},
		{"at their L70 life of 24,000 h, every 6 years", func(c *losses.Course) { c.L70, c.RelampHours = true, 0 }},
		{"at their L70 life of 24,000 h, every 6 years", func(c *losses.Course) { c.L70, c.Replacement = true, losses.Spot }},
		{"lamp lumen depreciation of 0.9 is given or assumed: held constant", func(c *losses.Course) { c.LampShare = 0.9 }},
		{"is not known: 0.94 is held constant", func(c *losses.Course) { c.RatedLifeHours = 0 }},
		{"is not known: 1 is held constant", func(c *losses.Course) { c.MeanLumens = 0 }},
		{"none is taken as dark", func(c *losses.Course) { c.RatedLifeHours, c.Replacement = 0, losses.GroupOnly }},
		{"luminaire dirt depreciation of 0.8 is given: held constant", func(c *losses.Course) { c.DirtShare = 0.8 }},
		{"room surface dirt depreciation of 0.8 is given: held constant", func(c *losses.Course) { c.RoomSurfaceShare = 0.8 }},
		{"the total loss of 0.6 is given", func(c *losses.Course) { c.TotalShareOverride = 0.6 }},
	} {
		assert.Contains(t, notes(c.change), c.says)
	}
}
