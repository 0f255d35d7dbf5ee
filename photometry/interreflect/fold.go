package interreflect

import "lampswap/photometry/internal/crew"

// A fold is the light of the four faces about one axis as sums and differences, of two opposite faces and of lines at equal distances
// from the two ends of a face: sums give to sums only and differences to differences, so that a quarter of the products are left.
// For a line at j along the first other axis and one at k along the second, j' and k' their mirror images, and signs s and t,
//
//	K(s,t) = ¼ [ K(j,k) + s K(j',k) + t K(j,k') + s t K(j',k') ]
type fold struct {
	shared axis
	size   int         // frequencies of a line
	kinds  [2]foldKind // faces square to the first other axis, their lines in order along the second, and the reverse
}

// A foldKind is two opposite faces: their lines along the shared axis, half of them, by the four parities.
type foldKind struct {
	low, high int // faces
	d         int // 0 if the shared axis is their u
	lines     int // of one face
	in, out   []complex128
}

func (k *foldKind) half() int { return (k.lines + 1) / 2 }

// Parities: bit 0 is set for a difference over the first other axis, bit 1 over the second.
const parities = 4

func (b *bouncer) newFold(shared axis) *fold {
	first, second := others(shared)
	f := &fold{shared: shared, size: b.padded[shared]/2 + 1}
	for q, a := range [2][2]axis{{first, second}, {second, first}} {
		k := &f.kinds[q]
		k.low, k.lines = [3]int{axisX: wallX0, axisY: wallY0, axisZ: floor}[a[0]], b.counts[a[1]]
		k.high = k.low + 1
		if b.e.faces[k.low].u != shared {
			k.d = 1
		}
		k.in = make([]complex128, parities*k.half()*f.size)
		k.out = make([]complex128, parities*k.half()*f.size)
	}
	return f
}

// parts returns the in- or outgoing lines at k by parity: sums over the faces and over mirrored lines, differences over the faces alone,
// over the lines alone, over both. q is the number of the kind.
func (k *foldKind) parts(all []complex128, q, at, size int) (sum, faces, lines, both []complex128) {
	of := func(parity int) []complex128 { return all[(parity*k.half()+at)*size:][:size] }
	if q == 0 {
		return of(0), of(1), of(2), of(3)
	}
	return of(0), of(2), of(1), of(3)
}

// middle tells whether a line is its own mirror image, and so has no difference.
func (k *foldKind) middle(at int) bool { return 2*at+1 == k.lines }

// fold fills the sums and differences of line k and its mirror image.
func (b *bouncer) fold(f *fold, q, k int) {
	kind := &f.kinds[q]
	line := func(face, k int) []complex128 { return b.in[face][kind.d][k*f.size:][:f.size] }
	low, high := line(kind.low, k), line(kind.high, k)
	sum, faces, lines, both := kind.parts(kind.in, q, k, f.size)
	if kind.middle(k) {
		for x, w := range low {
			sum[x], faces[x], lines[x], both[x] = w+high[x], w-high[x], 0, 0
		}
		return
	}
	lowMirror, highMirror := line(kind.low, kind.lines-1-k), line(kind.high, kind.lines-1-k)
	for x := range low {
		s, d := low[x]+high[x], low[x]-high[x]
		sm, dm := lowMirror[x]+highMirror[x], lowMirror[x]-highMirror[x]
		sum[x], faces[x], lines[x], both[x] = s+sm, d+dm, s-sm, d-dm
	}
}

// exchange adds up what half the lines of one kind give to a line of the other, for one parity.
func (b *bouncer) exchange(f *fold, q, parity, k int) {
	kind, other := &f.kinds[q], &f.kinds[1-q]
	dst := kind.out[(parity*kind.half()+k)*f.size:][:f.size]
	clear(dst)
	if bit := 2 - q; kind.middle(k) && parity&bit != 0 {
		return // no difference of a line with itself
	}
	for m := range other.half() {
		j, l := k, m
		if q == 0 {
			j, l = m, k
		}
		factors := b.beside[f.shared][b.folded(f, parity, j, l)*f.size:][:f.size]
		src := other.in[(parity*other.half()+m)*f.size:][:f.size]
		for x, w := range factors {
			s := src[x]
			dst[x] += complex(w*real(s), w*imag(s))
		}
	}
}

// folded returns where the factors of a parity stand: those of a difference in place of a mirror image. A line in the middle has no
// difference, and nothing comes of what stands there.
func (b *bouncer) folded(f *fold, parity, j, k int) int {
	columns := f.kinds[0].lines
	if parity&1 != 0 {
		j = f.kinds[1].lines - 1 - j
	}
	if parity&2 != 0 {
		k = columns - 1 - k
	}
	return j*columns + k
}

// unfold writes the lines of all faces of one kind at k and its mirror image.
func (b *bouncer) unfold(f *fold, q, k int) {
	kind := &f.kinds[q]
	line := func(face, k int) []complex128 { return b.out[face][kind.d][k*f.size:][:f.size] }
	low, high := line(kind.low, k), line(kind.high, k)
	lowMirror, highMirror := line(kind.low, kind.lines-1-k), line(kind.high, kind.lines-1-k) // the same, for a line in the middle
	sum, faces, lines, both := kind.parts(kind.out, q, k, f.size)
	for x, w := range sum {
		even, odd := w+faces[x], lines[x]+both[x]
		evenHigh, oddHigh := w-faces[x], lines[x]-both[x]
		lowMirror[x], highMirror[x] = even-odd, evenHigh-oddHigh
		low[x], high[x] = even+odd, evenHigh+oddHigh
	}
}

// neighbours adds up, in the spectra of all lines, what faces give that share an edge.
func (b *bouncer) neighbours() {
	b.folds(b.fold)
	b.folds(func(f *fold, q, k int) {
		for parity := range parities {
			b.exchange(f, q, parity, k)
		}
	})
	b.folds(b.unfold)
}

// folds runs a job for half the lines of both kinds about every axis, as many at a time as there are workers.
func (b *bouncer) folds(job func(f *fold, q, k int)) {
	var group crew.Group
	for w := range b.work {
		group.Go(func() error {
			for _, f := range b.about {
				for q := range f.kinds {
					for k := w; k < f.kinds[q].half(); k += len(b.work) {
						job(f, q, k)
					}
				}
			}
			return nil
		})
	}
	_ = group.Wait() // no job fails
}

// mirror puts the factors of the four parities in place of those at mirrored distances: rows of the first distance, columns of the
// second, each with a number of frequencies.
func mirror(factors []float64, rows, columns, size int) {
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
