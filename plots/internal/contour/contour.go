// Package contour finds where a surface over a grid of values is at or above a level: the areas to fill and the lines to draw. It
// answers for plots.
//
// The surface is cubic convolution between the values, cut by marching squares on a lattice finer than the grid:
//
//	E(t) = b + t/2 (c - a + t (2a - 5b + 4c - d + t (3(b - c) + d - a)))        between b and c, a and d outside
//
// A saddle is decided by the mean of its four corners. Source: of the cubic, see package plots; else our derivation.
//
// Lengths are m, values are of any unit. NaN is no value: its cell is not part of the surface.
package contour

import (
	"math"
	"slices"
)

// A Point is a place in the plane of the grid, m.
type Point struct{ X, Y float64 }

// A ring bounds a region, the region on its left: outer rings run counter-clockwise, holes clockwise, so that the nonzero winding rule
// fills the region. level[i] tells whether the side from points[i] to the next lies on the level, not on the border of the map.
type ring struct {
	points []Point
	level  []bool
}

// A Line is a stretch of a contour, the higher values on its left.
type Line struct {
	Points []Point
	Closed bool // the first point is not repeated
}

// A Region is where a surface is at or above a level.
type Region struct{ rings []ring }

// A vertex is a node of the lattice, or where the level crosses the side from a node to its right or upper neighbour.
type vertex struct {
	kind vertexKind
	node int
}

type vertexKind uint8

const (
	atNode vertexKind = iota
	crossingRight
	crossingUp
)

// A side is a piece of the bound of a region.
type side struct {
	from, to vertex
	level    bool
	used     bool
}

// A tracer collects the sides of one region: those on the level, across quads, and those on the border of the map, along quads that
// have no neighbour. Between two quads of the map there is nothing to bound.
type tracer struct {
	surface Surface
	level   float64
	sides   []side
}

// Above returns where the surface is at or above the level.
func (f Surface) Above(level float64) Region {
	t := tracer{surface: f, level: level}
	for j := range len(f.ys) - 1 {
		for i := range len(f.xs) - 1 {
			if f.has(i, j) {
				t.quad(i, j)
			}
		}
	}
	return Region{t.rings()}
}

// quad adds the sides in and on one quad.
func (t *tracer) quad(i, j int) {
	width := len(t.surface.xs)
	node := j*width + i
	corner := [4]int{node, node + 1, node + width + 1, node + width} // counter-clockwise
	// where the level crosses the side from corner k to the next
	crossing := [4]vertex{{crossingRight, node}, {crossingUp, node + 1}, {crossingRight, node + width}, {crossingUp, node}}
	var inside [4]bool
	sum, n := 0.0, 0
	for k, c := range corner {
		v := t.surface.values[c]
		sum += v
		if inside[k] = v >= t.level; inside[k] {
			n++
		}
	}
	if n == 0 {
		return
	}
	apart := n == 2 && inside[0] == inside[2] && sum/4 < t.level // a saddle, low in the middle: two corners on their own
	neighbour := [4][2]int{{i, j - 1}, {i + 1, j}, {i, j + 1}, {i - 1, j}}
	for k := range 4 {
		next := (k + 1) % 4
		if inside[k] && !inside[next] {
			in := next // the side on which the way around the region comes back in
			for inside[in] || !inside[(in+1)%4] {
				in = (in + 1) % 4
			}
			if apart {
				in = (k + 3) % 4
			}
			t.sides = append(t.sides, side{from: crossing[k], to: crossing[in], level: true})
		}
		if (inside[k] || inside[next]) && !t.surface.has(neighbour[k][0], neighbour[k][1]) {
			s := side{from: vertex{atNode, corner[k]}, to: vertex{atNode, corner[next]}}
			if !inside[k] {
				s.from = crossing[k]
			}
			if !inside[next] {
				s.to = crossing[k]
			}
			t.sides = append(t.sides, s)
		}
	}
}

// rings chains the sides, in the order in which they were found.
func (t *tracer) rings() []ring {
	next := make(map[vertex][]int, len(t.sides))
	for i, s := range t.sides {
		next[s.from] = append(next[s.from], i)
	}
	var rings []ring
	for i := range t.sides {
		if t.sides[i].used {
			continue
		}
		var r ring
		for at := i; at >= 0; {
			s := &t.sides[at]
			s.used = true
			r.points, r.level = append(r.points, t.at(s.from)), append(r.level, s.level)
			at = -1
			for _, candidate := range next[s.to] {
				if !t.sides[candidate].used {
					at = candidate
					break
				}
			}
		}
		rings = append(rings, r)
	}
	return rings
}

