package wording

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"lampswap/photometry/glare"
	"lampswap/photometry/job"
	"lampswap/photometry/lighting"
	"lampswap/photometry/number"
	"lampswap/photometry/study"
)

// Comfort says what it is like to live with the light, beside how much there is: bare lamps, color, flicker, what of daylight is left out. A fact is
// marked with its source; no number is said of what is not known. The JSON carries it.
func Comfort(r *study.Result) []string {
	all := []string{}
	for _, side := range r.Sides {
		for _, words := range []func(*study.Result, lighting.Side) string{glareOf, bareLamp, colorOf, flicker} {
			if text := words(r, side); text != "" {
				all = append(all, side.Name+": "+text)
			}
		}
	}
	return append(all, daylight(r.Job))
}

// glareOf is the rating of the observer who is most glared at.
func glareOf(r *study.Result, side lighting.Side) string {
	ugr, why := side.Glare()
	if why != glare.Rated {
		return "no unified glare rating: " + string(why)
	}
	worst := side.Worst()
	who := "the observers by rule (in the middles of the walls, seated and standing)"
	if r.Job.ObserversNamed {
		who = "the job's observers"
	}
	return fmt.Sprintf("unified glare rating %s at most among %s: %q, who sees %d luminaires before a background of %s cd/m2 (UGR by CIE 117:1995, position index by a fit, "+
		"both from memory, unverified; new lamps)", number.Fixed(ugr, 1), who, worst.Name, worst.Sources, number.Finer(worst.Background, 0))
}

func bareLamp(_ *study.Result, side lighting.Side) string {
	var all []string
	for _, kind := range side.Kinds() {
		luminance := study.BareLamp(kind.From)
		if math.IsNaN(luminance) {
			continue
		}
		text := fmt.Sprintf("a bare %s has about %s cd/m2 at its rated lumens", kind.From.Lamp.Name, number.Thousands(10*math.Round(luminance/10)))
		if kind.From.Lamp.LED {
			text = fmt.Sprintf("a bare %s would have about %s cd/m2 if it shone all round", kind.From.Lamp.Name, number.Thousands(10*math.Round(luminance/10)))
			if beam := kind.From.Lamp.BeamDeg; beam > 0 && beam < 360 {
				text += fmt.Sprintf("; it shines into %g degrees, and is brighter there", beam)
			}
		}
		if !slices.Contains(all, text) {
			all = append(all, text)
		}
	}
	if len(all) == 0 {
		return ""
	}
	return strings.Join(all, "; ") + " (lumens over pi squared x diameter x length)"
}

func colorOf(_ *study.Result, side lighting.Side) string {
	var all []string
	for _, kind := range side.Kinds() {
		l := kind.From.Lamp
		if l == nil {
			continue
		}
		known := func(x float64, name, unit string) string {
			if x == 0 {
				return name + " not known"
			}
			return fmt.Sprintf("%s %g%s", name, x, unit)
		}
		text := fmt.Sprintf("%s: %s, %s", l.Name, known(l.ColorRendering, "color rendering index", ""), known(l.ColorTemperature, "color temperature", " K"))
		if !slices.Contains(all, text) {
			all = append(all, text)
		}
	}
	return strings.Join(all, "; ")
}

// flicker say what is known of how light pulses, by what the lamps burn on.
func flicker(_ *study.Result, side lighting.Side) string {
	var all []string
	for _, kind := range side.Kinds() {
		from, text := kind.From, ""
		switch {
		case from.Lamp == nil:
		case from.Lamp.LED:
			text = "LED tubes flicker as their driver makes them, from not at all to strongly: ask for the data sheet's figures (IEEE 1789-2015 limits them, from memory, unverified; its numbers are not used here)"
		case from.Ballast != nil && strings.HasPrefix(from.Ballast.Kind, "magnetic"):
			text = "on magnetic ballasts the light pulses at twice the line frequency, as the current passes zero twice a period (common practice, no source)"
		case from.Ballast != nil:
			text = "electronic ballasts feed lamps at tens of thousands of periods a second, at which nobody sees light pulse (common practice, no source)"
		}
		if text != "" && !slices.Contains(all, text) {
			all = append(all, text)
		}
	}
	return strings.Join(all, "; ")
}

// daylight say what is left out.
func daylight(j *job.Job) string {
	text := "Daylight is left out of all that is computed: neither the light of windows and skylights nor their glare is in it."
	for _, s := range j.Kinds() {
		if s.Use.Control == "daylight" {
			return text + " A daylight control's saving is the job's own figure, and no daylight was worked out for it."
		}
	}
	return text
}
