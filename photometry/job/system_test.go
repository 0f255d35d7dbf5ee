package job_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry/catalog"
	"lampswap/photometry/job"
	"lampswap/photometry/levels"
	"lampswap/photometry/losses"
)

// A level is asked in the unit in which it is published: with both units in the job's, with one in that one.
func TestPublishedLevels(t *testing.T) {
	both, one := `level = "warehouse-active-bulky"`, `level = "fmr-storage"`
	for _, c := range []struct {
		level, units string
		required     float64
		unit         levels.Unit
	}{
		{both, "metric", 100, levels.Lux},
		{both, "imperial", 10, levels.Footcandles},
		{one, "metric", 10, levels.Footcandles},
		{one, "imperial", 10, levels.Footcandles},
	} {
		j := read(t, replaced(t, strings.Replace(sound, `"metric"`, `"`+c.units+`"`, 1), both, c.level))
		got := j.Criteria[0]
		assert.Equal(t, c.required, got.Required, "%v", c)
		assert.Equal(t, c.unit, got.Unit, "%v", c)
		assert.True(t, got.AtLeast)
		assert.Equal(t, "work plane", got.Grid)
		assert.NotEmpty(t, got.Source)
	}
	named := read(t, replaced(t, sound, both, both+"\nname = \"aisles\""))
	assert.Equal(t, "aisles", named.Criteria[0].Name)
}

// A rule without a name, a grid and a statistic takes the usual ones, and says so.
func TestOwnRules(t *testing.T) {
	j := read(t, replaced(t, sound, "name = \"lease\"\ngrid = \"dock\"\nstatistic = \"average\"\nat_least = 200.0", "at_most = 500.0\n[[criteria]]\nname = \"even\"\ngrid = \"north face\"\nstatistic = \"maximum_to_minimum\"\nat_most = 5"))
	require.Len(t, j.Criteria, 3)
	assert.Equal(t, levels.Criterion{Name: "criterion 2", Grid: "work plane", Statistic: levels.Average, Required: 500, Unit: levels.Lux, Source: "set by the owner"}, j.Criteria[1])
	assert.Equal(t, levels.Criterion{Name: "even", Grid: "north face", Statistic: levels.MaximumToMinimum, Required: 5, Unit: levels.Ratio, Source: "set by the owner"}, j.Criteria[2])
	assert.Equal(t, []job.Default{
		{"racks[0].transmittance", "0", "a solid block"},
		{"existing.lamp_lumens", "2825", "the middle of what is known of its class, 2,800 to 2,850 lm"},
		{"proposed.lamp_kind", `"fluorescent"`, `taken for a lamp that is none of the list; an LED tube is lamp_kind = "led"`},
		{"upkeep.judged_at", `"end"`, "all lamps are replaced together at an interval: each system is judged at the end of its own"},
		byRule,
		{"criteria[1].name", `"criterion 2"`, "criteria are numbered"},
		{"criteria[1].statistic", `"average"`, "what levels usually state"},
		{"criteria[1].grid", `"work plane"`, "the usual grid"},
		{"energy.heating_cooling_factor", "0", "what cooler lights spare the cooling and cost the heating is left out: it takes a figure of this building"},
	}, j.Defaults)
}

// A grid that is wrong itself is not reported again by the criterion that looks at it.
func TestCriterionOfAFaultyGrid(t *testing.T) {
	_, err := job.Read("dock.toml", []byte(replaced(t, sound, "height = 1.0\n", "height = 9.0\n")), open)
	assert.EqualError(t, err, "dock.toml:52:10: grids[1].height: is 9, want a place in the room, from 0 to 6")
}

