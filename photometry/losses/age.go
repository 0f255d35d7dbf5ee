package losses

import "math"

// A Basis is the age of the lamps at which light is judged. Systems that are compared share one; the zero value is mid-life.
type Basis struct {
	At    Point
	Hours float64 // burnt, the same for every lamp; of AtHours
}

// A Point is where in a lamp's life its light is judged.
type Point int

// The points.
const (
	MidLife Point = iota // 40 percent of the lamp's own rated life, for which mean lumens are stated
	End                  // the end of the relamping interval; of rated life where there is none
	AtHours              // after hours that are given
)

// PointNames are the names of the points that are words in a job file.
func PointNames() []string { return []string{"mid-life", "end"} }

// String is "mid-life", "end" or "hours".
func (p Point) String() string { return append(PointNames(), "hours")[p] }

// An Age is how long the lamps of one system have burnt when its light is judged.
type Age struct {
	Hours     float64 // NaN where it is a part of a life that is not known
	OfLife    float64 // over the rated life; NaN where that is not known and matters
	Interval  bool    // it is the end of a relamping interval
	LifeHours float64 // the rated life; 0 is not known
}

// Age returns that of lamps with a rated life, h, which are all replaced after relampHours; 0 for a life that is not known, and for lamps that are
// replaced as they fail.
func (b Basis) Age(ratedLifeHours, relampHours float64) Age {
	a := Age{Hours: math.NaN(), OfLife: math.NaN(), LifeHours: ratedLifeHours}
	switch {
	case b.At == MidLife:
		a.OfLife = meanLumensAt
	case b.At == AtHours:
		a.Hours = b.Hours
	case relampHours > 0:
		a.Hours, a.Interval = relampHours, true
	default:
		a.OfLife = 1
	}
	if ratedLifeHours > 0 {
		if math.IsNaN(a.Hours) {
			a.Hours = a.OfLife * ratedLifeHours
		} else {
			a.OfLife = a.Hours / ratedLifeHours
		}
	}
	return a
}

// told is what of an age is told, 0 for what is not known.
func (a Age) told() Age {
	a.Interval = false
	if math.IsNaN(a.Hours) {
		a.Hours = 0
	}
	if math.IsNaN(a.OfLife) {
		a.OfLife = 0
	}
	return a
}
