package ledger

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"lampswap/cmd/lampswap/internal/units"
	"lampswap/photometry/job"
	"lampswap/photometry/levels"
	"lampswap/photometry/lighting"
	"lampswap/photometry/number"
	"lampswap/photometry/room"
	"lampswap/photometry/study"
	"lampswap/photometry/utility"
	"lampswap/photometry/wording"
)

// A Note is a heading with sentences below it.
type Note struct {
	Heading string
	Items   []string
}

// Notes is what stands below the ledger; notes without an item are left out.
func Notes(r *study.Result) []Note {
	all := []Note{
		{"Lamps and ballasts", Fittings(r)},
		{"How the ratio counts", wording.Ratio(r)},
		{"Hours of work", r.Job.ScheduleWords()},
		{"Luminaires that give no light", wording.Failed(r)},
		{"Emergency power", wording.Egress(r)},
		{"Lamps that are out", wording.Outages(r)},
		{"What each part of the swap does to the light", Effects(r)},
		{"How the two methods compare", wording.Methods(r)},
		{"Where the light goes (initial)", Balance(r)},
		{"The room's plan", Plan(r)},
		{"Racks", Racks(r)},
		{"Criteria", Criteria(r)},
		{"Glare, color, flicker", comfort(r)},
		{"The kind of space", wording.Space(r)},
		{"Light through the years, from new lamps and clean surfaces", ThroughYears(r)},
		{"Uncertainty of the prediction", Doubt(r)},
		{"Which published level binds", wording.Binding(r)},
		{"Power density against energy codes, where they are adopted", PowerLimits(r)},
		{"What the swap touches, for a code's rule of alterations", wording.Alterations(r)},
		{"Emissions avoided", Spared(r)},
		{"Where the loss factors come from (t table, j job file, d default, e estimate)", origins(r)},
		{"Defaults that were used", defaults(r)},
		{"Warnings", wording.Warnings(r)},
		{"Cautions", wording.Cautions(r)},
	}
	var kept []Note
	for _, n := range all {
		if len(n.Items) > 0 {
			kept = append(kept, n)
		}
	}
	return kept
}

// comfort is what it is like to live with the light, where a job asks.
func comfort(r *study.Result) []string {
	if !r.AsksOfGlare() && !slices.ContainsFunc(r.Job.Criteria, func(c levels.Criterion) bool { return c.Statistic.Comfort() }) {
		return nil
	}
	return wording.Comfort(r)
}

// Answer is the answer: a word and a sentence.
func Answer(r *study.Result) (word, sentence string) {
	word = "ENOUGH"
	switch {
	case len(r.Verdicts) == 0:
		word = "NOT JUDGED"
	case !r.BrightEnough():
		word = "NOT ENOUGH"
	case r.Proposed().Outside != nil:
		word = "NOT MET"
	case !r.Met():
		word = "ENOUGH LIGHT, " + but(r)
		if !r.LightJudged() {
			word = "LIGHT NOT JUDGED, " + but(r)
		}
	case !r.LightJudged():
		word = "LIGHT NOT JUDGED"
	case r.OnASlip():
		word = "ENOUGH, IF THE JOB HAS NO SLIP"
	case r.OnEstimate() != nil:
		word = "ENOUGH BY AN ESTIMATE"
	case len(r.NotInAllYears()) > 0:
		word = "ENOUGH, BUT NOT IN ALL YEARS"
	}
	return word, wording.Verdict(r)
}

// but is what the proposed lighting misses although it is bright enough, in a word or two.
func but(r *study.Result) string {
	for _, c := range []struct {
		of           levels.Statistic
		known, notSo string
	}{{levels.PowerDensity, "TOO MUCH POWER", ""}, {levels.Glare, "TOO MUCH GLARE", "GLARE NOT KNOWN"}, {levels.ColorRendering, "POOR COLOR", "COLOR NOT KNOWN"}} {
		if v, missed := r.Missed(c.of); missed && v.Proposed().Why == "" {
			return c.known
		} else if missed {
			return c.notSo
		}
	}
	return "A CRITERION IS MISSED"
}

// Doubt says how far the light may be from the prediction, as far as there is one.
func Doubt(r *study.Result) []string {
	words := wording.Uncertainty(r.Uncertainty, r.Job)
	if len(words) > 0 && r.Proposed().Outside != nil {
		return append([]string{"what follows holds for lamps and ballasts within their rating, but " + wording.Outside(r.Proposed().Outside)}, words...)
	}
	return words
}

// Criteria tells each criterion with what the systems make of it.
func Criteria(r *study.Result) []string {
	var all []string
	for _, v := range r.Verdicts {
		met := func(side int) string {
			by := v.By[side]
			reached := wording.Quantity(r.Job, v.Criterion, by.Value, v.Finer(r.Job.Imperial))
			switch {
			case by.Why != "" && by.Met:
				return "met (" + by.Why + ")"
			case by.Why != "":
				return "NOT KNOWN (" + by.Why + ")"
			case math.IsNaN(by.Value):
				return "MISSED"
			case by.Met:
				return "met (" + reached + ")"
			case v.Met(by.Value):
				return "NOT met (" + reached + " by the numbers, but " + wording.Outside(r.Sides[side].Outside) + ")"
			}
			return "MISSED (" + reached + ")"
		}
		text := fmt.Sprintf("%s, %s; %s by the proposed lighting%s, %s by the existing", v.Name, requires(r.Job, v.Criterion, v.Finer(r.Job.Imperial)),
			met(1), Margin(v), met(0))
		if r.ThreeWays() {
			text += fmt.Sprintf(", %s by the %s", met(2), r.Sides[2].Name)
		}
		all = append(all, text+". Source: "+v.Source)
	}
	return all
}

