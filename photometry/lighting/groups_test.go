package lighting_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry/cavity"
	"lampswap/photometry/internal/bay"
	"lampswap/photometry/lighting"
)

// kinds are the luminaires of the bay and two more, with losses of their own.
const kinds = `[kinds.a]
photometry = "diffuse.ies"
lamps = 2
lamp_lumens = 2000.0
ballast_factor = 0.9
input_watts = 60.0
[kinds.b]
photometry = "narrow.ies"
lamps = 1
lamp_lumens = 3000.0
ballast_factor = 1.0
input_watts = 45.0
[kinds.b.losses]
lamp_lumen_depreciation = 0.8
[kinds.c]
photometry = "strip.ies"
lamps = 2
lamp_lumens = 1500.0
ballast_factor = 0.8
input_watts = 40.0
[kinds.c.losses]
total = 0.5
`

// inGroups is the bay with groups in place of its layout and systems.
func inGroups(tb testing.TB, groups string, pairs ...string) both {
	tb.Helper()
	systems := bay.Text[strings.Index(bay.Text, "[layout]"):strings.Index(bay.Text, bay.Upkeep)]
	return run(
		tb,
		append(
			[]string{
				systems, kinds + groups, "interreflection = false", "interreflection = true", "spacing = 0.5",
				"spacing = 1",
			},
			pairs...,
		)...,
	)
}

func group(name, existing, proposed, more string) string {
	return fmt.Sprintf(
		"[[groups]]\nname = %q\nexisting = %q\nproposed = %q\nlamps_along = \"length\"\n%s\n", name, existing,
		proposed, more,
	)
}

const (
	west = "mounting_height = 4.0\nrows = 2\ncolumns = 3\narea = [0, 0, 12, 12]"
	east = "mounting_height = 3.5\npositions = [[14, 3], [16, 9, 90], [20, 6, 30, 3.0]]"
	wide = "mounting_height = 4.5\ncount = 5"
)

// The light of groups is the sum of what each gives alone, with losses of its own: on every grid, initial and
// maintained, by both methods.
func TestLightOfGroupsIsTheirSum(t *testing.T) {
	all := inGroups(
		t, group("west", "a", "b", west)+group("east", "b", "none", east)+group("wide", "c", "c", wide),
	).Existing
	require.Len(t, all.Parts, 3)
	parts := []lighting.System{
		inGroups(t, group("west", "a", "b", west)).Existing, inGroups(t, group("east", "b", "b", east)).Existing,
		inGroups(t, group("wide", "c", "c", wide)).Existing,
	}
	for i := range all.Grids[0].Direct {
		direct, bounced, kept := 0.0, 0.0, 0.0
		for _, p := range parts {
			require.Nil(t, p.Parts, "one group alone is a system of one kind")
			direct, bounced, kept = direct+p.Grids[0].Direct[i], bounced+p.Grids[0].Interreflected[i],
				kept+p.Grids[0].Maintained[i]
		}
		require.InEpsilon(t, direct, all.Grids[0].Direct[i], rounding)
		require.InEpsilon(t, bounced, all.Grids[0].Interreflected[i], rounding)
		require.InEpsilon(t, kept, all.Grids[0].Maintained[i], rounding)
	}
	luminaires, power, method, emitted := 0, 0.0, 0.0, 0.0
	for i, p := range parts {
		luminaires, power, method, emitted = luminaires+p.Luminaires, power+p.PowerDensity,
			method+p.LumenMethod.MaintainedAverage, emitted+p.Balance.Emitted
		assert.Equal(t, p.Losses, all.Parts[i].Losses, "each by its own rule")
	}
	assert.Equal(t, luminaires, all.Luminaires)
	assert.InEpsilon(t, power, all.PowerDensity, rounding)
	assert.InEpsilon(t, method, all.LumenMethod.MaintainedAverage, rounding)
	assert.InEpsilon(t, emitted, all.Balance.Emitted, rounding)
	assert.InDelta(t, 0, all.Balance.Imbalance(), 3e-3)
	assert.InEpsilon(t, all.Grids[0].Statistics.Average, all.AllLit, 1e-12)
	assert.True(
		t, math.IsNaN(all.Losses.Total()) && math.IsNaN(all.InputWattsEach) && math.IsNaN(all.Efficiency),
		"they do not agree",
	)
	assert.Equal(t, 1.0, all.Losses.LampBurnout.Value, "they do")
	lumens := []float64{6 * 4000, 3 * 3000, 5 * 3000}
	heights := []float64{4, (3.5 + 3.5 + 3) / 3, 4.5}
	mean := (lumens[0]*heights[0] + lumens[1]*heights[1] + lumens[2]*heights[2]) /
		(lumens[0] + lumens[1] + lumens[2])
	assert.InEpsilon(
		t, cavity.Ratio(mean-0.8, 24, 12), all.LumenMethod.RoomCavityRatio, rounding,
		"by the mean height, weighted by lumens",
	)
}

