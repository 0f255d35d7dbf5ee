package losses

import (
	"iter"
	"math"
)

// Lowest returns the moment of the least light up to a horizon, the earliest where several are equal; a moment of cleaning or relamping counts
// just before it. It panics where Kept does, or if the horizon is not above 0.
func (c Course) Lowest(horizonYears float64) Moment {
	w := c.works()
	lowest := Moment{0, w.kept(0, 0, 0)}
	for s := range w.spans(horizonYears) {
		for _, years := range []float64{w.dip(s), s.to} {
			if kept := w.keptIn(s, years); kept < lowest.Kept*(1-sameLight) {
				lowest = Moment{years, kept}
			}
		}
	}
	return lowest
}

// FirstBelow returns when the share of light first falls below what is required, up to a horizon; ok is false if it does not. It is the
// root of each smooth piece of the course, not a step of a series. A share that is met but for rounding is met. It panics where Lowest does.
func (c Course) FirstBelow(required, horizonYears float64) (years float64, ok bool) {
	w := c.works()
	if math.IsNaN(required) {
		panic("losses: the required share is NaN")
	}
	below := func(kept float64) bool { return kept < required*(1-sameLight) }
	for s := range w.spans(horizonYears) {
		if below(w.keptIn(s, s.from)) {
			return s.from, true
		}
		for _, end := range []float64{w.dip(s), s.to} {
			if below(w.keptIn(s, end)) {
				return bisect(s.from, end, func(years float64) bool { return below(w.keptIn(s, years)) }), true
			}
		}
	}
	return 0, false
}

// sameLight is the relative difference below which two shares are equal: rounding.
const sameLight = 1e-12

// spans cuts the years into pieces in which the light falls, or falls and rises again once, or rises. Between works it falls, but with lamps of
// all ages it goes in waves that are as wide as the spread of the lives: there a quarter of that is a span, until the waves have faded.
func (w *works) spans(horizon float64) iter.Seq[piece] {
	if !(horizon > 0) {
		panic("losses: the horizon is not above 0")
	}
	step := math.Inf(1)
	if w.Singly && w.HoursPerYear > 0 {
		step = LifeSpread / 4 * w.RatedLifeHours / w.HoursPerYear
	}
	return func(yield func(piece) bool) {
		for p := range w.pieces(horizon) {
			s := p
			for s.from < p.to {
				s.to = min(s.from+step, p.to)
				if s.from > settled/LifeSpread*4*step {
					s.to = p.to
				}
				if !yield(s) {
					return
				}
				s.from = s.to
			}
		}
	}
}

// dip returns where the light is least inside a span, or its start if it only falls or only rises.
func (w *works) dip(s piece) float64 {
	const edge = 1e-4 // of the span: a dip that is nearer to its end is as low there but for 1e-8 of its depth
	near := edge * (s.to - s.from)
	a, b := s.from, s.to
	if w.keptIn(s, a+near) >= w.keptIn(s, a) || w.keptIn(s, b-near) >= w.keptIn(s, b) {
		return s.from
	}
	// Golden section: the ratio in which a span is cut so that the cut inside can be used again.
	golden := (math.Sqrt(5) - 1) / 2
	c, d := b-golden*(b-a), a+golden*(b-a)
	atC, atD := w.keptIn(s, c), w.keptIn(s, d)
	for b-a > sameTime*s.to {
		if atC < atD {
			b, d, atD = d, c, atC
			c = b - golden*(b-a)
			atC = w.keptIn(s, c)
		} else {
			a, c, atC = c, d, atD
			d = a + golden*(b-a)
			atD = w.keptIn(s, d)
		}
	}
	return (a + b) / 2
}

// bisect returns the first time that is below, of a span whose start is not and whose end is.
func bisect(from, to float64, below func(float64) bool) float64 {
	for {
		middle := from + (to-from)/2
		if middle <= from || middle >= to {
			return to
		}
		if below(middle) {
			to = middle
		} else {
			from = middle
		}
	}
}
