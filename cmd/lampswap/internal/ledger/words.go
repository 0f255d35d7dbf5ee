package ledger

import (
	"fmt"
	"math"
	"strings"

	"lampswap/cmd/lampswap/internal/units"
	"lampswap/photometry/codes"
	"lampswap/photometry/levels"
	"lampswap/photometry/number"
	"lampswap/photometry/options"
	"lampswap/photometry/study"
	"lampswap/photometry/wording"
)

// boundless is a change that nobody wants in percent.
const boundless = 1e6

// Effects says what each part of the swap does to the light, a sentence; parts that do nothing are left out. Of luminaires of several kinds
// there is nothing to say.
func Effects(r *study.Result) []string {
	if manyKinds(r) {
		return nil
	}
	return []string{effects(r.Effects(), len(r.Job.Racks) > 0)}
}

func effects(e study.Effects, racks bool) string {
	method := "the lumen method"
	if racks {
		method += ", no racks"
	}
	var parts []string
	for _, part := range []struct {
		name   string
		factor float64
	}{{"number of luminaires", e.Number}, {"lamp lumens", e.LampLumens}, {"ballast factor", e.BallastFactor}, {"luminaire efficiency", e.Efficiency},
		{"distribution", e.Distribution}, {"losses over time", e.Time}} {
		switch {
		case !(part.factor <= boundless): // the existing light is none, or next to none
			parts = append(parts, part.name+" from next to none before")
		case math.Abs(part.factor-1) >= 5e-4:
			parts = append(parts, part.name+" "+percentage(part.factor))
		}
	}
	if len(parts) == 0 {
		return "nothing changes the light"
	}
	if whole := e.Whole(); !(whole <= boundless) {
		return strings.Join(parts, ", ")
	}
	return fmt.Sprintf("%s; together %s maintained, by %s", strings.Join(parts, ", "), percentage(e.Whole()), method)
}

// percentage writes a factor as a change.
func percentage(factor float64) string { return number.Signed(100*(factor-1), 1) + " percent" }

// Balance is the account of the light that bounces, a sentence a system; empty without it.
func Balance(r *study.Result) []string {
	out := []string{}
	for _, side := range r.Sides {
		if b := side.Balance; b != nil {
			off, word := 100*b.Imbalance(), "more"
			if off < 0 {
				word = "less"
			}
			out = append(out, fmt.Sprintf("%s: emitted %s lm, absorbed by the surfaces %s lm (%.2f percent %s), %d bounces followed",
				side.Name, number.Thousands(b.Emitted), number.Thousands(b.Absorbed), math.Abs(off), word, b.Bounces))
		}
	}
	return out
}

// PowerLimits says which editions the power density of the new systems keeps, a sentence a code, kind of space and system.
func PowerLimits(r *study.Result) []string {
	v := units.Of(r.Job)
	var order []string
	byCode := map[string][]study.PowerLimit{}
	more := 0
	for _, l := range r.PowerLimits() {
		about := fmt.Sprintf("%s, %s, space by space", l.Code, lower(l.Space))
		if l.Method == codes.BuildingArea {
			about = fmt.Sprintf("%s, %s as a whole building", l.Code, lower(l.Space))
		}
		if byCode[about] == nil {
			order = append(order, about)
		}
		byCode[about] = append(byCode[about], l)
		for _, side := range r.Sides[1:] {
			more = max(more, levels.Criterion{Unit: levels.WattsPerSquareFoot, Required: l.WPerFt2}.Finer(r.Job.Imperial, side.PowerDensity))
		}
	}
	unit := v.Power
	if !r.Job.Imperial {
		unit += " (and as published W/ft2)"
	}
	var all []string
	for _, about := range order {
		var parts []string
		for i, side := range r.Sides[1:] {
			parts = append(parts, fmt.Sprintf("the %s %s %s %s", side.Name, number.Fixed(side.PowerDensity/v.PerArea, 2+more), v.Power,
				keepsAndExceeds(r, byCode[about], i+1)))
		}
		all = append(all, fmt.Sprintf("%s, %s: %s", about, unit, strings.Join(parts, "; ")))
	}
	return all
}

// keepsAndExceeds says which of the limits a side keeps and which it exceeds.
func keepsAndExceeds(r *study.Result, limits []study.PowerLimit, side int) string {
	var kept, passed, parts []string
	for _, l := range limits {
		if l.MetBy[side] {
			kept = append(kept, edition(r, l))
		} else {
			passed = append(passed, edition(r, l))
		}
	}
	if kept != nil {
		parts = append(parts, "meets "+strings.Join(kept, ", "))
	}
	if passed != nil {
		parts = append(parts, "exceeds "+strings.Join(passed, ", "))
	}
	return strings.Join(parts, "; ")
}

