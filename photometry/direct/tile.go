package direct

import (
	"cmp"
	"math"

	"lampswap/photometry/room"
)

// A TileIntegrator finds the mean direct light of the patches of tiles, which are small grids on one surface,
// among racks: it descends the tree of luminaires and takes with it the racks that may stand between. It
// holds what that takes, so each worker has its own.
type TileIntegrator struct {
	tree *Tree
	flux fluxIntegrator // of luminaires that no rack can come between and the tile
	cells
	values [][]float64 // of the patches, for each scene

	// of the tile
	grid   room.Grid
	box    room.Box
	middle room.Vec
	all    float64 // light of all luminaires there, 1 cd each

	stack  []occluder // racks between the tile and the branches on the way to one
	pieces []lamp     // of a luminaire, before the plane of the tile
}

const (
	// asOne is how large luminaires together may be, as a part of their distance, to count as one.
	asOne = 0.5
	// missed is what those that count as one may give at a tile, times that part, of what all luminaires would
	// give there if they sent their light evenly and nothing stood between: shadows of many lie closer together
	// than so many times their light can tell.
	missed = 1e-3
)

// perDistance is into how many parts a patch is cut for a luminaire as far away as it is long.
const perDistance = 6.0

// Integrator returns one for the luminaires of the tree.
func (t *Tree) Integrator() *TileIntegrator {
	return &TileIntegrator{tree: t, values: make([][]float64, t.scene.systems)}
}

// Means returns, for each scene, the mean initial direct illuminance, lx, of the patches of a grid on one
// surface; the next call overwrites them. Luminaires that no rack can come between and the grid give each
// patch its flux. For others patches are cut into parts along each side, as many as told at least and more
// for near ones, and each part counts as far as racks leave it lit along its row, light itself being even
// over it. Rows run along U, or along V if told, best across the edges of most shadows.
func (t *TileIntegrator) Means(g room.Grid, alongV bool, parts int) [][]float64 {
	t.turnTo(g, alongV, parts)
	for i := range t.tree.scene.kinds {
		k := &t.tree.scene.kinds[i]
		t.flux.reset(g, k.cell)
		for _, b := range t.tree.roots[i] {
			t.visit(k, b, t.stack)
		}
	}
	overArea(g, t.values)
	t.addTo(t.values)
	return t.values
}

// turnTo makes ready for a tile.
func (t *TileIntegrator) turnTo(g room.Grid, alongV bool, parts int) {
	t.grid, t.box = g, sheetOf(g)
	t.middle = t.box.Low.Add(t.box.High).Scale(0.5)
	for n := range t.values {
		t.values[n] = zeros(t.values[n], g.NX*g.NY)
	}
	t.cells.turnTo(g, alongV, parts, t.tree.scene.systems)
	t.all = 0
	for _, roots := range t.tree.roots {
		for _, b := range roots {
			t.all += t.sum(b)
		}
	}
	t.stack = t.stack[:0]
	for i := range t.tree.scene.occluders {
		if s := &t.tree.scene.occluders[i]; s.Ahead(g.Origin, g.Normal) {
			t.stack = append(t.stack, *s)
		}
	}
	nearestFirst(t.stack, t.box)
}

// extent returns how large a branch is and how near to the tile, squared, m², and by how much it lies before
// its plane, at least and at most.
func (t *TileIntegrator) extent(b *branch) (size, distance, least, most float64) {
	d, normal := b.box.High.Sub(b.box.Low), t.grid.Normal
	before := b.box.Low.Add(d.Scale(0.5)).Sub(t.middle).Dot(normal)
	depth := (math.Abs(normal.X)*d.X + math.Abs(normal.Y)*d.Y + math.Abs(normal.Z)*d.Z) / 2
	return d.Dot(d), t.box.SquareGap(b.box), before - depth, before + depth
}

// light is that of a branch of 1 cd each at the middle of the tile.
func (t *TileIntegrator) light(b *branch) float64 {
	d := b.middle.Sub(t.middle)
	square := d.Dot(d)
	return b.share * max(0, d.Dot(t.grid.Normal)) / (square * math.Sqrt(square))
}

// sum adds up the light of all luminaires of a branch.
func (t *TileIntegrator) sum(b *branch) float64 {
	size, distance, least, most := t.extent(b)
	switch {
	case most <= 0:
		return 0
	case b.parts[0] == nil, least >= 0 && size <= asOne*asOne*distance:
		return t.light(b)
	}
	return t.sum(b.parts[0]) + t.sum(b.parts[1])
}

// visit adds the luminaires of a branch, those together that are far from all of the tile and give little;
// racks are those that may stand between it and the branch above.
func (t *TileIntegrator) visit(k *kind, b *branch, racks []occluder) {
	size, distance, least, most := t.extent(b)
	if most <= 0 {
		return
	}
	above := len(t.stack)
	racks, dark := t.between(b.box, racks)
	switch {
	case dark:
	case b.parts[0] == nil,
		!k.plain && least >= 0 && size <= asOne*asOne*distance &&
			t.light(b)*math.Sqrt(size/distance) <= missed*t.all:
		for i := range b.lamps {
			t.add(k, &b.lamps[i], racks)
		}
	default:
		t.visit(k, b.parts[0], racks)
		t.visit(k, b.parts[1], racks)
	}
	t.stack = t.stack[:above]
}

// between keeps, on the stack, those racks that may stand between the tile and a box; dark tells that a
// single one hides the whole box from all of the tile: it hides all corners of both, as its shadow is convex.
func (t *TileIntegrator) between(box room.Box, racks []occluder) (some []occluder, dark bool) {
	from, way := len(t.stack), t.box.With(box.Low).With(box.High)
	for i := range racks {
		s := &racks[i]
		if !s.Meets(way) {
			continue
		}
		if s.Passes == 0 && s.HidesAll(box, t.box) {
			return nil, true
		}
		t.stack = append(t.stack, *s)
	}
	return t.stack[from:], false
}

// add adds a luminaire: of one that the plane of the tile cuts, what lies before it.
func (t *TileIntegrator) add(k *kind, l *lamp, racks []occluder) {
	t.pieces = l.front(t.pieces[:0], t.grid.Origin, t.grid.Normal)
	for i := range t.pieces {
		part := &t.pieces[i]
		if len(racks) == 0 {
			t.flux.add(t.values, part, k.optics)
			continue
		}
		distance := math.Sqrt(t.box.SquareDistance(part.pose.at))
		near := min(int(perDistance*cmp.Or(k.cell, max(t.grid.StepX, t.grid.StepY))/distance)+1, mostNear)
		t.shade(part, k.optics, racks, near)
	}
}

// zeros returns n values of nothing, in place of older ones if they suffice.
func zeros(values []float64, n int) []float64 {
	if cap(values) < n {
		return make([]float64, n)
	}
	values = values[:n]
	clear(values)
	return values
}

// sheetOf is the box about the cells of a grid.
func sheetOf(g room.Grid) room.Box {
	x, y := g.U.Scale(float64(g.NX)*g.StepX), g.V.Scale(float64(g.NY)*g.StepY)
	corner := room.Box{Low: g.Origin, High: g.Origin}
	return corner.With(g.Origin.Add(x)).With(g.Origin.Add(y)).With(g.Origin.Add(x).Add(y))
}
