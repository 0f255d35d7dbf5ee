package display

import (
	"context"
	"fmt"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"time"

	"lampswap/cmd/lampswap/internal/ledger"
	"lampswap/cmd/lampswap/internal/page/tomltext"
	"lampswap/cmd/lampswap/internal/typeset"
	"lampswap/cmd/lampswap/internal/units"
	"lampswap/photometry/catalog"
	"lampswap/photometry/glare"
	"lampswap/photometry/job"
	"lampswap/photometry/levels"
	"lampswap/photometry/lighting"
	"lampswap/photometry/number"
	"lampswap/photometry/study"
)

// What is tried leaves the job as it is until it is kept: another ballast factor, another lamp of the same length, another cleaning interval.

// A Try is the sliders and what they come to.
type Try struct {
	Factor, Cleaning sliderView
	Lamps            []string // by lumens; none if the job names no lamp that could be changed
	Lamp             sliderView
	WhyNoFactor      string
	WhyNoLamp        string
	Feed             string // on what the lamp burns that is tried, where that is not as in the job
	Changed          bool
	Word, Good       string
	Base, Now        string // averages
	Unit, Change     string
	Least            string
	Rules            []ruleView
	Fault            string
	Years            *yearsView
}

type sliderView struct {
	Value, Least, Most, Step string
	Shown                    string
}

// leastFactor and mostFactor bound the slider of the ballast factor.
const (
	leastFactor = 0.50
	mostFactor  = 1.30
	mostMonths  = 72
)

// Tried are the positions of the sliders.
type Tried struct {
	factor, months float64
	lamp           string
}

// tryLamps are the lamps that could take the place of the proposed one, by their lumens: of its length, on what feeds it or, as an LED tube on the
// line does, on what feeds them.
func tryLamps(s job.System) []string {
	if s.Lamp == nil || s.Lamp.Typed {
		return nil
	}
	var fit []catalog.Lamp
	for _, l := range catalog.Lamps() {
		if l.NominalLength != s.Lamp.NominalLength || l.InitialLumens <= 0 {
			continue
		}
		if _, ok := feedOf(l, s); ok {
			fit = append(fit, l)
		}
	}
	slices.SortStableFunc(fit, func(a, b catalog.Lamp) int { return int(a.InitialLumens) - int(b.InitialLumens) })
	var names []string
	for _, l := range fit {
		names = append(names, l.Name)
	}
	return names
}

// feedOf is the ballast on which a lamp would burn in the place of the system's, of its own kind wherever there is one; the kind is "" where the job
// describes its ballast itself. ok is false where none is known.
func feedOf(l catalog.Lamp, s job.System) (kind string, ok bool) {
	if s.Ballast == nil {
		return "", s.Lamp != nil && l.NeedsBallast() == s.Lamp.NeedsBallast() // of a photometric file no lamp is known
	}
	if _, ok := catalog.FindBallast(l, s.Lamps, s.Ballast.Kind); ok {
		return s.Ballast.Kind, true
	}
	for _, b := range catalog.BallastsFor(l, s.Lamps) {
		return b.Kind, true
	}
	return "", false
}

func baseOf(j *job.Job) Tried {
	b := Tried{factor: j.Proposed.BallastFactor, months: 12 * j.Proposed.Care.CleanYears}
	if j.Proposed.Lamp != nil {
		b.lamp = j.Proposed.Lamp.Name
	}
	return b
}

// TriedOf reads the sliders; what is not posted, or is none of it, stays as the job has it.
func TriedOf(posted url.Values, j *job.Job) Tried {
	t := baseOf(j)
	if x, err := strconv.ParseFloat(posted.Get("factor"), 64); err == nil && x >= leastFactor && x <= mostFactor && !sameStep(x, t.factor, 0.01) && !onLine(j) {
		t.factor = x
	}
	if x, err := strconv.ParseFloat(posted.Get("months"), 64); err == nil && x >= 0 && x <= mostMonths && !sameStep(x, t.months, 1) {
		t.months = x
	}
	names := tryLamps(j.Proposed)
	if i, err := strconv.Atoi(posted.Get("lamp")); err == nil && i >= 0 && i < len(names) {
		t.lamp = names[i]
	}
	return t
}

// onLine tells that the proposed lamps have no ballast.
func onLine(j *job.Job) bool {
	return j.Proposed.Lamp != nil && j.Proposed.Lamp.LEDType == catalog.OnLine
}

// sameStep tells that a slider stands where the job's value is shown: the slider has steps, the value need not keep to them.
func sameStep(x, y, step float64) bool { return x-y < step/2 && y-x < step/2 }

