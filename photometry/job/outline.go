package job

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"

	"lampswap/photometry/internal/tomlfile"
	"lampswap/photometry/room"
)

const (
	leastCorners = 4
	mostCorners  = 200
)

// extent reads the room's length and width: those that it gives, or what its outline reaches.
func (r *reader) extent(t *tomlfile.Table) (okLength, okWidth bool) {
	rm := &r.job.Room
	rm.Length, okLength = r.meters(t, "length", mostLength)
	rm.Width, okWidth = r.meters(t, "width", mostLength)
	if !t.Has("outline") {
		return okLength, okWidth
	}
	x, y := r.within(mostLength), r.within(mostLength)
	if okLength {
		x = r.within(rm.Length)
	}
	if okWidth {
		y = r.within(rm.Width)
	}
	corners, ok := t.NumberLists("outline", mostCorners, 2, x, y)
	if !ok {
		return false, false
	}
	var o room.Outline
	for _, c := range corners {
		o = append(o, room.Vec{X: c[0] * r.unit(), Y: c[1] * r.unit()}.Snap())
	}
	if !r.encloses(t, o) {
		return false, false
	}
	rm.Outline = o
	length, width := o.Extent()
	for _, side := range []struct {
		key    string
		meters *float64
		ok     *bool
		most   float64
		axis   string
	}{{"length", &rm.Length, &okLength, length, "x"}, {"width", &rm.Width, &okWidth, width, "y"}} {
		switch {
		case !t.Has(side.key):
			*side.meters, *side.ok = side.most, true
			r.default_(t, side.key, r.show(side.most), "the largest "+side.axis+" of the outline")
		case *side.ok && *side.meters > side.most+slack:
			r.warn(t, "%s is %s, and the outline ends at %s = %s: what lies beyond is outside", side.key, r.show(*side.meters), side.axis, r.show(side.most))
		}
	}
	return okLength, okWidth
}

// encloses tells whether corners make the plan of a room, and notes where they do not.
func (r *reader) encloses(t *tomlfile.Table, o room.Outline) bool {
	if len(o) < leastCorners {
		t.Fault("outline", fmt.Sprintf("has %d corners", len(o)), "at least 4, in order along the walls: [[x, y], ...]")
		return false
	}
	key := func(i int) string { return fmt.Sprintf("outline[%d]", i) }
	good := true
	fault := func(i int, wrong, want string) {
		t.Fault(key(i), wrong, want)
		good = false
	}
	last := len(o) - 1
	for i, c := range o {
		first := slices.Index(o, c)
		switch before := o[(i+last)%len(o)]; {
		case i == last && first == 0:
			fault(i, "repeats the first corner", "each corner once: the outline closes by itself")
		case first < i:
			fault(i, "is the same corner as "+key(first), "each corner once")
		case i > 0 && c.X != before.X && c.Y != before.Y:
			fault(i, "lies askew of the corner before it", fmt.Sprintf("a wall along x or y: x = %s or y = %s", r.show(before.X), r.show(before.Y)))
		case i == last && c.X != o[0].X && c.Y != o[0].Y:
			fault(i, "lies askew of the first corner, to which the last wall goes", fmt.Sprintf("a wall along x or y: x = %s or y = %s", r.show(o[0].X), r.show(o[0].Y)))
		}
	}
	if !good {
		return false
	}
	if i, j, crosses := o.Crossing(); crosses {
		fault(j, "begins a wall that meets the one from "+key(i), "walls that meet at their corners alone")
		return false
	}
	return r.apart(t, o)
}

