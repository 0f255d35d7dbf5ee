package losses

import "math"

// Surroundings is all that the light and the start of a lamp in its air depend on. A temperature that is not known is NaN.
type Surroundings struct {
	Tube                Tube
	Points              []OutputPoint // of the lamp's data sheet, without fault by OutputPointFaults; nil if not given
	RatedAtCelsius      float64       // ambient at which the lumens are rated; NaN takes that of the kind of tube
	LeastAmbientCelsius float64       // of the lamp
	Ballast             *BallastStart // nil where none is there, or what feeds the lamp is not asked
	Enclosed            bool          // the fixture is closed all round and warmer inside than the room
	AmbientCelsius      float64       // of the room
}

// BallastStart is from which ambient a ballast starts its lamps, as far as known of its technology; NaN where not.
type BallastStart struct {
	Name            string  // "electronic"; "" for a ballast of which nothing is known
	FromCelsiusLow  float64 // some start from here
	FromCelsiusHigh float64 // others only from here
	Source          string
}

// Advice is what the temperature does to the light, and what to warn of.
type Advice struct {
	Surroundings // with the ambient of rating of the kind of tube, where that of the lamp is not known
	Factor       Factor
	Estimate     *TemperatureEstimate // where Factor is one, else nil
	Uncounted    *TemperatureEstimate // of SourceUnknown: what a fluorescent lamp would give
	AtRating     float64              // of PointsOffOne: what the points give at the ambient of rating
	Concerns     []Concern
	Outside      *Outside // nil if it is not
}

// Outside is a lamp or a ballast used below its least rated temperature, where the light is not known.
type Outside struct {
	AmbientCelsius, LeastCelsius float64
	Ballast                      string // its technology; "" if it is the lamp
}

// A Concern is what the temperature leaves in doubt.
type Concern int

// The concerns: of the light, which nobody has who gives the factor; then of the start of lamps.
const (
	SourceUnknown Concern = iota // its kind, so that no change is counted
	BeyondPoints                 // the ambient is outside the lamp's points: the nearest is held
	PointsOffOne                 // the points give no 1 at the ambient of rating
	Estimated
	LampTooCold    // below its least ambient
	BallastTooCold // below that from which any of its technology starts
	BallastUnsure  // some of its technology start, others do not
	BallastUntold  // nothing is known of it
)

// OfLight tells that a concern is about the light, and not about the start of lamps.
func (c Concern) OfLight() bool { return c <= Estimated }

// Enclosed tells that a luminaire of the category is closed all round: of V that is certain, VI may be open above.
func (c Category) Enclosed() bool { return c == CategoryV }

// TemperatureAdvice returns the temperature factor of a lamp in its surroundings. It is, in this order:
//
//	by the points of the lamp's data sheet, if given          straight lines between them, outside them the nearest, with a warning
//	1 within 5 C of the ambient of rating, for LED tubes, and where the ambient or the kind of source is not known
//	EstimateTemperature, with a warning that tells the doubt and asks for the data sheet
//
// It panics if the points are faulty.
func TemperatureAdvice(s Surroundings) Advice {
	if math.IsNaN(s.RatedAtCelsius) {
		s.RatedAtCelsius = ratedAt(s.Tube)
	}
	advice := Advice{Surroundings: s, Outside: s.outside()}
	estimate, ok := EstimateTemperature(s.Tube, s.RatedAtCelsius, s.AmbientCelsius, s.Enclosed)
	switch {
	case len(s.Points) > 0 && !math.IsNaN(s.AmbientCelsius):
		advice.byDataSheet()
	case s.Tube == LEDTube:
		advice.Factor = Factor{1, FromDefault, LEDLight}
	case math.IsNaN(s.AmbientCelsius):
		advice.Factor = Factor{1, FromDefault, AmbientUnknown}
	case !ok:
		advice.Factor = Factor{1, FromDefault, NearRating}
	case s.Tube == UnknownSource:
		advice.Factor = Factor{1, FromDefault, KindUnknown}
		advice.Uncounted, advice.Concerns = &estimate, []Concern{SourceUnknown}
	default:
		advice.Factor = Factor{estimate.Factor, FromEstimate, Guess{s.Tube, s.RatedAtCelsius, s.AmbientCelsius, s.Enclosed && s.AmbientCelsius < s.RatedAtCelsius}}
		advice.Estimate, advice.Concerns = &estimate, []Concern{Estimated}
	}
	advice.Concerns = append(advice.Concerns, s.starting()...)
	return advice
}

