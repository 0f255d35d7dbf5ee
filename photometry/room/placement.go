package room

import "math"

// A Placement is where a luminaire's photometric centre hangs, m, and how its lamp axis is turned from +x,
// rad.
type Placement struct {
	Position Vec
	Rotation float64
}

// Lattice places rows along y by columns along x, evenly spaced and half a spacing from the walls, at one
// height above the floor, m, and one rotation of the lamp axis from +x, rad. The placements go through the
// first row, then the second, and so on.
func (r Room) Lattice(rows, columns int, height, rotation float64) []Placement {
	counts := make([]int, rows)
	for j := range counts {
		counts[j] = columns
	}
	return RowsIn(Box{High: Vec{X: r.Length, Y: r.Width}}, counts, height, rotation)
}

// RowsIn places rows along y with a number of luminaires each along x, as Lattice does, between the sides of
// a box in plan.
func RowsIn(area Box, counts []int, height, rotation float64) []Placement {
	var placements []Placement
	length, width := area.High.X-area.Low.X, area.High.Y-area.Low.Y
	for j, n := range counts {
		y := area.Low.Y + (float64(j)+0.5)*width/float64(len(counts))
		for i := range n {
			x := area.Low.X + (float64(i)+0.5)*length/float64(n)
			placements = append(placements, Placement{Vec{x, y, height}, rotation})
		}
	}
	return placements
}

// EvenRows returns how many luminaires each row has where some are spread evenly over a box in plan: rows
// about as far apart as the luminaires in them, and as nearly alike as their number lets them.
func EvenRows(area Box, luminaires int) []int {
	length, width := area.High.X-area.Low.X, area.High.Y-area.Low.Y
	rows := min(max(1, int(math.Round(math.Sqrt(float64(luminaires)*width/length)))), luminaires)
	for _, n := range []int{rows, rows + 1, rows - 1} { // rows that are all alike, if there are such
		if n >= 1 && luminaires%n == 0 {
			rows = n
			break
		}
	}
	counts := make([]int, rows)
	for j := range counts {
		counts[j] = (j+1)*luminaires/rows - j*luminaires/rows
	}
	return counts
}