// One group over the whole room gives the same bits as a layout.
func TestOneGroupIsTheLayout(t *testing.T) {
	plain := run(t, "interreflection = false", "interreflection = true", "spacing = 0.5", "spacing = 1")
	one := inGroups(t, group("all", "a", "a", "mounting_height = 4.0\nrows = 4\ncolumns = 6"))
	assert.Equal(t, plain.Existing.Grids, one.Existing.Grids)
	assert.Equal(t, plain.Existing.LumenMethod, one.Existing.LumenMethod)
	assert.Equal(t, plain.Proposed.Grids, one.Proposed.Grids)
	split := inGroups(t, group(
		"west", "a", "a", "mounting_height = 4.0\nrows = 4\ncolumns = 3\narea = [0, 0, 12, 12]",
	)+
		group("east", "a", "a", "mounting_height = 4.0\nrows = 4\ncolumns = 3\narea = [12, 0, 24, 12]")).Existing
	for i, x := range plain.Existing.Grids[0].Maintained {
		assert.InEpsilon(
			t, x, split.Grids[0].Maintained[i], 1e-3,
			"discretisation: openings and patches are cut within 0.1 percent",
		)
	}
	assert.InEpsilon(
		t, plain.Existing.LumenMethod.MaintainedAverage, split.LumenMethod.MaintainedAverage, rounding,
	)
	assert.Equal(t, plain.Existing.Losses.Total(), split.Losses.Total(), "all agree")
}

// Luminaires that failed are not there; with every one lit the average is that of all. Dimmed ones give their
// share.
func TestFailedAndDimmed(t *testing.T) {
	const places = "mounting_height = 4.0\npositions = [[3, 3], [9, 3], [15, 3], [21, 3], [3, 9], [9, 9]]"
	failed := inGroups(t, group("all", "a", "a", places+"\nfailed = [2, 6]\nfailed_watts = 9\ndimmed_to = 0.6"))
	lit := inGroups(
		t, group("all", "a", "a", strings.Replace(strings.Replace(places, "[9, 3], ", "", 1), ", [9, 9]", "", 1)),
	)
	every := inGroups(t, group("all", "a", "a", places))
	assert.Equal(t, lit.Existing.Grids[0].Maintained, failed.Existing.Grids[0].Maintained)
	assert.Equal(t, lit.Existing.LumenMethod.MaintainedAverage, failed.Existing.LumenMethod.MaintainedAverage)
	assert.Equal(t, 6, failed.Existing.Luminaires)
	assert.Equal(t, 2, failed.Existing.Failed)
	assert.InEpsilon(t, every.Existing.Grids[0].Statistics.Average, failed.Existing.AllLit, single)
	assert.Equal(t, every.Existing.PowerDensity, failed.Existing.PowerDensity, "of the connected load")
	for i, x := range every.Proposed.Grids[0].Maintained {
		assert.InEpsilon(t, 0.6*x, failed.Proposed.Grids[0].Maintained[i], rounding)
	}
	assert.InEpsilon(
		t, 0.6*every.Proposed.LumenMethod.InitialAverage, failed.Proposed.LumenMethod.InitialAverage, rounding,
	)
	assert.Equal(t, every.Proposed.PowerDensity, failed.Proposed.PowerDensity)

	dark := inGroups(t, group("west", "a", "b", west+"\nfailed = 6")+group("east", "b", "b", east)).Existing
	east := inGroups(t, group("east", "b", "b", east)).Existing
	assert.Equal(t, east.Grids[0].Maintained, dark.Grids[0].Maintained, "a group all of which failed")
	assert.Zero(t, dark.Parts[0].LumenMethod.MaintainedAverage)
	assert.Greater(t, dark.AllLit, dark.Grids[0].Statistics.Average)
}

// The light of groups with a cache is the same, to the bit, as without.
func TestGroupsFromACache(t *testing.T) {
	plain := inGroups(t, group("west", "a", "b", west+"\nfailed = 2")+group("east", "b", "c", east))
	cached := in(t, lighting.NewCache(1<<24).Space(plain.Job), plain.Job)
	assert.Equal(t, plain.Existing.Grids, cached.Existing.Grids)
	assert.Equal(t, plain.Existing.AllLit, cached.Existing.AllLit)
	assert.Equal(t, plain.Proposed.Grids, cached.Proposed.Grids)
}
