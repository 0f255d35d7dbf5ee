package survey

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// What takes from what the readings prove, in a few words each; what was good, or is not of the readings, is not among them.
func TestDoubts(t *testing.T) {
	assert.Empty(t, good().Doubts())
	assert.Equal(t, []string{"whether daylight was in them is not noted"}, NotNoted().Doubts(), "the rest is in the warnings")
	c := good()
	c.Daylight, c.WarmUpMinutes, c.HoursBurnt = DaylightPresent, 10, 40
	assert.Equal(t, []string{"daylight was in them", "the lamps were on for 10 min only", "the lamps had burnt 40 h only"}, c.Doubts())
	c.LED, c.Daylight = true, DaylightSubtracted
	assert.Equal(t, []string{"the lamps were on for 10 min only"}, c.Doubts(), "LED lamps need no seasoning")
	c.WarmUpMinutes, c.LED, c.HoursBurnt = 30, false, 100
	assert.Empty(t, c.Doubts(), "30 min and 100 h are enough")
}

// A condition that was not written down says what was taken instead; one that was is not named.
func TestTakenInstead(t *testing.T) {
	c := good()
	c.TakenInstead = map[string]string{"hours_burnt": "lamps at 0.940", "cleaning": "24 months of dirt", "voltage": "the rated one"}
	assert.Empty(t, c.Warnings())
	c.HoursBurnt, c.MonthsSinceCleaning = NotNoted().HoursBurnt, NotNoted().MonthsSinceCleaning
	all := c.Warnings()
	if assert.Len(t, all, 1) {
		assert.Equal(t, "not written down, and what was taken instead: hours the lamps have burnt (lamps at 0.940); "+
			"months since cleaning (24 months of dirt)", all[0].Text)
	}
}

func TestMissingStationsAreCounted(t *testing.T) {
	few := MissingError{strings.Fields("a b c d e")}
	assert.Equal(t, "no reading at a, b, c, d, e", few.Words())
	many := MissingError{strings.Fields("a b c d e f g")}
	assert.Equal(t, "no reading at 7 stations: a, b, c, d, e and 2 more", many.Words())
	assert.EqualError(t, &many, "survey: no average: no reading at 7 stations: a, b, c, d, e and 2 more")
}
