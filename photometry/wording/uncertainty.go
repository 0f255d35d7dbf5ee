package wording

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"lampswap/photometry"
	"lampswap/photometry/job"
	"lampswap/photometry/levels"
	"lampswap/photometry/number"
	"lampswap/photometry/uncertainty"
)

// Uncertainty says in sentences how far the light may be from the prediction for a job; none for nil. They stand here, and not with the command,
// as the JSON carries them.
func Uncertainty(u *uncertainty.Uncertainty, j *job.Job) []string {
	if u == nil {
		return nil
	}
	proposed := u.Sides[1]
	all := []string{inOneSentence(u, j)}
	if proposed.Change != nil && !math.IsNaN(proposed.Change.Low) {
		all = append(all, changes(*proposed.Change, proposed.Darker))
	}
	for _, s := range u.Sides {
		all = append(all, fmt.Sprintf("%s: average of the work plane %s (predicted %s), minimum %s (predicted %s)", s.Name,
			between(j, s.Average), j.Light(s.Average.Predicted), between(j, s.Minimum), j.Light(s.Minimum.Predicted)))
	}
	for i, c := range proposed.Criteria {
		var odds []string
		for _, s := range u.Sides {
			odds = append(odds, fmt.Sprintf("%s by the %s lighting", Probability(s.Criteria[i].Met), s.Name))
		}
		all = append(all, fmt.Sprintf("%s, %s of %s: probability of being met %s", c.Name, c.Statistic.Words(),
			c.Grid, strings.Join(odds, ", ")))
	}
	all = append(all, "What matters most: "+matters(u, " of the variance of the proposed average", func(e uncertainty.Effect) float64 { return e.Share })+
		"; for the change "+matters(u, "", func(e uncertainty.Effect) float64 { return e.ChangeShare }))
	all = append(all, method(u, j))
	for _, e := range u.Inputs {
		all = append(all, effect(e, j)...)
	}
	return all
}

// inOneSentence is the answer in one sentence.
func inOneSentence(u *uncertainty.Uncertainty, j *job.Job) string {
	s := u.Sides[1]
	text := fmt.Sprintf("With the stated tolerances the proposed average lies %s (%.3g percent)", between(j, s.Average), 100*u.Confidence)
	switch met := Probability(s.AllMet); {
	case len(s.Criteria) == 1:
		text += fmt.Sprintf("; it meets %q with a probability of %s", s.Criteria[0].Name, met)
	case len(s.Criteria) == 2:
		text += fmt.Sprintf("; both criteria of light are met at once with a probability of %s", met)
	case len(s.Criteria) > 2:
		text += fmt.Sprintf("; all %d criteria of light are met at once with a probability of %s", len(s.Criteria), met)
	}
	return text + "; what matters most: " + most(u) + "."
}

// changes tells how far the change may be off. Systems that share every error change by one value.
func changes(change uncertainty.Interval, darker uncertainty.Probability) string {
	switch {
	case change.High-change.Low > uncertainty.Leveled:
		return fmt.Sprintf("The change from the existing to the proposed average lies between %s and %s percent (predicted %s); "+
			"that it gets darker has a probability of %s. Errors that both share cancel here.", number.Signed(100*change.Low, 0),
			number.Signed(100*change.High, 0), number.Signed(100*change.Predicted, 0), Probability(darker))
	case math.Abs(change.Predicted) < uncertainty.Leveled:
		return "The proposed average is the existing one, whatever its value: the systems share every error, so it does not get darker."
	}
	return fmt.Sprintf("The proposed average is %s percent of the existing one, whatever their values: the systems share every error.",
		number.Digits(100*(1+change.Predicted)))
}

func between(j *job.Job, i uncertainty.Interval) string {
	if math.IsNaN(i.Low) {
		return "without a value"
	}
	return fmt.Sprintf("between %s and %s", strings.TrimSuffix(strings.TrimSuffix(j.Light(i.Low), " fc"), " lx"), j.Light(i.High))
}

// most names the inputs that matter most for the proposed average.
func most(u *uncertainty.Uncertainty) string {
	var names []string
	for _, e := range u.Inputs {
		if e.Share >= namedShare && len(names) < namedInputs {
			names = append(names, e.Input.String())
		}
	}
	if len(names) == 0 {
		return "nothing, as nothing is in doubt"
	}
	return strings.Join(names, ", ")
}

// matters names what has most weight, with its share, and says of what.
func matters(u *uncertainty.Uncertainty, of string, weight func(uncertainty.Effect) float64) string {
	sorted := append([]uncertainty.Effect(nil), u.Inputs...)
	var parts []string
	for range namedInputs {
		best := -1
		for i, e := range sorted {
			if weight(e) >= namedShare && (best < 0 || weight(e) > weight(sorted[best])) {
				best = i
			}
		}
		if best < 0 {
			break
		}
		parts = append(parts, fmt.Sprintf("%s %.0f percent", sorted[best].Name(), 100*weight(sorted[best])))
		sorted = append(sorted[:best], sorted[best+1:]...)
	}
	if len(parts) == 0 {
		return "nothing"
	}
	return strings.Join(parts, ", ") + of
}

