package verification

import (
	"math"
	"slices"

	"lampswap/photometry"
	"lampswap/photometry/losses"
	"lampswap/photometry/metrology"
	"lampswap/photometry/survey"
)

// An Unresolved is something about the readings for which no criterion is proven, met or missed, until it is looked into.
type Unresolved struct {
	Key      Key
	Stations []string // that it is about; none where it is about all of them

	Ratio              float64 // measured over predicted
	Count, Of          int     // stations, of so many
	Value, Least, Most float64 // the reading that all have, and between what they are predicted, lx
	Grid               string  // of one reading only
	Mixed, Noted       bool    // readings are in two units; the meter's unit is written down
	Shown, Taken       survey.Unit
	Slips              []Slip
	Causes             []Cause // that fit, the closest first
}

// A Key is what of the readings is unresolved; scripts rely on it.
type Key string

// The keys.
const (
	Unlike    Key = "slip"       // Ratio of the others, Slips
	OtherUnit Key = "unit"       // Ratio; Mixed, or Shown, Taken and Noted
	AllEqual  Key = "equal"      // Count, Value, Least, Most
	Mismatch  Key = "mismatch"   // Ratio, Causes
	Beyond    Key = "beyond"     // Count, Of
	OneOnly   Key = "scatter"    // Grid
	StruckOut Key = "struck_out" // Count, Of
)

// A Slip is a reading unlike the others.
type Slip struct {
	Station  string
	Measured float64 // lx
	Ratio    float64 // to its prediction
	Shifted  bool    // against the others as by another unit, or a decimal point out of place
	Copied   bool    // read twice, in lines that are alike
}

// A Cause is what may make readings other than predicted.
type Cause struct {
	Kind  CauseKind
	Value float64 // of the other system: measured over its prediction; of a range: the factor; of lamps out: their share; of dirt: what it leaves
}

// A CauseKind is a kind of cause.
type CauseKind int

// The causes that are looked at.
const (
	OtherSystem CauseKind = iota
	OtherRange
	DaylightCause
	MoreLamps
	LampsOut
	DirtCause
	FewerLamps
	ColdLamps
)

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
	if len(v.Unresolved) == 0 || v.Unresolved[0].Key != AllEqual && v.Unresolved[0].Key != OtherUnit { // where all are in doubt, none is unlike
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

func (v *Verification) unresolved(u Unresolved) bool {
	v.Unresolved = append(v.Unresolved, u)
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
	return near(high/low, photometry.Footcandle, nearCause) && v.unresolved(Unresolved{Key: OtherUnit, Mixed: true, Ratio: high / low})
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
	return v.unresolved(Unresolved{Key: OtherUnit, Ratio: ratio, Shown: shown, Taken: taken, Noted: readings.UnitNoted()})
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
	return v.unresolved(Unresolved{Key: AllEqual, Count: len(all), Value: all[0].Measured, Least: least, Most: most})
}

// mismatched: readings of less than half or more than twice the prediction are of another lighting than the job describes.
func (v *Verification) mismatched(ratio float64, s Survey, other map[string]float64) bool {
	if ratio >= leastMatch && ratio <= mostMatch {
		return false
	}
	return v.unresolved(Unresolved{Key: Mismatch, Ratio: ratio, Causes: v.causes(ratio, s, other)})
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
		v.unresolved(Unresolved{Key: Beyond, Count: off, Of: c.Judged})
	}
}

// slips: a reading unlike the others, against their predictions, is one of a slip of the pen, a shadow or a lamp that is out, and which of
// them it is readings alone do not tell. Read again with the same result it stands. The rule is that of metrology.Compare.
func (v *Verification) slips(readings survey.Readings, ratio float64) {
	u := Unresolved{Key: Unlike, Ratio: ratio}
	for _, d := range v.Comparison.Stations {
		if !d.Outlier || readings.Agree(d.Station) {
			continue
		}
		shifted := slices.ContainsFunc([]float64{photometry.Footcandle, 1 / photometry.Footcandle, 10, 0.1, 100, 0.01},
			func(shift float64) bool { return near(d.Ratio/ratio, shift, nearCause) })
		u.Slips = append(u.Slips, Slip{d.Station, d.Measured, d.Ratio, shifted, readings.Copied(d.Station)})
		v.Slips = append(v.Slips, d.Station)
	}
	if u.Stations = v.Slips; len(v.Slips) > 0 {
		v.unresolved(u)
	}
}

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
		v.unresolved(Unresolved{Key: StruckOut, Stations: gone, Count: n, Of: n + len(means)})
	}
}

// scatterless: one reading tells nothing of how it scatters.
func (v *Verification) scatterless() {
	for _, a := range v.Areas {
		if a.Measured.Value > 0 && !a.scatters {
			v.unresolved(Unresolved{Key: OneOnly, Grid: a.Grid})
		}
	}
}

// withStruck forms the averages with what was struck out.
func (v *Verification) withStruck(readings survey.Readings) {
	all := survey.Readings{Unit: readings.Unit, Lines: slices.Clone(readings.Lines)}
	for i := range all.Lines {
		all.Lines[i].StruckOut = ""
	}
	for i := range v.Areas {
		a := &v.Areas[i]
		average, err := a.Plan.Average(all.Means())
		without, wrong := a.Plan.Average(readings.Means())
		if len(v.Struck) > 0 && err == nil && wrong == nil && average.Value != without.Value && without.Value > 0 {
			a.Struck = a.Measured.Value * average.Value / without.Value
		}
	}
}

// causes are the likely causes that fit a ratio, the closest first.
func (v *Verification) causes(ratio float64, s Survey, other map[string]float64) []Cause {
	var all []Cause
	beside := v.keptMedian(func(d metrology.Deviation) float64 { return d.Measured / other[d.Station] })
	if near(beside, 1, nearCause) {
		all = append(all, Cause{OtherSystem, beside})
	}
	for power := -2; power <= 2; power++ {
		if power != 0 && near(ratio, math.Pow10(power), nearCause) {
			all = append(all, Cause{OtherRange, math.Pow10(power)})
		}
	}
	if ratio > 1 {
		if s.Conditions.Daylight != survey.Dark {
			all = append(all, Cause{Kind: DaylightCause})
		}
		return append(all, Cause{Kind: MoreLamps})
	}
	all = append(all, Cause{LampsOut, 1 - ratio})
	if dirt := v.worstDirt(); dirt <= ratio*nearCause {
		all = append(all, Cause{DirtCause, dirt})
	}
	return append(all, Cause{Kind: FewerLamps}, Cause{Kind: ColdLamps})
}
