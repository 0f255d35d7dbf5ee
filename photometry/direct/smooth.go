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
	latticeGain    = 8    // what shared kernels must save to have more nodes than points
	interpolation  = 1e-3 // what interpolation may miss of the local value, half the 0.2 percent promised
	checks         = 192  // points at which that is checked,
	feet           = 32   // and about as many below luminaires
)

// A lattice lies in the plane of a grid: node (i, j) at u = u0 + i du, v = v0 + j dv from the grid's first point.
type lattice struct {
	u0, v0, du, dv float64
	nu, nv         int
	values         []float64
}

// smooth fills the values by interpolation between the nodes of a lattice, and tells whether it did: not where that would save
// nothing, nor where it misses too much at some points.
//
// The light of a luminaire at height h over a plane changes on the scale of h. Four-point interpolation on a step s misses
// about (s/h)^4 of it, 3e-4 at a tenth; the kinks of a candela table add as much.
func (e *Prepared) smooth(ctx context.Context, g room.Grid, values []float64) (bool, error) {
	height := e.clearance(g)
	if height <= 0 || g.NX < 2 || g.NY < 2 {
		return false, nil
	}
	for cells := float64(cellsPerHeight); cells <= mostCells; cells *= 2 {
		step := height / cells
		if nodes := float64(g.NX-1) * g.StepX / step * (float64(g.NY-1) * g.StepY / step); nodes > mostShared {
			break // a luminaire that all but touches the plane could ask for more nodes than can be counted
		}
		l := e.plan(g, step)
		if e.owns(g, l) || l.nu*l.nv*2 > g.NX*g.NY && !e.kernels(g, l) {
			break
		}
		if err := e.nodes(ctx, g, l); err != nil {
			return false, err
		}
		if err := l.interpolate(ctx, g, values); err != nil {
			return false, err
		}
		missed, light, err := e.missed(ctx, g, values)
		if err != nil {
			return false, err
		}
		if everywhere(missed, light) {
			return true, nil
		}
	}
	clear(values)
	return false, nil
}

// fits tells whether luminaires hang in rows and columns whose spacing is a multiple of the lattice's.
func (l *lattice) fits(g room.Grid, k *kind) (comb, bool) {
	c, ok := k.comb(g)
	return c, ok && whole(c.stepU/l.du) && whole(c.stepV/l.dv)
}

// kernels tells whether all luminaires share kernels on a lattice, and these save enough.
func (e *Prepared) kernels(g room.Grid, l *lattice) bool {
	return !slices.ContainsFunc(e.layers(g), func(k kind) bool {
		c, ok := l.fits(g, &k)
		return !ok || !l.shares(g, &k, c, latticeGain)
	})
}

// owns tells whether all luminaires share kernels on a lattice of the grid's own points, where nothing is interpolated, and these are no
// larger than on another lattice.
func (e *Prepared) owns(g room.Grid, other *lattice) bool {
	return !slices.ContainsFunc(e.layers(g), func(k kind) bool {
		l, c := k.lattice(g)
		return l == nil || !l.shares(g, &k, c, sharedGain) || l.kernel(c) > other.kernel(c)
	})
}

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
	if c, ok := e.layers(g)[0].comb(g); ok {
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
	for _, k := range e.layers(g) {
		if c, ok := l.fits(g, &k); ok && l.kernel(c) <= mostShared {
			if err := k.shared(ctx, g, l, c, atPoints); err != nil {
				return err
			}
			continue
		}
		if err := atPoints(ctx, &k, l.grid(g, 0, 0, l.nu, l.nv), l.values); err != nil {
			return err
		}
	}
	return nil
}

// grid returns nodes as a grid: n by m of them, the first of them i, j.
func (l *lattice) grid(g room.Grid, i, j, n, m int) room.Grid {
	sub := g
	sub.NX, sub.NY, sub.StepX, sub.StepY = n, m, l.du, l.dv
	at := g.Point(0, 0).Add(g.U.Scale(l.u0 + (float64(i)-0.5)*l.du)).Add(g.V.Scale(l.v0 + (float64(j)-0.5)*l.dv))
	sub.Origin = at
	return sub
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

// everywhere tells whether interpolation misses next to nothing at each of some points.
func everywhere(missed, light []float64) bool {
	for i := range missed {
		if !(missed[i] <= interpolation*light[i]) {
			return false
		}
	}
	return true
}

// missed compares the values with the plain sum at points spread over the grid by an additive recurrence, and below luminaires, where
// the light bends most; those come last.
func (e *Prepared) missed(ctx context.Context, g room.Grid, values []float64) (missed, light []float64, err error) {
	const stepX, stepY = 0.7548776662466927, 0.5698402909980532 // 1/p and 1/p², p³ = p + 1: even cover in two dimensions
	places := make([][2]int, 0, checks+feet)
	for i := range checks {
		_, x := math.Modf(0.5 + float64(i)*stepX)
		_, y := math.Modf(0.5 + float64(i)*stepY)
		places = append(places, [2]int{int(x * float64(g.NX)), int(y * float64(g.NY))})
	}
	first := g.Point(0, 0)
	for k := range e.kinds {
		lamps := e.kinds[k].lamps
		every := len(lamps)*len(e.kinds)/feet + 1
		for i := 0; i < len(lamps); i += every {
			d := lamps[i].pose.at.Sub(first)
			ix, iy := math.Round(d.Dot(g.U)/g.StepX), math.Round(d.Dot(g.V)/g.StepY)
			places = append(places, [2]int{int(max(0, min(ix, float64(g.NX-1)))), int(max(0, min(iy, float64(g.NY-1))))})
		}
	}
	missed, light = make([]float64, len(places)), make([]float64, len(places))
	err = rows(ctx, len(places), func() func(int) {
		work := newWorkspace(len(e.shades))
		return func(i int) {
			ix, iy := places[i][0], places[i][1]
			light[i] = e.at(g.Point(ix, iy), g.Normal, work)
			missed[i] = math.Abs(values[iy*g.NX+ix] - light[i])
		}
	})
	return missed, light, err
}
