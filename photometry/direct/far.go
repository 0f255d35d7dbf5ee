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
	for i := range two { // as points
		two[i].opening = opening{}
		two[i].pose.measure(opening{})
	}
	two[0].pose.at, two[1].pose.at = middle.Sub(spread), middle.Add(spread)
	two[0].share, two[1].share = share/2, share/2
	return two
}
