package direct

import (
	"cmp"
	"context"
	"math"
	"slices"

	"lampswap/photometry/room"
)

// Luminaires alike in rows and columns have one kernel, the light of a single one at every offset, and their
// light is its sum over the columns, then over the rows. This is the one short cut of planes that no rack
// occluders: Scene.Plain switches it off, and a test holds it against what each luminaire gives by itself.

// exact fills the values layer by layer: by a kernel on a lattice that holds every point of the grid, if the
// luminaires of the layer hang in rows and columns and that saves enough, else luminaire by luminaire.
func (e *Prepared) exact(ctx context.Context, g room.Grid, values [][]float64) error {
	if !g.OneSurface() { // what is alike for a plane is not for its points
		return e.rowByRow(ctx, g, values)
	}
	for _, k := range e.layers(g) {
		l, c := k.lattice(g)
		if l == nil || !l.shares(g, &k, c, sharedGain) {
			if err := atPoints(ctx, &k, g, values); err != nil {
				return err
			}
			continue
		}
		nodes, err := k.shared(ctx, g, l, c, atPoints)
		if err != nil {
			return err
		}
		partsU, partsV := (l.nu-1)/max(g.NX-1, 1), (l.nv-1)/max(g.NY-1, 1)
		for n, nodes := range nodes {
			for iy := range g.NY {
				for ix := range g.NX {
					values[n][iy*g.NX+ix] += nodes[iy*partsV*l.nu+ix*partsU]
				}
			}
		}
	}
	return nil
}

// shares tells whether a kernel on a lattice, shared by luminaires in rows and columns, saves so many times
// its own values against each point and each luminaire by itself.
func (l *lattice) shares(g room.Grid, k *kind, c array, gain int) bool {
	return !k.plain && l.kernel(c) <= mostShared && l.kernel(c)*gain <= g.NX*g.NY*len(k.lamps)
}

// A lattice lies in the plane of a grid: node (i, j) at u = u0 + i du, v = v0 + j dv from the grid's first
// point.
type lattice struct {
	u0, v0, du, dv float64
	nu, nv         int
}

// grid returns nodes as a grid: n by m of them, the first of them i, j.
func (l *lattice) grid(g room.Grid, i, j, n, m int) room.Grid {
	sub := g
	sub.NX, sub.NY, sub.StepX, sub.StepY = n, m, l.du, l.dv
	at := g.Point(0, 0).Add(g.U.Scale(l.u0 + (float64(i)-0.5)*l.du)).Add(g.V.Scale(l.v0 + (float64(j)-0.5)*l.dv))
	sub.Origin = at
	return sub
}

const (
	sharedGain = 2       // a kernel must save this many times its own values
	mostShared = 1 << 25 // values of a kernel, a quarter of a GiB, and up to twice that for its sums
)

// lattice returns the coarsest lattice that holds all points of a grid and whose steps divide the spacing of
// the luminaires; nil if there is none or they do not hang in rows and columns.
func (k *kind) lattice(g room.Grid) (*lattice, array) {
	c, ok := k.array(g)
	if !ok {
		return nil, c
	}
	partsU, partsV := parts(c.stepU, g.StepX), parts(c.stepV, g.StepY)
	if partsU == 0 || partsV == 0 {
		return nil, c
	}
	return &lattice{
		du: g.StepX / float64(partsU),
		dv: g.StepY / float64(partsV),
		nu: (g.NX-1)*partsU + 1,
		nv: (g.NY-1)*partsV + 1,
	}, c
}

// kernel returns how many values the kernel of luminaires in rows and columns has: it reaches as far as they
// do on either side.
func (l *lattice) kernel(c array) int {
	strideU, strideV := l.strides(c)
	return (l.nu + (c.n-1)*strideU) * (l.nv + (c.m-1)*strideV)
}

// strides returns the luminaires' spacing in lattice steps; 1 for a single row or column.
func (l *lattice) strides(c array) (u, v int) {
	u, v = 1, 1
	if c.n > 1 {
		u = int(math.Round(c.stepU / l.du))
	}
	if c.m > 1 {
		v = int(math.Round(c.stepV / l.dv))
	}
	return u, v
}

