package glare

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"lampswap/photometry/room"
)

// The heights of eyes, m. Common practice, as EN 12464-1 and CIE 117 have them, from memory.
const (
	Seated   = 1.2
	Standing = 1.7
)

// elbow is how far an observer at a wall keeps from racks at its sides, m, if there is room. Our choice.
const elbow = 0.3

// A wall is a stretch of the room's plan, from one corner to the next, and the direction inward.
type wall struct {
	from, to, inward room.Vec
	name             string
}

// ByRule returns observers in the middle of each wall, at it, who look square away from it, seated and standing. Where a rack stands in the
// middle an observer is moved along the wall to the nearest free place, and left out if there is none. Eyes that a room is too low for are
// left out too.
func ByRule(r room.Room, racks []room.Rack) []Observer {
	var all []Observer
	for _, w := range wallsOf(r) {
		for _, eye := range []struct {
			height float64
			words  string
		}{{Seated, "seated"}, {Standing, "standing"}} {
			if eye.height >= r.Height {
				continue
			}
			if at, ok := w.free(racks, eye.height); ok {
				all = append(all, Observer{Name: w.name + ", " + eye.words, Eye: at.Snap(), Looking: w.inward.Azimuth()})
			}
		}
	}
	return all
}

// wallsOf are the walls of a room in order; corners on a straight wall part none.
func wallsOf(r room.Room) []wall {
	corners := []room.Vec(r.Outline)
	if corners == nil {
		corners = []room.Vec{{}, {X: r.Length}, {X: r.Length, Y: r.Width}, {Y: r.Width}}
	}
	n, twice := len(corners), 0.0
	direction := func(i int) room.Vec {
		along := corners[(i+1)%n].Sub(corners[i%n])
		return along.Scale(1 / along.Length())
	}
	turns := make([]int, 0, n) // the corners that part walls
	for i, a := range corners {
		b := corners[(i+1)%n]
		twice += a.X*b.Y - b.X*a.Y
		if direction(i+n-1).Dot(direction(i)) < 0.5 {
			turns = append(turns, i)
		}
	}
	all := make([]wall, len(turns))
	for k, i := range turns {
		along := direction(i).Scale(math.Copysign(1, twice)) // the inside is to the left of a way round counter-clockwise
		all[k] = wall{corners[i], corners[turns[(k+1)%len(turns)]], room.Vec{X: -along.Y + 0, Y: along.X + 0}, fmt.Sprintf("wall %d", k+1)}
		if r.Outline == nil {
			all[k].name = rectangular[k]
		}
	}
	return all
}

// rectangular are the walls of a room without an outline, in order.
var rectangular = [4]string{"wall y = 0", "wall x = length", "wall y = width", "wall x = 0"}

// free is the place nearest to the wall's middle where no rack is at a height.
func (w wall) free(racks []room.Rack, height float64) (at room.Vec, ok bool) {
	const inside = 1e-3 // m, before the wall: what stands on it is in the way
	along := w.to.Sub(w.from)
	length := along.Length()
	along = along.Scale(1 / length)
	place := func(t, off float64) room.Vec {
		p := w.from.Add(along.Scale(t)).Add(w.inward.Scale(off))
		p.Z = height
		return p
	}
	taken := [][2]float64{}
	for _, k := range racks {
		low, high := k.Corner.Sub(w.from).Dot(along), k.Far().Sub(w.from).Dot(along)
		low, high = min(low, high), max(low, high)
		if middle := place((max(low, 0)+min(high, length))/2, inside); high > 0 && low < length && k.Contains(middle) {
			taken = append(taken, [2]float64{low, high})
		}
	}
	slices.SortFunc(taken, func(a, b [2]float64) int { return cmp.Compare(a[0], b[0]) })
	best, from := math.NaN(), 0.0
	for _, t := range append(taken, [2]float64{length, length}) {
		if t[0] > from {
			if x := nearest(from, t[0], length); !(math.Abs(x-length/2) >= math.Abs(best-length/2)) {
				best = x
			}
		}
		from = max(from, t[1])
	}
	return place(best, 0), !math.IsNaN(best)
}

// nearest is the place of a free stretch that is nearest to the middle of a wall, an elbow off the ends of the stretch that are no ends of the
// wall, or its own middle if it is too short.
func nearest(from, to, length float64) float64 {
	low, high := from, to
	if from > 0 {
		low += elbow
	}
	if to < length {
		high -= elbow
	}
	if low > high {
		return (from + to) / 2
	}
	return min(max(length/2, low), high)
}
