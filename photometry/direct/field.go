package direct

import (
	"math"
	"sync"

	"lampswap/photometry"
	"lampswap/photometry/internal/crew"
)

// A field is a distribution resampled on an octahedron about the luminaire, so that a look-up needs two
// divisions and neither root nor angle. Of a direction (x, y, z) in the luminaire's frame let
//
//	s = |x| + |y| + |z|,   u = (|x| + |y|) / s,   v = |y| / (|x| + |y|)
//
// so that u goes from 0 straight down or up to 1 at the horizontal, and v from 0 along the lamps to 1 across
// them. The value on one of the eight faces is
//
//	T = I (s/d)³, cd    so that    E = I facing / d³ = T facing / s³
//
// It is bilinear between nodes. (s/d)³ bends by twelve times itself at most, which leaves 1e-4 of it; a
// table's kinks, at most 0.2 degrees from a node up or down and 0.9 around, leave less than 5e-4 of the peak.
//
// Source: octahedral map, Praun and Hoppe, SIGGRAPH 2003, from memory; here each face is cut like a polar
// grid, so that the horizontal and the planes of symmetry lie on nodes.
type field struct {
	faces     [8][]float64 // bit 0 is set for x < 0, bit 1 for y < 0, bit 2 for z > 0
	areas     areaTables
	belowOnly bool // no light above the horizontal
	aboveOnly bool // none below it
	symmetric bool // the same on both sides of a lamp, and before and behind it
}

const (
	faceRows    = 512             // intervals of u
	faceColumns = 128             // of v
	faceStride  = faceColumns + 2 // one more than the nodes, for what rounding puts beyond
	above       = 4               // the bit of faces above the horizontal
)

// nearest is how near a piece may come to a point before it counts as lying in it and gives no light, m:
// there is no direction then.
const nearest = 1e-9

const tiny = 1e-30 // m, added to what may be 0 and divides

func newField(d *photometry.Distribution) *field {
	f := &field{symmetric: d.QuadrantSymmetric()}
	var group crew.Group
	for i := range f.faces {
		if !f.symmetric || i&^above == 0 {
			group.Go(func() error {
				f.faces[i] = sampleFace(d, i)
				return nil
			})
		}
	}
	_ = group.Wait() // none errs
	f.belowOnly, f.aboveOnly = true, true
	for i := range f.faces {
		if f.symmetric {
			f.faces[i] = f.faces[i&above]
		}
		if dark := allZero(f.faces[i]); i&above != 0 {
			f.belowOnly = f.belowOnly && dark
		} else {
			f.aboveOnly = f.aboveOnly && dark
		}
	}
	return f
}

func allZero(values []float64) bool {
	for _, v := range values {
		if v != 0 {
			return false
		}
	}
	return true
}

// faceNodes are what the nodes of all faces have in common: angles from the vertical by rows and the columns'
// azimuths, rad, and (s/d)³.
type faceNodes struct {
	vertical, share [faceRows + 1][faceColumns + 1]float64
	azimuth         [faceColumns + 1]float64
}

var nodesOfFaces = sync.OnceValue(func() *faceNodes {
	n := &faceNodes{}
	for j := range n.vertical {
		u := float64(j) / faceRows
		for i := range n.azimuth {
			v := float64(i) / faceColumns
			level := u * math.Hypot(1-v, v)
			d := math.Hypot(1-u, level)
			n.azimuth[i], n.vertical[j][i] = math.Atan2(v, 1-v), math.Atan2(level, 1-u)
			n.share[j][i] = 1 / (d * d * d)
		}
	}
	return n
})

// sampleFace looks the distribution up at the nodes of a face.
func sampleFace(d *photometry.Distribution, face int) []float64 {
	values := make([]float64, (faceRows+2)*faceStride)
	angles := d.VerticalAngles()
	up := face&above != 0
	if up && angles[len(angles)-1] <= math.Pi/2 || !up && angles[0] > math.Pi/2 {
		return values
	}
	nodes := nodesOfFaces()
	for i := range faceStride { // node by node down a half plane
		at := min(i, faceColumns)
		horizontal := nodes.azimuth[at]
		if face&1 != 0 {
			horizontal = math.Pi - horizontal
		}
		if face&2 != 0 {
			horizontal = -horizontal
		}
		profile := d.Profile(horizontal)
		for j := range faceRows + 2 {
			from := min(j, faceRows)
			vertical := nodes.vertical[from][at]
			if up {
				vertical = math.Pi - vertical
				if from == faceRows { // a table that ends at the horizontal is dark just above it
					vertical += 1e-9
				}
			}
			values[j*faceStride+i] = profile.Intensity(vertical) * nodes.share[from][at]
		}
	}
	return values
}

