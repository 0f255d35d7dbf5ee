package photometry

import (
	"errors"
	"fmt"
	"math"
	"slices"
)

// A Distribution is the luminous intensity of a luminaire over all directions, cd. It never changes once made.
//
// Between the tabulated directions the intensity is linear in the vertical angle and linear in the horizontal angle;
// outside the tabulated vertical angles it is 0. At nadir and zenith the planes meet and their mean is used by the
// integrals, while a look-up takes the plane asked for.
type Distribution struct {
	planes   axis      // horizontal angles, rad, from 0 to 2π, both ends present
	angles   axis      // vertical angles, rad
	candela  []float64 // plane by plane, len(angles) values each; the last plane repeats the first
	quadrant bool      // mirrored about both the 0-180 and the 90-270 plane
}

// Tabulated angles must stay within this of the limits that a symmetric kind demands, degrees.
const angleTolerance = 1e-3

var errNoAngles = errors.New("photometry: a distribution needs at least one horizontal and two vertical angles")

// NewDistribution makes a distribution from a table in type C coordinates: candela[h][v] belongs to horizontalDeg[h] and
// verticalDeg[v], both in ascending degrees. The horizontal angles tell the symmetry, as in ANSI/IES LM-63:
//
//	0 alone    the same in every plane
//	0 to 90    mirrored about the 0-180 and the 90-270 plane
//	0 to 180   mirrored about the 0-180 plane
//	90 to 270  mirrored about the 90-270 plane
//	0 to 360   no symmetry; the closing 360 plane may be left out
//
// It errs if the angles are none of these, if they do not ascend, or if a candela is not finite and at least 0.
// It panics if the table has not the shape that the angles promise.
func NewDistribution(horizontalDeg, verticalDeg []float64, candela [][]float64) (*Distribution, error) {
	if len(candela) != len(horizontalDeg) {
		panic("photometry: candela rows do not match the horizontal angles")
	}
	for _, row := range candela {
		if len(row) != len(verticalDeg) {
			panic("photometry: candela columns do not match the vertical angles")
		}
	}
	if err := checkTable(horizontalDeg, verticalDeg, candela); err != nil {
		return nil, err
	}
	horizontalDeg, candela = withPlaneAt180(horizontalDeg, candela)
	full, rows, err := unfold(horizontalDeg)
	if err != nil {
		return nil, err
	}
	d := &Distribution{planes: newAxis(full), angles: newAxis(verticalDeg)}
	last := horizontalDeg[len(horizontalDeg)-1]
	d.quadrant = horizontalDeg[0] < angleTolerance && last < 90+angleTolerance
	d.candela = make([]float64, 0, len(rows)*len(verticalDeg))
	for _, r := range rows {
		d.candela = append(d.candela, candela[r]...)
	}
	return d, nil
}

func checkTable(horizontalDeg, verticalDeg []float64, candela [][]float64) error {
	if len(horizontalDeg) == 0 || len(verticalDeg) < 2 {
		return errNoAngles
	}
	if err := ascending("horizontal", horizontalDeg, 0, 360); err != nil {
		return err
	}
	if err := ascending("vertical", verticalDeg, 0, 180); err != nil {
		return err
	}
	for h, row := range candela {
		for v, c := range row {
			if !(c >= 0) || math.IsInf(c, 0) {
				return fmt.Errorf("photometry: candela %v at horizontal %v, vertical %v is not a finite number of at least 0",
					c, horizontalDeg[h], verticalDeg[v])
			}
		}
	}
	return nil
}

func ascending(name string, anglesDeg []float64, least, most float64) error {
	for i, a := range anglesDeg {
		if !(a >= least-angleTolerance && a <= most+angleTolerance) {
			return fmt.Errorf("photometry: %s angle %v is outside %v to %v degrees", name, a, least, most)
		}
		if i > 0 && !(a > anglesDeg[i-1]) {
			return fmt.Errorf("photometry: %s angle %v does not follow %v in ascending order", name, a, anglesDeg[i-1])
		}
	}
	return nil
}

// unfold lists the planes of the whole circle, from 0 to 360 degrees with both ends, and for each the row of the table that holds it.
func unfold(horizontalDeg []float64) (fullDeg []float64, rows []int, err error) {
	n := len(horizontalDeg)
	first, last := horizontalDeg[0], horizontalDeg[n-1]
	near := func(a, b float64) bool { return math.Abs(a-b) <= angleTolerance }
	add := func(deg float64, row int) {
		fullDeg, rows = append(fullDeg, deg), append(rows, row)
	}
	switch {
	case n == 1 && near(first, 0):
		return []float64{0, 360}, []int{0, 0}, nil
	case near(first, 0) && near(last, 90):
		for _, quarter := range []float64{0, 180} {
			for i := range n - 1 {
				add(quarter+horizontalDeg[i], i)
			}
			for i := n - 1; i > 0; i-- {
				add(quarter+180-horizontalDeg[i], i)
			}
		}
		add(360, 0)
	case near(first, 0) && near(last, 180):
		for i := range n - 1 {
			add(horizontalDeg[i], i)
		}
		for i := n - 1; i >= 0; i-- {
			add(360-horizontalDeg[i], i)
		}
	case near(first, 90) && near(last, 270):
		middle := slices.IndexFunc(horizontalDeg, func(a float64) bool { return near(a, 180) })
		for i := middle; i > 0; i-- { // 0 to 90 shows 180 to 90
			add(180-horizontalDeg[i], i)
		}
		for i := range n - 1 {
			add(horizontalDeg[i], i)
		}
		for i := n - 1; i >= middle; i-- { // 270 to 360 shows 270 to 180
			add(540-horizontalDeg[i], i)
		}
	case near(first, 0) && last > 180:
		if near(last, 360) {
			n--
		}
		for i := range n {
			add(horizontalDeg[i], i)
		}
		add(360, 0)
	default:
		return nil, nil, fmt.Errorf("photometry: horizontal angles from %v to %v degrees are none of 0 alone, 0-90, 0-180, 90-270, 0-360", first, last)
	}
	fullDeg[0], fullDeg[len(fullDeg)-1] = 0, 360
	return fullDeg, rows, nil
}

