package direct

import (
	"math"
	"sync"

	"lampswap/photometry/internal/crew"
	"lampswap/photometry/room"
)

// A summedArea is the summed-area table of a distribution before a plane: the flux of a piece through the
// rectangle between its foot on the plane and a corner x away along the plane's first axis, y along its
// second, both in distances h from the plane,
//
//	Φ(x, y) = ∫∫ I dΩ,   dΩ = dx dy / (1 + x² + y²)^(3/2)
//
// Any rectangle square to the axes gets Φ at its four corners, added and subtracted, however near the piece
// is: what one cell does not get its neighbor does, and all planes of a closed room together get the whole
// flux. Without h > 0 it is the limit: what is sent to the plane falls on the foot.
//
// Source: Crow, Summed-area tables for texture mapping, SIGGRAPH 1984, from memory; the solid angle of a
// rectangle over its corner is atan(xy / √(1 + x² + y²)). Nodes lie at even steps of t = x/(1 + x), from the
// foot to infinity.
type summedArea struct {
	quadrants [4][]float64 // lm; bit 0 is set for x > 0, bit 1 for y > 0; rows of y, from the foot
	dark      bool         // nothing is sent to the plane
}

const (
	areaNodes  = 64            // steps of a table
	areaStride = areaNodes + 1 // values of a row
)

// A facing is how a plane lies before luminaires of one rotation.
type facing struct {
	rotation     float64
	normal, u, v room.Vec
}

// areaTables are those of a distribution that were asked for.
type areaTables struct {
	mutex sync.Mutex
	known map[facing]*summedArea
}

// before returns the table of a field before a plane.
func (t *areaTables) before(f *field, plane facing) *summedArea {
	t.mutex.Lock()
	defer t.mutex.Unlock()
	table := t.known[plane]
	if table == nil {
		table = newSummedArea(f, plane)
		if t.known == nil {
			t.known = map[facing]*summedArea{}
		}
		t.known[plane] = table
	}
	return table
}

func newSummedArea(f *field, plane facing) *summedArea {
	a := &summedArea{}
	var group crew.Group
	mirror := f.mirrors(plane)
	for q := range a.quadrants {
		if q&mirror == mirror {
			group.Go(func() error {
				a.quadrants[q] = fillQuadrant(f, plane, q)
				return nil
			})
		}
	}
	_ = group.Wait() // none errs
	a.dark = true
	for q := range a.quadrants {
		a.quadrants[q] = a.quadrants[q|mirror]
		a.dark = a.dark && a.quadrants[q][areaStride*areaStride-1] == 0
	}
	return a
}

// mirrors returns the bits of quadrants that change nothing: those of an axis of the plane which goes along
// or across the lamps, where these send the same light to both sides.
func (f *field) mirrors(plane facing) int {
	p := newPose(room.Placement{Rotation: plane.rotation}, opening{})
	bits := 0
	for i, axis := range [2]room.Vec{plane.u, plane.v} {
		if x, y := p.local(axis); f.symmetric && axis.Z == 0 && (x == 0 || y == 0) {
			bits |= 1 << i
		}
	}
	return bits
}

// areaCells are what the cells of all tables have in common: of the four points of each (Gauss), in distances
// from the plane, where they are along an axis and the size of a step there; and each cell's solid angle over
// the sum of its points' shares of it.
type areaCells struct {
	along, step  [2 * areaNodes]float64
	solidToShare [areaNodes][areaNodes]float64
}

var cellsOfAreas = sync.OnceValue(func() *areaCells {
	c := &areaCells{}
	rule := rules()[2]
	for i := range c.along {
		c.along[i] = fromFoot((float64(i/2) + rule[i%2].x) / areaNodes)
		c.step[i] = (1 + c.along[i]) * (1 + c.along[i]) // dx = (1+x)² dt
	}
	var shares [areaNodes][areaNodes]float64
	for j, y := range c.along {
		for i, x := range c.along {
			square := 1 + x*x + y*y
			shares[j/2][i/2] += c.step[j] * c.step[i] / (square * math.Sqrt(square))
		}
	}
	node := func(i int) float64 { return fromFoot(float64(i) / areaNodes) }
	for j := range areaNodes {
		for i := range areaNodes {
			x0, x1, y0, y1 := node(i), node(i+1), node(j), node(j+1)
			solid := cornerAngle(x1, y1) - cornerAngle(x0, y1) - cornerAngle(x1, y0) + cornerAngle(x0, y0)
			c.solidToShare[j][i] = solid / shares[j][i]
		}
	}
	return c
})

// fillQuadrant adds up the flux of the cells between the nodes of one quadrant: of each its exact solid angle
// times the mean intensity of four points.
func fillQuadrant(f *field, plane facing, quadrant int) []float64 {
	p := newPose(room.Placement{Rotation: plane.rotation}, opening{})
	u, v := plane.u, plane.v
	if quadrant&1 == 0 {
		u = u.Scale(-1)
	}
	if quadrant&2 == 0 {
		v = v.Scale(-1)
	}
	c := cellsOfAreas()
	// a row of cells at a time; light is the intensity times (1 + x² + y²)^(-3/2), in the direction of a point
	// of the plane
	values := make([]float64, areaStride*areaStride)
	for j := range areaNodes {
		var row [areaNodes]float64
		for k := 2 * j; k < 2*j+2; k++ {
			from := v.Scale(c.along[k]).Sub(plane.normal)
			for i, x := range c.along {
				d := from.Add(u.Scale(x))
				lx, ly := p.local(d)
				row[i/2] += f.light(lx, ly, d.Z) * c.step[k] * c.step[i]
			}
		}
		sum := 0.0
		for i, light := range row {
			sum += light * c.solidToShare[j][i]
			values[(j+1)*areaStride+i+1] = values[j*areaStride+i+1] + sum
		}
	}
	return values
}

const endless = 1e8 // distances from the plane, in place of infinity

// fromFoot turns a place in the table into distances from the plane.
func fromFoot(t float64) float64 { return min(t/max(1-t, 1/endless), endless) }

// cornerAngle is the solid angle, sr, of a rectangle that a corner lies over, one unit away.
func cornerAngle(x, y float64) float64 { return math.Atan(x * y / math.Sqrt(1+x*x+y*y)) }

// A corner is where a border of cells stands in a table, on one axis: a cubic through four nodes (Lagrange).
type corner struct {
	at       int        // the first node
	positive int        // 1 beyond the foot, 0 before it
	w        [4]float64 // with the sign of its side
}

// cornerAt places a border d metres from the foot of a piece h before the plane.
func cornerAt(d, h float64) corner {
	sign, positive, away := 1.0, 1, d
	if d < 0 {
		sign, positive, away = -1, 0, -d
	}
	t := away / (away + h + math.SmallestNonzeroFloat64) * areaNodes
	at := min(max(int(t)-1, 0), areaNodes-3)
	t -= float64(at)
	a, b, c := t-1, t-2, t-3
	return corner{
		at,
		positive,
		[4]float64{-sign * a * b * c / 6, sign * t * b * c / 2, -sign * t * a * c / 2, sign * t * a * b / 6},
	}
}
