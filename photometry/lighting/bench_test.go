package lighting_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"lampswap/photometry/internal/bay"
	"lampswap/photometry/interreflect"
	"lampswap/photometry/lighting"
)

// A hall of 405 luminaires among 20 racks, as package hall has it, and what 8 observers and 10,125 cylinders
// add to the light of one system.
func BenchmarkGlareAmongRacks(b *testing.B) {
	const room = "length = 131.7\nwidth = 73.2\nheight = 7.3\nwork_plane = 0.8\n"
	racks := "[[racks]]\ncorner = [20.1, 0.6]\nsize = [91.4, 2.4, 4.9]\nreflectance = 0.3\n" +
		"repeat = { count = 20, step = [0.0, 3.66] }\n"
	observers := ""
	for i := range 8 {
		observers += fmt.Sprintf("[[observers]]\nat = [%d, 3.3]\nlooking = %d\n", 10+14*i, 90*(i%2))
	}
	for name, more := range map[string]string{"without": "[[observers]]\nat = [10, 3.3]\nlooking = 0\n",
		"observers": observers,
		"observers and cylinders": observers +
			"[[grids]]\nname = \"faces\"\nquantity = \"cylindrical\"\nspacing = 0.975\n"} {
		b.Run(name, func(b *testing.B) {
			j := bay.Job(b, strips("length = 24.0\nwidth = 12.0\nheight = 5.0\nwork_plane = 0.8\n", room,
				"mounting_height = 4.0\nrows = 4\ncolumns = 6", "mounting_height = 6.1\nrows = 15\ncolumns = 27",
				"spacing = 0.5\ninterreflection = false\n", "spacing = 2.0\n"+racks+more)...)
			require.Len(b, j.Racks, 20)
			require.Equal(b, 405, strings.Count(fmt.Sprint(j.Existing.Layout.Placements), "{{"))
			for b.Loop() {
				space, err := lighting.NewSpace(b.Context(), j, interreflect.Options{})
				require.NoError(b, err)
				_, err = space.Solve(b.Context(), &j.Existing)
				require.NoError(b, err)
			}
		})
	}
}