// parts returns the number of parts that a grid's step must be cut into to divide a pitch; 0 if more than
// mostParts.
func parts(pitch, step float64) int {
	for m := 1; m <= mostParts; m++ {
		if whole(pitch / step * float64(m)) {
			return m
		}
	}
	return 0
}

const mostParts = 12

// layers splits the kinds by the distance of their luminaires from the plane of a grid and by their rotation:
// what differs in these cannot share a kernel.
func (e *Prepared) layers(g room.Grid) []kind {
	all := make([]kind, 0, len(e.kinds))
	first := g.Point(0, 0)
	for i := range e.kinds {
		k := &e.kinds[i]
		away := func(l *lamp) float64 { return l.pose.at.Sub(first).Dot(g.Normal) }
		alike := func(a, b *lamp) bool {
			return a.pose.rotation == b.pose.rotation && math.Abs(away(a)-away(b)) <= sameplace &&
				a.opening == b.opening && a.share == b.share && a.pose.cos == b.pose.cos
		}
		// all alike, as is usual
		if !slices.ContainsFunc(k.lamps, func(l lamp) bool { return !alike(&l, &k.lamps[0]) }) {
			all = append(all, *k)
			continue
		}
		// those alike one after the other
		sorted := slices.Clone(k.lamps)
		slices.SortStableFunc(sorted, func(a, b lamp) int {
			return cmp.Or(
				cmp.Compare(a.pose.rotation, b.pose.rotation),
				cmp.Compare(math.Round(away(&a)/sameplace), math.Round(away(&b)/sameplace)),
			)
		})
		for at := 0; at < len(sorted); {
			end := at + 1
			for end < len(sorted) && alike(&sorted[end], &sorted[at]) {
				end++
			}
			all = append(all, kind{k.optics, sorted[at:end], k.cell, k.plain})
			at = end
		}
	}
	return all
}

func whole(x float64) bool { return math.Abs(x-math.Round(x)) < 1e-6 }

// An array is luminaires in n columns and m rows along a grid, all alike: the first one's place from the
// grid's first point, m.
type array struct {
	u, v, stepU, stepV float64
	n, m               int
}

// array tells whether the luminaires are alike in height and rotation and fill equally spaced columns and
// rows along the grid.
func (k *kind) array(g room.Grid) (array, bool) {
	if len(k.lamps) == 0 {
		return array{}, false
	}
	// their places along the grid
	us, vs := make([]float64, len(k.lamps)), make([]float64, len(k.lamps))
	first := g.Point(0, 0)
	for i := range k.lamps {
		a, b := &k.lamps[i].pose, &k.lamps[0].pose
		if a.rotation != b.rotation || math.Abs(a.at.Sub(b.at).Dot(g.Normal)) > sameplace {
			return array{}, false
		}
		d := a.at.Sub(first)
		us[i], vs[i] = d.Dot(g.U), d.Dot(g.V)
	}
	// evenly spaced, and each column with each row once
	c := array{}
	var ok bool
	if c.u, c.stepU, c.n, ok = even(us); !ok {
		return array{}, false
	}
	if c.v, c.stepV, c.m, ok = even(vs); !ok || c.n*c.m != len(k.lamps) {
		return array{}, false
	}
	seen := make([]bool, c.n*c.m)
	for i := range us {
		a, b := index(us[i], c.u, c.stepU), index(vs[i], c.v, c.stepV)
		if seen[b*c.n+a] {
			return array{}, false
		}
		seen[b*c.n+a] = true
	}
	return c, true
}

const sameplace = 1e-6 // m

func index(x, first, step float64) int {
	if step == 0 {
		return 0
	}
	return int(math.Round((x - first) / step))
}

// even returns the first of the distinct values, their step and their number, if they are equally spaced.
func even(values []float64) (first, step float64, n int, ok bool) {
	sorted := slices.Clone(values)
	slices.Sort(sorted)
	sorted = slices.CompactFunc(sorted, func(a, b float64) bool { return math.Abs(b-a) < sameplace })
	n = len(sorted)
	first = sorted[0]
	if n == 1 {
		return first, 0, 1, true
	}
	step = (sorted[n-1] - first) / float64(n-1)
	for i, v := range sorted {
		if math.Abs(v-first-float64(i)*step) > sameplace {
			return 0, 0, 0, false
		}
	}
	return first, step, n, true
}

