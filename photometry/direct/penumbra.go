package direct

import (
	"cmp"
	"math"
	"slices"

	"lampswap/photometry/room"
)

// A row of n cells lies between two places, the middles of its ends.
type row struct {
	a, b room.Vec
	n    int
}

// nearestFirst puts racks in the order of their distance from a box: the nearest throw the largest shadows.
func nearestFirst(racks []occluder, box room.Box) {
	slices.SortStableFunc(
		racks,
		func(a, b occluder) int { return cmp.Compare(box.SquareGap(a.Box), box.SquareGap(b.Box)) },
	)
}

// look finds the beams in which the cells of a row see a luminaire: one of all of its pieces, if it is far
// away, or if the ends of shadows lie for all of its places within a quarter of a cell, or move with its
// width alone; else panel by panel, as they move from one end of each to the other.
func (c *cells) look(l *lamp, r row, racks []occluder, d division) {
	c.beams, c.pieces = c.beams[:0], c.pieces[:0]
	o := l.opening
	slender := o.slender(o.width) && o.slender(o.high)
	square := l.pose.cos*l.pose.sin == 0
	if slender && !square { // its length lies across all edges, beside which its width counts little
		o.width = 0
	}
	passed := slender && square &&
		l.passed(racks, room.Box{Low: r.a, High: r.a}.With(r.b), room.Vec{X: l.pose.cos, Y: l.pose.sin})
	still, last := c.still(l, o, r, racks, slender, passed)
	if !still && !passed && (!slender || d.near <= asOneRatio*o.length) {
		c.strips(l, o, r, racks, d)
		return
	}
	// all of it at once
	if still && len(c.looks[0]) == 0 {
		return
	}
	c.pieces = l.divide(c.pieces, d)
	b := c.beam(r.n, c.pieces)
	if still {
		b.admit(c.looks[0], c.looks[last], 1)
	} else {
		whole := line{l.place(-o.length/2, -o.width/2), l.place(o.length/2, o.width/2)}
		c.seeFrom(whole.from, r, racks, 0)
		c.seeFrom(whole.to, r, racks, 1)
		c.penumbra(b, panel{line: whole, from: 0, to: 1, weight: 1}, 0, 1, r, racks)
	}
	b.center()
}

// strips finds the beams of an opening strip by strip, and of each panel by panel.
func (c *cells) strips(l *lamp, o opening, r row, racks []occluder, d division) {
	slender, square := o.slender(o.width) && o.slender(o.high), l.pose.cos*l.pose.sin == 0
	finer := d
	finer.finer = mostAcross
	for _, h := range rules()[finer.down(o)] {
		z, start := (h.x-0.5)*o.high, -0.5
		for _, s := range o.strips(finer.across(o), true) {
			offset, half, weight := o.strip(s)
			from, to := l.ends(offset, z, half)
			if square && !o.elliptic { // from corner to corner of a strip as wide as its weight
				from, _ = l.ends(start*o.width, z, half)
				_, to = l.ends((start+s.w)*o.width, z, half)
				start += s.w
			}
			panels := finer
			if slender {
				panels.finer = panelsFiner
			}
			c.panels(line{from, to}, l.share*h.w*weight, panels.along(o, 2*half), r, racks)
		}
	}
}

const (
	// panelsFiner is how many times more pieces an opening has if the shadows that its places throw lie apart.
	panelsFiner = 2
	// asOneRatio is how many times its length away an opening counts as one however its shadows lie: its ends
	// then give nearly the same light.
	asOneRatio   = 12
	mostHalvings = 2 // of a panel
)

// A line runs along a strip of an opening; of one that lies along an axis it goes from corner to corner, so
// that the ends of shadows move across the strip too.
type line struct{ from, to room.Vec }

func (l line) at(t float64) room.Vec { return l.from.Add(l.to.Sub(l.from).Scale(t)) }

// A panel is a stretch of a line, between two places of its length 0 to 1.
type panel struct {
	line
	from, to float64
	weight   float64 // of it in its beam
	halvings int     // that made it
}

// panels finds the beams of a line of an opening, a panel for each node of its rule, as long as the node's
// weight. Where other shadows fall from one end of a panel than from the other it is halved.
func (c *cells) panels(on line, share float64, nodes int, r row, racks []occluder) {
	c.seeFrom(on.from, r, racks, 0)
	start := 0.0
	for _, g := range rules()[nodes] {
		end := start + g.w
		c.seeFrom(on.at(end), r, racks, 1)
		c.pieces = append(c.pieces, piece{at: on.at(g.x), share: share * g.w})
		b := c.beam(r.n, c.pieces[len(c.pieces)-1:])
		c.penumbra(b, panel{line: on, from: start, to: end, weight: 1}, 0, 1, r, racks)
		b.center()
		c.looks[0], c.looks[1] = c.looks[1], c.looks[0]
		start = end
	}
}

// penumbra adds to a beam what passes to a panel from the ends of which so numbered looks see the row.
func (c *cells) penumbra(b *beam, p panel, from, to int, r row, racks []occluder) {
	middle, n := (p.from+p.to)/2, p.halvings+2
	c.seeFrom(p.at(middle), r, racks, n)
	switch x, y := c.looks[from], c.looks[to]; {
	case goesOver(x, c.looks[n], y, r.n):
		b.admit(x, y, p.weight)
	case p.halvings == mostHalvings:
		b.admit(x, x, p.weight/4)
		b.admit(c.looks[n], c.looks[n], p.weight/2)
		b.admit(y, y, p.weight/4)
	default:
		c.penumbra(b, panel{p.line, p.from, middle, p.weight / 2, p.halvings + 1}, from, n, r, racks)
		c.penumbra(b, panel{p.line, middle, p.to, p.weight / 2, p.halvings + 1}, n, to, r, racks)
	}
}

