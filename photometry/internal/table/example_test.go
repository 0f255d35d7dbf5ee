package table_test

import (
	"fmt"

	"lampswap/photometry/internal/table"
)

// A table is a CSV text beside the code that reads it, with a source in every row.
func Example() {
	const lamps = `name,watts,source,confidence
F32T8,32,"data sheet, page 2",seen
F34T12,34,recalled,memory-moderate
`
	for _, row := range table.Load("lamps", lamps, "name", "watts", "source", "confidence") {
		fmt.Printf("%s: %g W; unverified: %v\n", row.Required("name"), row.Number("watts"), table.FromMemory(row.Confidence("confidence")))
	}
	// Output:
	// F32T8: 32 W; unverified: false
	// F34T12: 34 W; unverified: true
}
