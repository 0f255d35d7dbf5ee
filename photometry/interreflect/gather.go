package interreflect

import (
	"context"
	"math"
	"slices"

	"lampswap/photometry/room"
)

// Illuminance returns the initial interreflected illuminance, lx, at the points of a grid, row by row: value iy*NX+ix belongs to
// column ix and row iy. A point inside a rack is NaN. It errs with a *MemoryError and if the context is cancelled.
func (s *Solution) Illuminance(ctx context.Context, g room.Grid) ([]float64, error) {
	values := make([]float64, g.NX*g.NY)
	if s.enclosure.empty == nil {
		return values, s.sighted(ctx, g, values)
	}
	if done, err := s.smooth(ctx, g, values); done || err != nil {
		return values, err
	}
	return values, s.enclosure.blocks(ctx, len(values), "interreflected light", func(i int) {
		values[i] = s.at(g.Point(i%g.NX, i/g.NX), g.Normal)
	})
}

// sighted gathers along rays, which the enclosure keeps for the next system.
func (s *Solution) sighted(ctx context.Context, g room.Grid, values []float64) error {
	seen, err := s.enclosure.sights(ctx, g)
	if err != nil {
		return err
	}
	return s.enclosure.blocks(ctx, len(values), "interreflected light", func(i int) {
		if !s.enclosure.open(g.Point(i%g.NX, i/g.NX)) {
			values[i] = math.NaN()
			return
		}
		values[i] = seen.gather(i, s.exitance)
	})
}

func (e *Enclosure) sights(ctx context.Context, g room.Grid) (sightings, error) {
	e.mutex.Lock()
	defer e.mutex.Unlock()
	if s, ok := e.grids[g]; ok {
		return s, nil
	}
	if err := e.check("the sights", g.NX*g.NY, 4*int64(e.options.Rays), e.options.Rays); err != nil {
		return sightings{}, err
	}
	// the frame about the normal follows the grid, so that neighbours look alike and the result is smooth
	points := make([]room.Vec, g.NX*g.NY)
	free := make([]bool, len(points))
	for i := range points {
		points[i] = g.Point(i%g.NX, i/g.NX)
		free[i] = e.open(points[i])
	}
	directions := make([]room.Vec, e.options.Rays)
	for k := range directions {
		directions[k] = cosine(k, len(directions), 0, g.Normal, g.U, g.V)
	}
	s, err := e.look(ctx, len(points), "sights of the points", func(i, k, _ int) (from, towards room.Vec, ok bool) {
		return points[i], directions[k], free[i]
	})
	if err == nil {
		e.grids[g] = s
		e.stored += int64(len(s.patches)+len(s.weights)) * 4
	}
	return s, err
}

// sum prepares the sums of exitance over all patches up to a border, face by face, so that any block's mean is at hand.
func (s *Solution) sum() {
	e := s.enclosure
	sums := make([][]float64, len(e.faces))
	for i := range e.faces {
		f := &e.faces[i]
		w := f.columns() + 1
		sums[i] = make([]float64, w*(f.rows()+1))
		for b := range f.rows() {
			row := 0.0
			for a := range f.columns() {
				row += s.exitance[f.first+b*f.columns()+a]
				sums[i][(b+1)*w+a+1] = sums[i][b*w+a+1] + row
			}
		}
	}
	s.sums = sums
}

const (
	// A block whose sides are at most this part of its distance may count as one patch of its mean exitance,
	blockRatio = 0.6
	// if the exitance of its halves differs from the mean by no more than this part of it, over side and distance.
	blockSlope = 0.02
)

// at gathers the light of an empty room at one point: each block of patches by its exact configuration factor.
func (s *Solution) at(p, normal room.Vec) float64 {
	e := 0.0
	for i := range s.enclosure.faces {
		f := &s.enclosure.faces[i]
		e += s.block(f, s.sums[i], 0, f.columns(), 0, f.rows(), p, normal)
	}
	return e
}

// block gathers patches a0 to a1-1 by b0 to b1-1 of a face.
func (s *Solution) block(f *face, sums []float64, a0, a1, b0, b1 int, p, normal room.Vec) float64 {
	u0, u1, v0, v1 := f.us[a0], f.us[a1], f.vs[b0], f.vs[b1]
	if f.highest(u0, u1, v0, v1, p, normal) <= 0 {
		return 0 // all of it lies behind the plane of the point
	}
	w := f.columns() + 1
	total := func(a0, a1, b0, b1 int) float64 { return sums[b1*w+a1] - sums[b0*w+a1] - sums[b1*w+a0] + sums[b0*w+a0] }
	all := total(a0, a1, b0, b1)
	mean := all / float64((a1-a0)*(b1-b0))
	if a1-a0 > 1 || b1-b0 > 1 {
		du, dv := max(u0-along(p, f.u), 0, along(p, f.u)-u1), max(v0-along(p, f.v), 0, along(p, f.v)-v1)
		dn := along(p, f.normal) - f.at
		distance := math.Sqrt(du*du + dv*dv + dn*dn)
		am, bm := (a0+a1)/2, (b0+b1)/2
		coarse := func(side float64, half, patches int) bool {
			if side > blockRatio*distance {
				return true
			}
			uneven := math.Abs(total(a0, a0+half, b0, b0+patches)/float64(half*patches) - mean)
			return uneven*side > blockSlope*mean*distance
		}
		if a1-a0 > 1 && (u1-u0 >= v1-v0 || b1-b0 == 1) && coarse(u1-u0, am-a0, b1-b0) {
			return s.block(f, sums, a0, am, b0, b1, p, normal) + s.block(f, sums, am, a1, b0, b1, p, normal)
		}
		if b1-b0 > 1 && (v1-v0 > blockRatio*distance ||
			math.Abs(total(a0, a1, b0, bm)/float64((a1-a0)*(bm-b0))-mean)*(v1-v0) > blockSlope*mean*distance) {
			return s.block(f, sums, a0, a1, b0, bm, p, normal) + s.block(f, sums, a0, a1, bm, b1, p, normal)
		}
		if a1-a0 > 1 && coarse(u1-u0, am-a0, b1-b0) {
			return s.block(f, sums, a0, am, b0, b1, p, normal) + s.block(f, sums, am, a1, b0, b1, p, normal)
		}
	}
	corners := [4]room.Vec{f.point(u0, v0), f.point(u1, v0), f.point(u1, v1), f.point(u0, v1)}
	return mean * configuration(&corners, p, normal)
}

