package cavity_test

import (
	"fmt"
	"math"

	"lampswap/photometry"
	"lampswap/photometry/cavity"
)

// The initial average of a store of 36 by 18 m under 72 diffuse luminaires.
func Example() {
	vertical, candela := make([]float64, 91), make([]float64, 91)
	for i := range vertical {
		vertical[i] = float64(i)
		candela[i] = 1500 * math.Cos(float64(i)*math.Pi/180)
	}
	cosine, err := photometry.NewDistribution([]float64{0}, vertical, [][]float64{candela})
	if err != nil {
		fmt.Println(err)
		return
	}
	luminaire := photometry.Luminaire{Distribution: cosine, LampLumens: 5600}

	room := cavity.Room{Length: 36, Width: 18, Height: 5.5, WorkPlane: 0.76, MountingHeight: 5, Ceiling: 0.5, Walls: 0.3, Floor: 0.2}
	result, err := cavity.Solve(room, cavity.FluxesOf(luminaire))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("room cavity ratio %.2f\n", result.RoomCavityRatio)
	fmt.Printf("effective ceiling %.3f, floor %.3f\n", result.EffectiveCeilingReflectance, result.EffectiveFloorReflectance)
	fmt.Printf("coefficient of utilization %.3f\n", result.CoefficientOfUtilization)
	fmt.Printf("initial average %.0f lx\n", cavity.Average(72, 5600, result.CoefficientOfUtilization, 36*18))
	// Output:
	// room cavity ratio 1.77
	// effective ceiling 0.474, floor 0.189
	// coefficient of utilization 0.674
	// initial average 419 lx
}
