package wording

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"lampswap/photometry"
	"lampswap/photometry/levels"
	"lampswap/photometry/metrology"
	"lampswap/photometry/number"
	"lampswap/photometry/survey"
	"lampswap/photometry/verification"
)

// Readings is what the readings prove, in plain words, with what of the readings themselves takes from it. It stands here, and not with the
// command, as the JSON carries it. What is unresolved comes first.
func Readings(v *verification.Verification) string {
	words := unresolved(v) + found(v) + "; " + proven(v) + beyondMeters(v)
	if doubts := Doubts(v); len(doubts) > 0 {
		words += "; as to the readings, " + listed(doubts)
	}
	return words + "."
}

// found sets what was measured against its prediction: averages, by which a prediction is corrected too, or the mean of the ratios.
func found(v *verification.Verification) string {
	var found []string
	for _, a := range v.Areas {
		ratio, _ := a.Ratio()
		if math.IsNaN(ratio) {
			continue
		}
		words := fmt.Sprintf("%s, %.0f percent of what is predicted for the day", averageOf(v, a), 100*ratio)
		if len(v.Areas) > 1 {
			words = "of the " + a.Grid + " " + words
		}
		found = append(found, words)
	}
	c := v.Comparison
	switch {
	case len(found) == 0 && math.IsNaN(c.Mean):
		return "No light is predicted at the stations that were read"
	case len(found) == 0:
		return fmt.Sprintf("There is no average; the mean of the ratios is %.0f percent of what is predicted for the day (%s)", 100*c.Mean, stations(len(c.Stations)))
	}
	name := "The measured average is "
	if len(v.Areas) > 1 {
		name = "Measured averages: "
	}
	return fmt.Sprintf("%s%s (%s)", name, strings.Join(found, "; "), stations(len(c.Stations)))
}

// averageOf has a measured average with what it may be off by, in its unit and as a share of it, and with the coverage factor.
func averageOf(v *verification.Verification, a verification.VerifiedArea) string {
	off, k := a.Expanded()
	if !(a.Measured.Value > 0) {
		return v.Result.Job.Light(a.Measured.Value)
	}
	scale, unit := 1.0, "lx"
	if v.Result.Job.Imperial {
		scale, unit = photometry.Footcandle, "fc"
	}
	return fmt.Sprintf("%s %s (%.0f percent of it, k = %.2f)", number.PlusMinus(a.Measured.Value/scale, off/scale), unit, 100*off/a.Measured.Value, k)
}

// unresolved tells what keeps the readings from proving anything, and the averages with and without what is unlike the others.
func unresolved(v *verification.Verification) string {
	if len(v.Unresolved) == 0 {
		return ""
	}
	var texts []string
	for _, u := range v.Unresolved {
		texts = append(texts, Unresolved(v, u))
	}
	words := "NOTHING IS PROVEN: " + strings.Join(texts, "; ") + ". "
	if w := WithAndWithout(v); w != "" {
		words += w + ". "
	}
	return words
}

// WithAndWithout tells the averages with and without the stations that are unlike the others; empty where there are none.
func WithAndWithout(v *verification.Verification) string {
	var all []string
	for _, a := range v.Areas {
		if !slices.ContainsFunc(v.Slips, func(name string) bool { return a.Measured.Weights[name] > 0 }) {
			continue
		}
		other := "there is none without"
		if !math.IsNaN(a.Without.Value) {
			other = v.Result.Job.Light(a.Without.Value) + " without"
		}
		all = append(all, fmt.Sprintf("The average of the %s is %s with %s, and %s", a.Grid, v.Result.Job.Light(a.Measured.Value), firstFew(v.Slips), other))
	}
	return strings.Join(all, ". ")
}

// firstFew lists names, the first ones if they are many.
func firstFew(names []string) string {
	if n := len(names); n > mostTold {
		names = append(names[:mostTold:mostTold], fmt.Sprintf("%d more", n-mostTold))
	}
	return listed(names)
}

// ReadingsWord is what the readings prove in a word or two.
func ReadingsWord(v *verification.Verification) string {
	asked, missed, open := v.Count()
	switch {
	case len(v.Unresolved) > 0 || open > 0 && missed == 0:
		return "Not proven"
	case missed > 0:
		return "Missed"
	case asked == 0:
		return "Nothing tested"
	}
	return "Met"
}

// proven says what became of the criteria.
func proven(v *verification.Verification) string {
	asked, missed, open := v.Count()
	confidence := fmt.Sprintf(", at %.0f percent confidence", 100*v.Confidence)
	switch {
	case asked == 0:
		return "nothing was tested, for the job has no criterion there"
	case missed > 0 && open > 0:
		return some(missed, asked) + " MISSED as found and " + fmt.Sprint(open) + " not proven either way" + confidence
	case missed > 0:
		return some(missed, asked) + " MISSED as found" + confidence
	case open > 0:
		return some(open, asked) + " not proven either way" + confidence
	}
	return "every criterion tested is met as found" + confidence
}

