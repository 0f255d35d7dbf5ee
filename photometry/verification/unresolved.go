package verification

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"lampswap/photometry"
	"lampswap/photometry/losses"
	"lampswap/photometry/metrology"
	"lampswap/photometry/survey"
)

// An Unresolved is something about the readings for which no criterion is proven, met or missed, until it is looked into.
type Unresolved struct {
	Key      string   // "slip", "unit", "equal", "mismatch", "beyond", "scatter", "struck_out"; stable, for scripts
	Stations []string // that it is about; none where it is about all of them
	Short    string   // in a few words, for beside a decision
	Text     string   // what was seen, and what would resolve it
}

// A Struck is a reading that was struck out on site.
type Struck struct {
	Station string
	Value   float64 // lx
	Reason  string
}

const (
	// Readings whose median ratio to the prediction is within this factor of what another unit would make are taken to be in it: our
	// choice.
	nearUnit = 1.3
	// Readings whose median ratio is below a half or above two are of another lighting than the job's: our choice.
	leastMatch, mostMatch = 0.5, 2
	// The same reading at so many stations, where predictions differ by this factor, was not read: our choice.
	fewestEqual, mostEqual = 3, 1.1
	// More stations struck out than this share of those that were read leave a choice of readings, no survey: our choice.
	mostStruck = 0.2
	// A cause explains a ratio within this factor of it: our choice.
	nearCause = 1.15
)

// resolve gathers what of the readings is unresolved. at is the system whose light was read, other the prediction of the other one.
func (v *Verification) resolve(s Survey, readings survey.Readings, other map[string]float64) {
	kept := v.keptMedian(func(d metrology.Deviation) float64 { return d.Ratio })
	switch {
	case math.IsNaN(kept):
	case v.inAnotherUnit(kept, readings), v.inTwoUnits():
	case v.allEqual():
	case v.mismatched(kept, s, other):
	default:
		v.mostlyBeyond()
	}
	if len(v.Unresolved) == 0 || v.Unresolved[0].Key != "equal" && v.Unresolved[0].Key != "unit" { // where all are in doubt, none is unlike
		v.slips(readings, kept)
	}
	v.struckOut(readings)
	v.scatterless()
}

// keptMedian is the median over the stations that are like the others.
func (v *Verification) keptMedian(of func(metrology.Deviation) float64) float64 {
	var all []float64
	for _, d := range v.Comparison.Stations {
		if x := of(d); !d.Outlier && !math.IsNaN(x) {
			all = append(all, x)
		}
	}
	if len(all) == 0 {
		return math.NaN()
	}
	slices.Sort(all)
	return (all[(len(all)-1)/2] + all[len(all)/2]) / 2
}

func (v *Verification) unresolved(key, short, text string, stations ...string) bool {
	v.Unresolved = append(v.Unresolved, Unresolved{Key: key, Stations: stations, Short: short, Text: text})
	return true
}

// near tells whether two ratios are the same within a factor.
func near(a, b, factor float64) bool {
	return a > 0 && b > 0 && math.Abs(math.Log(a/b)) < math.Log(factor)
}

// inTwoUnits: where a meter was switched between two stations, some readings are 10.76 times the others.
func (v *Verification) inTwoUnits() bool {
	var ratios []float64
	for _, d := range v.Comparison.Stations {
		if d.Ratio > 0 {
			ratios = append(ratios, d.Ratio)
		}
	}
	n := len(ratios)
	if n == 0 {
		return false
	}
	slices.Sort(ratios)
	low, high := ratios[n/6], ratios[n-1-n/6] // a slip or two aside
	few, many := 0, 0
	for _, r := range ratios {
		switch {
		case near(r, low, nearUnit):
			few++
		case near(r, high, nearUnit):
			many++
		default:
			return false
		}
	}
	if least := min(few, many); least < 2 || 4*least < n { // so few are slips
		return false
	}
	return near(high/low, photometry.Footcandle, nearCause) && v.unresolved("unit", "a unit error",
		fmt.Sprintf("some readings are %s times the others, against their predictions, as if some were in lx and some in fc: write down for each what the meter showed", times(high/low)))
}

