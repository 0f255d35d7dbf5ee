package room

// A Placement is where a luminaire's photometric centre hangs, m, and how its lamp axis is turned from +x, rad.
type Placement struct {
	Position Vec
	Rotation float64
}

// Lattice places rows along y by columns along x, evenly spaced and half a spacing from the walls, at one height above the floor, m,
// and one rotation of the lamp axis from +x, rad. The placements go through the first row, then the second, and so on.
func (r Room) Lattice(rows, columns int, height, rotation float64) []Placement {
	placements := make([]Placement, 0, rows*columns)
	for j := range rows {
		y := (float64(j) + 0.5) * r.Width / float64(rows)
		for i := range columns {
			x := (float64(i) + 0.5) * r.Length / float64(columns)
			placements = append(placements, Placement{Vec{x, y, height}, rotation})
		}
	}
	return placements
}
