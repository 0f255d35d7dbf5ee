package direct

import (
	"math"

	"lampswap/photometry/room"
)

// Cells are the parts of the patches of a tile, each of which counts as far as it is lit along its row.
type cells struct {
	alongV bool
	cuts   [mostNear + 1][2]cut // by the parts that light asks for; in the second rows see the same
	seen   room.Visibility
	looks  [mostHalvings + 3][]room.Stretch // of places along a luminaire, see penumbra
	beams  []beam
	pieces []piece // of the beams
	light  []float64
}

// mostNear is into how many parts along each side a patch is cut at most for near luminaires.
const mostNear = 4

// A cut is the patches of a tile cut into cells.
type cut struct {
	nu, nv int         // parts of a patch
	grid   room.Grid   // of the cells, the rows along U
	values [][]float64 // of each scene; none if nothing was added
}

// A beam is pieces of a luminaire of which the cells of a row see the same.
type beam struct {
	pieces   []piece
	share    []float64 // of its light, that the cells of the row get
	at       []float64 // the middle of what is lit of them, in cells from the first one's middle
	from, to int       // of those that get any
}

// turnTo makes ready for the patches of a grid.
func (c *cells) turnTo(g room.Grid, alongV bool, least, systems int) {
	if c.alongV = alongV; alongV {
		g.NX, g.NY, g.StepX, g.StepY, g.U, g.V = g.NY, g.NX, g.StepY, g.StepX, g.V, g.U
	}
	for near := 1; near <= mostNear; near++ {
		for alike := range c.cuts[near] {
			cut := &c.cuts[near][alike]
			cut.nu, cut.nv, cut.grid = max(near, least), max(near, least), g
			if alike == 1 {
				cut.nv = near
			}
			cut.grid.NX, cut.grid.StepX = g.NX*cut.nu, g.StepX/float64(cut.nu)
			cut.grid.NY, cut.grid.StepY = g.NY*cut.nv, g.StepY/float64(cut.nv)
			if cut.values == nil {
				cut.values = make([][]float64, systems)
			}
			for i := range cut.values {
				cut.values[i] = cut.values[i][:0]
			}
		}
	}
}

// addTo adds the means of the patches over their cells.
func (c *cells) addTo(values [][]float64) {
	for near := 1; near <= mostNear; near++ {
		for alike := range c.cuts[near] {
			cut := &c.cuts[near][alike]
			for n, cells := range cut.values {
				if len(cells) > 0 {
					cut.addTo(values[n], cells, c.alongV)
				}
			}
		}
	}
}

func (c *cut) addTo(patches, cells []float64, alongV bool) {
	stepU, stepV := 1, c.grid.NX/c.nu
	if alongV {
		stepU, stepV = c.grid.NY/c.nv, 1
	}
	part := 1 / float64(c.nu*c.nv)
	for iv := range c.grid.NY {
		for iu, x := range cells[iv*c.grid.NX : (iv+1)*c.grid.NX] {
			patches[iu/c.nu*stepU+iv/c.nv*stepV] += x * part
		}
	}
}

// shade adds a luminaire, behind racks, to the cells of patches that are cut into so many parts for its
// light.
func (c *cells) shade(l *lamp, optics []optic, racks []occluder, parts int) {
	cut := &c.cuts[parts][0]
	box := sheetOf(cut.grid)
	near := l.gap(&box)
	alike := near >= longRatio*max(l.opening.length, l.opening.high) && l.passed(racks, box, cut.grid.V)
	if alike || l.share > 1 { // or several luminaires together, whose shadows count as far as they matter
		cut = &c.cuts[parts][1]
	}
	if l.dark(optics, &box) {
		return
	}
	for n := range cut.values {
		if len(cut.values[n]) == 0 {
			cut.values[n] = zeros(cut.values[n], cut.grid.NX*cut.grid.NY)
		}
	}
	c.light = zeros(c.light, cut.grid.NX)
	// scenes whose optics want the opening divided alike share shadows
	low, high := l.cosinesTo(&box)
	for first, last := 0, 0; first < len(optics); first = last {
		refine := optics[first].refine.at(near, low, high)
		for last = first + 1; last < len(optics) && optics[last].refine.at(near, low, high) == refine; last++ {
		}
		c.rows(cut, l, optics[first:last], first, racks, division{near: near, refine: refine, finer: 1}, alike)
	}
}

