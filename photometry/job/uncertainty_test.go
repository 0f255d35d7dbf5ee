package job_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"lampswap/photometry/job"
)

// imperial is the sound job with its numbers in feet.
var imperial = strings.Replace(sound, "metric", "imperial", 1)

func TestUncertaintyWithoutATable(t *testing.T) {
	j := read(t, imperial)
	u := j.Uncertainty
	assert.False(t, u.Asked)
	assert.Equal(t, uint64(1), u.Seed)
	assert.Equal(t, 10_000, u.Samples)
	assert.Equal(t, 0.95, u.Confidence)
	assert.Equal(t, job.Tolerance{Size: 0.05}, u.Existing[job.LampLumens], "5 percent, assumed")
	assert.Equal(t, job.Tolerance{Size: 0.02, Normal: true}, u.Proposed[job.Photometry])
	assert.InEpsilon(t, 0.5*foot, u.Proposed[job.MountingHeight].Size, rounding)
	assert.InEpsilon(t, 5*5.0/9, u.Proposed[job.AmbientTemperature].Size, rounding)
	metric := read(t, sound).Uncertainty
	assert.Equal(t, 0.15, metric.Proposed[job.MountingHeight].Size)
	assert.Equal(t, 3.0, metric.Proposed[job.AmbientTemperature].Size)
	for _, d := range j.Defaults {
		assert.NotContains(t, d.Key, "uncertainty", "nobody asked")
	}
}

func TestUncertaintyKeys(t *testing.T) {
	j := read(t, imperial+`[uncertainty]
seed = 7
samples = 50000
confidence = 0.9
lamp_lumens = 4.0
photometry = 6.0
luminaire_dirt_standard = 25
reflectance = { ceiling = 0.15, floor_standard = 0.02 }
mounting_height = 0.25
ambient_temperature = 9
[uncertainty.proposed]
photometry_standard = 1.5
lamp_lumens = 2.0
`)
	u := &j.Uncertainty
	assert.True(t, u.Asked)
	assert.Equal(t, uint64(7), u.Seed)
	assert.Equal(t, 50_000, u.Samples)
	assert.Equal(t, 0.9, u.Confidence)
	for _, c := range []struct {
		side string
		in   job.Input
		want job.Tolerance
	}{
		{"existing", job.LampLumens, job.Tolerance{Size: 0.04, Given: true}},
		{"proposed", job.LampLumens, job.Tolerance{Size: 0.02, Given: true}},
		{"replacement", job.LampLumens, job.Tolerance{Size: 0.04, Given: true}},
		{"existing", job.Photometry, job.Tolerance{Size: 0.06, Given: true}},
		{"proposed", job.Photometry, job.Tolerance{Size: 0.015, Normal: true, Given: true}},
		{"proposed", job.LuminaireDirt, job.Tolerance{Size: 0.25, Normal: true, Given: true}},
		{"proposed", job.CeilingReflectance, job.Tolerance{Size: 0.15, Given: true}},
		{"proposed", job.WallReflectance, job.Tolerance{Size: 0.10}},
		{"proposed", job.FloorReflectance, job.Tolerance{Size: 0.02, Normal: true, Given: true}},
		{"proposed", job.MountingHeight, job.Tolerance{Size: 0.25 * foot, Given: true}},
		{"proposed", job.AmbientTemperature, job.Tolerance{Size: 5, Given: true}},
	} {
		got := u.Of(c.side)[c.in]
		assert.InEpsilon(t, c.want.Size, got.Size, rounding, "%s, %s", c.in, c.side)
		assert.Equal(t, c.want.Normal, got.Normal, "%s, %s", c.in, c.side)
		assert.Equal(t, c.want.Given, got.Given, "%s, %s", c.in, c.side)
	}
	var keys []string
	for _, d := range j.Defaults {
		if key, ok := strings.CutPrefix(d.Key, "uncertainty."); ok {
			keys = append(keys, key)
			assert.NotEmpty(t, d.Reason)
		}
	}
	assert.Equal(t, []string{"ballast_factor", "lamp_depreciation", "room_surface_dirt", "temperature", "voltage", "lamps_in_fixture", "reflectance.walls"}, keys, "defaults are listed once asked for")
	assert.Equal(t, "reflectance.walls", job.WallReflectance.Key())
	assert.Equal(t, "lamp lumens", job.LampLumens.String())
}

