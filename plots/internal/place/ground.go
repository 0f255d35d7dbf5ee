package place

import (
	"math"
	"slices"

	"gonum.org/v1/plot/vg"
)

// A Ground is the paper as far as it is taken: labels find room on it and take it.
type Ground struct {
	Frame vg.Rectangle // labels stay inside
	taken []Box
	shy   []Box
	lines [][2]vg.Point
}

// Take keeps labels off the boxes.
func (g *Ground) Take(boxes ...Box) { g.taken = append(g.taken, boxes...) }

// Avoid keeps labels off the boxes where there is other room near.
func (g *Ground) Avoid(boxes ...Box) { g.shy = append(g.shy, boxes...) }

// TakeLine keeps labels off a polyline, unless there is no other room.
func (g *Ground) TakeLine(points ...vg.Point) {
	for i := 1; i < len(points); i++ {
		g.lines = append(g.lines, [2]vg.Point{points[i-1], points[i]})
	}
}

// Free tells whether a box is inside the frame and meets nothing that is taken; lines do not count.
func (g *Ground) Free(b Box) bool {
	room := b.Grown(labelRoom)
	for _, p := range room.Corners() {
		if p.X < g.Frame.Min.X || p.X > g.Frame.Max.X || p.Y < g.Frame.Min.Y || p.Y > g.Frame.Max.Y {
			return false
		}
	}
	return !slices.ContainsFunc(g.taken, room.Overlaps)
}

// Crossings returns how many pieces of line run through a box.
func (g *Ground) Crossings(b Box) int {
	room, n := b.Grown(labelRoom), 0
	for _, l := range g.lines {
		if room.CrossedBy(l[0], l[1]) {
			n++
		}
	}
	return n
}

// shyness returns whether a box meets one that is to be avoided.
func (g *Ground) shyness(b Box) float64 {
	if slices.ContainsFunc(g.shy, b.Grown(labelRoom).Overlaps) {
		return 1
	}
	return 0
}

// Where labels beside a point are tried: directions in the order in which they are liked, rad, and distances from the mark, pt.
var (
	directions = []float64{0, math.Pi / 4, -math.Pi / 4, math.Pi, 3 * math.Pi / 4, -3 * math.Pi / 4, math.Pi / 2, -math.Pi / 2,
		math.Pi / 8, -math.Pi / 8, 7 * math.Pi / 8, -7 * math.Pi / 8}
	distances = []vg.Length{1.5, 4, 8, 13, 19, 26, 34}
)

// What is worth avoiding, in pt of distance.
const (
	perCrossing  = 9.0
	perShy       = 1.1
	perDirection = 0.25
)

// Beside takes room for a label near a mark that reaches so far from its point, not further than far from the mark, pt; ok is false if
// there is none.
func (g *Ground) Beside(at vg.Point, reach, width, height, far vg.Length) (b Box, ok bool) {
	best := math.Inf(1)
	for _, d := range distances {
		if d > far || float64(d) >= best {
			break
		}
		for i, direction := range directions {
			sin, cos := math.Sincos(direction)
			try := Box{Centre: vg.Point{
				X: at.X + vg.Length(cos)*(reach+d+width/2),
				Y: at.Y + vg.Length(sin)*(reach+d+height/2)}, Width: width, Height: height}
			cost := float64(d) + perDirection*float64(i)
			if cost >= best || !g.Free(try) {
				continue
			}
			if cost += perCrossing*float64(min(g.Crossings(try), 5)) + perShy*g.shyness(try); cost < best && g.leadIsClear(at, reach, try) {
				best, b, ok = cost, try, true
			}
		}
	}
	if ok {
		g.Take(b)
	}
	return b, ok
}

// leadIsClear tells whether the line from a mark to its label, if there is one, runs through nothing that is taken.
func (g *Ground) leadIsClear(at vg.Point, reach vg.Length, b Box) bool {
	from, to, ok := Leads(at, reach, b)
	if !ok {
		return true
	}
	return !slices.ContainsFunc(g.taken, func(o Box) bool { return Distance(o.Centre, at) > float64(reach)/2 && o.CrossedBy(from, to) })
}

// Leads returns the line from a mark to a label that is not close to it; ok is false where none is needed.
func Leads(at vg.Point, reach vg.Length, b Box) (from, to vg.Point, ok bool) {
	to = vg.Point{X: between(at.X, b.Centre.X-b.Width/2, b.Centre.X+b.Width/2), Y: between(at.Y, b.Centre.Y-b.Height/2, b.Centre.Y+b.Height/2)}
	d := Distance(at, to)
	if d < float64(reach)+5 {
		return from, to, false
	}
	share := vg.Length((float64(reach) + 0.5) / d)
	from = vg.Point{X: at.X + share*(to.X-at.X), Y: at.Y + share*(to.Y-at.Y)}
	share = vg.Length(1 - 1.5/d)
	to = vg.Point{X: at.X + share*(to.X-at.X), Y: at.Y + share*(to.Y-at.Y)}
	return from, to, true
}

func between(x, low, high vg.Length) vg.Length { return min(max(x, low), high) }

// Spread moves middles of labels of the given heights, in the order of the middles wished, apart until none meets another, as little as
// it can, within low and high; ok is false if they are too many.
func Spread(middles, heights []vg.Length, low, high vg.Length) (spread []vg.Length, ok bool) {
	order := make([]int, len(middles))
	var sum vg.Length
	for i := range order {
		order[i] = i
		sum += heights[i]
	}
	if sum > high-low {
		return nil, false
	}
	slices.SortStableFunc(order, func(a, b int) int {
		switch {
		case middles[a] < middles[b]:
			return -1
		case middles[a] > middles[b]:
			return 1
		}
		return 0
	})
	spread = slices.Clone(middles)
	at := low
	for _, i := range order { // upward: nobody below the one before
		spread[i] = max(spread[i], at+heights[i]/2)
		at = spread[i] + heights[i]/2
	}
	at = high
	for _, i := range slices.Backward(order) { // and down again from the top
		spread[i] = min(spread[i], at-heights[i]/2)
		at = spread[i] - heights[i]/2
	}
	return spread, true
}
