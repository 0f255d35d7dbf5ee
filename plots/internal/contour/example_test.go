package contour_test

import (
	"fmt"

	"lampswap/plots/internal/contour"
)

// Light that rises by 100 lx a metre reaches 250 lx at 2.5 m. The brighter side is on the line's left.
func Example() {
	x, y := []float64{0.5, 1.5, 2.5, 3.5}, []float64{0.5, 1.5}
	values := []float64{50, 150, 250, 350, 50, 150, 250, 350} // lx, row by row
	surface := contour.New(x, y, values, contour.Rect{X1: 4, Y1: 2}, nil, 4)
	for _, line := range surface.Above(250).Lines(0.01) {
		fmt.Println(line.Points)
	}
	// Output: [{2.5 2} {2.5 0}]
}