// Text is the job's text with what is tried in it.
func (t Tried) Text(text string, j *job.Job) (string, error) {
	edited, err := tomltext.Read(text)
	if err != nil {
		return "", err
	}
	base := baseOf(j)
	if t.factor != base.factor {
		err = edited.Set("proposed.ballast_factor", strconv.FormatFloat(t.factor, 'f', 2, 64))
	}
	if err == nil && t.months != base.months {
		key := "upkeep.clean_months"
		if own := "proposed." + key; edited.Has(own) {
			key = own
		}
		err = edited.Set(key, strconv.FormatFloat(t.months, 'f', 1, 64))
	}
	if err == nil && t.lamp != base.lamp {
		err = t.putLamp(edited, j)
	}
	return edited.String(), err
}

// putLamp writes the lamp, and the ballast where it takes another, whose factor and watts are then those of the list.
func (t Tried) putLamp(edited *tomltext.Text, j *job.Job) error {
	lamp, _ := catalog.FindLamp(t.lamp)
	gone := []string{"lamp_lumens"}
	if kind, ok := feedOf(lamp, j.Proposed); ok && kind != "" && kind != j.Proposed.Ballast.Kind {
		gone = append(gone, "input_watts")
		if t.factor == baseOf(j).factor || !lamp.NeedsBallast() {
			gone = append(gone, "ballast_factor")
		}
		if err := edited.Set("proposed.ballast", tomltext.Quote(kind)); err != nil {
			return err
		}
	}
	for _, key := range gone {
		if err := edited.Delete("proposed." + key); err != nil {
			return err
		}
	}
	return edited.Set("proposed.lamp", tomltext.Quote(t.lamp))
}

// feed says on what a lamp that is tried burns, where that is not what the job has.
func (t Tried) feed(j *job.Job) string {
	lamp, known := catalog.FindLamp(t.lamp)
	if !known || j.Proposed.Ballast == nil || t.lamp == baseOf(j).lamp {
		return ""
	}
	kind, ok := feedOf(lamp, j.Proposed)
	switch {
	case !ok || kind == j.Proposed.Ballast.Kind:
		return ""
	case kind == catalog.KindNone:
		return t.lamp + " runs on the line: the ballast is taken out, and each luminaire is wired and labeled anew by who may."
	}
	return t.lamp + " burns on " + kind + ", not on the ballast of the job."
}

func (t Tried) view(j *job.Job) *Try {
	v := &Try{Lamps: tryLamps(j.Proposed)}
	v.Factor = sliderView{Value: fmt.Sprintf("%.2f", t.factor), Least: fmt.Sprintf("%.2f", leastFactor), Most: fmt.Sprintf("%.2f", mostFactor), Step: "0.01", Shown: fmt.Sprintf("%.2f", t.factor)}
	v.Cleaning = sliderView{Value: fmt.Sprintf("%.0f", t.months), Least: "0", Most: fmt.Sprint(mostMonths), Step: "1", Shown: fmt.Sprintf("%.0f months", t.months)}
	switch {
	case j.Proposed.Luminaire.Absolute:
		v.WhyNoFactor = "The proposed luminaire was photometered as a whole; no ballast factor and no lamp counts."
		v.WhyNoLamp, v.Lamps = v.WhyNoFactor, nil
	case onLine(j):
		v.WhyNoFactor = "An LED tube of type B runs on the line: it has no ballast, and so no ballast factor."
	}
	if v.WhyNoLamp == "" && len(v.Lamps) < 2 {
		v.WhyNoLamp = "Of the lamp list, no other lamp fits the proposed fixture and its ballast. Choose the lamp in the form."
	}
	if i := slices.Index(v.Lamps, t.lamp); i >= 0 {
		v.Lamp = sliderView{Value: strconv.Itoa(i), Least: "0", Most: strconv.Itoa(len(v.Lamps) - 1), Step: "1", Shown: t.lamp}
	} else {
		v.Lamps = nil
	}
	return v
}

// Changes tells whether anything is tried at all.
func (t Tried) Changes(j *job.Job) bool { return t != baseOf(j) }

// Shown is the sliders and what they come to, beside the result of the job; found is nil where nothing is tried.
func (t Tried) Shown(r *study.Result, found *Trial) *Try {
	v := t.view(r.Job)
	unit := units.Of(r.Job)
	base := r.Proposed().Grids[0].Statistics
	v.Unit, v.Base = unit.Illuminance, number.Digits(base.Average/unit.Lux)
	v.Changed = found != nil
	if v.Changed {
		v.Feed = t.feed(r.Job)
	}
	now := Trial{average: base.Average, minimum: base.Minimum, result: r}
	if v.Changed {
		if v.Fault = found.fault; v.Fault == "" {
			now = *found
		}
	}
	v.Now, v.Change, v.Least = number.Digits(now.average/unit.Lux), typeset.Text(number.Percent(base.Average, now.average)), number.Digits(now.minimum/unit.Lux)
	for _, c := range now.result.Verdicts {
		v.Rules = append(v.Rules, ruleViewOf(now.result, unit, c))
	}
	v.Word, _ = ledger.Answer(now.result)
	v.Good = goodOf(now.result.Standing())
	v.Years = yearsViewOf(r, now.result.Years, v.Changed && v.Fault == "")
	return v
}

