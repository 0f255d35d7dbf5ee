package hall_test

import (
	"fmt"

	"lampswap/photometry"
	"lampswap/photometry/internal/hall"
)

func Example() {
	r := hall.Room()
	strip, err := hall.Strip()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f by %.0f ft, %d racks, %d strips of %.0f lm\n", r.Length/photometry.Foot, r.Width/photometry.Foot, len(hall.Racks(20)), len(hall.Places()), strip.Distribution.Flux())
	// Output:
	// 432 by 240 ft, 20 racks, 405 strips of 11798 lm
}
