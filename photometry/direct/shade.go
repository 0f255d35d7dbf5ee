package direct

import (
	"math"
	"slices"

	"lampswap/photometry/room"
)

// A shade is a box that may stand between a luminaire and a point.
type shade = room.Obstruction

// between appends the racks that may hide some of the luminaire from the point.
func between(some []shade, l *lamp, p room.Vec, shades []shade) []shade {
	for i := range shades {
		if shades[i].Grown(l.pose.reach()).Hides(p, l.pose.at) {
			some = append(some, shades[i])
		}
	}
	return some
}

// reach returns half the extent of the opening along the room's axes: every sight line to the opening runs within this of the
// one to its centre, so a box grown by it hides the centre wherever the box hides anything.
func (p *pose) reach() room.Vec { return room.Vec{X: p.halfX, Y: p.halfY, Z: p.halfHigh} }

// The racks that may cut one lamp; more are taken as if each let its light through all or nothing.
const mostCuts = 24

// A part is a stretch of a line of an opening, of its length 0 to 1, and the share of its light that passes.
type part struct{ from, to, passes float64 }

// A sightline is a line of an opening as a point sees it: stretches in order.
type sightline struct {
	n     int
	parts [2*mostCuts + 1]part
}

// look divides the line from a to b, seen from p, by the shadows of the racks.
func (s *sightline) look(p, a, b room.Vec, shades []shade) {
	s.n, s.parts[0] = 1, part{0, 1, 1}
	for i := range shades {
		if a == b {
			if shades[i].Hides(p, a) {
				s.dim(0, 1, shades[i].Passes)
			}
			continue
		}
		if from, to, ok := shades[i].Shadow(p, a, b); ok && s.lit(from, to) {
			s.dim(from, to, shades[i].Passes)
		}
	}
}

// lit tells whether any light passes between from and to.
func (s *sightline) lit(from, to float64) bool {
	for _, c := range s.parts[:s.n] {
		if c.passes > 0 && c.from < to && c.to > from {
			return true
		}
	}
	return false
}

// dim multiplies what passes between from and to.
func (s *sightline) dim(from, to, passes float64) {
	s.split(from)
	s.split(to)
	for i := range s.n {
		if s.parts[i].from >= from && s.parts[i].to <= to {
			s.parts[i].passes *= passes
		}
	}
}

// merge joins neighbouring stretches that pass alike, so that what a hidden edge divides is one.
func (s *sightline) merge() {
	kept := 0
	for _, c := range s.parts[1:s.n] {
		if c.passes == s.parts[kept].passes {
			s.parts[kept].to = c.to
			continue
		}
		kept++
		s.parts[kept] = c
	}
	s.n = kept + 1
}

// split makes t a border between two parts.
func (s *sightline) split(t float64) {
	for i := range s.n {
		if t <= s.parts[i].from || t >= s.parts[i].to {
			continue
		}
		if s.n == len(s.parts) {
			return
		}
		copy(s.parts[i+1:s.n+1], s.parts[i:s.n])
		s.parts[i].to, s.parts[i+1].from = t, t
		s.n++
		return
	}
}

// Borders are the places across an opening, of its width 0 to 1, where its visible length may change its course.
type borders struct {
	n     int
	where [6 * mostCuts]float64
}

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

// cross finds the borders: where racks cut the two ends of the opening and its middle. A rack's edge along the lamp is met
// exactly; one that runs askew has its corners there.
func (s *sum) cross() {
	o := s.lamp.opening
	if len(s.shades) == 0 || o.width == 0 {
		return
	}
	for i := -1.0; i <= 1; i++ {
		a := s.lamp.place(i*o.length/2, -o.width/2)
		b := s.lamp.place(i*o.length/2, o.width/2)
		for k := range s.shades {
			if from, to, ok := s.shades[k].Shadow(s.p, a, b); ok {
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
