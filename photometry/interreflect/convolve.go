package interreflect

import (
	"context"
	"runtime"

	"gonum.org/v1/gonum/dsp/fourier"

	"lampswap/photometry/internal/crew"
)

// Spectra are the exchange areas of an empty room as spectra over the offset of two patches. They are even in the offset, so the
// spectra are real.
type spectra struct {
	padded   [3]int       // length of a transform along each axis
	counts   [3]int       // patches along each axis
	opposite [3][]float64 // by normal axis; frequency of v within frequency of u
	beside   [3][]float64 // by shared axis; frequency within the second axis' distance within the first's, folded
}

// others returns the two axes besides one, in order: u and v of a face with that normal, and the axes of distance of two faces
// that share it.
func others(a axis) (first, second axis) {
	switch a {
	case axisX:
		return axisY, axisZ
	case axisY:
		return axisX, axisZ
	case axisZ:
	}
	return axisX, axisY
}

// padding returns the least even length of at least n that is a product of 2, 3 and 5, which transforms are quick at.
func padding(n int) int {
	for ; ; n++ {
		rest := n
		for _, f := range []int{2, 3, 5} {
			for rest%f == 0 {
				rest /= f
			}
		}
		if rest == 1 && n%2 == 0 {
			return n
		}
	}
}

func (e *Enclosure) sizes() (s spectra, length, cell [3]float64) {
	length = [3]float64{e.room.Length, e.room.Width, e.room.Height}
	s.counts = [3]int{e.faces[floor].columns(), e.faces[floor].rows(), e.faces[wallX0].rows()}
	for a := range 3 {
		s.padded[a] = padding(2 * s.counts[a])
		cell[a] = length[a] / float64(s.counts[a])
	}
	return s, length, cell
}

// spectraBytes returns about how much the spectra and a bounce take.
func (e *Enclosure) spectraBytes() int64 {
	s, _, _ := e.sizes()
	total := 0
	for a := range axis(3) {
		b, c := others(a)
		total += (s.padded[b]/2+1)*s.padded[c]*8*4 + (s.padded[a]/2+1)*s.counts[b]*s.counts[c]*8
		for _, d := range []axis{b, c} { // lines of two faces, in and out, and folded
			total += 4 * 2 * 16 * (s.padded[d]/2 + 1) * s.counts[b] * s.counts[c] / s.counts[d]
		}
	}
	return int64(total) + int64(len(e.areas))*8*6
}

func newSpectra(ctx context.Context, e *Enclosure) (*spectra, error) {
	s, length, cell := e.sizes()
	group, ctx := crew.WithContext(ctx)
	group.SetLimit(runtime.GOMAXPROCS(0))
	for a := range axis(3) {
		group.Go(func() error {
			s.opposite[a] = s.facing(a, length[a], cell)
			return ctx.Err()
		})
		group.Go(func() error {
			first, second := others(a)
			s.beside[a] = s.square(a, cell)
			mirror(s.beside[a], s.counts[first], s.counts[second], s.padded[a]/2+1)
			return ctx.Err()
		})
	}
	return &s, group.Wait()
}

// facing transforms the exchange areas of two opposite faces.
func (s *spectra) facing(normal axis, distance float64, cell [3]float64) []float64 {
	u, v := others(normal)
	nu, nv, pu, pv := s.counts[u], s.counts[v], s.padded[u], s.padded[v]
	table := make([]float64, (nu+1)*(nv+1))
	for j := range nv + 1 {
		for i := range nu + 1 {
			table[j*(nu+1)+i] = facing(float64(i)*cell[u], float64(j)*cell[v], distance)
		}
	}
	at := func(i, j int) float64 { return table[abs(j)*(nu+1)+abs(i)] }
	kernel := newSheetTransform(pu, pv, 1).forward(func(row []float64, j int) {
		dj := min(j, pv-j)
		if dj >= nv {
			return
		}
		for i := range row {
			if di := min(i, pu-i); di < nu {
				across := func(k int) float64 { return at(di+1, k) + at(di-1, k) - 2*at(di, k) }
				row[i] = across(dj+1) + across(dj-1) - 2*across(dj)
			}
		}
	})
	out := make([]float64, len(kernel))
	for i, x := range kernel {
		out[i] = real(x)
	}
	return out
}

// square transforms the exchange areas of two faces that share an axis.
func (s *spectra) square(shared axis, cell [3]float64) []float64 {
	b, c := others(shared)
	n, nb, nc, p := s.counts[shared], s.counts[b], s.counts[c], s.padded[shared]
	corner := func(j, k int) []float64 { // second difference of the antiderivative at one pair of distances
		f := make([]float64, n+1)
		for i := range f {
			f[i] = square(float64(i)*cell[shared], float64(j)*cell[b], float64(k)*cell[c])
		}
		d := make([]float64, n)
		for i := range d {
			d[i] = f[i+1] + f[abs(i-1)] - 2*f[i]
		}
		return d
	}
	out := make([]float64, 0, nb*nc*(p/2+1))
	below := make([][]float64, nc+1)
	for k := range below {
		below[k] = corner(0, k)
	}
	kernel, line, turned := make([]float64, p), fourier.NewFFT(p), make([]complex128, p/2+1)
	for j := range nb {
		above := make([][]float64, nc+1)
		for k := range above {
			above[k] = corner(j+1, k)
		}
		for k := range nc {
			clear(kernel)
			for i := range n {
				kernel[i] = above[k+1][i] - above[k][i] - below[k+1][i] + below[k][i]
				kernel[(p-i)%p] = kernel[i]
			}
			for _, x := range line.Coefficients(turned, kernel) {
				out = append(out, real(x))
			}
		}
		below = above
	}
	return out
}

