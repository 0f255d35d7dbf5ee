package losses_test

import (
	"fmt"

	"lampswap/photometry/losses"
)

// What is left of the light of T8 lamps in open strips, and when it first falls to 0.65 of what rated lumens on the
// reference ballast would give.
func Example() {
	f := losses.Defaults()
	f.BallastFactor = losses.Given(0.88)
	f.LampLumenDepreciation = losses.LampLumenDepreciation(2800, 2600, false, losses.Basis{At: losses.End}.Age(24000, 16000)) // lm, lm; h, h
	f.LuminaireDirtDepreciation = losses.LuminaireDirt(losses.CategoryI, losses.Medium, 2)
	f.RoomSurfaceDirtDepreciation = losses.RoomSurfaceDirt(losses.SemiDirect, losses.Medium, 2, 1.8)
	for _, e := range f.List() {
		if e.Value != 1 {
			fmt.Printf("%s %.3f, %s\n", e.Key, e.Value, e.From)
		}
	}
	fmt.Printf("total %.3f\n", f.Total())

	course := losses.Course{HoursPerYear: 4000, InitialLumens: 2800, MeanLumens: 2600, RatedLifeHours: 24000, RelampHours: 16000,
		Category: losses.CategoryI, Atmosphere: losses.Medium, CleanYears: 2,
		Distribution: losses.SemiDirect, RoomCavityRatio: 1.8, ConstantShare: f.Constant()}
	fmt.Printf("after 1 year %.3f, just before the cleaning %.3f, just after it %.3f\n", course.Kept(1), course.KeptBefore(2), course.Kept(2))
	if years, ok := course.FirstBelow(0.65, 4); ok {
		fmt.Printf("below 0.65 after %.1f years\n", years)
	}
	// Output:
	// ballast_factor 0.880, job file
	// lamp_lumen_depreciation 0.909, table
	// luminaire_dirt_depreciation 0.836, table
	// room_surface_dirt_depreciation 0.891, table
	// total 0.596
	// after 1 year 0.697, just before the cleaning 0.613, just after it 0.822
	// below 0.65 after 1.5 years
}

// The saw of the years: light falls, and cleaning and relamping bring it back. Year 2 stands there twice, before the cleaning and after it.
func ExampleCourse() {
	lamps := losses.Course{
		HoursPerYear: 4000, InitialLumens: 2950, MeanLumens: 2773, RatedLifeHours: 24000, RelampHours: 16000,
		Category: losses.CategoryIII, Atmosphere: losses.Clean, CleanYears: 2, Distribution: losses.Direct, RoomCavityRatio: 2.5, ConstantShare: 0.88,
	}
	for _, m := range lamps.Series(4, 1) {
		fmt.Printf("year %.0f: %.3f\n", m.Years, m.Kept)
	}
	if years, ok := lamps.FirstBelow(0.72, 20); ok {
		fmt.Printf("below 0.720 first after %.2f years\n", years)
	}
	// Output:
	// year 0: 0.880
	// year 1: 0.741
	// year 2: 0.671
	// year 2: 0.832
	// year 3: 0.720
	// year 4: 0.655
	// below 0.720 first after 1.27 years
}