func (t *tracer) at(v vertex) Point {
	f, width := t.surface, len(t.surface.xs)
	i, j := v.node%width, v.node/width
	p := Point{f.xs[i], f.ys[j]}
	switch v.kind {
	case atNode:
	case crossingRight:
		p.X += t.fraction(v.node, v.node+1) * (f.xs[i+1] - p.X)
	case crossingUp:
		p.Y += t.fraction(v.node, v.node+width) * (f.ys[j+1] - p.Y)
	}
	return p
}

// fraction returns how far from one node to the other the level lies.
func (t *tracer) fraction(a, b int) float64 {
	va, vb := t.surface.values[a], t.surface.values[b]
	return (t.level - va) / (vb - va)
}

// Lines returns the contours that bound the region, without the border of the map, in the longest stretches possible, simplified
// to within a tolerance, m.
func (r Region) Lines(tolerance float64) []Line {
	var lines []Line
	for _, ring := range r.rings {
		n := len(ring.points)
		start := -1 // a side on the border, after which a stretch may begin
		for i, level := range ring.level {
			if !level {
				start = i
				break
			}
		}
		if start < 0 {
			if points := simplifyClosed(ring.points, tolerance); len(points) > 2 {
				lines = append(lines, Line{points, true})
			}
			continue
		}
		var stretch []Point
		for k := 1; k <= n; k++ {
			i := (start + k) % n
			if ring.level[i] {
				if stretch == nil {
					stretch = []Point{ring.points[i]}
				}
				stretch = append(stretch, ring.points[(i+1)%n])
				continue
			}
			if points := simplify(stretch, tolerance); len(points) > 1 && points[0] != points[len(points)-1] {
				lines = append(lines, Line{points, false})
			}
			stretch = nil
		}
	}
	return lines
}

// Outlines returns the rings as polygons to fill, simplified to within a tolerance, m.
func (r Region) Outlines(tolerance float64) [][]Point {
	var outlines [][]Point
	for _, ring := range r.rings {
		if points := simplifyClosed(ring.points, tolerance); len(points) > 2 {
			outlines = append(outlines, points)
		}
	}
	return outlines
}

// simplify leaves out points of an open line that lie within the tolerance of what is left: the point furthest from the straight way
// stays, and so on in both halves.
func simplify(points []Point, tolerance float64) []Point {
	if len(points) < 3 {
		return points
	}
	keep := make([]bool, len(points))
	keep[0], keep[len(points)-1] = true, true
	pending := [][2]int{{0, len(points) - 1}}
	for len(pending) > 0 {
		from, to := pending[len(pending)-1][0], pending[len(pending)-1][1]
		pending = pending[:len(pending)-1]
		furthest, most := from, tolerance
		for i := from + 1; i < to; i++ {
			if d := points[i].from(points[from], points[to]); d > most {
				furthest, most = i, d
			}
		}
		if furthest > from {
			keep[furthest] = true
			pending = append(pending, [2]int{from, furthest}, [2]int{furthest, to})
		}
	}
	var kept []Point
	for i, p := range points {
		if keep[i] {
			kept = append(kept, p)
		}
	}
	return kept
}

// simplifyClosed does the same for a closed line, whose first point is not repeated: halves it at the point furthest from the first.
func simplifyClosed(points []Point, tolerance float64) []Point {
	furthest, most := 0, 0.0
	for i, p := range points {
		if d := math.Hypot(p.X-points[0].X, p.Y-points[0].Y); d > most {
			furthest, most = i, d
		}
	}
	if furthest == 0 {
		return nil
	}
	there := simplify(points[:furthest+1], tolerance)
	back := simplify(append(slices.Clip(points[furthest:]), points[0]), tolerance)
	return append(slices.Clip(there), back[1:len(back)-1]...)
}

// from returns the distance of p from the straight way from a to b.
func (p Point) from(a, b Point) float64 {
	dx, dy := b.X-a.X, b.Y-a.Y
	length2 := dx*dx + dy*dy
	t := 0.0
	if length2 > 0 {
		t = math.Min(math.Max(((p.X-a.X)*dx+(p.Y-a.Y)*dy)/length2, 0), 1)
	}
	return math.Hypot(a.X+t*dx-p.X, a.Y+t*dy-p.Y)
}
