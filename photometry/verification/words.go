package verification

import (
	"fmt"
	"math"
	"strings"

	"lampswap/photometry/metrology"
)

// Sentence is what the readings prove, in plain words, with what of the readings themselves takes from it. It stands here, and not with the
// command, as the JSON carries it.
func (v *Verification) Sentence() string {
	words := v.foundWords() + "; " + v.provenWords()
	if len(v.Doubts) > 0 {
		words += "; as to the readings, " + listed(v.Doubts)
	}
	return words + "."
}

// foundWords sets what was measured against its prediction: averages, by which a prediction is corrected too, or the mean of the ratios.
func (v *Verification) foundWords() string {
	var ratios, named, doubts []string
	for _, a := range v.Areas {
		if ratio, standard := a.Ratio(); !math.IsNaN(ratio) {
			ratios = append(ratios, fmt.Sprintf("%.0f percent", 100*ratio))
			named = append(named, fmt.Sprintf("%.0f percent (%s)", 100*ratio, a.Grid))
			doubts = append(doubts, fmt.Sprintf("%.1f percent", 100*standard))
		}
	}
	c := v.Comparison
	switch {
	case len(ratios) == 0 && math.IsNaN(c.Mean):
		return "No light is predicted at the stations that were read"
	case len(ratios) == 0:
		of := stations(len(c.Stations))
		if !math.IsNaN(c.Standard) {
			of += fmt.Sprintf(", standard uncertainty %.0f percent", 100*c.Standard)
		}
		return fmt.Sprintf("There is no average; the mean of the ratios is %.0f percent of what is predicted for the day (%s)", 100*c.Mean, of)
	case len(ratios) > 1:
		ratios = named
	}
	return fmt.Sprintf("The measured average is %s of what is predicted for the day (%s, standard uncertainty of the readings %s)",
		listed(ratios), stations(len(c.Stations)), listed(doubts))
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
