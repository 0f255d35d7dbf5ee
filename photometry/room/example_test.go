package room_test

import (
	"fmt"
	"math"

	"lampswap/photometry/room"
)

// Luminaires in a row, and the points of the work plane that no rack stands on.
func Example() {
	bay := room.Room{Length: 12, Width: 6, Height: 5, WorkPlane: 0.76}
	for _, p := range bay.Lattice(1, 3, 4.5, 0) {
		fmt.Println(p.Position)
	}

	rack := room.Rack{Corner: room.Vec{X: 3, Y: 2}, Size: room.Vec{X: 6, Y: 1, Z: 2.4}}
	grid := bay.WorkPlaneGrid(1)
	values := make([]float64, 0, grid.NX*grid.NY)
	for iy := range grid.NY {
		for ix := range grid.NX {
			if rack.Contains(grid.Point(ix, iy)) {
				values = append(values, math.NaN())
			} else {
				values = append(values, 300+10*float64(iy))
			}
		}
	}
	s := room.Summarize(values)
	fmt.Printf(
		"%d of %d points, average %.1f, maximum to minimum %.3f\n",
		s.Points,
		len(values),
		s.Average,
		s.MaximumToMinimum,
	)
	// Output:
	// {2 3 4.5}
	// {6 3 4.5}
	// {10 3 4.5}
	// 66 of 72 points, average 325.5, maximum to minimum 1.167
}
