package contour

import (
	"math"
	"slices"

	"lampswap/photometry/room"
)

// A Rect is an upright rectangle, m.
type Rect struct{ X0, Y0, X1, Y1 float64 }

// Overlaps tells whether two rectangles share an area.
func (r Rect) Overlaps(o Rect) bool { return r.X0 < o.X1 && o.X0 < r.X1 && r.Y0 < o.Y1 && o.Y0 < r.Y1 }

// A Surface is a map's values on a lattice of nodes: each cell of the grid is cut into parts by parts quads, so that nodes lie on the
// centres of cells, on their sides and on their corners, and some between.
type Surface struct {
	xs, ys []float64 // m; parts n + 1 positions for n cells
	parts  int       // of a cell in either direction, even
	values []float64 // row by row from the least y; NaN where no cell is drawn
	drawn  []bool    // cells, row by row: whether the cell is part of the map
}

// New lays out the cells of a grid whose values, row by row, stand at the centres x and y, ascending, and interpolates between them.
// The outer cells end half a cell beyond their centres, or at the extent. parts is even. Rectangles in covered will be painted over: a cell without a
// value that reaches out from under one is filled from its neighbours, so that no white is left between them.
func New(x, y, values []float64, extent Rect, covered []Rect, parts int) Surface {
	nx, ny := len(x), len(y)
	f := Surface{xs: nodes(x, extent.X0, extent.X1, parts), ys: nodes(y, extent.Y0, extent.Y1, parts), parts: parts, drawn: make([]bool, nx*ny)}
	for i, v := range values {
		f.drawn[i] = !math.IsNaN(v)
	}
	// along the rows, then along the columns
	width := len(f.xs)
	rows := make([]float64, width*ny)
	for j := range ny {
		refine(rows[j*width:], values[j*nx:], nx, 1, parts)
	}
	f.values = make([]float64, width*len(f.ys))
	for i := range width {
		refine(f.values[i:], rows[i:], ny, width, parts)
	}
	s := room.Summarize(values)
	for i, v := range f.values {
		f.values[i] = math.Min(math.Max(v, s.Minimum), s.Maximum) // keeps NaN
	}
	f.fillUnder(covered)
	return f
}

// Part returns the cells of the surface that lie within a rectangle, which shares the values with the whole: a line that is cut goes on in the
// next part.
func (f Surface) Part(within Rect) Surface {
	rounding := 1e-6 * math.Max(within.X1-within.X0, within.Y1-within.Y0)
	i0, i1 := cellsWithin(f.xs, f.parts, within.X0-rounding, within.X1+rounding)
	j0, j1 := cellsWithin(f.ys, f.parts, within.Y0-rounding, within.Y1+rounding)
	nx, width := (len(f.xs)-1)/f.parts, len(f.xs)
	part := Surface{parts: f.parts, xs: f.xs[i0*f.parts : i1*f.parts+1], ys: f.ys[j0*f.parts : j1*f.parts+1]}
	for j := j0; j < j1; j++ {
		part.drawn = append(part.drawn, f.drawn[j*nx+i0:j*nx+i1]...)
	}
	for j := j0 * f.parts; j <= j1*f.parts; j++ {
		part.values = append(part.values, f.values[j*width+i0*f.parts:j*width+i1*f.parts+1]...)
	}
	return part
}

// cellsWithin returns the first cell whose ends are both within, and the one after the last; both equal where there is none.
func cellsWithin(at []float64, parts int, low, high float64) (from, to int) {
	n := (len(at) - 1) / parts
	for from < n && at[from*parts] < low {
		from++
	}
	for to = from; to < n && at[(to+1)*parts] <= high; {
		to++
	}
	return from, to
}

// nodes returns the positions of the lattice along one direction. The outer edges of the grid are half a cell out, but not beyond
// the ends.
func nodes(centres []float64, low, high float64, parts int) []float64 {
	n := len(centres)
	edges := make([]float64, n+1)
	for i := 1; i < n; i++ {
		edges[i] = (centres[i-1] + centres[i]) / 2
	}
	edges[0], edges[n] = low, high
	if n > 1 {
		rounding := 1e-6 * (high - low) // a grid of the whole room ends at its walls to the last bit
		if edge := centres[0] - (centres[1]-centres[0])/2; edge > low+rounding {
			edges[0] = edge
		}
		if edge := centres[n-1] + (centres[n-1]-centres[n-2])/2; edge < high-rounding {
			edges[n] = edge
		}
	}
	at := make([]float64, n*parts+1)
	half := parts / 2
	for i, c := range centres {
		for k := range half {
			share := float64(k) / float64(half)
			at[i*parts+k] = edges[i] + share*(c-edges[i])
			at[i*parts+half+k] = c + share*(edges[i+1]-c)
		}
	}
	at[n*parts] = edges[n]
	return at
}

