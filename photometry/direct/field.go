package direct

import (
	"math"

	"lampswap/photometry"
)

// A field is a distribution resampled for quick look-ups: on a cube, or, where its table is too fine for
// that, by angles.
type field struct {
	cube      *cubeMap
	polar     *polar
	areas     areaTables
	belowOnly bool // no light above the horizontal
	aboveOnly bool // none below it
	symmetric bool // the same on both sides of a lamp, and before and behind it
}

const finest = 2 * math.Pi / 180 // a step between vertical angles that a cube can follow, rad

func newField(d *photometry.Distribution) *field {
	angles := d.VerticalAngles()
	for i := 1; i < len(angles); i++ {
		if angles[i]-angles[i-1] < finest {
			p := newPolar(d)
			return &field{
				polar:     p,
				symmetric: d.QuadrantSymmetric(),
				aboveOnly: allZero(p.down),
				belowOnly: allZero(p.up),
			}
		}
	}
	c := newCubeMap(d)
	f := &field{
		cube:      c,
		symmetric: d.QuadrantSymmetric(),
		aboveOnly: allZero(c.panels[nadir]),
		belowOnly: allZero(c.panels[zenith]),
	}
	for side := sideX; side < panels; side += 2 {
		f.aboveOnly, f.belowOnly = f.aboveOnly && allZero(c.panels[side]), f.belowOnly && allZero(c.panels[side+1])
	}
	return f
}

func allZero[T float32 | float64](values []T) bool {
	for _, v := range values {
		if v != 0 {
			return false
		}
	}
	return true
}

// light returns I/d³, cd/m³, for one direction from a piece to a point, m, and its length d.
func (f *field) light(x, y, z, d float64) float64 {
	if f.cube != nil {
		return f.cube.light(x, y, z)
	}
	return f.polar.intensity(x, y, z, 1/d) / (d * d * d)
}

// allRound is the mean, over all ways that an upright surface may face, of its distance behind a piece as it
// faces it: light from behind a surface counts nothing, and the mean of a positive cosine over a turn is 1/π.
func allRound(x, y float64) float64 { return math.Sqrt(x*x+y*y) / math.Pi }

// addAllRound adds the cylindrical illuminance, lx, of one piece to a row of points.
func (f *field) addAllRound(dst []float64, t *track) {
	for i := range dst {
		k := float64(i)
		x, y, z := t.x+k*t.stepX, t.y+k*t.stepY, t.z+k*t.stepZ
		if d := math.Sqrt(x*x + y*y + z*z); d >= nearest {
			dst[i] += t.weight * allRound(x, y) * f.light(x, y, z, d)
		}
	}
}

// A track is a row of points as one piece sees it, in the luminaire's frame: the first point less the piece,
// and the step from point to point, m.
type track struct {
	x, y, z, stepX, stepY, stepZ float64
	facing, stepFacing           float64 // distance of the piece in front of the surface, m
	weight                       float64 // share of the luminaire
}

// add adds the illuminance, lx, of one piece to places along a row, in steps from its first point. It equals,
// place by place,
//
//	weight * I * facing / d³    where facing > 0
func (f *field) add(dst, at []float64, t *track) {
	if f.cube != nil {
		f.cube.add(dst, at, t)
		return
	}
	f.polar.add(dst, at, t)
}

// points are places along a row that are its points.
var points = func() (all [longBlock]float64) {
	for i := range all {
		all[i] = float64(i)
	}
	return all
}()
