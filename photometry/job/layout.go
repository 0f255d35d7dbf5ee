package job

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"lampswap/photometry/internal/tomlfile"
	"lampswap/photometry/room"
)

// layout reads where the luminaires hang. It returns nil if the table is absent or wrong.
func (r *reader) layout(t *tomlfile.Table, roomGood bool) *Layout {
	if !t.Exists() {
		return nil
	}
	defer t.Done()
	return r.hung(t, roomGood, r.wholeRoom(), false)
}

// wholeRoom is the room in plan.
func (r *reader) wholeRoom() room.Box {
	return room.Box{High: room.Vec{X: r.job.Room.Length, Y: r.job.Room.Width}}
}

// hung reads how high luminaires hang and where: rows and columns within an area, positions, or, where that is allowed, a count alone.
func (r *reader) hung(t *tomlfile.Table, roomGood bool, area room.Box, counted bool) *Layout {
	l, good := &Layout{}, roomGood
	var ok bool
	if word, ok := t.Word("lamps_along", "length", "width"); ok {
		l.LampsAlongY = word == "width"
	} else if !t.Has("lamps_along") {
		r.default_(t, "lamps_along", strconv.Quote("length"), "lamps parallel to the room's length")
	}
	rotation := 0.0
	if l.LampsAlongY {
		rotation = math.Pi / 2
	}
	if l.MountingHeight, ok = r.meters(t, "mounting_height", r.mostMounting(roomGood)); !ok {
		good = false
	} else if roomGood && l.MountingHeight <= r.job.Room.WorkPlane {
		t.Fault("mounting_height", "is not above the work plane", "more than "+r.show(r.job.Room.WorkPlane))
		good = false
	}
	switch {
	case t.Has("positions"):
		good = r.positions(t, l, rotation, roomGood, ok) && roomGood && (good || !t.Has("mounting_height"))
	case counted && !t.Has("rows") && !t.Has("columns"):
		r.needHeight(t)
		good = r.spread(t, l, area, rotation, good) && good
	default:
		r.needHeight(t)
		good = r.lattice(t, l, area, rotation, good) && good
	}
	if !good {
		return nil
	}
	r.holds(t, l)
	r.clearOfRacks(t, l)
	return l
}

// mostMounting is how high a luminaire may hang, m.
func (r *reader) mostMounting(roomGood bool) float64 {
	if roomGood {
		return r.job.Room.Height
	}
	return mostHeight
}

func (r *reader) needHeight(t *tomlfile.Table) {
	r.need(t, "mounting_height", "the height of the lamps above the floor")
}

// spread reads a number of luminaires and spreads them evenly over an area.
func (r *reader) spread(t *tomlfile.Table, l *Layout, area room.Box, rotation float64, good bool) bool {
	n, ok := t.Count("count", 1, mostPlaces)
	r.need(t, "count", "how many luminaires, spread evenly; or rows and columns, or positions = [[x, y], ...]")
	if !ok || !good {
		return ok
	}
	if o := r.job.Room.Outline; o != nil {
		return r.spreadIn(t, l, o, area, n, rotation)
	}
	counts := room.EvenRows(area, n)
	l.Placements = room.RowsIn(area, counts, l.MountingHeight, rotation)
	over := "the room"
	if area != r.wholeRoom() {
		over = "its area"
	}
	why := "a count alone is spread evenly over " + over + ", assumed: give rows and columns, or positions, where they hang"
	if least, most := slices.Min(counts), slices.Max(counts); least < most {
		r.default_(t, "rows", strconv.Itoa(len(counts)), fmt.Sprintf("of %d and %d luminaires: %s", least, most, why))
	} else {
		r.default_(t, "rows", strconv.Itoa(len(counts)), fmt.Sprintf("with columns = %d: %s", most, why))
	}
	return true
}

func (r *reader) lattice(t *tomlfile.Table, l *Layout, area room.Box, rotation float64, good bool) bool {
	var rows, columns bool
	l.Rows, rows = t.Count("rows", 1, mostLines)
	l.Columns, columns = t.Count("columns", 1, mostLines)
	for _, key := range []string{"rows", "columns"} {
		r.need(t, key, "how many "+key+" of luminaires, or positions = [[x, y], ...]")
	}
	if l.Rows*l.Columns > mostPlaces {
		t.Fault("rows", fmt.Sprintf("makes %d luminaires", l.Rows*l.Columns), fmt.Sprintf("at most %d", mostPlaces))
		return false
	}
	if rows && columns && good {
		l.Placements = room.RowsIn(area, slices.Repeat([]int{l.Columns}, l.Rows), l.MountingHeight, rotation)
		if area != r.wholeRoom() {
			l.Rows, l.Columns = 0, 0 // not those of the room, by which spacing is judged
		}
	}
	return rows && columns
}