// What the job gives itself goes before the lists, and the lists before the photometric file.
func TestWhatGoesFirst(t *testing.T) {
	lamp, found := catalog.FindLamp("F32T8/700")
	require.True(t, found)
	ballast, found := catalog.FindBallast(lamp, 4, "is-normal")
	require.True(t, found)
	listed := read(t, sound).Existing
	assert.Equal(t, lamp.InitialLumens, listed.LampLumens)
	assert.Equal(t, ballast.BallastFactor, listed.BallastFactor)
	assert.Equal(t, ballast.InputWatts, listed.InputWatts)
	assert.Equal(t, losses.FromTable, listed.BallastOrigin)

	given := read(t, replaced(t, sound, "ballast = \"is-normal\"\n", "ballast = \"is-normal\"\nlamp_lumens = 2650\nballast_factor = 0.9\ninput_watts = 107\n")).Existing
	assert.Equal(t, []float64{2650, 0.9, 107}, []float64{given.LampLumens, given.BallastFactor, given.InputWatts})
	assert.Equal(t, losses.FromJobFile, given.BallastOrigin)

	lampOnly := read(t, replaced(t, sound, "ballast = \"is-normal\"\n", "")).Existing
	assert.Equal(t, []float64{lamp.InitialLumens, 0.88, 112}, []float64{lampOnly.LampLumens, lampOnly.BallastFactor, lampOnly.InputWatts})
	assert.Equal(t, losses.FromDefault, lampOnly.BallastOrigin)
}

// Absolute photometry is of the luminaire as a whole: what the job says of lamps and ballast changes nothing but the watts, if given.
func TestAbsolutePhotometry(t *testing.T) {
	alone := read(t, replaced(t, minimal, "[existing]\nphotometry = \"strip.ies\"", "[existing]\nphotometry = \"absolute.ies\"")).Existing
	flux := alone.Luminaire.Distribution.Flux()
	assert.True(t, alone.Luminaire.Absolute)
	assert.Equal(t, 1.0, alone.BallastFactor)
	assert.InDelta(t, flux, alone.LampLumensEach(), 1e-9)
	assert.InDelta(t, 2400, alone.Emitted().Distribution.Intensity(0, 0), 1e-9)
	assert.Equal(t, 1.0, alone.Luminaire.Efficiency())

	j := read(t, replaced(t, minimal, "[existing]\nphotometry = \"strip.ies\"", `[existing]
photometry = "absolute.ies"
lamp = "F32T8/700"
lamps = 3
ballast = "unheard-of"
lamp_lumens = 2800
ballast_factor = 0.7`))
	same := j.Existing
	assert.Equal(t, alone.Emitted(), same.Emitted())
	assert.Equal(t, []any{alone.Lamps, alone.LampLumens, alone.BallastFactor, alone.InputWatts, alone.Lamp, alone.Ballast},
		[]any{same.Lamps, same.LampLumens, same.BallastFactor, same.InputWatts, same.Lamp, same.Ballast})
	var want []string
	for _, key := range []string{"lamp_lumens", "lamps", "ballast_factor", "ballast", "lamp"} {
		want = append(want, "existing: "+key+" is ignored: absolute.ies is absolute photometry, of the luminaire as a whole")
	}
	assert.Equal(t, want, j.Warnings)

	watts := read(t, replaced(t, minimal, "[existing]\nphotometry = \"strip.ies\"", "[existing]\nphotometry = \"absolute.ies\"\ninput_watts = 99"))
	assert.Equal(t, 99.0, watts.Existing.InputWatts)
	assert.Empty(t, watts.Warnings)
}

// A fixture from the list or from a section file beside the job, in place of a photometric file.
func TestFixtures(t *testing.T) {
	const from = "[existing]\nphotometry = \"strip.ies\"\nlamp = \"F32T8/700\"\nlamps = 4\n"
	for _, c := range []struct {
		name, fixture string
		length        float64
		photometry    string
	}{
		{"tandem by itself", "fixture = \"strip-4in\"\nlamps = 4\n", 8 * foot, "strip-4in"},
		{"side by side", "fixture = \"strip-4in\"\nlamps = 2\nend_to_end = 1\n", 4 * foot, "strip-4in"},
		{"one row of two", "fixture = \"strip-4in\"\nlamps = 2\nend_to_end = 2\n", 8 * foot, "strip-4in"},
		{"section file", "fixture = \"shop.toml\"\nlamps = 2\n", 4 * foot, "two-lamp shop strip"},
	} {
		j := read(t, replaced(t, sound, from, "[existing]\nlamp = \"F32T8/700\"\n"+c.fixture))
		e := j.Existing
		assert.InDelta(t, c.length, e.Luminaire.Opening.Length, 1e-9, c.name)
		assert.Equal(t, "computed from the cross-section "+c.photometry+", an estimate", e.Photometry, c.name)
		assert.InDelta(t, e.LampLumensEach(), e.Luminaire.LampLumens, 1e-9, c.name)
		assert.True(t, e.Luminaire.Efficiency() > 0.5 && e.Luminaire.Efficiency() < 1, "%s: %v", c.name, e.Luminaire.Efficiency())
		assert.Equal(t, losses.CategoryIII, e.Category, "%s: the job's own word goes before the section's", c.name)
	}
}

