package photometry_test

import (
	"fmt"
	"math"

	"lampswap/photometry"
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
