package room

import (
	"cmp"
	"math"
	"slices"
)

// Obstructions are what racks leave of light, whether they stand apart, touch, cross or are listed twice.
// Along a line of sight let
//
//	τ(x)  the least transmittance of the racks that hold the place x; 1 outside all
//
// Then light passes by τ where it starts and by the ratio τ after / τ before wherever it enters a rack that
// is stricter than those in which it is already. So volume that racks share counts once, as the strictest of
// them, and racks that only touch count one after the other. The rule is the same from either end of the
// line. Source: our choice.
type Obstructions struct {
	// Racks are those that count, in their order: one that lies within another which lets no more through is
	// left out.
	Racks []Rack
	// Boxes are what sight lines meet: the light passes each that they cross by its share. The first are those
	// of Racks, one each; then come the joints of racks that touch, and the volumes that racks share, which pass
	// what has been taken twice (more than 1).
	Boxes []Obstruction
	*Solids
}

// An Obstruction is a box that lets a share of the light through.
type Obstruction struct {
	Box
	Passes float64
}

// NewObstructions returns what racks are to light.
func NewObstructions(racks []Rack) *Obstructions {
	o := &Obstructions{Racks: counting(racks), Solids: NewSolids(racks)}
	for i := range o.Racks {
		o.Boxes = append(o.Boxes, Obstruction{o.Racks[i].Sides(), o.Racks[i].Transmittance})
	}
	pairs := o.pairs()
	o.join(pairs)
	o.share(pairs)
	return o
}

// counting returns the racks but for those that lie within another which lets no more light through; of equal
// ones the first counts.
func counting(racks []Rack) []Rack {
	bounds := make([]Box, len(racks))
	for i := range racks {
		bounds[i] = racks[i].bounds()
	}
	within := func(a, b *Box) bool { return holds(b, a, 0) && holds(b, a, 1) && holds(b, a, 2) }
	idle := make([]bool, len(racks))
	Sweep(bounds, 0, func(i, j int) {
		switch {
		case racks[j].Transmittance >= racks[i].Transmittance && within(&bounds[j], &bounds[i]):
			idle[j] = true
		case racks[i].Transmittance >= racks[j].Transmittance && within(&bounds[i], &bounds[j]):
			idle[i] = true
		}
	})
	count := make([]Rack, 0, len(racks))
	for i := range racks {
		if !idle[i] {
			count = append(count, racks[i])
		}
	}
	return count
}

// Sweep goes over the pairs of boxes, the lower number first, whose extents along one axis of the plan come
// within a distance, m: along that on which they stand one after the other rather than side by side.
func Sweep(boxes []Box, within float64, visit func(i, j int)) {
	// the axis along which boxes are short for their extent in all
	var all Box
	var sum Vec
	for i, b := range boxes {
		if i == 0 {
			all = b
		}
		all = all.With(b.Low).With(b.High)
		sum = sum.Add(b.High.Sub(b.Low))
	}
	axis := 0
	if extent := all.High.Sub(all.Low); sum.X*extent.Y > sum.Y*extent.X {
		axis = 1
	}
	// in the order of their lower sides (sweep and prune)
	order := make([]int, len(boxes))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(
		order,
		func(i, j int) int { return cmp.Compare(boxes[i].Low.at(axis), boxes[j].Low.at(axis)) },
	)
	for n, i := range order {
		for _, j := range order[n+1:] {
			if boxes[j].Low.at(axis) > boxes[i].High.at(axis)+within {
				break
			}
			visit(min(i, j), max(i, j))
		}
	}
}

// Touching is how far apart two faces may be and count as one, m.
const Touching = 1e-6

// pairs returns the racks, two by two, that touch or share volume.
func (o *Obstructions) pairs() [][2]int {
	bounds := make([]Box, len(o.Racks))
	for i := range bounds {
		bounds[i] = o.Racks[i].bounds()
	}
	var all [][2]int
	Sweep(bounds, Touching, func(i, j int) {
		if bounds[i].Grown(touch).Meets(bounds[j]) {
			all = append(all, [2]int{i, j})
		}
	})
	slices.SortFunc(all, func(a, b [2]int) int { return cmp.Or(a[0]-b[0], a[1]-b[1]) })
	return all
}

var touch = Vec{Touching, Touching, Touching}

// join closes the slits between racks that touch and let nothing through, which their drawing in would leave:
// a side that lies wholly on another rack goes on into it; between two sides of which neither holds the other
// a thin box is put. A rack that lets light through stays as it is: a side of it, or of its neighbor, is lit
// through the other, and a box that went on would stand before it.
func (o *Obstructions) join(pairs [][2]int) {
	for _, p := range pairs {
		for axis := range 3 {
			o.joinAlong(axis, p[0], p[1])
			o.joinAlong(axis, p[1], p[0])
		}
	}
}