// rows adds a luminaire to the cells row by row, for some scenes from one on.
func (c *cells) rows(
	cut *cut, l *lamp, optics []optic, scene int, racks []occluder, d division, alike bool,
) {
	g, o := &cut.grid, l.opening
	// the row's cells, and whether they are near enough for pieces that suit each row
	step, least := g.U.Scale(g.StepX), ofCell*min(g.StepX, g.StepY)
	half, end := step.Scale(0.5), step.Scale(float64(g.NX)-0.5)
	nearby := d.near < longRatio*max(o.length, o.high)
	// beams to a row, where it does not see the same as the last, and their light
	for iy := range g.NY {
		first := g.Point(0, iy)
		if nearby { // pieces that suit the nearest cell of the row
			box := room.Box{Low: first, High: first}.With(first.Add(step.Scale(float64(g.NX - 1))))
			d.near = max(l.gap(&box), least)
		}
		if iy == 0 || !alike {
			c.look(l, row{first.Sub(half), first.Add(end), g.NX}, racks, d)
		}
		for n := range optics {
			values := cut.values[scene+n][iy*g.NX : (iy+1)*g.NX]
			for i := range c.beams {
				c.spread(values, &c.beams[i], l, optics[n].field, first, step, g.Normal)
			}
		}
	}
}

// spread adds the light of a beam to the cells of a row, to each its share.
func (c *cells) spread(values []float64, b *beam, l *lamp, f *field, first, step, normal room.Vec) {
	if b.from >= b.to {
		return
	}
	light := c.light[b.from:b.to]
	clear(light)
	for _, q := range b.pieces {
		t := l.track(first.Sub(q.at), step, normal, q.share)
		f.add(light, b.at[b.from:b.to], &t)
	}
	values = values[b.from:b.to]
	for i, share := range b.share[b.from:b.to] {
		values[i] += share * light[i]
	}
}

// passed tells whether racks go past all sight lines between a luminaire and a box along an axis: places of
// both may then be moved in that direction and see the same.
func (l *lamp) passed(racks []occluder, box room.Box, axis room.Vec) bool {
	own := l.box()
	way := box.With(own.Low).With(own.High)
	for i := range racks {
		s := &racks[i]
		if axis.X != 0 && (s.Low.X > way.Low.X || s.High.X < way.High.X) ||
			axis.Y != 0 && (s.Low.Y > way.Low.Y || s.High.Y < way.High.Y) ||
			axis.Z != 0 && (s.Low.Z > way.Low.Z || s.High.Z < way.High.Z) {
			return false
		}
	}
	return true
}

// gap returns at most the distance, m, from the opening to a box.
func (l *lamp) gap(box *room.Box) float64 {
	o := l.opening
	half := math.Sqrt(o.length*o.length+o.width*o.width+o.high*o.high) / 2
	return max(math.Sqrt(box.SquareDistance(l.pose.at))-half, math.Sqrt(box.SquareGap(l.box())))
}

// cosinesTo returns bounds of the cosines from nadir at which the luminaire's middle sees a box: they rise
// with the depth below it, and fall with the distance in plan of what lies below.
func (l *lamp) cosinesTo(box *room.Box) (low, high float64) {
	at := l.pose.at
	nearX, nearY := max(box.Low.X-at.X, at.X-box.High.X, 0), max(box.Low.Y-at.Y, at.Y-box.High.Y, 0)
	farX, farY := max(at.X-box.Low.X, box.High.X-at.X), max(at.Y-box.Low.Y, box.High.Y-at.Y)
	near, far := nearX*nearX+nearY*nearY, farX*farX+farY*farY
	cosine := func(down, below, above float64) float64 {
		away := below
		if down < 0 {
			away = above
		}
		return down / max(math.Sqrt(away+down*down), tiny)
	}
	return cosine(at.Z-box.High.Z, far, near), cosine(at.Z-box.Low.Z, near, far)
}
