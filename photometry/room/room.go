package room

import "math"

// Reflectances are the diffuse reflectances of the room's surfaces, 0 to 1.
type Reflectances struct{ Ceiling, Walls, Floor float64 }

// A Room is a room with a flat ceiling, m: all of its length by its width, or what its outline holds of it.
type Room struct {
	Length, Width, Height float64
	WorkPlane             float64 // height of the task plane above the floor
	Reflectance           Reflectances
	Outline               Outline // nil for a rectangular room
}

// A Rack is a box with its sides along x and y: Corner is its lowest corner nearest the origin, Size its
// extent, m. It stands on the floor, or hangs where its corner is above that.
type Rack struct {
	Corner, Size  Vec
	Reflectance   float64 // of its faces, diffuse, 0 to 1
	Transmittance float64 // share of light that passes it, 0 for a solid block
	Outside       bool    // it is none, but fills what lies outside a room's outline: see Room.Outside
}

// Hangs tells whether the rack does not stand on the floor, so that it has an underside.
func (r Rack) Hangs() bool { return r.Corner.Z > 0 }

// Far returns the corner opposite to Corner, snapped, so that a place which is the sum of the two on paper is
// so here.
func (r Rack) Far() Vec { return r.Corner.Add(r.Size).Snap() }

// Contains tells whether the point lies inside the rack. Its faces are not inside it.
func (r Rack) Contains(p Vec) bool {
	return r.inside().has(p)
}

// bounds is the rack as it stands.
func (r Rack) bounds() Box { return Box{r.Corner, r.Far()} }

// inside is the rack as a box whose inside is the rack's. It has no lowest height where the rack stands on
// the floor.
func (r Rack) inside() Box {
	b := r.bounds()
	if !r.Hangs() {
		b.Low.Z = math.Inf(-1)
	}
	return b
}

// has tells whether the point lies inside the box, its faces not being inside it.
func (b Box) has(p Vec) bool {
	return p.X > b.Low.X && p.X < b.High.X && p.Y > b.Low.Y && p.Y < b.High.Y && p.Z > b.Low.Z && p.Z < b.High.Z
}

// Sides returns the box between the room's surfaces.
func (r Room) Sides() Box { return Box{High: Vec{r.Length, r.Width, r.Height}} }
