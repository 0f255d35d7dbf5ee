package wording

import (
	"fmt"
	"strings"

	"lampswap/photometry/number"
	"lampswap/photometry/verification"
)

// mostTold is how many stations a sentence tells of.
const mostTold = 3

// Unresolved says what was seen of readings that prove nothing until it is looked into, and what would resolve it.
func Unresolved(v *verification.Verification, u verification.Unresolved) string {
	light, times := v.Result.Job.Light, number.Digits(u.Ratio)
	switch u.Key {
	case verification.Unlike:
		return slips(v, u)
	case verification.OtherUnit:
		if u.Mixed {
			return fmt.Sprintf("some readings are %s times the others, against their predictions, as if some were in lx and some in fc: "+
				"write down for each what the meter showed", times)
		}
		resolve := ": write down what the meter shows"
		if u.Noted {
			resolve = ", though it is written down what the meter shows: look at it again, and whether the readings were worked over before"
		}
		return fmt.Sprintf("the readings are %s times what is predicted, as readings in %v taken for %v would be%s", times, u.Shown, u.Taken, resolve)
	case verification.AllEqual:
		return fmt.Sprintf("all %d stations have the same reading, %s, where %s to %s is predicted: read them one by one", u.Count, light(u.Value),
			light(u.Least), light(u.Most))
	case verification.Mismatch:
		var causes []string
		for _, c := range u.Causes {
			causes = append(causes, cause(v, c))
		}
		return fmt.Sprintf("the job and the site do not match: the readings are %s times what is predicted for the day; "+
			"what fits is %s; find out, and mend the job or read again", times, strings.Join(causes, ", or "))
	case verification.Beyond:
		return fmt.Sprintf("the set is doubtful: %d of %s differ from their prediction by more than both are uncertain "+
			"(expanded, k = 2): find out why, and mend the job or read again", u.Count, stations(u.Of))
	case verification.StruckOut:
		return fmt.Sprintf("%d of %s are struck out and not read again: more than a fifth", u.Count, stations(u.Of))
	case verification.OneOnly:
	}
	return u.Grid + ": one reading tells nothing of how readings scatter: read it again, or more stations"
}

var shorts = map[verification.Key]string{
	verification.Unlike:    "{who} unlike the others",
	verification.OtherUnit: "a unit error",
	verification.AllEqual:  "the same number everywhere",
	verification.Mismatch:  "the job and the site do not match",
	verification.Beyond:    "half the stations beyond their uncertainties",
	verification.StruckOut: "too many struck out",
	verification.OneOnly:   "one reading only",
}

// short says in a few words what is unresolved, for beside a decision; "" for nothing.
func short(u *verification.Unresolved) string {
	if u == nil {
		return ""
	}
	who := strings.Join(u.Stations, "")
	if n := len(u.Stations); n > 1 {
		who = stations(n)
	}
	return strings.Replace(shorts[u.Key], "{who}", who, 1)
}

// slips tells of readings unlike the others.
func slips(v *verification.Verification, u verification.Unresolved) string {
	var told []string
	for _, s := range u.Slips {
		looks := ""
		if s.Shifted {
			looks = ", as by another unit or a decimal point out of place"
		}
		if s.Copied {
			looks += ", in lines that are alike: of a second reading write the time"
		}
		told = append(told, fmt.Sprintf("%s (%s, %s times its prediction%s)", s.Station, v.Result.Job.Light(s.Measured), number.Digits(s.Ratio), looks))
	}
	station, is, it := "station", "is", "it"
	if len(told) > 1 {
		station, is, it = "stations", "are", "them"
	}
	return fmt.Sprintf("%s %s %s unlike the others, which are %s times their prediction: read %s again, or strike %s out with a reason",
		station, firstFew(told), is, number.Digits(u.Ratio), it, it)
}

// cause says what may make readings other than predicted.
func cause(v *verification.Verification, c verification.Cause) string {
	switch c.Kind {
	case verification.OtherSystem:
		name := map[string]string{"existing": "proposed", "proposed": "existing"}[v.System]
		return fmt.Sprintf("the %s lighting of the job (the readings are %s times what is predicted of it)", name, number.Digits(c.Value))
	case verification.OtherRange:
		return fmt.Sprintf("another range of the meter (a factor of %g)", c.Value)
	case verification.LampsOut:
		return fmt.Sprintf("lamps that are out (%.0f percent of them)", 100*c.Value)
	case verification.DirtCause:
		return fmt.Sprintf("dirt (at its worst it leaves %.0f percent)", 100*c.Value)
	case verification.DaylightCause:
		return "daylight"
	case verification.MoreLamps:
		return "other or more lamps than the job's"
	case verification.FewerLamps:
		return "other or fewer lamps than the job's"
	case verification.ColdLamps:
	}
	return "lamps that were cold or just switched on"
}

// struck tells what was struck out, and what the averages were with it; "" for nothing.
func struck(v *verification.Verification) string {
	if len(v.Struck) == 0 {
		return ""
	}
	var names []string
	for _, s := range v.Struck {
		names = append(names, fmt.Sprintf("%s (%s: %s)", s.Station, v.Result.Job.Light(s.Value), s.Reason))
	}
	words := []string{firstFew(names) + " struck out"}
	for _, a := range v.Areas {
		if a.Struck > 0 {
			words = append(words, fmt.Sprintf("with which the average of the %s is %s", a.Grid, v.Result.Job.Light(a.Struck)))
		}
	}
	return strings.Join(words, ", ")
}
