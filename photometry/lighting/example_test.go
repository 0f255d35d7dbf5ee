package lighting_test

import (
	"context"
	"fmt"

	"lampswap/photometry/interreflect"
	"lampswap/photometry/job"
	"lampswap/photometry/lighting"
)

// The light of a bay with open strips, and with the same strips when other lamps are in them.
func Example() {
	const text = `units = "metric"
[room]
length = 24.0
width = 12.0
height = 5.0
[layout]
mounting_height = 4.5
rows = 3
columns = 8
[existing]
fixture = "strip-4in"
lamp = "F96T12"
lamps = 2
ballast = "magnetic"
[proposed]
fixture = "strip-4in"
lamp = "F96T8"
lamps = 2
ballast = "is-normal"
[calculation]
spacing = 1.0
`
	j, err := job.Read("bay.toml", []byte(text), nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	space, err := lighting.NewSpace(context.Background(), j, interreflect.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	before, err := space.Solve(context.Background(), &j.Existing)
	if err != nil {
		fmt.Println(err)
		return
	}
	plane := before.Grids[0]
	fmt.Printf(
		"%s: %s on average, %s at least, maintained\n", plane.Name, j.Light(plane.Statistics.Average),
		j.Light(plane.Statistics.Minimum),
	)
	fmt.Printf(
		"lumen method: %s, of which time and dirt leave %.2f\n", j.Light(before.LumenMethod.MaintainedAverage),
		before.Kept(),
	)
	fmt.Printf(
		"other lamps, were their light spread the same way: %s\n",
		j.Light(before.Relamped(j, &j.Proposed).Grids[0].Statistics.Average),
	)
	// Output:
	// work plane: 317 lx on average, 177 lx at least, maintained
	// lumen method: 312 lx, of which time and dirt leave 0.66
	// other lamps, were their light spread the same way: 297 lx
}
