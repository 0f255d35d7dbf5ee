package ledger

import (
	"fmt"
	"slices"
	"strings"

	"lampswap/cmd/lampswap/internal/units"
	"lampswap/photometry/study"
	"lampswap/photometry/utility"
)

// A Note is a heading with sentences below it.
type Note struct {
	Heading string
	Items   []string
}

// Notes is what stands below the ledger; notes without an item are left out.
func Notes(r *study.Result) []Note {
	all := []Note{
		{"What each part of the swap does to the light", []string{r.Effects().Words()}},
		{"How the two methods compare", r.CrossCheck()},
		{"Where the light goes (initial)", r.BalanceWords()},
		{"Racks", Racks(r)},
		{"What is asked", Asked(r)},
		{"Light through the years, from new lamps and clean surfaces", ThroughYears(r)},
		{"Uncertainty of the prediction", r.UncertaintyWords()},
		{"Which level binds", r.BindingRules()},
		{"Power density against energy codes, where they are adopted", r.PowerWords()},
		{"Emissions avoided", Spared(r)},
		{"Where the loss factors come from (t table, j job file, d default, e estimate)", origins(r)},
		{"Defaults that were used", defaults(r)},
		{"Warnings", r.Warnings},
		{"Cautions", r.Cautions},
	}
	var kept []Note
	for _, n := range all {
		if len(n.Items) > 0 {
			kept = append(kept, n)
		}
	}
	return kept
}

// Answer is the answer: a word and a sentence.
func Answer(r *study.Result) (word, sentence string) {
	word = "ENOUGH"
	switch {
	case !r.BrightEnough():
		word = "NOT ENOUGH"
	case !r.Met():
		word = "ENOUGH LIGHT, TOO MUCH POWER"
	case len(r.Verdicts) == 0:
		word = "NOT JUDGED"
	case r.OnEstimate() != nil:
		word = "ENOUGH BY AN ESTIMATE"
	}
	return word, r.Sentence()
}

// Asked tells each criterion with what the proposed lighting makes of it.
func Asked(r *study.Result) []string {
	var all []string
	for _, v := range r.Verdicts {
		met := map[bool]string{true: "met", false: "MISSED"}
		all = append(all, fmt.Sprintf("%s, %s of %s: %s %s; %s by the proposed lighting%s, %s by the existing. Source: %s", v.Name, strings.ReplaceAll(v.Statistic.String(), "_", " "),
			v.Grid, strings.ReplaceAll(v.Direction(), "_", " "), study.Digits(v.RequiredIn(r.Job.Imperial)),
			met[v.ProposedMet], r.MarginWords(v), met[v.ExistingMet], v.Source))
	}
	return all
}

// ThroughYears says how low the light gets, when it first falls below a level, and what that takes for granted.
func ThroughYears(r *study.Result) []string {
	var all []string
	for _, y := range r.Years {
		all = append(all, fmt.Sprintf("%s: the average of the work plane starts at %s and gets as low as %s in %.0f years", y.Name, r.Light(y.Light[0]), r.Light(y.Lowest), y.Horizon))
		all = append(all, y.Words()...)
	}
	for i, y := range r.Years {
		for _, n := range y.Notes {
			shared := !slices.ContainsFunc(r.Years, func(other study.Years) bool { return !slices.Contains(other.Notes, n) })
			switch {
			case shared && i == 0:
				all = append(all, "all: "+n)
			case !shared:
				all = append(all, fmt.Sprintf("%s: %s", y.Name, n))
			}
		}
	}
	return all
}

// Spared is the CO2 of a year's saving, by each rate.
func Spared(r *study.Result) []string {
	var all []string
	for _, e := range r.Energy.Emissions {
		amount := fmt.Sprintf("%s kg CO2 a year", units.Thousands(e.SavedKgPerYear))
		if r.Job.Imperial {
			amount = fmt.Sprintf("%s lb CO2 a year", units.Thousands(e.SavedKgPerYear/utility.Pound))
		}
		text := fmt.Sprintf("%s, at the rate of %s (source: %s)", amount, e.Rate, e.Source)
		if e.Caveat != "" {
			text += "; " + e.Caveat
		}
		all = append(all, text)
	}
	return all
}

// Racks says how many racks there are and what they let through.
func Racks(r *study.Result) []string {
	racks := r.Job.Racks
	if len(racks) == 0 {
		return nil
	}
	least, most := racks[0].Transmittance, racks[0].Transmittance
	for _, rack := range racks {
		least, most = min(least, rack.Transmittance), max(most, rack.Transmittance)
	}
	passes := fmt.Sprintf("%.0f", 100*most)
	if least != most {
		passes = fmt.Sprintf("%.0f to %.0f", 100*least, 100*most)
	}
	return []string{fmt.Sprintf("%d racks; %s percent of the light that meets one passes it", len(racks), passes)}
}

func origins(r *study.Result) []string {
	var all []string
	before, after := r.Existing.Losses.List(), r.Proposed.Losses.List()
	for i, b := range before {
		name, a := strings.ReplaceAll(b.Key, "_", " "), after[i]
		if a.Detail == b.Detail {
			all = append(all, fmt.Sprintf("%s: %s", name, b.Detail))
			continue
		}
		all = append(all, fmt.Sprintf("%s, existing: %s", name, b.Detail), fmt.Sprintf("%s, proposed: %s", name, a.Detail))
	}
	return all
}

func defaults(r *study.Result) []string {
	var all []string
	for _, d := range r.Job.Defaults {
		all = append(all, fmt.Sprintf("%s = %s: %s", d.Key, d.Value, d.Reason))
	}
	return all
}
