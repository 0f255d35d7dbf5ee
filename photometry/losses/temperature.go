package losses

import (
	"fmt"
	"math"
	"strings"

	"lampswap/photometry"
	"lampswap/photometry/number"
)

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
	Factor   Factor
	Estimate *TemperatureEstimate // where Factor is one, else nil
	Light    []string             // warnings about the light
	Starting []string             // warnings that lamps may not start or may flicker: they hold even if the job gives the factor itself
	Unsure   []string             // warnings that this is not known
	Outside  string               // how lamp or ballast is used below its least rated temperature, where the light is not known; "" if it is not
}

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
	advice := Advice{Outside: s.outside()}
	advice.Starting, advice.Unsure = s.starting()
	estimate, ok := EstimateTemperature(s.Tube, s.RatedAtCelsius, s.AmbientCelsius, s.Enclosed)
	switch {
	case len(s.Points) > 0 && !math.IsNaN(s.AmbientCelsius):
		advice.Factor, advice.Light = s.byDataSheet()
	case s.Tube == LEDTube:
		advice.Factor = Factor{1, FromDefault, "LED light hardly depends on the ambient (general knowledge, no figure was found): no change is counted"}
	case math.IsNaN(s.AmbientCelsius):
		advice.Factor = Factor{1, FromDefault, "the ambient is not known: no change is counted"}
	case !ok:
		advice.Factor = Factor{1, FromDefault,
			fmt.Sprintf("as at the ambient of the lamp's rating: within %d °C no change is counted, our choice", offRating)}
	case s.Tube == UnknownSource:
		advice.Factor = Factor{1, FromDefault, "the kind of source is not known: no change is counted"}
		advice.Light = []string{fmt.Sprintf("ambient %s, and the kind of source is not known, so no change of light is counted: "+
			"a fluorescent lamp rated at %s would give about %.2f of its light, doubt %.2f to %.2f; give losses.temperature",
			photometry.Degrees(s.AmbientCelsius), photometry.Degrees(s.RatedAtCelsius), estimate.Factor, estimate.Low, estimate.High)}
	default:
		advice.Estimate = &estimate
		advice.Factor = Factor{estimate.Factor, FromEstimate, fmt.Sprintf("estimate for %s, not a published curve, doubt %.2f to %.2f: %s; %s",
			s.lampInWords(), estimate.Low, estimate.High, strings.Join(estimate.Sources, ", "), howEstimated)}
		advice.Light = []string{s.estimateWarning(estimate)}
	}
	return advice
}

const howEstimated = "straight lines, the good source or the middle of the weak ones, and the width of the doubt are our choice"

func (s Surroundings) lampInWords() string {
	if s.Tube == UnknownTube {
		return "a fluorescent lamp of unknown kind"
	}
	return "a " + s.Tube.String() + " lamp"
}

// byDataSheet is the factor by the job's own points, and a warning if they end short of the ambient or do not fit the rating.
func (s Surroundings) byDataSheet() (Factor, []string) {
	output, held, words := relativeOutput(s.Points, s.AmbientCelsius)
	var warnings []string
	first, last := s.Points[0], s.Points[len(s.Points)-1]
	if held {
		warnings = append(warnings, fmt.Sprintf("ambient %s is outside the lamp's points of light over temperature, %s to %s: "+
			"%.3g of the nearest is held, the light beyond is not known",
			photometry.Degrees(s.AmbientCelsius), photometry.Degrees(first.AmbientCelsius), photometry.Degrees(last.AmbientCelsius), output))
	}
	if math.IsNaN(s.RatedAtCelsius) {
		s.RatedAtCelsius = first.AmbientCelsius - 1 // not known: outside the points, nothing can be said
	}
	if rated, outside, _ := relativeOutput(s.Points, s.RatedAtCelsius); !outside && math.Abs(rated-1) > offOne {
		warnings = append(warnings, fmt.Sprintf("the lamp's points of light over temperature give %.2f at %s, at which its lumens are rated, "+
			"where it should be 1: are they relative to another ambient?", rated, photometry.Degrees(s.RatedAtCelsius)))
	}
	return Factor{output, FromJobFile, "data-sheet points of the lamp as given: " + words}, warnings
}

// offOne is how far from 1 data-sheet points may be at the rating before it is worth a warning: our choice, reading of a printed curve.
const offOne = 0.03

