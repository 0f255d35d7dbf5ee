package study

import (
	"fmt"
	"math"
)

// The lumen method may read this much lower than the point method in a real room and still confirm it, as its published zonal
// multipliers are a fit; and this much higher. Source: the comparison in the interreflection and cavity tests.
const (
	lumenMethodLow  = 0.10
	lumenMethodHigh = 0.05
)

// CrossCheck says in words whether the lumen method and the point method confirm each other, a sentence a system. It is empty where
// the two cannot be compared: with racks, explicit positions, or without the light that bounces.
func (r *Result) CrossCheck() []string {
	out := []string{}
	if len(r.Job.Racks) > 0 || !r.Job.Interreflection {
		return out
	}
	for _, side := range []struct {
		name string
		s    *System
		rows int
	}{{"existing", &r.Existing, r.Job.Existing.Layout.Rows}, {"proposed", &r.Proposed, r.Job.Proposed.Layout.Rows}} {
		if side.rows == 0 {
			continue
		}
		lumen, point := side.s.LumenMethod.MaintainedAverage, side.s.Grids[0].Statistics.Average
		deviation := lumen/point - 1
		words := "confirm each other"
		if deviation < -lumenMethodLow || deviation > lumenMethodHigh {
			words = "do NOT confirm each other"
		}
		out = append(out, fmt.Sprintf("%s: lumen method %s, point by point %s; the two %s (%.1f percent apart)",
			side.name, r.Light(lumen), r.Light(point), words, 100*math.Abs(deviation)))
	}
	return out
}
