package room

import "math"

// A Ray starts at a place and runs along a vector.
type Ray struct{ X, Y, Z Coordinate }

// A Coordinate is one of a ray: it starts at From and goes Towards, of which Inverse is 1 over.
type Coordinate struct{ From, Towards, Inverse float64 }

// NewRay returns a ray from a place along a vector.
func NewRay(from, towards Vec) Ray {
	return Ray{along(from.X, towards.X), along(from.Y, towards.Y), along(from.Z, towards.Z)}
}

func along(from, towards float64) Coordinate {
	return Coordinate{from, towards, 1 / (towards + 0)} // the inverse of -0 is that of 0
}

// At returns the place so many of its vectors along the ray.
func (r *Ray) At(t float64) Vec {
	return Vec{r.X.From + t*r.X.Towards, r.Y.From + t*r.Y.Towards, r.Z.From + t*r.Z.Towards}
}

// Chord returns where on its line, before its start too, a ray enters a box and leaves it before it has gone
// the given way, and along which axis it enters, X being 0. ok is false if the line misses the box. It is the
// slab method: inside a box is inside three pairs of sides. Source: Kay and Kajiya, SIGGRAPH 1986, from
// memory.
func (r *Ray) Chord(b *Box, way float64) (enter, leave float64, axis int, ok bool) {
	enter, leave = math.Inf(-1), way
	if !r.X.clip(b.Low.X, b.High.X, &enter, &leave) {
		return enter, leave, axis, false
	}
	before := enter
	if !r.Y.clip(b.Low.Y, b.High.Y, &enter, &leave) {
		return enter, leave, axis, false
	}
	if enter > before {
		before, axis = enter, 1
	}
	ok = r.Z.clip(b.Low.Z, b.High.Z, &enter, &leave)
	if enter > before {
		axis = 2
	}
	return enter, leave, axis, ok
}

// clip narrows the stretch of a ray to what lies between two sides, and tells whether anything is left.
func (c *Coordinate) clip(low, high float64, enter, leave *float64) bool {
	if c.Towards == 0 {
		return c.From >= low && c.From <= high
	}
	t0, t1 := (low-c.From)*c.Inverse, (high-c.From)*c.Inverse
	if t0 > t1 {
		t0, t1 = t1, t0
	}
	if t0 > *enter {
		*enter = t0
	}
	if t1 < *leave {
		*leave = t1
	}
	return *enter <= *leave
}