// beyondMeters names the criteria that no reading of illuminance proves, so that nobody takes what is proven for all.
func beyondMeters(v *verification.Verification) string {
	var names []string
	for _, c := range v.Result.Verdicts {
		if c.Statistic.Comfort() || c.Statistic.OfGrid() && v.Cylinders(c.Grid) {
			names = append(names, strconv.Quote(c.Name))
		}
	}
	if len(names) == 0 {
		return ""
	}
	return "; readings of illuminance prove nothing of " + listed(names)
}

// Doubts are what of the readings themselves takes from what they prove, a few words each.
func Doubts(v *verification.Verification) []string {
	var all []string
	for _, d := range v.Doubts {
		all = append(all, strings.ReplaceAll(conditionDoubts[d.Code], "{is}", fmt.Sprintf("%.0f", d.Is)))
	}
	for _, a := range v.Areas {
		open := len(a.Undecided) > 0
		for _, d := range a.Decisions { // of an average the rule says how many may be missing
			open = open || d.Found.Outcome == metrology.NotProven && d.Statistic != levels.Average
		}
		if open && len(a.Missing) > 0 {
			all = append(all, fmt.Sprintf("%d of %s were not read (%s)", len(a.Missing), stations(len(a.Plan.Stations)), a.Grid))
		}
	}
	if words := struck(v); words != "" {
		all = append(all, words)
	}
	return all
}

func stations(n int) string {
	if n == 1 {
		return "1 station"
	}
	return fmt.Sprintf("%d stations", n)
}

// some begins a statement on n of all criteria.
func some(n, all int) string {
	verb := "are"
	if n == 1 {
		verb = "is"
	}
	if all == 1 {
		return "the one criterion is"
	}
	return fmt.Sprintf("%d of %d criteria %s", n, all, verb)
}

// listed joins words as a sentence does.
func listed(words []string) string {
	if last := len(words) - 1; last > 0 {
		return strings.Join(words[:last], ", ") + " and " + words[last]
	}
	return strings.Join(words, "")
}

// WouldProve tells, a sentence each, what would prove the criteria that are not: what must be read, and how certain it must be.
func WouldProve(v *verification.Verification) []string {
	var all []string
	for _, u := range v.Unresolved {
		all = append(all, Unresolved(v, u)+".")
	}
	for _, a := range v.Areas {
		open, sampled := len(a.Undecided) > 0, false
		for _, d := range a.Decisions {
			if d.Found.Outcome != metrology.NotProven {
				continue
			}
			open = true
			sampled = sampled || !a.Plan.EveryPoint() && d.Statistic != levels.Average
			if s := certain(v, a, d); s != "" && len(v.Unresolved) == 0 {
				all = append(all, s)
			}
		}
		if open && len(a.Missing) > 0 {
			all = append(all, fmt.Sprintf("Read the %s of the %s that %s not read.", stations(len(a.Missing)), a.Grid, map[bool]string{true: "was", false: "were"}[len(a.Missing) == 1]))
		}
		if sampled {
			all = append(all, fmt.Sprintf("Read the grid of the %s point by point: a sample proves no minimum, maximum or evenness.", a.Grid))
		}
	}
	if _, _, open := v.Count(); open > 0 && v.Daylight == survey.DaylightPresent {
		all = append(all, "Read after dark, or read daylight alone and take it off.")
	}
	return all
}

// certain tells how much light, or how small an uncertainty, would prove a criterion that is open for nothing but its uncertainty.
func certain(v *verification.Verification, a verification.VerifiedArea, d verification.Decided) string {
	f := d.Found
	if len(d.Doubts) > 0 || !(f.Standard > 0) {
		return ""
	}
	show := v.Result.Job.Light
	if d.Unit == levels.Ratio {
		show = number.Digits
	}
	k := f.CoverageFactor(verification.TwoSided)
	name := d.Name + ": "
	margin := f.Measured - f.Limit
	least := "at least"
	if !f.AtLeast {
		margin, least = -margin, "at most"
	}
	if !(margin > 0) {
		return fmt.Sprintf("%s%s %s would prove it with these readings; %s was measured.", name, least, show(f.AcceptanceLimit), show(f.Measured))
	}
	need := margin / (f.Guard / f.Standard) // of the standard uncertainty
	budget := v.Budget
	if d.Statistic == levels.Average {
		budget = a.Budget
	}
	words := fmt.Sprintf("%s%s proves it once what it may be off by is %s or less (%.1f percent of it, k = %.2f); it is %s (%.1f percent)", name, show(f.Measured),
		show(k*need), 100*k*need/f.Measured, k, show(k*f.Standard), 100*k*f.Standard/f.Measured)
	if most := budget.Largest(); most != "" {
		words += ", most of it from the " + most
	}
	return words + "."
}