// edition is the year of a limit with the limit, in the job's unit and as published.
func edition(r *study.Result, l study.PowerLimit) string {
	year, limit := l.Year, fmt.Sprintf("%g", l.WPerFt2)
	if year == "unknown" {
		year = "an edition unknown"
	}
	if !r.Job.Imperial {
		limit = fmt.Sprintf("%.2f; %g", l.WattsPerSquareMetre(), l.WPerFt2)
	}
	if l.FromMemory() {
		limit += ", from memory, unverified"
	}
	return fmt.Sprintf("%s (%s)", year, limit)
}

// lower writes the first letter small.
func lower(s string) string { return strings.ToLower(s[:1]) + s[1:] }

// below says when the light of the side first falls below each level, a sentence each; one sentence names those below which it never does.
func below(y study.Years) []string {
	var all, kept []string
	for _, b := range y.Below {
		what := fmt.Sprintf("%s: %s of %s", y.Name, b.Criterion.Statistic.Words(), b.Criterion.Grid)
		switch {
		case b.Years == 0:
			all = append(all, fmt.Sprintf("%s is below what %q requires from the first day", what, b.Criterion.Name))
		case !math.IsNaN(b.Years):
			all = append(all, fmt.Sprintf("%s first falls below what %q requires after %s", what, b.Criterion.Name, wording.Span(b.Years)))
		default:
			kept = append(kept, fmt.Sprintf("%q (%s of %s)", b.Criterion.Name, b.Criterion.Statistic.Words(), b.Criterion.Grid))
		}
	}
	if len(kept) > 0 {
		all = append(all, fmt.Sprintf("%s: in %.0f years does not fall below what is required by %s", y.Name, y.Horizon, strings.Join(kept, ", ")))
	}
	return all
}

// judgedAge says when the lamps of the side are as old as they are judged; "" where that is not known.
func judgedAge(y study.Years) string {
	switch {
	case math.IsNaN(y.Judged) || math.IsInf(y.Judged, 0):
		return ""
	case y.Judged > y.Horizon:
		return fmt.Sprintf("; its lamps would reach the age at which they are judged after %s, beyond the study", wording.Span(y.Judged))
	}
	return fmt.Sprintf("; its first lamps reach the age at which they are judged after %s", wording.Span(y.Judged))
}

// Margin says by how much the proposed system keeps or misses a criterion: ", 12 percent to spare"; empty where that has no value.
func Margin(v study.Verdict) string {
	margin := 100 * v.Margin(v.Proposed().Value)
	if v.Proposed().Met {
		margin = max(margin, 0) // met but for rounding is met
	}
	if v.Statistic.Comfort() {
		return points(v)
	}
	switch {
	case math.IsNaN(margin), margin >= 0 && !v.Proposed().Met: // by the numbers it is met, but the light is not known
		return ""
	case margin > 1000:
		return ", over 1,000 percent to spare"
	case margin >= 0:
		return ", " + part100(margin) + " to spare"
	case v.AtLeast:
		return ", " + part100(-margin) + " short"
	case margin < -1000:
		return ", more than ten times that"
	}
	return ", " + part100(-margin) + " over"
}

// points says the same of a number on a scale of its own, of which percents say nothing.
func points(v study.Verdict) string {
	by := v.Required - v.Proposed().Value
	if v.AtLeast {
		by = -by
	}
	switch {
	case math.IsNaN(by), by >= 0 && !v.Proposed().Met:
		return ""
	case v.Proposed().Met:
		return ", " + number.Fixed(max(by, 0), 1) + " to spare"
	case v.AtLeast:
		return ", " + number.Fixed(-by, 1) + " short"
	}
	return ", " + number.Fixed(-by, 1) + " over"
}

// part100 writes percents in whole numbers, and those below one with the figure that tells them from none.
func part100(percent float64) string {
	if percent > 0 && percent < 1 {
		return fmt.Sprintf("%.1g percent", percent)
	}
	return number.Fixed(percent, 0) + " percent"
}

// moreOf are so many more of a part of the list: 1 more that misses a criterion, 159 more that miss a criterion.
func moreOf(n int, part string) string {
	if !strings.Contains(part, " ") || strings.HasPrefix(part, "for ") {
		return fmt.Sprintf("%d more %s", n, part)
	}
	verb, rest, _ := strings.Cut(part, " ")
	if many, known := map[string]string{"is": "are", "meets": "meet", "misses": "miss"}[verb]; known && n > 1 {
		verb = many
	}
	return fmt.Sprintf("%d more that %s %s", n, verb, rest)
}

// OptionPart says to which part of the list an option belongs.
func OptionPart(o *options.Options, p *options.Option) string {
	switch {
	case !p.May():
		return "for comparison"
	case p.Meets, p.MeetsRest:
		return wording.Rule(o)
	case len(o.Job.Criteria) == 0:
		return "is darker than the existing lighting"
	}
	return "misses a criterion"
}
