package losses

import (
	"fmt"
	"math"
)

// An OutputPoint is one point of a lamp's own data sheet: its light at an ambient, over that at the ambient at which its lumens are rated.
type OutputPoint struct {
	AmbientCelsius float64
	RelativeOutput float64 // above 0 and up to 1.2
}

const (
	fewestPoints  = 2
	largestOutput = 1.2
)

// A PointFault is what is wrong with one of the points that a job gives.
type PointFault struct {
	Index int  // of the point, from 0; of all the points together where All
	All   bool // the fault is of the list as a whole
	Wrong string
	Want  string
}

// OutputPointFaults returns what is wrong with a lamp's points, nil for nothing: there must be at least two, their ambients must rise, and
// the light must be above 0 and up to 1.2.
func OutputPointFaults(points []OutputPoint) []PointFault {
	var faults []PointFault
	if len(points) < fewestPoints {
		faults = append(faults, PointFault{All: true, Wrong: fmt.Sprintf("has %d", len(points)),
			Want: "at least two points of ambient and relative output"})
	}
	for i, p := range points {
		if !(p.RelativeOutput > 0) || p.RelativeOutput > largestOutput {
			faults = append(faults, PointFault{Index: i, Wrong: fmt.Sprintf("relative output is %g", p.RelativeOutput),
				Want: fmt.Sprintf("a number above 0 and up to %g, 1 at the ambient of the lamp's rating", largestOutput)})
		}
		switch {
		case math.IsNaN(p.AmbientCelsius) || math.IsInf(p.AmbientCelsius, 0):
			faults = append(faults, PointFault{Index: i, Wrong: "ambient is no number", Want: "a temperature"})
		case i > 0 && p.AmbientCelsius <= points[i-1].AmbientCelsius:
			faults = append(faults, PointFault{Index: i, Wrong: "ambient is not above that of the point before",
				Want: "ambients that rise from point to point"})
		}
	}
	return faults
}

// Sheet is what a factor by the points of a lamp's data sheet rests on: the straight line between two of them, or the nearest alone.
type Sheet struct {
	From, To OutputPoint
	Held     bool // To alone counts
}

// relativeOutput returns the light at an ambient by the points of the lamp's data sheet: straight lines between them, which neither overshoot nor
// claim a curve; outside them that of the nearest. It panics where OutputPointFaults finds a fault, or the ambient is NaN.
func relativeOutput(points []OutputPoint, ambientC float64) (output float64, by Sheet) {
	if len(OutputPointFaults(points)) > 0 || math.IsNaN(ambientC) {
		panic("losses: the points of light over ambient are faulty, or the ambient is NaN")
	}
	ambients := make([]float64, len(points))
	for i, p := range points {
		ambients[i] = p.AmbientCelsius
	}
	i, t, held := between(ambients, ambientC)
	a, b := points[i], points[i+1]
	if held {
		if t == 0 {
			b = a
		}
		return b.RelativeOutput, Sheet{To: b, Held: true}
	}
	return (1-t)*a.RelativeOutput + t*b.RelativeOutput, Sheet{From: a, To: b}
}
