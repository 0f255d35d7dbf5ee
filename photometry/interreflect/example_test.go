package interreflect_test

import (
	"context"
	"fmt"

	"lampswap/photometry"
	"lampswap/photometry/direct"
	"lampswap/photometry/interreflect"
	"lampswap/photometry/room"
)

// A bare lamp of 10,000 lm in the middle of a cube whose surfaces all reflect half.
func Example() {
	// 10,000 lm / 4π
	bare, err := photometry.NewDistribution([]float64{0}, []float64{0, 180}, [][]float64{{795.775, 795.775}})
	if err != nil {
		fmt.Println(err)
		return
	}
	half := room.Reflectances{Ceiling: 0.5, Walls: 0.5, Floor: 0.5}
	cube := room.Room{Length: 4, Width: 4, Height: 4, Reflectance: half}
	scene := direct.Scene{Sources: []direct.Source{{
		Luminaire:  photometry.Luminaire{Distribution: bare},
		Placements: []room.Placement{{Position: room.Vec{X: 2, Y: 2, Z: 2}}},
	}}}
	solution, err := interreflect.Solve(context.Background(), cube, scene, interreflect.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("mean of all surfaces: %.0f lx\n", solution.MeanInterreflected())
	b := solution.Balance()
	fmt.Printf("absorbed: %.2f of the lamp's flux\n", b.Absorbed/b.Emitted)
	// Output:
	// mean of all surfaces: 104 lx
	// absorbed: 1.00 of the lamp's flux
}
