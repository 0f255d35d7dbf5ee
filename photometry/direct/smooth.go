package direct

import (
	"context"
	"math"
	"slices"

	"lampswap/photometry/room"
)

const (
	cellsPerHeight = 10   // lattice cells in the distance of the nearest luminaire from the plane
	mostCells      = 40   // finer than that the lattice is given up
	interpolation  = 1e-3 // what interpolation may miss of the local value, half the 0.2 percent promised
	checks         = 192  // points at which that is checked
)

// A lattice lies in the plane of a grid: node (i, j) at u = u0 + i du, v = v0 + j dv from the grid's first point.
type lattice struct {
	u0, v0, du, dv float64
	nu, nv         int
	values         []float64
}

// smooth fills the values by interpolation between the nodes of a lattice, and tells whether it did: not where that would save
// nothing, nor where the check finds it wrong.
//
// The light of a luminaire at height h over a plane changes on the scale of h. Four-point interpolation on a step s misses
// about (s/h)^4 of it, 3e-4 at a tenth; the kinks of a candela table add as much.
func (e *Prepared) smooth(ctx context.Context, g room.Grid, values []float64) (bool, error) {
	height := e.clearance(g)
	if height <= 0 || g.NX < 2 || g.NY < 2 {
		return false, nil
	}
	for cells := float64(cellsPerHeight); cells <= mostCells; cells *= 2 {
		l := e.plan(g, height/cells)
		if l.nu*l.nv*2 > g.NX*g.NY {
			break
		}
		if err := e.nodes(ctx, g, l); err != nil {
			return false, err
		}
		if err := l.interpolate(ctx, g, values); err != nil {
			return false, err
		}
		if e.near(g, values) {
			return true, nil
		}
	}
	clear(values)
	return false, nil
}

// exact fills the values by kernels on a lattice that holds every point of the grid, and tells whether it did: not where the
// luminaires hang otherwise than in rows and columns, or where the points and their spacing have too little in common.
func (e *Prepared) exact(ctx context.Context, g room.Grid, values []float64) (bool, error) {
	partsU, partsV := 1, 1
	for k := range e.kinds {
		c, ok := e.kinds[k].comb(g)
		if !ok {
			return false, nil
		}
		partsU, partsV = parts(c.stepU, g.StepX, partsU), parts(c.stepV, g.StepY, partsV)
	}
	if partsU == 0 || partsV == 0 {
		return false, nil
	}
	l := &lattice{du: g.StepX / float64(partsU), dv: g.StepY / float64(partsV), nu: (g.NX-1)*partsU + 1, nv: (g.NY-1)*partsV + 1}
	if partsU*partsV*sharedCost*len(e.kinds) > e.lamps || l.nu*l.nv*sharedCost > mostShared {
		return false, nil
	}
	if err := e.nodes(ctx, g, l); err != nil {
		return false, err
	}
	for iy := range g.NY {
		for ix := range g.NX {
			values[iy*g.NX+ix] = l.values[iy*partsV*l.nu+ix*partsU]
		}
	}
	return true, nil
}

// A kernel covers four times the plane, as it reaches as far on either side of a luminaire.
const (
	sharedCost = 4
	mostShared = 1 << 25 // values of a kernel, a quarter of a GiB
)

// parts returns a number of parts, a multiple of the one given, that a grid's step must be cut into to divide a pitch; 0 if more than mostParts.
func parts(pitch, step float64, n int) int {
	for m := n; n > 0 && m <= mostParts; m += n {
		if whole(pitch / step * float64(m)) {
			return m
		}
	}
	return 0
}

const mostParts = 12

// clearance returns the least distance of a luminaire in front of the grid's plane; 0 if one reaches into the plane.
func (e *Prepared) clearance(g room.Grid) float64 {
	least := math.Inf(1)
	first := g.Point(0, 0)
	for k := range e.kinds {
		for i := range e.kinds[k].lamps {
			pose := &e.kinds[k].lamps[i].pose
			d := pose.at.Sub(first).Dot(g.Normal)
			r := pose.reach()
			depth := math.Abs(g.Normal.X)*r.X + math.Abs(g.Normal.Y)*r.Y + math.Abs(g.Normal.Z)*r.Z
			if d+depth <= 0 { // behind
				continue
			}
			least = min(least, d-depth)
		}
	}
	if math.IsInf(least, 1) {
		return 0
	}
	return max(0, least)
}

