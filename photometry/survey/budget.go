package survey

import (
	"fmt"
	"maps"
	"math"
	"slices"

	"lampswap/photometry/metrology"
)

// StationMethod is the doubt about an average from the survey stations, as against one from a fine grid: the claimed bound, read as
// rectangular. It counts where the average itself is judged. It does not where readings and prediction are averaged by the same
// formula over the same stations, and not for a grid.
func StationMethod() metrology.Contribution {
	p := rule("station method")
	return metrology.Limit("station method", p.Value/100, p.Source)
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

// Residual is what the scatter of the readings about their prediction leaves in an average of them, as a share of it:
//
//	s² = Σ (m / (R p) - 1)² / (n - 1),  R = Σ w m / Σ w p        u = s √Σ (w m)² / Σ w m
//
// over the n stations that count in the average and of which something is predicted. It holds what readings differ by from chance, from
// place to place and from bay to bay, and so the scatter of repeated readings too. Its n - 1 degrees of freedom make it Student's t.
// ok is false of fewer than two stations. Source: our derivation; GUM 4.2.3, from memory, for the mean.
func Residual(measured, predicted map[string]float64, a Average) (c metrology.Contribution, ok bool) {
	var names []string
	var m, p float64                                           // the averages
	for _, name := range slices.Sorted(maps.Keys(a.Weights)) { // in order, for the same bits every time
		if w := a.Weights[name]; w > 0 && predicted[name] > 0 {
			names = append(names, name)
			m += w * measured[name]
			p += w * predicted[name]
		}
	}
	if len(names) < 2 || !(m > 0) {
		return metrology.Contribution{}, false
	}
	scatter, squares := 0.0, 0.0
	for _, name := range names {
		off := measured[name]*p/(m*predicted[name]) - 1
		scatter += off * off
		part := a.Weights[name] * measured[name] / m
		squares += part * part
	}
	freedom := float64(len(names) - 1)
	c = metrology.StandardUncertainty("scatter of the readings about their prediction", math.Sqrt(scatter/freedom*squares), freedom,
		fmt.Sprintf("from the %d readings themselves, each %.1f percent", len(names), 100*math.Sqrt(scatter/freedom)))
	c.Variable = true
	return c, true
}