// faceOf returns the face that a direction meets.
func faceOf(x, y, z float64) int {
	face := 0
	if x < 0 {
		face++
	}
	if y < 0 {
		face += 2
	}
	if z > 0 {
		face += above
	}
	return face
}

// light returns I/d³, cd/m³, for one direction from a piece to a point, m.
func (f *field) light(x, y, z float64) float64 {
	ax, ay := math.Abs(x), math.Abs(y)
	level := ax + ay + tiny
	s := level + math.Abs(z)
	if s < nearest {
		return 0
	}
	inverse := 1 / s
	u, v := level*inverse*faceRows, ay/level*faceColumns
	face := faceOf(x, y, z)
	iu, iv := int(u), int(v)
	u, v = u-float64(iu), v-float64(iv)
	near := f.faces[face][iu*faceStride+iv:]
	far := near[faceStride : faceStride+2]
	a, b := near[0], far[0]
	a += v * (near[1] - a)
	b += v * (far[1] - b)
	return (a + u*(b-a)) * inverse * inverse * inverse
}

// allRound is the mean, over all ways that an upright surface may face, of its distance behind a piece as it
// faces it: light from behind a surface counts nothing, and the mean of a positive cosine over a turn is 1/π.
func allRound(x, y float64) float64 { return math.Sqrt(x*x+y*y) / math.Pi }

// A track is a row of points as one piece sees it, in the luminaire's frame: the first point less the piece,
// and the step from point to point, m.
type track struct {
	x, y, z, stepX, stepY, stepZ float64
	facing, stepFacing           float64 // distance of the piece in front of the surface, m
	weight                       float64 // share of the luminaire
}

// add adds the illuminance, lx, of one piece to places along a row, in their order, in steps from its first
// point:
//
//	weight * I * facing / d³    where facing > 0
//
// The directions of a face and those before the surface are convex: what holds for the first and the last
// place holds for all between.
func (f *field) add(dst, at []float64, t *track) {
	if len(dst) == 0 {
		return
	}
	at = at[:len(dst)]
	first, last := at[0], at[len(at)-1]
	frontFirst, frontLast := t.facing+first*t.stepFacing > 0, t.facing+last*t.stepFacing > 0
	switch face := t.face(first); {
	case !frontFirst && !frontLast:
	case frontFirst && frontLast && face == t.face(last):
		f.run(dst, at, t, face)
	default:
		middle := len(dst) / 2
		f.add(dst[:middle], at[:middle], t)
		f.add(dst[middle:], at[middle:], t)
	}
}

// face returns the face that a place k steps on meets. Products are rounded (float64), so that a coordinate
// which grows or falls does so in its last bit too, and between two places of a face is of that face.
func (t *track) face(k float64) int {
	return faceOf(t.x+float64(k*t.stepX), t.y+float64(k*t.stepY), t.z+float64(k*t.stepZ))
}

// run adds places that see the piece through one face and from the front.
func (f *field) run(dst, at []float64, t *track, face int) {
	// the row as the face's own octant sees it, all coordinates positive
	values := f.faces[face]
	x, stepX, y, stepY, z, stepZ := t.x, t.stepX, t.y, t.stepY, -t.z, -t.stepZ
	if face&1 != 0 {
		x, stepX = -x, -stepX
	}
	if face&2 != 0 {
		y, stepY = -y, -stepY
	}
	if face&above != 0 {
		z, stepZ = -z, -stepZ
	}
	facing, stepFacing := t.weight*t.facing, t.weight*t.stepFacing
	for i, k := range at {
		x, y, z := x+float64(k*stepX), y+float64(k*stepY), z+float64(k*stepZ)
		level := x + y + tiny
		s := level + z
		if s < nearest {
			continue
		}
		// u and v by one division, then bilinear between four nodes
		inverse := 1 / (level * s)
		u, v := level*level*inverse*faceRows, y*s*inverse*faceColumns
		iu, iv := int(u), int(v)
		u, v = u-float64(iu), v-float64(iv)
		node := iu*faceStride + iv
		q := values[node : node+faceStride+2]
		a, b := q[0], q[faceStride]
		a += v * (q[1] - a)
		b += v * (q[faceStride+1] - b)
		inverse *= level
		dst[i] += (facing + k*stepFacing) * (a + u*(b-a)) * inverse * inverse * inverse
	}
}

// addAllRound adds the cylindrical illuminance, lx, of one piece to a row of points.
func (f *field) addAllRound(dst []float64, t *track) {
	for i := range dst {
		k := float64(i)
		x, y := t.x+k*t.stepX, t.y+k*t.stepY
		dst[i] += t.weight * allRound(x, y) * f.light(x, y, t.z+k*t.stepZ)
	}
}

// points are places along a row that are its points.
var points = func() (all [longBlock]float64) {
	for i := range all {
		all[i] = float64(i)
	}
	return all
}()