// Without a lamp of the list a fixture needs lumens, diameter, watts and ballast factor, and no more.
func TestFixtureWithoutListedLamp(t *testing.T) {
	j := read(t, replaced(t, sound, "photometry = \"strip.ies\"\nlamp = \"F32T8/700\"\nlamps = 4\nballast = \"is-normal\"\n",
		"fixture = \"strip-4in\"\nlamps = 2\nlamp_lumens = 2800\nlamp_diameter = 0.0254\nballast_factor = 0.9\ninput_watts = 58\n"))
	assert.Equal(t, 5600.0, j.Existing.Luminaire.LampLumens)
	assert.Equal(t, 0.9, j.Existing.BallastFactor)
}

func TestLossOverrides(t *testing.T) {
	o := read(t, replaced(t, sound, "losses = { lamp_lumen_depreciation = 0.9 }", `[proposed.losses]
lamp_lumen_depreciation = 0.91
luminaire_dirt_depreciation = 0.92
room_surface_dirt_depreciation = 0.93
lamp_burnout = 0.94
temperature = 1.05
voltage = 0.96
other = 0.97
total = 0.7`)).Proposed.Losses
	assert.Equal(t, []float64{0.91, 0.92, 0.93, 0.94, 1.05, 0.96, 0.97, 0.7}, []float64{*o.LampLumenDepreciation, *o.LuminaireDirtDepreciation,
		*o.RoomSurfaceDirtDepreciation, *o.LampBurnout, *o.Temperature, *o.Voltage, *o.Other, *o.Total})
	assert.Equal(t, job.Overrides{}, read(t, sound).Existing.Losses)
}

// The floor of ballast efficacy is that of one ballast; a set of two may draw twice as much.
func TestLegalCeiling(t *testing.T) {
	j := read(t, contract)
	watts, source, ok := j.Existing.LegalCeiling()
	require.True(t, ok)
	assert.InDelta(t, 100*0.94/0.57, watts, 1e-9, "42 USC 6295(g)(5): at least 0.570 for two F96T12 lamps")
	assert.Contains(t, source, "42 USC 6295(g)")
	four := j.Existing
	four.Lamps = 4
	set, _ := catalog.FindBallast(*four.Lamp, 4, "magnetic")
	require.Equal(t, 2, set.Count)
	four.Ballast = &set
	twice, _, ok := four.LegalCeiling()
	require.True(t, ok)
	assert.InDelta(t, 2*watts, twice, 1e-9)
	_, _, ok = j.Proposed.LegalCeiling()
	assert.False(t, ok, "no lamp is named")
}

// Lamps in tandem make no body longer than there are, unless the job says so; and no luminaire is larger than the room.
func TestBodiesThatAreNone(t *testing.T) {
	strip := func(length, lamps string) string {
		return "units = \"imperial\"\n[room]\nlength = " + length + "\nwidth = 6.0\nheight = 9.0\n[layout]\nmounting_height = 8.0\nrows = 1\ncolumns = 1\n" +
			"[existing]\nfixture = \"strip-4in\"\nlamp = \"F96T12\"\n" + lamps + "\n[proposed]\nfixture = \"strip-4in\"\nlamp = \"F32T8/800\"\nlamps = 2\nballast = \"is-normal\"\n"
	}
	_, err := job.Read("shop.toml", []byte(strip("30.0", "lamps = 3\nballast = \"magnetic\"")), nil)
	require.EqualError(t, err, "shop.toml:13:9: existing.lamps: 3 lamps of 96 in do not fit: strip-4in holds at most 2 side by side, and 3 in tandem are 288 in long, "+
		"want as many as the fixture holds, another fixture, or end_to_end if they do stand in tandem")
	_, err = job.Read("shop.toml", []byte(strip("30.0", "lamps = 3\nend_to_end = 3\nballast = \"magnetic\"")), nil)
	require.NoError(t, err)
	_, err = job.Read("shop.toml", []byte(strip("7.0", "lamps = 2\nballast = \"magnetic\"")), nil)
	require.EqualError(t, err, "shop.toml:11:11: existing.fixture: with its lamps is 96 in long, which the room does not hold, want a luminaire that fits into the room")
}
