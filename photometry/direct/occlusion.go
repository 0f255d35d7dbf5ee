package direct

import (
	"math"
	"slices"

	"lampswap/photometry/room"
)

// An occluder is a box that may stand between a luminaire and a point.
type occluder = room.Obstruction

// between appends the racks that may hide some of the luminaire from the point.
func between(some []occluder, l *lamp, p room.Vec, occluders []occluder) []occluder {
	for i := range occluders {
		if occluders[i].Grown(l.pose.reach()).Hides(p, l.pose.at) {
			some = append(some, occluders[i])
		}
	}
	return some
}

// reach returns half the extent of the opening along the room's axes: every sight line to the opening runs
// within this of the one to its centre, so a box grown by it hides the centre wherever the box hides
// anything.
func (p *pose) reach() room.Vec { return room.Vec{X: p.halfX, Y: p.halfY, Z: p.halfHigh} }

// Borders are the places across an opening, of its width 0 to 1, where its visible length may change its
// course.
type borders struct {
	n     int
	where [mostBorders]float64
}

// mostBorders is for 24 racks that cut one opening; more are taken as if each let its light through all or
// nothing.
const mostBorders = 144

// panel returns the stretch after border i-1 and before border i.
func (b *borders) panel(i int) (from, to float64) {
	from, to = 0, 1
	if i > 0 {
		from = b.where[i-1]
	}
	if i < b.n {
		to = b.where[i]
	}
	return from, to
}

// cross finds the borders: where racks cut the two ends of the opening and its middle. A rack's edge along
// the lamp is met exactly; one that runs askew has its corners there.
func (s *quadrature) cross() {
	s.borders.n = 0
	o := s.lamp.opening
	if len(s.occluders) == 0 || o.width == 0 {
		return
	}
	for i := -1.0; i <= 1; i++ {
		a := s.lamp.place(i*o.length/2, -o.width/2)
		b := s.lamp.place(i*o.length/2, o.width/2)
		for k := range s.occluders {
			if from, to, ok := s.occluders[k].Shadow(s.p, a, b); ok {
				s.borders.add(o.across(from))
				s.borders.add(o.across(to))
			}
		}
	}
	slices.Sort(s.borders.where[:s.borders.n])
}

func (b *borders) add(t float64) {
	for _, w := range b.where[:b.n] {
		if math.Abs(w-t) < 1e-6 {
			return
		}
	}
	if t > 1e-6 && t < 1-1e-6 && b.n < len(b.where) {
		b.where[b.n] = t
		b.n++
	}
}

// across turns a part of the width into the parameter that strip takes.
func (o opening) across(t float64) float64 {
	if !o.elliptic {
		return t
	}
	return 0.5 + math.Asin(max(-1, min(1, 2*t-1)))/math.Pi
}
