package interreflect

import (
	"context"
	"math"
	"slices"
	"sync"

	"lampswap/photometry/room"
)

// A view is the surfaces of an empty room with the exitance of one or several solutions, ready to be gathered at points: each face is
// a tree of blocks of patches, halved again and again down to single patches.
type view struct {
	enclosure *Enclosure
	solutions []*Solution
	trees     []tree
}

// A tree has its nodes in the order in which they are met: a node, the tree of its first half, that of its second.
type tree struct {
	face  *face
	nodes []block
	means []float64 // lm/m², of each node for one solution after the other
	many  int       // solutions
}

// A block of patches counts as one patch of its mean exitance at points from a distance on.
type block struct {
	u0, u1, v0, v1 float64
	split          float64 // square of that distance, m²; 0 for a single patch
	next           int     // the node after all that belong to this one
}

const (
	// A block whose sides are at most this part of its distance may count as one patch of its mean exitance,
	blockRatio = 0.5
	// if the exitance of its halves differs from the mean by no more than this part of it, over side and distance. Both together leave
	// less than a thousandth against all patches one by one.
	blockSlope = 0.005
)

// view builds the trees, or hands out those built last if they are of the same solutions.
func (e *Enclosure) view(solutions []*Solution) *view {
	e.mutex.Lock()
	defer e.mutex.Unlock()
	if e.last != nil && slices.Equal(e.last.solutions, solutions) {
		return e.last
	}
	v := &view{enclosure: e, solutions: slices.Clone(solutions), trees: make([]tree, len(e.faces))}
	var wait sync.WaitGroup
	for i := range e.faces {
		wait.Go(func() { v.trees[i] = grow(&e.faces[i], solutions) })
	}
	wait.Wait()
	e.last = v
	return v
}

// A grower builds one tree from sums of exitance over all patches up to a border, so that any block's mean is at hand.
type grower struct {
	tree
	sums  [][]float64
	width int // of a row of sums
}

func grow(f *face, solutions []*Solution) tree {
	count := 2*f.columns()*f.rows() - 1
	g := grower{tree: tree{face: f, many: len(solutions), nodes: make([]block, 0, count), means: make([]float64, 0, count*len(solutions))},
		width: f.columns() + 1}
	for _, s := range solutions {
		sums := make([]float64, g.width*(f.rows()+1))
		for b := range f.rows() {
			row := 0.0
			for a := range f.columns() {
				row += s.exitance[f.first+b*f.columns()+a]
				sums[(b+1)*g.width+a+1] = sums[b*g.width+a+1] + row
			}
		}
		g.sums = append(g.sums, sums)
	}
	g.add(0, f.columns(), 0, f.rows())
	return g.tree
}

// mean returns the mean exitance of patches a0 to a1-1 by b0 to b1-1.
func (g *grower) mean(k, a0, a1, b0, b1 int) float64 {
	s, w := g.sums[k], g.width
	return (s[b1*w+a1] - s[b0*w+a1] - s[b1*w+a0] + s[b0*w+a0]) / float64((a1-a0)*(b1-b0))
}

// add appends the block of patches a0 to a1-1 by b0 to b1-1 and its halves.
func (g *grower) add(a0, a1, b0, b1 int) {
	f, at := g.face, len(g.nodes)
	n := block{u0: f.us[a0], u1: f.us[a1], v0: f.vs[b0], v1: f.vs[b1]}
	for k := range g.many {
		g.means = append(g.means, g.mean(k, a0, a1, b0, b1))
	}
	means := g.means[at*g.many:]
	am, bm := (a0+a1)/2, (b0+b1)/2
	splitU, splitV := 0.0, 0.0
	if a1-a0 > 1 {
		splitU = (n.u1 - n.u0) * g.sides(means, func(k, from, to int) float64 { return g.mean(k, a0+from, a0+to, b0, b1) }, a1-a0)
	}
	if b1-b0 > 1 {
		splitV = (n.v1 - n.v0) * g.sides(means, func(k, from, to int) float64 { return g.mean(k, a0, a1, b0+from, b0+to) }, b1-b0)
	}
	n.split = max(splitU, splitV) * max(splitU, splitV)
	g.nodes = append(g.nodes, n)
	switch {
	case splitU == 0 && splitV == 0:
	case splitU >= splitV:
		g.add(a0, am, b0, b1)
		g.add(am, a1, b0, b1)
	default:
		g.add(a0, a1, b0, bm)
		g.add(a0, a1, bm, b1)
	}
	g.nodes[at].next = len(g.nodes)
}

