package study

import (
	"fmt"
	"math"

	"lampswap/photometry/lighting"
)

// The lumen method may read this much lower than the point method in a real room and still confirm it, as its published zonal
// multipliers are a fit; and this much higher. Source: the comparison in the interreflection and cavity tests.
const (
	lumenMethodLow  = 0.10
	lumenMethodHigh = 0.05
)

// averages returns the maintained average of the work plane by the two methods, lx.
func averages(s *lighting.System) (lumen, point float64) {
	return s.LumenMethod.MaintainedAverage, s.Grids[0].Statistics.Average
}

// confirm tells whether the two averages confirm each other; so do two that are nothing.
func confirm(lumen, point float64) bool {
	deviation := lumen/point - 1
	return !(deviation < -lumenMethodLow || deviation > lumenMethodHigh)
}

// apart is by how much they differ, in brackets; empty where one of them is nothing.
func apart(lumen, point float64) string {
	if !(lumen > 0 && point > 0) {
		return ""
	}
	return fmt.Sprintf(" (%.1f percent apart)", 100*math.Abs(lumen/point-1))
}

// CrossCheck says in words whether the lumen method and the point method confirm each other, a sentence a system. It is empty where
// the two cannot be compared: with racks, explicit positions, or without the light that bounces. The JSON carries it.
func (r *Result) CrossCheck() []string {
	out := []string{}
	if len(r.Job.Racks) > 0 || !r.Job.Interreflection {
		return out
	}
	for _, side := range r.Sides() {
		if side.From.Layout.Rows == 0 {
			continue
		}
		lumen, point := averages(side.System)
		words := "confirm each other"
		if !confirm(lumen, point) {
			words = "do NOT confirm each other"
		}
		out = append(out, fmt.Sprintf("%s: lumen method %s, point by point %s; the two %s%s",
			side.Name, r.Job.Light(lumen), r.Job.Light(point), words, apart(lumen, point)))
	}
	return out
}
