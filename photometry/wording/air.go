package wording

import (
	"fmt"
	"math"
	"strings"

	"lampswap/photometry"
	"lampswap/photometry/losses"
	"lampswap/photometry/number"
)

// Air says what the temperature leaves in doubt of the light or the start of lamps.
func Air(a losses.Advice, c losses.Concern) string {
	degrees := photometry.Degrees
	ambient, rated := degrees(a.AmbientCelsius), degrees(a.RatedAtCelsius)
	switch c {
	case losses.SourceUnknown:
		e := a.Uncounted
		return fmt.Sprintf("ambient %s, and the kind of source is not known, so no change of light is counted: "+
			"a fluorescent lamp rated at %s would give about %.2f of its light, doubt %.2f to %.2f; give losses.temperature", ambient, rated, e.Factor, e.Low, e.High)
	case losses.BeyondPoints:
		first, last := a.Points[0], a.Points[len(a.Points)-1]
		return fmt.Sprintf("ambient %s is outside the lamp's points of light over temperature, %s to %s: "+
			"%.3g of the nearest is held, the light beyond is not known", ambient, degrees(first.AmbientCelsius), degrees(last.AmbientCelsius), a.Factor.Value)
	case losses.PointsOffOne:
		return fmt.Sprintf("the lamp's points of light over temperature give %.2f at %s, at which its lumens are rated, "+
			"where it should be 1: are they relative to another ambient?", a.AtRating, rated)
	case losses.Estimated:
		return estimated(a)
	case losses.LampTooCold:
		return fmt.Sprintf("ambient %s is below the least for this lamp, %s: it may not start or may flicker", ambient, degrees(a.LeastAmbientCelsius))
	case losses.BallastTooCold, losses.BallastUnsure, losses.BallastUntold:
	}
	return ballast(a.Ballast, ambient, c)
}

// ballast says from which ambient a ballast starts its lamps, as far as that is known.
func ballast(b *losses.BallastStart, ambient string, c losses.Concern) string {
	name := strings.TrimSpace(b.Name + " ballasts")
	low, high := photometry.Degrees(b.FromCelsiusLow), photometry.Degrees(b.FromCelsiusHigh)
	if c == losses.BallastTooCold {
		return fmt.Sprintf("ambient %s is below %s, the lowest from which %s are told to start (%s): "+
			"take one made for it; the figure printed on the ballast counts", ambient, low, name, b.Source)
	}
	if c == losses.BallastUnsure {
		return fmt.Sprintf("ambient %s: %s start some from %s, others only from %s (%s); the figure printed on the ballast counts", ambient, name, low, high, b.Source)
	}
	text := fmt.Sprintf("ambient %s: from which ambient the ballast starts its lamps is not known; the figure printed on it counts", ambient)
	if b.Source != "" {
		text += fmt.Sprintf(" (%s: %s)", name, b.Source)
	}
	return text
}

// estimated says on what an estimate of the light rests.
func estimated(a losses.Advice) string {
	off, side, e := a.AmbientCelsius-a.RatedAtCelsius, "above", a.Estimate
	if off < 0 {
		side = "below"
	}
	text := fmt.Sprintf("ambient %s is %.0f °C %s that at which the lumens of %s are rated, %s: "+
		"%.2f of the light is counted, an estimate with a doubt of %.2f to %.2f; no published curve was found. "+
		"Give temperature_points, of the system, from the lamp's data sheet. Sources: %s", photometry.Degrees(a.AmbientCelsius), math.Abs(off), side, tube(a.Tube),
		photometry.Degrees(a.RatedAtCelsius), e.Factor, e.Low, e.High, sources(e))
	if e.Beyond {
		text += ". No source reaches so far: a guess"
	}
	switch {
	case off < 0 && a.Enclosed:
		text += ". The estimate is for an open fixture in still air: this one is closed, warmer inside, and may give up to all its light"
	case off < 0:
		text += ". The estimate is for an open fixture in still air: a draught, as of a cooler's fan, takes more"
	case a.Enclosed:
		text += ". The fixture is closed, warmer inside, and may lose more"
	}
	return text
}

// tube is a lamp of the kind.
func tube(t losses.Tube) string {
	if t == losses.UnknownTube {
		return "a fluorescent lamp of unknown kind"
	}
	return "a " + t.String() + " lamp"
}

// sources say of each source of an estimate what it gives here, between which of its points, and how good it is.
func sources(e *losses.TemperatureEstimate) string {
	point := func(p losses.OffPoint) string {
		if math.IsNaN(p.AmbientCelsius) {
			return fmt.Sprintf("%.2f %g °C off", p.Output, p.OffCelsius)
		}
		return fmt.Sprintf("%.2f at %s", p.Output, photometry.Degrees(p.AmbientCelsius))
	}
	var all []string
	for _, s := range e.Sources {
		points := "between " + point(s.Near) + " and " + point(s.Far)
		if s.Beyond {
			points = "its line carried on beyond " + point(s.Far)
		}
		all = append(all, fmt.Sprintf("%.2f by the %s, %s (%s source: %s)", s.Value, s.Name, points, s.Weight, s.Source))
	}
	return strings.Join(all, ", ")
}

// Outside says how a lamp or a ballast is used below its least rated temperature; "" of none.
func Outside(o *losses.Outside) string {
	if o == nil {
		return ""
	}
	digits := 0 // in which the two differ
	for digits < 6 && number.Fixed(o.AmbientCelsius, digits) == number.Fixed(o.LeastCelsius, digits) {
		digits++
	}
	write := func(celsius float64) string {
		return fmt.Sprintf("%s °C (%s °F)", number.Fixed(celsius, digits), number.Fixed(photometry.FahrenheitFromCelsius(celsius), digits))
	}
	at, least := write(o.AmbientCelsius), write(o.LeastCelsius)
	if o.Ballast == "" {
		return fmt.Sprintf("the lamp is used at %s, below its least rated temperature of %s", at, least)
	}
	return fmt.Sprintf("the ballast is used at %s, below %s, the lowest from which any %s ballast is told to start", at, least, o.Ballast)
}

// relamping says that all lamps are replaced far from the end of their life.
func relamping(far losses.Relamping, hours, life float64) string {
	after := fmt.Sprintf("all lamps are replaced after %s h, %.0f percent of the ", number.Thousands(hours), 100*hours/life)
	of, own := fmt.Sprintf("life of %s h", number.Thousands(life)), "a relamp_hours of its own can be given in the system's [..upkeep]"
	switch far {
	case losses.Early, losses.EarlyL70:
		kind := map[losses.Relamping]string{losses.Early: "rated ", losses.EarlyL70: "L70 "}[far]
		return after + kind + of + fmt.Sprintf(" (under %.0f counts as far from it): bright, and dear in lamps; %s", 100*losses.EarlyRelamping, own)
	case losses.BeyondL70:
		return after + "L70 " + of + ", when less than 70 percent of their lumens are left; " + own
	case losses.Late, losses.InTime:
	}
	return after + "rated " + of + fmt.Sprintf(", at which half have failed (over %.0f counts as far): the result holds only if failed lamps are replaced as they fail, "+
		"else give losses.lamp_burnout; %s", 100*losses.LateRelamping, own)
}
