package study

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"lampswap/photometry"
	"lampswap/photometry/catalog"
	"lampswap/photometry/glare"
	"lampswap/photometry/job"
	"lampswap/photometry/levels"
	"lampswap/photometry/lighting"
)

// AsksOfGlare tells that the job names observers or has a limit of glare, so that a reader wants more of it than one line.
func (r *Result) AsksOfGlare() bool {
	return r.Job.ObserversNamed || slices.ContainsFunc(r.Job.Criteria, func(c levels.Criterion) bool { return c.Statistic == levels.Glare })
}

// darkMind says beside a verdict on glare that luminaires which gave no light did not glare either.
func (r *Result) darkMind() string {
	if _, judged := r.firstOf(levels.Glare); !judged || r.Existing.Failed == 0 {
		return ""
	}
	return " Mind that a luminaire which gives no light does not glare: the room as found may glare less than with every luminaire lit, before the swap and after it."
}

func (r *Result) firstOf(s levels.Statistic) (c levels.Criterion, ok bool) {
	i := slices.IndexFunc(r.Job.Criteria, func(c levels.Criterion) bool { return c.Statistic == s })
	if i < 0 {
		return c, false
	}
	return r.Job.Criteria[i], true
}

// glareWarnings tells of ratings that rest on sources out of the range of sizes that the rating was made for, and of none where one is asked for.
func (r *Result) glareWarnings(side lighting.Side) []string {
	if !r.AsksOfGlare() {
		return nil
	}
	switch _, why := side.Glare(); why {
	case glare.Rated:
	case glare.NothingSeen:
		return nil
	case glare.NoSize, glare.NoBackground, glare.NoBouncing:
		return []string{"UGR: " + string(why)}
	}
	worst := side.Worst()
	var all []string
	told := func(n int, size string) {
		if n > 0 {
			all = append(all, fmt.Sprintf("%d of the %d luminaires that %q sees are %s", n, worst.Sources, worst.Name, size))
		}
	}
	told(worst.Small, fmt.Sprintf("below %g sr", glare.LeastSource))
	told(worst.Large, fmt.Sprintf("above %g sr", glare.MostSource))
	if len(all) == 0 {
		return nil
	}
	return []string{"UGR: " + strings.Join(all, " and ") + ", where the rating is not tried; they count all the same"}
}

// colorWarning tells that a room has lamps of several colors at once.
func colorWarning(side lighting.Side) string {
	differ := func(of func(*catalog.Lamp) float64, unit string) (words []string) {
		var seen []float64
		for _, kind := range side.Kinds() {
			if l := kind.From.Lamp; l != nil && of(l) > 0 && len(kind.From.Lit()) > 0 && !slices.Contains(seen, of(l)) {
				seen = append(seen, of(l))
				words = append(words, fmt.Sprintf("%s %g%s", l.Name, of(l), unit))
			}
		}
		if len(seen) < 2 {
			return nil
		}
		return words
	}
	var parts []string
	if words := differ(func(l *catalog.Lamp) float64 { return l.ColorTemperature }, " K"); words != nil {
		parts = append(parts, "color temperatures differ ("+strings.Join(words, ", ")+")")
	}
	if words := differ(func(l *catalog.Lamp) float64 { return l.ColorRendering }, ""); words != nil {
		parts = append(parts, "color rendering indices differ ("+strings.Join(words, ", ")+")")
	}
	if len(parts) == 0 {
		return ""
	}
	return "lamps of several colors light one room: " + strings.Join(parts, "; ")
}

// Comfort says what it is like to live with the light, beside how much there is: bare lamps, color, flicker, what of daylight is left out. A fact is
// marked with its source; no number is said of what is not known. The JSON carries it.
func (r *Result) Comfort() []string {
	all := []string{}
	for _, side := range r.Sides() {
		for _, words := range []func(lighting.Side) string{r.glareWords, bareLampWords, colorWords, flickerWords} {
			if text := words(side); text != "" {
				all = append(all, side.Name+": "+text)
			}
		}
	}
	return append(all, daylightWords(r.Job))
}

// glareWords are the rating of the observer who is most glared at.
func (r *Result) glareWords(side lighting.Side) string {
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
		"both from memory, unverified; new lamps)", photometry.Fixed(ugr, 1), who, worst.Name, worst.Sources, photometry.Finer(worst.Background, 0))
}

// BareLamp returns the luminance of a lamp of luminaires of one kind as if it shone alike all round, cd/m²; NaN where its size is not known.
func BareLamp(from *job.System) float64 {
	l := from.Lamp
	if l == nil || l.Diameter == 0 || l.NominalLength == 0 || from.LampLumens == 0 {
		return math.NaN()
	}
	return glare.OfTube(from.LampLumens, l.Diameter, l.NominalLength)
}

func bareLampWords(side lighting.Side) string {
	var all []string
	for _, kind := range side.Kinds() {
		luminance := BareLamp(kind.From)
		if math.IsNaN(luminance) {
			continue
		}
		text := fmt.Sprintf("a bare %s has about %s cd/m2 at its rated lumens", kind.From.Lamp.Name, photometry.Thousands(10*math.Round(luminance/10)))
		if kind.From.Lamp.LED {
			text = fmt.Sprintf("a bare %s would have about %s cd/m2 if it shone all round", kind.From.Lamp.Name, photometry.Thousands(10*math.Round(luminance/10)))
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

func colorWords(side lighting.Side) string {
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

// flickerWords say what is known of how light pulses, by what the lamps burn on.
func flickerWords(side lighting.Side) string {
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

// daylightWords say what is left out.
func daylightWords(j *job.Job) string {
	text := "Daylight is left out of all that is computed: neither the light of windows and skylights nor their glare is in it."
	for _, s := range j.Kinds() {
		if s.Use.Control == "daylight" {
			return text + " A daylight control's saving is the job's own figure, and no daylight was worked out for it."
		}
	}
	return text
}