// plan lays a lattice over the grid with two more nodes on every side. If the first source hangs in rows and columns along the
// grid, its spacing is a multiple of the lattice's.
func (e *Prepared) plan(g room.Grid, step float64) *lattice {
	l := &lattice{du: step, dv: step}
	anchorU, anchorV := 0.0, 0.0
	if c, ok := e.kinds[0].comb(g); ok {
		anchorU, anchorV = c.u, c.v
		l.du, l.dv = fit(c.stepU, step), fit(c.stepV, step)
	}
	// at the least -2 nodes from the first point, at an offset from the anchor that is a whole number of steps
	first := math.Floor(-anchorU/l.du) - 2
	l.u0 = anchorU + first*l.du
	l.nu = int(math.Ceil((float64(g.NX-1)*g.StepX-l.u0)/l.du)) + 3
	first = math.Floor(-anchorV/l.dv) - 2
	l.v0 = anchorV + first*l.dv
	l.nv = int(math.Ceil((float64(g.NY-1)*g.StepY-l.v0)/l.dv)) + 3
	return l
}

// fit returns the largest whole part of a pitch that is at most the step.
func fit(pitch, step float64) float64 {
	if pitch == 0 {
		return step
	}
	return pitch / math.Ceil(pitch/step-1e-9)
}

// nodes computes the light at every node of the lattice.
func (e *Prepared) nodes(ctx context.Context, g room.Grid, l *lattice) error {
	l.values = make([]float64, l.nu*l.nv)
	for k := range e.kinds {
		one := Prepared{kinds: e.kinds[k : k+1]}
		c, ok := e.kinds[k].comb(g)
		if ok && c.n*c.m > 1 {
			ok = whole(c.stepU/l.du) && whole(c.stepV/l.dv)
		}
		if ok {
			if err := e.kinds[k].shared(ctx, g, l, c); err != nil {
				return err
			}
			continue
		}
		if err := one.rowByRow(ctx, l.grid(g, 0, 0, l.nu, l.nv), l.values); err != nil {
			return err
		}
	}
	return nil
}

func whole(x float64) bool { return math.Abs(x-math.Round(x)) < 1e-6 }

// grid returns nodes as a grid: n by m of them, the first of them i, j.
func (l *lattice) grid(g room.Grid, i, j, n, m int) room.Grid {
	sub := g
	sub.NX, sub.NY, sub.StepX, sub.StepY = n, m, l.du, l.dv
	at := g.Point(0, 0).Add(g.U.Scale(l.u0 + (float64(i)-0.5)*l.du)).Add(g.V.Scale(l.v0 + (float64(j)-0.5)*l.dv))
	sub.Origin = at
	return sub
}

// A comb is luminaires in n columns and m rows along a grid, all alike: the first one's place from the grid's first point, m.
type comb struct {
	u, v, stepU, stepV float64
	n, m               int
}

