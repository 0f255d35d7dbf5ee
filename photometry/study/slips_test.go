package study_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"lampswap/photometry/internal/bay"
	"lampswap/photometry/study"
	"lampswap/photometry/wording"
)

// Slips of a tired hand: the job is worked out, but its verdict says what looks like one; of light and load it is not to be relied on.
func TestSlips(t *testing.T) {
	const criterion = "[[criteria]]\nname = \"floor\"\nat_least = 1.0\n[upkeep]"
	sound := bay.Run(t, "[upkeep]", criterion)
	light, money := sound.Slips()
	assert.Empty(t, light)
	assert.Empty(t, money)
	assert.Equal(t, study.AllMet, sound.Standing())
	assert.True(t, sound.Stands())
	for _, c := range []struct{ old, with, says string }{
		{"input_watts = 60.0", "input_watts = 16.0", "3,600 lm of 16.0 W are 225 lm/W, more than fluorescent lamps give (125)"},
		{"input_watts = 60.0", "input_watts = 1440.0", "2.5 lm/W, less than such lamps give"},
		{"columns = 6", "columns = 90", "of luminaires, several times what a room is lit with"},
	} {
		r := bay.Run(t, "[upkeep]", criterion, c.old, c.with)
		light, _ := r.Slips()
		assert.NotEmpty(t, light)
		assert.Contains(t, strings.Join(wording.Warnings(r), "\n"), c.says)
		assert.Contains(t, wording.Verdict(r), "Mind what looks like a slip in the job: ")
		assert.Equal(t, study.Qualified, r.Standing(), c.with)
		assert.True(t, r.Met())
		assert.False(t, r.Stands())
		assert.Contains(t, wording.Warnings(r)[0], "a slip, perhaps: ")
	}
	for _, c := range []struct{ old, with, says string }{
		{"hours_per_year = 3000.0", "hours_per_year = 24.0", "burn 24.0 h a year"},
		{"[calculation]", "[energy]\nprice_per_kwh = 12.0\n[calculation]", "a kWh costs 12.0: in cents, perhaps"},
		{"[calculation]", "[energy]\ndemand_price_per_kw_month = 150.0\n[calculation]", "that of a year, perhaps"},
		{"[calculation]", "[costs]\nlines = [[\"one\", 12.0]]\n[calculation]", "the swap costs 12.0 for 24 luminaires, 0.50 each"},
	} {
		r := bay.Run(t, "[upkeep]", criterion, "title", "currency = \"EUR\"\ntitle", c.old, c.with)
		_, money := r.Slips()
		assert.NotEmpty(t, money)
		assert.Contains(t, strings.Join(wording.Warnings(r), "\n"), c.says)
		assert.Contains(t, wording.Verdict(r), "looks like a slip")
		assert.True(t, r.Stands(), "the light is as it is")
	}
	for _, other := range []string{"currency = \"JPY\"\n", ""} { // "": a job in meters that names none
		r := bay.Run(t, "title", other+"title", "[calculation]", "[energy]\nprice_per_kwh = 31.0\n[calculation]")
		_, money = r.Slips()
		assert.Empty(t, money, other)
	}
}