// A Guess is what a factor by EstimateTemperature rests on.
type Guess struct {
	Tube                           Tube
	RatedAtCelsius, AmbientCelsius float64
	Enclosed                       bool // in the cold, where it counts
}

// Estimate is the estimate itself.
func (g Guess) Estimate() TemperatureEstimate {
	estimate, _ := EstimateTemperature(g.Tube, g.RatedAtCelsius, g.AmbientCelsius, g.Enclosed)
	return estimate
}

// byDataSheet is the factor by the job's own points, which may end short of the ambient or not fit the rating.
func (a *Advice) byDataSheet() {
	output, by := relativeOutput(a.Points, a.AmbientCelsius)
	a.Factor = Factor{output, FromJobFile, by}
	if by.Held {
		a.Concerns = append(a.Concerns, BeyondPoints)
	}
	if math.IsNaN(a.RatedAtCelsius) {
		return // nothing can be said
	}
	if rated, by := relativeOutput(a.Points, a.RatedAtCelsius); !by.Held && math.Abs(rated-1) > offOne {
		a.AtRating, a.Concerns = rated, append(a.Concerns, PointsOffOne)
	}
}

// offOne is how far from 1 data-sheet points may be at the rating before it is worth a warning: our choice, reading of a printed curve.
const offOne = 0.03

// askBallast is the ambient, C, below which a ballast of unknown technology is worth a warning: 50 F, from which the choosier of electronic ballasts
// start (public ballast pages, seen). For other ballasts it is our choice.
const askBallast = 10

// sameCelsius is less than by which two temperatures differ: rounding of degrees Fahrenheit.
const sameCelsius = 1e-9

// BelowLeast tells that an ambient is below the least for which a lamp or a ballast is made, both in degrees Celsius; false where one is not known.
func BelowLeast(ambient, least float64) bool { return ambient < least-sameCelsius }

// outside says which of lamp and ballast is used below its least rated temperature.
func (s Surroundings) outside() *Outside {
	if BelowLeast(s.AmbientCelsius, s.LeastAmbientCelsius) {
		return &Outside{AmbientCelsius: s.AmbientCelsius, LeastCelsius: s.LeastAmbientCelsius}
	}
	if b := s.Ballast; b != nil && BelowLeast(s.AmbientCelsius, b.FromCelsiusLow) {
		return &Outside{s.AmbientCelsius, b.FromCelsiusLow, b.Name}
	}
	return nil
}

// starting are the concerns of an ambient below the least of the lamp, and below what the ballast needs, or may need.
func (s Surroundings) starting() []Concern {
	var all []Concern
	if BelowLeast(s.AmbientCelsius, s.LeastAmbientCelsius) {
		all = append(all, LampTooCold)
	}
	b := s.Ballast
	if b == nil {
		return all
	}
	least := askBallast - 1e-9 // a job's 50 F is 10 C but for rounding
	if !math.IsNaN(b.FromCelsiusHigh) {
		least = b.FromCelsiusHigh - 1e-9
	}
	switch {
	case s.AmbientCelsius < b.FromCelsiusLow-1e-9:
		all = append(all, BallastTooCold)
	case s.AmbientCelsius < least && !math.IsNaN(b.FromCelsiusHigh):
		all = append(all, BallastUnsure)
	case s.AmbientCelsius < least:
		all = append(all, BallastUntold)
	}
	return all
}
