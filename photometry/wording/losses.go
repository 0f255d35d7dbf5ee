package wording

import (
	"fmt"
	"strings"

	"lampswap/photometry"
	"lampswap/photometry/losses"
	"lampswap/photometry/number"
)

// because has what factors rest on that have no figures.
var because = map[losses.Because]string{
	losses.NoBallastNamed: "no ballast is named: lamps as on the reference ballast",
	losses.NothingKnown:   "not known: no loss is counted",
	losses.ReplacedSingly: "failed lamps are replaced as they fail",
	losses.AtRating:       "as at the ambient of the lamp's rating",
	losses.RatedVoltage:   "line voltage is the rated voltage",
	losses.NoOtherLoss:    "no other loss",
	losses.AsGiven:        "as given",
	losses.SeveralKinds:   "of several kinds of luminaire, each by its own rule",
	losses.BallastGiven:   "given by the job",
	losses.BallastOfFile:  "as in the photometric file",
	losses.InsideAbsolute: "absolute photometry has it inside",
	losses.DriverOutside:  "type C: the driver gives the tubes their rated light",
	losses.DriverInside:   "no ballast: type B, driver in the tube",
	losses.NewLamps:       "new lamps",
	losses.LampUnlisted:   "the lamp is none of the list: no loss is counted for the hours burnt",
	losses.LampsOut:       "lamps that were out on the day, taken as evenly spread",
	losses.LEDLight:       "LED light hardly depends on the ambient (general knowledge, no figure was found): no change is counted",
	losses.AmbientUnknown: "the ambient is not known: no change is counted",
	losses.NearRating:     fmt.Sprintf("as at the ambient of the lamp's rating: within %d °C no change is counted, our choice", losses.OffRating),
	losses.KindUnknown:    "the kind of source is not known: no change is counted",
}

// laws have how the lumens of lamps fall.
var laws = map[losses.Law]string{
	losses.L70Law:         "{age}: 0.70^{life}, exponential through the L70 life, our assumed law",
	losses.L70LifeUnknown: "{age}, but the L70 life is not known: taken as at 40 percent of it, 0.70^0.40, assumed",
	losses.MeanUnknown:    "mean lumens are not known: no loss is counted",
	losses.LifeUnknown:    "{age}, but the rated life is not known: mean over initial lumens, which holds at 40 percent of it",
	losses.AtMean:         "{age}: mean over initial lumens, which holds there",
	losses.BeyondMean:     "{age}: {mean}, mean over initial lumens at 40 percent of rated life, carried on by our interpolation, assumed",
	losses.AssumedMean:    "the lamp is none of the list: {mean2} at 40 percent of its life, whatever that is, assumed; give its mean over initial lumens",
}

// Why says in a line what a light loss factor rests on, with source and status.
func Why(f losses.Factor) string {
	switch why := f.Why.(type) {
	case losses.Because:
		return because[why]
	case losses.Listed:
		return string(why)
	case losses.Aged:
		return aged(why)
	case losses.Dirt:
		text := fmt.Sprintf("category %v, %v, %.3g months: exp(-%g t^%g); %s", why.Category, why.Atmosphere, why.Months, why.A, why.B, why.Source)
		if why.Check != "" {
			text += "; " + why.Check
		}
		return text
	case losses.SurfaceDirt:
		return surfaceDirt(why)
	case losses.Sheet:
		return "data-sheet points of the lamp as given: " + sheet(why)
	case losses.Guess:
		e := why.Estimate()
		return fmt.Sprintf("estimate for %s, not a published curve, doubt %.2f to %.2f: %s; straight lines, the good source or the middle of the weak ones, "+
			"and the width of the doubt are our choice", tube(why.Tube), e.Low, e.High, sources(&e))
	}
	return ""
}

func aged(a losses.Aged) string {
	text := strings.NewReplacer("{age}", lampAge(a.Age), "{life}", fmt.Sprintf("%.3g", a.Age.OfLife), "{mean}", fmt.Sprintf("%.3g", a.Mean),
		"{mean2}", fmt.Sprintf("%.2f", a.Mean)).Replace(laws[a.Law])
	if a.Law == losses.AssumedMean && a.Age.LifeHours > 0 {
		text += "; here " + lampAge(a.Age)
	}
	if a.Lamp != "" {
		apart := " "
		if a.Law == losses.MeanUnknown { // a sentence of its own
			apart = ": "
		}
		text = a.Lamp + apart + text
	}
	if a.Source != "" {
		text += " (" + a.Source + ")"
	}
	return text
}

// lampAge says an age in hours and as a part of the rated life, as far as they are known.
func lampAge(a losses.Age) string {
	switch {
	case a.LifeHours == 0 && a.OfLife == 0:
		return fmt.Sprintf("after %s h", number.Thousands(a.Hours))
	case a.LifeHours == 0:
		return fmt.Sprintf("at %.3g percent of rated life", 100*a.OfLife)
	}
	return fmt.Sprintf("after %s h, %.3g percent of the rated life of %s h", number.Thousands(a.Hours), 100*a.OfLife, number.Thousands(a.LifeHours))
}

func surfaceDirt(d losses.SurfaceDirt) string {
	text := fmt.Sprintf("%v luminaire, %v, %.3g months: %.3g percent dirt (law in time assumed), room cavity ratio %.3g", d.Distribution, d.Atmosphere,
		d.Months, d.Percent, d.Ratio)
	if d.MostPercent > 0 {
		text += fmt.Sprintf("; the table ends at %g percent, which is used", d.MostPercent)
	}
	if d.MostRatio > 0 {
		text += fmt.Sprintf("; the table covers ratios from %g to %g, its edge is used", d.LeastRatio, d.MostRatio)
	}
	return text + "; " + d.Source
}

func sheet(s losses.Sheet) string {
	point := func(p losses.OutputPoint) string {
		return fmt.Sprintf("%.3g at %s", p.RelativeOutput, photometry.Degrees(p.AmbientCelsius))
	}
	if s.Held {
		return "held from the nearest point, " + point(s.To)
	}
	return "straight line between " + point(s.From) + " and " + point(s.To)
}
