package interreflect

import (
	"cmp"
	"math"
	"slices"

	"lampswap/photometry/room"
)

// A hit is where a ray meets a surface, so many m on.
type hit struct {
	t    float64
	face int
}

// first returns the patch that a ray meets first. A ray that starts on a face of a rack and leaves it does
// not meet that rack, nor does one that starts inside.
func (e *Enclosure) first(r *room.Ray) int { return e.patchAt(e.nearest(r), r) }

func (e *Enclosure) nearest(r *room.Ray) hit {
	h := e.wall(r)
	rack, side := int32(-1), 0
	e.solids.March(r, h.t, func(racks []int32, leaves float64) bool {
		for _, i := range racks {
			enter, leave, axis, ok := r.Chord(&e.solids.Boxes[i], h.t)
			if ok && enter > -touching && leave-enter >= thinnest {
				h.t, rack, side = enter, i, axis
			}
		}
		return h.t > leaves
	})
	if rack >= 0 {
		h.face = e.entered(int(rack), side, r)
	}
	return h
}

// through adds up all patches that a ray meets, with the part of the light that comes from there through the
// racks before, in the order of their distance: where it enters a rack that is stricter than those in which
// it stays, see room.Obstructions.
func (e *Enclosure) through(r *room.Ray, seen *accumulator) {
	wall := e.wall(r)
	passes := e.chords(r, wall.t, seen)
	// from one to the next, as long as light is left
	for i, c := range seen.chords {
		if passes <= faintest {
			return
		}
		if c.t < -touching {
			continue
		}
		before := 1.0
		for _, other := range seen.chords[:i] {
			if other.to > c.t+touching {
				before = min(before, other.passes)
			}
		}
		if c.passes < before {
			c.t = max(c.t, 0)
			seen.add(e.patchAt(c.hit, r), passes)
			passes *= c.passes / before
		}
	}
	if passes > faintest {
		seen.add(e.patchAt(wall, r), passes)
	}
}

// chords finds the racks that a ray crosses, in their order along it, and returns what passes those in which
// it starts.
func (e *Enclosure) chords(r *room.Ray, way float64, seen *accumulator) float64 {
	passes := 1.0
	seen.chords, seen.racks = seen.chords[:0], seen.racks[:0]
	e.solids.March(r, way, func(racks []int32, _ float64) bool {
		for _, i := range racks {
			if slices.Contains(seen.racks, i) {
				continue
			}
			seen.racks = append(seen.racks, i)
			if c, ok := e.crosses(int(i), r, way); ok && c.to >= touching {
				if c.t < -touching {
					passes = min(passes, c.passes)
				}
				seen.chords = append(seen.chords, c)
			}
		}
		return true
	})
	slices.SortFunc(seen.chords, func(a, b chord) int {
		return cmp.Or(cmp.Compare(a.t, b.t), cmp.Compare(a.passes, b.passes), cmp.Compare(a.face, b.face))
	})
	return passes
}

// faintest is the part of the light that counts behind racks; less is lost in the residual.
const faintest = 1e-4

func (e *Enclosure) patchAt(h hit, r *room.Ray) int {
	f, p := &e.faces[h.face], r.At(h.t)
	return f.locate(along(p, f.u), along(p, f.v))
}

// wall returns where a ray leaves the room.
func (e *Enclosure) wall(r *room.Ray) hit {
	h := hit{t: math.Inf(1)}
	try := func(c *room.Coordinate, far float64, low, high int) {
		t, face := (far-c.From)*c.Inverse, high
		if c.Towards < 0 {
			t, face = -c.From*c.Inverse, low
		}
		if t < h.t {
			h = hit{t, face}
		}
	}
	try(&r.X, e.room.Length, wallX0, wallX1)
	try(&r.Y, e.room.Width, wallY0, wallY1)
	try(&r.Z, e.room.Height, floor, ceiling)
	return h
}

// A chord is the stretch of a ray in a rack, from where it enters, and what that lets through.
type chord struct {
	hit
	to, passes float64
}

// thinnest is the shortest stretch in a rack that counts, m: one that a ray only grazes it does not enter.
const thinnest = 1e-9

// crosses returns the stretch of a ray's line in a rack before it has gone the given way.
func (e *Enclosure) crosses(rack int, r *room.Ray, before float64) (c chord, ok bool) {
	enter, leave, axis, ok := r.Chord(&e.solids.Boxes[rack], before)
	c = chord{hit{enter, e.entered(rack, axis, r)}, leave, e.racks[rack].Transmittance}
	return c, ok && leave-enter >= thinnest
}

// entered returns the face of a rack by which a ray enters it along an axis.
func (e *Enclosure) entered(rack, axis int, r *room.Ray) int {
	base := roomFaces + rack*rackSides
	switch {
	case axis == 0 && r.X.Towards > 0:
		return base + 1
	case axis == 0:
		return base + 2
	case axis == 1 && r.Y.Towards > 0:
		return base + 3
	case axis == 1:
		return base + 4
	case r.Z.Towards > 0:
		return e.under[rack]
	}
	return base
}
