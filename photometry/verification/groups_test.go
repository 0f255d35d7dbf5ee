package verification_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry/internal/bay"
	"lampswap/photometry/wording"
)

// dead has two luminaires of the east that give no light.
var dead = []string{"name = \"east\"\n", "name = \"east\"\nfailed = [1, 6]\n"}

// Readings of a room in groups are held against the sum of their light, each kind with its own losses of the day.
func TestReadingsOfGroups(t *testing.T) {
	level := bay.InHalves(upkeep, bright+upkeep)
	for _, system := range []string{"existing", "proposed"} {
		v := verified(t, surveyed(t, system, 0.95, level...), level...)
		for _, d := range v.Comparison.Stations {
			assert.InEpsilon(t, 0.95, d.Ratio, rounding, d.Station)
		}
		require.Len(t, v.Days, 2)
		assert.Equal(t, "west", v.Days[0].Group)
		d := v.Areas[0].Decisions[0]
		r := run(t, level...)
		side := r.Sides[map[string]int{"existing": 0, "proposed": 1}[system]]
		initial := 0.0 // of the grid: what is left on the day, of new lamps and clean surfaces
		for _, kind := range side.Kinds() {
			initial += kind.Grids[0].Statistics.Average / kind.Kept()
		}
		assert.InEpsilon(t, side.Grids[0].Statistics.Average/initial, d.Carried.Measured/d.Found.Measured, rounding)
		assert.Equal(t, system == "existing", v.Correction != nil)
	}
	one, halves := surveyed(t, "proposed", 1, upkeep, bright+upkeep), bay.InHalves(`proposed = "b"`, `proposed = "a"`, `proposed = "c"`, `proposed = "a"`, upkeep, bright+upkeep)
	a, b := verified(t, one, upkeep, bright+upkeep), verified(t, one, halves...)
	assert.InEpsilon(t, a.Areas[0].Predicted.Value, b.Areas[0].Predicted.Value, 1e-6, "groups of one kind are that kind")
	assert.Equal(t, a.Areas[0].Decisions[0].Carried.Outcome, b.Areas[0].Decisions[0].Carried.Outcome)
}

// Readings of the existing lighting are held against the room as found, in which some luminaires give no light.
func TestReadingsOfTheRoomAsFound(t *testing.T) {
	asFound := bay.InHalves(append(append([]string{}, dead...), upkeep, bright+upkeep)...)
	lit := bay.InHalves(upkeep, bright+upkeep)
	readings := surveyed(t, "existing", 1, asFound...)
	v := verified(t, readings, asFound...)
	for _, d := range v.Comparison.Stations {
		assert.InEpsilon(t, 1, d.Ratio, rounding, d.Station)
	}
	off := verified(t, readings, lit...)
	assert.Less(t, off.Areas[0].Measured.Value/off.Areas[0].Predicted.Value, 0.96, "a job that takes all for lit does not fit")

	// who counts lamps that are out counts those of the dead luminaires too: 4 of 48 are 8.3 percent, and 10 percent are 1.8 of the rest
	readings.Conditions.FailedShare = 4.0 / 48
	assert.InEpsilon(t, 1, verified(t, readings, asFound...).Days[0].LampBurnout.Value, rounding)
	readings.Conditions.FailedShare = 0.10
	v = verified(t, readings, asFound...)
	assert.InEpsilon(t, 1-(0.10-4.0/48)/(1-4.0/48), v.Days[0].LampBurnout.Value, rounding)
	readings.Conditions.FailedShare = 0.02
	v = verified(t, readings, asFound...)
	assert.InEpsilon(t, 1, v.Days[1].LampBurnout.Value, rounding)
	assert.Contains(t, wording.ReadingNotes(v), "of the lamps 2 percent were noted as out, and those of the luminaires that the job has as failed are 8 percent: the job and the room do not agree")
	assert.False(t, math.IsNaN(v.Day.Total()), "the kinds agree")
}
