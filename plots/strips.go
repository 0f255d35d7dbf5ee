package plots

import (
	"math"
	"slices"

	"gonum.org/v1/plot/vg"

	"lampswap/plots/internal/contour"
	"lampswap/plots/internal/pen"
)

// mostOblong is how many times as long as wide a plan may be to be drawn in one piece.
const mostOblong = 8

// mostStrips is into how many strips a plan is cut at most.
const mostStrips = 8

// betweenStrips is the white between the ticks of a strip and the next, pt.
const betweenStrips vg.Length = 5

// A folding is how an oblong plan is cut into strips, as a text is into lines: from the top down, or from the left to the right where the
// plan is long in y. Strips follow each other without overlap.
type folding struct {
	parts   []Rect
	upright bool      // the strips stand beside each other
	w, h    float64   // of the largest strip, m
	gap     vg.Length // between a strip and the next: its ticks and some white
}

// foldings returns the ways to draw a plan: in one piece, and where that is oblong in two strips and more. edge moves
// a cut to where the plan may be cut.
func (p plan) foldings(edge func(upright bool, at float64) float64) []folding {
	w, h := p.extent.X1-p.extent.X0, p.extent.Y1-p.extent.Y0
	oblong := math.Max(w/h, h/w)
	most := 1
	if oblong > mostOblong {
		most = int(math.Min(math.Ceil(oblong/mostOblong), mostStrips))
	}
	ways := make([]folding, 0, most)
	for n := 1; n <= most; n++ {
		ways = append(ways, p.folded(n, h > w, edge))
	}
	return ways
}

// folded cuts the plan into n strips.
func (p plan) folded(n int, upright bool, edge func(upright bool, at float64) float64) folding {
	f := folding{upright: upright}
	e, from, to := p.extent, p.extent.X0, p.extent.X1
	if upright {
		from, to = e.Y0, e.Y1
	}
	low := from
	for i := 1; i <= n; i++ {
		high := to
		if i < n {
			high = edge(upright, from+(to-from)*float64(i)/float64(n))
		}
		if high <= low {
			continue
		}
		part := Rect{low, e.Y0, high, e.Y1}
		if upright {
			part = Rect{e.X0, low, e.X1, high}
		}
		f.parts = append(f.parts, part)
		f.w, f.h = math.Max(f.w, part.X1-part.X0), math.Max(f.h, part.Y1-part.Y0)
		low = high
	}
	a := p.axes()
	f.gap = tickLength + 2.5 + pen.Small.Size + betweenStrips
	if upright {
		f.gap = a.left + a.right
	}
	return f
}

// size returns what all strips take at a scale, pt a metre.
func (f folding) size(scale vg.Length) (across, up vg.Length) {
	across, up = scale*vg.Length(f.w), scale*vg.Length(f.h)
	n := vg.Length(len(f.parts))
	if f.upright {
		return n*across + (n-1)*f.gap, up
	}
	return across, n*up + (n-1)*f.gap
}

// scale returns the greatest scale at which the strips fit, pt a metre.
func (f folding) scale(across, up vg.Length) vg.Length {
	gapsAcross, gapsUp := f.size(0)
	wide, tall := f.size(1)
	return max(min((across-gapsAcross)/(wide-gapsAcross), (up-gapsUp)/(tall-gapsUp)), 0)
}

// best returns the folding that draws the plan largest in the room, and the scale; of those as good as equal the one with fewer strips.
func best(ways []folding, across, up vg.Length) (folding, vg.Length) {
	const equal = 1.05
	chosen, scale := ways[0], ways[0].scale(across, up)
	for _, f := range ways[1:] {
		if s := f.scale(across, up); s > equal*scale {
			chosen, scale = f, s
		}
	}
	return chosen, scale
}

// views returns where each strip is drawn; the first one's upper left corner is at x and top.
func (f folding) views(scale, x, top vg.Length) []view {
	var views []view
	for _, part := range f.parts {
		v := view{extent: part, scale: scale}
		w, h := scale*vg.Length(part.X1-part.X0), scale*vg.Length(part.Y1-part.Y0)
		v.frame.Min, v.frame.Max = vg.Point{X: x, Y: top - h}, vg.Point{X: x + w, Y: top}
		if f.upright { // all stand on one line
			bottom := top - scale*vg.Length(f.h)
			v.frame.Min.Y, v.frame.Max.Y = bottom, bottom+h
			x += scale*vg.Length(f.w) + f.gap
		} else {
			top -= scale*vg.Length(f.h) + f.gap
		}
		views = append(views, v)
	}
	return views
}

// strip returns what of the plan is in a part of it. Of a luminaire that is cut, the part that holds its middle has its signs.
func (p plan) strip(part Rect) plan {
	if part == p.extent {
		return p
	}
	p.whole, p.extent = p.extent, part
	var here []Mark
	for _, l := range p.luminaires {
		switch reach := max(l.Length, l.Width) / 2; {
		case p.shows(contour.Point{X: l.X, Y: l.Y}):
			here = append(here, l)
		case l.Length > 0 && l.X+reach > part.X0 && l.X-reach < part.X1 && l.Y+reach > part.Y0 && l.Y-reach < part.Y1:
			l.Failed, l.Sided = false, false
			here = append(here, l)
		}
	}
	p.luminaires = here
	p.racks, p.hanging = overlapping(p.racks, part), overlapping(p.hanging, part)
	return p
}

// shows tells whether a point is in the extent; one where the plan is cut is in the latter strip.
func (p plan) shows(at contour.Point) bool {
	e, w := p.extent, p.whole
	if w == (Rect{}) {
		w = e
	}
	return at.X >= e.X0 && at.Y >= e.Y0 && (at.X < e.X1 || e.X1 == w.X1 && at.X <= e.X1) && (at.Y < e.Y1 || e.Y1 == w.Y1 && at.Y <= e.Y1)
}

// overlapping returns the rectangles that reach into a part.
func overlapping(all []Rect, part Rect) []Rect {
	return slices.DeleteFunc(slices.Clone(all), func(r Rect) bool { return !contour.Rect(r).Overlaps(contour.Rect(part)) })
}

// stripAxes returns the axes of the i-th of n strips: names stand below the last and left of the first.
func (p plan) stripAxes(i, n int) axes {
	a := p.axes()
	upright := p.whole.Y1-p.whole.Y0 > p.whole.X1-p.whole.X0
	if !upright && i < n-1 {
		a.across = ""
	}
	if upright && i > 0 {
		a.up = ""
	}
	return a
}
