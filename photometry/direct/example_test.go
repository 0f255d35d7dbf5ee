package direct_test

import (
	"fmt"
	"math"

	"lampswap/photometry"
	"lampswap/photometry/direct"
	"lampswap/photometry/room"
)

// A lamp of 1,000 cd in every direction, 3 m above the floor.
func Example() {
	bare, err := photometry.NewDistribution([]float64{0}, []float64{0, 180}, [][]float64{{1000, 1000}})
	if err != nil {
		fmt.Println(err)
		return
	}
	scene := direct.Scene{Sources: []direct.Source{{
		Luminaire:  photometry.Luminaire{Distribution: bare},
		Placements: []room.Placement{{Position: room.Vec{X: 2, Y: 2, Z: 3}}},
	}}}
	floor := room.Vec{Z: 1}
	fmt.Printf("below: %.1f lx\n", scene.At(room.Vec{X: 2, Y: 2}, floor))
	fmt.Printf("4 m aside: %.1f lx\n", scene.At(room.Vec{X: 6, Y: 2}, floor))
	fmt.Printf("flux: %.0f lm\n", 4*math.Pi*1000)
	// Output:
	// below: 111.1 lx
	// 4 m aside: 24.0 lx
	// flux: 12566 lm
}
