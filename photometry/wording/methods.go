package wording

import (
	"fmt"
	"math"

	"lampswap/photometry/study"
)

// Methods says in words whether the lumen method and the point method confirm each other, a sentence a system. It is empty where
// the two cannot be compared: with racks, explicit positions, or without the light that bounces. The JSON carries it.
func Methods(r *study.Result) []string {
	out := []string{}
	if len(r.Job.Racks) > 0 || !r.Job.Interreflection {
		return out
	}
	for _, side := range r.Sides {
		if side.From.Layout.Rows == 0 {
			continue
		}
		lumen, point := study.Averages(side.System)
		words := "confirm each other"
		if !study.Confirm(lumen, point) {
			words = "do NOT confirm each other"
		}
		out = append(out, fmt.Sprintf("%s: lumen method %s, point by point %s; the two %s%s",
			side.Name, r.Job.Light(lumen), r.Job.Light(point), words, apart(lumen, point)))
	}
	return out
}

// apart is by how much they differ, in brackets; empty where one of them is nothing.
func apart(lumen, point float64) string {
	if !(lumen > 0 && point > 0) {
		return ""
	}
	return fmt.Sprintf(" (%.1f percent apart)", 100*math.Abs(lumen/point-1))
}
