package palette_test

import (
	"fmt"

	"lampswap/plots/internal/palette"
)

// Bands from dim to bright take equal steps of lightness.
func Example() {
	for _, c := range palette.Light(4) {
		fmt.Printf("#%02x%02x%02x L* %.0f\n", c.R, c.G, c.B, palette.Lightness(c))
	}
	// Output:
	// #96b194 L* 70
	// #bec896 L* 79
	// #e4dea4 L* 88
	// #fbf6db L* 97
}
