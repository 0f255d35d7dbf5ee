package lighting_test

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry/glare"
	"lampswap/photometry/lighting"
)

const bench = `
[[observers]]
name = "bench"
at = [3.1, 4.1]
height = 1.3
looking = 20.0
[[grids]]
name = "eye"
quantity = "vertical"
facing = 20.0
area = [3.0, 4.0, 3.2, 4.2]
height = 1.3
spacing = 1.0
`

const (
	existing = "[existing]\nphotometry = \"diffuse.ies\""
	proposed = "[proposed]\nphotometry = \"diffuse.ies\""
)

// strips gives both systems of the bay luminaires of some extent.
func strips(pairs ...string) []string {
	return append(
		[]string{
			existing, "[existing]\nphotometry = \"strip.ies\"", proposed, "[proposed]\nphotometry = \"strip.ies\"",
		},
		pairs...,
	)
}

// The background is the light that bounces to an upright surface at the eye, and the rating that of the
// formula, with the light that the luminaires really give when new.
func TestObserversOfASystem(t *testing.T) {
	s := run(t, strips(still, bounces+bench)...)
	require.Len(t, s.Existing.Observers, 1)
	seen, eye := s.Existing.Observers[0], s.Existing.Grids[1]
	require.Equal(t, "eye", eye.Name)
	require.Len(t, eye.Direct, 1)
	assert.InEpsilon(t, eye.Interreflected[0]/math.Pi, seen.Background, 1e-9)
	emitted := s.Job.Existing.Emitted()
	by := glare.Look(s.Job.Observers[0], emitted, s.Job.Existing.Layout.Placements, nil)
	assert.InEpsilon(t, by.Sum, seen.Sum, rounding)
	assert.Equal(t, by.Sources, seen.Sources)
	by.Background = seen.Background
	want, _ := by.Rating()
	got, why := s.Existing.Glare()
	assert.Equal(t, glare.Rated, why)
	assert.InDelta(t, want, got, 1e-9)
	assert.Equal(t, "bench", s.Existing.Worst().Name)
	assert.Len(t, run(t, strips()...).Existing.Observers, 8, "by rule")
}

// Light of groups is a sum, and so are glare's parts: the strips in two groups glare as in one. Those that
// failed do not glare.
func TestGlareOfGroups(t *testing.T) {
	whole := run(t, strips(still, bounces+bench)...).Existing
	kind := "[kinds.s]\nphotometry = \"strip.ies\"\nlamps = 2\nlamp_lumens = 2000.0\nballast_factor = 0.9\n" +
		"input_watts = 60.0\n"
	half := func(name, from, to, more string) string {
		return kind + group(
			name, "s", "s", "mounting_height = 4.0\nrows = 4\ncolumns = 3\narea = ["+from+", 0, "+to+", 12]\n"+more,
		)
	}
	both := inGroups(
		t, half("west", "0", "12", "")+half("east", "12", "24", "")[len(kind):], "interreflection = true",
		"interreflection = true"+bench,
	)
	require.Len(t, both.Existing.Parts, 2)
	assert.InEpsilon(t, whole.Observers[0].Sum, both.Existing.Observers[0].Sum, rounding)
	// patches' light is summed in another order
	assert.InEpsilon(t, whole.Observers[0].Background, both.Existing.Observers[0].Background, 1e-6)
	assert.Equal(t, whole.Observers[0].Sources, both.Existing.Observers[0].Sources)
	assert.InEpsilon(
		t, both.Existing.Parts[0].Observers[0].Sum+both.Existing.Parts[1].Observers[0].Sum,
		both.Existing.Observers[0].Sum, rounding,
	)

	found := inGroups(
		t, half("west", "0", "12", "failed = 12\n")+half("east", "12", "24", "failed = 11\n")[len(kind):],
		"interreflection = true", "interreflection = true"+bench,
	)
	assert.Equal(t, 1, found.Existing.Observers[0].Sources)
	assert.Equal(t, whole.Observers[0].Sources, found.Proposed.Observers[0].Sources)
}

// The rating of another lamp in the same luminaire is that of its own solve.
func TestGlareOfOtherLamps(t *testing.T) {
	more := run(
		t,
		append(
			strips(still, bounces+bench), "[proposed]\nphotometry = \"strip.ies\"\nlamps = 2\nlamp_lumens = 2000.0",
			"[proposed]\nphotometry = \"strip.ies\"\nlamps = 2\nlamp_lumens = 3000.0",
		)...,
	)
	relamped := more.Existing.Relamped(more.Job, &more.Job.Proposed)
	want, _ := more.Proposed.Glare()
	got, why := relamped.Glare()
	assert.Equal(t, glare.Rated, why)
	assert.InDelta(t, want, got, 1e-9)
	before, _ := more.Existing.Glare()
	assert.InDelta(t, before+glare.Brighter(1.5), got, 1e-9)
}

func TestNoRating(t *testing.T) {
	for _, c := range []struct {
		what  string
		pairs []string
		why   glare.Reason
	}{
		{"no light that bounces", strips(still, still+bench), glare.NoBackground},
		{
			"black surfaces",
			strips(
				still, bounces+bench, "{ ceiling = 0.7, walls = 0.5, floor = 0.2 }",
				"{ ceiling = 0, walls = 0, floor = 0 }",
			),
			glare.NoBouncing,
		},
		{"no opening", []string{still, bounces + bench}, glare.NoSize},
		{
			"uplights",
			[]string{
				existing, "[existing]\nphotometry = \"uplight.ies\"", proposed,
				"[proposed]\nphotometry = \"uplight.ies\"", still, bounces + bench,
			},
			glare.NothingSeen,
		},
		{
			"a rack all about",
			strips(
				still,
				bounces+strings.Replace(
					bench, "looking = 20.0", "looking = 0.0", 1,
				)+"[[racks]]\ncorner = [3.5, 0]\nsize = [0.5, 12, 4.9]\nreflectance = 0.3\n",
			),
			glare.NothingSeen,
		},
	} {
		s := run(t, c.pairs...)
		ugr, why := s.Existing.Glare()
		assert.True(t, math.IsNaN(ugr), c.what)
		assert.Equal(t, c.why, why, c.what)
		assert.Nil(t, s.Existing.Worst(), c.what)
	}
}

// The least color rendering index is that of all lamps, and not known if that of one is not.
func TestColorRenderingOfASystem(t *testing.T) {
	cri := func(s lighting.System) float64 { return s.ColorRendering }
	s := run(t)
	assert.True(t, math.IsNaN(cri(s.Existing)))
	listed := run(
		t, "[existing]\nphotometry = \"diffuse.ies\"\nlamps = 2\nlamp_lumens = 2000.0",
		"[existing]\nphotometry = \"diffuse.ies\"\nlamps = 2\nlamp_lumens = 2000.0\ncri = 83",
	)
	assert.Equal(t, 83.0, cri(listed.Existing))
}
