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

// averages returns the maintained average of the work plane by the two methods, lx.
func (s *System) averages() (lumen, point float64) {
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
// the two cannot be compared: with racks, explicit positions, or without the light that bounces.
func (r *Result) CrossCheck() []string {
	out := []string{}
	if len(r.Job.Racks) > 0 || !r.Job.Interreflection {
		return out
	}
	for _, side := range r.Sides() {
		if side.From.Layout.Rows == 0 {
			continue
		}
		lumen, point := side.averages()
		words := "confirm each other"
		if !confirm(lumen, point) {
			words = "do NOT confirm each other"
		}
		out = append(out, fmt.Sprintf("%s: lumen method %s, point by point %s; the two %s%s",
			side.Name, r.Light(lumen), r.Light(point), words, apart(lumen, point)))
	}
	return out
}

// BalanceWords is the account of the light that bounces, a sentence a system; empty without it.
func (r *Result) BalanceWords() []string {
	out := []string{}
	for _, side := range r.Sides() {
		if b := side.Balance; b != nil {
			off, word := 100*(b.Absorbed/b.Emitted-1), "more"
			if off < 0 {
				word = "less"
			}
			out = append(out, fmt.Sprintf("%s: emitted %.0f lm, absorbed by the surfaces %.0f lm (%.2f percent %s), %d bounces followed",
				side.Name, b.Emitted, b.Absorbed, math.Abs(off), word, b.Bounces))
		}
	}
	return out
}
