package job_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

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
	assert.Equal(t, []string{"ballast_factor", "lamp_depreciation", "room_surface_dirt", "temperature", "voltage", "reflectance.walls"}, keys, "defaults are listed once asked for")
	assert.Equal(t, "reflectance.walls", job.WallReflectance.Key())
	assert.Equal(t, "lamp lumens", job.LampLumens.String())
}

func TestUncertaintyFaults(t *testing.T) {
	for table, want := range map[string]string{
		"photometry = 2.0\nphotometry_standard = 2.0": "uncertainty.photometry_standard: stands beside photometry, want one of the two",
		"lamp_lumens = -1":                            "uncertainty.lamp_lumens: is -1, want a number from 0 to 90, percent of the light",
		"reflectance = { ceiling = 5 }":               "uncertainty.reflectance.ceiling: is 5, want a number from 0 to 0.5, a reflectance",
		"samples = 10":                                "uncertainty.samples: is 10, want a whole number from 1000",
		"confidence = 95":                             "uncertainty.confidence: is 95, want a number from 0.5 to 0.999",
		"seed = -1":                                   "uncertainty.seed: is -1",
		"lamp_lumen = 5":                              "uncertainty.lamp_lumen: is not a known key, want lamp_lumens, perhaps",
		"[uncertainty.proposed]\nseed = 2":            "uncertainty.proposed.seed: is not a known key",
		"mounting_height = \"half a foot\"":           "uncertainty.mounting_height: is the text",
		"reflectance = { ceilings = 0.1 }":            "uncertainty.reflectance.ceilings: is not a known key, want ceiling, perhaps",
		"[uncertainty.existing]\nceiling = 1":         "uncertainty.existing.ceiling: is not a known key",
	} {
		_, err := job.Read("dock.toml", []byte(sound+"[uncertainty]\n"+table+"\n"), open)
		require.Error(t, err, table)
		assert.Contains(t, err.Error(), want)
	}
}
