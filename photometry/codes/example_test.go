package codes_test

import (
	"fmt"
	"time"

	"lampswap/photometry/codes"
)

// 72 luminaires of 112 W over 120 ft x 60 ft of warehouse, and what the state says about their lamps.
func Example() {
	const density = 72 * 112 / (120 * 60 * 0.3048 * 0.3048) // W/m2
	limit, _ := codes.Find("ashrae901-2007-area-warehouse")
	fmt.Printf("%.2f of %g W/ft2, met: %v (%s)\n", codes.WPerFt2FromSI(density), limit.WPerFt2, limit.Met(density), limit.Label())
	on := time.Date(2025, time.June, 1, 0, 0, 0, 0, time.UTC)
	for _, notice := range codes.NoticesFor("MN", []codes.Touch{codes.LinearFluorescent}) {
		fmt.Printf("%s: %s, %s, %s\n", notice.ID, notice.Kind, notice.From, notice.Status(on))
	}
	// Output:
	// 1.12 of 0.8 W/ft2, met: false (ASHRAE 90.1-2007, building area method: Warehouse)
	// us-2018-lamp: lamp rule, 26 January 2018, in force
	// mn-linear: sale ban, 1 January 2026, coming
}
