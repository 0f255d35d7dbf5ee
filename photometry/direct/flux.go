package direct

import (
	"cmp"
	"context"
	"math"

	"lampswap/photometry/room"
)

// flux writes the mean illuminance, lx, of the cells about the points of a grid that no rack occluders: the
// flux that each gets, over its area. It conserves flux however near a luminaire is, see summedArea.
// Luminaires in rows and columns share one luminaire's fluxes, where cells suit their spacing.
func (e *Prepared) flux(ctx context.Context, g room.Grid, values [][]float64) error {
	for _, k := range e.layers(g) {
		if l, c := k.lattice(g); l != nil && l.shares(g, &k, c, sharedGain) {
			if err := k.sharedFlux(ctx, g, l, c, values); err != nil {
				return err
			}
			continue
		}
		if err := k.addFlux(ctx, g, values); err != nil {
			return err
		}
	}
	overArea(g, values)
	return nil
}

// overArea turns the flux of cells, lm, into their mean illuminance, lx; interpolation of the table leaves
// less than nothing beside a sharp edge in the dark.
func overArea(g room.Grid, values [][]float64) {
	area := g.StepX * g.StepY
	for _, values := range values {
		for i, x := range values {
			values[i] = max(0, x) / area
		}
	}
}

// sharedFlux adds the flux of luminaires in rows and columns to the cells of a grid, which are cut into those
// of a lattice.
func (k *kind) sharedFlux(ctx context.Context, g room.Grid, l *lattice, c array, values [][]float64) error {
	partsU, partsV := int(math.Round(g.StepX/l.du)), int(math.Round(g.StepY/l.dv))
	l.nu, l.nv = g.NX*partsU, g.NY*partsV
	l.u0, l.v0 = (l.du-g.StepX)/2, (l.dv-g.StepY)/2
	parts, err := k.shared(ctx, g, l, c, onCells)
	if err != nil {
		return err
	}
	for n, parts := range parts {
		for j := range l.nv {
			for i := range l.nu {
				values[n][j/partsV*g.NX+i/partsU] += parts[j*l.nu+i]
			}
		}
	}
	return nil
}

// fluxRows is how many rows of cells are worked out together.
const fluxRows = 16

// addFlux adds the flux, lm, of every luminaire to every cell of a grid.
func (k *kind) addFlux(ctx context.Context, g room.Grid, values [][]float64) error {
	return rows(ctx, (g.NY+fluxRows-1)/fluxRows, func() func(int) {
		f := &fluxIntegrator{}
		f.reset(g, k.cell)
		return func(block int) {
			f.from, f.to = block*fluxRows, min(g.NY, (block+1)*fluxRows)
			for i := range k.lamps {
				f.add(values, &k.lamps[i], k.optics)
			}
		}
	})
}

// A fluxIntegrator works out the flux on some rows of cells of one grid; it holds what that takes, so each
// worker has its own.
type fluxIntegrator struct {
	grid        room.Grid
	cell        float64  // to which openings are fitted, m; 0 is that of the grid
	from, to    int      // rows
	columns     []corner // borders of the columns, as a piece sees them
	now, before []float64
	pieces      []piece
	tables      []*summedArea          // of each scene
	lines       [2][areaStride]float64 // of the table, at one border of the rows, on both sides of the foot
}

// reset makes ready for all rows of a grid.
func (f *fluxIntegrator) reset(g room.Grid, cell float64) {
	f.grid, f.cell, f.from, f.to = g, cell, 0, g.NY
	if len(f.columns) <= g.NX {
		f.columns, f.now, f.before = make([]corner, g.NX+1), make([]float64, g.NX), make([]float64, g.NX)
	}
}

// A window is columns and rows of cells.
type window struct{ i0, i1, j0, j1 int }

func (w window) within(o window) window {
	return window{max(w.i0, o.i0), min(w.i1, o.i1), max(w.j0, o.j0), min(w.j1, o.j1)}
}

func (w window) empty() bool { return w.i0 >= w.i1 || w.j0 >= w.j1 }

// Rings about an opening, in its sizes from its outline: within each it has as many pieces as suit the
// nearest cells.
var ringEnds = [...]float64{0.5, 3, math.Inf(1)}

// ofCell is the least part of a cell to which the pieces of an opening are fitted, however near it is: cells
// take them together.
const ofCell = 0.25

// add adds one luminaire ring by ring.
func (f *fluxIntegrator) add(values [][]float64, l *lamp, optics []optic) {
	g := &f.grid
	gap, depth := l.pose.at.Sub(g.Origin).Dot(g.Normal), l.extent(g.Normal)
	if gap+depth < -touching {
		return
	}
	gap = max(0, gap-depth)
	// each scene's table
	f.tables = f.tables[:0]
	for n := range optics {
		field := optics[n].field
		f.tables = append(f.tables, field.areas.before(field, facing{l.pose.rotation, g.Normal, g.U, g.V}))
	}
	// from the nearest cells outwards
	all, done := window{0, g.NX, f.from, f.to}, window{}
	size := max(l.opening.length, l.opening.high, sameplace)
	near := max(gap, ofCell*cmp.Or(f.cell, min(g.StepX, g.StepY)))
	for _, ring := range ringEnds {
		end := ring * size
		if end <= gap {
			continue
		}
		w := all
		if !math.IsInf(end, 1) {
			w = f.about(l, end).within(all)
		}
		if !w.empty() {
			f.ring(values, l, near, w, done)
			done = w
		}
		near = max(near, end)
	}
}

