// Package place finds room on the paper: for labels along lines and beside points, where they meet nothing else.
package place

import (
	"math"

	"gonum.org/v1/plot/vg"
)

// A Box is a turned rectangle on the paper, pt: what a label or a mark takes up.
type Box struct {
	Centre        vg.Point
	Width, Height vg.Length
	Angle         float64
}

// BoxOf returns an upright rectangle as a box.
func BoxOf(r vg.Rectangle) Box {
	return Box{vg.Point{X: (r.Min.X + r.Max.X) / 2, Y: (r.Min.Y + r.Max.Y) / 2}, r.Max.X - r.Min.X, r.Max.Y - r.Min.Y, 0}
}

// Grown returns the box with that much more room on every side.
func (b Box) Grown(by vg.Length) Box { return Box{b.Centre, b.Width + 2*by, b.Height + 2*by, b.Angle} }

// Corners returns the corners counter-clockwise.
func (b Box) Corners() []vg.Point {
	sin, cos := math.Sincos(b.Angle)
	points := make([]vg.Point, 4)
	for i, s := range [4][2]float64{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}} {
		x, y := s[0]*float64(b.Width)/2, s[1]*float64(b.Height)/2
		points[i] = vg.Point{X: b.Centre.X + vg.Length(x*cos-y*sin), Y: b.Centre.Y + vg.Length(x*sin+y*cos)}
	}
	return points
}

func (b Box) reach() float64 { return math.Hypot(float64(b.Width), float64(b.Height)) / 2 }

// Overlaps tells whether two boxes meet: they do unless one of their four side directions separates them.
func (b Box) Overlaps(o Box) bool {
	if Distance(b.Centre, o.Centre) > b.reach()+o.reach() {
		return false
	}
	return !separated(b.Angle, b.Corners(), o.Corners()) && !separated(o.Angle, b.Corners(), o.Corners())
}

// CrossedBy tells whether the straight line from p to q meets the box.
func (b Box) CrossedBy(p, q vg.Point) bool {
	if distanceToSegment(b.Centre, p, q) > b.reach() {
		return false
	}
	segment := []vg.Point{p, q}
	along := math.Atan2(float64(q.Y-p.Y), float64(q.X-p.X))
	return !separated(b.Angle, b.Corners(), segment) && !separated(along, b.Corners(), segment)
}

// separated tells whether the shadows of two convex shapes do not meet along the angle or square to it.
func separated(angle float64, a, b []vg.Point) bool {
	sin, cos := math.Sincos(angle)
	for _, axis := range [2][2]float64{{cos, sin}, {-sin, cos}} {
		a0, a1 := shadow(axis, a)
		b0, b1 := shadow(axis, b)
		if a1 < b0 || b1 < a0 {
			return true
		}
	}
	return false
}

func shadow(axis [2]float64, points []vg.Point) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, p := range points {
		v := float64(p.X)*axis[0] + float64(p.Y)*axis[1]
		low, high = math.Min(low, v), math.Max(high, v)
	}
	return low, high
}

// Distance returns the distance of two points on the paper, pt.
func Distance(a, b vg.Point) float64 { return math.Hypot(float64(a.X-b.X), float64(a.Y-b.Y)) }

func distanceToSegment(c, p, q vg.Point) float64 {
	dx, dy := float64(q.X-p.X), float64(q.Y-p.Y)
	length2 := dx*dx + dy*dy
	if length2 == 0 {
		return Distance(c, p)
	}
	t := math.Min(math.Max((float64(c.X-p.X)*dx+float64(c.Y-p.Y)*dy)/length2, 0), 1)
	return math.Hypot(float64(p.X)+t*dx-float64(c.X), float64(p.Y)+t*dy-float64(c.Y))
}