// seeFrom notes how a place of a luminaire sees a row.
func (c *cells) seeFrom(eye room.Vec, r row, racks []occluder, look int) {
	c.seen.Look(eye, r.a, r.b, racks)
	c.seen.Merge()
	c.looks[look] = append(c.looks[look][:0], c.seen.Stretches...)
}

// quarter is how far apart ends of shadows may lie and count as one, in cells.
const quarter = 0.25

// goesOver tells whether the ends of shadows move evenly from one look over that of the middle to the other:
// there are as many in all three.
func goesOver(x, middle, y []room.Stretch, n int) bool {
	if len(x) != len(middle) || len(y) != len(middle) {
		return false
	}
	even := func(a, b, c float64) bool { return math.Abs(a+c-2*b)*float64(n) < 2*quarter }
	for i, m := range middle {
		if x[i].Passes != m.Passes || y[i].Passes != m.Passes ||
			!even(x[i].From, m.From, y[i].From) || !even(x[i].To, m.To, y[i].To) {
			return false
		}
	}
	return true
}

// still tells whether the shadows on a row lie for one place of the opening as for another, within a quarter
// of a cell: places along and across and down it, or, of one that is a line, from corner to corner. Looks 0
// and last are then those of its ends, or one of all.
func (c *cells) still(
	l *lamp, o opening, r row, racks []occluder, line, passed bool,
) (still bool, last int) {
	alike := func(x, y room.Stretch) bool {
		return x.Passes == y.Passes && max(math.Abs(x.From-y.From), math.Abs(x.To-y.To))*float64(r.n) < quarter
	}
	// places of the opening
	along, across, down := places(o.length, narrowest(racks, l)), places(o.width, 0), places(o.high, 0)
	if passed {
		along = places(o.length, math.Inf(1))
	}
	if line {
		across, down = places(0, 0), places(0, 0)
	}
	// each against the first
	first := true
	for _, x := range along {
		for _, y := range across {
			for _, z := range down {
				if line {
					y = x
				}
				eye := l.place(x*o.length, y*o.width)
				eye.Z += z * o.high
				if first {
					c.seeFrom(eye, r, racks, 0)
					first = false
					continue
				}
				c.seeFrom(eye, r, racks, 1)
				if !slices.EqualFunc(c.looks[0], c.looks[1], alike) {
					return false, 0
				}
			}
		}
	}
	if len(along)*len(across)*len(down) == 2 {
		last = 1
	}
	return true, last
}

// places are where an extent is tried, from -1/2 to 1/2: its ends, and where racks are narrower than it,
// which may stand before its middle alone, more of it.
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

// narrowest returns the least side in plan of the racks that may cut a luminaire, along it where it lies
// along an axis.
func narrowest(racks []occluder, l *lamp) float64 {
	least := math.Inf(1)
	for i := range racks {
		size := racks[i].High.Sub(racks[i].Low)
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

// beam begins one of pieces to n cells.
func (c *cells) beam(n int, pieces []piece) *beam {
	c.beams = slices.Grow(c.beams, 1)[:len(c.beams)+1]
	b := &c.beams[len(c.beams)-1]
	b.pieces, b.share, b.from, b.to = pieces, zeros(b.share, n), n, 0
	b.at = zeros(b.at, n)
	return b
}

// admit adds to a beam the mean share of the light that cells get while the ends of stretches move evenly
// from one look to another.
func (b *beam) admit(x, y []room.Stretch, weight float64) {
	n := float64(len(b.share))
	for i := range x {
		if x[i].Passes < faintest {
			continue
		}
		from0, from1, to0, to1 := x[i].From*n, y[i].From*n, x[i].To*n, y[i].To*n
		first, last := int(min(from0, from1)), min(int(math.Ceil(max(to0, to1))), len(b.share))
		b.from, b.to = min(b.from, first), max(b.to, last)
		from, to := (from0+from1)/2, (to0+to1)/2
		passes := weight * x[i].Passes
		for k := first; k < last; k++ {
			at := float64(k)
			lit := passes * (clipped(to0-at, to1-at) - clipped(from0-at, from1-at))
			low, high := clipped(from-at, from-at), clipped(to-at, to-at)
			b.share[k] += lit
			b.at[k] += lit * (at + (low+high-1)/2)
		}
	}
}

// center finds the middle of what is lit of each cell from the moments that were added up.
func (b *beam) center() {
	for k := b.from; k < b.to; k++ {
		if b.share[k] > 0 {
			b.at[k] /= b.share[k]
		} else {
			b.at[k] = float64(k)
		}
	}
}

// clipped is the mean, as x goes evenly from a to b, of x clipped to 0 to 1.
func clipped(a, b float64) float64 {
	switch {
	case min(a, b) >= 1:
		return 1
	case max(a, b) <= 0:
		return 0
	case math.Abs(b-a) < 1e-6:
		return max(0, min(1, (a+b)/2))
	}
	integral := func(x float64) float64 {
		if x = max(x, 0); x > 1 {
			return x - 0.5
		}
		return x * x / 2
	}
	return (integral(b) - integral(a)) / (b - a)
}
