package lighting_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const aroundAndLevel = `
[[grids]]
name = "around"
quantity = "cylindrical"
area = [2, 2, 10, 8]
height = 1.5
spacing = 1.0
[[grids]]
name = "level"
area = [2, 2, 10, 8]
height = 1.5
spacing = 1.0
[[grids]]
name = "north"
quantity = "vertical"
facing = 90
area = [2, 2, 10, 8]
height = 1.5
spacing = 1.0
[[grids]]
name = "south"
quantity = "vertical"
facing = 270
area = [2, 2, 10, 8]
height = 1.5
spacing = 1.0
`

// The modeling ratio is that of two grids with the same points, of one kind of luminaire and of several; and
// opposite ways of a middle of the room have the light of each other's mirrored points.
func TestModeling(t *testing.T) {
	for _, s := range []both{
		run(t, still, bounces+aroundAndLevel),
		inGroups(
			t, group("west", "a", "b", west)+group("east", "b", "c", east), "interreflection = true",
			"interreflection = true"+aroundAndLevel,
		),
	} {
		around, level := s.Proposed.Grids[1], s.Proposed.Grids[2]
		require.Equal(t, "around", around.Name)
		assert.Len(t, s.Proposed.Grids, 5)
		assert.InEpsilon(t, level.Statistics.Average, around.Modeling.Horizontal, single)
		assert.InEpsilon(t, around.Statistics.Average/level.Statistics.Average, around.Modeling.Ratio(), single)
		assert.InDelta(t, 0.5, around.Modeling.Ratio(), 0.35, "an ordinary room")
		assert.Zero(t, level.Modeling)
	}
	// 40 by 30 points: 13 by 10 of them stand for them
	many := strings.Replace(aroundAndLevel, "spacing = 1.0", "spacing = 0.2", 2)
	fine := run(t, still, bounces+many)
	around, level := fine.Proposed.Grids[1], fine.Proposed.Grids[2]
	cylindrical, horizontal := 0.0, 0.0
	for k := range 13 * 10 {
		at := (3*(k/13)+1)*40 + 3*(k%13) + 1
		cylindrical, horizontal = cylindrical+around.Maintained[at], horizontal+level.Maintained[at]
	}
	assert.InEpsilon(t, cylindrical/horizontal, around.Modeling.Ratio(), 1e-3) // interpolation
	whole := run(
		t, still,
		bounces+aroundAndLevel+"[[grids]]\nname = \"all\"\nquantity = \"vertical\"\nfacing = 0\nspacing = 2.0\n"+
			"[[grids]]\nname = \"back\"\nquantity = \"vertical\"\nfacing = 180\nspacing = 2.0\n",
	)
	there, back := whole.Existing.Grids[5], whole.Existing.Grids[6]
	for i, v := range there.Maintained {
		mirrored := i/there.NX*there.NX + there.NX - 1 - i%there.NX
		assert.InEpsilon(t, v, back.Maintained[mirrored], 1e-3, "%d", i) // interpolation
	}
}
