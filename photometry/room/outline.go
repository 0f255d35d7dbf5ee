package room

import (
	"math"
	"slices"
)

// An Outline is the plan of a room that is no rectangle: the corners of a polygon in order, either way round,
// m. Its sides run along x and y in turn or straight on, none crosses or touches another but the two beside
// it, and no place is below 0.
type Outline []Vec

// sides goes over the walls in order, each from one corner to the next.
func (o Outline) sides(yield func(a, b Vec) bool) {
	for i, a := range o {
		if !yield(a, o[(i+1)%len(o)]) {
			return
		}
	}
}

// Area returns the area that the outline holds, m², by the shoelace formula.
func (o Outline) Area() float64 {
	twice := 0.0
	for a, b := range o.sides {
		twice += a.X*b.Y - b.X*a.Y
	}
	return math.Abs(twice) / 2
}

// Perimeter returns the length of all walls, m.
func (o Outline) Perimeter() float64 {
	sum := 0.0
	for a, b := range o.sides {
		sum += math.Abs(b.X-a.X) + math.Abs(b.Y-a.Y)
	}
	return sum
}

// Extent returns the largest x and y of the corners, m.
func (o Outline) Extent() (x, y float64) {
	for _, c := range o {
		x, y = max(x, c.X), max(y, c.Y)
	}
	return x, y
}

// Holds tells whether a place in plan lies in the outline, on a wall included.
func (o Outline) Holds(p Vec) bool {
	inside := false
	for a, b := range o.sides {
		if p.X >= min(a.X, b.X) && p.X <= max(a.X, b.X) && p.Y >= min(a.Y, b.Y) && p.Y <= max(a.Y, b.Y) {
			return true
		}
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X { // a wall along y, beyond the place
			inside = !inside
		}
	}
	return inside
}

// Area returns the area of the floor, m².
func (r Room) Area() float64 {
	if r.Outline == nil {
		return r.Length * r.Width
	}
	return r.Outline.Area()
}

// Perimeter returns the length of all walls, m.
func (r Room) Perimeter() float64 {
	if r.Outline == nil {
		return 2 * (r.Length + r.Width)
	}
	return r.Outline.Perimeter()
}

// Holds tells whether a place in plan lies in the room, on a wall included.
func (r Room) Holds(p Vec) bool {
	if r.Outline == nil {
		return p.X >= 0 && p.Y >= 0 && p.X <= r.Length && p.Y <= r.Width
	}
	return r.Outline.Holds(p)
}

// Rectangle returns the sides of the rectangle that has the room's area and perimeter, m, and so its cavity
// ratios
//
//	5 h (L + W) / (L W) = 2.5 h P / A
//
// There is one for every room, as no plan with sides along x and y has less perimeter than the square of its
// area. Source: our derivation.
func (r Room) Rectangle() (length, width float64) {
	if r.Outline == nil {
		return r.Length, r.Width
	}
	half, area := r.Perimeter()/4, r.Area()
	off := math.Sqrt(max(0, half*half-area))
	return half + off, area / (half + off)
}

// Outside returns blocks of full height with the walls' reflectance that fill what of length by width lies
// outside the outline, so that their sides are its walls. There are none of a room without an outline.
func (r Room) Outside() []Rack {
	if r.Outline == nil {
		return nil
	}
	// cells between all corners
	xs, ys := []float64{0, r.Length}, []float64{0, r.Width}
	for _, c := range r.Outline {
		xs, ys = append(xs, c.X), append(ys, c.Y)
	}
	slices.Sort(xs)
	slices.Sort(ys)
	xs, ys = slices.Compact(xs), slices.Compact(ys)
	free := func(ix, iy int) bool {
		return !r.Outline.Holds(Vec{X: (xs[ix] + xs[ix+1]) / 2, Y: (ys[iy] + ys[iy+1]) / 2})
	}
	// those outside, joined by rows or by columns, whichever are fewer
	rows := merged(len(xs)-1, len(ys)-1, free)
	columns := merged(len(ys)-1, len(xs)-1, func(iy, ix int) bool { return free(ix, iy) })
	byRows := len(rows) <= len(columns)
	if !byRows {
		rows = columns
	}
	var all []Rack
	for _, b := range rows {
		if !byRows {
			b = block{b.v0, b.v1, b.u0, b.u1}
		}
		low := Vec{X: xs[b.u0], Y: ys[b.v0]}
		size := Vec{X: xs[b.u1], Y: ys[b.v1], Z: r.Height}.Sub(low)
		all = append(all, Rack{Corner: low, Size: size, Reflectance: r.Reflectance.Walls, Outside: true})
	}
	return all
}

