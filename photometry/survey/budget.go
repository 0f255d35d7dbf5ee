package survey

import (
	"math"

	"lampswap/photometry/metrology"
)

// StationMethod is the doubt about an average from the survey stations, as against one from a fine grid: the claimed bound, read as
// rectangular. It counts where the average itself is judged. It does not where readings and prediction are averaged by the same
// formula over the same stations, and not for a grid.
func StationMethod() metrology.Contribution {
	p := rule("station method")
	return metrology.Limit("station method", p.value/100, p.source)
}

// Repeatability is what the scatter of repeated readings (see Readings.Scatter) leaves in an average whose stations count by weights
// and were read n times each, as a share of it:
//
//	u = s √(Σ (w E)²/n) / Σ w E
//
// ok is false if no station was read twice, so that nothing is known of it.
func (r Readings) Repeatability(a Average) (c metrology.Contribution, ok bool) {
	scatter, freedom := r.Scatter()
	if freedom == 0 {
		return metrology.Contribution{}, false
	}
	sum, squares := 0.0, 0.0
	all := r.byStation()
	for _, name := range r.Stations() { // in order, for the same bits every time
		values := all[name]
		if w := a.Weights[name]; w > 0 && len(values) > 0 {
			part := w * mean(values)
			sum += part
			squares += part * part / float64(len(values))
		}
	}
	if sum == 0 {
		return metrology.Contribution{}, false
	}
	c = metrology.StandardUncertainty("scatter of repeated readings", scatter*math.Sqrt(squares)/sum, float64(freedom),
		"pooled from the repeated readings")
	c.Variable = true
	return c, true
}
