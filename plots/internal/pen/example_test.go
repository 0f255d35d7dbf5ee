package pen_test

import (
	"fmt"

	"lampswap/plots/internal/pen"
)

// A caption is broken into lines of at most 120 pt.
func Example() {
	block := pen.NewBlock(pen.Small, pen.Soft, "Maintained illuminance of the work plane, racks left out", 120)
	for _, line := range block.Lines {
		fmt.Printf("%s (%.0f pt)\n", line, pen.Width(pen.Small, line).Points())
	}
	// Output:
	// Maintained illuminance of the work (115 pt)
	// plane, racks left out (65 pt)
}
