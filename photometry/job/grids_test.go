package job_test

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry/room"
)

// Upright surfaces and cylinders lie on an area, which is the whole floor at the height of seated persons' eyes unless the job says.
func TestGridsOfUprightSurfaces(t *testing.T) {
	grids := func(text string) []room.Grid {
		t.Helper()
		return read(t, strings.Replace(sound, "[[criteria]]", text+"[[criteria]]", 1)).Grids[2:]
	}
	of := grids("[[grids]]\nquantity = \"cylindrical\"\n[[grids]]\nname = \"faces\"\nquantity = \"vertical\"\nfacing = -90.0\narea = [1.0, 1.0, 3.0, 2.0]\nheight = 1.5\nspacing = 0.25\n")
	require.Len(t, of, 2)
	assert.Equal(t, room.Cylindrical, of[0].Quantity())
	assert.Equal(t, room.Horizontal, of[0].Plane)
	assert.Equal(t, []int{40, 20}, []int{of[0].NX, of[0].NY})
	assert.InDelta(t, 1.2, of[0].Origin.Z, 1e-9)
	assert.Equal(t, room.Upright, of[1].Quantity())
	assert.Equal(t, room.Vec{Y: -1}, of[1].Normal)
	assert.InDelta(t, 1.5*math.Pi, of[1].Normal.Azimuth(), 1e-12)
	assert.Equal(t, []int{8, 4}, []int{of[1].NX, of[1].NY})
	assert.Equal(t, "faces, vertical facing 270 degrees", of[1].Label())

	level := grids("[[grids]]\nquantity = \"horizontal\"\narea = [1.0, 1.0, 3.0, 2.0]\n")
	assert.Equal(t, room.Vec{Z: 1}, level[0].Normal)
	face := grids("[[grids]]\nquantity = \"vertical\"\nfrom = [2.0, 7.0]\nto = [12.0, 7.0]\nheights = [0.2, 2.9]\nfacing = 90.0\n")
	assert.Equal(t, room.Vertical, face[0].Plane)
	assert.Equal(t, room.Upright, face[0].Quantity())
}
