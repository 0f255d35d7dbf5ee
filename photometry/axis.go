package photometry

import (
	"math"
	"sort"
)

// An axis holds the ascending angles of a table, rad, and finds the interval that an angle lies in.
type axis struct {
	values  []float64
	perStep float64 // 1 / step if all steps are equal, else 0
}

func newAxis(degrees []float64) axis {
	a := axis{values: make([]float64, len(degrees))}
	for i, d := range degrees {
		a.values[i] = d * math.Pi / 180
	}
	n := len(a.values)
	if n < 2 {
		return a
	}
	step := (a.values[n-1] - a.values[0]) / float64(n-1)
	for i, v := range a.values {
		if math.Abs(v-a.values[0]-float64(i)*step) > 1e-9 {
			return a
		}
	}
	a.perStep = 1 / step
	return a
}

// locate returns the interval i and the fraction t so that x = (1-t) values[i] + t values[i+1]; x outside the axis takes its nearest end.
func (a axis) locate(x float64) (i int, t float64) {
	last := len(a.values) - 2
	if last < 0 {
		return 0, 0
	}
	if a.perStep > 0 {
		i = int((x - a.values[0]) * a.perStep)
	} else {
		i = sort.SearchFloat64s(a.values, x) - 1
	}
	i = min(max(i, 0), last)
	t = (x - a.values[i]) / (a.values[i+1] - a.values[i])
	return i, min(max(t, 0), 1)
}
