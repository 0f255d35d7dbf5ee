package wording

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"lampswap/photometry/lighting"
	"lampswap/photometry/losses"
	"lampswap/photometry/number"
	"lampswap/photometry/study"
)

// JudgedAt says at what age of their lamps the systems are judged, which is one for all, and whose lamps' loss no age tells: those of which nothing is
// known, or whose loss the job gives. The JSON carries it, in the verdict.
func JudgedAt(r *study.Result) string {
	basis := r.Job.Upkeep.JudgedAt
	text := Basis(basis)
	if basis.At == losses.End {
		text = cmp.Or(ends(r), text)
	}
	return strings.Join(append([]string{text}, exceptions(r)...), "; ")
}

// Basis says what the age is at which light is judged.
func Basis(b losses.Basis) string {
	switch b.At {
	case losses.End:
		return "every lamp at the end of its relamping interval, or of its rated life where it has none"
	case losses.AtHours:
		return fmt.Sprintf("every lamp after %s h", number.Thousands(b.Hours))
	case losses.MidLife:
	}
	return "every lamp at 40 percent of its rated life"
}

// ends says when the lamps of each side, judged at their end, are at it; "" where that is not known.
func ends(r *study.Result) string {
	var all []string
	for _, side := range r.Kinds() {
		age, end := lighting.LampAge(r.Job, side.From), "rated life"
		switch {
		case math.IsNaN(age.Hours):
			return ""
		case age.Interval:
			end = "relamping interval"
		case side.From.Lamp != nil && side.From.Lamp.L70:
			end = "L70 life"
		}
		all = append(all, fmt.Sprintf("lamps at the end of their %s, %s h", end, number.Thousands(age.Hours)))
	}
	if same := slices.Compact(slices.Clone(all)); len(same) == 1 {
		return "all " + same[0]
	}
	for i, side := range r.Kinds() {
		all[i] = side.Name + " " + all[i]
	}
	return strings.Join(all, ", ")
}

// exceptions names the sides whose lamps' loss no age tells: a system, where all of its kinds are alike in
// that.
func exceptions(r *study.Result) []string {
	sides := map[string][]string{}
	order := []string{"losses as the job gives them", "lamps' loss as the job gives it", "lamps' loss assumed"}
	for _, system := range r.Sides {
		kinds := map[string][]string{}
		for _, side := range system.Kinds() {
			words := ""
			switch from := side.Losses.LampLumenDepreciation.From; {
			case side.Losses.TotalOverride != nil:
				words = order[0]
			case from == losses.FromJobFile:
				words = order[1]
			case from == losses.FromDefault:
				words = order[2]
			default:
				continue
			}
			kinds[words] = append(kinds[words], side.Name)
		}
		for words, names := range kinds {
			if len(names) == len(system.Kinds()) {
				names = []string{system.Name}
			}
			sides[words] = append(sides[words], names...)
		}
	}
	var all []string
	for _, words := range order {
		if names := sides[words]; names != nil {
			all = append(all, strings.Join(names, " and ")+" "+words)
		}
	}
	return all
}
