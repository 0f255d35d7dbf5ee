package catalog_test

import (
	"fmt"

	"lampswap/photometry/catalog"
)

// Two 8-foot T12 lamps on the magnetic ballast of old, and the four 4-foot T8 lamps that take their place.
func Example() {
	for _, system := range []struct {
		lamp, ballast string
		lamps         int
	}{{"F96T12", "magnetic", 2}, {"F32T8/800", "is-normal", 4}} {
		lamp, _ := catalog.FindLamp(system.lamp)
		ballast, ok := catalog.FindBallast(lamp, system.lamps, system.ballast)
		if !ok {
			fmt.Println("no such ballast for", system.lamps, lamp.Name)
			continue
		}
		fmt.Printf("%d x %s on %s: %.0f lm, %.0f W, ballast efficacy factor %.3f\n", system.lamps, lamp.Name, ballast.Kind,
			float64(system.lamps)*lamp.InitialLumens*ballast.BallastFactor, ballast.InputWatts, ballast.EfficacyFactor())
		fmt.Println("  watts and ballast factor:", ballast.ConfidenceWords())
		if watts, source, ok := catalog.LegalCeiling(lamp, system.lamps, ballast.BallastFactor); ok {
			fmt.Printf("  the law allows %.0f W (%s)\n", watts, source)
		}
		if least, ok := lamp.LegalMinimumLumens(); ok {
			fmt.Printf("  the law asks %.0f lm of one lamp\n", least)
		}
	}
	// Output:
	// 2 x F96T12 on magnetic: 11562 lm, 158 W, ballast efficacy factor 0.595
	//   watts and ballast factor: from memory, unverified
	//   the law allows 165 W (42 USC 6295(g)(5), ballast efficacy factor floor; seen in public copies of the US Code (ballast efficacy factor at least 0.57, made from 1990-01-01))
	//   the law asks 6000 lm of one lamp
	// 4 x F32T8/800 on is-normal: 10384 lm, 112 W, ballast efficacy factor 0.786
	//   watts and ballast factor: from memory, unverified
}