// inAnotherUnit: readings in lux taken for footcandles are 10.76 times too large, the other way round 0.093 times.
func (v *Verification) inAnotherUnit(ratio float64, readings survey.Readings) bool {
	shown, taken := survey.Lux, survey.Footcandles
	switch {
	case near(ratio, 1/photometry.Footcandle, nearUnit):
		shown, taken = taken, shown
	case !near(ratio, photometry.Footcandle, nearUnit):
		return false
	}
	text := fmt.Sprintf("the readings are %s times what is predicted, as readings in %v taken for %v would be: write down what the meter shows", times(ratio), shown, taken)
	if readings.UnitNoted() {
		text = fmt.Sprintf("the readings are %s times what is predicted, as readings in %v taken for %v would be, though it is written down what the meter shows: look at it again, and whether the readings were worked over before", times(ratio), shown, taken)
	}
	return v.unresolved("unit", "a unit error", text)
}

// allEqual: where predictions differ from place to place, readings that do not were not taken there.
func (v *Verification) allEqual() bool {
	all := v.Comparison.Stations
	least, most := math.Inf(1), 0.0
	for _, d := range all {
		if d.Measured != all[0].Measured {
			return false
		}
		least, most = min(least, d.Predicted), max(most, d.Predicted)
	}
	if len(all) < fewestEqual || most < mostEqual*least {
		return false
	}
	return v.unresolved("equal", "the same number everywhere", fmt.Sprintf("all %d stations have the same reading, %s, where %s to %s is predicted: read them one by one",
		len(all), v.light(all[0].Measured), v.light(least), v.light(most)))
}

// mismatched: readings of less than half or more than twice the prediction are of another lighting than the job describes.
func (v *Verification) mismatched(ratio float64, s Survey, other map[string]float64) bool {
	if ratio >= leastMatch && ratio <= mostMatch {
		return false
	}
	causes := strings.Join(v.causes(ratio, s, other), ", or ")
	return v.unresolved("mismatch", "the job and the site do not match", fmt.Sprintf("the job and the site do not match: the readings are %s times what is predicted for the day; "+
		"what fits is %s; find out, and mend the job or read again", times(ratio), causes))
}

// causes are the likely causes that fit a ratio, the closest first.
func (v *Verification) causes(ratio float64, s Survey, other map[string]float64) []string {
	var all []string
	name := map[string]string{"existing": "proposed", "proposed": "existing"}[s.System]
	beside := v.keptMedian(func(d metrology.Deviation) float64 { return d.Measured / other[d.Station] })
	if near(beside, 1, nearCause) {
		all = append(all, fmt.Sprintf("the %s lighting of the job (the readings are %s times what is predicted of it)", name, times(beside)))
	}
	for power := -2; power <= 2; power++ {
		if power != 0 && near(ratio, math.Pow10(power), nearCause) {
			all = append(all, fmt.Sprintf("another range of the meter (a factor of %g)", math.Pow10(power)))
		}
	}
	if ratio > 1 {
		if s.Conditions.Daylight != survey.Dark {
			all = append(all, "daylight")
		}
		return append(all, "other or more lamps than the job's")
	}
	all = append(all, fmt.Sprintf("lamps that are out (%.0f percent of them)", 100*(1-ratio)))
	if dirt := v.worstDirt(); dirt <= ratio*nearCause {
		all = append(all, fmt.Sprintf("dirt (at its worst it leaves %.0f percent)", 100*dirt))
	}
	return append(all, "other or fewer lamps than the job's", "lamps that were cold or just switched on")
}

// worstDirt is what the dirtiest atmosphere and five years without cleaning leave of the light of the day.
func (v *Verification) worstDirt() float64 {
	const years = 5
	least := math.Inf(1)
	for _, d := range v.Days {
		least = min(least, losses.LuminaireDirt(d.kind.From.Category, losses.VeryDirty, years).Value/d.LuminaireDirtDepreciation.Value)
	}
	return least
}

// mostlyBeyond: readings half of which disagree with their prediction by more than both are uncertain are of something not understood.
func (v *Verification) mostlyBeyond() {
	c := v.Comparison
	if off := c.Judged - c.Agreeing; off > 0 && 2*off >= c.Judged {
		v.unresolved("beyond", "half the stations beyond their uncertainties", fmt.Sprintf("the set is doubtful: %d of %s differ from their prediction by more than both are uncertain "+
			"(expanded, k = 2): find out why, and mend the job or read again", off, stations(c.Judged)))
	}
}

