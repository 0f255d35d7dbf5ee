package survey

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// What takes from what the readings prove, in a few words each; what was good, or is not of the readings, is not among them.
func TestDoubts(t *testing.T) {
	assert.Empty(t, good().Doubts())
	assert.Equal(t, []Doubt{{Code: DaylightNotNoted}}, NotNoted().Doubts(), "the rest is in the warnings")
	c := good()
	c.Daylight, c.WarmUpMinutes, c.HoursBurnt = DaylightPresent, 10, 40
	assert.Equal(t, []Doubt{{Code: DaylightWasIn}, {OnTooShort, 10}, {BurntTooShort, 40}}, c.Doubts())
	c.LED, c.Daylight = true, DaylightSubtracted
	assert.Equal(t, []Doubt{{OnTooShort, 10}}, c.Doubts(), "LED lamps need no seasoning")
	c.WarmUpMinutes, c.LED, c.HoursBurnt = 30, false, 100
	assert.Empty(t, c.Doubts(), "30 min and 100 h are enough")
}

// What was not written down is asked for by its key; what was is not.
func TestNotWrittenDown(t *testing.T) {
	c := good()
	c.HoursBurnt, c.MonthsSinceCleaning = NotNoted().HoursBurnt, NotNoted().MonthsSinceCleaning
	all := c.Warnings()
	if assert.Len(t, all, 1) {
		assert.Equal(t, []string{"hours_burnt", "cleaning"}, all[0].Missing)
	}
}

func TestMissingStationsAreCounted(t *testing.T) {
	few := MissingError{strings.Fields("a b c d e")}
	assert.Equal(t, "no reading at a, b, c, d, e", few.Words())
	many := MissingError{strings.Fields("a b c d e f g")}
	assert.Equal(t, "no reading at 7 stations: a, b, c, d, e and 2 more", many.Words())
	assert.EqualError(t, &many, "survey: no average: no reading at 7 stations: a, b, c, d, e and 2 more")
}
