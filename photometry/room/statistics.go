package room

import "math"

// Statistics sum up the values of a grid: average, minimum and maximum in their unit (lx), the ratios plain.
// Without a point all but Points is NaN; without light the ratios that would divide by 0 are.
type Statistics struct {
	Points                             int
	Average, Minimum, Maximum          float64
	AverageToMinimum, MaximumToMinimum float64
	CoefficientOfVariation             float64 // population standard deviation over average
}

// Summarize returns the statistics of the values that are not NaN, in any order.
func Summarize(values []float64) Statistics {
	s := Statistics{Minimum: math.Inf(1), Maximum: math.Inf(-1)}
	sum := 0.0
	for _, v := range values {
		if math.IsNaN(v) {
			continue
		}
		s.Points++
		sum += v
		s.Minimum, s.Maximum = math.Min(s.Minimum, v), math.Max(s.Maximum, v)
	}
	if s.Points == 0 {
		nan := math.NaN()
		return Statistics{0, nan, nan, nan, nan, nan, nan}
	}
	s.Average = sum / float64(s.Points)
	squares := 0.0
	for _, v := range values {
		if !math.IsNaN(v) {
			squares += (v - s.Average) * (v - s.Average)
		}
	}
	s.CoefficientOfVariation = ratio(math.Sqrt(squares/float64(s.Points)), s.Average)
	s.AverageToMinimum, s.MaximumToMinimum = ratio(s.Average, s.Minimum), ratio(s.Maximum, s.Minimum)
	return s
}

func ratio(a, b float64) float64 {
	if b == 0 {
		return math.NaN()
	}
	return a / b
}
