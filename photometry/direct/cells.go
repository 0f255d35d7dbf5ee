package direct

import (
	"cmp"
	"context"
	"math"
	"slices"

	"lampswap/photometry/room"
)

// sweepPieces is how many times more pieces an opening has if the shadows that its two ends throw lie apart.
const sweepPieces = 8

// rowsTogether is how many rows of cells ask together which racks stand between them and a luminaire.
const rowsTogether = 16

// shaded adds the light of every luminaire to the cells of a grid, each as far as racks leave it lit along
// its row.
func (e *Prepared) shaded(ctx context.Context, g room.Grid, values [][]float64) error {
	blocks := (g.NY + rowsTogether - 1) / rowsTogether
	return rows(ctx, blocks, func() func(int) {
		c := cellIntegrator{
			rowIntegrator: e.rowIntegrator(g),
			share:         make([]float64, g.NX),
			light:         make([]float64, g.NX),
			dst:           make([][]float64, len(values)),
			refine:        make([]int, len(values)),
		}
		return func(block int) {
			from, to := block*rowsTogether, min(g.NY, (block+1)*rowsTogether)
			c.turnTo(from, to)
			for k := range e.kinds {
				for i := range e.kinds[k].lamps {
					c.add(values, from, to, &e.kinds[k], &e.kinds[k].lamps[i])
				}
			}
		}
	})
}

// A cellIntegrator works out the mean light of cells; each worker has its own.
type cellIntegrator struct {
	*rowIntegrator
	block  room.Box       // about some rows
	far    []occluder     // racks, the nearest to them first
	before []occluder     // of these, those between them and one luminaire
	parts  []room.Stretch // a row as an end of a luminaire lights it
	share  []float64      // of the light of one luminaire, that the cells of a row get
	light  []float64      // of it
	dst    [][]float64    // the row, of each scene
	refine []int          // of the luminaire's pieces, for each scene
}

// turnTo makes ready for some of the rows.
func (c *cellIntegrator) turnTo(from, to int) {
	g := c.grid
	g.Origin, g.NY = g.Origin.Add(g.V.Scale(float64(from)*g.StepY)), to-from
	c.block = sheetOf(g)
	c.far = append(c.far[:0], c.occluders...)
	slices.SortStableFunc(
		c.far,
		func(a, b occluder) int { return cmp.Compare(c.block.SquareGap(a.Box), c.block.SquareGap(b.Box)) },
	)
}

// add adds one luminaire to some rows, unless a single rack hides it from all of them: it hides all corners
// of both, as its shadow is convex.
func (c *cellIntegrator) add(values [][]float64, from, to int, k *kind, l *lamp) {
	g := &c.grid
	box := l.box()
	way := c.block.With(box.Low).With(box.High)
	c.before = c.before[:0]
	for i := range c.far {
		s := &c.far[i]
		if !s.Meets(way) {
			continue
		}
		if s.Passes == 0 && hides(s, &c.block, l) {
			return
		}
		c.before = append(c.before, *s)
	}
	step := g.U.Scale(g.StepX)
	for iy := from; iy < to; iy++ {
		first := g.Point(0, iy)
		if l.behind(first, g.Normal, step, g.NX) || l.dark(k.optics, first, step, g.NX) {
			continue
		}
		for n := range values {
			c.dst[n] = values[n][iy*g.NX : (iy+1)*g.NX]
		}
		c.cells(l, k.optics, first, step)
	}
}

// hides tells whether a rack hides all of a luminaire from all of a box.
func hides(s *occluder, box *room.Box, l *lamp) bool {
	for eye := range l.corners {
		if !s.HidesBox(eye, *box) {
			return false
		}
	}
	return true
}

