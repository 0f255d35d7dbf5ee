package photometry_test

import (
	"context"
	"fmt"
	"math"

	"lampswap/photometry"
	"lampswap/photometry/cavity"
	"lampswap/photometry/direct"
	"lampswap/photometry/fixture"
	"lampswap/photometry/interreflect"
	"lampswap/photometry/room"
)

// A luminaire that is wider across its lamps than along them.
func Example() {
	vertical := []float64{0, 15, 30, 45, 60, 75, 90}
	d, err := photometry.NewDistribution([]float64{0, 90}, vertical, [][]float64{
		{1000, 950, 820, 620, 380, 150, 0},
		{1000, 980, 900, 740, 500, 240, 60},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	luminaire := photometry.Luminaire{Distribution: d, LampLumens: 4000}
	fmt.Printf("flux %.0f lm, efficiency %.2f\n", d.Flux(), luminaire.Efficiency())
	if criterion, ok := d.SpacingCriterion(math.Pi / 2); ok {
		fmt.Printf("spacing criterion across %.1f\n", criterion)
	}
	fmt.Printf("at 20 degrees, half across: %.0f cd\n", d.Intensity(math.Pi/4, 20*math.Pi/180))
	// Output:
	// flux 2926 lm, efficiency 0.73
	// spacing criterion across 1.3
	// at 20 degrees, half across: 930 cd
}

// The light distribution of a fixture, from its cross-section and what lamps it holds. Your own section is read by fixture.Read.
func Example_lightDistribution() {
	strip, _ := fixture.Find("strip-5in")
	luminaire, account, err := strip.Solve(fixture.Tubes{Across: 2, EndToEnd: 2, Diameter: fixture.DiameterT8, Lumens: 2800})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, gamma := range []float64{0, 30, 60, 90, 120} {
		along := luminaire.Distribution.Intensity(0, gamma*math.Pi/180)
		across := luminaire.Distribution.Intensity(math.Pi/2, gamma*math.Pi/180)
		fmt.Printf("%3.0f degrees: %4.0f cd along, %4.0f cd across\n", gamma, along, across)
	}
	fmt.Printf("%.2f of the lamps' light gets out\n", account.Efficiency)
	// Output:
	//   0 degrees: 1723 cd along, 1723 cd across
	//  30 degrees: 1492 cd along, 1784 cd across
	//  60 degrees:  862 cd along, 1575 cd across
	//  90 degrees:    0 cd along,  614 cd across
	// 120 degrees:    0 cd along,  621 cd across
	// 0.91 of the lamps' light gets out
}

// The coefficient of utilization of a room, from its reflectances and the zonal flux of its luminaires. With a photometric file,
// lm63.ReadFile and File.Luminaire give the luminaire.
func Example_coefficientOfUtilization() {
	strip, _ := fixture.Find("strip-5in")
	luminaire, _, err := strip.Solve(fixture.Tubes{Across: 2, Diameter: fixture.DiameterT12, Lumens: 5500})
	if err != nil {
		fmt.Println(err)
		return
	}
	store := cavity.Room{Length: 36, Width: 18, Height: 5.5, WorkPlane: 0.76, MountingHeight: 5, Ceiling: 0.5, Walls: 0.3, Floor: 0.2}
	result, err := cavity.Solve(store, cavity.FluxesOf(luminaire))
	if err != nil {
		fmt.Println(err)
		return
	}
	average := cavity.Average(72, luminaire.LampLumens, result.CoefficientOfUtilization, store.Length*store.Width)
	fmt.Printf("RCR %.2f, CU %.3f, initial average %.0f lx\n", result.RoomCavityRatio, result.CoefficientOfUtilization, average)
	// Output: RCR 1.77, CU 0.567, initial average 693 lx
}

// The light at every point of the work plane: straight from the luminaires, and by way of floor, walls and ceiling.
func Example_pointGrid() {
	strip, _ := fixture.Find("strip-5in")
	luminaire, _, err := strip.Solve(fixture.Tubes{Across: 2, Diameter: fixture.DiameterT12, Lumens: 5500})
	if err != nil {
		fmt.Println(err)
		return
	}
	store := room.Room{Length: 36, Width: 18, Height: 5.5, WorkPlane: 0.76, Reflectance: room.Reflectances{Ceiling: 0.5, Walls: 0.3, Floor: 0.2}}
	scene := direct.Scene{Sources: []direct.Source{{Luminaire: luminaire, Placements: store.Lattice(6, 12, 5, 0)}}}
	grid := store.WorkPlaneGrid(0.6)

	ctx := context.Background()
	lux, err := scene.Illuminance(ctx, grid)
	if err != nil {
		fmt.Println(err)
		return
	}
	bounced, err := interreflect.Solve(ctx, store, scene, interreflect.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	more, err := bounced.Illuminance(ctx, grid)
	if err != nil {
		fmt.Println(err)
		return
	}
	for i := range lux {
		lux[i] += more[i]
	}
	s := room.Summarize(lux)
	fmt.Printf("%d points, average %.0f lx, minimum %.0f, average to minimum %.1f\n", s.Points, s.Average, s.Minimum, s.AverageToMinimum)
	// Output: 1800 points, average 695 lx, minimum 333, average to minimum 2.1
}
