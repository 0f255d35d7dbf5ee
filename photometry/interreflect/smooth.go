package interreflect

import (
	"context"
	"math"
	"slices"

	"lampswap/photometry/room"
)

const (
	nodesPerHeight  = 4    // of the distance to the face before the grid, for the light of the walls
	growth          = 0.2  // by which the nodes thin out away from a wall
	closest         = 0.02 // of the height: the first step from a wall
	onWall          = 1e-5 // of the height: the first node, as a point in the wall's own plane does not see it
	interpolation   = 1e-3 // what interpolation may miss of the local value
	checks          = 96
	checkRefinement = 2 * emptyRefinement
)

// smooth computes a large horizontal grid at nodes and interpolates by cubics through four of them: the light
// of the face before it at nodes that follow that face's patches, the light of the walls at nodes that thin
// out away from them. It returns the solutions for which it could not, or that did not pass its check, as an
// emitters and their part of all.
func (o *emitters) smooth(ctx context.Context, g room.Grid, all [][]float64) (*emitters, [][]float64, error) {
	if math.Abs(g.Normal.Z) < 1 || g.U.X != 1 || g.V.Y != 1 || g.NX*g.NY < 2*checks {
		return o, all, nil
	}
	e := o.enclosure
	before, height := &e.faces[ceiling], e.room.Height-g.Origin.Z
	if g.Normal.Z < 0 {
		before, height = &e.faces[floor], g.Origin.Z
	}
	between := before.between(height)
	if between == 0 || min(len(before.us), len(before.vs)) < 4 {
		return o, all, nil
	}
	if err := o.walls(ctx, g, height, all); err != nil {
		return o, all, err
	}
	cast := o.planeIrradiance(before, height, between)
	first := g.Point(0, 0)
	tx, ty := taps(cast.us, g.NX, first.X, g.StepX), taps(cast.vs, g.NY, first.Y, g.StepY)
	for k := range all {
		if err := e.interpolate(ctx, all[k], cast.light[k], tx, ty, len(cast.us)); err != nil {
			return o, all, err
		}
	}
	return o.rough(ctx, g, all)
}

// walls writes the light of the walls alone, height m below or above the face before the grid.
func (o *emitters) walls(ctx context.Context, g room.Grid, height float64, all [][]float64) error {
	e := o.enclosure
	walls := o.of(o.surfaces[wallX0:], o.refinement)
	xs, ys := graded(e.room.Length, height), graded(e.room.Width, height)
	if len(xs)*len(ys)*2 > g.NX*g.NY || min(len(xs), len(ys)) < 4 {
		return walls.points(ctx, g.NX*g.NY, whole(gathering), all, func(i int) (p, normal room.Vec) {
			return g.Point(i%g.NX, i/g.NX), g.Normal
		})
	}
	nodes := make([][]float64, len(all))
	for k := range nodes {
		nodes[k] = make([]float64, len(xs)*len(ys))
	}
	err := walls.points(ctx, len(xs)*len(ys), whole(gathering), nodes, func(i int) (p, normal room.Vec) {
		return room.Vec{X: xs[i%len(xs)], Y: ys[i/len(xs)], Z: g.Origin.Z}, g.Normal
	})
	if err != nil {
		return err
	}
	first := g.Point(0, 0)
	tx, ty := taps(xs, g.NX, first.X, g.StepX), taps(ys, g.NY, first.Y, g.StepY)
	for k := range all {
		clear(all[k])
		if err := e.interpolate(ctx, all[k], nodes[k], tx, ty, len(xs)); err != nil {
			return err
		}
	}
	return nil
}

// interpolate adds to dst what lies between the nodes, along the columns first, then along the rows.
func (e *Enclosure) interpolate(ctx context.Context, dst, nodes []float64, tx, ty []tap, width int) error {
	lines := make([]float64, len(ty)*width)
	return e.blocks(ctx, len(ty), whole("interpolation"), func(iy int) {
		v, line := &ty[iy], lines[iy*width:(iy+1)*width]
		for k, w := range v.w {
			for i, x := range nodes[(v.at+k)*width : (v.at+k+1)*width] {
				line[i] += w * x
			}
		}
		for ix := range tx {
			u := &tx[ix]
			q := line[u.at : u.at+4]
			dst[iy*len(tx)+ix] += max(0, u.w[0]*q[0]+u.w[1]*q[1]+u.w[2]*q[2]+u.w[3]*q[3])
		}
	})
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
		all[i] = tap{at, lagrange(nodes[at:at+4], x)}
	}
	return all
}

// lagrange returns what the values at up to four nodes count in the polynomial through them at x (Lagrange's
// interpolation).
func lagrange(nodes []float64, x float64) (w [4]float64) {
	for k, node := range nodes {
		w[k] = 1
		for m, other := range nodes {
			if m != k {
				w[k] *= (x - other) / (node - other)
			}
		}
	}
	return w
}

// rough compares interpolated values with gathered ones at points spread over the grid, and returns the
// solutions that differ.
func (o *emitters) rough(ctx context.Context, g room.Grid, all [][]float64) (*emitters, [][]float64, error) {
	gathered, index := make([][]float64, len(all)), make([]int, checks)
	for k := range gathered {
		gathered[k] = make([]float64, checks)
	}
	for i := range index {
		_, x := math.Modf(0.5 + float64(i)*0.7548776662466927) // even cover in two dimensions, as in spread
		_, y := math.Modf(0.5 + float64(i)*0.5698402909980532)
		index[i] = int(y*float64(g.NY))*g.NX + int(x*float64(g.NX))
	}
	err := o.of(o.surfaces, checkRefinement).
		points(ctx, checks, whole("check"), gathered, func(i int) (p, normal room.Vec) {
			return g.Point(index[i]%g.NX, index[i]/g.NX), g.Normal
		})
	if err != nil {
		return o, all, err
	}
	var solutions []*Solution
	var differ [][]float64
	for k, light := range all {
		for i, want := range gathered[k] {
			if math.Abs(light[index[i]]-want) > interpolation*want {
				solutions, differ = append(solutions, o.solutions[k]), append(differ, light)
				break
			}
		}
	}
	if len(differ) > 0 && len(differ) < len(all) {
		o = o.enclosure.emitters(solutions)
	}
	return o, differ, nil
}