// ring adds one luminaire, in pieces that suit so near cells, to the cells of a window but for those of
// another.
func (f *fluxIntegrator) ring(values [][]float64, l *lamp, near float64, w, done window) {
	f.pieces = l.divide(f.pieces[:0], division{near: near, means: true})
	for n, table := range f.tables {
		if table.dark {
			continue
		}
		for _, q := range f.pieces {
			f.piece(values[n], table, q.at, q.share, w, done)
		}
	}
}

// forMeans returns how many pieces an extent of an opening has for cells at a distance: a mean over a cell
// asks for fewer than a point does.
func (o opening) forMeans(extent, distance float64) int {
	if extent*fluxPointRatio <= distance+rounding {
		return 1
	}
	pieces := math.Ceil(fluxPieceRatio*extent/distance - rounding)
	if o.elliptic {
		pieces *= 2
	}
	return int(min(1+pieces, mostNodes))
}

const (
	fluxPointRatio = 12 // an extent below this part of the distance is one piece
	// One more than so many pieces to an extent of the distance (Gauss-Legendre); of an ellipse, cut in even
	// steps, twice as many.
	fluxPieceRatio = 3
)

// about returns the cells within a distance of the outline of an opening.
func (f *fluxIntegrator) about(l *lamp, distance float64) window {
	g := &f.grid
	d := l.pose.at.Sub(g.Origin)
	span := func(axis room.Vec, step float64, n int) (from, to int) {
		at, half := d.Dot(axis), l.extent(axis)+distance
		low, high := math.Floor((at-half)/step+rounding), math.Ceil((at+half)/step-rounding)
		return int(max(0, min(low, float64(n)))), int(max(0, min(high, float64(n))))
	}
	w := window{}
	w.i0, w.i1 = span(g.U, g.StepX, g.NX)
	w.j0, w.j1 = span(g.V, g.StepY, g.NY)
	return w
}

// extent returns half the extent of an opening's outline along a direction, m.
func (l *lamp) extent(along room.Vec) float64 {
	r := l.pose.reach()
	return math.Abs(along.X)*r.X + math.Abs(along.Y)*r.Y + math.Abs(along.Z)*r.Z
}

const touching = 1e-6 // m

// piece adds the flux of one piece to the cells of a window but for those of another. For each border of the
// rows it interpolates the table's rows to a line, and that line at each border of the columns; a cell gets
// the difference of the differences.
func (f *fluxIntegrator) piece(
	values []float64, table *summedArea, q room.Vec, share float64, w, done window,
) {
	g := &f.grid
	d := q.Sub(g.Origin)
	h, u, v := d.Dot(g.Normal), d.Dot(g.U), d.Dot(g.V)
	if h < -touching {
		return
	}
	h = max(h, 0)
	// where the borders of the columns stand in the table
	columns := f.columns[w.i0 : w.i1+1]
	low, high := [2]int{areaStride, areaStride}, [2]int{}
	for i := range columns {
		c := cornerAt(float64(w.i0+i)*g.StepX-u, h)
		columns[i] = c
		low[c.positive], high[c.positive] = min(low[c.positive], c.at), max(high[c.positive], c.at+4)
	}
	now, before := f.now[:w.i1-w.i0], f.before[:w.i1-w.i0]
	for j := w.j0; j <= w.j1; j++ { // differences along a border, then between one border and the last
		row := cornerAt(float64(j)*g.StepY-v, h)
		for side := range f.lines {
			if low[side] < high[side] {
				row.line(f.lines[side][:], table.quadrants[side+2*row.positive], share, low[side], high[side])
			}
		}
		last := columns[0].of(&f.lines)
		for i := range now {
			next := columns[i+1].of(&f.lines)
			now[i] = next - last
			last = next
		}
		if j > w.j0 {
			dst := values[(j-1)*g.NX+w.i0 : (j-1)*g.NX+w.i1]
			from, to := len(dst), len(dst) // of those that are done
			if j > done.j0 && j <= done.j1 {
				from, to = done.i0-w.i0, done.i1-w.i0
			}
			addDifferences(dst[:from], now, before)
			addDifferences(dst[to:], now[to:], before[to:])
		}
		now, before = before, now
	}
}

// addDifferences adds a - b.
func addDifferences(dst, a, b []float64) {
	for i := range dst {
		dst[i] += a[i] - b[i]
	}
}

// line interpolates four rows of a table, from one node on and before another.
func (c *corner) line(dst, quadrant []float64, share float64, from, to int) {
	a, b := quadrant[c.at*areaStride:][:to], quadrant[(c.at+1)*areaStride:][:to]
	d, e := quadrant[(c.at+2)*areaStride:][:to], quadrant[(c.at+3)*areaStride:][:to]
	wa, wb, wd, we := share*c.w[0], share*c.w[1], share*c.w[2], share*c.w[3]
	dst = dst[:to]
	for i := from; i < to; i++ {
		dst[i] = wa*a[i] + wb*b[i] + wd*d[i] + we*e[i]
	}
}

// of reads a line of the table at a border.
func (c *corner) of(lines *[2][areaStride]float64) float64 {
	q := lines[c.positive][c.at : c.at+4]
	return c.w[0]*q[0] + c.w[1]*q[1] + c.w[2]*q[2] + c.w[3]*q[3]
}