// apart tells whether no two walls all but coincide, and whether there is room between them.
func (r *reader) apart(t *tomlfile.Table, o room.Outline) bool {
	var low room.Vec
	for _, side := range []struct {
		axis string
		at   func(room.Vec) float64
		low  *float64
	}{{"x", func(c room.Vec) float64 { return c.X }, &low.X}, {"y", func(c room.Vec) float64 { return c.Y }, &low.Y}} {
		order := make([]int, len(o))
		for i := range order {
			order[i] = i
		}
		slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(side.at(o[i]), side.at(o[j])) })
		*side.low = side.at(o[order[0]])
		for n := 1; n < len(order); n++ {
			if gap := side.at(o[order[n]]) - side.at(o[order[n-1]]); gap > 0 && gap < thinnestRack {
				i, j := order[n], order[n-1]
				t.Fault(fmt.Sprintf("outline[%d]", max(i, j)), fmt.Sprintf("has all but the same %s as outline[%d]", side.axis, min(i, j)), "the same, or "+r.leastSide()+" from it")
				return false
			}
		}
	}
	if x, y := o.Extent(); min(x-low.X, y-low.Y) < leastRoom {
		t.Fault("outline", "holds too little for a room", "at least "+r.show(leastRoom)+" along x and along y")
		return false
	}
	return true
}

// shared returns the area in plan, m², that a box has inside the room's outline, and its own.
func (r *reader) shared(b room.Box) (inside, all float64) {
	area := func(b room.Box) float64 { return max(0, b.High.X-b.Low.X) * max(0, b.High.Y-b.Low.Y) }
	common := func(b, o room.Box) room.Box {
		return room.Box{Low: room.Vec{X: max(b.Low.X, o.Low.X), Y: max(b.Low.Y, o.Low.Y)}, High: room.Vec{X: min(b.High.X, o.High.X), Y: min(b.High.Y, o.High.Y)}}
	}
	inside = area(common(b, r.wholeRoom()))
	for _, k := range r.outside {
		inside -= area(common(b, room.Box{Low: k.Corner, High: k.Far()}))
	}
	return inside, area(b)
}

// spreadIn spreads a number of luminaires over what an area has of the room's outline.
func (r *reader) spreadIn(t *tomlfile.Table, l *Layout, o room.Outline, area room.Box, n int, rotation float64) bool {
	l.Placements = o.Spread(area, n, l.MountingHeight, rotation)
	if len(l.Placements) < n {
		t.Fault("area", "has nothing of the room's outline", "an area in the room")
		return false
	}
	rows := 1
	for i := 1; i < n; i++ {
		if l.Placements[i].Position.Y != l.Placements[i-1].Position.Y {
			rows++
		}
	}
	over := "the room"
	if area != r.wholeRoom() {
		over = "what its area has of the room"
	}
	r.default_(t, "rows", strconv.Itoa(rows), "a count alone is spread evenly over "+over+", in rows of as many as the outline leaves room for, assumed: give positions, where they hang")
	return true
}

// holds refuses luminaires outside the room's outline.
func (r *reader) holds(t *tomlfile.Table, l *Layout) {
	if r.job.Room.Outline == nil {
		return
	}
	var out []int
	for i, p := range l.Placements {
		if !r.job.Room.Holds(p.Position.Snap()) {
			out = append(out, i)
		}
	}
	if len(out) == 0 {
		return
	}
	if t.Has("positions") {
		for _, i := range out[:min(len(out), mostTold)] {
			t.Fault(fmt.Sprintf("positions[%d]", i), "is outside the room's outline", "a place inside it")
		}
		return
	}
	at := l.Placements[out[0]].Position
	more := ""
	if n := len(out) - 1; n > 0 {
		more = fmt.Sprintf(" and %d more", n)
	}
	want := "positions = [[x, y], ...] of those that hang there"
	if r.grouped {
		want = "an area that the outline holds, a group for each, or " + want
	} else {
		want += ", or [[groups]] with an area each"
	}
	t.Fault("rows", fmt.Sprintf("put luminaire %d, at [%s, %s],%s outside the room's outline", out[0]+1, r.show(at.X), r.show(at.Y), more), want)
}

// mostTold is how many places alike are told one by one.
const mostTold = 20