// slips: a reading unlike the others, against their predictions, is one of a slip of the pen, a shadow or a lamp that is out, and which of
// them it is readings alone do not tell. Read again with the same result it stands. The rule is that of metrology.Compare.
func (v *Verification) slips(readings survey.Readings, ratio float64) {
	var told []string
	for _, d := range v.Comparison.Stations {
		if !d.Outlier || readings.Agree(d.Station) {
			continue
		}
		v.Slips = append(v.Slips, d.Station)
		looks := ""
		for _, shift := range []float64{photometry.Footcandle, 1 / photometry.Footcandle, 10, 0.1, 100, 0.01} {
			if looks == "" && near(d.Ratio/ratio, shift, nearCause) {
				looks = ", as by another unit or a decimal point out of place"
			}
		}
		if readings.Copied(d.Station) {
			looks += ", in lines that are alike: of a second reading write the time"
		}
		told = append(told, fmt.Sprintf("%s (%s, %s times its prediction%s)", d.Station, v.light(d.Measured), times(d.Ratio), looks))
	}
	n := len(v.Slips)
	if n == 0 {
		return
	}
	station, is, it, short := "station", "is", "it", v.Slips[0]
	if n > 1 {
		station, is, it, short = "stations", "are", "them", stations(n)
	}
	if n > mostTold {
		told = append(told[:mostTold:mostTold], fmt.Sprintf("%d more", n-mostTold))
	}
	v.unresolved("slip", short+" unlike the others", fmt.Sprintf("%s %s %s unlike the others, which are %s times their prediction: read %s again, or strike %s out with a reason",
		station, listed(told), is, times(ratio), it, it), v.Slips...)
}

// mostTold is how many stations a sentence tells of.
const mostTold = 3

// struckOut lists what was struck out. Stations that have no reading left for it must be few.
func (v *Verification) struckOut(readings survey.Readings) {
	means := readings.Means()
	var gone []string
	for _, l := range readings.Lines {
		if !l.Taken() || l.StruckOut == "" {
			continue
		}
		v.Struck = append(v.Struck, Struck{l.Station, l.Value, l.StruckOut})
		if _, read := means[l.Station]; !read && !slices.Contains(gone, l.Station) {
			gone = append(gone, l.Station)
		}
	}
	if n := len(gone); float64(n) > mostStruck*float64(n+len(means)) {
		v.unresolved("struck_out", "too many struck out", fmt.Sprintf("%d of %s are struck out and not read again: more than a fifth", n, stations(n+len(means))), gone...)
	}
}

// struckWords tells what was struck out, and what the averages were with it.
func (v *Verification) struckWords(readings survey.Readings) []string {
	if len(v.Struck) == 0 {
		return nil
	}
	all := survey.Readings{Unit: readings.Unit, Lines: slices.Clone(readings.Lines)}
	for i := range all.Lines {
		all.Lines[i].StruckOut = ""
	}
	var names []string
	for _, s := range v.Struck {
		names = append(names, fmt.Sprintf("%s (%s: %s)", s.Station, v.light(s.Value), s.Reason))
	}
	if n := len(names); n > mostTold {
		names = append(names[:mostTold:mostTold], fmt.Sprintf("%d more", n-mostTold))
	}
	words := []string{listed(names) + " struck out"}
	for _, a := range v.Areas {
		average, err := a.Plan.Average(all.Means())
		without, wrong := a.Plan.Average(readings.Means())
		if err == nil && wrong == nil && average.Value != without.Value && without.Value > 0 {
			words = append(words, fmt.Sprintf("with which the average of the %s is %s", a.Grid, v.light(a.Measured.Value*average.Value/without.Value)))
		}
	}
	return []string{strings.Join(words, ", ")}
}

// scatterless: one reading tells nothing of how it scatters.
func (v *Verification) scatterless() {
	for _, a := range v.Areas {
		if a.Measured.Value > 0 && !a.scatters {
			v.unresolved("scatter", "one reading only", a.Grid+": one reading tells nothing of how readings scatter: read it again, or more stations")
		}
	}
}

// light writes an illuminance in the job's unit.
func (v *Verification) light(lux float64) string {
	scale, unit := v.unit()
	return photometry.Digits(lux/scale) + " " + unit
}

// unit is the job's unit of light, in lx, and its sign.
func (v *Verification) unit() (lux float64, sign string) {
	if v.result.Job.Imperial {
		return photometry.Footcandle, "fc"
	}
	return 1, "lx"
}

// times writes a ratio.
func times(ratio float64) string { return photometry.Digits(ratio) }
