package study

import (
	"lampswap/photometry/lighting"
)

// The lumen method may read this much lower than the point method in a real room and still confirm it, as its published zonal
// multipliers are a fit; and this much higher. Source: the comparison in the interreflection and cavity tests.
const (
	lumenMethodLow  = 0.10
	lumenMethodHigh = 0.05
)

// Averages returns the maintained average of the work plane by the two methods, lx.
func Averages(s *lighting.System) (lumen, point float64) {
	return s.LumenMethod.MaintainedAverage, s.Grids[0].Statistics.Average
}

// Confirm tells whether the two averages confirm each other; so do two that are nothing.
func Confirm(lumen, point float64) bool {
	deviation := lumen/point - 1
	return !(deviation < -lumenMethodLow || deviation > lumenMethodHigh)
}
