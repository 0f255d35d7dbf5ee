package direct

import (
	"math"
	"sync"

	"lampswap/photometry"
)

// A field is a distribution resampled so that a look-up needs no inverse trigonometry: by √(1 - |cos γ|), which is √2 sin(γ/2)
// and so runs evenly from the vertical to the horizontal, and by |y| / (|x| + |y|) within each quadrant of azimuth.
// It is bilinear between its nodes; against the distribution it is wrong only across the kinks of a coarse table, by less than
// a thousandth of a candela in one.
type field struct {
	steps     int // intervals of the vertical coordinate
	down, up  []float32
	quadrant  int // values of one quadrant, 0 if all four are alike
	vertical  float64
	belowOnly bool // no light above the horizontal
	aboveOnly bool // none below it
}

const azimuths = 64 // intervals in a quadrant

func newField(d *photometry.Distribution) *field {
	f := &field{steps: 256}
	angles := d.VerticalAngles()
	for i := 1; i < len(angles); i++ {
		if angles[i]-angles[i-1] < 2*math.Pi/180 {
			f.steps = 1024
		}
	}
	quadrants := 4
	if d.QuadrantSymmetric() {
		quadrants = 1
	}
	size := (f.steps + 2) * (azimuths + 2)
	if quadrants == 4 {
		f.quadrant = size
	}
	f.vertical = float64(f.steps)
	f.down, f.up = make([]float32, quadrants*size), make([]float32, quadrants*size)
	var wait sync.WaitGroup
	for q := range quadrants {
		wait.Go(func() { f.fill(f.down[q*size:(q+1)*size], d, q, false) })
		wait.Go(func() { f.fill(f.up[q*size:(q+1)*size], d, q, true) })
	}
	wait.Wait()
	f.aboveOnly, f.belowOnly = allZero(f.down), allZero(f.up)
	return f
}

func allZero(values []float32) bool {
	for _, v := range values {
		if v != 0 {
			return false
		}
	}
	return true
}

// fill samples one quadrant of one half-space. Quadrant 1 is mirrored in x, 2 in y, 3 in both.
func (f *field) fill(values []float32, d *photometry.Distribution, quadrant int, above bool) {
	for i := range f.steps + 1 {
		s := float64(i) / f.vertical
		vertical := math.Acos(1 - s*s)
		if above {
			vertical = math.Pi - vertical
			if i == f.steps { // a table that ends at the horizontal is dark just above it
				vertical += 1e-9
			}
		}
		row := values[i*(azimuths+2):]
		for j := range azimuths + 1 {
			t := float64(j) / azimuths
			x, y := 1-t, t
			if quadrant&1 != 0 {
				x = -x
			}
			if quadrant&2 != 0 {
				y = -y
			}
			row[j] = float32(d.Intensity(math.Atan2(y, x), vertical))
		}
		row[azimuths+1] = row[azimuths]
	}
	last := f.steps * (azimuths + 2)
	copy(values[last+azimuths+2:], values[last:last+azimuths+2])
}

// intensity looks one direction up, cd: from the piece to the point, in the luminaire's frame; inverse is 1 over its length.
func (f *field) intensity(x, y, z, inverse float64) float64 {
	values, c := f.down, -z*inverse
	if c < 0 {
		values, c = f.up, -c
	}
	u := math.Sqrt(max(0, 1-c)) * f.vertical
	ax, ay := math.Abs(x), math.Abs(y)
	q := ay / (ax + ay + 1e-300) * azimuths
	at := 0
	if f.quadrant > 0 {
		if x < 0 {
			at = f.quadrant
		}
		if y < 0 {
			at += 2 * f.quadrant
		}
	}
	iu, iq := int(u), int(q)
	u, q = u-float64(iu), q-float64(iq)
	at += iu*(azimuths+2) + iq
	near, far := values[at:at+2:at+2], values[at+azimuths+2:at+azimuths+4:at+azimuths+4]
	a, b := float64(near[0]), float64(far[0])
	a += q * (float64(near[1]) - a)
	b += q * (float64(far[1]) - b)
	return a + u*(b-a)
}

// A track is a row of points as one piece sees it, in the luminaire's frame: the first point less the piece, and the step from
// point to point, m.
type track struct {
	x, y, z, stepX, stepY, stepZ float64
	facing, stepFacing           float64 // distance of the piece in front of the surface, m
	weight                       float64 // share of the luminaire
	least                        float64 // square of the least distance that counts, m²
}

// add adds the illuminance, lx, of one piece to a row of points. It equals, point by point,
//
//	weight * I * facing / d / max(d², least)    where facing > 0
func (f *field) add(dst []float64, t track) {
	for i := range dst {
		k := float64(i)
		facing := t.facing + k*t.stepFacing
		if facing <= 0 {
			continue
		}
		x, y, z := t.x+k*t.stepX, t.y+k*t.stepY, t.z+k*t.stepZ
		square := x*x + y*y + z*z
		inverse := 1 / math.Sqrt(square)
		dst[i] += t.weight * f.intensity(x, y, z, inverse) * facing * inverse / max(square, t.least)
	}
}