// sides returns how many of its sides away a block of n patches along that side must be: until then its length matters, or that its
// halves or quarters differ from its mean. Light that peaks in the middle shows in the quarters alone.
func (g *grower) sides(means []float64, mean func(k, from, to int) float64, n int) float64 {
	sides := 1 / blockRatio
	for k, whole := range means {
		if whole == 0 {
			continue
		}
		for _, parts := range []int{2, 4} {
			for p := range parts {
				if from, to := p*n/parts, (p+1)*n/parts; from < to {
					sides = max(sides, math.Abs(mean(k, from, to)-whole)/(blockSlope*whole))
				}
			}
		}
	}
	return sides
}

// points gathers all solutions at a number of points.
func (v *view) points(ctx context.Context, count int, step string, all [][]float64, place func(i int) (p, normal room.Vec)) error {
	return v.enclosure.blocks(ctx, count, step, func(i int) {
		var few [4]float64
		light := few[:]
		if len(all) > len(few) {
			light = make([]float64, len(all))
		}
		p, normal := place(i)
		v.at(p, normal, light[:len(all)])
		for k := range all {
			all[k][i] = light[k]
		}
	})
}

// at writes the light of all solutions at one point: each block by its configuration factor.
func (v *view) at(p, normal room.Vec, light []float64) {
	clear(light)
	for i := range v.trees {
		t := &v.trees[i]
		f := t.face
		u, w, n := along(p, f.u), along(p, f.v), along(p, f.normal)
		switch {
		case square1(along(normal, f.normal)):
			if h := (f.at - n) * along(normal, f.normal); h > 0 {
				t.facing(u, w, h, light)
			}
		case square1(along(normal, f.u)):
			t.standing(w, u, math.Abs(f.at-n), along(normal, f.u), true, light)
		case square1(along(normal, f.v)):
			t.standing(u, w, math.Abs(f.at-n), along(normal, f.v), false, light)
		default:
			t.tilted(p, normal, light)
		}
	}
	for k := range light {
		light[k] /= 2 * math.Pi
	}
}

// square1 tells whether a direction cosine is that of an axis, but for rounding.
func square1(cosine float64) bool { return math.Abs(cosine) > 1-1e-13 }

// take adds a node's light.
func (t *tree) take(node int, factor float64, light []float64) {
	for k, mean := range t.means[node*t.many : (node+1)*t.many] {
		light[k] += factor * mean
	}
}

// facing gathers a face parallel to the point's surface and h before it. Of a rectangle from x0, y0 to x1, y1 as seen from the
// point's foot (Howell, differential element to parallel rectangle):
//
//	2π C = ΔxΔy [ x/√(x²+h²) atan(y/√(x²+h²)) + y/√(y²+h²) atan(x/√(y²+h²)) ]
func (t *tree) facing(u, v, h float64, light []float64) {
	hh := h * h
	for i := 0; i < len(t.nodes); {
		n := &t.nodes[i]
		x0, x1, y0, y1 := n.u0-u, n.u1-u, n.v0-v, n.v1-v
		dx, dy := max(x0, -x1, 0), max(y0, -y1, 0)
		if dx*dx+dy*dy+hh < n.split {
			i++
			continue
		}
		a, b, c, d := math.Sqrt(x1*x1+hh), math.Sqrt(x0*x0+hh), math.Sqrt(y1*y1+hh), math.Sqrt(y0*y0+hh)
		t.take(i, x1/a*angle(y0, y1, a)-x0/b*angle(y0, y1, b)+y1/c*angle(x0, x1, c)-y0/d*angle(x0, x1, d), light)
		i = n.next
	}
}