// A filler adds the light of luminaires to the values of a grid, in each scene.
type filler func(ctx context.Context, k *kind, g room.Grid, values [][]float64) error

func atPoints(ctx context.Context, k *kind, g room.Grid, values [][]float64) error {
	one := Prepared{kinds: []kind{*k}}
	return one.rowByRow(ctx, g, values)
}

func onCells(ctx context.Context, k *kind, g room.Grid, values [][]float64) error {
	return k.addFlux(ctx, g, values)
}

// shared returns the light of luminaires in rows and columns at the nodes of a lattice, in each scene, by one
// kernel: that of a single luminaire at all offsets, which are whole numbers of nodes. Kernel node (i, j) is
// the offset of lattice node (i, j) from the last luminaire of the last row.
func (k *kind) shared(
	ctx context.Context, g room.Grid, l *lattice, c array, fill filler,
) ([][]float64, error) {
	strideU, strideV := l.strides(c)
	reachU, reachV := (c.n-1)*strideU, (c.m-1)*strideV
	width, height := l.nu+reachU, l.nv+reachV
	first := k.lamps[0].pose.at.Sub(g.Point(0, 0))
	moved := *l
	moved.u0 += first.Dot(g.U) - c.u
	moved.v0 += first.Dot(g.V) - c.v
	offsets := moved.grid(g, -reachU, -reachV, width, height)
	all := make([][]float64, len(k.optics))
	for n := range all { // one after the other, as kernels are large
		single := kind{optics: k.optics[n : n+1], lamps: k.lamps[:1], cell: k.cell}
		kernel := make([]float64, width*height)
		err := fill(ctx, &single, offsets, [][]float64{kernel})
		if err == nil {
			all[n], err = l.sum(ctx, kernel, c)
		}
		if err != nil {
			return nil, err
		}
	}
	return all, nil
}

// sum adds up a kernel over the columns of luminaires, then over the rows: of two nodes a row of luminaires
// apart, the second has the rows of the first but for the one that leaves and the one that enters.
func (l *lattice) sum(ctx context.Context, kernel []float64, c array) ([]float64, error) {
	strideU, strideV := l.strides(c)
	reachV := (c.m - 1) * strideV
	width, height := l.nu+(c.n-1)*strideU, l.nv+reachV
	columns := make([]float64, l.nu*height)
	row := func(j int) []float64 { return columns[j*l.nu : (j+1)*l.nu] }
	err := rows(ctx, height, func() func(int) {
		return func(j int) { slide(row(j), kernel[j*width:(j+1)*width], strideU, c.n) }
	})
	if err != nil {
		return nil, err
	}
	nodes := make([]float64, l.nu*l.nv)
	return nodes, rows(ctx, min(strideV, l.nv), func() func(int) {
		line := make([]float64, l.nu)
		return func(j int) {
			clear(line)
			for b := range c.m {
				for i, x := range row(j + b*strideV) {
					line[i] += x
				}
			}
			for {
				for i, x := range line {
					nodes[j*l.nu+i] = max(0, x) // rounding leaves less than nothing in the dark
				}
				if j += strideV; j >= l.nv {
					return
				}
				enters, leaves := row(j+reachV), row(j-strideV)
				for i := range line {
					line[i] += enters[i] - leaves[i]
				}
			}
		}
	})
}

// slide writes sums of n values a stride apart: dst[i] = Σ src[i + a stride]. Each is the one a stride
// before, plus what enters, less what leaves.
func slide(dst, src []float64, stride, n int) {
	for i := range min(stride, len(dst)) {
		for a := range n {
			dst[i] += src[i+a*stride]
		}
	}
	for i := stride; i < len(dst); i++ {
		dst[i] = dst[i-stride] + src[i+(n-1)*stride] - src[i-stride]
	}
}
