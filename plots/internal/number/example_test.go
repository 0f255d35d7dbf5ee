package number_test

import (
	"fmt"

	"lampswap/plots/internal/number"
)

// Positions of ticks, and numbers as a reader of the paper finds them.
func Example() {
	fmt.Println(number.Ticks(1200, 2100, 5))
	fmt.Println(number.Reading(27.834), number.SignedReading(-0.0512), number.Money("USD", 76000, false))
	// Output:
	// [1200 1400 1600 1800 2000]
	// 27.8 −0.05 $76,000
}
