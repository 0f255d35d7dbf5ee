package interreflect

import (
	"math"
	"slices"

	"lampswap/photometry/room"
)

// A nook is the space between two parallel sides that face each other closely: light dies away in it within a
// few times its depth, which patches of the usual size would even out.
type nook struct {
	room.Box
	across axis
	depth  float64 // m, along that axis
}

const (
	perDepth = 3.0 // patches to the depth of a nook
	finest   = 0.2 // of a patch: what a nook may make of it
	endReach = 3.0 // times its depth: how far into a nook light comes from the ends that it has in plan
)

// findNooks finds the nooks between racks, and between racks and walls, that the usual patches are too large
// for; also those above and below racks that hang.
func (e *Enclosure) findNooks() []nook {
	const thick = 1 // m, of a wall
	far := room.Vec{X: e.room.Length, Y: e.room.Width, Z: e.room.Height}
	boxes := []room.Box{
		{Low: room.Vec{X: -thick}, High: room.Vec{Y: far.Y, Z: far.Z}},
		{Low: room.Vec{X: far.X}, High: room.Vec{X: far.X + thick, Y: far.Y, Z: far.Z}},
		{Low: room.Vec{Y: -thick}, High: room.Vec{X: far.X, Z: far.Z}},
		{Low: room.Vec{Y: far.Y}, High: room.Vec{X: far.X, Y: far.Y + thick, Z: far.Z}},
	}
	walls := len(boxes)
	for i := range e.racks {
		boxes = append(boxes, room.Box{Low: e.racks[i].Corner, High: e.racks[i].Far()})
	}
	// between neighbors in plan, and over one another where one hangs
	deepest := perDepth * e.options.Patch
	var all []nook
	add := func(a, b *room.Box, across axis) {
		for _, pair := range [2][2]*room.Box{{a, b}, {b, a}} {
			if n, ok := between(pair[0], pair[1], across); ok && n.depth < deepest {
				all = append(all, n)
			}
		}
	}
	hangs := func(box int) bool { return box >= walls && e.racks[box-walls].Hangs() }
	room.Sweep(boxes, deepest, func(i, j int) {
		if j < walls {
			return
		}
		add(&boxes[i], &boxes[j], axisX)
		add(&boxes[i], &boxes[j], axisY)
		if hangs(i) || hangs(j) {
			add(&boxes[i], &boxes[j], axisZ)
		}
	})
	// below and above those that hang
	ground := room.Box{Low: room.Vec{Z: -thick}, High: room.Vec{X: far.X, Y: far.Y}}
	roof := room.Box{Low: room.Vec{Z: far.Z}, High: room.Vec{X: far.X, Y: far.Y, Z: far.Z + thick}}
	for i := range boxes {
		if hangs(i) {
			add(&ground, &boxes[i], axisZ)
			add(&boxes[i], &roof, axisZ)
		}
	}
	return all
}

// between returns the space from the high side of one box to the low side of another.
func between(a, b *room.Box, across axis) (nook, bool) {
	depth := along(b.Low, across) - along(a.High, across)
	low := room.Vec{X: max(a.Low.X, b.Low.X), Y: max(a.Low.Y, b.Low.Y), Z: max(a.Low.Z, b.Low.Z)}
	high := room.Vec{X: min(a.High.X, b.High.X), Y: min(a.High.Y, b.High.Y), Z: min(a.High.Z, b.High.Z)}
	n := nook{room.Box{Low: low, High: high}, across, depth}
	n.Low = n.Low.Add(unit(across).Scale(along(a.High, across) - along(n.Low, across)))
	n.High = n.High.Add(unit(across).Scale(along(b.Low, across) - along(n.High, across)))
	return n, depth > touching && n.High.X > n.Low.X && n.High.Y > n.Low.Y && n.High.Z > n.Low.Z
}

// A reach is a stretch of a side in which patches are no longer than a limit, m.
type reach struct{ from, to, limit float64 }

// reaches returns the stretches along an axis of a face in which nooks want finer patches: all the way up
// them and across them, and near their ends in plan.
func (e *Enclosure) reaches(f *face, a axis, low, far room.Vec) []reach {
	var all []reach
	other := f.u + f.v - a
	for _, n := range e.nooks {
		if along(n.Low, f.normal) > f.at+touching || along(n.High, f.normal) < f.at-touching ||
			along(n.Low, other) >= along(far, other)-touching || along(n.High, other) <= along(low, other)+touching {
			continue
		}
		from, to := max(along(n.Low, a), along(low, a)), min(along(n.High, a), along(far, a))
		if to-from < touching {
			continue
		}
		limit := max(n.depth/perDepth, finest*e.options.Patch)
		if limit >= e.options.Patch {
			continue
		}
		if end := endReach * n.depth; a != n.across && a != axisZ && to-from > 2*end {
			all = append(all, reach{from, from + end, limit}, reach{to - end, to, limit})
			continue
		}
		all = append(all, reach{from, to, limit})
	}
	return all
}

// limit returns the longest patch that reaches allow between two places.
func limit(reaches []reach, from, to, patch float64) float64 {
	for _, r := range reaches {
		if min(to, r.to)-max(from, r.from) > (to-from)/2 {
			patch = min(patch, r.limit)
		}
	}
	return patch
}

// sorted puts borders in order, those that all but coincide once.
func sorted(stops []float64) []float64 {
	slices.Sort(stops)
	return slices.CompactFunc(stops, func(x, y float64) bool { return math.Abs(x-y) < touching })
}
