package number_test

import (
	"fmt"

	"lampswap/photometry/number"
)

// Numbers as texts have them, and as a reader of the paper finds them.
func Example() {
	fmt.Println(number.Digits(27.834), number.Signed(-0.0512, 2), number.Thousands(76000))
	fmt.Println(number.Reading(27.834), number.SignedReading(-0.0512), number.Exact(76000))
	// Output:
	// 27.8 -0.05 76,000
	// 27.8 −0.05 76,000
}
