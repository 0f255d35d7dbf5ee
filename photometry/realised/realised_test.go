package realised_test

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry/building"
	"lampswap/photometry/realised"
	"lampswap/photometry/wording"
)

// works is a building of two offices alike, with luminaires that change, and a store that stays as it is. Invented.
const works = `title = "Works"
[kinds.strip]
fixture = "strip-4in"
lamp = "F96T12"
lamps = 2
ballast = "magnetic"
[kinds.tube]
fixture = "strip-4in"
lamp = "LED-T8-4FT-18.5W-B"
lamps = 4
[upkeep]
hours_per_year = 4000.0
[energy]
price_per_kwh = 0.1
heating_cooling_factor = 0.1
[[spaces]]
name = "office"
copies = 2
room = { length = 30.0, width = 20.0, height = 9.0 }
[[spaces.groups]]
name = "desks"
existing = "strip"
proposed = "tube"
count = 10
mounting_height = 8.0
failed = 2
control = "occupancy"
control_saving = 0.25
[[spaces]]
name = "store"
room = { length = 30.0, width = 20.0, height = 9.0 }
[[spaces.groups]]
existing = "strip"
proposed = "strip"
count = 4
mounting_height = 8.0
`

const head = "space,group,system,count,watts,hours,note\n"

func read(t *testing.T) *building.Building {
	t.Helper()
	b, err := building.Read("works.toml", []byte(works), nil, nil)
	require.NoError(t, err)
	return b
}

// The check value of the rule, common practice, no source: 90 percent confidence, 10 percent precision, a variation of 0.5 take 68 luminaires.
func TestSampleSize(t *testing.T) {
	assert.Equal(t, 68, realised.SampleSize(1.645, 0.5, 0.10, 0))
	assert.Equal(t, 68, realised.SampleSize(1.645, 0.5, 0.10, 1_000_000))
	assert.Equal(t, 41, realised.SampleSize(1.645, 0.5, 0.10, 100), "67.65 x 100 / 167.65 = 40.35")
	assert.Equal(t, 1, realised.SampleSize(1.645, 0.5, 0.10, 1))
}

// By hand: 8 lit of 10 strips at 158 W for 4,000 h, 10 tubes at 74 W for 3,000 h, twice, times 1.1; as read 7 at 150 W for 3,900 h and 10 at 70 and 74 W
// for 2,900 h.
func TestSavingAsRead(t *testing.T) {
	b := read(t)
	assert.Equal(t, head+"office,desks,existing,,,,\noffice,desks,proposed,,,,\nstore,group 1,existing,,,,\nstore,group 1,proposed,,,,\n", string(realised.Form(b)))
	readings, err := realised.Read("power.csv", []byte("\xef\xbb\xbf"+head+"Office,DESKS,Existing,7,150,3900,by clamp\n\noffice,desks,proposed,,70,2900,\noffice,desks,proposed,,74,,\nstore,,existing,,,,\n"), b)
	require.NoError(t, err)
	require.Len(t, readings, 3)
	r := realised.Of(b, readings)
	before, after := b.Spaces[0].Job.Existing.InputWatts, b.Spaces[0].Job.Proposed.InputWatts
	assert.InEpsilon(t, 1.1*2*(8*before*4000-10*after*3000)/1000, r.Promised, 1e-12)  // rounding
	assert.InEpsilon(t, 1.1*2*(7*150*3900.0-10*72*2900)/1000, r.Realised, 1e-12)      // rounding
	assert.InEpsilon(t, r.Promised, r.ReadOfPromised, 1e-12, "the store stays as is") // rounding
	assert.Empty(t, r.NotRead)
	assert.Equal(t, []realised.Sample{{Kind: "tube", Number: 20, Needed: 16, Logged: 1}}, r.Samples)
	assert.False(t, r.Proven(), "too few were read")
	assert.Contains(t, wording.Saving(r), `Of "tube" hours of 1 of 20 luminaires were read, and 16 are needed.`)
	for range 14 {
		readings = append(readings, readings[1])
	}
	r = realised.Of(b, readings)
	assert.Equal(t, r.Realised >= r.Promised, r.Proven())
	none := realised.Of(b, nil)
	assert.Equal(t, none.Promised, none.Realised, "what was not read counts as promised")
	assert.Equal(t, []string{"office: desks"}, none.NotRead)
	assert.False(t, none.Proven())
	assert.Contains(t, wording.Saving(none), "NOT proven")
}

