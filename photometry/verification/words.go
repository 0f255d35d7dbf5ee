package verification

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"lampswap/photometry"
	"lampswap/photometry/metrology"
)

// Sentence is what the readings prove, in plain words, with what of the readings themselves takes from it. It stands here, and not with the
// command, as the JSON carries it. What is unresolved comes first.
func (v *Verification) Sentence() string {
	words := v.unresolvedWords() + v.foundWords() + "; " + v.provenWords() + v.beyondMeters()
	if len(v.Doubts) > 0 {
		words += "; as to the readings, " + listed(v.Doubts)
	}
	return words + "."
}

// foundWords sets what was measured against its prediction: averages, by which a prediction is corrected too, or the mean of the ratios.
func (v *Verification) foundWords() string {
	var found []string
	for _, a := range v.Areas {
		ratio, _ := a.Ratio()
		if math.IsNaN(ratio) {
			continue
		}
		words := fmt.Sprintf("%s, %.0f percent of what is predicted for the day", v.averageWords(a), 100*ratio)
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

// averageWords has a measured average with what it may be off by, in its unit and as a share of it, and with the coverage factor.
func (v *Verification) averageWords(a VerifiedArea) string {
	off, k := a.Expanded()
	if !(a.Measured.Value > 0) {
		return v.light(a.Measured.Value)
	}
	scale, unit := v.unit()
	return fmt.Sprintf("%s %s (%.0f percent of it, k = %.2f)", photometry.PlusMinus(a.Measured.Value/scale, off/scale), unit, 100*off/a.Measured.Value, k)
}

// unresolvedWords tells what keeps the readings from proving anything, and the averages with and without what is unlike the others.
func (v *Verification) unresolvedWords() string {
	if len(v.Unresolved) == 0 {
		return ""
	}
	var texts []string
	for _, u := range v.Unresolved {
		texts = append(texts, u.Text)
	}
	words := "NOTHING IS PROVEN: " + strings.Join(texts, "; ") + ". "
	if w := v.WithAndWithout(); w != "" {
		words += w + ". "
	}
	return words
}

// WithAndWithout tells the averages with and without the stations that are unlike the others; empty where there are none.
func (v *Verification) WithAndWithout() string {
	var all []string
	for _, a := range v.Areas {
		if !slices.ContainsFunc(v.Slips, func(name string) bool { return a.Measured.Weights[name] > 0 }) {
			continue
		}
		other := "there is none without"
		if !math.IsNaN(a.Without.Value) {
			other = v.light(a.Without.Value) + " without"
		}
		all = append(all, fmt.Sprintf("The average of the %s is %s with %s, and %s", a.Grid, v.light(a.Measured.Value), firstFew(v.Slips), other))
	}
	return strings.Join(all, ". ")
}

// firstFew lists names, the first ones if they are many.
func firstFew(names []string) string {
	if n := len(names); n > mostTold {
		return listed(append(names[:mostTold:mostTold], fmt.Sprintf("%d more", n-mostTold)))
	}
	return listed(names)
}

// provenWords says what became of the criteria.
func (v *Verification) provenWords() string {
	asked, missed, open := v.count()
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
func (v *Verification) beyondMeters() string {
	var names []string
	for _, c := range v.result.Verdicts {
		if c.Statistic.Comfort() || c.Statistic.OfGrid() && v.cylinders(c.Grid) {
			names = append(names, strconv.Quote(c.Name))
		}
	}
	if len(names) == 0 {
		return ""
	}
	return "; readings of illuminance prove nothing of " + listed(names)
}

// unread tells how many stations were not read, of the areas where that leaves a criterion open.
func (v *Verification) unread() []string {
	var all []string
	for _, a := range v.Areas {
		open := len(a.Undecided) > 0
		for _, d := range a.Decisions {
			open = open || d.Found.Outcome == metrology.NotProven && strings.Contains(d.Doubt, notRead(len(a.Missing)))
		}
		if open && len(a.Missing) > 0 {
			all = append(all, fmt.Sprintf("%d of %s were not read (%s)", len(a.Missing), stations(len(a.Plan.Stations)), a.Grid))
		}
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