// comb tells whether the luminaires are alike in height and rotation and fill equally spaced columns and rows along the grid.
func (k *kind) comb(g room.Grid) (comb, bool) {
	if len(k.lamps) == 0 {
		return comb{}, false
	}
	us, vs := make([]float64, len(k.lamps)), make([]float64, len(k.lamps))
	first := g.Point(0, 0)
	for i := range k.lamps {
		a, b := &k.lamps[i].pose, &k.lamps[0].pose
		if a.rotation != b.rotation || math.Abs(a.at.Sub(b.at).Dot(g.Normal)) > sameplace {
			return comb{}, false
		}
		d := a.at.Sub(first)
		us[i], vs[i] = d.Dot(g.U), d.Dot(g.V)
	}
	c := comb{}
	var ok bool
	if c.u, c.stepU, c.n, ok = even(us); !ok {
		return comb{}, false
	}
	if c.v, c.stepV, c.m, ok = even(vs); !ok || c.n*c.m != len(k.lamps) {
		return comb{}, false
	}
	seen := make([]bool, c.n*c.m)
	for i := range us {
		a, b := index(us[i], c.u, c.stepU), index(vs[i], c.v, c.stepV)
		if seen[b*c.n+a] {
			return comb{}, false
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

// shared adds the light of luminaires in rows and columns by one kernel: that of a single luminaire at all offsets, which are
// whole numbers of nodes. Its sum over the columns is taken first, then over the rows.
func (k *kind) shared(ctx context.Context, g room.Grid, l *lattice, c comb) error {
	strideU, strideV := 1, 1
	if c.n > 1 {
		strideU = int(math.Round(c.stepU / l.du))
	}
	if c.m > 1 {
		strideV = int(math.Round(c.stepV / l.dv))
	}
	reachU, reachV := (c.n-1)*strideU, (c.m-1)*strideV
	width, height := l.nu+reachU, l.nv+reachV
	// kernel node (i, j) is the offset of lattice node (i - reachU, j - reachV) from the first luminaire
	single := Prepared{kinds: []kind{{field: k.field, refine: k.refine, lamps: k.lamps[:1]}}}
	first := k.lamps[0].pose.at.Sub(g.Point(0, 0))
	moved := *l
	moved.u0 += first.Dot(g.U) - c.u
	moved.v0 += first.Dot(g.V) - c.v
	kernel := make([]float64, width*height)
	if err := single.rowByRow(ctx, moved.grid(g, -reachU, -reachV, width, height), kernel); err != nil {
		return err
	}
	columns := make([]float64, l.nu*height)
	err := rows(ctx, height, func() func(int) {
		return func(j int) {
			dst := columns[j*l.nu : (j+1)*l.nu]
			for a := range c.n {
				src := kernel[j*width+reachU-a*strideU:]
				for i := range dst {
					dst[i] += src[i]
				}
			}
		}
	})
	if err != nil {
		return err
	}
	return rows(ctx, l.nv, func() func(int) {
		return func(j int) {
			dst := l.values[j*l.nu : (j+1)*l.nu]
			for b := range c.m {
				src := columns[(j+reachV-b*strideV)*l.nu:]
				for i := range dst {
					dst[i] += src[i]
				}
			}
		}
	})
}

// A tap is four-point interpolation at one place: from which node, with which weights.
type tap struct {
	at int
	w  [4]float64
}

func taps(n int, step, start, spacing float64, nodes int) []tap {
	all := make([]tap, n)
	for i := range all {
		x := (float64(i)*step - start) / spacing
		at := min(max(int(math.Floor(x))-1, 0), nodes-4)
		t := x - float64(at) - 1 // 0 to 1 between the middle two
		all[i] = tap{at, [4]float64{
			-t * (t - 1) * (t - 2) / 6, (t + 1) * (t - 1) * (t - 2) / 2, -(t + 1) * t * (t - 2) / 2, (t + 1) * t * (t - 1) / 6}}
	}
	return all
}

// interpolate fills the grid's values by cubics through four nodes (Lagrange), along the columns first, then along the rows.
func (l *lattice) interpolate(ctx context.Context, g room.Grid, values []float64) error {
	us, vs := taps(g.NX, g.StepX, l.u0, l.du, l.nu), taps(g.NY, g.StepY, l.v0, l.dv, l.nv)
	return rows(ctx, g.NY, func() func(int) {
		line := make([]float64, l.nu)
		return func(iy int) {
			v := &vs[iy]
			a, b := l.values[v.at*l.nu:(v.at+1)*l.nu], l.values[(v.at+1)*l.nu:(v.at+2)*l.nu]
			c, d := l.values[(v.at+2)*l.nu:(v.at+3)*l.nu], l.values[(v.at+3)*l.nu:(v.at+4)*l.nu]
			for i := range line {
				line[i] = v.w[0]*a[i] + v.w[1]*b[i] + v.w[2]*c[i] + v.w[3]*d[i]
			}
			dst := values[iy*g.NX : (iy+1)*g.NX]
			for i := range dst {
				u := &us[i]
				q := line[u.at : u.at+4 : u.at+4]
				dst[i] = max(0, u.w[0]*q[0]+u.w[1]*q[1]+u.w[2]*q[2]+u.w[3]*q[3])
			}
		}
	})
}

// near compares the values with the plain sum at points spread over the grid by an additive recurrence.
func (e *Prepared) near(g room.Grid, values []float64) bool {
	const stepX, stepY = 0.7548776662466927, 0.5698402909980532 // 1/p and 1/p², p³ = p + 1: even cover in two dimensions
	wrong := make([]bool, checks)
	err := rows(context.Background(), checks, func() func(int) {
		return func(i int) {
			_, x := math.Modf(0.5 + float64(i)*stepX)
			_, y := math.Modf(0.5 + float64(i)*stepY)
			ix, iy := int(x*float64(g.NX)), int(y*float64(g.NY))
			want := e.at(g.Point(ix, iy), g.Normal, nil)
			wrong[i] = math.Abs(values[iy*g.NX+ix]-want) > interpolation*want
		}
	})
	return err == nil && !slices.Contains(wrong, true)
}