func abs(i int) int { return max(i, -i) }

// A bouncer sends the exitance of an empty room's six faces on, again and again.
type bouncer struct {
	*spectra
	e       *Enclosure
	in, out [roomFaces][2][]complex128 // lines of each face along u and along v, as spectra
	about   [3]*fold                   // by shared axis
	work    [][3]transforms            // of each worker, by axis
}

// Transforms are a worker's own for lines along one axis.
type transforms struct {
	line   *fourier.FFT
	values []float64
	turned []complex128
	turn   *fourier.CmplxFFT
	column []complex128
}

func (e *Enclosure) bouncer() *bouncer {
	b := &bouncer{spectra: e.empty, e: e}
	for i := range roomFaces {
		f := &e.faces[i]
		for d, a := range [2]axis{f.u, f.v} {
			size := b.lines(f, d) * (b.padded[a]/2 + 1)
			b.in[i][d], b.out[i][d] = make([]complex128, size), make([]complex128, size)
		}
	}
	for a := range b.about {
		b.about[a] = b.newFold(axis(a))
	}
	b.work = make([][3]transforms, runtime.GOMAXPROCS(0))
	for w := range b.work {
		for a, p := range b.padded {
			b.work[w][a] = transforms{line: fourier.NewFFT(p), values: make([]float64, p), turned: make([]complex128, p/2+1),
				turn: fourier.NewCmplxFFT(p), column: make([]complex128, p)}
		}
	}
	return b
}

// lines returns how many lines a face has along its u (0) or v (1).
func (b *bouncer) lines(f *face, d int) int {
	if d == 0 {
		return f.rows()
	}
	return f.columns()
}

// line returns the first patch of a line and the step along it.
func (f *face) line(d, k int) (first, step, n int) {
	if d == 0 {
		return f.first + k*f.columns(), 1, f.columns()
	}
	return f.first + k, f.columns(), f.rows()
}

// bounce writes the illuminance, lx, that the exitance, lm/m², of all patches gives to all patches.
func (b *bouncer) bounce(dst, exitance []float64) {
	b.each(func(i, d, k int, line *fourier.FFT, values []float64, turned []complex128) {
		f := &b.e.faces[i]
		at, step, n := f.line(d, k)
		clear(values)
		for m := range n {
			values[m] = exitance[at+m*step]
		}
		line.Coefficients(b.in[i][d][k*len(turned):(k+1)*len(turned)], values)
	})
	b.neighbours()
	b.across()
	clear(dst)
	for along := range 2 { // a patch lies on a line of either direction
		b.each(func(i, d, k int, line *fourier.FFT, values []float64, turned []complex128) {
			if d != along {
				return
			}
			f := &b.e.faces[i]
			at, step, n := f.line(d, k)
			line.Sequence(values, b.out[i][d][k*len(turned):(k+1)*len(turned)])
			for m := range n {
				dst[at+m*step] += values[m] / (float64(len(values)) * b.e.areas[at+m*step])
			}
		})
	}
}

// each runs a job for every line of every face, as many at a time as there are processors.
func (b *bouncer) each(job func(i, d, k int, line *fourier.FFT, values []float64, turned []complex128)) {
	var group crew.Group
	workers := len(b.work)
	for w := range workers {
		group.Go(func() error {
			for i := range roomFaces {
				f := &b.e.faces[i]
				for d, a := range [2]axis{f.u, f.v} {
					t := &b.work[w][a]
					for k := w; k < b.lines(f, d); k += workers {
						job(i, d, k, t.line, t.values, t.turned)
					}
				}
			}
			return nil
		})
	}
	_ = group.Wait() // no job fails
}

// across adds what each face gets from the one opposite.
func (b *bouncer) across() {
	var group crew.Group
	workers := len(b.work)
	for w := range workers {
		group.Go(func() error {
			for i := range roomFaces {
				f, from := &b.e.faces[i], b.in[i^1][0]
				pv, size := b.padded[f.v], b.padded[f.u]/2+1
				column, turn := b.work[w][f.v].column, b.work[w][f.v].turn
				kernel := b.opposite[f.normal]
				for x := w; x < size; x += workers {
					clear(column)
					for k := range f.rows() {
						column[k] = from[k*size+x]
					}
					turn.Coefficients(column, column)
					for y, s := range kernel[x*pv : (x+1)*pv] {
						column[y] = complex(s*real(column[y]), s*imag(column[y]))
					}
					turn.Sequence(column, column)
					for k := range f.rows() {
						b.out[i][0][k*size+x] += column[k] * complex(1/float64(pv), 0)
					}
				}
			}
			return nil
		})
	}
	_ = group.Wait() // no job fails
}
