package interreflect

import (
	"gonum.org/v1/gonum/dsp/fourier"

	"lampswap/photometry/internal/crew"
)

// A sheetTransform takes real values on a plane to their spectrum and back, both lengths padded. A spectrum
// holds the frequencies of v within those of u.
type sheetTransform struct {
	pu, pv int
	work   []sheetWork // of each worker
}

type sheetWork struct {
	row    *fourier.FFT
	values []float64
	turned []complex128
	column *fourier.CmplxFFT
}

func newSheetTransform(pu, pv, workers int) *sheetTransform {
	t := &sheetTransform{pu: pu, pv: pv, work: make([]sheetWork, workers)}
	for w := range t.work {
		t.work[w] = sheetWork{
			row:    fourier.NewFFT(pu),
			values: make([]float64, pu),
			turned: make([]complex128, pu/2+1),
			column: fourier.NewCmplxFFT(pv),
		}
	}
	return t
}

// each runs a job for the numbers below count, as many at a time as there are workers.
func (t *sheetTransform) each(count int, job func(w *sheetWork, i int)) {
	var group crew.Group
	for first := range t.work {
		group.Go(func() error {
			for i := first; i < count; i += len(t.work) {
				job(&t.work[first], i)
			}
			return nil
		})
	}
	_ = group.Wait() // no job fails
}

// forward returns the spectrum of values that fill writes row by row into zeros.
func (t *sheetTransform) forward(fill func(row []float64, v int)) []complex128 {
	half := t.pu/2 + 1
	spectrum := make([]complex128, half*t.pv)
	t.each(t.pv, func(w *sheetWork, j int) {
		clear(w.values)
		fill(w.values, j)
		for f, x := range w.row.Coefficients(w.turned, w.values) {
			spectrum[f*t.pv+j] = x
		}
	})
	t.each(half, func(w *sheetWork, f int) {
		line := spectrum[f*t.pv : (f+1)*t.pv]
		w.column.Coefficients(line, line)
	})
	return spectrum
}

// back overwrites a spectrum and hands the first rows of values to take.
func (t *sheetTransform) back(spectrum []complex128, rows int, take func(row []float64, v int)) {
	half := t.pu/2 + 1
	t.each(half, func(w *sheetWork, f int) {
		line := spectrum[f*t.pv : (f+1)*t.pv]
		w.column.Sequence(line, line)
	})
	scale := 1 / float64(t.pu*t.pv)
	t.each(rows, func(w *sheetWork, j int) {
		for f := range w.turned {
			w.turned[f] = spectrum[f*t.pv+j]
		}
		w.row.Sequence(w.values, w.turned)
		for i := range w.values {
			w.values[i] *= scale
		}
		take(w.values, j)
	})
}
