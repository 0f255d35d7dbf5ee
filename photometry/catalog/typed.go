package catalog

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"lampswap/photometry"
	"lampswap/photometry/number"
)

// UsualL70 is the life that is taken for an LED tube of which none is known, h: that of most LED tubes of the list. Assumed.
const UsualL70 = 50_000

// UnknownDepreciation is mean over initial lumens of a lamp of which nothing is known. Assumed.
const UnknownDepreciation = 0.90

const unknownAge = "nothing is known of what the lamp loses; assumed, give its mean lumens"

// AgesAsAssumed tells that nothing is known of what the lamp's lumens lose.
func (l Lamp) AgesAsAssumed() bool { return l.DepreciationFrom == unknownAge }

// The ambient at which lumens are rated, C. Source: trade association page (T12 and T8, T5).
const (
	usuallyRatedAt = 25
	t5RatedAt      = 35
)

// Describe makes a lamp of the figures that somebody gives for it, so that all that holds for a lamp of the list holds for it too. Given are LED,
// LEDType, InitialLumens and what else is known; Mean over initial lumens is LampLumenDepreciation. It adds the name, what the lumens lose, the
// ambient of their rating, and the family of a fluorescent lamp that has the watts, length and diameter of one in the list: its ballasts and the
// law's floors for it.
func Describe(l Lamp) Lamp {
	l.Typed, l.Source, l.L70 = true, "given by the job", l.LED
	l.InitialLumensLow, l.InitialLumensHigh = l.InitialLumens, l.InitialLumens
	class := ""
	switch {
	case l.LED:
		l.DepreciationFrom, l.RatedAtCelsius, class = l.l70Words(), usuallyRatedAt, "LED type "+string(l.LEDType)
		l.Family = "LED-" + string(l.LEDType)
		l.Description = "LED tube, type " + string(l.LEDType)
	default:
		l.Description = "fluorescent lamp"
		l.DepreciationFrom = fmt.Sprintf("mean over initial lumens, %g / %g, given by the job", math.Round(l.Mean()), l.InitialLumens)
		if l.LampLumenDepreciation == 0 {
			l.LampLumenDepreciation, l.DepreciationFrom = UnknownDepreciation, unknownAge
		}
		if class = tube(l.Diameter); class != "" {
			l.RatedAtCelsius = usuallyRatedAt
			l.Description = class + " lamp"
		}
		if class == "T5" {
			l.RatedAtCelsius = t5RatedAt
		}
		if like, ok := kin(l); ok {
			l.Family, l.hosts, l.LeastLumensPerWatt, class = like.Family, like.hosts, like.LeastLumensPerWatt, like.Family
		}
	}
	l.Name = strings.TrimSpace(fmt.Sprintf("%s %s lm", class, number.Thousands(l.InitialLumens)))
	return l
}

// kin finds a fluorescent lamp of the list with the same watts, length and diameter: one of the same family.
func kin(l Lamp) (Lamp, bool) {
	const near = photometry.Inch / 8 // of eighths of an inch, in which tubes are named
	for _, like := range lamps() {
		if !like.LED && l.RatedWatts == like.RatedWatts && math.Abs(l.NominalLength-like.NominalLength) < 8*near && math.Abs(l.Diameter-like.Diameter) < near {
			return like, true
		}
	}
	return Lamp{}, false
}

// tube is the class of a tube by its diameter, m, in eighths of an inch: T12, T8, T5; "" where it is near to none.
func tube(diameter float64) string {
	for _, eighths := range []float64{12, 8, 5} {
		if math.Abs(diameter/photometry.Inch*8-eighths) < 1 {
			return fmt.Sprintf("T%.0f", eighths)
		}
	}
	return ""
}

// Known tells that more is known of the lamp than its lumens.
func (l Lamp) Known() bool { return !l.Typed || l.LED || l.RatedWatts > 0 || l.Diameter > 0 }

// NeedsBallast tells a lamp that burns on a fluorescent ballast.
func (l Lamp) NeedsBallast() bool { return !l.LED || l.LEDType == OnBallast }

// T12 tells a fluorescent lamp of that diameter.
func (l Lamp) T12() bool { return !l.LED && tube(l.Diameter) == "T12" }

// Series700 tells a T8 lamp of the older phosphors, whose color rendering index is in the seventies.
func (l Lamp) Series700() bool {
	return l.Family == "F32T8" && l.ColorRendering > 0 && l.ColorRendering < 80
}

// On is the LED tube of type A on the ballasts of a family of fluorescent lamps.
func (l Lamp) On(family string) Lamp {
	l.hosts = family
	return l
}

// Hosts returns the families of fluorescent lamps that have a ballast of that kind, or of that name in the table.
func Hosts(kind string) []string {
	asked := plainKind(kind)
	var all []string
	for _, b := range ballasts() {
		if b.Name == asked || b.Kind == asked {
			all = with(all, b.Lamp)
		}
	}
	return all
}

// Same tells that two lamps are one: by name in the list, else by all figures that a job can give.
func (l Lamp) Same(m Lamp) bool {
	const rounding = 1e-9 // between the units of a job and of the list
	if !l.Typed && !m.Typed {
		return l.Name == m.Name
	}
	figures := func(x Lamp) []float64 {
		return []float64{x.RatedWatts, x.NominalLength, x.BeamDeg, x.InitialLumens, x.Mean(), x.RatedLifeHours, x.RatedAtCelsius, x.LeastAmbientCelsius}
	}
	same := func(x, y float64) bool {
		return math.Abs(x-y) <= rounding*math.Abs(x) || math.IsNaN(x) && math.IsNaN(y)
	}
	thick := same(l.Diameter, m.Diameter) || l.Diameter*m.Diameter == 0 // or not known of one
	return thick && l.LED == m.LED && l.LEDType == m.LEDType && slices.EqualFunc(figures(l), figures(m), same)
}

// Words describe the lamp for whoever buys it: "4-ft T8, 800-series phosphor, 32 W, CRI 85".
func (l Lamp) Words() string {
	parts := []string{l.Description}
	if l.RatedWatts > 0 {
		parts = append(parts, fmt.Sprintf("%g W", l.RatedWatts))
	}
	if l.LED && l.BeamDeg > 0 {
		parts = append(parts, fmt.Sprintf("beam %g degrees", l.BeamDeg))
	}
	if l.ColorRendering > 0 {
		parts = append(parts, fmt.Sprintf("CRI %g", l.ColorRendering))
	}
	if l.ColorTemperature > 0 {
		parts = append(parts, fmt.Sprintf("%g K", l.ColorTemperature))
	}
	return strings.Join(parts, ", ")
}