// positions reads places of two to four numbers: x, y, the rotation, the height. height tells that there is a mounting height for those that
// have none of their own.
func (r *reader) positions(t *tomlfile.Table, l *Layout, rotation float64, roomGood, height bool) bool {
	alone := true
	for _, key := range []string{"rows", "columns"} {
		if t.Has(key) {
			t.Count(key, 1, mostLines)
			t.Fault(key, "stands beside positions", "either rows and columns or positions")
			alone = false
		}
	}
	x, y := tomlfile.Any, tomlfile.Any
	if roomGood {
		x, y = r.within(r.job.Room.Length), r.within(r.job.Room.Width)
	}
	lists, ok := t.NumberLists("positions", mostPlaces, 2, x, y, tomlfile.Between(-360, 360), r.lengths(0, r.mostMounting(roomGood)))
	own := 0
	for i, p := range lists {
		if len(p) < 4 {
			continue
		}
		own++
		if plane := r.job.Room.WorkPlane; ok && roomGood && p[3]*r.unit() <= plane {
			t.Fault(fmt.Sprintf("positions[%d][3]", i), "is not above the work plane", "more than "+r.show(plane))
			alone = false
		}
	}
	if own < len(lists) || own == 0 {
		r.needHeight(t)
	} else if height {
		r.warn(t, "mounting_height counts for nothing: each position has a height of its own")
	}
	if !ok || own < len(lists) && !height {
		return false
	}
	for _, p := range lists {
		place := room.Placement{Position: room.Vec{X: p[0] * r.unit(), Y: p[1] * r.unit(), Z: l.MountingHeight}, Rotation: rotation}
		if len(p) > 2 {
			place.Rotation = p[2] * math.Pi / 180
		}
		if len(p) > 3 {
			place.Position.Z = p[3] * r.unit()
		}
		l.Placements = append(l.Placements, place)
	}
	r.heights(t, l)
	return alone
}

// heights settles the mean of heights that differ, which the lumen method takes, and says what that leaves out.
func (r *reader) heights(t *tomlfile.Table, l *Layout) {
	low, high := l.Heights()
	if l.MountingHeight = low; low == high {
		return
	}
	sum := 0.0
	for _, p := range l.Placements {
		sum += p.Position.Z
	}
	l.MountingHeight = min(max(sum/float64(len(l.Placements)), low), high)
	r.warn(t, "the luminaires hang at heights from %s to %s %s: the lumen method takes their mean, %s, and a pitched ceiling counts as flat, at the room's height of %s",
		r.show(low), r.show(high), map[bool]string{true: "ft", false: "m"}[r.job.Imperial], r.show(l.MountingHeight), r.show(r.job.Room.Height))
}

// within is the rule for a coordinate inside the room, walls included.
func (r *reader) within(extent float64) tomlfile.Rule {
	u := r.unit()
	return tomlfile.Rule{Want: fmt.Sprintf("a place in the room, from 0 to %.5g", extent/u),
		Holds: func(x float64) bool { return x >= 0 && x*u <= extent+slack }}
}

func (r *reader) clearOfRacks(t *tomlfile.Table, l *Layout) {
	low, high := l.Heights()
	key := "mounting_height"
	if low < high || !t.Has(key) {
		key = "positions"
	}
	for _, rack := range r.job.Racks {
		far := rack.Far()
		if far.Z <= low || rack.Corner.Z >= high {
			continue
		}
		for i, p := range l.Placements { // x alone first, which is quick: 10,000 racks with 100,000 luminaires are a billion pairs
			if x := p.Position.X; x > rack.Corner.X && x < far.X && rack.Contains(p.Position.Snap()) {
				wrong, want := fmt.Sprintf("puts luminaire %d inside a rack %s high", i+1, r.show(rack.Size.Z)), "luminaires above the racks or between them"
				if rack.Hangs() {
					wrong = fmt.Sprintf("puts luminaire %d inside a box that hangs from %s to %s", i+1, r.show(rack.Corner.Z), r.show(far.Z))
					want = "luminaires above, below or beside it"
				}
				t.Fault(key, wrong, want)
				return
			}
		}
	}
}