// withPlaneAt180 gives a 90-270 table the plane at 180 that its mirror image starts from, interpolated where it is missing.
func withPlaneAt180(horizontalDeg []float64, candela [][]float64) ([]float64, [][]float64) {
	n := len(horizontalDeg)
	if math.Abs(horizontalDeg[0]-90) > angleTolerance || math.Abs(horizontalDeg[n-1]-270) > angleTolerance {
		return horizontalDeg, candela
	}
	at := slices.IndexFunc(horizontalDeg, func(a float64) bool { return a > 180-angleTolerance })
	if horizontalDeg[at] < 180+angleTolerance {
		return horizontalDeg, candela
	}
	t := (180 - horizontalDeg[at-1]) / (horizontalDeg[at] - horizontalDeg[at-1])
	row := make([]float64, len(candela[at]))
	for v := range row {
		row[v] = (1-t)*candela[at-1][v] + t*candela[at][v]
	}
	return slices.Insert(slices.Clone(horizontalDeg), at, 180), slices.Insert(slices.Clone(candela), at, row)
}

// Intensity returns the luminous intensity, cd, at a horizontal angle (rad, any turn) and a vertical angle (rad from nadir, 0 to π);
// 0 outside the tabulated vertical angles.
func (d *Distribution) Intensity(horizontal, vertical float64) float64 {
	if !d.spans(vertical) {
		return 0
	}
	p, u := d.planes.locate(turned(horizontal))
	a, w := d.angles.locate(vertical)
	n := len(d.angles.values)
	lower, upper := d.candela[p*n+a:], d.candela[(p+1)*n+a:]
	return (1-u)*((1-w)*lower[0]+w*lower[1]) + u*((1-w)*upper[0]+w*upper[1])
}

// spans tells whether the table reaches to a vertical angle, beyond which there is no light.
func (d *Distribution) spans(vertical float64) bool {
	return vertical >= d.angles.values[0] && vertical <= d.angles.values[len(d.angles.values)-1]
}

// turned returns a horizontal angle within one turn from 0.
func turned(horizontal float64) float64 {
	if horizontal < 0 || horizontal >= 2*math.Pi {
		horizontal = math.Mod(horizontal, 2*math.Pi)
	}
	if horizontal < 0 {
		horizontal += 2 * math.Pi
	}
	return horizontal
}

// A Profile is a distribution in one half plane: what Intensity gives there, when many angles are asked for.
type Profile struct {
	distribution *Distribution
	candela      []float64 // at the vertical angles
}

// Profile returns the distribution in the half plane at a horizontal angle, rad, as Intensity takes it.
func (d *Distribution) Profile(horizontal float64) Profile {
	p, u := d.planes.locate(turned(horizontal))
	n := len(d.angles.values)
	candela := make([]float64, n)
	for a := range candela {
		candela[a] = (1-u)*d.candela[p*n+a] + u*d.candela[(p+1)*n+a]
	}
	return Profile{d, candela}
}

// Intensity returns the intensity, cd, at a vertical angle, rad from nadir.
func (p *Profile) Intensity(vertical float64) float64 {
	if !p.distribution.spans(vertical) {
		return 0
	}
	a, w := p.distribution.angles.locate(vertical)
	return (1-w)*p.candela[a] + w*p.candela[a+1]
}

// Scaled returns the distribution with every candela multiplied by the factor, which must be finite and at least 0: for lamps of
// other lumens, or for a ballast factor.
func (d *Distribution) Scaled(factor float64) *Distribution {
	scaled := *d
	scaled.candela = make([]float64, len(d.candela))
	for i, c := range d.candela {
		scaled.candela[i] = c * factor
	}
	return &scaled
}

// HorizontalAngles returns the planes of the whole circle, rad, ascending from 0 to 2π, both present.
func (d *Distribution) HorizontalAngles() []float64 {
	return append([]float64(nil), d.planes.values...)
}

// VerticalAngles returns the tabulated vertical angles, rad, ascending.
func (d *Distribution) VerticalAngles() []float64 { return append([]float64(nil), d.angles.values...) }

// Candela returns the tabulated intensity, cd, at HorizontalAngles()[h] and VerticalAngles()[v]; h and v must be
// places in those lists.
func (d *Distribution) Candela(h, v int) float64 { return d.candela[h*len(d.angles.values)+v] }

// QuadrantSymmetric tells whether the distribution is mirrored about the 0-180 and the 90-270 plane.
func (d *Distribution) QuadrantSymmetric() bool { return d.quadrant }

// Peak returns the largest tabulated intensity, cd.
func (d *Distribution) Peak() float64 {
	peak := 0.0
	for _, c := range d.candela {
		peak = math.Max(peak, c)
	}
	return peak
}
