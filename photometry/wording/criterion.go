package wording

import (
	"fmt"
	"math"
	"strings"

	"lampswap/photometry"
	"lampswap/photometry/job"
	"lampswap/photometry/levels"
	"lampswap/photometry/number"
	"lampswap/photometry/study"
)

// Span writes a time in the unit that it deserves.
func Span(years float64) string {
	if years < 2 {
		return fmt.Sprintf("%.0f months", 12*years)
	}
	return fmt.Sprintf("%.1f years", years)
}

// boundless is a ratio of light after to before that means nothing: the light before is next to none.
const boundless = 1e6

// Compared says in words how much light there is after against before, lx: "10 percent less than".
func Compared(before, after float64) string {
	if !(before > 0) || after > boundless*before {
		return "against"
	}
	percent := 100 * (after/before - 1)
	switch {
	case math.Abs(percent) <= 100*study.AsMuch:
		return "as much as"
	case percent < 0:
		return fmt.Sprintf("%.0f percent less than", -percent)
	}
	return fmt.Sprintf("%.0f percent more than", percent)
}

// Missed says in words what a criterion requires and what is reached instead, in the job's unit.
func Missed(j *job.Job, c levels.Criterion, reached float64) string {
	return missed(j, c, reached, "reached")
}

// MissedAtBest says the same of several systems, of which the best reaches that.
func MissedAtBest(j *job.Job, c levels.Criterion, best float64) string {
	return missed(j, c, best, "at best")
}

func missed(j *job.Job, c levels.Criterion, reached float64, how string) string {
	limit, found, more := "at most ", "the minimum is 0", c.Finer(j.Imperial, reached)
	if c.AtLeast {
		limit = "at least "
	}
	if c.Statistic.Comfort() {
		found = "not known"
	}
	if !math.IsNaN(reached) {
		found = Quantity(j, c, reached, more) + " " + how
	}
	return fmt.Sprintf("%q (%s required, %s)", c.Name, limit+Quantity(j, c, c.RequiredIn(false), more), found)
}

// Quantity writes what a criterion is about (lx, W/m² or a ratio) in the job's unit, with more digits than usual.
func Quantity(j *job.Job, c levels.Criterion, x float64, more int) string {
	unit := " lx"
	switch {
	case c.Unit == levels.Ratio:
		return number.Finer(x, more)
	case j.Imperial:
		x, unit = x/photometry.Footcandle, " fc"
	}
	if c.Statistic == levels.PowerDensity {
		unit = map[bool]string{true: " W/ft2", false: " W/m2"}[j.Imperial]
	}
	return number.Finer(x, more) + unit
}

// Required says what it takes to meet a criterion, with more digits than usual, in the job's unit, and beside that in the unit in which it was published where that is another:
// at least 53.8 lx (5 fc as published). What is from memory is not said to be published.
func Required(j *job.Job, c levels.Criterion, more int) string {
	text := strings.ReplaceAll(c.Direction(), "_", " ") + " " + Quantity(j, c, c.RequiredIn(false), more)
	if own := levels.UnitOf(c.Statistic, j.Imperial); c.Unit != own {
		text += fmt.Sprintf(" (%.4g %s %s)", c.Required, c.Unit, map[bool]string{true: "from memory", false: "as published"}[c.FromMemory()])
	}
	return text
}

// asks says what a level asks for: average at least 10.0 fc, minimum at least 5.00 fc.
func asks(j *job.Job, l levels.Level) string {
	var all []string
	for _, c := range l.Criteria(j.Imperial) {
		all = append(all, c.Statistic.Words()+" "+Required(j, c, 0))
	}
	return strings.Join(all, ", ")
}