// wrongTolerances are mistakes in what may differ from what the job says.
var wrongTolerances = []wrong{
	{priced, priced + "[uncertainty]\nphotometry = 2.0\nphotometry_standard = 2.0\n", `dock.toml:66:23: uncertainty.photometry_standard: stands beside photometry, want one of the two: the half-width of limits, or the standard deviation of a normal distribution`},
	{priced, priced + "[uncertainty]\nlamp_lumens = -1\n", `dock.toml:65:15: uncertainty.lamp_lumens: is -1, want a number from 0 to 90, percent of the light`},
	{priced, priced + "[uncertainty]\nreflectance = { ceiling = 5 }\n",
		`dock.toml:65:27: uncertainty.reflectance.ceiling: is 5, want a number from 0 to 0.5, a reflectance`},
	{priced, priced + "[uncertainty]\nsamples = 10\n", `dock.toml:65:11: uncertainty.samples: is 10, want a whole number from 1000 to 1000000`},
	{priced, priced + "[uncertainty]\nsamples = 1000001\n", `dock.toml:65:11: uncertainty.samples: is 1000001, want a whole number from 1000 to 1000000`},
	{priced, priced + "[uncertainty]\nconfidence = 95\n", `dock.toml:65:14: uncertainty.confidence: is 95, want a number from 0.5 to 0.999`},
	{priced, priced + "[uncertainty]\nseed = -1\n", `dock.toml:65:8: uncertainty.seed: is -1, want a whole number from 0 to 9223372036854775807`},
	{priced, priced + "[uncertainty]\nseed = 0.5\n", `dock.toml:65:8: uncertainty.seed: is 0.5, want a whole number from 0 to 9223372036854775807`},
	{priced, priced + "[uncertainty]\nlamp_lumen = 5\n", `dock.toml:65:14: uncertainty.lamp_lumen: is not a known key, want lamp_lumens, perhaps`},
	{priced, priced + "[uncertainty]\n[uncertainty.proposed]\nseed = 2\n",
		`dock.toml:66:8: uncertainty.proposed.seed: is not a known key, want one of ballast_factor, ballast_factor_standard, lamp_depreciation, lamp_depreciation_standard, lamp_lumens, lamp_lumens_standard, lamps_in_fixture, lamps_in_fixture_standard, photometry, photometry_standard, temperature, temperature_standard, voltage, voltage_standard`},
	{priced, priced + "[uncertainty]\nmounting_height = \"half a foot\"\n",
		`dock.toml:65:19: uncertainty.mounting_height: is the text "half a foot", want a number from 0 to 100, of length`},
	{priced, priced + "[uncertainty]\nreflectance = { ceilings = 0.1 }\n", `dock.toml:65:28: uncertainty.reflectance.ceilings: is not a known key, want ceiling, perhaps`},
	{priced, priced + "[uncertainty]\n[uncertainty.existing]\nceiling = 1\n",
		`dock.toml:66:11: uncertainty.existing.ceiling: is not a known key, want one of ballast_factor, ballast_factor_standard, lamp_depreciation, lamp_depreciation_standard, lamp_lumens, lamp_lumens_standard, lamps_in_fixture, lamps_in_fixture_standard, photometry, photometry_standard, temperature, temperature_standard, voltage, voltage_standard`},
	{priced, priced + "[uncertainty]\nexisting = 1\nproposed = 2\nreplacement = 3\nreflectance = 0.1\n",
		"dock.toml:65:12: uncertainty.existing: is 1, want a table, [uncertainty.existing]\n" +
			"dock.toml:66:12: uncertainty.proposed: is 2, want a table, [uncertainty.proposed]\n" +
			"dock.toml:67:15: uncertainty.replacement: is 3, want a table, [uncertainty.replacement]\n" +
			"dock.toml:68:15: uncertainty.reflectance: is 0.1, want a table, [uncertainty.reflectance]"},
	{priced, priced + "[uncertainty]\nlamp_lumens = 101\nballast_factor = 101\nlamp_depreciation = 101\nluminaire_dirt = 101\n" +
		"room_surface_dirt = 101\ntemperature = 101\nambient_temperature = 101\nvoltage = 101\nphotometry = 101\n" +
		"mounting_height = 101\nlamps_in_fixture = 101\n",
		"dock.toml:65:15: uncertainty.lamp_lumens: is 101, want a number from 0 to 90, percent of the light\n" +
			"dock.toml:66:18: uncertainty.ballast_factor: is 101, want a number from 0 to 90, percent of the light\n" +
			"dock.toml:67:21: uncertainty.lamp_depreciation: is 101, want a number from 0 to 90, percent of the light\n" +
			"dock.toml:68:18: uncertainty.luminaire_dirt: is 101, want a number from 0 to 100, percent of what dirt takes (of the exponent of the dirt law)\n" +
			"dock.toml:69:21: uncertainty.room_surface_dirt: is 101, want a number from 0 to 100, percent of what dirt takes (of the exponent of the dirt law)\n" +
			"dock.toml:70:15: uncertainty.temperature: is 101, want a number from 0 to 90, percent of the light\n" +
			"dock.toml:71:23: uncertainty.ambient_temperature: is 101, want a number from 0 to 100, degrees\n" +
			"dock.toml:72:11: uncertainty.voltage: is 101, want a number from 0 to 90, percent of the light\n" +
			"dock.toml:73:14: uncertainty.photometry: is 101, want a number from 0 to 90, percent of the light\n" +
			"dock.toml:74:19: uncertainty.mounting_height: is 101, want a number from 0 to 100, of length\n" +
			"dock.toml:75:20: uncertainty.lamps_in_fixture: is 101, want a number from 0 to 90, percent of the light"},
	{priced, priced + "[uncertainty]\nlamp_lumens_standard = nan\nballast_factor_standard = nan\nlamp_depreciation_standard = nan\n" +
		"luminaire_dirt_standard = nan\nroom_surface_dirt_standard = nan\ntemperature_standard = nan\n" +
		"ambient_temperature_standard = nan\nvoltage_standard = nan\nphotometry_standard = nan\n" +
		"mounting_height_standard = nan\nlamps_in_fixture_standard = nan\n",
		"dock.toml:65:24: uncertainty.lamp_lumens_standard: is NaN, want a number from 0 to 90, percent of the light\n" +
			"dock.toml:66:27: uncertainty.ballast_factor_standard: is NaN, want a number from 0 to 90, percent of the light\n" +
			"dock.toml:67:30: uncertainty.lamp_depreciation_standard: is NaN, want a number from 0 to 90, percent of the light\n" +
			"dock.toml:68:27: uncertainty.luminaire_dirt_standard: is NaN, want a number from 0 to 100, percent of what dirt takes (of the exponent of the dirt law)\n" +
			"dock.toml:69:30: uncertainty.room_surface_dirt_standard: is NaN, want a number from 0 to 100, percent of what dirt takes (of the exponent of the dirt law)\n" +
			"dock.toml:70:24: uncertainty.temperature_standard: is NaN, want a number from 0 to 90, percent of the light\n" +
			"dock.toml:71:32: uncertainty.ambient_temperature_standard: is NaN, want a number from 0 to 100, degrees\n" +
			"dock.toml:72:20: uncertainty.voltage_standard: is NaN, want a number from 0 to 90, percent of the light\n" +
			"dock.toml:73:23: uncertainty.photometry_standard: is NaN, want a number from 0 to 90, percent of the light\n" +
			"dock.toml:74:28: uncertainty.mounting_height_standard: is NaN, want a number from 0 to 100, of length\n" +
			"dock.toml:75:29: uncertainty.lamps_in_fixture_standard: is NaN, want a number from 0 to 90, percent of the light"},
	{priced, priced + "[uncertainty.reflectance]\nceiling = 0.6\nwalls = 0.6\nfloor = 0.6\nceiling_standard = 0.6\nwalls_standard = 0.6\n" +
		"floor_standard = 0.6\n",
		"dock.toml:65:11: uncertainty.reflectance.ceiling: is 0.6, want a number from 0 to 0.5, a reflectance\n" +
			"dock.toml:66:9: uncertainty.reflectance.walls: is 0.6, want a number from 0 to 0.5, a reflectance\n" +
			"dock.toml:67:9: uncertainty.reflectance.floor: is 0.6, want a number from 0 to 0.5, a reflectance\n" +
			"dock.toml:68:20: uncertainty.reflectance.ceiling_standard: is 0.6, want a number from 0 to 0.5, a reflectance\n" +
			"dock.toml:68:20: uncertainty.reflectance.ceiling_standard: stands beside ceiling, want one of the two: the half-width of limits, or the standard deviation of a normal distribution\n" +
			"dock.toml:69:18: uncertainty.reflectance.walls_standard: is 0.6, want a number from 0 to 0.5, a reflectance\n" +
			"dock.toml:69:18: uncertainty.reflectance.walls_standard: stands beside walls, want one of the two: the half-width of limits, or the standard deviation of a normal distribution\n" +
			"dock.toml:70:18: uncertainty.reflectance.floor_standard: is 0.6, want a number from 0 to 0.5, a reflectance\n" +
			"dock.toml:70:18: uncertainty.reflectance.floor_standard: stands beside floor, want one of the two: the half-width of limits, or the standard deviation of a normal distribution"},
	{priced, priced + "[uncertainty.existing]\nlamp_lumens = 91\nballast_factor = 91\nlamp_depreciation = 91\ntemperature = 91\n" +
		"voltage = 91\nphotometry = 91\nlamps_in_fixture = 91\n",
		"dock.toml:65:15: uncertainty.existing.lamp_lumens: is 91, want a number from 0 to 90, percent of the light\n" +
			"dock.toml:66:18: uncertainty.existing.ballast_factor: is 91, want a number from 0 to 90, percent of the light\n" +
			"dock.toml:67:21: uncertainty.existing.lamp_depreciation: is 91, want a number from 0 to 90, percent of the light\n" +
			"dock.toml:68:15: uncertainty.existing.temperature: is 91, want a number from 0 to 90, percent of the light\n" +
			"dock.toml:69:11: uncertainty.existing.voltage: is 91, want a number from 0 to 90, percent of the light\n" +
			"dock.toml:70:14: uncertainty.existing.photometry: is 91, want a number from 0 to 90, percent of the light\n" +
			"dock.toml:71:20: uncertainty.existing.lamps_in_fixture: is 91, want a number from 0 to 90, percent of the light"},
	{priced, priced + "[uncertainty.proposed]\nlamp_lumens_standard = -1\nballast_factor_standard = -1\nlamp_depreciation_standard = -1\n" +
		"temperature_standard = -1\nvoltage_standard = -1\nphotometry_standard = -1\nlamps_in_fixture_standard = -1\n",
		"dock.toml:65:24: uncertainty.proposed.lamp_lumens_standard: is -1, want a number from 0 to 90, percent of the light\n" +
			"dock.toml:66:27: uncertainty.proposed.ballast_factor_standard: is -1, want a number from 0 to 90, percent of the light\n" +
			"dock.toml:67:30: uncertainty.proposed.lamp_depreciation_standard: is -1, want a number from 0 to 90, percent of the light\n" +
			"dock.toml:68:24: uncertainty.proposed.temperature_standard: is -1, want a number from 0 to 90, percent of the light\n" +
			"dock.toml:69:20: uncertainty.proposed.voltage_standard: is -1, want a number from 0 to 90, percent of the light\n" +
			"dock.toml:70:23: uncertainty.proposed.photometry_standard: is -1, want a number from 0 to 90, percent of the light\n" +
			"dock.toml:71:29: uncertainty.proposed.lamps_in_fixture_standard: is -1, want a number from 0 to 90, percent of the light"},
}
