package chart_test

import (
	"fmt"

	"lampswap/plots/internal/chart"
)

// An axis for values from 113 to 348 W.
func Example() {
	axis := chart.NewAxis("Power, W", 113, 348, 5)
	fmt.Println(axis.From, axis.To, axis.Ticks)
	// Output: 100 350 [100 150 200 250 300 350]
}
