package study_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry/codes"
	"lampswap/photometry/spaces"
	"lampswap/photometry/study"
	"lampswap/photometry/wording"
)

func says(texts []string, words string) bool {
	return slices.ContainsFunc(texts, func(text string) bool { return strings.Contains(text, words) })
}

// Without a kind of space no level of one and no limit of a code is named; with one only what is about it.
func TestOnlyWhatIsAboutTheSpace(t *testing.T) {
	const inOhio = "title = \"bay\"\nstate = \"OH\""
	none := run(t, "title = \"bay\"", inOhio)
	assert.Empty(t, none.PowerLimits())
	assert.Empty(t, wording.Space(none))
	assert.Empty(t, none.SpaceLevels())
	assert.False(t, says(wording.Binding(none), "arehouse"))
	assert.True(t, says(wording.Binding(none), "give [room] space"))
	for id, limits := range map[string]int{"retail-sales": 0, "office-open": 0, "workshop": 0, "corridor": 0, "warehouse-bulky": 32, "loading-dock": 7} {
		r := run(t, "title = \"bay\"", inOhio, "[room]", "[room]\nspace = \""+id+"\"")
		space, ok := spaces.Find(id)
		require.True(t, ok)
		got := r.PowerLimits()
		if limits == 0 {
			assert.Empty(t, got, id)
			assert.True(t, says(wording.Space(r), "No energy code's limit of power density for such a space is listed, which is no limit of zero"), id)
			assert.False(t, says(slices.Concat(wording.Space(r), wording.Binding(r)), "arehouse storage"), id)
		} else {
			assert.Len(t, got, limits, id)
			assert.Equal(t, len(codes.LimitsAbout(space.CodeSpaces)), len(got), id)
		}
		for _, l := range got {
			assert.Contains(t, space.CodeSpaces, l.Space)
			assert.Equal(t, l.Met(r.Proposed().PowerDensity), l.MetBy[1])
		}
		for _, level := range ids(r) {
			assert.Contains(t, space.Levels, level)
		}
		assert.True(t, says(wording.Space(r), "a model's target and no level that binds"), id)
	}
	r := run(t, "title = \"bay\"", inOhio, "[room]", "[room]\nspace = \"retail-sales\"")
	assert.True(t, says(wording.Space(r), "474 lx (44 lm/ft2 as published)"))
	assert.True(t, says(wording.Space(r), "An occupancy sensor there is counted as 10 percent less power in a model; nothing of it is in the figures here."))
	assert.False(t, says(wording.Space(r), "California"))
}

// A job in meters that names no state has no law of the United States and no code of theirs, whatever the room is; a state brings them back.
func TestElsewhere(t *testing.T) {
	r := run(t, "[room]", "[room]\nspace = \"warehouse-bulky\"")
	assert.False(t, r.Job.InUnitedStates())
	assert.Empty(t, r.PowerLimits())
	assert.Empty(t, wording.Binding(r))
	assert.Empty(t, r.Energy.Emissions)
	assert.Contains(t, ids(r), "sll-rack-face")
	for _, id := range ids(r) {
		assert.NotContains(t, []string{"fmr-storage", "ca3317-warehouse", "wa-indoor-task"}, id)
	}
	for _, words := range []string{"CFR", "NEC", "USC", "Federal"} {
		assert.False(t, says(slices.Concat(wording.Cautions(r), wording.Warnings(r)), words), words)
	}
	assert.True(t, says(wording.Cautions(r), "lock out and tag"))
	assert.True(t, says(wording.Cautions(r), "PCB"))
	here := run(t, "[room]", "[room]\nspace = \"warehouse-bulky\"", "title = \"bay\"", "title = \"bay\"\nstate = \"WA\"")
	assert.NotEmpty(t, here.PowerLimits())
	assert.Contains(t, ids(here), "wa-indoor-task")
	assert.NotContains(t, ids(here), "sll-rack-face")
	assert.True(t, says(wording.Cautions(here), "29 CFR 1910.333"))
}

// ids are those of the levels about the kind of space.
func ids(r *study.Result) []string {
	var all []string
	for _, l := range r.SpaceLevels() {
		all = append(all, l.ID)
	}
	return all
}
