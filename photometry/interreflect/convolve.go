package interreflect

import (
	"context"
	"runtime"

	"gonum.org/v1/gonum/dsp/fourier"

	"lampswap/photometry/internal/crew"
)

// Spectra are the exchange areas of an empty room as spectra over the offset of two patches. They are even in
// the offset, so the spectra are real.
type spectra struct {
	padded   [3]int       // length of a transform along each axis
	counts   [3]int       // patches along each axis
	opposite [3][]float64 // by normal axis; frequency of v within frequency of u
	// By shared axis; frequency within the second axis' distance within the first's, folded.
	beside [3][]float64
}

// others returns the two axes besides one, in order: u and v of a face with that normal, and the axes of
// distance of two faces that share it.
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

// padding returns the least even length of at least n that is a product of 2, 3 and 5, which transforms are
// quick at.
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
		for _, d := range []axis{b, c} { // lines of two faces, in, out and across
			total += 3 * 2 * 16 * (s.padded[d]/2 + 1) * s.counts[b] * s.counts[c] / s.counts[d]
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
			foldKernel(s.beside[a], s.counts[first], s.counts[second], s.padded[a]/2+1)
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
	// exchange areas by second differences along both axes, even about 0, and their spectrum
	size := pu/2 + 1
	line, column, lines := fourier.NewFFT(pu), fourier.NewCmplxFFT(pv), make([]complex128, pv*size)
	row := make([]float64, pu)
	for j := range pv {
		dj := min(j, pv-j)
		if dj >= nv {
			continue
		}
		clear(row)
		for i := range row {
			if di := min(i, pu-i); di < nu {
				across := func(k int) float64 { return at(di+1, k) + at(di-1, k) - 2*at(di, k) }
				row[i] = across(dj+1) + across(dj-1) - 2*across(dj)
			}
		}
		line.Coefficients(lines[j*size:(j+1)*size], row)
	}
	out, turned := make([]float64, 0, size*pv), make([]complex128, pv)
	for x := range size {
		for j := range pv {
			turned[j] = lines[j*size+x]
		}
		for _, w := range column.Coefficients(turned, turned) {
			out = append(out, real(w))
		}
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

// A convolver sends the exitance of an empty room's six faces on, again and again: discrete convolution by
// fast Fourier transforms.
type convolver struct {
	*spectra
	e       *Enclosure
	in, out [roomFaces][2][]complex128 // lines of each face along u and along v, as spectra
	across  [roomFaces][]complex128    // lines along u: what the opposite face gives
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

func (e *Enclosure) convolver() *convolver {
	b := &convolver{spectra: e.empty, e: e, work: make([][3]transforms, runtime.GOMAXPROCS(0))}
	for i := range roomFaces {
		f := &e.faces[i]
		for d, a := range [2]axis{f.u, f.v} {
			size := f.lines(d) * (b.padded[a]/2 + 1)
			b.in[i][d], b.out[i][d] = make([]complex128, size), make([]complex128, size)
		}
		b.across[i] = make([]complex128, len(b.out[i][0]))
	}
	for w := range b.work {
		for a, p := range b.padded {
			b.work[w][a] = transforms{
				line:   fourier.NewFFT(p),
				values: make([]float64, p),
				turned: make([]complex128, p/2+1),
				turn:   fourier.NewCmplxFFT(p),
				column: make([]complex128, p),
			}
		}
	}
	return b
}

// lines returns how many lines a face has along its u (0) or v (1).
func (f *face) lines(d int) int {
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

// bounce writes the illuminance, lx, that the exitance, lm/m², of all patches gives to all patches: their
// exchange areas depend on offsets only, so the sum over patches is a convolution, a product of spectra.
func (b *convolver) bounce(dst, exitance []float64) {
	// forward transforms of all lines
	b.each(func(i, d, k int, t *transforms) {
		at, step, n := b.e.faces[i].line(d, k)
		clear(t.values)
		for m := range n {
			t.values[m] = exitance[at+m*step]
		}
		t.line.Coefficients(b.spectrum(&b.in, i, d, k), t.values)
	})
	// products with the spectra of the exchange areas: of opposite faces, then of those that share an edge
	b.opposites()
	b.each(func(i, d, k int, _ *transforms) { b.fold(&b.in, i, d, k) })
	b.each(func(i, d, k int, _ *transforms) { b.neighbours(i, d, k) })
	b.each(func(i, d, k int, _ *transforms) { b.fold(&b.out, i, d, k) })
	// back: flux by area
	clear(dst)
	for along := range 2 { // a patch lies on a line of either direction
		b.each(func(i, d, k int, t *transforms) {
			if d != along {
				return
			}
			spectrum := b.spectrum(&b.out, i, d, k)
			if d == 0 {
				for x, w := range b.across[i][k*len(spectrum):][:len(spectrum)] {
					spectrum[x] += w
				}
			}
			t.line.Sequence(t.values, spectrum)
			at, step, n := b.e.faces[i].line(d, k)
			for m := range n {
				dst[at+m*step] += t.values[m] / (float64(len(t.values)) * b.e.areas[at+m*step])
			}
		})
	}
}

// each runs a job for every line of every face, as many at a time as there are processors.
func (b *convolver) each(job func(i, d, k int, t *transforms)) {
	b.together(func(w int) {
		for i := range roomFaces {
			f := &b.e.faces[i]
			for d, a := range [2]axis{f.u, f.v} {
				for k := w; k < f.lines(d); k += len(b.work) {
					job(i, d, k, &b.work[w][a])
				}
			}
		}
	})
}

// together runs the share of each worker.
func (b *convolver) together(share func(w int)) {
	var group crew.Group
	for w := range b.work {
		group.Go(func() error {
			share(w)
			return nil
		})
	}
	_ = group.Wait() // none errs
}

// spectrum returns line k of a face along its u (0) or v (1).
func (b *convolver) spectrum(all *[roomFaces][2][]complex128, i, d, k int) []complex128 {
	f := &b.e.faces[i]
	size := b.padded[[2]axis{f.u, f.v}[d]]/2 + 1
	return all[i][d][k*size:][:size]
}

// opposites finds what each face gets from the one opposite.
func (b *convolver) opposites() {
	b.together(func(w int) {
		for i := range roomFaces {
			f, from := &b.e.faces[i], b.in[i^1][0]
			pv, size := b.padded[f.v], b.padded[f.u]/2+1
			column, turn := b.work[w][f.v].column, b.work[w][f.v].turn
			for x := w; x < size; x += len(b.work) {
				clear(column)
				for k := range f.rows() {
					column[k] = from[k*size+x]
				}
				turn.Coefficients(column, column)
				for y, s := range b.opposite[f.normal][x*pv : (x+1)*pv] {
					column[y] = complex(s*real(column[y]), s*imag(column[y]))
				}
				turn.Sequence(column, column)
				for k := range f.rows() {
					b.across[i][k*size+x] = column[k] * complex(1/float64(pv), 0)
				}
			}
		}
	})
}

// fold puts sums and differences in place of line k of two opposite faces, the first of which is i, and of
// its mirror image k' in the middle between their ends:
//
//	sum over both faces and lines   at k of the first      difference of the faces   at k of the second
//	difference of the lines         at k' of the first     of both                   at k' of the second
//
// Sums give to sums only and differences to differences, so that a quarter of the products are left. It is
// its own inverse but for the factor ¼ that the kernels have (foldKernel).
func (b *convolver) fold(all *[roomFaces][2][]complex128, i, d, k int) {
	mirror := b.e.faces[i].lines(d) - 1 - k
	if i&1 != 0 || k > mirror {
		return
	}
	low, high := b.spectrum(all, i, d, k), b.spectrum(all, i+1, d, k)
	if k == mirror {
		for x := range low {
			low[x], high[x] = low[x]+high[x], low[x]-high[x]
		}
		return
	}
	lowMirror, highMirror := b.spectrum(all, i, d, mirror), b.spectrum(all, i+1, d, mirror)
	for x := range low {
		s, d, sm, dm := low[x]+high[x], low[x]-high[x], lowMirror[x]+highMirror[x], lowMirror[x]-highMirror[x]
		low[x], high[x], lowMirror[x], highMirror[x] = s+sm, d+dm, s-sm, d-dm
	}
}

// neighbours adds up what a folded line gets from those along it of the faces that share an edge with its
// own. These lie along the normal of its face; sums stand in the nearer half of them, differences in the
// further.
func (b *convolver) neighbours(i, d, k int) {
	f := &b.e.faces[i]
	shared, third := f.u, f.v
	if d == 1 {
		shared, third = f.v, f.u
	}
	from := [3]int{wallX0, wallY0, floor}[third]
	if 2*k >= f.lines(d)+f.lines(d)&1 { // a difference of lines gets from the difference of the faces
		from++
	}
	along := 0
	if b.e.faces[from].u != shared {
		along = 1
	}
	dst := b.spectrum(&b.out, i, d, k)
	clear(dst)
	n := b.counts[f.normal]
	for m := range (n + 1 - i&1) / 2 { // the line in the middle has no difference
		if i&1 == 1 {
			m = n - 1 - m
		}
		at := m*b.counts[third] + k
		if f.normal > third {
			at = k*n + m
		}
		src := b.spectrum(&b.in, from, along, m)
		for x, w := range b.beside[shared][at*len(dst):][:len(dst)] {
			s := src[x]
			dst[x] += complex(w*real(s), w*imag(s))
		}
	}
}

// foldKernel puts the factors of sums and differences in place of those at mirrored distances: rows of the
// first distance, columns of the second, each with a number of frequencies. For a line at j along the first
// other axis and one at k along the second, j' and k' their mirror images, and signs s and t,
//
//	K(s,t) = ¼ [ K(j,k) + s K(j',k) + t K(j,k') + s t K(j',k') ]
func foldKernel(factors []float64, rows, columns, size int) {
	at := func(j, k int) []float64 { return factors[(j*columns+k)*size:][:size] }
	for j := range (rows + 1) / 2 {
		for k := range (columns + 1) / 2 {
			a, b, c, d := at(j, k), at(rows-1-j, k), at(j, columns-1-k), at(rows-1-j, columns-1-k)
			for x := range size {
				w, s, t, st := a[x], b[x], c[x], d[x]
				// where two of them are the same, the sum is written last and stays
				d[x] = (w - s - t + st) / 4
				b[x] = (w - s + t - st) / 4
				c[x] = (w + s - t - st) / 4
				a[x] = (w + s + t + st) / 4
			}
		}
	}
}