// A Trial is what became of the proposed light.
type Trial struct {
	fault            string
	average, minimum float64       // of the work plane, lx
	result           *study.Result // with the verdicts; of its grids only the first is to be relied on
}

// Work is how jobs are read and worked out, and how long one may take.
type Work struct {
	Read  func(name string, text []byte, files job.Files) (*job.Job, error)
	Run   func(ctx context.Context, j *job.Job) (*study.Result, error)
	Limit time.Duration
}

// TryText works out a text with what is tried in it, beside the result of the job. The light at a point is linear in the lamps' lumens and
// the share of it that is kept; where nothing else changes, the points that were worked out for the job are scaled, exactly, and nothing
// coarser is computed in their place.
func TryText(ctx context.Context, work Work, name, text string, files job.Files, was *study.Result) (*Trial, error) {
	j, err := work.Read(name, []byte(text), files)
	if err != nil {
		first, _, _ := strings.Cut(err.Error(), "\n")
		return &Trial{fault: first}, nil
	}
	same := sameLight(was.Job, j)
	if same { // all that the points need is there; the rest is quick
		j.Interreflection, j.Grids, j.Egress, j.Criteria = false, nil, nil, nil
		j.Spacing = max(j.Room.Length, j.Room.Width)
	}
	limited, cancel := context.WithTimeout(ctx, work.Limit)
	defer cancel()
	found, err := work.Run(limited, j)
	if err != nil {
		return nil, err
	}
	if !same {
		now := found.Proposed().Grids[0].Statistics
		return &Trial{average: now.Average, minimum: now.Minimum, result: found}, nil
	}
	return scaledTrial(was, found), nil
}

// scaledTrial is the light of the points that were worked out, times what the lumen method finds of the change.
func scaledTrial(was, found *study.Result) *Trial {
	olds, news := was.Sides[:2], found.Sides[:2]
	ratio := func(i int) float64 {
		return news[i].LumenMethod.MaintainedAverage / olds[i].LumenMethod.MaintainedAverage
	}
	before := was.Proposed().Grids[0].Statistics
	for i := range olds { // the same course, at the level of the points of the job
		level := olds[i].Grids[0].Statistics.Average * ratio(i) / news[i].Grids[0].Statistics.Average
		for k := range found.Years[i].Light {
			found.Years[i].Light[k] *= level
		}
	}
	found.Verdicts = scaled(was.Verdicts, found.Proposed().System, ratio(1), found.Proposed().LumenMethod.InitialAverage/was.Proposed().LumenMethod.InitialAverage)
	found.FollowVerdicts()
	return &Trial{average: before.Average * ratio(1), minimum: before.Minimum * ratio(1), result: found}
}

// sameLight tells that two jobs send the proposed light the same ways, so that only its amount differs: a photometric file does, whatever
// the lamps; a computed fixture does with the same lamp.
func sameLight(a, b *job.Job) bool {
	p, q := a.Proposed, b.Proposed
	if slices.ContainsFunc(q.Emergency, func(p job.Pack) bool { return p.Lumens > 0 }) {
		return false // a pack gives the same light to other lamps
	}
	return p.Section == nil || q.Section == nil || p.Lamp == q.Lamp || p.Lamp != nil && q.Lamp != nil && p.Lamp.Same(*q.Lamp)
}

// scaled are the verdicts on the proposed light of a system with all of it times the ratio, and new so many times as much; ratios of light stay,
// and so does power.
func scaled(verdicts []study.Verdict, proposed *lighting.System, ratio, initial float64) []study.Verdict {
	all := slices.Clone(verdicts)
	for i := range all {
		v := &all[i]
		v.By = slices.Clone(v.By)
		by := &v.By[1]
		switch {
		case v.Statistic == levels.Glare:
			by.Value += glare.Brighter(initial)
		case v.Statistic == levels.ColorRendering:
			by.Value = proposed.ColorRendering
		case !v.Statistic.Plain() && v.Statistic != levels.PowerDensity:
			by.Value *= ratio
		default:
			continue
		}
		by.Met = study.Keeps(proposed, v.Criterion, by.Value)
	}
	return all
}