func (s Surroundings) estimateWarning(e TemperatureEstimate) string {
	off, side := s.AmbientCelsius-s.RatedAtCelsius, "above"
	if off < 0 {
		side = "below"
	}
	text := fmt.Sprintf("ambient %s is %.0f °C %s that at which the lumens of %s are rated, %s: "+
		"%.2f of the light is counted, an estimate with a doubt of %.2f to %.2f; no published curve was found. "+
		"Give losses.temperature_points from the lamp's data sheet. Sources: %s",
		photometry.Degrees(s.AmbientCelsius), math.Abs(off), side, s.lampInWords(), photometry.Degrees(s.RatedAtCelsius), e.Factor, e.Low, e.High, strings.Join(e.Sources, ", "))
	if e.Beyond {
		text += ". No source reaches so far: a guess"
	}
	switch {
	case off < 0 && s.Enclosed:
		text += ". The estimate is for an open fixture in still air: this one is closed, warmer inside, and may give up to all its light"
	case off < 0:
		text += ". The estimate is for an open fixture in still air: a draught, as of a cooler's fan, takes more"
	case s.Enclosed:
		text += ". The fixture is closed, warmer inside, and may lose more"
	}
	return text
}

// askBallast is the ambient, C, below which a ballast of unknown technology is worth a warning: 50 F, from which the choosier of electronic ballasts
// start (public ballast pages, seen). For other ballasts it is our choice.
const askBallast = 10

// sameCelsius is less than by which two temperatures differ: rounding of degrees Fahrenheit.
const sameCelsius = 1e-9

// BelowLeast tells that an ambient is below the least for which a lamp or a ballast is made, both in degrees Celsius; false where one is not known.
func BelowLeast(ambient, least float64) bool { return ambient < least-sameCelsius }

// outside says which of lamp and ballast is used below its least rated temperature.
func (s Surroundings) outside() string {
	if BelowLeast(s.AmbientCelsius, s.LeastAmbientCelsius) {
		at, least := apart(s.AmbientCelsius, s.LeastAmbientCelsius)
		return fmt.Sprintf("the lamp is used at %s, below its least rated temperature of %s", at, least)
	}
	if b := s.Ballast; b != nil && BelowLeast(s.AmbientCelsius, b.FromCelsiusLow) {
		at, least := apart(s.AmbientCelsius, b.FromCelsiusLow)
		return fmt.Sprintf("the ballast is used at %s, below %s, the lowest from which any %s ballast is told to start", at, least, b.Name)
	}
	return ""
}

// apart writes two temperatures as photometry.Degrees does, with the digits in which they differ.
func apart(a, b float64) (string, string) {
	write := func(celsius float64, digits int) string {
		return fmt.Sprintf("%s °C (%s °F)", number.Fixed(celsius, digits), number.Fixed(photometry.FahrenheitFromCelsius(celsius), digits))
	}
	digits := 0
	for digits < 6 && number.Fixed(a, digits) == number.Fixed(b, digits) {
		digits++
	}
	return write(a, digits), write(b, digits)
}

// starting warns of an ambient below the least of the lamp, and below what the ballast needs, or may need.
func (s Surroundings) starting() (warnings, unsure []string) {
	if BelowLeast(s.AmbientCelsius, s.LeastAmbientCelsius) {
		warnings = append(warnings, fmt.Sprintf("ambient %s is below the least for this lamp, %s: it may not start or may flicker",
			photometry.Degrees(s.AmbientCelsius), photometry.Degrees(s.LeastAmbientCelsius)))
	}
	b := s.Ballast
	if b == nil {
		return warnings, nil
	}
	name, least := strings.TrimSpace(b.Name+" ballasts"), askBallast-1e-9 // a job's 50 F is 10 C but for rounding
	if !math.IsNaN(b.FromCelsiusHigh) {
		least = b.FromCelsiusHigh - 1e-9
	}
	switch {
	case s.AmbientCelsius < b.FromCelsiusLow-1e-9:
		warnings = append(warnings, fmt.Sprintf("ambient %s is below %s, the lowest from which %s are told to start (%s): "+
			"take one made for it; the figure printed on the ballast counts", photometry.Degrees(s.AmbientCelsius), photometry.Degrees(b.FromCelsiusLow), name, b.Source))
	case s.AmbientCelsius < least && !math.IsNaN(b.FromCelsiusHigh):
		unsure = append(unsure, fmt.Sprintf("ambient %s: %s start some from %s, others only from %s (%s); the figure printed on the ballast counts",
			photometry.Degrees(s.AmbientCelsius), name, photometry.Degrees(b.FromCelsiusLow), photometry.Degrees(b.FromCelsiusHigh), b.Source))
	case s.AmbientCelsius < least:
		text := fmt.Sprintf("ambient %s: from which ambient the ballast starts its lamps is not known; the figure printed on it counts",
			photometry.Degrees(s.AmbientCelsius))
		if b.Source != "" {
			text += fmt.Sprintf(" (%s: %s)", name, b.Source)
		}
		unsure = append(unsure, text)
	}
	return warnings, unsure
}
