package lm63

import (
	"math"
	"sort"
)

// A web is a table of type B or A over the whole front hemisphere, mirrored where the file leaves that to the reader. Between the tabulated
// angles the intensity is linear in each of them, as in a type C table.
type web struct {
	kind                       PhotometricType
	horizontal, vertical       []float64 // rad, ascending, from -π/2 to π/2
	candela                    [][]float64
	leftRight, upDown          bool // mirrored in H, in V
	finestHorizontal, finestUp float64
}

func (f *File) web() *web {
	w := &web{kind: f.Type, leftRight: near(f.HorizontalDeg[0], 0), upDown: near(f.VerticalDeg[0], 0)}
	var rows, columns []int
	w.horizontal, rows = mirrored(snapped(f.HorizontalDeg, -90, 0, 90), w.leftRight)
	w.vertical, columns = mirrored(snapped(f.VerticalDeg, -90, 0, 90), w.upDown)
	for _, h := range rows {
		row := make([]float64, len(columns))
		for i, v := range columns {
			row[i] = f.Candela[h][v]
		}
		w.candela = append(w.candela, row)
	}
	w.finestHorizontal, w.finestUp = finest(w.horizontal), finest(w.vertical)
	return w
}

// mirrored turns degrees into radians and, if asked, puts the mirror image of the angles above 0 before them. from tells which angle
// of the table each one shows.
func mirrored(anglesDeg []float64, mirror bool) (angles []float64, from []int) {
	if mirror {
		for i := len(anglesDeg) - 1; i > 0; i-- {
			angles, from = append(angles, -anglesDeg[i]*math.Pi/180), append(from, i)
		}
	}
	for i, a := range anglesDeg {
		angles, from = append(angles, a*math.Pi/180), append(from, i)
	}
	return angles, from
}

func finest(angles []float64) float64 {
	step := math.Inf(1)
	for i := range len(angles) - 1 {
		step = math.Min(step, angles[i+1]-angles[i])
	}
	return step
}

// intensity looks up the candela in the direction of a unit vector given by its parts along the axis, to the right and up; behind the
// luminaire they are 0.
func (w *web) intensity(axis, right, up float64) float64 {
	if axis < 0 {
		return 0
	}
	// At the poles the other angle has no meaning; atan2(0, 0) is 0.
	h, v := math.Atan2(right, axis), math.Asin(math.Max(-1, math.Min(1, up)))
	if w.kind == TypeB {
		h, v = math.Asin(math.Max(-1, math.Min(1, right))), math.Atan2(up, axis)
	}
	i, t := located(w.horizontal, h)
	j, u := located(w.vertical, v)
	return (1-t)*((1-u)*w.candela[i][j]+u*w.candela[i][j+1]) + t*((1-u)*w.candela[i+1][j]+u*w.candela[i+1][j+1])
}

// located returns the interval i and the fraction t so that x = (1-t) values[i] + t values[i+1], within the values.
func located(values []float64, x float64) (i int, t float64) {
	i = min(max(sort.SearchFloat64s(values, x)-1, 0), len(values)-2)
	t = (x - values[i]) / (values[i+1] - values[i])
	return i, math.Max(0, math.Min(1, t))
}

// typeC resamples the web onto planes of 2.5 degrees from 0 to 90 (mirrored both ways), 180 (left to right) or 360, and vertical angles of
// 1 degree, or of 1/2 or 1/4 where the table is as fine, from nadir to the horizon. The direction (C, γ) has cos γ along the axis,
// sin γ cos C up and -sin γ sin C to the right (package comment).
func (w *web) typeC() (horizontalDeg, verticalDeg []float64, candela [][]float64) {
	perDegree := 1
	for _, finer := range []int{2, 4} {
		if math.Min(w.finestHorizontal, w.finestUp) < 1.01*math.Pi/180/float64(finer) {
			perDegree = finer
		}
	}
	planes := 144
	switch {
	case w.leftRight && w.upDown:
		planes = 36
	case w.leftRight:
		planes = 72
	}
	for v := range 90*perDegree + 1 {
		verticalDeg = append(verticalDeg, float64(v)/float64(perDegree))
	}
	for p := range planes + 1 {
		horizontalDeg = append(horizontalDeg, 2.5*float64(p))
		sinC, cosC := math.Sincos(horizontalDeg[p] * math.Pi / 180)
		row := make([]float64, len(verticalDeg))
		for v, g := range verticalDeg {
			sin, cos := math.Sincos(g * math.Pi / 180)
			row[v] = w.intensity(cos, -sin*sinC, sin*cosC)
		}
		candela = append(candela, row)
	}
	if planes == 144 {
		copy(candela[planes], candela[0]) // the same plane, but for the rounding of sin 2π
	}
	return horizontalDeg, verticalDeg, candela
}

// flux integrates the interpolated table exactly, lm before any multiplier. With λ the angle in the plane of the pole (V of type A, H
// of type B) the solid angle is cos λ dλ times the step of the other angle, over which the trapezoidal rule is exact, and over an interval of λ
//
//	∫ (I + s (λ - λ1)) cos λ dλ = I2 sin λ2 - I1 sin λ1 + s (cos λ2 - cos λ1)
//
// Source: our derivation, integration by parts.
func (w *web) flux() float64 {
	around, along := w.horizontal, w.vertical
	at := func(i, j int) float64 { return w.candela[i][j] }
	if w.kind == TypeB {
		around, along = along, around
		at = func(i, j int) float64 { return w.candela[j][i] }
	}
	ring := make([]float64, len(along))
	for i := range len(around) - 1 {
		half := (around[i+1] - around[i]) / 2
		for j := range ring {
			ring[j] += half * (at(i, j) + at(i+1, j))
		}
	}
	flux := 0.0
	for j := range len(along) - 1 {
		a, b := along[j], along[j+1]
		slope := (ring[j+1] - ring[j]) / (b - a)
		flux += ring[j+1]*math.Sin(b) - ring[j]*math.Sin(a) + slope*(math.Cos(b)-math.Cos(a))
	}
	return flux
}
