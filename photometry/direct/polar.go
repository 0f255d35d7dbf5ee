package direct

import (
	"math"

	"lampswap/photometry"
	"lampswap/photometry/internal/crew"
)

// A polar is a distribution resampled so that a look-up needs no inverse trigonometry: by √(1 - |cos γ|),
// which is √2 sin(γ/2) and so runs evenly from the vertical to the horizontal, and by |y| / (|x| + |y|)
// within each quadrant of azimuth. It is bilinear between its nodes; against the distribution it is wrong
// only across the kinks of a coarse table, by less than a thousandth of a candela in one.
type polar struct {
	down, up []float32
	quadrant int // values of one quadrant, 0 if all four are alike
}

const (
	verticals = 1024 // intervals of the vertical coordinate
	azimuths  = 64   // in a quadrant
)

func newPolar(d *photometry.Distribution) *polar {
	f := &polar{}
	quadrants := 4
	if d.QuadrantSymmetric() {
		quadrants = 1
	}
	size := (verticals + 2) * (azimuths + 2)
	if quadrants == 4 {
		f.quadrant = size
	}
	f.down, f.up = make([]float32, quadrants*size), make([]float32, quadrants*size)
	var group crew.Group
	for q := range quadrants {
		group.Go(func() error {
			f.fill(f.down[q*size:(q+1)*size], d, q, false)
			return nil
		})
		group.Go(func() error {
			f.fill(f.up[q*size:(q+1)*size], d, q, true)
			return nil
		})
	}
	_ = group.Wait() // none errs
	return f
}

// fill samples one quadrant of one half-space. Quadrant 1 is mirrored in x, 2 in y, 3 in both.
func (f *polar) fill(values []float32, d *photometry.Distribution, quadrant int, above bool) {
	for i := range verticals + 1 {
		s := float64(i) / verticals
		vertical := math.Acos(1 - s*s)
		if above {
			vertical = math.Pi - vertical
			if i == verticals { // a table that ends at the horizontal is dark just above it
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
	last := verticals * (azimuths + 2)
	copy(values[last+azimuths+2:], values[last:last+azimuths+2])
}

// intensity looks one direction up, cd: from the piece to the point, in the luminaire's frame; inverse is 1
// over its length.
func (f *polar) intensity(x, y, z, inverse float64) float64 {
	values, c := f.down, -z*inverse
	if c < 0 {
		values, c = f.up, -c
	}
	u := math.Sqrt(max(0, 1-c)) * verticals
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

// add is field.add.
func (f *polar) add(dst, at []float64, t *track) {
	for i := range dst {
		k := at[i]
		facing := t.facing + k*t.stepFacing
		if facing <= 0 {
			continue
		}
		x, y, z := t.x+k*t.stepX, t.y+k*t.stepY, t.z+k*t.stepZ
		inverse := 1 / math.Sqrt(x*x+y*y+z*z)
		dst[i] += t.weight * f.intensity(x, y, z, inverse) * facing * inverse * inverse * inverse
	}
}
