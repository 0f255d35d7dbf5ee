package direct

import (
	"math"

	"lampswap/photometry/room"
)

// slicesAcross is into how many strips an opening is cut across if a plane cuts it askew, or if it is an
// ellipse.
const slicesAcross = 32

// front appends what lies before a plane of a luminaire whose opening the plane may cut: the whole of it, or
// rectangles, each with its share of the light. A surface sees nothing behind itself, so an edge of what it
// sees runs where its plane meets the opening. One that lies square to it leaves a rectangle; else the
// opening is cut into strips, and each strip where its middle meets the plane.
func (l *lamp) front(some []lamp, point, normal room.Vec) []lamp {
	before, extent := l.pose.at.Sub(point).Dot(normal), l.extent(normal)
	switch {
	case before+extent <= 0:
		return some
	case before-extent >= -sameplace:
		return append(some, *l)
	}
	// how the distance before the plane grows along, across and down the opening
	o := l.opening
	along := l.pose.cos*normal.X + l.pose.sin*normal.Y
	across := l.pose.cos*normal.Y - l.pose.sin*normal.X
	down := parallel(normal.Z)
	along, across = parallel(along), parallel(across)
	tilted := down != 0 && (along != 0 || across != 0)
	// layers, strips, and what of each is before the plane
	reach := math.Abs(along) * o.length / 2
	for _, z := range slicesOf(o.high, before, down, reach+math.Abs(across)*o.width/2, tilted) {
		for _, y := range slicesOf(o.width, before+down*z.middle, across, reach, along != 0 || o.elliptic) {
			length, share := o.length, z.share*y.share
			if o.elliptic {
				length *= math.Sqrt(max(0, 1-4*y.middle*y.middle/(o.width*o.width)))
				share *= 4 / math.Pi * length / o.length
			}
			for _, x := range slicesOf(length, before+down*z.middle+across*y.middle, along, 0, false) {
				some = append(some, l.part(x, y, z, share*x.share))
			}
		}
	}
	return some
}

// parallel takes the rounding out of a component of a normal.
func parallel(component float64) float64 {
	if math.Abs(component) < 1e-12 {
		return 0
	}
	return component
}

// A slice is a stretch of an extent, m from its middle, and its share of it.
type slice struct{ middle, length, share float64 }

// slicesOf returns what of an extent may lie before a plane, in one stretch or in several: its middle lies so
// far before it, the distance grows by slope along the extent, and what is sliced reaches so far to both
// sides.
func slicesOf(extent, before, slope, reach float64, several bool) []slice {
	// what is before the plane: distance + slope x + reach > 0
	from, to := -extent/2, extent/2
	switch {
	case slope == 0 && before+reach <= 0:
		return nil
	case slope > 0:
		from = max(from, -(before+reach)/slope)
	case slope < 0:
		to = min(to, -(before+reach)/slope)
	}
	if extent == 0 && from <= to {
		return []slice{{0, 0, 1}}
	}
	if from >= to {
		return nil
	}
	// in even slices
	n := 1
	if several {
		n = slicesAcross
	}
	all := make([]slice, n)
	for i := range all {
		length := (to - from) / float64(n)
		all[i] = slice{from + (float64(i)+0.5)*length, length, length / extent}
	}
	return all
}

// part returns the luminaire with a part of its opening, which has that share of its light.
func (l *lamp) part(x, y, z slice, share float64) lamp {
	part := *l
	part.share *= share
	part.opening = opening{length: x.length, width: y.length, high: z.length}
	part.pose.at = l.place(x.middle, y.middle).Add(room.Vec{Z: z.middle})
	if y.length > x.length {
		part.opening.length, part.opening.width = y.length, x.length
		part.pose.cos, part.pose.sin = -l.pose.sin, l.pose.cos
	}
	part.pose.measure(part.opening)
	return part
}
