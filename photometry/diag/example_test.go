package diag_test

import (
	"fmt"

	"lampswap/photometry/diag"
)

// A reader notes every fault and goes on.
func Example() {
	var faults diag.List
	key := "colums"
	faults.Add(diag.Pos{File: "dock.toml", Line: 14, Column: 1}, "layout."+key, "is no key",
		diag.Nearest(key, []string{"rows", "columns", "mounting_height"}))
	faults.Add(diag.Pos{File: "dock.toml", Line: 8, Column: 27}, "room.reflectance.ceiling", "1.5 is above 1", "a fraction from 0 to 1")
	fmt.Println(faults.Err())
	// Output:
	// dock.toml:8:27: room.reflectance.ceiling: 1.5 is above 1, want a fraction from 0 to 1
	// dock.toml:14:1: layout.colums: is no key, want columns
}
