package levels_test

import (
	"fmt"

	"lampswap/photometry"
	"lampswap/photometry/levels"
)

// Are 27 fc enough for small items with small labels, by the handbook of 2000?
func Example() {
	level, ok := levels.Find("warehouse-active-small")
	if !ok {
		fmt.Println("no such level")
		return
	}
	const average = 27 * photometry.Footcandle // lx, maintained
	for _, c := range level.Criteria(true) {
		fmt.Printf("%s %s %g %s: met %v, margin %.0f percent\n", c.Statistic, c.Direction(), c.Required, c.Unit, c.Met(average), 100*c.Margin(average))
	}
	fmt.Println(level.Citation())
	fmt.Println(level.Caveat())
	// Output:
	// average at_least 30 fc: met false, margin -10 percent
	// IESNA Lighting Handbook, 9th ed., category D (warehousing rows), 2000
	// superseded; quoted second-hand, the source itself was not read
}

// A rule that asks for an average and for a least value at any point is two criteria.
func ExampleLevel_Criteria() {
	level, _ := levels.Find("wa-indoor-task")
	for _, c := range level.Criteria(true) {
		fmt.Println(c.Statistic, c.Direction(), c.Required, c.Unit, c.Met(7*photometry.Footcandle))
	}
	// Output:
	// average at_least 10 fc false
	// minimum at_least 5 fc true
}