// highest returns how far the block reaches above the plane through the point, m.
func (f *face) highest(u0, u1, v0, v1 float64, p, normal room.Vec) float64 {
	nu, nv := along(normal, f.u), along(normal, f.v)
	u, v := u0, v0
	if nu > 0 {
		u = u1
	}
	if nv > 0 {
		v = v1
	}
	return nu*(u-along(p, f.u)) + nv*(v-along(p, f.v)) + along(normal, f.normal)*(f.at-along(p, f.normal))
}

const (
	nodesPerHeight = 4    // of the distance to the surface that the grid faces
	growth         = 0.2  // by which the nodes thin out away from a wall
	closest        = 0.02 // of the height: the first step from a wall
	onWall         = 1e-5 // of the height: the first node, as a point in the wall's own plane does not see it
	interpolation  = 1e-3 // what interpolation may miss of the local value
	checks         = 96
)

// smooth computes a large horizontal grid at nodes that thin out away from the walls, and interpolates by cubics through four of
// them. It tells whether that saved anything and passed its check.
func (s *Solution) smooth(ctx context.Context, g room.Grid, values []float64) (bool, error) {
	e := s.enclosure
	if math.Abs(g.Normal.Z) < 1 || g.U.X != 1 || g.V.Y != 1 {
		return false, nil
	}
	height := e.room.Height - g.Origin.Z
	if g.Normal.Z < 0 {
		height = g.Origin.Z
	}
	if height <= 0 {
		return false, nil
	}
	xs, ys := graded(e.room.Length, height), graded(e.room.Width, height)
	if len(xs)*len(ys)*2 > len(values) || len(xs) < 4 || len(ys) < 4 {
		return false, nil
	}
	nodes := make([]float64, len(xs)*len(ys))
	err := e.blocks(ctx, len(nodes), "interreflected light", func(i int) {
		nodes[i] = s.at(room.Vec{X: xs[i%len(xs)], Y: ys[i/len(xs)], Z: g.Origin.Z}, g.Normal)
	})
	if err != nil {
		return false, err
	}
	first := g.Point(0, 0)
	tx, ty := taps(xs, g.NX, first.X, g.StepX), taps(ys, g.NY, first.Y, g.StepY)
	err = e.blocks(ctx, g.NY, "interpolation", func(iy int) {
		v := &ty[iy]
		line := make([]float64, len(xs))
		for i := range line {
			for k, w := range v.w {
				line[i] += w * nodes[(v.at+k)*len(xs)+i]
			}
		}
		for ix := range g.NX {
			u := &tx[ix]
			q := line[u.at : u.at+4]
			values[iy*g.NX+ix] = max(0, u.w[0]*q[0]+u.w[1]*q[1]+u.w[2]*q[2]+u.w[3]*q[3])
		}
	})
	if err != nil {
		return false, err
	}
	return s.near(g, values), nil
}

// graded returns nodes from 0 to a length, close at both ends.
func graded(length, height float64) []float64 {
	half := []float64{0}
	step := closest * height
	for at := step; at < length/2; at += step {
		half = append(half, at)
		step = min(max(step, growth*at), height/nodesPerHeight)
	}
	nodes := slices.Clone(half)
	for _, from := range slices.Backward(half) {
		if x := length - from; x-nodes[len(nodes)-1] > closest*height/2 {
			nodes = append(nodes, x)
		}
	}
	nodes[0], nodes[len(nodes)-1] = onWall*height, length-onWall*height
	return nodes
}

// A tap is four-point interpolation at one place.
type tap struct {
	at int
	w  [4]float64
}

func taps(nodes []float64, n int, first, step float64) []tap {
	all := make([]tap, n)
	for i := range all {
		x := first + float64(i)*step
		at, _ := slices.BinarySearch(nodes, x)
		at = min(max(at-2, 0), len(nodes)-4)
		all[i].at = at
		for k := range 4 {
			w := 1.0
			for m := range 4 {
				if m != k {
					w *= (x - nodes[at+m]) / (nodes[at+k] - nodes[at+m])
				}
			}
			all[i].w[k] = w
		}
	}
	return all
}

// near compares interpolated values with the plain sum at points spread over the grid.
func (s *Solution) near(g room.Grid, values []float64) bool {
	wrong := make([]bool, checks)
	err := s.enclosure.blocks(context.Background(), checks, "check", func(i int) {
		_, x := math.Modf(0.5 + float64(i)*0.7548776662466927) // even cover in two dimensions, as in spread
		_, y := math.Modf(0.5 + float64(i)*0.5698402909980532)
		ix, iy := int(x*float64(g.NX)), int(y*float64(g.NY))
		want := s.at(g.Point(ix, iy), g.Normal)
		wrong[i] = math.Abs(values[iy*g.NX+ix]-want) > interpolation*want
	})
	return err == nil && !slices.Contains(wrong, true)
}
