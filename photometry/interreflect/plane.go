package interreflect

import (
	"math"
	"runtime"
)

// A planeIrradiance is the light of one face in a plane parallel to it: nodes stand below the borders of its
// patches and, where the plane is near, between them.
type planeIrradiance struct {
	us, vs []float64   // of the nodes
	light  [][]float64 // lx, by solution, u within v
}

const (
	nodePitch   = 1.0 / 8 // of the distance, between two nodes at most
	mostBetween = 8       // nodes a patch along each side
)

// between returns into how many parts the nodes of a plane at distance h cut the sides of a patch; 0 if they
// would be too many.
func (f *face) between(h float64) int {
	du, dv := f.steps()
	n := math.Ceil(max(du, dv)/(nodePitch*h) - 1e-9)
	if n > mostBetween {
		return 0
	}
	return max(1, int(n))
}

// steps returns the sides of the even patches of an empty room's face.
func (f *face) steps() (du, dv float64) {
	return (f.us[f.columns()] - f.us[0]) / float64(f.columns()), (f.vs[f.rows()] - f.vs[0]) / float64(f.rows())
}

// planeIrradiance finds the illuminance that all patches of a face give in a plane h away, with q nodes a
// patch. Which part of a node's view a patch takes depends on their offset only: for the nodes at one place
// within their patches the sum over all patches is a convolution.
func (o *emitters) planeIrradiance(f *face, h float64, q int) planeIrradiance {
	nu, nv := f.columns(), f.rows()
	du, dv := f.steps()
	c := planeIrradiance{
		us:    nodes(f.us[0], du/float64(q), q*nu+1),
		vs:    nodes(f.vs[0], dv/float64(q), q*nv+1),
		light: make([][]float64, len(o.solutions)),
	}
	// 2n offsets lie between n+1 borders and n patches: as many are enough to keep both ends apart
	t := newSheetTransform(padding(2*nu), padding(2*nv), runtime.GOMAXPROCS(0))
	sources := make([][]complex128, len(o.solutions))
	for k, s := range o.solutions {
		sources[k] = t.forward(func(row []float64, j int) {
			if j < nv {
				copy(row, s.exitance[f.first+j*nu:f.first+(j+1)*nu])
			}
		})
		c.light[k] = make([]float64, len(c.us)*len(c.vs))
	}
	factors := newFactors(c.us, c.vs, h, q)
	spectrum := make([]complex128, len(sources[0]))
	for shift := range q * q {
		su, sv := shift%q, shift/q
		kernel := t.forward(func(row []float64, j int) { factors.row(row, j, t.pv, su, sv) })
		for k, source := range sources {
			for i, x := range kernel {
				spectrum[i] = source[i] * complex(real(x), -imag(x))
			}
			light := c.light[k]
			t.back(spectrum, nv+1, func(row []float64, j int) {
				if at := j*q + sv; at < len(c.vs) {
					for i := su; i < len(c.us); i += q {
						light[at*len(c.us)+i] = row[i/q]
					}
				}
			})
		}
	}
	return c
}

func nodes(first, step float64, n int) []float64 {
	all := make([]float64, n)
	for i := range all {
		all[i] = first + float64(i)*step
	}
	return all
}

// Factors are the configuration factors of patches seen from nodes, by their offset.
type factors struct {
	foot   []float64 // fromFoot at the offsets of nodes, u within v
	nu, nv int       // patches
	q      int       // nodes a patch
}

func newFactors(us, vs []float64, h float64, q int) *factors {
	f := &factors{foot: make([]float64, len(us)*len(vs)), nu: (len(us) - 1) / q, nv: (len(vs) - 1) / q, q: q}
	for j, v := range vs {
		for i, u := range us {
			f.foot[j*len(us)+i] = fromFoot(u-us[0], v-vs[0], h)
		}
	}
	return f
}

// row writes the factors of patches j further along v, numbered around the padded length, for nodes that
// stand su and sv steps into theirs.
func (f *factors) row(row []float64, j, padded, su, sv int) {
	y, ok := f.offset(j, f.nv, padded, sv)
	for i := range row {
		if x, facing := f.offset(i, f.nu, len(row), su); ok && facing {
			row[i] = (f.at(x+f.q, y+f.q) - f.at(x, y+f.q) - f.at(x+f.q, y) + f.at(x, y)) / (2 * math.Pi)
		}
	}
}

// offset returns how many nodes a patch of n lies from a node, by the number of its offset around the padded
// length; false if no node has it.
func (f *factors) offset(number, n, padded, shift int) (int, bool) {
	if number >= n {
		number -= padded
	}
	x := number*f.q - shift
	return x, x >= -n*f.q
}

// at returns fromFoot at an offset in nodes; it is odd in both.
func (f *factors) at(x, y int) float64 {
	p := f.foot[abs(y)*(f.q*f.nu+1)+abs(x)]
	if (x < 0) != (y < 0) {
		return -p
	}
	return p
}

// fromFoot is the antiderivative of the configuration factor of a parallel rectangle h away, by the offsets x
// and y from the point's foot (Howell, differential element to parallel rectangle):
//
//	2π C = ΔxΔy [ x/√(x²+h²) atan(y/√(x²+h²)) + y/√(y²+h²) atan(x/√(y²+h²)) ]
func fromFoot(x, y, h float64) float64 {
	a, b := math.Sqrt(x*x+h*h), math.Sqrt(y*y+h*h)
	return x/a*math.Atan(y/a) + y/b*math.Atan(x/b)
}
