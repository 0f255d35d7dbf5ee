package room

// Open tells whether light may fall on any point of the grid: whether one is covered by no rack.
func (g Grid) Open(racks []Rack) bool {
	s := NewSolids(racks)
	for iy := range g.NY {
		for ix := range g.NX {
			if !s.Cover(g.Point(ix, iy)) {
				return true
			}
		}
	}
	return false
}