// cells adds one luminaire to the cells of a row, each as far as the racks leave it lit along the row.
func (c *cellIntegrator) cells(l *lamp, optics []optic, first, step room.Vec) {
	n, normal := c.grid.NX, c.grid.Normal
	a, b := first.Sub(step.Scale(0.5)), first.Add(step.Scale(float64(n)-0.5))
	way := l.way(a, b)
	c.cutters = c.cutters[:0]
	for i := range c.before {
		if c.before[i].Meets(way) {
			c.cutters = append(c.cutters, c.before[i])
		}
	}
	one := *l
	if len(c.cutters) == 0 { // nothing stands in the way
		for i := range optics {
			one.optic = &optics[i]
			one.open(c.dst[i], c.work, first, step, normal, span{from: 0, to: n, passes: 1})
		}
		return
	}
	if !c.sweeps(l, a, b, &way) { // the shadows' edges are sharp: one place of the opening stands for all
		from, to := c.shares(c.parts)
		for i := range optics {
			one.optic = &optics[i]
			c.spread(c.dst[i], from, to, func(light []float64) {
				one.open(light, c.work, first, step, normal, span{from: from, to: to, passes: 1})
			})
		}
		return
	}
	// penumbra: each piece of the opening throws shadows of its own
	near := l.nearest(first, step, n)
	low, high := l.cosines(first, step, n)
	for i := range optics {
		c.refine[i] = optics[i].refine.at(near, low, high)
	}
	for i, refine := range c.refine {
		if slices.Contains(c.refine[:i], refine) {
			continue // added with that one
		}
		l.divide(l.division(near, refine, sweepPieces), func(q room.Vec, share float64) {
			c.work.seen.Look(q, a, b, c.cutters)
			from, to := c.shares(c.work.seen.Stretches)
			if from >= to {
				return
			}
			t := l.track(first.Add(step.Scale(float64(from))).Sub(q), step, normal, share)
			for j := i; j < len(optics); j++ {
				if c.refine[j] == refine {
					c.spread(c.dst[j], from, to, func(light []float64) { optics[j].field.add(light[from:to], &t) })
				}
			}
		})
	}
}

// shares finds which share of a luminaire's light the cells of a row get, from one on and before another.
func (c *cellIntegrator) shares(parts []room.Stretch) (from, to int) {
	clear(c.share)
	n := float64(len(c.share))
	from, to = len(c.share), 0
	for _, p := range parts {
		if p.Passes < faintest {
			continue
		}
		a, b := p.From*n, p.To*n
		from, to = min(from, int(a)), max(to, int(math.Ceil(b)))
		for i := int(a); float64(i) < b; i++ {
			c.share[i] += p.Passes * (min(b, float64(i+1)) - max(a, float64(i)))
		}
	}
	return from, to
}

// spread adds light to the cells of a row from one on and before another, to each its share of what a
// function adds.
func (c *cellIntegrator) spread(dst []float64, from, to int, add func(light []float64)) {
	if from >= to {
		return
	}
	clear(c.light[from:to])
	add(c.light)
	for i := from; i < to; i++ {
		dst[i] += c.share[i] * c.light[i]
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

// sweeps tells whether the shadows on a row lie otherwise for one place of the opening than for another, by
// more than a quarter of a cell: places along it, and across and down it where it is not slender. The parts
// of the row are those of the first place.
func (r *cellIntegrator) sweeps(l *lamp, a, b room.Vec, way *room.Box) bool {
	o, seen, first := l.opening, &r.work.seen, true
	across, down := places(o.width, 0), places(o.high, 0)
	if o.slender(o.width) {
		across = places(0, 0)
	}
	if o.slender(o.high) {
		down = places(0, 0)
	}
	passed := len(across)*len(down) == 1 && r.passed(l, way) // then one place stands for all
	alike := func(x, y room.Stretch) bool {
		return x.Passes == y.Passes && max(math.Abs(x.From-y.From), math.Abs(x.To-y.To))*float64(r.grid.NX) < 0.25
	}
	for _, x := range places(o.length, r.narrowest(l)) {
		for _, y := range across {
			for _, z := range down {
				eye := l.place(x*o.length, y*o.width)
				eye.Z += z * o.high
				seen.Look(eye, a, b, r.cutters)
				seen.Merge()
				if first {
					r.parts, first = append(r.parts[:0], seen.Stretches...), false
				} else if !slices.EqualFunc(r.parts, seen.Stretches, alike) {
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
func (r *cellIntegrator) narrowest(l *lamp) float64 {
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

// passed tells whether the racks run along the opening and past all sight lines, so that it could be anywhere
// along itself.
func (r *cellIntegrator) passed(l *lamp, way *room.Box) bool {
	ahead := func(s occluder) bool { return s.Low.X > way.Low.X || s.High.X < way.High.X }
	if l.pose.cos == 0 {
		ahead = func(s occluder) bool { return s.Low.Y > way.Low.Y || s.High.Y < way.High.Y }
	}
	return l.pose.cos*l.pose.sin == 0 && !slices.ContainsFunc(r.cutters, ahead)
}