// requires says what a criterion is about and what it takes to meet it, with more digits than usual: average of work plane: at least 10.0 fc.
func requires(j *job.Job, c levels.Criterion, more int) string {
	return fmt.Sprintf("%s of %s: %s", c.Statistic.Words(), c.Grid, wording.Required(j, c, more))
}

// ThroughYears says how low the light gets, when it first falls below a criterion, and what that takes for granted.
func ThroughYears(r *study.Result) []string {
	var all []string
	for i, y := range r.Years {
		judged := judgedAge(y)
		if light := r.Sides[i].Grids[0].Statistics.Average; light < y.Lowest*(1-1e-6) {
			judged += fmt.Sprintf("; the %s at which it is judged would be reached where lamps of that age and the dirt of all the time between cleanings come together", r.Job.Light(light))
		}
		all = append(all, fmt.Sprintf("%s: the average of the work plane starts at %s and gets as low as %s in %.0f years", y.Name, r.Job.Light(y.Light[0]), r.Job.Light(y.Lowest), y.Horizon)+judged)
		all = append(all, below(y)...)
	}
	var notes [][]string // of each side
	for i := range r.Years {
		notes = append(notes, wording.Years(r, i))
	}
	for i, y := range r.Years {
		for _, n := range notes[i] {
			shared := !slices.ContainsFunc(notes, func(other []string) bool { return !slices.Contains(other, n) })
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
	mass := func(kg float64) string {
		if r.Job.Imperial {
			return number.Thousands(kg/utility.Pound) + " lb CO2 a year"
		}
		return number.Thousands(kg) + " kg CO2 a year"
	}
	var all []string
	for _, e := range r.Energy.Emissions {
		amount := mass(e.SavedKgPerYear)
		if r.ThreeWays() {
			amount = fmt.Sprintf("proposed %s, replacement %s", amount, mass(e.Of(r.Energy.SavingOf(2))))
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
	return []string{fmt.Sprintf("%s; %s percent of the light that meets one goes through it", numberOf(racks), passes)}
}

// numberOf counts racks that stand and boxes that hang.
func numberOf(racks []room.Rack) string {
	var parts []string
	count := func(hang bool, one, many string) {
		n := 0
		for _, k := range racks {
			if k.Hangs() == hang {
				n++
			}
		}
		switch {
		case n == 1:
			parts = append(parts, "1 "+one)
		case n > 1:
			parts = append(parts, fmt.Sprintf("%d %s", n, many))
		}
	}
	count(false, "rack", "racks")
	count(true, "box that hangs", "boxes that hang")
	return strings.Join(parts, " and ")
}

// FloorArea is that of the room, in the job's unit.
func FloorArea(j *job.Job) string {
	v := units.Of(j)
	return number.Thousands(j.Room.Area()/(v.Meter*v.Meter)) + " " + v.Length + "2"
}

// Plan says what an outline makes of the room; nothing of a rectangle.
func Plan(r *study.Result) []string {
	j := r.Job
	if j.Room.Outline == nil {
		return nil
	}
	v := units.Of(j)
	long, wide := j.Room.Rectangle()
	return []string{
		fmt.Sprintf("an outline of %d corners: %s of floor within %.4g %s of walls", len(j.Room.Outline), FloorArea(j), j.Room.Perimeter()/v.Meter, v.Length),
		fmt.Sprintf("the lumen method takes the rectangle of the same area and perimeter, %.4g by %.4g %s, which has the same cavity ratios", long/v.Meter, wide/v.Meter, v.Length),
	}
}

func origins(r *study.Result) []string {
	if !manyKinds(r) {
		return originsOf(r.Sides)
	}
	var all []string
	for _, kind := range r.Kinds() {
		for _, entry := range kind.Losses.List() {
			all = append(all, fmt.Sprintf("%s, %s: %s", strings.ReplaceAll(entry.Key, "_", " "), kind.Name, wording.Why(entry.Factor)))
		}
	}
	return all
}

// originsOf says of each factor where it comes from, of systems that have it from elsewhere each by itself.
func originsOf(sides []lighting.Side) []string {
	var all []string
	for i, factor := range sides[0].Losses.List() {
		name, alike := strings.ReplaceAll(factor.Key, "_", " "), true
		var each []string
		for _, side := range sides {
			detail := wording.Why(side.Losses.List()[i].Factor)
			alike = alike && detail == wording.Why(factor.Factor)
			each = append(each, fmt.Sprintf("%s, %s: %s", name, side.Name, detail))
		}
		if alike {
			each = []string{fmt.Sprintf("%s: %s", name, wording.Why(factor.Factor))}
		}
		all = append(all, each...)
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
