package place_test

import (
	"fmt"

	"gonum.org/v1/plot/vg"

	"lampswap/plots/internal/place"
)

// Three labels, each 10 pt high, that would lie on each other.
func Example() {
	middles, ok := place.Spread([]vg.Length{40, 42, 80}, []vg.Length{10, 10, 10}, 0, 100)
	fmt.Println(middles, ok)
	// Output: [40 50 80] true
}