func TestWrongReadings(t *testing.T) {
	b := read(t)
	for _, c := range []struct{ text, want string }{
		{"", "power.csv:1:1: the file is empty"},
		{"space,system,watts\n", "power.csv:1:1: hours: is no column"},
		{"space,system,watts,hours,lux\n", `power.csv:1:5: "lux" is no column`},
		{"space,system,watts,hours,watts\n", "power.csv:1:5: watts: is a column for the second time"},
		{head + "offfice,desks,existing,,150,,\n", `power.csv:2:1: space: "offfice" is no space of the building, want office, perhaps`},
		{head + "office,benches,existing,,150,,\n", `power.csv:2:8: group: "benches" is no group of office`},
		{head + "office,desks,before,,150,,\n", `power.csv:2:14: system: "before" is not known, want existing or proposed`},
		{head + "office,desks,existing,,150 W,,\n", "power.csv:2:24: watts: is 150 W"},
		{head + "office,desks,existing,,-5,,\n", "power.csv:2:24: watts: is -5"},
		{head + "office,desks,existing,,150,8800,\n", "power.csv:2:28: hours: is 8800, want a number from 0 to 8784"},
		{head + "office,desks,existing,7.5,150,,\n", "power.csv:2:23: count: is 7.5, want a whole number"},
		{head + "office,desks,existing,7,150,,\noffice,desks,existing,8,150,,\n", "power.csv:3:23: count: is 8, and another line of the same group and system has 7"},
		{head + "\"office,desks\n", "power.csv: parse error on line 2"},
		{"\xff\xfeh", "power.csv:1:1: the file is UTF-16 text"},
	} {
		_, err := realised.Read("power.csv", []byte(c.text), b)
		if assert.Error(t, err, c.text) {
			assert.Contains(t, err.Error(), c.want)
		}
	}
	_, err := realised.Read("power.csv", []byte(head+"x,,existing,,1,,\noffice,,z,,1,,\n"), b)
	assert.Equal(t, 2, strings.Count(err.Error(), "power.csv:"), "all at once: %v", err)
}

// What makes a difference adds up to it; a reading out of place, or readings that scatter, prove nothing.
func TestWhatMakesTheDifference(t *testing.T) {
	b := read(t)
	before, after := b.Spaces[0].Job.Existing.InputWatts, b.Spaces[0].Job.Proposed.InputWatts
	of := func(watts ...float64) *realised.Result {
		readings := []realised.Reading{{Space: "office", Group: "desks", System: "existing", Count: 8, Watts: before, Hours: 4100}}
		for _, w := range watts {
			readings = append(readings, realised.Reading{Space: "office", Group: "desks", System: "proposed", Count: 10, Watts: w, Hours: 2900})
		}
		return realised.Of(b, readings)
	}
	many := func(watts float64) []float64 {
		all := make([]float64, 16)
		for i := range all {
			all[i] = watts
		}
		return all
	}
	r := of(many(after + 2)...)
	assert.InDelta(t, r.Realised-r.Promised, r.Because.Number+r.Because.Watts+r.Because.Hours, 1e-9) // rounding
	assert.Zero(t, r.Because.Number)
	assert.Negative(t, r.Because.Watts)
	assert.Positive(t, r.Because.Hours)
	assert.True(t, r.Proven(), wording.Saving(r))
	assert.Zero(t, r.Half)

	slip := many(after)
	slip[3] = after / 10
	r = of(slip...)
	assert.Greater(t, r.Realised, r.Promised)
	assert.False(t, r.Proven(), "a decimal point out of place")
	assert.Contains(t, wording.Saving(r), "unlike the job in 1 place. office, desks, proposed: ")

	scatter := many(after)
	for i := range scatter {
		scatter[i] += 20 * float64(i%2*2-1)
	}
	r = of(scatter...)
	mean, fpc := after, 1-16.0/20 // the mean stays; s^2 = 400 x 16 / 15
	half := 1.1 * realised.Z * 20 * mean * 2900 / 1000 * math.Sqrt(400*16.0/15/16*fpc) / mean
	assert.InEpsilon(t, half, r.Half, 1e-12) // rounding
}

// Light and watts side by side.
func TestLightBesidePower(t *testing.T) {
	b := read(t)
	after := b.Spaces[0].Job.Proposed.InputWatts
	of := func(share float64) *realised.Result {
		return realised.Of(b, []realised.Reading{{Space: "office", Group: "desks", System: "proposed", Count: -1, Watts: share * after, Hours: math.NaN()}})
	}
	assert.Contains(t, wording.Beside(of(0.8), "office", "proposed", 0.78, 0.03), "explains most of it")
	assert.Contains(t, wording.Beside(of(0.9), "office", "proposed", 0.6, 0.03), "a part of that")
	assert.Contains(t, wording.Beside(of(1), "office", "proposed", 0.6, 0.03), "do not explain it")
	assert.Contains(t, wording.Beside(of(1.3), "office", "proposed", 1.3, 0.03), "stronger lamps")
	assert.Contains(t, wording.Beside(of(1), "office", "proposed", 1.3, 0.03), "might explain that")
	assert.Empty(t, wording.Beside(of(1), "office", "proposed", 1.04, 0.03), "within what both may be off")
	assert.Empty(t, wording.Beside(of(1), "office", "existing", 0.5, 0.03), "no watts were read there")
	assert.Empty(t, wording.Beside(of(1), "office", "proposed", math.NaN(), 0.03))
}
