package hall_test

import (
	"fmt"

	"lampswap/photometry"
	"lampswap/photometry/internal/hall"
)

func Example() {
	r := hall.Room(1)
	strip, err := hall.Strip()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f by %.0f ft, %d racks, strips of %.0f lm\n", r.Length/photometry.Foot, r.Width/photometry.Foot, len(hall.Racks(20)), strip.Distribution.Flux())
	// Output:
	// 400 by 250 ft, 20 racks, strips of 11798 lm
}