// method says how it was found and how sure the Monte Carlo is of itself.
func method(u *uncertainty.Uncertainty, j *job.Job) string {
	average := u.Sides[1].Average
	text := fmt.Sprintf("Monte Carlo (JCGM 101) of %s samples, seed %d; standard error of the ends of the proposed average %s and %s, "+
		"of a probability at most %.1f percent. Intervals are probabilistically symmetric; inputs count as independent of each other",
		number.Thousands(float64(u.Samples)), u.Seed, j.Light(average.LowError), j.Light(average.HighError), 100*0.5/math.Sqrt(float64(u.Samples)))
	if u.Solves > 0 {
		text += fmt.Sprintf("; reflectances and mounting height by parabolas through %d more solves", u.Solves)
	}
	if u.Coarse {
		text += ", relative changes on coarser grids and patches"
	}
	var aside []string
	for _, c := range j.Criteria {
		word := map[levels.Statistic]string{levels.PowerDensity: "power density", levels.Glare: "glare", levels.ColorRendering: "color rendering"}[c.Statistic]
		if word != "" && !slices.Contains(aside, word) {
			aside = append(aside, word)
		}
	}
	switch len(aside) {
	case 0:
		return text
	case 1:
		return text + "; " + aside[0] + " is not among what is in doubt here"
	}
	return text + "; " + strings.Join(aside, " and ") + " are not among what is in doubt here"
}

// effect tells the tolerance of an input and what it does, a sentence a system where they differ.
func effect(e uncertainty.Effect, j *job.Job) []string {
	effect := fmt.Sprintf("the proposed average %s to %s percent", number.Signed(100*e.Low, 1), number.Signed(100*e.High, 1))
	var all, tolerances []string
	for i := range e.Tolerances {
		tolerances = append(tolerances, Tolerance(e, i, j.Imperial))
	}
	for i, t := range tolerances {
		name := e.Input.String() + ", " + e.Sides[i]
		if i == 0 && same(tolerances) {
			name = e.Input.String() + ", " + strings.Join(e.Sides, " and ")
		} else if i > 0 && same(tolerances) {
			break
		}
		text := name + ": " + t
		if e.Low != 0 || e.High != 0 {
			text += "; " + effect
		}
		all = append(all, text)
	}
	return all
}

var origins = map[uncertainty.Origin]string{
	uncertainty.Assumed:         "assumed",
	uncertainty.GivenByJob:      "given by the job",
	uncertainty.LampList:        "the lamp list's range, {lumens}",
	uncertainty.BallastList:     "the ballast list's range, {range}",
	uncertainty.LampListAtAge:   "the lamp list's range, {shares} at that age",
	uncertainty.LEDFading:       "how LED tubes fade before their L70 life is assumed",
	uncertainty.LampNotKnown:    "nothing is known of the lamp; assumed",
	uncertainty.EstimatesDoubt:  "the estimate's own doubt, {doubt}",
	uncertainty.ElectronicHolds: "an electronic ballast holds the light, assumed",
	uncertainty.ComputedSection: "computed from a cross-section; by a study of sections",
	uncertainty.SectionsOwn:     "what other lamps in the cross-section do not share; by a study of sections",
}

// toleranceUnit is the unit in which an input is thought of, and one of it.
func toleranceUnit(input job.Input, imperial bool) (unit string, per float64) {
	unit, per = " percent", 0.01
	switch input {
	case job.LuminaireDirt, job.RoomSurfaceDirt:
		unit = " percent of what dirt takes"
	case job.CeilingReflectance, job.WallReflectance, job.FloorReflectance:
		unit, per = "", 1
	case job.MountingHeight:
		unit, per = " m", 1
		if imperial {
			unit, per = " ft", photometry.Foot
		}
	case job.AmbientTemperature:
		unit, per = " °C", 1
		if imperial {
			unit, per = " °F", 5.0/9
		}
	case job.LampLumens, job.BallastFactor, job.LampDepreciation, job.TemperatureEstimate, job.Voltage, job.Photometry, job.LampsInFixture:
	}
	return unit, per
}

// Tolerance says what an input of the i-th system that it moves may be off by, with its origin.
func Tolerance(e uncertainty.Effect, i int, imperial bool) string {
	t := e.Tolerances[i]
	unit, per := toleranceUnit(e.Input, imperial)
	end := func(x float64) string {
		if x == 0 {
			return "0"
		}
		return fmt.Sprintf("%+.3g", x/per)
	}
	text := fmt.Sprintf("rectangular, %s to %s%s", end(t.Low), end(t.High), unit)
	if t.Normal {
		text = fmt.Sprintf("normal, standard deviation %.3g%s", t.Standard/per, unit)
	}
	ends := func(format string) string { return fmt.Sprintf(format+" to "+format, t.Least, t.Most) }
	return text + ", " + strings.NewReplacer("{lumens}", number.Thousands(t.Least)+" to "+number.Thousands(t.Most)+" lm", "{range}", ends("%g"),
		"{shares}", ends("%.3g"), "{doubt}", ends("%.2f")).Replace(origins[t.Origin])
}

func same(words []string) bool {
	for _, w := range words {
		if w != words[0] {
			return false
		}
	}
	return true
}

// Probability writes a probability in percent, with no more certainty than samples can give.
func Probability(p uncertainty.Probability) string {
	switch {
	case p.Value > 0.9985:
		return "over 99.8 percent"
	case p.Value < 0.0015:
		return "under 0.2 percent"
	case p.Value > 0.95 || p.Value < 0.05:
		return fmt.Sprintf("%.1f percent", 100*p.Value)
	}
	return fmt.Sprintf("%.0f percent", 100*p.Value)
}

// What is worth naming among the inputs: as many, each with at least this share of the variance.
const (
	namedInputs = 3
	namedShare  = 0.03
)
