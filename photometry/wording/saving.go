package wording

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"lampswap/photometry/number"
	"lampswap/photometry/realised"
)

// Beside says what the watts that were read of a space's luminaires in a system tell of the light that was read there: ratio is measured over predicted,
// standard its standard uncertainty. "" where there is nothing to explain, or no watts were read.
func Beside(r *realised.Result, space, system string, ratio, standard float64) string {
	watts := r.Drawn(space, system)
	if math.IsNaN(watts) || !(math.Abs(ratio-1) > 2*standard) {
		return ""
	}
	both := fmt.Sprintf("The light is %.0f percent of the prediction, and the luminaires draw %.0f percent of the watts that the job has", 100*ratio, 100*watts)
	switch {
	case ratio < 1 && watts < 1-realised.Alike:
		part := "a part of that is explained by it"
		if 1-watts >= (1-ratio)/2 {
			part = "that explains most of it"
		}
		return both + ": " + part + ", as by lamps that are out or dimmed, or by a ballast of a lower factor."
	case ratio < 1:
		return both + ": lamps that are out or dimmed do not explain it; dirt, darker surfaces, older lamps or other luminaires might."
	case watts > 1+realised.Alike:
		return both + ": more or stronger lamps than the job's explain that."
	default:
		return both + ": lamps of more lumens a watt than the job's, cleaner or lighter surfaces might explain that."
	}
}

// Saving says what the readings tell of the saving.
func Saving(r *realised.Result) string {
	text := fmt.Sprintf("By what was read the swap saves %s", kWh(r.Realised))
	if r.Half > 0 {
		text += " (± " + kWh(r.Half) + " by how readings scatter, at 90 percent confidence)"
	}
	text += fmt.Sprintf("; %s were promised", kWh(r.Promised))
	if r.Promised > 0 {
		text += ": " + number.Fixed(100*r.Realised/r.Promised, 0) + " percent of it"
	}
	all := append([]string{text + "."}, fallsShort(r)...)
	if why := WhySaving(r); why != "" {
		all = append(all, why)
	}
	return strings.Join(all, " ")
}

// fallsShort says what the readings fall short of.
func fallsShort(r *realised.Result) []string {
	var all []string
	if unlike := Unlike(r); len(unlike) > 0 {
		n := len(unlike)
		all = append(all, fmt.Sprintf("That is NOT proven: what was read is unlike the job in %d %s. %s.", n, map[bool]string{true: "place", false: "places"}[n == 1], strings.Join(unlike, "; ")))
	}
	if n := len(r.NotRead); n > 0 {
		all = append(all, fmt.Sprintf("That is NOT proven: of %d of %d groups power or hours were not read in one system or in both, and count there as promised.", n, len(r.Groups)))
	}
	for _, s := range r.Samples {
		if s.Logged < s.Needed {
			all = append(all, fmt.Sprintf("Of %q hours of %d of %d luminaires were read, and %d are needed.", s.Kind, s.Logged, s.Number, s.Needed))
		}
	}
	if !r.Precise() {
		all = append(all, fmt.Sprintf("Readings scatter by more than %.0f percent of the saving: read more of them.", 100*realised.Precision))
	}
	return all
}

// Unlike names what was read that is unlike the job, each once.
func Unlike(r *realised.Result) []string {
	says := map[realised.Quantity]struct{ what, perhaps string }{
		realised.Watts: {"%s W each", "read it again, or mend the job's input watts"},
		realised.Hours: {"%s h a year", "hours are those of a year, scaled up from the logger's time"},
		realised.Count: {"%s that give light", "count again, in one copy of the space, or mend the job"},
	}
	var all []string
	for _, u := range r.Unlike {
		say := says[u.Quantity]
		text := fmt.Sprintf("%s, %s, %s: "+say.what+", where the job has %s; %s", u.Space, u.Group, u.System, number.Digits(u.Read), number.Digits(u.Promised), say.perhaps)
		if !slices.Contains(all, text) {
			all = append(all, text)
		}
	}
	return all
}

// WhySaving says what the difference between promised and read comes from; "" where there is none to speak of.
func WhySaving(r *realised.Result) string {
	if math.Abs(r.Realised-r.Promised) < 0.005*math.Abs(r.Promised) {
		return ""
	}
	var parts []string
	for _, p := range []struct {
		what string
		kWh  float64
	}{{"how many burn", r.Because.Number}, {"their watts", r.Because.Watts}, {"their hours", r.Because.Hours}} {
		if math.Abs(p.kWh) >= 0.5 {
			parts = append(parts, fmt.Sprintf("%s (%s %s)", p.what, number.Thousands(math.Abs(p.kWh)), map[bool]string{true: "more", false: "less"}[p.kWh > 0]))
		}
	}
	if len(parts) == 0 {
		return ""
	}
	text := "What makes the difference, kWh a year: " + strings.Join(parts, ", ") + "."
	if math.Abs(r.ByHours) >= 0.01*math.Abs(r.Realised) && math.Abs(r.ByHours) >= 0.5 {
		text += fmt.Sprintf(" Of the saving as read %s come of hours that changed where no control was promised: nothing that the swap does.", kWh(r.ByHours))
	}
	return text
}

func kWh(x float64) string { return number.Thousands(x) + " kWh a year" }