// standing gathers a face square to the point's surface at a distance d; s is the point's place along both, z that along its normal,
// which points to the given side. Of a rectangle from s0 to s1 and z0 to z1 above the surface, as seen from the point's foot (Howell,
// differential element to perpendicular rectangle):
//
//	2π C = -Δz [ d/√(d²+z²) Δs atan(s/√(d²+z²)) ]
func (t *tree) standing(s, z, d, side float64, normalIsU bool, light []float64) {
	if d == 0 {
		return
	}
	for i := 0; i < len(t.nodes); {
		n := &t.nodes[i]
		s0, s1, z0, z1 := n.u0-s, n.u1-s, n.v0-z, n.v1-z
		if normalIsU {
			s0, s1, z0, z1 = n.v0-s, n.v1-s, n.u0-z, n.u1-z
		}
		if side < 0 {
			z0, z1 = -z1, -z0
		}
		if z1 <= 0 { // behind
			i = n.next
			continue
		}
		ds, dz := max(s0, -s1, 0), max(z0, 0)
		if ds*ds+dz*dz+d*d < n.split {
			i++
			continue
		}
		a, b := math.Sqrt(d*d+dz*dz), math.Sqrt(d*d+z1*z1)
		t.take(i, d/a*angle(s0, s1, a)-d/b*angle(s0, s1, b), light)
		i = n.next
	}
}

// tilted gathers a face for a surface that is neither parallel nor square to it.
func (t *tree) tilted(p, normal room.Vec, light []float64) {
	f := t.face
	h := f.at - along(p, f.normal)
	for i := 0; i < len(t.nodes); {
		n := &t.nodes[i]
		if f.highest(n, p, normal) <= 0 { // behind
			i = n.next
			continue
		}
		du, dv := max(n.u0-along(p, f.u), 0, along(p, f.u)-n.u1), max(n.v0-along(p, f.v), 0, along(p, f.v)-n.v1)
		if du*du+dv*dv+h*h < n.split {
			i++
			continue
		}
		corners := [4]room.Vec{f.point(n.u0, n.v0), f.point(n.u1, n.v0), f.point(n.u1, n.v1), f.point(n.u0, n.v1)}
		t.take(i, 2*math.Pi*configuration(&corners, p, normal), light)
		i = n.next
	}
}

// highest returns how far the block reaches above the plane through the point, m.
func (f *face) highest(n *block, p, normal room.Vec) float64 {
	nu, nv := along(normal, f.u), along(normal, f.v)
	u, v := n.u0, n.v0
	if nu > 0 {
		u = n.u1
	}
	if nv > 0 {
		v = n.v1
	}
	return nu*(u-along(p, f.u)) + nv*(v-along(p, f.v)) + along(normal, f.normal)*(f.at-along(p, f.normal))
}

// angle returns atan(to/r) - atan(from/r), by the arctangent's series where that is short: what it leaves out is below 4e-12.
func angle(from, to, r float64) float64 {
	y, x := (to-from)*r, r*r+from*to
	if y > longestArc*x {
		return math.Atan2(y, x)
	}
	q := y / x
	w := q * q
	if w < 0.01 {
		return q * (1 - w*(1.0/3-w*(1.0/5-w*(1.0/7-w*(1.0/9-w/11)))))
	}
	low := 1.0/3 - w*(1.0/5-w*(1.0/7-w*(1.0/9-w*(1.0/11))))
	high := 1.0/13 - w*(1.0/15-w*(1.0/17-w*(1.0/19-w*(1.0/21-w*(1.0/23)))))
	w5 := w * w * w * w * w
	return q * (1 - w*(low-w5*high))
}

const longestArc = 0.4