// refine interpolates n values, step apart in src and in dst. Between neighbours it is cubic convolution, which meets the values and has
// no kinks; at the ends of a run of values, which NaN ends too, it carries the slope on for half a cell. Nodes in cells without a
// value become NaN unless they are at the end of a run.
//
// Source: R. G. Keys, Cubic convolution interpolation for digital image processing, 1981, from memory, unverified; that it is exact
// for straight lines and parabolas is tested.
func refine(dst, src []float64, n, step, parts int) {
	for q := range n*parts + 1 {
		dst[q*step] = math.NaN()
	}
	for from := 0; from < n; from++ {
		if math.IsNaN(src[from*step]) {
			continue
		}
		to := from
		for to+1 < n && !math.IsNaN(src[(to+1)*step]) {
			to++
		}
		value := func(i int) float64 {
			switch {
			case i >= from && i <= to:
				return src[i*step]
			case from == to:
				return src[from*step]
			case i < from:
				return src[from*step] + float64(from-i)*(src[from*step]-src[(from+1)*step])
			}
			return src[to*step] + float64(i-to)*(src[to*step]-src[(to-1)*step])
		}
		for q := from * parts; q <= (to+1)*parts; q++ {
			u := float64(q)/float64(parts) - 0.5 // in cells, from the centre of the first
			i := int(math.Floor(u))
			dst[q*step] = cubic(value(i-1), value(i), value(i+1), value(i+2), u-float64(i))
		}
		from = to
	}
}

// cubic returns the value at a share t of the way from b to c; a and d are the next values outside.
func cubic(a, b, c, d, t float64) float64 {
	return b + t/2*(c-a+t*(2*a-5*b+4*c-d+t*(3*(b-c)+d-a)))
}

// fillUnder draws the cells without a value that lie partly under a covered rectangle and next to cells with values. Nodes that they
// share with those have their values already; every other node takes that of the nearest of these.
func (f Surface) fillUnder(covered []Rect) {
	if len(covered) == 0 {
		return
	}
	nx, ny, p := (len(f.xs)-1)/f.parts, (len(f.ys)-1)/f.parts, f.parts
	type filling struct {
		node  int
		value float64
	}
	var fillings []filling // noted first, so that what is filled does not spread
	var cells []int
	for j := range ny {
		for i := range nx {
			cell := Rect{f.xs[i*p], f.ys[j*p], f.xs[(i+1)*p], f.ys[(j+1)*p]}
			if f.drawn[j*nx+i] || !slices.ContainsFunc(covered, cell.Overlaps) {
				continue
			}
			known := f.knownNodes(i, j)
			if len(known) == 0 {
				continue
			}
			cells = append(cells, j*nx+i)
			for k := range (p + 1) * (p + 1) {
				at := f.cellNode(i, j, k)
				if math.IsNaN(f.values[at]) {
					fillings = append(fillings, filling{at, f.values[f.nearest(at, known)]})
				}
			}
		}
	}
	for _, c := range cells {
		f.drawn[c] = true
	}
	for _, g := range fillings {
		if math.IsNaN(f.values[g.node]) {
			f.values[g.node] = g.value
		}
	}
}

// cellNode returns the k-th node of a cell, row by row.
func (f Surface) cellNode(i, j, k int) int {
	return (j*f.parts+k/(f.parts+1))*len(f.xs) + i*f.parts + k%(f.parts+1)
}

func (f Surface) knownNodes(i, j int) []int {
	var known []int
	for k := range (f.parts + 1) * (f.parts + 1) {
		if at := f.cellNode(i, j, k); !math.IsNaN(f.values[at]) {
			known = append(known, at)
		}
	}
	return known
}

func (f Surface) nearest(node int, among []int) int {
	width := len(f.xs)
	best, least := among[0], math.MaxInt
	for _, other := range among {
		dx, dy := other%width-node%width, other/width-node/width
		if d := dx*dx + dy*dy; d < least {
			best, least = other, d
		}
	}
	return best
}

// has tells whether the quad in column i and row j of the lattice is part of the map.
func (f Surface) has(i, j int) bool {
	if i < 0 || j < 0 || i >= len(f.xs)-1 || j >= len(f.ys)-1 {
		return false
	}
	nx := (len(f.xs) - 1) / f.parts
	return f.drawn[(j/f.parts)*nx+i/f.parts]
}
