package direct

import (
	"cmp"
	"math"
	"slices"

	"lampswap/photometry/room"
)

// A Tree holds the luminaires of a scene so that from far away several that hang close together count as one:
// a binary tree over their places, halved across its longer side, as of Barnes and Hut, Nature 324 (1986)
// 446-449.
type Tree struct {
	scene *Prepared
	roots [][]*branch // of each kind, one for each height and rotation
}

// A branch is luminaires that hang close together.
type branch struct {
	box    room.Box // about their openings
	middle room.Vec
	share  float64
	// One or two, or two that stand for all: half of their light each, as far apart as they are spread in the
	// mean.
	lamps []lamp
	parts [2]*branch
}

const (
	// asOne is how large luminaires together may be, as a part of their distance, to count as one.
	asOne = 0.5
	// missed is what those that count as one may give at a grid, times that part, of what all luminaires would
	// give there if they sent their light evenly and nothing stood between: shadows of many lie closer together
	// than so many times their light can tell.
	missed = 1e-3
)

// Tree puts the luminaires into a tree.
func (e *Prepared) Tree() *Tree {
	t := &Tree{scene: e, roots: make([][]*branch, len(e.kinds))}
	for i, k := range e.kinds {
		lamps := slices.Clone(k.lamps)
		order := func(a, b lamp) int {
			return cmp.Or(cmp.Compare(a.pose.at.Z, b.pose.at.Z), cmp.Compare(a.pose.rotation, b.pose.rotation))
		}
		slices.SortStableFunc(lamps, order)
		for len(lamps) > 0 {
			n := 1
			for n < len(lamps) && order(lamps[n], lamps[0]) == 0 {
				n++
			}
			t.roots[i] = append(t.roots[i], newBranch(lamps[:n]))
			lamps = lamps[n:]
		}
	}
	return t
}

// newBranch halves luminaires at the middle one, which it puts in order.
func newBranch(lamps []lamp) *branch {
	b := &branch{box: lamps[0].box(), lamps: lamps}
	for i := range lamps {
		own := lamps[i].box()
		b.box = b.box.With(own.Low).With(own.High)
		b.middle, b.share = b.middle.Add(lamps[i].pose.at.Scale(lamps[i].share)), b.share+lamps[i].share
	}
	b.middle = b.middle.Scale(1 / b.share)
	if len(lamps) == 1 {
		return b
	}
	if len(lamps) > 2 {
		b.lamps = pair(lamps, b.middle, b.share)
	}
	along := func(p room.Vec) float64 { return p.X }
	if size := b.box.High.Sub(b.box.Low); size.Y > size.X {
		along = func(p room.Vec) float64 { return p.Y }
	}
	slices.SortStableFunc(lamps, func(a, b lamp) int { return cmp.Compare(along(a.pose.at), along(b.pose.at)) })
	b.parts = [2]*branch{newBranch(lamps[:len(lamps)/2]), newBranch(lamps[len(lamps)/2:])}
	return b
}

// A view is the cells of a grid as luminaires see them.
type view struct {
	cells  room.Box
	middle room.Vec
	normal room.Vec
	all    float64 // light of all luminaires, 1 cd each
}

// pair returns two luminaires with the light, the middle and the variances along both axes of many. All
// errors of second order but that of the axes' covariance, which has either sign, are gone.
func pair(lamps []lamp, middle room.Vec, share float64) []lamp {
	spread := room.Vec{}
	for i := range lamps {
		d, part := lamps[i].pose.at.Sub(middle), lamps[i].share/share
		spread.X, spread.Y = spread.X+part*d.X*d.X, spread.Y+part*d.Y*d.Y
	}
	spread.X, spread.Y = math.Sqrt(spread.X), math.Sqrt(spread.Y)
	two := []lamp{lamps[0], lamps[0]}
	two[0].pose.at, two[1].pose.at = middle.Sub(spread), middle.Add(spread)
	two[0].share, two[1].share = share/2, share/2
	return two
}

// Toward returns the scene as the cells of a grid see it: without what lies behind its plane, and with
// luminaires that are far from all of it and give little counted together.
func (t *Tree) Toward(g room.Grid) *Prepared {
	seen := *t.scene
	seen.kinds, seen.lamps = nil, 0
	v := view{cells: sheetOf(g), normal: g.Normal}
	v.middle = v.cells.Low.Add(v.cells.High).Scale(0.5)
	for _, roots := range t.roots {
		for _, b := range roots {
			v.all += v.sum(b)
		}
	}
	for i, k := range t.scene.kinds {
		var lamps []lamp
		for _, b := range t.roots[i] {
			lamps = v.choose(lamps, b, !k.plain)
		}
		if len(lamps) > 0 {
			seen.kinds = append(seen.kinds, kind{k.optics, lamps, k.cell, k.plain})
			seen.lamps += len(lamps)
		}
	}
	return &seen
}

// extent returns how large a branch is and how near to the cells, squared, m², and by how much it lies before
// their plane, at least and at most.
func (v *view) extent(b *branch) (size, distance, least, most float64) {
	d := b.box.High.Sub(b.box.Low)
	before := b.box.Low.Add(d.Scale(0.5)).Sub(v.middle).Dot(v.normal)
	depth := (math.Abs(v.normal.X)*d.X + math.Abs(v.normal.Y)*d.Y + math.Abs(v.normal.Z)*d.Z) / 2
	return d.Dot(d), v.cells.SquareGap(b.box), before - depth, before + depth
}

// light is that of a branch of 1 cd each at the middle of the cells.
func (v *view) light(b *branch) float64 {
	d := b.middle.Sub(v.middle)
	square := d.Dot(d)
	return b.share * max(0, d.Dot(v.normal)) / (square * math.Sqrt(square))
}

// sum adds up the light of all luminaires of a branch.
func (v *view) sum(b *branch) float64 {
	size, distance, least, most := v.extent(b)
	switch {
	case most <= 0:
		return 0
	case b.parts[0] == nil, least >= 0 && size <= asOne*asOne*distance:
		return v.light(b)
	}
	return v.sum(b.parts[0]) + v.sum(b.parts[1])
}

// choose appends the luminaires of a branch, as many together as may be, if any.
func (v *view) choose(some []lamp, b *branch, together bool) []lamp {
	size, distance, least, most := v.extent(b)
	switch {
	case most <= 0:
		return some
	case b.parts[0] == nil,
		together && least >= 0 && size <= asOne*asOne*distance &&
			v.light(b)*math.Sqrt(size/distance) <= missed*v.all:
		return append(some, b.lamps...)
	}
	return v.choose(v.choose(some, b.parts[0], together), b.parts[1], together)
}

// sheetOf is the box about the cells of a grid.
func sheetOf(g room.Grid) room.Box {
	x, y := g.U.Scale(float64(g.NX)*g.StepX), g.V.Scale(float64(g.NY)*g.StepY)
	corner := room.Box{Low: g.Origin, High: g.Origin}
	return corner.With(g.Origin.Add(x)).With(g.Origin.Add(y)).With(g.Origin.Add(x).Add(y))
}
