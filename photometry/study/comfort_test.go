package study_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry/study"
	"lampswap/photometry/wording"
)

const (
	glareAndColor = `
[[observers]]
name = "bench"
at = [3.0, 4.0]
looking = 0.0
[[criteria]]
name = "glare"
statistic = "ugr"
at_most = %s
[[criteria]]
name = "color"
statistic = "cri"
at_least = 80
`
	old     = "[existing]\nphotometry = \"diffuse.ies\""
	swapped = "[proposed]\nphotometry = \"diffuse.ies\""
)

// Of glare and color a criterion is met, missed, or not known; none of these is said to be light that is not enough, and only met is success.
func TestVerdictsOfComfort(t *testing.T) {
	strip := []string{old, "[existing]\nphotometry = \"strip.ies\"", swapped, "[proposed]\nphotometry = \"strip.ies\""}
	colored := "[proposed]\nphotometry = \"strip.ies\"\ncri = 83"
	light := "[[criteria]]\nname = \"floor\"\nstatistic = \"average\"\nat_least = 50\n"
	for _, c := range []struct {
		what  string
		pairs []string
		met   bool
		says  []string
	}{
		{"met", []string{old, strip[1], swapped, colored, still, bounces + sprintf(glareAndColor, 30) + light}, true, []string{"and is enough: it meets every criterion."}},
		{"missed", []string{old, strip[1], swapped, colored, still, bounces + sprintf(glareAndColor, 8) + light}, false,
			[]string{"and is enough: it meets every criterion of light. Of glare and color it MISSES \"glare\" (at most 8.00 required,"}},
		{"not known", append(strip, still, still+sprintf(glareAndColor, 30)+light), false,
			[]string{"It is NOT KNOWN whether it meets \"glare\" (no background", "and \"color\" (the color rendering index of a lamp is not known)"}},
		{"no criterion of light", []string{old, strip[1], swapped, colored, still, bounces + sprintf(glareAndColor, 30)}, true,
			[]string{"no criterion of the job is about how much light there is, so nothing says whether that is enough."}},
		{"nobody sees a luminaire", []string{old, "[existing]\nphotometry = \"uplight.ies\"", swapped, "[proposed]\nphotometry = \"uplight.ies\"\ncri = 83", still, bounces + sprintf(glareAndColor, 10)}, true, nil},
	} {
		r := run(t, c.pairs...)
		assert.Equal(t, c.met, r.Met(), c.what)
		for _, words := range c.says {
			assert.Contains(t, wording.Verdict(r), words, c.what)
		}
		assert.True(t, r.BrightEnough(), c.what)
	}
}

// What is said of living with light names no number that is not known, and each fact its source.
func TestComfort(t *testing.T) {
	r := run(t)
	all := strings.Join(wording.Comfort(r), "\n")
	assert.Contains(t, all, "existing: no unified glare rating: no luminous size")
	assert.Contains(t, all, "Daylight is left out")
	assert.NotContains(t, all, "NaN")
	assert.False(t, r.AsksOfGlare())
	for _, w := range wording.Warnings(r) {
		assert.NotContains(t, w, "UGR", "a job that does not ask is not bothered")
	}
	described := run(t, swapped, swapped+"\nlamp_kind = \"led\"\nled_type = \"A\"\nlamp_diameter = \"1.1 in\"\nlamp_length = 2.4384\nbeam_angle = 140\ncri = 83\ncct = 4000\n")
	all = strings.Join(wording.Comfort(described), "\n")
	assert.Contains(t, all, "2,970 cd/m2 if it shone all round; it shines into 140 degrees, and is brighter there") // 2,000 lm / (pi² 0.02794 2.4384)
	assert.Contains(t, all, "color rendering index 83, color temperature 4000 K")
	require.InEpsilon(t, 2974.4, study.BareLamp(&described.Job.Proposed), 1e-3)
}
