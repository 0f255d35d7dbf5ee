package room

import (
	"cmp"
	"slices"
)

// Open tells whether any point of the grid lies outside all the racks. A rack covers one run of the points of a row, or of a column where
// those are longer: this takes time with lines times racks, not with points times racks.
func (g Grid) Open(racks []Rack) bool {
	lines, points := g.NY, g.NX
	at := func(line, i int) Vec { return g.Point(i, line) }
	if lines > points {
		lines, points = points, lines
		at = g.Point
	}
	boxes := make([]Box, len(racks))
	for i, rack := range racks {
		boxes[i] = rack.inside()
	}
	var runs []run
	for line := range lines {
		first, last := at(line, 0), at(line, points-1)
		step := last.Sub(first).Scale(1 / float64(max(1, points-1)))
		runs = runs[:0]
		for _, box := range boxes {
			if r, ok := covered(box, points, first, step, func(i int) Vec { return at(line, i) }); ok {
				runs = append(runs, r)
			}
		}
		slices.SortFunc(runs, func(a, b run) int { return cmp.Compare(a.from, b.from) })
		next := 0 // the first point that is not covered yet
		for _, r := range runs {
			if r.from > next {
				break
			}
			next = max(next, r.to+1)
		}
		if next < points {
			return true
		}
	}
	return false
}

// A run is the points of a line from one to another, both in it.
type run struct{ from, to int }

// covered returns the run of a line of points that lies inside a box. A box is convex, so there is no more than one.
func covered(box Box, points int, first, step Vec, at func(i int) Vec) (r run, ok bool) {
	enter, leave := 0.0, float64(points-1)
	if !within(first.X, step.X, box.Low.X, box.High.X, &enter, &leave) || !within(first.Y, step.Y, box.Low.Y, box.High.Y, &enter, &leave) ||
		!within(first.Z, step.Z, box.Low.Z, box.High.Z, &enter, &leave) {
		return run{}, false
	}
	// Rounding may miss the ends by a point: each point itself decides.
	from, to := max(0, int(enter)-1), min(points-1, int(leave)+2)
	for from <= to && float64(from) <= enter+1 && !box.has(at(from)) {
		from++
	}
	for to >= from && float64(to) >= leave-1 && !box.has(at(to)) {
		to--
	}
	return run{from, to}, from <= to && box.has(at(from)) && box.has(at(to))
}

// within narrows the part of a line, in steps from its start, to where one of its coordinates lies between two others.
func within(start, step, low, high float64, enter, leave *float64) bool {
	if step == 0 {
		return start > low && start < high
	}
	a, b := (low-start)/step, (high-start)/step
	*enter, *leave = max(*enter, min(a, b)), min(*leave, max(a, b))
	return *enter <= *leave
}
