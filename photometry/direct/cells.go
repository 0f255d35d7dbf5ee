package direct

import (
	"math"
	"slices"

	"lampswap/photometry/room"
)

// sweepPieces is how many times more pieces an opening has if the shadows that its two ends throw lie apart.
const sweepPieces = 8

// cells adds one luminaire to the cells of a row from a to b, each as far as the racks leave it lit along the row.
func (r *rower) cells(dst []float64, l *lamp, first, step, a, b room.Vec) {
	n := r.grid.NX
	r.cutters = r.cutters[:0]
	way := l.way(a, b)
	for _, o := range r.order {
		if s := &r.shades[o.rack]; s.Meets(way) {
			r.cutters = append(r.cutters, *s)
		}
	}
	if len(r.cutters) == 0 {
		l.open(dst, r.work, first, step, r.grid.Normal, span{from: 0, to: n, passes: 1})
		return
	}
	if !r.sweeps(l, a, b, &way) {
		r.spread(dst, r.parts, func(light []float64, from, to int) {
			l.open(light, r.work, first, step, r.grid.Normal, span{from: from, to: to, passes: 1})
		})
		return
	}
	l.pieces(first, step, n, sweepPieces, func(q room.Vec, share float64) {
		cuts := &r.work.cuts
		cuts.look(q, a, b, r.cutters)
		r.spread(dst, cuts.parts[:cuts.n], func(light []float64, from, to int) {
			t := l.track(first.Add(step.Scale(float64(from))).Sub(q), step, r.grid.Normal, share)
			l.field.add(light[from:to], &t)
		})
	})
}

// spread adds light to the cells of a row, to each its share of what a function adds from one on and before another.
func (r *rower) spread(dst []float64, parts []part, add func(light []float64, from, to int)) {
	clear(r.share)
	from, to := len(r.share), 0
	for _, c := range parts {
		if c.passes < faintest {
			continue
		}
		a, b := c.from*float64(len(r.share)), c.to*float64(len(r.share))
		from, to = min(from, int(a)), max(to, int(math.Ceil(b)))
		for i := int(a); float64(i) < b; i++ {
			r.share[i] += c.passes * (min(b, float64(i+1)) - max(a, float64(i)))
		}
	}
	if from >= to {
		return
	}
	clear(r.light[from:to])
	add(r.light, from, to)
	for i := from; i < to; i++ {
		dst[i] += r.share[i] * r.light[i]
	}
}

// way is the box about all sight lines between a luminaire and a row.
func (l *lamp) way(a, b room.Vec) room.Box {
	return l.box().With(a).With(b)
}

// box holds the opening.
func (l *lamp) box() room.Box {
	reach := l.pose.reach()
	return room.Box{Low: l.pose.at.Sub(reach), High: l.pose.at.Add(reach)}
}

// sweeps tells whether the shadows on a row lie otherwise for one place of the opening than for another, by more than a quarter of a
// cell: places along it, and across and down it where it is not slender. The parts of the row are those of the first place.
func (r *rower) sweeps(l *lamp, a, b room.Vec, way *room.Box) bool {
	o, cuts := l.opening, &r.work.cuts
	across, down := places(o.width, 0), places(o.high, 0)
	if o.slender(o.width) {
		across = places(0, 0)
	}
	if o.slender(o.high) {
		down = places(0, 0)
	}
	passed := len(across)*len(down) == 1 && r.passed(l, way) // then one place stands for all
	r.parts = r.parts[:0]
	alike := func(x, y part) bool {
		return x.passes == y.passes && max(math.Abs(x.from-y.from), math.Abs(x.to-y.to))*float64(r.grid.NX) < 0.25
	}
	for _, x := range places(o.length, r.narrowest(l)) {
		for _, y := range across {
			for _, z := range down {
				eye := l.place(x*o.length, y*o.width)
				eye.Z += z * o.high
				cuts.look(eye, a, b, r.cutters)
				cuts.merge()
				if len(r.parts) == 0 {
					r.parts = append(r.parts, cuts.parts[:cuts.n]...)
				} else if !slices.EqualFunc(r.parts, cuts.parts[:cuts.n], alike) {
					return true
				}
				if passed {
					return false
				}
			}
		}
	}
	return false
}

// places are where an extent is tried, from -1/2 to 1/2: its ends, and where racks are narrower than it, which may stand before its middle
// alone, more of it.
func places(extent, narrowest float64) []float64 {
	switch {
	case extent == 0:
		return tried[:1]
	case narrowest >= extent:
		return tried[1:3]
	case narrowest >= extent/2:
		return tried[:3]
	}
	return tried[:]
}

var tried = [...]float64{0, -0.5, 0.5, -0.25, 0.25}

// narrowest returns the least side in plan of the racks that may cut a luminaire, along it where it lies along an axis.
func (r *rower) narrowest(l *lamp) float64 {
	least := math.Inf(1)
	for i := range r.cutters {
		size := r.cutters[i].High.Sub(r.cutters[i].Low)
		switch {
		case l.pose.sin == 0:
			least = min(least, size.X)
		case l.pose.cos == 0:
			least = min(least, size.Y)
		default:
			least = min(least, size.X, size.Y)
		}
	}
	return least
}

// passed tells whether the racks run along the opening and past all sight lines, so that it could be anywhere along itself.
func (r *rower) passed(l *lamp, way *room.Box) bool {
	ahead := func(s shade) bool { return s.Low.X > way.Low.X || s.High.X < way.High.X }
	if l.pose.cos == 0 {
		ahead = func(s shade) bool { return s.Low.Y > way.Low.Y || s.High.Y < way.High.Y }
	}
	return l.pose.cos*l.pose.sin == 0 && !slices.ContainsFunc(r.cutters, ahead)
}