// A block is a rectangle of cells: columns u0 to u1-1, rows v0 to v1-1.
type block struct{ u0, u1, v0, v1 int }

// merged joins the cells for which a function asks: those side by side in a row, and such stretches that are
// alike from row to row.
func merged(columns, rows int, wanted func(u, v int) bool) []block {
	var all []block
	for v := range rows {
		for u := 0; u < columns; u++ {
			if !wanted(u, v) {
				continue
			}
			b := block{u, u + 1, v, v + 1}
			for b.u1 < columns && wanted(b.u1, v) {
				b.u1++
			}
			u = b.u1
			alike := func(a block) bool { return a.u0 == b.u0 && a.u1 == b.u1 && a.v1 == v }
			if i := slices.IndexFunc(all, alike); i >= 0 {
				all[i].v1++
			} else {
				all = append(all, b)
			}
		}
	}
	return all
}

// Boxes returns all that stands in the way of light in a room: the racks, and what is outside its outline.
func (r Room) Boxes(racks []Rack) []Rack {
	if r.Outline == nil {
		return racks
	}
	return slices.Concat(racks, r.Outside())
}

// Spread places luminaires evenly over what an area, a box in plan, has of the outline: in rows about as far
// apart as the luminaires in them, each with as many as its length in the room calls for. There are none
// where the area has nothing of the outline.
func (o Outline) Spread(area Box, luminaires int, height, rotation float64) []Placement {
	low, high, longest, inside := o.within(area)
	if inside == 0 {
		return nil
	}
	rows := min(max(1, int(math.Round((high-low)/math.Sqrt(inside/float64(luminaires))))), luminaires)
	type stretch struct{ y, from, to float64 }
	var all []stretch
	sum := 0.0
	add := func(y float64) {
		for _, s := range o.stretches(area, y) {
			all, sum = append(all, stretch{y, s[0], s[1]}), sum+s[1]-s[0]
		}
	}
	for j := range rows {
		add(low + (float64(j)+0.5)*(high-low)/float64(rows))
	}
	if sum == 0 { // the middle of the area lies outside
		add(longest)
	}
	var places []Placement
	along := 0.0
	for _, s := range all {
		along += s.to - s.from
		n := int(math.Round(float64(luminaires)*along/sum)) - len(places)
		for i := range n {
			x := s.from + (float64(i)+0.5)*(s.to-s.from)/float64(n)
			places = append(places, Placement{Vec{x, s.y, height}, rotation})
		}
	}
	return places
}

// within returns about between which y the outline has a part of an area, at which y most of it, and how much
// in all, m².
func (o Outline) within(area Box) (low, high, longest, inside float64) {
	const lines = 200 // along x that are looked at
	step, most := (area.High.Y-area.Low.Y)/lines, 0.0
	for j := range lines {
		y, length := area.Low.Y+(float64(j)+0.5)*step, 0.0
		for _, s := range o.stretches(area, y) {
			length += s[1] - s[0]
		}
		if length == 0 {
			continue
		}
		if inside == 0 {
			low = y - step/2
		}
		high, inside = y+step/2, inside+length*step
		if length > most {
			longest, most = y, length
		}
	}
	return low, high, longest, inside
}

// stretches returns what of a line along x, y from the origin, lies in the outline and in a box in plan.
func (o Outline) stretches(area Box, y float64) [][2]float64 {
	var xs []float64
	for a, b := range o.sides {
		if (a.Y > y) != (b.Y > y) {
			xs = append(xs, a.X)
		}
	}
	slices.Sort(xs)
	var all [][2]float64
	for i := 0; i+1 < len(xs); i += 2 {
		if from, to := max(xs[i], area.Low.X), min(xs[i+1], area.High.X); from < to {
			all = append(all, [2]float64{from, to})
		}
	}
	return all
}

// Crossing returns the first two sides, by the numbers of the corners at which they begin, that have a place
// in common: of neighbors more than the corner between them. ok is false where none have, as must be of the
// outline of a room.
func (o Outline) Crossing() (i, j int, ok bool) {
	n := len(o)
	for i := range n {
		for j := i + 1; j < n; j++ {
			a, b, c, d := o[i], o[i+1], o[j], o[(j+1)%n]
			low := Vec{X: max(min(a.X, b.X), min(c.X, d.X)), Y: max(min(a.Y, b.Y), min(c.Y, d.Y))}
			high := Vec{X: min(max(a.X, b.X), max(c.X, d.X)), Y: min(max(a.Y, b.Y), max(c.Y, d.Y))}
			beside := j == i+1 || i == 0 && j == n-1
			if low.X <= high.X && low.Y <= high.Y && (!beside || low != high) {
				return i, j, true
			}
		}
	}
	return 0, 0, false
}