// joinAlong joins the high side of rack i to the low side of rack j.
func (o *Obstructions) joinAlong(axis, i, j int) {
	a, b := o.Racks[i].bounds(), o.Racks[j].bounds()
	inA, inB := graze*(a.High.at(axis)-a.Low.at(axis)), graze*(b.High.at(axis)-b.Low.at(axis))
	depth := a.High.at(axis) - b.Low.at(axis)
	if depth < -Touching || depth > Touching+2*(inA+inB) || o.Boxes[i].Passes > 0 || o.Boxes[j].Passes > 0 {
		return
	}
	from, to := a.High.at(axis)-2*inA, b.Low.at(axis)+2*inB
	switch u, v := (axis+1)%3, (axis+2)%3; {
	case holds(&b, &a, u) && holds(&b, &a, v):
		o.Boxes[i].High.set(axis, max(o.Boxes[i].High.at(axis), to))
	case holds(&a, &b, u) && holds(&a, &b, v):
		o.Boxes[j].Low.set(axis, min(o.Boxes[j].Low.at(axis), from))
	default:
		joint := o.Boxes[i].common(o.Boxes[j].Box)
		joint.Low.set(axis, from)
		joint.High.set(axis, to)
		o.Boxes = append(o.Boxes, Obstruction{joint, 0})
	}
}

// holds tells whether the extent of a box along an axis holds that of another.
func holds(a, b *Box, axis int) bool {
	return a.Low.at(axis) <= b.Low.at(axis) && a.High.at(axis) >= b.High.at(axis)
}

// common returns what two boxes have in common; its sides are the wrong way round where they have nothing.
func (b Box) common(o Box) Box {
	return Box{Vec{max(b.Low.X, o.Low.X), max(b.Low.Y, o.Low.Y), max(b.Low.Z, o.Low.Z)},
		Vec{min(b.High.X, o.High.X), min(b.High.Y, o.High.Y), min(b.High.Z, o.High.Z)}}
}

// at returns a coordinate by its number, X being 0.
func (a Vec) at(axis int) float64 { return [3]float64{a.X, a.Y, a.Z}[axis] }

func (a *Vec) set(axis int, x float64) { *[3]*float64{&a.X, &a.Y, &a.Z}[axis] = x }

// A term is a box that counts so often, with the loss -ln τ of its light.
type term struct {
	box  Box
	loss float64
}

// mostTerms bounds the volumes that are paid back; beyond, light behind racks which share them comes out too
// faint.
const mostTerms = 20_000

// share adds the volumes that racks which let light through have in common, by inclusion and exclusion: with
// the loss d = -ln τ of each, the losses along a line add up to
//
//	Σ over sets S of racks  (-1)^(|S|+1)  min d  over S,   where the line crosses what all of S have in common
//
// as the part of the line where the loss exceeds any value is a union of intervals, whose number that sum
// counts (Euler characteristic; our derivation). A rack that lets nothing through has no part in it: behind
// it there is no light to be paid back.
func (o *Obstructions) share(pairs [][2]int) {
	overlap := map[int]bool{}
	for _, p := range pairs {
		a, b := o.Racks[p[0]].bounds(), o.Racks[p[1]].bounds()
		if o.open(p[0]) && o.open(p[1]) && a.Grown(touch.Scale(-1)).Meets(b) {
			overlap[p[0]], overlap[p[1]] = true, true
		}
	}
	if len(overlap) == 0 {
		return
	}
	counts, order := o.terms(overlap)
	for i := range o.Racks { // each has its own place already
		if overlap[i] {
			counts[term{o.Boxes[i].Box, -math.Log(o.Boxes[i].Passes)}]--
		}
	}
	for _, t := range order {
		if n := counts[t]; n != 0 {
			o.Boxes = append(o.Boxes, Obstruction{t.box, math.Exp(-t.loss * float64(n))})
		}
	}
}

// terms returns the terms of the sum over those racks that overlap, in an order that is always the same, and
// how often each counts: each rack adds itself and takes away what it shares with every term before.
func (o *Obstructions) terms(overlap map[int]bool) (counts map[term]int, order []term) {
	counts = map[term]int{}
	add := func(t term, times int) {
		if _, known := counts[t]; !known {
			order = append(order, t)
		}
		counts[t] += times
	}
	for i := range o.Racks {
		if !overlap[i] {
			continue
		}
		box, loss := o.Boxes[i].Box, -math.Log(o.Boxes[i].Passes)
		more := map[term]int{}
		var found []term // in order
		for _, t := range order {
			both := t.box.common(box)
			if thin := both.High.Sub(both.Low); counts[t] != 0 && min(thin.X, thin.Y, thin.Z) > Touching {
				shared := term{both, min(t.loss, loss)}
				more[shared] -= counts[t]
				found = append(found, shared)
			}
		}
		for _, t := range found {
			add(t, more[t])
			more[t] = 0
		}
		add(term{box, loss}, 1)
		if len(order) > mostTerms {
			break
		}
	}
	return counts, order
}

// open tells whether a rack lets some light through and keeps some.
func (o *Obstructions) open(i int) bool { return o.Boxes[i].Passes > 0 && o.Boxes[i].Passes < 1 }
